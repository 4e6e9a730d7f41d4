/** Findings by severity and rule, as branches of a tree. */
import { inTextOrder } from '../checks/analysis.ts';
import type { Finding } from '../model/finding.ts';
import { counted } from '../model/money.ts';
import type { Severity } from '../model/rule.ts';
import { messageOf, sourceOf } from './diagnostics.ts';
import { type ProjectIndex, severities, type Tally, tallyOf, told, worstOf } from './project-index.ts';
import type { Branch } from './view-node.ts';
import { compareLabels, inRanges } from './view-rows.ts';

const severityLabels = { error: 'Errors', warning: 'Warnings', note: 'Notes' } as const;

export function findingsBranch({ findings }: ProjectIndex, tally: Tally): Branch {
  const said = told(tally).join(', ') || 'nothing found';
  return {
    key: 'findings',
    kind: 'findings',
    label: 'Findings',
    description: said,
    tooltip: said,
    severity: worstOf(tally),
    children:
      findings.length === 0
        ? undefined
        : () =>
            severities.filter((severity) => tally[severity] > 0).map((severity) => severityBranch(findings, severity)),
  };
}

function severityBranch(findings: readonly Finding[], severity: Severity): Branch {
  const own = findings.filter((finding) => finding.severity === severity);
  return {
    key: severity,
    kind: 'severity',
    label: severityLabels[severity],
    description: String(own.length),
    tooltip: counted(own.length, severity),
    severity,
    children: () =>
      [...Map.groupBy(own, ({ rule }) => rule)]
        .sort(([a], [b]) => compareLabels(a.title, b.title))
        .map(([rule, found]) => ({
          key: rule.id,
          kind: 'rule',
          label: rule.title,
          description: `${rule.id} · ${found.length}`,
          tooltip: [rule.explanation, ...(rule.caution === undefined ? [] : [`Caution: ${rule.caution}`])].join('\n'),
          severity,
          rule: rule.id,
          children: () => findingRows(found),
        })),
  };
}

/** The most severe first, and of those in the order of files and of places in them. */
export function findingRows(findings: readonly Finding[]): readonly Branch[] {
  const ordered = inTextOrder(findings).sort((a, b) => severities.indexOf(a.severity) - severities.indexOf(b.severity));
  return inRanges(
    ordered,
    (own, from) => own.map((finding, i) => findingBranch(finding, from + i)),
    (own) => worstOf(tallyOf(own)),
    (_, at) => String(at + 1),
  );
}

function findingBranch(finding: Finding, at: number): Branch {
  const { message, rule, severity, place } = finding;
  const file = sourceOf(place).id;
  return {
    key: `finding ${at}`,
    kind: 'finding',
    label: message,
    description: file.slice(file.lastIndexOf('/') + 1),
    tooltip: `${messageOf(finding)}\n${severity}, ${rule.id}`,
    severity,
    rule: rule.id,
    place,
  };
}
