/** Files with edits in them: written all or none, or shown as a diff. */
import { dirname } from 'node:path';
import { withEdits } from '../../grammar/format.ts';
import type { Source } from '../../grammar/source.ts';
import type { TextEdit } from '../language/snapshot.ts';
import type { Project } from '../model/project.ts';
import type { FileToWrite } from '../writing/file-to-write.ts';
import { rewriting } from '../writing/sources.ts';
import { tidy } from '../writing/temporary.ts';
import { writeFiles } from '../writing/write-files.ts';
import { type AtPlace, spotIn } from './at-place.ts';
import { diffOfEdits, shownLine } from './diff.ts';
import { rangeJson } from './json.ts';
import type { Session } from './session.ts';

export interface Changed {
  readonly source: Source;
  readonly edits: readonly TextEdit[];
  readonly text: string;
}

/** The folders of all files of some projects. */
export function foldersIn(projects: readonly Project[]): Set<string> {
  return new Set(projects.flatMap(({ sources }) => [...sources.keys()].map(dirname)));
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

/**
 * Throws Stop, with the reason, where a file cannot be written; then none has been. Answers what there is to be said of
 * them besides.
 */
export async function write(
  changed: readonly Changed[],
  { projects, folderOf }: Pick<AtPlace, 'projects' | 'folderOf'>,
  session: Session,
): Promise<string | undefined> {
  tidy(foldersIn(projects));
  const { notes } = await writeFiles(rewritten(changed, folderOf, session));
  return notes.length > 0 ? notes.join(' ') : undefined;
}

/** The files as they are to be. Throws Stop where one is not any more what was read. */
export function rewritten(
  changed: readonly Changed[],
  folderOf: AtPlace['folderOf'],
  { pathOf }: Session,
): FileToWrite[] {
  return changed.map(({ source, text }) =>
    // It is written only within its project: a link may lead anywhere.
    rewriting({
      path: source.id,
      shown: pathOf(source.id),
      within: folderOf(source.id),
      before: source.text,
      after: text,
    }),
  );
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
