/** Findings as forges show them beside the lines of a change: workflow commands of GitHub, code quality of GitLab. */
import { printable } from '../../model/printable.ts';
import type { Severity } from '../../model/rule.ts';
import type { LocatedFinding } from '../located.ts';

const commands: Readonly<Record<Severity, string>> = { error: 'error', warning: 'warning', note: 'notice' };

/** One line a finding. What follows a `%` there would be read as an escape, and a line end as the next command; what is read in the log of a run steers no terminal. */
export function githubText(findings: readonly LocatedFinding[], pathOf: (file: string) => string): string {
  return findings
    .map(({ file, from, to, finding }) => {
      const { severity, rule, message, advice } = finding;
      const properties = [
        `file=${property(pathOf(file))}`,
        `line=${from.line + 1}`,
        `endLine=${to.line + 1}`,
        // Columns are only taken where the annotation is of one line.
        ...(from.line === to.line ? [`col=${from.column + 1}`, `endColumn=${to.column + 1}`] : []),
        `title=${property(rule.id)}`,
      ];
      return `::${commands[severity]} ${properties.join(',')}::${data(advice === undefined ? message : `${message} ${advice}`)}\n`;
    })
    .join('');
}

function data(text: string): string {
  return printable(text.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A'));
}

function property(text: string): string {
  return data(text).replaceAll(':', '%3A').replaceAll(',', '%2C');
}

const severities: Readonly<Record<Severity, string>> = { error: 'major', warning: 'minor', note: 'info' };

export function gitlabText(
  findings: readonly LocatedFinding[],
  fingerprints: readonly string[],
  pathOf: (file: string) => string,
): string {
  const list = findings.map(({ file, from, to, finding }, i) => ({
    description: finding.message,
    check_name: finding.rule.id,
    fingerprint: fingerprints[i],
    severity: severities[finding.severity],
    location: { path: pathOf(file), lines: { begin: from.line + 1, end: to.line + 1 } },
  }));
  return `${JSON.stringify(list, undefined, 2)}\n`;
}
