/**
 * What is compared of a `.closet` text drawn at random with a linear programme of what the reference of the language says
 * it means (linear.ts names the solvers). All lengths are whole sixteenths of an inch, which is also the step of the saw;
 * where the tool works in whole steps and a programme does not, what comes out within a step either way is not compared.
 */
import fc from 'fast-check';
import { expect } from 'vitest';
import type { Statement } from '../../grammar/tree.ts';
import type { Finding } from '../../server/model/finding.ts';
import type { Layout, Range } from '../../server/model/layout.ts';
import type { Ticks } from '../../server/model/ticks.ts';
import { projectOf } from '../model/support.ts';
import { holdsToo, Linear, loadSolver, type Row } from './linear.ts';

export const linear = new Linear(await loadSolver());

export const SIXTEENTH = 63_500;
export const inSixteenths = (length: Ticks | undefined): number | undefined =>
  length === undefined ? undefined : length / SIXTEENTH;

export const many = <T>(of: fc.Arbitrary<T>, size: number) => fc.array(of, { minLength: size, maxLength: size });

/** A closet as text, and what it says; statements have the same names in both. */
export interface Drawn {
  /** The text without the statements that are named here. */
  readonly textWithout: (left: ReadonlySet<string>) => string;
  readonly rows: readonly Row[];
  /** The same for each length of the wall that was measured, where several were: a layout holds on all of them. */
  readonly measured?: readonly (readonly Row[])[];
  /** That nothing reaches over the ends, said of each by itself. */
  readonly within?: readonly Row[];
  /** Statements that can be left out of the text, each by itself. */
  readonly loose: readonly string[];
  /** Whether anything is settled in steps of the saw. */
  readonly inSteps: boolean;
}

export interface Resolved {
  readonly layout: Layout;
  readonly conflict: Finding | undefined;
  /** A row of shelves has no room between heights that hold. */
  readonly crowded: Finding | undefined;
}

const conflicts = ['widths-do-not-close', 'heights-do-not-close', 'survey-narrower-than-layout', 'width-undecided'];

export function resolved(text: string): Resolved {
  const [unit] = projectOf(text).units();
  const { layout, findings } = unit?.resolved ?? {};
  if (!layout || !findings) throw new Error(text);
  return {
    layout,
    conflict: findings.find((f) => conflicts.includes(f.rule.id) && !isOfRow(f)),
    crowded: findings.find(isOfRow),
  };
}

/** Heights that hold, and no room between them for a row of shelves. */
function isOfRow({ message }: Finding): boolean {
  return /^Row "[^"]+" (?:has|begins) /.test(message);
}

/** The statements that a finding blames, by the names of this file. */
function blamedBy({ place, related }: Finding): string[] {
  const nameOf = ({ word, items, parent }: Statement): string => {
    const inner = (s: Statement): string => {
      const [item] = s.items;
      return item?.kind === 'path' ? item.words.map((w) => w.text).join('.') : '';
    };
    if (['zone', 'gap', 'shelf', 'rod', 'drawers', 'shelves'].includes(word.text))
      return `${inner({ word, items } as Statement)} start`;
    const owner = parent.kind === 'statement' ? parent : undefined;
    if (word.text === 'wall' || owner?.word.text === 'wall') return 'wall';
    return `${owner ? inner(owner) : ''} ${word.text}`;
  };
  return [...new Set([place, ...related.map((one) => one.place)].map(({ statement }) => nameOf(statement)))];
}

/** What nobody says: a zone stands inside the one around it. Where that one's width is not said, there is no inside. */
export const inside = (name: string): string => `inside ${name}`;

const sayNoMore = (rows: readonly Row[], names: ReadonlySet<string>): Row[] =>
  rows.filter(({ says }) => names.has(says));

const withInsides = (rows: readonly Row[], names: ReadonlySet<string>, but?: string): Row[] =>
  rows.filter(({ says }) => (says.startsWith(inside('')) ? says !== inside(but ?? '') : names.has(says)));

/** All that is compared of what cannot hold. */
export function compareConflict(drawn: Drawn, found: Finding, { excessIsEach }: { excessIsEach: boolean }): void {
  const { textWithout, loose, measured = [drawn.rows], within = [] } = drawn;
  const where = textWithout(new Set());
  const blamed = new Set(blamedBy(found));
  // Of a wall that was measured, on one of its lengths; the shortest is looked at first.
  const failing = (speak: typeof withInsides) =>
    [drawn.rows, ...measured].find((one) => !linear.holds(speak(one, blamed)));
  const alike = failing(sayNoMore);
  const speak = alike ? sayNoMore : withInsides;
  const rows = alike ?? failing(withInsides) ?? drawn.rows;
  const alone = speak(rows, blamed);
  // What stands between two others cannot reach over the ends, though it is they who say so.
  const own = linear.holds(alone) ? [...alone, ...within] : alone;
  // They fail by themselves, and hold when any one of them is not said.
  expect([where, found.message, linear.holds(own)]).toEqual([where, found.message, false]);
  for (const one of blamed) {
    const others = speak(rows, new Set([...blamed].filter((name) => name !== one)), one);
    expect([where, found.message, one, linear.holds(others)]).toEqual([where, found.message, one, true]);
  }
  // Too much by what any one of them would have to give way.
  const over = found.comparison?.measured as { ticks: Ticks };
  const excess = inSixteenths(over.ticks) as number;
  if (excessIsEach) {
    const reliefs = [...blamed].map(
      (one) => linear.leastRelief(own, ({ says }) => says === one || says === inside(one)) as number,
    );
    // One that says two things has to give way less, as it may in both.
    expect([where, excess, Math.max(...reliefs)]).toEqual([where, excess, expect.closeTo(excess, 6)]);
    expect([where, Math.min(...reliefs) * 3 > excess - 1e-6]).toEqual([where, true]);
  }
  // The same in the text: without what is not blamed it stays, and without any one that is blamed too it goes, unless
  // something else is the matter, which the programme knows.
  const others = loose.filter((name) => !blamed.has(name));
  expect([where, resolved(textWithout(new Set(others))).conflict !== undefined]).toEqual([where, true]);
  for (const one of loose.filter((name) => blamed.has(name))) {
    const left = new Set([...others, one]);
    const text = textWithout(left);
    const holds = measured.every((all) => linear.holds(all.filter(({ says }) => !left.has(says))));
    if (!drawn.inSteps) expect([text, resolved(text).conflict === undefined]).toEqual([text, holds]);
  }
}

/** Whether it holds, where nothing turns on less than a step of the saw. */
export function holdsClearly({ rows, measured = [rows], inSteps }: Drawn): boolean | undefined {
  const each = measured.map((one) => clearly(one, inSteps));
  return each.includes(false) ? false : each.includes(undefined) ? undefined : true;
}

/** Counted from the left end of the wall, so that no place is below 0. */
function fromTheWall(rows: readonly Row[]): readonly Row[] {
  const left = rows.find(({ says }) => says === 'wall')?.terms[1]?.[0] ?? 'start';
  if (left === 'start') return rows;
  const named = (name: string): string => (name === left ? 'start' : name === 'start' ? 'innermost' : name);
  return rows.map((one) => ({ ...one, terms: one.terms.map(([name, times]) => [named(name), times] as const) }));
}

function clearly(rows: readonly Row[], inSteps: boolean): boolean | undefined {
  const holds = linear.holds(rows);
  if (rows.every(({ terms }) => terms.length > 0)) expect(holdsToo(fromTheWall(rows))).toBe(holds);
  if (!inSteps) return holds;
  // What is at the least and at the most the same gives way to nobody, said at once or by two.
  const sides = new Map<string, { least: number; most: number }>();
  for (const { terms, least = -Infinity, most = Infinity } of rows) {
    const known = sides.get(String(terms)) ?? { least, most };
    sides.set(String(terms), { least: Math.max(known.least, least), most: Math.min(known.most, most) });
  }
  const relief = linear.leastRelief(rows, ({ terms }) => {
    const own = sides.get(String(terms));
    return own !== undefined && own.least !== own.most;
  });
  if (relief === undefined) return holds;
  return relief > 1 ? false : relief < -1 ? true : undefined;
}

export const compareRange = (
  where: string,
  { least, most }: Range,
  rows: readonly Row[],
  terms: Row['terms'],
): void => {
  const range = linear.range(rows, terms);
  expect([where, inSixteenths(least), inSixteenths(most)]).toEqual([where, range.least, range.most]);
};
