/** The range that a new parameter can have: as far as the checks find nothing that they do not find now. */
import { spanOf } from '../../../grammar/tree.ts';
import { projectLike } from '../../checks/alternatives.ts';
import { scratchOf } from '../../checks/alternatives-scratch.ts';
import type { Project } from '../../model/project.ts';
import type { Edit } from './edits.ts';

export interface Asked {
  readonly template: string;
  /** The edits that make the parameter, its declaration the first of them. */
  readonly edits: readonly [Edit, ...Edit[]];
  /** Where a range would stand in the text of the declaration. */
  readonly at: number;
  /** Values from the farthest to the nearest one that could be an end. */
  readonly below: readonly string[];
  readonly above: readonly string[];
  readonly value: string;
}

/** `from 28in to 52in`; undefined where the template is not computed by itself, or allows neither less nor more. */
export function rangeAround(project: Project, asked: Asked): string | undefined {
  try {
    const { edits, value } = asked;
    const places = edits.map(({ place }) => place);
    const scratch = scratchOf(project, places, [], [{ title: '', edits }]);
    if (!scratch) return undefined;
    const made = edits.flatMap(({ place, text }) => {
      const at = scratch.startOf(place);
      return at ? [{ ...at, end: at.start + spanOf(place).end - spanOf(place).start, text }] : [];
    });
    const [declaration] = made;
    if (!declaration || made.length < edits.length) return undefined;
    const trial = projectLike(project);
    for (const [file, text] of scratch.texts) trial.setFile(file, text);
    // The declaration stands before all that it is used in.
    for (const { file, start, end, text } of made.toReversed()) trial.editFile(file, [{ start, end, text }]);
    const start = declaration.start + asked.at;
    let written = '';
    const found = (range: string): ReadonlySet<string> => {
      trial.editFile(declaration.file, [{ start, end: start + written.length, text: range }]);
      written = range;
      trial.refreshNow();
      return new Set(trial.findings().map(({ rule, about, severity }) => `${rule.id} ${about ?? ''} ${severity}`));
    };
    const now = found('');
    if (!isComputed(trial, asked.template)) return undefined;
    const holds = (range: string): boolean => [...found(range)].every((key) => now.has(key));
    const least = asked.below.find((end) => holds(` from ${end} to ${value}`)) ?? value;
    const most = asked.above.find((end) => holds(` from ${value} to ${end}`)) ?? value;
    const range = ` from ${least} to ${most}`;
    return least === most || !holds(range) ? undefined : range.trimStart();
  } catch {
    return undefined;
  }
}

function isComputed(trial: Project, template: string): boolean {
  const [declared] = trial.names.declarations('template', template);
  const samples = declared ? trial.samplesOf(declared.statement) : [];
  return samples.length > 0 && samples.every(({ complete }) => complete);
}
