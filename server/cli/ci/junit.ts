/** Findings as JUnit XML, for CI that shows tests: a suite a project, a case a file, a failure a finding that counts. */
import type { Severity } from '../../model/rule.ts';
import { escaped as xml } from '../../sheets/drawing/svg.ts';
import { isAtLeast, type LocatedFinding } from '../located.ts';

export interface JunitProject {
  readonly title: string;
  readonly files: readonly string[];
  readonly findings: readonly LocatedFinding[];
}

/** Findings below `failOn` are told in the output of their case, and fail nothing. */
export function junitText(
  projects: readonly JunitProject[],
  failOn: Severity,
  pathOf: (file: string) => string,
): string {
  const suites = projects.map(({ title, files, findings }) => {
    const byFile = Map.groupBy(findings, ({ file }) => file);
    const cases = files.map((file) => {
      const own = byFile.get(file) ?? [];
      const failures = own.filter(({ finding }) => isAtLeast(finding.severity, failOn));
      const others = own.filter((one) => !failures.includes(one));
      return { text: caseXml(title, pathOf(file), failures, others), failed: failures.length > 0 };
    });
    const failed = cases.filter((one) => one.failed).length;
    return {
      tests: cases.length,
      failed,
      text: `  <testsuite name="${escaped(title)}" tests="${cases.length}" failures="${failed}" errors="0" skipped="0" time="0">\n${cases.map(({ text }) => text).join('')}  </testsuite>\n`,
    };
  });
  const sum = (of: (suite: (typeof suites)[number]) => number): number =>
    suites.reduce((all, suite) => all + of(suite), 0);
  return `<?xml version="1.0" encoding="UTF-8"?>\n<testsuites name="storypole check" tests="${sum((s) => s.tests)}" failures="${sum((s) => s.failed)}" errors="0" time="0">\n${suites.map(({ text }) => text).join('')}</testsuites>\n`;
}

function caseXml(
  suite: string,
  name: string,
  failures: readonly LocatedFinding[],
  others: readonly LocatedFinding[],
): string {
  const head = `    <testcase name="${escaped(name)}" classname="${escaped(suite)}" time="0"`;
  if (failures.length + others.length === 0) return `${head}/>\n`;
  const failed = failures.map(
    (one) =>
      `      <failure message="${escaped(one.finding.message)}" type="${escaped(one.finding.rule.id)}">${escaped(said(one, name))}</failure>\n`,
  );
  const out =
    others.length > 0
      ? [`      <system-out>${escaped(others.map((one) => said(one, name)).join('\n'))}</system-out>\n`]
      : [];
  return `${head}>\n${[...failed, ...out].join('')}    </testcase>\n`;
}

function said({ finding, from }: LocatedFinding, name: string): string {
  const { severity, rule, message, advice } = finding;
  return `${name}:${from.line + 1}:${from.column + 1} ${severity} ${rule.id}\n${message}${advice === undefined ? '' : `\nTo do: ${advice}`}`;
}

/** Line ends and tabs too: in an attribute they would be read as spaces. */
function escaped(text: string): string {
  return xml(text).replaceAll(/[\n\r\t]/g, (c) => `&#${c.charCodeAt(0)};`);
}
