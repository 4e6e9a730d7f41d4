/** What of the storage has to be within reach: one of each kind, or a share. Never all of it. */
import type { RuleSource } from '../../model/rule.ts';
import { inches, type Ticks, ticks } from '../../model/ticks.ts';
import { ada, adaQuoted, portionText } from './sources.ts';

/** Storage has clear floor before it, is within one of the reaches, and its handles need no tight grip. */
export const storageSource = ada('811.2 to 811.4, storage');

export const oneOfEachSource = adaQuoted('225.2, at least one of each type of storage', 'ada-compliance.com');

export const portionSource: RuleSource = portionText;

export const lockerSource = adaQuoted('225.2.1, lockers', 'ada-compliance.com');

/** Of lockers, one in twenty, and never fewer than one where there are any. */
export function lockersNeeded(lockers: number): number {
  return Math.ceil(lockers / 20);
}

/** A kind of storage, and whether each one of it is within reach. */
export interface KindOfStorage<T> {
  readonly kind: string;
  readonly things: readonly { readonly thing: T; readonly within: boolean }[];
}

/** The kinds of which there are some and none is within reach. */
export function noneWithinReach<T>(kinds: readonly KindOfStorage<T>[]): KindOfStorage<T>[] {
  return kinds.filter(({ things }) => things.length > 0 && !things.some(({ within }) => within));
}

export const halfOfShelves = { numerator: 1, denominator: 2, source: ada('804.5, storage in kitchens') } as const;

/** Lengths of shelf, each with whether it is within reach. No shelves ask for nothing. */
export function shareWithin(shelves: readonly { readonly space: Ticks; readonly within: boolean }[]): {
  readonly within: Ticks;
  readonly all: Ticks;
  readonly enough: boolean;
} {
  let within = 0;
  let all = 0;
  for (const shelf of shelves) {
    all += shelf.space;
    if (shelf.within) within += shelf.space;
  }
  const { numerator, denominator } = halfOfShelves;
  return { within: ticks(within), all: ticks(all), enough: within * denominator >= all * numerator };
}

/** In dressing, fitting and locker rooms: hooks within a reach, and a shelf at these heights. */
export const dressingShelf = {
  lowest: inches(40),
  highest: inches(48),
  source: ada('803.5, coat hooks and shelves'),
} as const;

export const operation = {
  /** Newtons: 5 pounds of force. */
  force: 22.2,
  source: ada('309.4, operable parts'),
} as const;

export interface Handle {
  /** What the hand has to do, as far as it is known. */
  readonly needs: readonly ('one hand' | 'two hands' | 'tight grasp' | 'pinch' | 'twist')[];
  /** Newtons. */
  readonly force?: number;
}

/** What is wrong with a pull, knob or latch for a hand that cannot grip; empty where nothing is known to be. */
export function handleFaults({ needs, force }: Handle): string[] {
  const faults = needs
    .filter((need) => need !== 'one hand')
    .map((need) => `needs ${need === 'two hands' ? need : `a ${need}`}`);
  if (force !== undefined && force > operation.force) faults.push(`takes ${force} N, more than ${operation.force} N`);
  return faults;
}
