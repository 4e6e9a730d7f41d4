/** `storypole rename FILE:LINE:COLUMN NAME`: the edits that an editor would make, shown or written. */
import { readFileSync } from 'node:fs';
import { withEdits } from '../../grammar/format.ts';
import type { Source } from '../../grammar/source.ts';
import { renameAt, renameableAt } from '../language/rename.ts';
import type { TextEdit } from '../language/snapshot.ts';
import type { Answer } from './answer.ts';
import { atPlace, spotIn } from './at-place.ts';
import { diffOfEdits, shownLine } from './diff.ts';
import { documentOf, rangeJson } from './json.ts';
import { type Common, type Session, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { counted, printable } from './words.ts';

export interface RenameOptions extends Common {
  readonly dryRun?: boolean;
}

interface Changed {
  readonly source: Source;
  readonly edits: readonly TextEdit[];
  readonly text: string;
}

/** Throws Stop, with the reason, where it is refused or a file cannot be written; then nothing has been. */
export async function rename(written: string, name: string, options: RenameOptions): Promise<Answer> {
  const session = sessionFor(options);
  const { snapshot, offset, projects } = atPlace(written, session.current);
  const found = renameableAt(snapshot, offset);
  if (found.kind === 'refused') throw new Stop(found.why);
  const result = renameAt(snapshot, offset, name, projects);
  if (result.kind === 'refused') throw new Stop(result.why);
  const changed = [...Map.groupBy(result.edits, ({ file }) => file)].map(([file, edits]): Changed => {
    const source = projects.map(({ sources }) => sources.get(file)).find((one) => one !== undefined) as Source;
    return { source, edits, text: withEdits(source.text, inOrder(edits)) };
  });
  if (!options.dryRun) await write(changed, session);
  if (options.format === 'json') {
    const edits = changed.flatMap(({ source, edits: own }) =>
      own.map((edit) => ({ range: rangeJson(spotIn(source, edit), session.pathOf), text: edit.text })),
    );
    return { status: 0, result: documentOf('rename', { from: found.name, to: name, written: !options.dryRun, edits }) };
  }
  if (options.dryRun) return { status: 0, result: changed.map((one) => diffText(one, session)) };
  const places = counted(result.edits.length, 'place');
  const lines = changed.map(({ source, edits }) => `  ${printable(session.pathOf(source.id))}: ${edits.length}`);
  const title =
    changed.length === 0
      ? `"${found.name}" is its name already; nothing was changed.`
      : `"${found.name}" is "${name}" now, in ${places} of ${counted(changed.length, 'file')}:`;
  return { status: 0, result: [`${[title, ...lines].join('\n')}\n`] };
}

async function write(changed: readonly Changed[], { pathOf }: Session): Promise<void> {
  const { replaceAll } = await import('./output.ts');
  await replaceAll(
    changed.map(({ source, text }) => {
      const now = readFileSync(source.id, 'utf8');
      // The mark of the byte order is no part of the text, and stays.
      const mark = now.startsWith('\ufeff') ? '\ufeff' : '';
      if (now !== mark + source.text)
        throw new Stop(`${pathOf(source.id)} has changed meanwhile, so nothing was written.`);
      return { path: source.id, shown: pathOf(source.id), text: mark + text };
    }),
  );
}

function inOrder(edits: readonly TextEdit[]): TextEdit[] {
  return edits.toSorted((a, b) => a.start - b.start);
}

/** A unified diff, its lines coloured as they are told. */
function diffText({ source, edits }: Changed, { pathOf, paint }: Session): string {
  const colour = (line: string): string => {
    if (line.startsWith('---') || line.startsWith('+++')) return paint('bold', line);
    if (line.startsWith('@@')) return paint('cyan', line);
    if (line.startsWith('-')) return paint('red', line);
    return line.startsWith('+') ? paint('green', line) : line;
  };
  const lines = diffOfEdits(pathOf(source.id), source.text, inOrder(edits));
  return lines.map((line) => `${colour(shownLine(line))}\n`).join('');
}
