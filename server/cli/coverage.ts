/** `storypole check --coverage`: which rules looked at each unit, on which numbers, and what they lacked. */
import type { Lacked, Looked } from '../checks/check.ts';
import { type Coverage, coverageOf } from '../checks/coverage.ts';
import type { Unit } from '../model/project.ts';
import type { Show } from '../model/show.ts';
import { tableLines } from '../sheets/text-table.ts';
import type { Answer } from './answer.ts';
import { comparisonText } from './finding-text.ts';
import { comparisonJson, documentOf, projectHead, rangeJson } from './json.ts';
import { each } from './json-text.ts';
import { findingsOf, spot } from './located.ts';
import { type Judging, type Session, sessionFor, statusOf } from './session.ts';
import { type Chosen, choose, unitsOf } from './targets.ts';
import { capital, counted, listed, someOf, wrapped } from './words.ts';

/** Units that were looked at alike: the same geometry under the same policies. */
export interface CoveredUnits {
  readonly units: readonly Unit[];
  readonly coverage: Coverage;
}

/** Throws Stop where there is nothing to check. */
export function coverage(paths: readonly string[], options: Judging): Answer {
  const session = sessionFor(options);
  const chosen = choose(paths, session.current);
  const findings = chosen.map((one) => findingsOf(one));
  const status = statusOf(findings.flat(), options.failOn);
  if (options.format === 'json') {
    return {
      status,
      result: documentOf('coverage', {
        projects: each(
          chosen.map((one, i) => ({ one, found: findings[i] ?? [] })),
          ({ one, found }) => ({
            ...projectHead(one, found, session.pathOf),
            coverage: each(coveredUnits(one), (covered) => coverageJson(covered, one.project.settings.show, session)),
          }),
        ),
      }),
    };
  }
  return { status, result: texts(chosen, session) };
}

function* texts(chosen: readonly Chosen[], session: Session): Generator<string> {
  for (const one of chosen) {
    for (const covered of coveredUnits(one)) yield `${coverageText(covered, one.project.settings.show, session)}\n\n`;
  }
  yield `A rule that compared something says nothing of what it did not compare. ${lawful}\n`;
}

const lawful = 'Local codes, the makers of the hardware and licensed trades come before all of these.';

export function* coveredUnits(chosen: Chosen): Generator<CoveredUnits> {
  const { show } = chosen.project.settings;
  const alike = Map.groupBy(
    unitsOf(chosen).filter(({ resolved }) => resolved !== undefined),
    ({ resolved, policy }) => `${numbered(resolved?.layout)} ${numbered(policy)}`,
  );
  for (const units of alike.values()) {
    const [first] = units;
    if (!first?.resolved) continue;
    yield { units, coverage: coverageOf({ layout: first.resolved.layout, policy: first.policy, show }) };
  }
}

const numbers = new WeakMap<object, number>();
let last = 0;

/** Objects that are shared are equal; the number says which is which. */
function numbered(object: object | undefined): number {
  if (!object) return 0;
  const number = numbers.get(object) ?? ++last;
  numbers.set(object, number);
  return number;
}

const mostUnits = 6;

function coverageText(
  { units, coverage: { covered, nothing } }: CoveredUnits,
  show: Show,
  { paint, width }: Session,
): string {
  const names = units.map(({ name }) => name);
  const title = paint(
    'bold',
    units.length === 1 ? (names[0] ?? '') : `${someOf(names, mostUnits)} (${counted(units.length, 'unit')} alike)`,
  );
  const rows = covered.flatMap(({ rule, looked, lacked }) => [
    ...(looked.length > 0 ? [[`  ${rule.id}`, lookedText(looked), nearestText(looked, show)]] : []),
    ...lackedRows(lacked).map((needs, i) => [looked.length === 0 && i === 0 ? `  ${rule.id}` : '', 'lacks', needs]),
  ]);
  const table = tableLines(
    [
      { title: '  rule', align: 'left' },
      { title: 'compared', align: 'left' },
      { title: 'the comparison nearest to its limit, or what it lacks', align: 'left' },
    ],
    rows,
    width,
  );
  const idle =
    nothing.length === 0 ? [] : wrapped(`Nothing to work on: ${listed(nothing.map(({ id }) => id))}.`, width, '  ');
  return [title, ...table, ...idle].join('\n');
}

function lookedText(looked: readonly Looked[]): string {
  const broken = looked.filter(({ holds }) => !holds).length;
  return broken === 0
    ? `${looked.length}, all hold`
    : `${looked.length}, ${broken} ${broken === 1 ? 'does' : 'do'} not hold`;
}

/** What does not hold before what does, and of those the one with the least to spare. */
function nearestText(looked: readonly Looked[], show: Show): string {
  const nearest = looked.toSorted((a, b) => Number(a.holds) - Number(b.holds) || spare(a) - spare(b))[0];
  return nearest ? comparisonText(nearest.comparison, show) : '';
}

/** How far from its limit, as a part of the limit where that is a number of another kind. */
function spare({ comparison: { measured, limit, relation } }: Looked): number {
  const number = (of: Looked['comparison']['measured']): number =>
    'ticks' in of ? of.ticks : 'count' in of ? of.count : of.amount;
  const apart = relation === 'at most' ? number(limit) - number(measured) : number(measured) - number(limit);
  return relation === 'equal to' ? Math.abs(apart) : apart;
}

/** What is lacking, without the name of the thing: `what shelf shirts.high carries` is `what the shelf carries`. */
function unnamed({ needs, about }: Lacked): string {
  if (about === '') return needs;
  return needs
    .replaceAll(/\b(shelf|rod|panel|drawers) "?([\w.-]+)"?/g, (whole, kind: string, name: string) =>
      name === about ? `the ${kind}` : whole,
    )
    .replaceAll(/\bthe the\b/g, 'the');
}

/** The same fact that many fittings lack is one line. */
function lackedRows(lacked: readonly Lacked[]): string[] {
  const needs = Map.groupBy(lacked, unnamed);
  return [...needs].map(([need, own]) => {
    const things = own.map(({ about }) => about).filter((about) => about !== '');
    return things.length === 0 ? capital(need) : `${capital(need)}, for ${someOf(things, 4)}`;
  });
}

function coverageJson(
  { units, coverage: { covered, nothing } }: CoveredUnits,
  show: Show,
  { pathOf }: Session,
): object {
  return {
    units: units.map(({ name }) => name),
    rules: covered.map(({ rule, looked, lacked }) => ({
      rule: rule.id,
      compared: looked.map(({ about, place, comparison, holds, working }) => ({
        about,
        range: rangeJson(spot(place), pathOf),
        comparison: comparisonJson(comparison, show),
        holds,
        working: working ?? [],
      })),
      lacks: lacked.map(({ about, place, needs }) => ({ about, range: rangeJson(spot(place), pathOf), needs })),
    })),
    nothing: nothing.map(({ id }) => id),
  };
}
