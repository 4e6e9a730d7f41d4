/** How high and how low children reach, by age. The table is advice in the standards themselves and is never more here. */
import { inches, type Ticks } from '../../model/ticks.ts';
import type { Reached } from './reach.ts';
import { ada } from './sources.ts';

export interface ChildReach {
  /** Whole years, both included. */
  readonly ages: readonly [from: number, to: number];
  readonly lowest: Ticks;
  readonly highest: Ticks;
}

export const childSource = ada("advisory 308.1, children's reach ranges; not a requirement");

export const childReaches: readonly ChildReach[] = [
  { ages: [3, 4], lowest: inches(20), highest: inches(36) },
  { ages: [5, 8], lowest: inches(18), highest: inches(40) },
  { ages: [9, 12], lowest: inches(16), highest: inches(44) },
];

/** Undefined for an age that the table does not have. A child of eight and a half is eight. */
export function childReach(age: number): ChildReach | undefined {
  const years = Math.floor(age);
  return childReaches.find(({ ages: [from, to] }) => from <= years && years <= to);
}

export function childReached({ lowest, highest }: ChildReach, height: Ticks): Reached {
  if (height > highest) return 'too high';
  return height < lowest ? 'too low' : 'within';
}
