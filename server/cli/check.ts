/** `storypole check`: every finding in the chosen files. */
import { segmentOf } from '../../grammar/tree.ts';
import { withFixesThatHold } from '../checks/alternatives.ts';
import { advisedPlan, sortFindings } from '../checks/analysis.ts';
import type { Severity } from '../model/rule.ts';
import type { Answer } from './answer.ts';
import { githubText, gitlabText } from './ci/annotations.ts';
import { type Baseline, baselineOf, baselineText, readBaseline, sortedBy } from './ci/baseline.ts';
import { fingerprintsOf } from './ci/fingerprint.ts';
import { junitText } from './ci/junit.ts';
import { sarifPieces } from './ci/sarif.ts';
import { countsText, findingTexts } from './finding-text.ts';
import { documentOf, findingJson, projectHead } from './json.ts';
import { each } from './json-text.ts';
import { countsOf, findingsOf, isAtLeast, type LocatedFinding } from './located.ts';
import { type Judging, type Session, sessionFor, statusOf } from './session.ts';
import { Stop } from './stop.ts';
import { type Chosen, choose, filesOf, unitsOf } from './targets.ts';
import { capital, counted } from './words.ts';

export interface CheckOptions extends Omit<Judging, 'format'> {
  readonly format: 'text' | 'json' | 'sarif' | 'junit' | 'github' | 'gitlab';
  /** Findings below it are counted and not listed. */
  readonly severity: Severity;
  /** A file of findings that are known: only others are told, and only they decide the status. */
  readonly baseline?: string | undefined;
  /** Writes what is found now into that file. */
  readonly updateBaseline?: boolean | undefined;
}

interface Checked {
  readonly chosen: Chosen;
  /** All that is found. */
  readonly found: readonly LocatedFinding[];
  readonly fingerprints: readonly string[];
  /** Those that are no known ones. */
  readonly findings: readonly LocatedFinding[];
  readonly known: number;
}

/** Throws Stop where there is nothing to check. */
export async function check(paths: readonly string[], options: CheckOptions): Promise<Answer> {
  const session = sessionFor(options);
  const { baseline: file, updateBaseline } = options;
  if (updateBaseline && file === undefined)
    throw new Stop('--update-baseline goes with --baseline FILE, the file that it writes.');
  const baseline = file === undefined || updateBaseline ? undefined : readBaseline(file, session.current);
  const checked = choose(paths, session.current).map((chosen): Checked => {
    const found = withHeld(chosen, file !== undefined);
    const fingerprints = fingerprintsOf(found, session.pathOf);
    const { fresh, known } = baseline ? sortedBy(baseline, found, fingerprints) : { fresh: found, known: 0 };
    return { chosen, found, fingerprints, findings: fresh, known };
  });
  if (file !== undefined && updateBaseline) return update(file, checked, session);
  const elsewhere = checked.flatMap(({ chosen }) => {
    const errors = elsewhereOf(chosen);
    return baseline ? sortedBy(baseline, errors, fingerprintsOf(errors, session.pathOf)).fresh : errors;
  });
  return {
    status: statusOf([...checked.flatMap(({ findings }) => findings), ...elsewhere], options.failOn),
    result: await written(checked, baseline, options, session),
    remark: saidOf([baseline && remarkOn(baseline, checked), elsewhereSaid(elsewhere, session)]),
  };
}

function saidOf(remarks: readonly (string | undefined)[]): string | undefined {
  const said = remarks.filter((remark) => remark !== undefined);
  return said.length === 0 ? undefined : said.join(' ');
}

/** What is wrong in files that nobody asked about: what the others say may rest on it. */
function elsewhereOf(chosen: Chosen): LocatedFinding[] {
  const { files } = chosen;
  if (!files) return [];
  const all = findingsOf({ ...chosen, files: undefined }, []);
  return all.filter(({ file, finding }) => finding.severity === 'error' && !files.has(file));
}

function elsewhereSaid(errors: readonly LocatedFinding[], { pathOf }: Session): string | undefined {
  const [first, ...more] = new Set(errors.map(({ file }) => pathOf(file)));
  if (first === undefined) return undefined;
  const where = more.length === 0 ? first : `${counted(more.length + 1, 'other file')}, one of them ${first}`;
  return `There ${errors.length === 1 ? 'is 1 error' : `are ${errors.length} errors`} in ${where}, which you did not ask about. What is told here may rest on it: check the whole project.`;
}

/** There are more files in the project than were asked about. */
function isPart({ chosen: { project, files } }: Checked): boolean {
  return files !== undefined && [...project.sources.keys()].some((file) => !files.has(file));
}

async function update(file: string, checked: readonly Checked[], { current, pathOf }: Session): Promise<Answer> {
  if (checked.some(isPart))
    throw new Stop('--update-baseline writes the list of a whole project anew: name its folder, and no files of it.');
  const found = checked.flatMap((one) => one.found);
  const fingerprints = checked.flatMap((one) => one.fingerprints);
  const { writeOutput } = await import('./output.ts');
  await writeOutput(file, current, [baselineText(baselineOf(found, fingerprints, pathOf))]);
  return { status: 0, result: [`${capital(counted(found.length, 'finding'))} written to ${file} as known.\n`] };
}

/** How many are known, and which of them are not found any more. */
function remarkOn(baseline: Baseline, checked: readonly Checked[]): string | undefined {
  const known = checked.reduce((sum, one) => sum + one.known, 0);
  const found = new Set(checked.flatMap(({ fingerprints }) => fingerprints));
  // Of files that nobody asked about it is not known what is found.
  const areAll = !checked.some(isPart);
  const gone = areAll ? baseline.findings.filter(({ fingerprint }) => !found.has(fingerprint)).length : 0;
  const parts = [
    ...(known > 0 ? [`${counted(known, 'known finding')} left out`] : []),
    ...(gone > 0
      ? [
          `${counted(gone, 'known finding')} not found any more: --update-baseline takes ${gone === 1 ? 'it' : 'them'} off the list`,
        ]
      : []),
  ];
  return parts.length === 0 ? undefined : `${capital(parts.join('; '))}.`;
}

async function written(
  checked: readonly Checked[],
  baseline: Baseline | undefined,
  options: CheckOptions,
  session: Session,
): Promise<Iterable<string>> {
  const { severity, failOn } = options;
  const { pathOf } = session;
  const told = (findings: readonly LocatedFinding[]): LocatedFinding[] => sortFindings(listed(findings, severity));
  switch (options.format) {
    case 'json':
      return asJson(checked, options, session);
    case 'text':
      return [await asText(checked, options, session)];
    case 'github':
      return [githubText(told(checked.flatMap(({ findings }) => findings)), pathOf)];
    case 'gitlab': {
      const shown = checked.flatMap(({ found, findings, fingerprints }) => {
        const fresh = new Set(listed(findings, severity));
        return found.flatMap((located, i) =>
          fresh.has(located) ? [{ located, fingerprint: fingerprints[i] as string }] : [],
        );
      });
      return [
        gitlabText(
          shown.map(({ located }) => located),
          shown.map(({ fingerprint }) => fingerprint),
          pathOf,
        ),
      ];
    }
    case 'junit':
      return [
        junitText(
          checked.map(({ chosen, findings }) => ({
            title: chosen.project.settings.title || pathOf(chosen.root),
            files: filesOf(chosen),
            findings: listed(findings, severity),
          })),
          failOn,
          pathOf,
        ),
      ];
    case 'sarif': {
      // Known ones are listed as such, which viewers hide; what is left out would be taken for mended.
      const all = checked.flatMap(({ found, findings, fingerprints }) => {
        const fresh = new Set(findings);
        return found.map((located, i) => ({
          located,
          fingerprint: fingerprints[i] as string,
          ...(baseline && { state: fresh.has(located) ? ('new' as const) : ('unchanged' as const) }),
        }));
      });
      return sarifPieces(
        all.filter(({ located }) => isAtLeast(located.finding.severity, severity)),
        pathOf,
      );
    }
  }
}

/** Findings with those of their fixes that hold when all rules are run again. */
function withHeld(chosen: Chosen, areAll: boolean): LocatedFinding[] {
  const located = findingsOf(chosen, advisedPlan(chosen.project).findings, areAll);
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
  const tests = checked.reduce((sum, { chosen }) => sum + testCount(chosen), 0);
  const where = [
    counted(files, 'file'),
    ...(units > 0 ? [counted(units, 'unit')] : []),
    ...(tests > 0 ? [`${counted(tests, 'test')} of templates`] : []),
  ].join(', ');
  const hidden = listed(findings, severity).length < findings.length;
  const left = severity === 'error' ? '; only errors are listed' : '; notes are not listed';
  return `${paint(colour, capital(countsText(counts)))} in ${where}${hidden ? left : ''}.`;
}

/** Tests of templates in the chosen files. */
function testCount({ project, files }: Chosen): number {
  return [...project.tested()]
    .filter(({ template }) => !files || files.has(segmentOf(template.statement).source.id))
    .reduce((sum, { results }) => sum + results.length, 0);
}

/** Units declared in the chosen files, counts multiplied out. */
function unitCount(chosen: Chosen): number {
  return unitsOf(chosen).reduce((sum, { count }) => sum + count, 0);
}

function listed(findings: readonly LocatedFinding[], least: Severity): LocatedFinding[] {
  return findings.filter(({ finding }) => isAtLeast(finding.severity, least));
}
