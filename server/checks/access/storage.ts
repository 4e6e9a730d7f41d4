/** What of the storage has to be within reach: one of each kind, or a share. Never all of it. */
import type { Pull } from '../../model/layout.ts';
import type { RuleSource } from '../../model/rule.ts';
import { type Ticks, ticks } from '../../model/ticks.ts';
import { ada, adaQuoted, portionText } from './sources.ts';

/** Storage has clear floor before it, is within one of the reaches, and its handles need no tight grip. */
export const storageSource = ada('811.2 to 811.4, storage');

export const oneOfEachSource = adaQuoted('225.2, at least one of each type of storage', 'ada-compliance.com');

export const portionSource: RuleSource = portionText;

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

export const operation = {
  /** Newtons: 5 pounds of force. */
  force: 22.2,
  source: ada('309.4, operable parts'),
} as const;

/**
 * What a hand has to do, of what the text bars: one hand, without a tight grasp, a pinch or a twist of the wrist.
 * The text names no kinds of pull: common practice, no source.
 */
export const asksOfHand: Readonly<Record<Pull['kind'], string | undefined>> = {
  bar: undefined,
  loop: undefined,
  edge: undefined,
  knob: 'a tight grasp, and a twist where it works a latch',
};
