/** All obvious fixes of a file or a project at once, or of one rule in it. */
import { fixesThatHold } from '../checks/alternatives.ts';
import { isOfText, mending, obvious } from '../checks/mending.ts';
import { atOnce, type Steps } from '../checks/steps.ts';
import type { Finding } from '../model/finding.ts';
import { sourceOf } from './diagnostics.ts';
import type { Snapshot, TextEdit } from './snapshot.ts';

export interface FixAll {
  /** All rules, where it is left out: what is written wrong alone, as what is built is for somebody to decide. */
  readonly rule?: string | undefined;
  readonly scope: 'file' | 'project';
}

/** So many findings of a rule are looked at for one that is mended: each may take some units to be computed. */
const mostLooked = 4;

/** Rules of which several findings are in the file, or elsewhere in the project, so that all can be mended at once. */
export function rulesWithMore(
  snapshot: Snapshot,
  asked: ReadonlySet<string>,
): { readonly rule: string; readonly scope: FixAll['scope'] }[] {
  const { project, source } = snapshot;
  const fixable = project
    .findings()
    .filter(({ rule, fixes }) => asked.has(rule.id) && fixes.some(({ byHand }) => !byHand));
  return [...Map.groupBy(fixable, ({ rule }) => rule.id)].flatMap(([rule, all]) => {
    const here = all.filter(({ place }) => sourceOf(place) === source);
    const offers = (scope: FixAll['scope'], of: readonly Finding[]) =>
      of.length > 1 && mendsSome(snapshot, scope, of) ? [{ rule, scope }] : [];
    return [...offers('file', here), ...(all.length > here.length ? offers('project', all) : [])];
  });
}

/** What is a choice for somebody is never made unasked: of such a rule nothing would change. */
function mendsSome(snapshot: Snapshot, scope: FixAll['scope'], findings: readonly Finding[]): boolean {
  const { project } = snapshot;
  return findings.slice(0, mostLooked).some((found) => {
    const fix = obvious(project, found, fixesThatHold(project, found));
    return fix?.edits.every(({ place }) => mayWrite(snapshot, scope, sourceOf(place).id)) === true;
  });
}

/** What ships with the tool is in no file. */
function mayWrite({ source }: Snapshot, scope: FixAll['scope'], file: string): boolean {
  return scope === 'project' ? file.includes('/') : file === source.id;
}

/** The edits that come of it: one a file, from the first character that changes to the last. */
export function fixAll(snapshot: Snapshot, asked: FixAll): TextEdit[] {
  return atOnce(fixingAll(snapshot, asked));
}

/** The same in steps: it takes seconds in a whole building. The project must not be edited meanwhile. */
export function* fixingAll(snapshot: Snapshot, { rule, scope }: FixAll): Steps<TextEdit[]> {
  const { project, source } = snapshot;
  const { texts } = yield* mending(project, {
    which: (finding) =>
      (rule === undefined ? isOfText(finding) : finding.rule.id === rule) &&
      (scope === 'project' || sourceOf(finding.place).id === source.id),
    mayWrite: (file) => mayWrite(snapshot, scope, file),
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
