/** Openings and doors of closets that are accessible: how wide, how much floor before them, where the hardware sits. */
import type { RuleSource } from '../../model/rule.ts';
import { add, inches, NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { ada, passageText, typeBText, ufas } from './sources.ts';

/** Doors that nobody passes through, of most reach-in closets and of cupboards, are free of what follows for doorways. */
export const passageSource = passageText;

export const doorway = {
  wide: inches(32),
  /** Through what is deeper than this, `wideDeep`. */
  deep: inches(24),
  wideDeep: inches(36),
  /** What the stop on the latch side may take off the clear width in alterations. */
  stop: inches(5 / 8),
  high: inches(80),
  /** Under a closer or a stop. */
  highAtCloser: inches(78),
  source: ada('404.2.3, clear width of doorways'),
} as const;

export interface DoorwayGiven {
  /** How deep the opening is: thickness of the wall with its casing. */
  readonly depth: Ticks;
  readonly alteration?: boolean;
}

/** The clear width that a doorway needs where people pass through it. */
export function doorwayWidth({ depth, alteration = false }: DoorwayGiven): Ticks {
  const wide = depth > doorway.deep ? doorway.wideDeep : doorway.wide;
  return alteration ? subtract(wide, doorway.stop) : wide;
}

/** A closet so shallow that nobody enters: the older federal standard lets its opening be this narrow. */
export const shallowDoor = {
  wide: inches(20),
  source: ufas('4.13.5 exception, doors not requiring full passage'),
} as const;

/** Advice for dwellings: a closet deeper than this has a door as wide as that, or shelves within the side reach. */
export const typeBDoor = { deeperThan: inches(24), wide: inches(32), source: typeBText } as const;

export function needsTypeBAdvice(closet: { depth: Ticks; door: Ticks; shelvedWithinSideReach: boolean }): boolean {
  return closet.depth > typeBDoor.deeperThan && closet.door < typeBDoor.wide && !closet.shelvedWithinSideReach;
}

export const doorHardware = {
  lowest: inches(34),
  highest: inches(48),
  threshold: inches(0.5),
  source: ada('404.2.7 and 404.2.5, door hardware and thresholds'),
} as const;

/** Free floor before a door: out from it, and beyond its latch side, or its hinge side where that is said. */
export interface Clearance {
  readonly out: Ticks;
  readonly beyond: Ticks;
  readonly side: 'latch' | 'hinge';
}

export interface SwingRow {
  readonly from: 'front' | 'hinge' | 'latch';
  readonly door: 'pull' | 'push';
  /** Any one of them will do. */
  readonly either: readonly Clearance[];
  /** What comes on top where there is a closer (and a latch, where `andLatch`). */
  readonly closer: { readonly andLatch: boolean; readonly out: Ticks; readonly beyond: Ticks } | undefined;
}

const latch = (out: number, beyond: number): Clearance => ({ out: inches(out), beyond: inches(beyond), side: 'latch' });
const hinge = (out: number, beyond: number): Clearance => ({ out: inches(out), beyond: inches(beyond), side: 'hinge' });
const extra = (out: number, beyond: number, andLatch: boolean): SwingRow['closer'] => ({
  andLatch,
  out: inches(out),
  beyond: inches(beyond),
});

export const swingSource: RuleSource = ada('table 404.2.4.1, manoeuvring clearances at swinging doors');

/** The table itself, not the description of its figure, which asks for a latch too where the table does not. */
export const swingRows: readonly SwingRow[] = [
  { from: 'front', door: 'pull', either: [latch(60, 18)], closer: undefined },
  { from: 'front', door: 'push', either: [latch(48, 0)], closer: extra(0, 12, true) },
  { from: 'hinge', door: 'pull', either: [latch(60, 36), latch(54, 42)], closer: undefined },
  { from: 'hinge', door: 'push', either: [hinge(42, 22)], closer: extra(6, 0, true) },
  { from: 'latch', door: 'pull', either: [latch(48, 24)], closer: extra(6, 0, false) },
  { from: 'latch', door: 'push', either: [latch(42, 24)], closer: extra(6, 0, false) },
];

export interface SwingGiven {
  readonly from: SwingRow['from'];
  readonly door: SwingRow['door'];
  readonly closer?: boolean;
  readonly latch?: boolean;
}

export function swingClearances(given: SwingGiven): readonly Clearance[] {
  const row = swingRows.find(({ from, door }) => from === given.from && door === given.door);
  if (!row) return [];
  const { closer } = row;
  const adds = closer && given.closer && (!closer.andLatch || given.latch);
  if (!adds) return row.either;
  return row.either.map(({ out, beyond, side }) => ({
    out: add(out, closer.out),
    beyond: add(beyond, closer.beyond),
    side,
  }));
}

export interface SlideRow {
  /** `side`: from either side of a doorway that has no door. */
  readonly from: 'front' | 'side' | 'pocket or hinge' | 'stop or latch';
  readonly clearance: Clearance;
}

export const slideSource: RuleSource = ada(
  'table 404.2.4.2, manoeuvring clearances without doors, at sliding and folding doors',
);

/** Openings as wide as this or wider need none of the clearances of the table below. */
export const slideNarrowerThan = inches(36);

export const slideRows: readonly SlideRow[] = [
  { from: 'front', clearance: latch(48, 0) },
  { from: 'side', clearance: latch(42, 0) },
  { from: 'pocket or hinge', clearance: hinge(42, 22) },
  { from: 'stop or latch', clearance: latch(42, 24) },
];

/** Undefined where the opening is wide enough to need none. */
export function slideClearance(from: SlideRow['from'], opening: Ticks): Clearance | undefined {
  if (opening >= slideNarrowerThan) return undefined;
  return slideRows.find((row) => row.from === from)?.clearance;
}

export interface FreeFloor {
  readonly out: Ticks;
  readonly beyondLatch: Ticks;
  readonly beyondHinge: Ticks;
}

/** What the floor lacks of the clearance that it lacks least of; both NONE where one of them fits. Undefined where none is asked for. */
export function floorLacks(either: readonly Clearance[], free: FreeFloor): { out: Ticks; beyond: Ticks } | undefined {
  const lacks = either.map(({ out, beyond, side }) => {
    const has = side === 'latch' ? free.beyondLatch : free.beyondHinge;
    const short = (needed: Ticks, given: Ticks): Ticks => (given < needed ? subtract(needed, given) : NONE);
    return { out: short(out, free.out), beyond: short(beyond, has) };
  });
  return lacks.sort((a, b) => a.out + a.beyond - (b.out + b.beyond))[0];
}
