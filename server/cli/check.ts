/** `storypole check`: every finding in the chosen files. */
import { withFixesThatHold } from '../checks/alternatives.ts';
import { advisedPlan, sortFindings } from '../checks/analysis.ts';
import type { Severity } from '../model/rule.ts';
import type { Answer } from './answer.ts';
import { countsText, findingTexts } from './finding-text.ts';
import { documentOf, findingJson, projectHead } from './json.ts';
import { each } from './json-text.ts';
import { countsOf, findingsOf, isAtLeast, type LocatedFinding } from './located.ts';
import { type Judging, type Session, sessionFor, statusOf } from './session.ts';
import { type Chosen, choose, filesOf, unitsOf } from './targets.ts';
import { capital, counted } from './words.ts';

export interface CheckOptions extends Judging {
  /** Findings below it are counted and not listed. */
  readonly severity: Severity;
}

interface Checked {
  readonly chosen: Chosen;
  readonly findings: readonly LocatedFinding[];
}

/** Throws Stop where there is nothing to check. */
export async function check(paths: readonly string[], options: CheckOptions): Promise<Answer> {
  const session = sessionFor(options);
  const checked = choose(paths, session.current).map((chosen) => ({ chosen, findings: withHeld(chosen) }));
  return {
    status: statusOf(
      checked.flatMap(({ findings }) => findings),
      options.failOn,
    ),
    result: options.format === 'json' ? asJson(checked, options, session) : [await asText(checked, options, session)],
  };
}

/** Findings with those of their fixes that hold when all rules are run again. */
function withHeld(chosen: Chosen): LocatedFinding[] {
  const located = findingsOf(chosen, advisedPlan(chosen.project).findings);
  const held = withFixesThatHold(
    chosen.project,
    located.map(({ finding }) => finding),
  );
  return located.map((one, i) => ({ ...one, finding: held[i] ?? one.finding }));
}

function asJson(checked: readonly Checked[], { severity }: CheckOptions, { pathOf }: Session): Iterable<string> {
  return documentOf('check', {
    projects: each(checked, ({ chosen, findings }) => ({
      ...projectHead(chosen, findings, pathOf),
      findings: each(listed(findings, severity), (located) => findingJson(located, pathOf)),
    })),
  });
}

async function asText(checked: readonly Checked[], { severity }: CheckOptions, session: Session): Promise<string> {
  const all = sortFindings(checked.flatMap(({ findings }) => findings));
  const texts = await findingTexts(listed(all, severity), session);
  return `${[...texts, summary(checked, all, severity, session)].join('\n\n')}\n`;
}

/** `2 errors and 1 note in 15 files, 72 units.` */
function summary(
  checked: readonly Checked[],
  findings: readonly LocatedFinding[],
  severity: Severity,
  { paint }: Session,
): string {
  const counts = countsOf(findings);
  const colour = counts.errors > 0 ? 'red' : counts.warnings > 0 ? 'yellow' : 'green';
  const files = checked.reduce((sum, { chosen }) => sum + filesOf(chosen).length, 0);
  const units = checked.reduce((sum, { chosen }) => sum + unitCount(chosen), 0);
  const where = units > 0 ? `${counted(files, 'file')}, ${counted(units, 'unit')}` : counted(files, 'file');
  const hidden = listed(findings, severity).length < findings.length;
  const left = severity === 'error' ? '; only errors are listed' : '; notes are not listed';
  return `${paint(colour, capital(countsText(counts)))} in ${where}${hidden ? left : ''}.`;
}

/** Units declared in the chosen files, counts multiplied out. */
function unitCount(chosen: Chosen): number {
  return unitsOf(chosen).reduce((sum, { count }) => sum + count, 0);
}

function listed(findings: readonly LocatedFinding[], least: Severity): LocatedFinding[] {
  return findings.filter(({ finding }) => isAtLeast(finding.severity, least));
}
