/** `storypole rename FILE:LINE:COLUMN NAME`: the edits that an editor would make, shown or written. */
import { readFileSync } from 'node:fs';
import { withEdits } from '../../grammar/format.ts';
import type { Source } from '../../grammar/source.ts';
import { renameAt, renameableAt } from '../language/rename.ts';
import type { TextEdit } from '../language/snapshot.ts';
import type { Answer } from './answer.ts';
import { atPlace, spotIn } from './at-place.ts';
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

/** Lines shown around a change. */
const around = 3;

/** A unified diff. A name stands on one line, so that lines stay where they are. */
function diffText({ source, text }: Changed, { pathOf, paint }: Session): string {
  const [before, after] = [linesOf(source.text), linesOf(text)];
  const touched = before.flatMap((line, i) => (line === after[i] ? [] : [i]));
  const hunks: { from: number; to: number }[] = [];
  for (const line of touched) {
    const last = hunks.at(-1);
    if (last && line - around <= last.to) last.to = line + around + 1;
    else hunks.push({ from: Math.max(0, line - around), to: line + around + 1 });
  }
  const path = printable(pathOf(source.id));
  const lines = [paint('bold', `--- ${path}`), paint('bold', `+++ ${path}`)];
  for (const { from, to } of hunks) {
    const end = Math.min(to, before.length);
    const stretch = `${from + 1},${end - from}`;
    lines.push(paint('cyan', `@@ -${stretch} +${stretch} @@`));
    for (let i = from; i < end; ) {
      if (before[i] === after[i]) lines.push(` ${before[i++]}`);
      else {
        let stop = i;
        while (stop < end && before[stop] !== after[stop]) stop++;
        for (const line of before.slice(i, stop)) lines.push(paint('red', `-${line}`));
        for (const line of after.slice(i, stop)) lines.push(paint('green', `+${line}`));
        i = stop;
      }
    }
  }
  return `${lines.join('\n')}\n`;
}

/** Without the empty one behind a line end at the end. */
function linesOf(text: string): string[] {
  const lines = text.split('\n');
  if (lines.at(-1) === '') lines.pop();
  return lines;
}
