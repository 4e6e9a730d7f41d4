/** `storypole format`: brings files into the one style, or tells which are not in it. */
import { dirname } from 'node:path';
import { withEdits } from '../../grammar/format.ts';
import { type Edit, Source } from '../../grammar/source.ts';
import { decode } from '../model/decode.ts';
import { isWithin } from '../model/files.ts';
import { nodeFiles } from '../model/node-files.ts';
import { megabytes } from '../model/sizes.ts';
import { styleOf } from '../model/style.ts';
import { topWords } from '../model/vocabulary.ts';
import { largestFile } from '../model/workspace.ts';
import { rewriting } from '../writing/sources.ts';
import { tidy } from '../writing/temporary.ts';
import { writeFiles } from '../writing/write-files.ts';
import type { Answer } from './answer.ts';
import { diffOfEdits, shownLine } from './diff.ts';
import { documentOf } from './json.ts';
import { type Common, type Session, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { chooseUncomputed, filesOf, folderOfProject } from './targets.ts';
import { counted, printable } from './words.ts';

export interface FormatOptions extends Common {
  /** Writes nothing, shows what would change, and ends with 1 where anything would. */
  readonly check?: boolean;
}

interface Formatted {
  readonly file: string;
  /** The folder of its project. */
  readonly within: string;
  /** The text, without a mark in front of it, and what is to change in it. */
  readonly before: string;
  readonly edits: readonly Edit[];
  /** The whole file, and as it would be. */
  readonly bytes: string;
  readonly after: string;
  /** Lines, from 1, of what is left as it stands. */
  readonly kept: readonly number[];
}

/** The mark that some editors put before UTF-8: it stays. */
const byteOrderMark = '\uFEFF';

/** `-` alone takes the text from standard input and gives it back. Throws Stop where a file cannot be read or written; then none has been. */
export async function format(paths: readonly string[], options: FormatOptions): Promise<Answer> {
  const session = sessionFor(options);
  if (paths.includes('-')) {
    if (options.format === 'json')
      throw new Stop('From standard input it gives the text back; leave --format json out.');
    if (paths.length > 1) throw new Stop('A dash stands for standard input, and for nothing beside it.');
    return fromInput(options, session);
  }
  const { pathOf } = session;
  const out: string[] = [];
  const all = chooseUncomputed(paths, session.current).flatMap((chosen) =>
    filesOf(chosen)
      .filter((file) => isWithin(chosen.root, file) && !leadsOut(file, folderOfProject(chosen), out))
      .map((file) => formattedFile(file, folderOfProject(chosen), textOf(bytesOf(file, pathOf(file)), pathOf(file)))),
  );
  const changed = all.filter(({ edits }) => edits.length > 0);
  if (!options.check) tidy(all.map(({ file }) => dirname(file)));
  const notes = options.check ? [] : await write(changed, session);
  const remarks = [keptText(all, session), outText(out, session), ...notes].filter((text) => text !== undefined);
  const status = options.check && changed.length > 0 ? 1 : 0;
  if (options.format === 'json') {
    const kept = all.flatMap((one) => one.kept.map((line) => ({ file: pathOf(one.file), line })));
    const names = changed.map(({ file }) => pathOf(file));
    return {
      status,
      result: documentOf('format', { files: all.length, written: !options.check, changed: names, kept }),
    };
  }
  return {
    status,
    result: [
      resultText(
        changed,
        all.length,
        all.some(({ kept }) => kept.length > 0),
        options,
        session,
      ),
    ],
    remark: remarks.length > 0 ? remarks.join(' ') : undefined,
  };
}

/** Tells `out` of what does: that is formatted where it is. */
function leadsOut(file: string, within: string, out: string[]): boolean {
  const real = nodeFiles.real(file);
  const leads = real !== file && !isWithin(nodeFiles.real(within), real);
  if (leads) out.push(file);
  return leads;
}

function outText(out: readonly string[], { pathOf }: Session): string | undefined {
  if (out.length === 0) return undefined;
  const names = out.map((file) => printable(pathOf(file))).join(', ');
  return `Left as it is, because it is a link that leads out of the project: ${names}.`;
}

/** Only where each still says what was read. Answers what there is to be said of them besides. */
async function write(changed: readonly Formatted[], { pathOf }: Session): Promise<readonly string[]> {
  const files = changed.map(({ file, within, bytes, after }) =>
    rewriting({ path: file, shown: pathOf(file), within, before: unmarked(bytes), after: unmarked(after) }),
  );
  return (await writeFiles(files)).notes;
}

function unmarked(text: string): string {
  return text.startsWith(byteOrderMark) ? text.slice(byteOrderMark.length) : text;
}

async function fromInput({ check }: FormatOptions, session: Session): Promise<Answer> {
  const pieces: Buffer[] = [];
  for await (const piece of process.stdin) pieces.push(piece);
  const one = formattedFile('standard input', '', textOf(Buffer.concat(pieces), 'standard input'));
  const remark = keptText([one], { ...session, pathOf: (file) => file });
  if (!check) return { status: 0, result: [one.after], remark };
  return { status: one.edits.length > 0 ? 1 : 0, result: diffText(one, one.file), remark };
}

function formattedFile(file: string, within: string, bytes: string): Formatted {
  const mark = bytes.startsWith(byteOrderMark) ? byteOrderMark : '';
  const source = new Source(file, bytes.slice(mark.length), topWords);
  const { edits, kept } = styleOf(source);
  return {
    file,
    within,
    before: source.text,
    edits,
    bytes,
    after: mark + withEdits(source.text, edits),
    kept: kept.map(({ start }) => source.positionAt(start).line + 1),
  };
}

/** Throws Stop where it cannot be read. */
function bytesOf(file: string, shown: string): Uint8Array {
  const read = nodeFiles.read(file, largestFile);
  if (read.kind === 'read') return read.bytes;
  const why =
    read.kind === 'failed'
      ? read.why
      : `it has ${megabytes(read.size)}, and ${megabytes(largestFile)} are the most that is read`;
  throw new Stop(`${shown} cannot be read: ${why}. Nothing was changed.`);
}

/** Throws Stop where it is no text: bytes that mean nothing to us are nobody's to write back. */
function textOf(bytes: Uint8Array, shown: string): string {
  const decoded = decode(bytes);
  if (decoded.kind === 'not-text') throw new Stop(`${shown}: ${decoded.message} Nothing was changed.`);
  const hasMark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  // Reading takes one off, and there may be two.
  return hasMark ? byteOrderMark + decoded.text : decoded.text;
}

function resultText(
  changed: readonly Formatted[],
  all: number,
  /** Something is left as it stands. */
  isKept: boolean,
  { check }: FormatOptions,
  { pathOf, paint }: Session,
): string {
  if (changed.length === 0)
    return isKept ? 'Nothing is changed.\n' : `${capitalised(counted(all, 'file'))} in order already.\n`;
  if (!check) {
    const names = changed.map(({ file }) => `  ${printable(pathOf(file))}\n`).join('');
    return `Brought ${changed.length} of ${counted(all, 'file')} into order:\n${names}`;
  }
  const diffs = changed.flatMap((one) => diffText(one, pathOf(one.file)));
  return `${diffs.join('')}\n${paint('bold', `${changed.length} of ${counted(all, 'file')} would change.`)}\n`;
}

function diffText({ before, edits }: Formatted, name: string): string[] {
  return diffOfEdits(name, before, edits).map((line) => `${shownLine(line)}\n`);
}

function keptText(all: readonly Formatted[], { pathOf }: Session): string | undefined {
  const places = all.flatMap(({ file, kept }) => kept.map((line) => `${printable(pathOf(file))}:${line}`));
  if (places.length === 0) return undefined;
  return `Left as it stands, because where its blocks end cannot be told, or it holds both sides of a merge: ${places.join(', ')}.`;
}

function capitalised(text: string): string {
  return text === '1 file' ? 'The file is' : `All ${text} are`;
}
