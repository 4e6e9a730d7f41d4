/** The nearest height at which something is within reach, where its height is written plainly. */
import { writeInstead, writtenLength } from '../../model/closing.ts';
import type { Fix } from '../../model/finding.ts';
import type { FittingLayout, Layout } from '../../model/layout.ts';
import { add, inches, millimetres, roundDown, roundUp, subtract, type Ticks } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import { lowered } from '../hanging-fixes.ts';
import { roomOf } from '../room.ts';
import type { Storage } from './seen.ts';

/** A rod is lowered only as far as what hangs on it hangs clear, and nothing is moved past the ceiling or the floor. */
export function heightFixes(
  fitting: Storage,
  move: { readonly by: Ticks; readonly up: boolean },
  input: CheckInput,
): Fix[] {
  if (fitting.kind === 'rod' && !move.up) {
    return lowered(fitting, subtract(fitting.at.value, move.by), input, roomOf(input.layout));
  }
  return written(fitting, move, input);
}

/** Above a stretch of heights or below it, the nearer first: by hand, since what it moves is more than out of the way. */
export function clearOfHeights(fitting: FittingLayout, [low, high]: readonly [Ticks, Ticks], input: CheckInput): Fix[] {
  // A panel stands on the floor.
  if (fitting.kind === 'panel') return [];
  const [bottom, top] = fitting.box.z;
  return [
    { up: true, by: subtract(high, bottom) },
    { up: false, by: subtract(top, low) },
  ]
    .filter(({ by }) => by > 0)
    .sort((a, b) => a.by - b.by)
    .flatMap((move) => heightFixes(fitting, move, input))
    .map((fix) => ({ ...fix, byHand: true }));
}

/** `at 58in`, on the grid of a tape. */
function written(fitting: FittingLayout, { by, up }: { by: Ticks; up: boolean }, { layout, show }: CheckInput): Fix[] {
  const { statement } = fitting.atPlace;
  const [item, ...others] = statement.items;
  if (statement.word.text !== 'at' || item?.kind !== 'number' || others.length > 0) return [];
  const stated = writtenLength(item);
  if (stated?.length !== fitting.at.value) return [];
  const grid = stated.metric ? millimetres(1) : inches(1 / 8);
  const height = up ? roundUp(add(fitting.at.value, by), grid) : roundDown(subtract(fitting.at.value, by), grid);
  if (!isInside(fitting, subtract(height, fitting.at.value), layout)) return [];
  const fix = writeInstead(statement, item, height, show);
  return fix ? [fix] : [];
}

/** Whether it is between floor and ceiling once it has been moved up by so much, or down where that is below nought. */
function isInside({ wall, box: { z } }: FittingLayout, by: Ticks, { walls }: Layout): boolean {
  const ceiling = walls.find(({ name }) => name === wall)?.height;
  return add(z[0], by) >= 0 && (ceiling === undefined || add(z[1], by) <= ceiling);
}
