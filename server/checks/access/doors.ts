/** Openings and doors of closets that are accessible: how wide, how much floor before them, where their pulls sit. */
import type { RuleSource } from '../../model/rule.ts';
import { inches, NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { ada, passageText, typeBText, ufas } from './sources.ts';

/** Doors that nobody passes through, of most reach-in closets and of cupboards, are free of what follows for doorways. */
export const passageSource = passageText;

export const doorway = {
  wide: inches(32),
  source: ada('404.2.3, clear width of doorways'),
} as const;

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
  source: ada('404.2.7, door hardware'),
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
}

const latch = (out: number, beyond: number): Clearance => ({ out: inches(out), beyond: inches(beyond), side: 'latch' });
const hinge = (out: number, beyond: number): Clearance => ({ out: inches(out), beyond: inches(beyond), side: 'hinge' });
export const swingSource: RuleSource = ada('table 404.2.4.1, manoeuvring clearances at swinging doors');

/** The table itself, not the description of its figure, which asks for a latch too where the table does not. */
export const swingRows: readonly SwingRow[] = [
  { from: 'front', door: 'pull', either: [latch(60, 18)] },
  { from: 'front', door: 'push', either: [latch(48, 0)] },
  { from: 'hinge', door: 'pull', either: [latch(60, 36), latch(54, 42)] },
  { from: 'hinge', door: 'push', either: [hinge(42, 22)] },
  { from: 'latch', door: 'pull', either: [latch(48, 24)] },
  { from: 'latch', door: 'push', either: [latch(42, 24)] },
];

export function swingClearances(from: SwingRow['from'], door: SwingRow['door']): readonly Clearance[] {
  return swingRows.find((row) => row.from === from && row.door === door)?.either ?? [];
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

export interface Lacks {
  readonly row: Clearance;
  readonly out: Ticks;
  readonly beyond: Ticks;
}

/** What the floor lacks of the clearance that it lacks least of; both NONE where one of them fits. Undefined where none is asked for. */
export function floorLacks(either: readonly Clearance[], free: FreeFloor): Lacks | undefined {
  const lacks = either.map((row): Lacks => {
    const has = row.side === 'latch' ? free.beyondLatch : free.beyondHinge;
    const short = (needed: Ticks, given: Ticks): Ticks => (given < needed ? subtract(needed, given) : NONE);
    return { row, out: short(row.out, free.out), beyond: short(row.beyond, has) };
  });
  return lacks.sort((a, b) => a.out + a.beyond - (b.out + b.beyond))[0];
}
