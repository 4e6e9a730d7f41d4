/** Files that are given another name or place: the paths of `use` that lead to them, or from them, go with them. */
import { offsetOf, segmentOf } from '../../grammar/tree.ts';
import { isWithin, parentOf } from '../model/files.ts';
import type { Project } from '../model/project.ts';
import { flawOf } from '../model/use-path.ts';
import { usedBy } from './links.ts';
import type { TextEdit } from './snapshot.ts';

export interface Move {
  /** A file or a folder. */
  readonly from: string;
  readonly to: string;
}

/** What changes in the files as they are named now, in the order of files and of the text. */
export function editsForMoves(projects: readonly Project[], moves: readonly Move[]): TextEdit[] {
  const edits = new Map<string, TextEdit>();
  for (const project of projects) {
    for (const { statement } of project.names.all('use')) {
      const used = usedBy(project, statement);
      if (!used?.target) continue;
      const file = segmentOf(statement).source.id;
      const [newFile, newTarget] = [moved(file, moves), moved(used.target, moves)];
      if (parentOf(newFile) === parentOf(file) && newTarget === used.target) continue;
      // What is named no .closet file any more cannot be a library.
      if (used.target.endsWith('.closet') && !newTarget.endsWith('.closet')) continue;
      const written = pathFrom(parentOf(newFile), newTarget, used.written);
      if (written === used.written || written.includes('"') || flawOf(written) !== undefined) continue;
      const start = offsetOf(statement) + used.path.start + 1;
      edits.set(`${file} ${start}`, { file, start, end: start + used.path.value.length, text: written });
    }
  }
  return [...edits.values()].sort((a, b) => (a.file === b.file ? a.start - b.start : a.file < b.file ? -1 : 1));
}

function moved(path: string, moves: readonly Move[]): string {
  // The move of a file goes before that of a folder around it.
  const [nearest] = moves.filter(({ from }) => isWithin(from, path)).sort((a, b) => b.from.length - a.from.length);
  return nearest ? nearest.to + path.slice(nearest.from.length) : path;
}

/** The path from a folder, written as it was before: with or without `./` in front and `.closet` behind. */
function pathFrom(folder: string, target: string, before: string): string {
  const [from, to] = [folder.split('/').filter(Boolean), target.split('/').filter(Boolean)];
  let shared = 0;
  while (shared < from.length && shared < to.length && from[shared] === to[shared]) shared++;
  const steps = [...from.slice(shared).map(() => '..'), ...to.slice(shared)];
  const path = steps.join('/') || '.';
  const short = before.endsWith('.closet') ? path : path.replace(/\.closet$/, '');
  return before.startsWith('./') && !short.startsWith('.') ? `./${short}` : short;
}
