/**
 * Whether what is built stays as it is. The declarations that a refactoring reaches are computed beside the project,
 * as they are and with its edits, and the layouts of their units compared, in everything but where it is written.
 */

import { segmentOf, spanOf } from '../../../grammar/tree.ts';
import { projectLike } from '../../checks/alternatives.ts';
import { scratchOf } from '../../checks/alternatives-scratch.ts';
import type { Layout } from '../../model/layout.ts';
import { memo } from '../../model/memo.ts';
import type { Project } from '../../model/project.ts';
import { capital } from '../spoken.ts';
import type { Edit } from './edits.ts';

export interface Tried {
  /** What has to be there to be tried, such as the edits of a template. */
  readonly edits: readonly Edit[];
  /** More of the same, as of all the units of a template: those of them are made that are looked at. */
  readonly more?: readonly Edit[];
  readonly units?: readonly string[];
  /** Templates are the other way round by themselves, and only what is built of them stays. */
  readonly turns?: boolean;
}

/** A cursor that moves about in one statement asks the same again and again. */
const known = new WeakMap<Project['moment'], Map<string, string | undefined>>();

/** Undefined where it stays; otherwise why a refactoring is not offered. Never throws. */
export function changesBuilt(project: Project, tried: Tried): string | undefined {
  const answers = memo(known, project.moment, () => new Map());
  const key = tried.edits
    .map(({ place, text }) => `${segmentOf(place.statement).source.id} ${spanOf(place).start} ${place.end} ${text}`)
    .concat(tried.units ?? [])
    .join('\n');
  if (!answers.has(key)) answers.set(key, tryOut(project, tried));
  return answers.get(key);
}

function tryOut(project: Project, { edits, more = [], units = [], turns }: Tried): string | undefined {
  try {
    const places = edits.map(({ place }) => place);
    const scratch = scratchOf(project, places, units, [{ title: '', edits }]);
    if (!scratch) return 'Too much text rests on it to be tried beforehand.';
    const made = [...edits, ...more].flatMap(({ place, text }) => {
      const at = scratch.startOf(place);
      const { start, end } = spanOf(place);
      return at ? [{ ...at, end: at.start + end - start, text }] : [];
    });
    const trial = projectLike(project);
    for (const [file, text] of scratch.texts) trial.setFile(file, text);
    const before = builtIn(trial, !turns);
    for (const { file, start, end, text } of made.toSorted((a, b) => b.start - a.start))
      trial.editFile(file, [{ start, end, text }]);
    const after = builtIn(trial, !turns);
    for (const [what, built] of before)
      if (after.get(what) !== built) return `${capital(what)} would not be built as it is.`;
    return undefined;
  } catch {
    return 'It cannot be tried beforehand.';
  }
}

function builtIn(project: Project, withTemplates: boolean): Map<string, string> {
  project.refreshNow();
  const built = new Map<string, string>();
  for (const { name, resolved } of project.units())
    built.set(`unit "${name}"`, resolved ? builtText(resolved.layout) : '');
  if (!withTemplates) return built;
  for (const { name, statement } of project.names.all('template'))
    for (const { label, resolved } of project.samplesOf(statement))
      built.set(`template "${name}"${label && ` (${label})`}`, builtText(resolved.layout));
  return built;
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
