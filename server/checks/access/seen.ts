/** What of each fitting is within reach, and why not: from the layout to the numbers that the rules compare. */
import type { Comparison, Working } from '../../model/finding.ts';
import type { Box, DrawersLayout, FittingLayout, FixtureLayout, RodLayout, ShelfLayout } from '../../model/layout.ts';
import type { Asked, PolicyInForce } from '../../model/materials.ts';
import { memo } from '../../model/memo.ts';
import { sourceLine } from '../../model/rule.ts';
import { type Show, showLength } from '../../model/show.ts';
import { add, greatest, NONE, subtract, type Ticks, ticks } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import { gap } from '../room.ts';
import { fittingsOf, nameOf } from '../say.ts';
import { type Best, bestOf, type FloorBeneath, floorAmong, lengthWithin, type Stretch, stretches } from './between.ts';
import { type Closet, facingBox, type Position, positionAt, type Side } from './closet.ts';
import { type Approach, forward2010, type ReachTable, side2010, withHighest } from './reach.ts';

export type Storage = RodLayout | ShelfLayout | DrawersLayout;

/** One way of reaching one fitting. `best` is undefined where it is hidden, or not before the person; see `bar`. */
export interface Attempt {
  readonly approach: Approach;
  readonly table: ReachTable;
  readonly height: Ticks;
  readonly best: Best | undefined;
  readonly bar: 'hidden' | 'aside' | 'no floor' | undefined;
  readonly within: boolean;
  /** How much of its length is within reach. */
  readonly length: Ticks;
}

/** Looked at only as far as it is asked about: of each kind one within reach is enough. */
export interface Seen {
  readonly fitting: Storage;
  readonly attempts: readonly Attempt[];
  readonly within: boolean;
  readonly length: Ticks;
}

export interface AskedReach {
  readonly approach: Approach;
  readonly asked: Asked<Ticks>;
  /** As published, with the height that is asked for. */
  readonly table: ReachTable;
}

export function askedReaches({ demands: { reach } }: PolicyInForce): AskedReach[] {
  const found: AskedReach[] = [];
  const ask = (approach: Approach, published: ReachTable, asked: Asked<Ticks> | undefined): void => {
    if (asked) found.push({ approach, asked, table: withHighest(published, asked.value) });
  };
  ask('forward', forward2010, reach.forward);
  ask('side', side2010, reach.side);
  return found;
}

/** Where a hand takes hold: the centre of a rod, the upper face of a shelf, the middle of each front of a stack of drawers. */
export function heightsOf(fitting: Storage): Ticks[] {
  switch (fitting.kind) {
    case 'rod':
      return [fitting.at.value];
    case 'shelf':
      return [add(fitting.at.value, fitting.thickness)];
    case 'drawers': {
      const middle = Math.floor(fitting.each / 2);
      return Array.from({ length: fitting.count }, (_, i) => ticks(fitting.box.z[0] + i * fitting.each + middle));
    }
  }
}

export function isStorage(fitting: FittingLayout): fitting is Storage {
  return fitting.kind !== 'panel';
}

/** What can stand in the way of somebody who faces a wall. */
interface View {
  readonly boxes: ReadonlyMap<FittingLayout, Box>;
  /**
   * What stands somewhere before or behind a stretch of the wall. A rod does not: it keeps nobody off and
   * hides nothing, and the hand goes past it.
   */
  readonly column: (along: Box['x']) => readonly Box[];
  readonly floor: FloorBeneath;
}

function viewOf(
  { faces, stand }: Position,
  fittings: readonly FittingLayout[],
  fixtures: readonly FixtureLayout[],
  closet: Closet,
): View {
  const boxes = new Map<FittingLayout, Box>();
  // Inside, only what is on the wall itself stands before it: the stretch of floor ends at the other walls' fittings.
  for (const fitting of fittings) {
    const box = closet.entered && fitting.wall !== faces ? undefined : facingBox(fitting, faces, closet);
    if (box) boxes.set(fitting, box);
  }
  // A heater that stands out from its wall stands in the way like a chest; what is flat, or on the ceiling, does not.
  const standing = fixtures.flatMap((fixture) => {
    if (!fixture.depth || fixture.wall === undefined || (closet.entered && fixture.wall !== faces)) return [];
    return facingBox(fixture, faces, closet) ?? [];
  });
  const solid = [...[...boxes].flatMap(([{ kind }, box]) => (kind === 'rod' ? [] : [box])), ...standing];
  // Things of one zone ask for the same stretch.
  const columns = new Map<string, readonly Box[]>();
  const column = (along: Box['x']): readonly Box[] =>
    memo(columns, along.join(' '), () => solid.filter(({ x }) => gap(x, along) < 0));
  return { boxes, column, floor: floorAmong([...boxes.values(), ...standing], stand) };
}

/** Every rod, shelf and stack of drawers, with all the ways to it that the policies ask for. */
export function seenOf({ layout, policy }: CheckInput, closet: Closet): Seen[] {
  const reaches = askedReaches(policy);
  const fittings = fittingsOf(layout);
  const views = new Map<Side, View>();
  return fittings.filter(isStorage).flatMap((fitting) => {
    const position = positionAt(fitting.wall, closet);
    if (!position) return [];
    const view = memo(views, position.faces, () => viewOf(position, fittings, layout.fixtures, closet));
    const box = view.boxes.get(fitting);
    if (!box) return [];
    return [new Glance(fitting, () => attemptsAt(fitting, box, reaches, position, view))];
  });
}

class Glance implements Seen {
  readonly fitting: Storage;
  private readonly look: () => readonly Attempt[];
  private made: readonly Attempt[] | undefined;

  constructor(fitting: Storage, look: () => readonly Attempt[]) {
    this.fitting = fitting;
    this.look = look;
  }

  get attempts(): readonly Attempt[] {
    this.made ??= this.look();
    return this.made;
  }

  get within(): boolean {
    return this.attempts.some((one) => one.within);
  }

  get length(): Ticks {
    return greatest(NONE, ...this.attempts.map(({ length }) => length));
  }
}

function attemptsAt(
  fitting: Storage,
  box: Box,
  reaches: readonly AskedReach[],
  position: Position,
  view: View,
): Attempt[] {
  const others = view.column(box.x).filter((other) => other !== box && other.y[1] > box.y[1]);
  const usable = usableOf(reaches, position);
  return heightsOf(fitting).flatMap((height) => {
    const all = stretches(box, height, others, position.stand, view.floor);
    return reaches.map((reach) => attempt(reach, height, all, usable.includes(reach)));
  });
}

/**
 * The reaches that the floor gives room for. Where the floor before an opening has room for none, that
 * is a finding of its own, and reach is looked at as if it had.
 */
function usableOf(reaches: readonly AskedReach[], { approaches, stand }: Position): readonly AskedReach[] {
  const usable = reaches.filter(({ approach }) => approaches?.includes(approach) ?? true);
  return usable.length === 0 && stand.line !== undefined ? reaches : usable;
}

function attempt({ approach, table }: AskedReach, height: Ticks, all: readonly Stretch[], usable: boolean): Attempt {
  const none = (bar: Attempt['bar']): Attempt => ({
    approach,
    table,
    height,
    best: undefined,
    bar,
    within: false,
    length: NONE,
  });
  if (!usable) return none('no floor');
  if (all.length === 0) return none('aside');
  const best = bestOf(table, all, height);
  if (!best) return none('hidden');
  const length = lengthWithin(table, all, height);
  return { approach, table, height, best, bar: undefined, within: best.reached === 'within', length };
}

/** How far an attempt is from succeeding: what only stands too high or low comes before what nothing of can be reached. */
export function missedBy({ best, height, within }: Attempt): number {
  if (within) return 0;
  if (best?.answer.kind !== 'range') return Number.MAX_SAFE_INTEGER;
  const { lowest, highest } = best.answer;
  return lowest > highest ? Number.MAX_SAFE_INTEGER - 1 : Math.max(height - highest, lowest - height);
}

/** The attempt that came nearest. */
export function nearestOf(attempts: readonly Attempt[]): Attempt | undefined {
  return [...attempts].sort((a, b) => missedBy(a) - missedBy(b))[0];
}

/** Every number on the way, in the order in which they come about. */
export function workingOf({ best, table }: Attempt, show: Show): Working[] {
  const length = (amount: Ticks) => showLength(amount, show);
  const asked = { what: 'highest, with nothing in the way', value: length(table.highest), how: 'policy' };
  if (!best) return [asked];
  const { reaching, answer } = best;
  const lines: Working[] = [
    asked,
    { what: 'reach depth', value: length(reaching.depth), how: 'from the edge of the clear floor to the front of it' },
  ];
  if (reaching.over) lines.push({ what: 'height of what is passed over', value: length(reaching.over.height) });
  if (table.over.floorBeneath) lines.push({ what: 'clear floor beneath', value: length(reaching.floorBeneath) });
  if (answer.kind === 'range') {
    lines.push({ what: 'lowest', value: length(answer.lowest) }, { what: 'highest', value: length(answer.highest) });
  }
  lines.push({ what: 'compared with', value: sourceLine(answer.source).replace(/^source: /, '') });
  return lines;
}

/** The number that decided, as it is compared. */
export function comparisonOf({ approach, best, height }: Attempt, fitting: Storage): Comparison {
  const name = nameOf(fitting);
  if (!best) {
    const what = `stretches of ${name} that a ${approach} reach can get at`;
    return { what, measured: { count: 0 }, relation: 'at least', limit: { count: 1 } };
  }
  const { answer } = best;
  if (answer.kind === 'none') {
    const { hindrance, measured, relation, limit } = answer;
    return {
      what: `${hindrance} on the way to ${name}`,
      measured: { ticks: measured },
      relation,
      limit: { ticks: limit },
    };
  }
  const low = height < answer.lowest;
  return {
    what: `height of ${name} for a ${approach} reach`,
    measured: { ticks: height },
    relation: low ? 'at least' : 'at most',
    limit: { ticks: low ? answer.lowest : answer.highest },
  };
}

/** Why it is not within reach, as a clause: `a side reach 11-1/2in deep, in over the floor, goes from 15in to 46in`. */
export function whyNot({ approach, best, bar }: Attempt, position: Position | undefined, show: Show): string {
  const length = (amount: Ticks) => showLength(amount, show);
  if (!best) {
    if (bar === 'aside') return 'no part of it lies straight before where a person can be';
    if (bar === 'hidden') return 'something stands in front of it';
    const floor = position?.floor;
    return floor
      ? `the floor before it, ${length(floor.width)} by ${length(floor.depth)}, has no room for a wheelchair there`
      : 'the floor before it has no room for a wheelchair there';
  }
  const { answer, reaching } = best;
  const depth = length(reaching.depth);
  if (answer.kind === 'range') {
    const past = reaching.over
      ? `, over what is ${length(reaching.over.height)} high,`
      : ', in over the floor of the closet,';
    const how = answer.obstructed ? ` ${depth} deep${past}` : ' with nothing in the way';
    return `a ${approach} reach${how} goes from ${length(answer.lowest)} to ${length(answer.highest)}`;
  }
  const [measured, limit] = [length(answer.measured), length(answer.limit)];
  switch (answer.hindrance) {
    case 'reach depth':
      return `a ${approach} reach is ${limit} deep at most, and this one is ${measured}`;
    case 'clear floor beneath':
      return `a forward reach ${limit} deep needs as much clear floor beneath, and there is ${measured}`;
    case 'height of the obstruction':
      return `a ${approach} reach passes over what is ${limit} high at most, and here it is ${measured}`;
    case 'depth of the obstruction':
      return `a ${approach} reach passes over what is ${limit} deep at most, and here it is ${measured}`;
  }
}

/** By how much it has to be moved to be within the range; undefined where moving it up or down does not help. */
export function moveOf({
  best,
  height,
}: Attempt): { readonly to: Ticks; readonly by: Ticks; readonly up: boolean } | undefined {
  if (best?.answer.kind !== 'range' || best.answer.lowest > best.answer.highest) return undefined;
  const { lowest, highest } = best.answer;
  if (height > highest) return { to: highest, by: subtract(height, highest), up: false };
  return height < lowest ? { to: lowest, by: subtract(lowest, height), up: true } : undefined;
}
