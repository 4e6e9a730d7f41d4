/** The nearest height at which something is within reach, where its height is written plainly. */
import { writeInstead, writtenLength } from '../../model/closing.ts';
import type { Fix } from '../../model/finding.ts';
import type { FittingLayout } from '../../model/layout.ts';
import { add, inches, millimetres, roundDown, roundUp, subtract, type Ticks } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import { lowered } from '../hanging-fixes.ts';
import { roomOf } from '../room.ts';
import type { Storage } from './seen.ts';

/** A rod is lowered only as far as what hangs on it hangs clear. */
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

/** `at 58in`, on the grid of a tape. */
function written(fitting: FittingLayout, { by, up }: { by: Ticks; up: boolean }, { show }: CheckInput): Fix[] {
  const { statement } = fitting.atPlace;
  const [item, ...others] = statement.items;
  if (statement.word.text !== 'at' || item?.kind !== 'number' || others.length > 0) return [];
  const stated = writtenLength(item);
  if (stated?.length !== fitting.at.value) return [];
  const grid = stated.metric ? millimetres(1) : inches(1 / 8);
  const height = up ? roundUp(add(fitting.at.value, by), grid) : roundDown(subtract(fitting.at.value, by), grid);
  const fix = writeInstead(statement, item, height, show);
  return fix ? [fix] : [];
}
