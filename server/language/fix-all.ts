/** All obvious fixes of a file or a project at once, or of one rule in it. */
import { isGrave, mending } from '../checks/mending.ts';
import { atOnce, type Steps } from '../checks/steps.ts';
import { sourceOf } from './diagnostics.ts';
import type { Snapshot, TextEdit } from './snapshot.ts';

export interface FixAll {
  /** All rules, where it is left out: errors and warnings only, as notes are for somebody to look at. */
  readonly rule?: string | undefined;
  readonly scope: 'file' | 'project';
}

/** Rules of which several findings are in the file, or elsewhere in the project, so that all can be mended at once. */
export function rulesWithMore(
  { project, source }: Snapshot,
  asked: ReadonlySet<string>,
): { readonly rule: string; readonly scope: FixAll['scope'] }[] {
  const counts = new Map<string, { inFile: number; inProject: number }>();
  for (const { rule, fixes, place } of project.findings()) {
    if (!asked.has(rule.id) || !fixes.some(({ byHand }) => !byHand)) continue;
    const count = counts.get(rule.id) ?? { inFile: 0, inProject: 0 };
    counts.set(rule.id, count);
    count.inProject++;
    if (sourceOf(place) === source) count.inFile++;
  }
  return [...counts].flatMap(([rule, { inFile, inProject }]) => [
    ...(inFile > 1 ? [{ rule, scope: 'file' as const }] : []),
    ...(inProject > inFile && inProject > 1 ? [{ rule, scope: 'project' as const }] : []),
  ]);
}

/** The edits that come of it: one a file, from the first character that changes to the last. */
export function fixAll(snapshot: Snapshot, asked: FixAll): TextEdit[] {
  return atOnce(fixingAll(snapshot, asked));
}

/** The same in steps: it takes seconds in a whole building. The project must not be edited meanwhile. */
export function* fixingAll({ project, source }: Snapshot, { rule, scope }: FixAll): Steps<TextEdit[]> {
  const { texts } = yield* mending(project, {
    which: (finding) =>
      (rule === undefined ? isGrave(finding) : finding.rule.id === rule) &&
      (scope === 'project' || sourceOf(finding.place).id === source.id),
    // What ships with the tool is in no file.
    mayWrite: (file) => (scope === 'project' ? file.includes('/') : file === source.id),
  });
  return [...texts].map(([file, text]) => changed(file, project.sources.get(file)?.text ?? '', text));
}

function changed(file: string, before: string, after: string): TextEdit {
  const most = Math.min(before.length, after.length);
  let start = 0;
  while (start < most && before[start] === after[start]) start++;
  let tail = 0;
  while (tail < most - start && before[before.length - 1 - tail] === after[after.length - 1 - tail]) tail++;
  return { file, start, end: before.length - tail, text: after.slice(start, after.length - tail) };
}
