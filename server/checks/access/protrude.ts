/** What sticks out into the way of somebody who walks with a cane: found with the foot only when it is low. */
import { inches, subtract, type Ticks } from '../../model/ticks.ts';
import { ada } from './sources.ts';

export const protruding = {
  /** Leading edges above this and up to `headroom` are out of reach of a cane. */
  cane: inches(27),
  headroom: inches(80),
  fromWall: inches(4),
  source: ada('307.2, protruding objects'),
} as const;

export interface Protruding {
  /** Height of the leading edge, at its lowest. */
  readonly edge: Ticks;
  /** How far it reaches out into the way. */
  readonly out: Ticks;
}

/** By how much what hangs on a wall reaches out too far; undefined where it does not. What is exactly 27 in high still counts as low. */
export function protrudesBy({ edge, out }: Protruding, most: Ticks = protruding.fromWall): Ticks | undefined {
  if (edge <= protruding.cane || edge > protruding.headroom) return undefined;
  return out > most ? subtract(out, most) : undefined;
}
