/** Files with edits in them: written all or none, or shown as a diff. */
import { readFileSync } from 'node:fs';
import { withEdits } from '../../grammar/format.ts';
import type { Source } from '../../grammar/source.ts';
import type { TextEdit } from '../language/snapshot.ts';
import type { Project } from '../model/project.ts';
import { spotIn } from './at-place.ts';
import { diffOfEdits, shownLine } from './diff.ts';
import { rangeJson } from './json.ts';
import type { Replacement } from './output.ts';
import type { Session } from './session.ts';
import { Stop } from './stop.ts';

export interface Changed {
  readonly source: Source;
  readonly edits: readonly TextEdit[];
  readonly text: string;
}

export function changedBy(all: readonly TextEdit[], projects: readonly Project[]): Changed[] {
  return [...Map.groupBy(all, ({ file }) => file)].map(([file, edits]): Changed => {
    const source = projects.map(({ sources }) => sources.get(file)).find((one) => one !== undefined) as Source;
    return { source, edits, text: withEdits(source.text, inOrder(edits)) };
  });
}

export function editsJson(changed: readonly Changed[], { pathOf }: Session) {
  return changed.flatMap(({ source, edits }) =>
    edits.map((edit) => ({ range: rangeJson(spotIn(source, edit), pathOf), text: edit.text })),
  );
}

/** Throws Stop, with the reason, where a file cannot be written; then none has been. */
export async function write(changed: readonly Changed[], session: Session): Promise<void> {
  const { replaceAll } = await import('./output.ts');
  await replaceAll(replacementsOf(changed, session));
}

/** The files as they are to be. Throws Stop where one is not any more what was read. */
export function replacementsOf(changed: readonly Changed[], { pathOf }: Session): Replacement[] {
  return changed.map(({ source, text }) => {
    const now = readFileSync(source.id, 'utf8');
    // The mark of the byte order is no part of the text, and stays.
    const mark = now.startsWith('\ufeff') ? '\ufeff' : '';
    if (now !== mark + source.text)
      throw new Stop(`${pathOf(source.id)} has changed meanwhile, so nothing was written.`);
    return { path: source.id, shown: pathOf(source.id), text: mark + text };
  });
}

function inOrder(edits: readonly TextEdit[]): TextEdit[] {
  return edits.toSorted((a, b) => a.start - b.start);
}

/** A unified diff, its lines coloured as they are told. */
export function diffText({ source, edits }: Changed, { pathOf, paint }: Session): string {
  const colour = (line: string): string => {
    if (line.startsWith('---') || line.startsWith('+++')) return paint('bold', line);
    if (line.startsWith('@@')) return paint('cyan', line);
    if (line.startsWith('-')) return paint('red', line);
    return line.startsWith('+') ? paint('green', line) : line;
  };
  const lines = diffOfEdits(pathOf(source.id), source.text, inOrder(edits));
  return lines.map((line) => `${colour(shownLine(line))}\n`).join('');
}
