/**
 * Whether what is built stays as it is. The declarations that a refactoring reaches are computed beside the project,
 * as they are and with its edits, and the layouts of their units compared, in everything but where it is written.
 */

import { spanOf } from '../../../grammar/tree.ts';
import { projectLike } from '../../checks/alternatives.ts';
import { scratchOf } from '../../checks/alternatives-scratch.ts';
import type { Layout } from '../../model/layout.ts';
import type { Project } from '../../model/project.ts';
import type { Edit } from './edits.ts';

/** Undefined where it stays; otherwise why a refactoring is not offered. Never throws. */
export function changesBuilt(project: Project, edits: readonly Edit[], units: readonly string[]): string | undefined {
  try {
    const title = '';
    const places = edits.map(({ place }) => place);
    const scratch = scratchOf(project, places, units, [{ title, edits }]);
    if (!scratch) return 'Too much text rests on it to be tried beforehand.';
    const made = edits.flatMap(({ place, text }) => {
      const at = scratch.startOf(place);
      const { start, end } = spanOf(place);
      return at ? [{ ...at, end: at.start + end - start, text }] : [];
    });
    if (made.length < edits.length) return 'Not all that it would change can be tried beforehand.';
    const trial = projectLike(project);
    for (const [file, text] of scratch.texts) trial.setFile(file, text);
    const before = builtIn(trial);
    for (const { file, start, end, text } of made.toSorted((a, b) => b.start - a.start))
      trial.editFile(file, [{ start, end, text }]);
    const after = builtIn(trial);
    for (const [unit, built] of before)
      if (after.get(unit) !== built) return `Unit "${unit}" would not be built as it is.`;
    return undefined;
  } catch {
    return 'It cannot be tried beforehand.';
  }
}

function builtIn(project: Project): Map<string, string> {
  project.refreshNow();
  return new Map([...project.units()].map(({ name, resolved }) => [name, resolved ? builtText(resolved.layout) : '']));
}

/** Places and findings are not built, nor is the order in which the walls of a room are written. */
export function builtText(layout: Layout): string {
  const byName = <T>(all: readonly T[], name: (one: T) => string): T[] =>
    all.toSorted((a, b) => (name(a) < name(b) ? -1 : 1));
  const sorted = {
    ...layout,
    findings: [],
    walls: byName(layout.walls, (w) => w.name),
    openings: byName(layout.openings, (o) => o.name),
    plan: byName(layout.plan, (p) => p.wall),
    corners: byName(layout.corners, (c) => c.walls.join(' ')),
  };
  return JSON.stringify(sorted, (key, value: unknown) =>
    key === 'place' || key.endsWith('Place') || key === 'parameters' ? undefined : value,
  );
}
