/** `storypole format`: brings files into the one style, or tells which are not in it. */
import { readFileSync } from 'node:fs';
import { formattingOf, withEdits } from '../../grammar/format.ts';
import { Source } from '../../grammar/source.ts';
import { decode } from '../model/decode.ts';
import { topWords } from '../model/vocabulary.ts';
import type { Answer } from './answer.ts';
import { diffOf } from './diff.ts';
import { replaceAll } from './output.ts';
import { type Common, type Session, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { chooseUncomputed, filesOf } from './targets.ts';
import { counted, printable } from './words.ts';

export interface FormatOptions extends Common {
  /** Writes nothing, shows what would change, and ends with 1 where anything would. */
  readonly check?: boolean;
}

interface Formatted {
  readonly file: string;
  readonly before: string;
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
    if (paths.length > 1) throw new Stop('A dash stands for standard input, and for nothing beside it.');
    return fromInput(options);
  }
  const all = chooseUncomputed(paths, session.current)
    .flatMap(filesOf)
    .filter((file) => file.includes('/'))
    .map((file) => formattedFile(file, textOf(readFileSync(file), session.pathOf(file))));
  const changed = all.filter(({ before, after }) => before !== after);
  if (!options.check) {
    await replaceAll(changed.map(({ file, after }) => ({ path: file, shown: session.pathOf(file), text: after })));
  }
  return {
    status: options.check && changed.length > 0 ? 1 : 0,
    result: [resultText(changed, all.length, options, session)],
    remark: keptText(all, session),
  };
}

function fromInput({ check }: FormatOptions): Answer {
  const { before, after } = formattedFile('-', textOf(readFileSync(0), 'standard input'));
  if (!check) return { status: 0, result: [after] };
  return { status: before === after ? 0 : 1, result: linesOf(diffOf('standard input', before, after)) };
}

function formattedFile(file: string, before: string): Formatted {
  const mark = before.startsWith(byteOrderMark) ? byteOrderMark : '';
  const source = new Source(file, before.slice(mark.length), topWords);
  const { edits, kept } = formattingOf(source);
  return {
    file,
    before,
    after: mark + withEdits(source.text, edits),
    kept: kept.map(({ start }) => source.positionAt(start).line + 1),
  };
}

/** Throws Stop where it is no text: bytes that mean nothing to us are nobody's to write back. */
function textOf(bytes: Uint8Array, shown: string): string {
  const decoded = decode(bytes);
  if (decoded.kind === 'not-text') throw new Stop(`${shown}: ${decoded.message} Nothing was changed.`);
  const hasMark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
  return hasMark && !decoded.text.startsWith(byteOrderMark) ? byteOrderMark + decoded.text : decoded.text;
}

function resultText(
  changed: readonly Formatted[],
  all: number,
  { check }: FormatOptions,
  { pathOf, paint }: Session,
): string {
  if (changed.length === 0) return `${capitalised(counted(all, 'file'))} in order already.\n`;
  if (!check) {
    const names = changed.map(({ file }) => `  ${printable(pathOf(file))}\n`).join('');
    return `Brought ${changed.length} of ${counted(all, 'file')} into order:\n${names}`;
  }
  const diffs = changed.flatMap(({ file, before, after }) => linesOf(diffOf(pathOf(file), before, after)));
  return `${diffs.join('')}\n${paint('bold', `${changed.length} of ${counted(all, 'file')} would change.`)}\n`;
}

function linesOf(lines: readonly string[]): string[] {
  return lines.map((line) => `${printable(line)}\n`);
}

function keptText(all: readonly Formatted[], { pathOf }: Session): string | undefined {
  const places = all.flatMap(({ file, kept }) => kept.map((line) => `${printable(pathOf(file))}:${line}`));
  if (places.length === 0) return undefined;
  return `Left as it stands, because where its blocks end cannot be told: ${places.join(', ')}.`;
}

function capitalised(text: string): string {
  return text === '1 file' ? 'The file is' : `All ${text} are`;
}
