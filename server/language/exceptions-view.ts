/** Units with a survey by what it does to them, as branches of a tree: to decide, cut otherwise, as drawn; by floor and template below. */
import { headPlace } from '../../grammar/tree.ts';
import { counted } from '../model/money.ts';
import type { Project } from '../model/project.ts';
import type { Show } from '../model/show.ts';
import { type By, type Exception, exceptionsOf, groupsOf, type Verdict, verdicts } from '../sheets/exceptions.ts';
import { cutsSaid, decisionSaid, measuredSaid, summarySaid } from '../sheets/exceptions-said.ts';
import { findingRows } from './findings-view.ts';
import type { ProjectIndex } from './project-index.ts';
import type { Branch } from './view-node.ts';
import { inRanges } from './view-rows.ts';

const labels: Readonly<Record<Verdict, string>> = {
  decision: 'To decide',
  'cut-lengths': 'Other cut lengths alone',
  fits: 'Fit as drawn',
};

const explained: Readonly<Record<Verdict, string>> = {
  decision: 'Measured, these have errors or warnings, or parts more or less, that they do not have as drawn.',
  'cut-lengths': 'Measured, these are built as drawn but for lengths of parts, or where things stand.',
  fits: 'Measured, these are built just as drawn.',
};

/** None where nothing was measured. */
export function exceptionsBranches(project: Project, { units }: ProjectIndex): Branch[] {
  const measured = units.filter(({ survey }) => survey !== undefined);
  if (measured.length === 0) return [];
  return [
    {
      key: 'exceptions',
      kind: 'exceptions',
      label: 'Measured units',
      description: counted(measured.length, 'unit'),
      tooltip: `${counted(measured.length, 'unit')} with a survey`,
      children: () => verdictBranches(exceptionsOf(project, measured), project.settings.show),
    },
  ];
}

function verdictBranches(all: readonly Exception[], show: Show): Branch[] {
  return verdicts.flatMap((verdict): Branch[] => {
    const own = all.filter((one) => one.verdict === verdict);
    if (own.length === 0) return [];
    return [
      {
        key: verdict,
        kind: 'verdict',
        label: labels[verdict],
        description: counted(own.length, 'unit'),
        tooltip: explained[verdict],
        severity: own.some(isError) ? 'error' : verdict === 'decision' ? 'warning' : undefined,
        children: () => [...rows(own, show), ...(own.length > 1 ? grouped(own, show) : [])],
      },
    ];
  });
}

function isError({ findings }: Exception): boolean {
  return findings.some(({ severity }) => severity === 'error');
}

/** The same once more, for whoever walks one floor or mends one template. */
function grouped(own: readonly Exception[], show: Show): Branch[] {
  return (['floor', 'template'] as const).flatMap((by) => {
    const groups = groupsOf(own, by);
    if (groups.length < 2) return [];
    return [
      {
        key: `by ${by}`,
        kind: 'range' as const,
        label: `By ${by}`,
        description: counted(groups.length, by),
        tooltip: `The same units by ${by}.`,
        children: () => groups.map((group) => groupBranch(group, by, show)),
      },
    ];
  });
}

function groupBranch({ name, exceptions }: ReturnType<typeof groupsOf>[number], by: By, show: Show): Branch {
  return {
    key: `${by} ${name ?? ''}`,
    kind: by,
    label: name === undefined ? `No ${by} stated` : by === 'floor' ? `Floor ${name}` : name,
    description: counted(exceptions.length, 'unit'),
    tooltip: summarySaid(exceptions),
    children: () => rows(exceptions, show),
  };
}

function rows(own: readonly Exception[], show: Show): readonly Branch[] {
  return inRanges(
    own,
    (some) => some.map((one) => unitBranch(one, show)),
    (some) => (some.some(isError) ? 'error' : some.some(({ findings }) => findings.length > 0) ? 'warning' : undefined),
    ({ unit }) => unit.name,
  );
}

function unitBranch(one: Exception, show: Show): Branch {
  const { unit, findings } = one;
  const said = [measuredSaid(one, show), cutsSaid(one, show)].filter((text) => text !== '');
  return {
    key: `unit ${unit.name}`,
    kind: 'unit',
    label: unit.name,
    description: said.join(' · '),
    tooltip: [unit.name, ...said, decisionSaid(one)].filter((text) => text !== '').join('\n'),
    severity: findings[0]?.severity,
    place: headPlace(unit.declared.statement),
    survey: unit.survey && headPlace(unit.survey.statement),
    children: findings.length === 0 ? undefined : () => findingRows(findings),
  };
}
