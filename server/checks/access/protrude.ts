/** What sticks out into the way of somebody who walks with a cane: found with the foot only when it is low. */
import { inches, subtract, type Ticks } from '../../model/ticks.ts';
import { ada } from './sources.ts';

export const protruding = {
  /** Leading edges above this and up to `headroom` are out of reach of a cane. */
  cane: inches(27),
  headroom: inches(80),
  fromWall: inches(4),
  fromPost: inches(12),
  source: ada('307.2 to 307.4, protruding objects'),
} as const;

export interface Protruding {
  /** Height of the leading edge, at its lowest. */
  readonly edge: Ticks;
  /** How far it reaches out into the way. */
  readonly out: Ticks;
  readonly mounted: 'wall' | 'post';
}

/** By how much it reaches out too far; undefined where it does not. `fromWall` is the limit for what hangs on a wall. */
export function protrudesBy(
  { edge, out, mounted }: Protruding,
  fromWall: Ticks = protruding.fromWall,
): Ticks | undefined {
  // On a wall what is exactly 27 in high still counts as low; on posts it does not. Both as published.
  const isLow = mounted === 'wall' ? edge <= protruding.cane : edge < protruding.cane;
  if (isLow || edge > protruding.headroom) return undefined;
  const most = mounted === 'wall' ? fromWall : protruding.fromPost;
  return out > most ? subtract(out, most) : undefined;
}

/** What hangs over a way has to leave this much height. */
export function headroomLacks(underside: Ticks): Ticks | undefined {
  return underside < protruding.headroom ? subtract(protruding.headroom, underside) : undefined;
}
