/** Floors with their units, and templates with the units that are built from them, as branches of a tree. */
import { headPlace, type Place } from '../../grammar/tree.ts';
import { counted } from '../model/money.ts';
import { calledInProject, type Declared } from '../model/names.ts';
import type { Project, Unit } from '../model/project.ts';
import type { Severity } from '../model/rule.ts';
import { starterSource } from '../model/starter.ts';
import { sourceOf } from './diagnostics.ts';
import { findingRows } from './findings-view.ts';
import { type ProjectIndex, sumOf, told, worstOf } from './project-index.ts';
import type { Branch } from './view-node.ts';
import { compareLabels, inRanges, unlike } from './view-rows.ts';

export function floorsBranch(index: ProjectIndex): Branch {
  const { units } = index;
  const floors = [...Map.groupBy(units, ({ floor }) => floor ?? '')].sort(([a], [b]) => compareLabels(a, b));
  const only = floors.length === 1 && floors[0]?.[0] === '';
  const said = only || units.length === 0 ? counted(countOf(units), 'unit') : counted(floors.length, 'floor');
  return {
    key: 'floors',
    kind: 'floors',
    label: 'Floors',
    // Behind that label their number is enough.
    description: only || units.length === 0 ? said : String(floors.length),
    tooltip: units.length === 0 ? 'No unit is declared yet.' : `${said}, ${counted(countOf(units), 'unit')}`,
    severity: worstIn(units, index),
    // Where no unit says its floor there is nothing to group by.
    children: units.length === 0 ? undefined : () => (only ? unitRows(units, index) : floors.map(floorBranch)),
  };

  function floorBranch([floor, own]: readonly [string, readonly Unit[]]): Branch {
    const worst = worstIn(own, index);
    return {
      key: `floor ${floor}`,
      kind: 'floor',
      label: floor === '' ? 'No floor stated' : `Floor ${floor}`,
      description: counted(countOf(own), 'unit'),
      tooltip: `${counted(countOf(own), 'unit')}; ${worst ? `the worst finding is ${worst === 'error' ? 'an' : 'a'} ${worst}` : 'nothing found'}`,
      severity: worst,
      children: () => unitRows(own, index),
    };
  }
}

function unitRows(units: readonly Unit[], index: ProjectIndex): readonly Branch[] {
  return inRanges(
    units,
    (own) => unitBranches(own, index),
    (own) => worstIn(own, index),
    ({ name }) => name,
  );
}

export function unitBranches(units: readonly Unit[], index: ProjectIndex): Branch[] {
  const seen = new Map<string, number>();
  return units.map((unit) => {
    const { name, declared, count, floor, flat, phase, mirrored, info, survey } = unit;
    const times = (seen.get(name) ?? 0) + 1;
    seen.set(name, times);
    const tally = index.ofUnit(name);
    const template = info?.declared;
    const made = [
      template ? calledInProject(template) : 'template not known',
      ...(mirrored ? ['mirrored'] : []),
      ...(survey ? ['measured'] : []),
    ].join(', ');
    const where = [
      ...(floor === undefined ? [] : [`floor ${floor}`]),
      ...(flat === undefined ? [] : [`flat ${flat}`]),
      ...(phase === undefined ? [] : [`phase ${phase}`]),
    ].join(', ');
    const found = told(tally).join(', ');
    return {
      key: times === 1 ? `unit ${name}` : `unit ${name} (${times})`,
      kind: 'unit',
      label: name,
      description: [made, ...(count === 1 ? [] : [`${count} alike`]), ...(found === '' ? [] : [found])].join(' · '),
      tooltip: [`${name}: ${made}`, ...(where === '' ? [] : [where]), found === '' ? 'Nothing found.' : found].join(
        '\n',
      ),
      severity: worstOf(tally),
      place: headPlace(declared.statement),
      template: template && shownPlace(template),
      survey: survey && headPlace(survey.statement),
      children: worstOf(tally) === undefined ? undefined : () => findingRows(index.foundIn(unit)),
    };
  });
}

export function templatesBranch(project: Project, index: ProjectIndex): Branch {
  const own = project.names.written('template');
  const used = index.units.flatMap(({ info }) => info?.declared ?? []);
  const all = [...new Map([...own, ...used].map((declared) => [declared.statement, declared])).values()].sort((a, b) =>
    compareLabels(calledInProject(a), calledInProject(b)),
  );
  return {
    key: 'templates',
    kind: 'templates',
    label: 'Templates',
    description: all.length === 0 ? 'none' : String(all.length),
    tooltip: all.length === 0 ? 'No template is declared yet.' : counted(all.length, 'template'),
    severity: worstOf(sumOf(all.map(({ statement }) => index.ofTemplate(statement)))),
    children: all.length === 0 ? undefined : () => unlike(all.map((declared) => templateBranch(declared, index))),
  };
}

function templateBranch(declared: Declared, index: ProjectIndex): Branch {
  const users = index.usersOf(declared.statement);
  const tally = index.ofTemplate(declared.statement);
  const name = calledInProject(declared);
  const said = [users.length === 0 ? 'no unit' : counted(countOf(users), 'unit'), ...told(tally)];
  return {
    key: `template ${name}`,
    kind: 'template',
    label: name,
    description: said.join(' · '),
    tooltip: [`Template ${name}`, ...said].join('\n'),
    severity: worstOf(tally),
    place: shownPlace(declared),
    children: users.length === 0 ? undefined : () => unitRows(users, index),
  };
}

function worstIn(units: readonly Unit[], { ofUnit }: ProjectIndex): Severity | undefined {
  let worst: Severity | undefined;
  for (const { name } of units) {
    const own = worstOf(ofUnit(name));
    if (own === 'error') return own;
    if (own === 'warning' || worst === undefined) worst = own ?? worst;
  }
  return worst;
}

/** Closets, counts multiplied out. */
export function countOf(units: readonly Unit[]): number {
  return units.reduce((sum, { count }) => sum + count, 0);
}

/** What ships with the tool is in no file that could be shown. */
export function shownPlace({ statement }: Declared): Place | undefined {
  const place = headPlace(statement);
  return sourceOf(place) === starterSource ? undefined : place;
}
