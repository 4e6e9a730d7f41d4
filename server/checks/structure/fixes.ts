/** The nearest lengths that pass, written in place of those that are written plainly. */
import type { NumberLiteral, Statement } from '../../../grammar/tree.ts';
import { writeInstead, writtenLength } from '../../model/closing.ts';
import type { Fix } from '../../model/finding.ts';
import type { RodLayout, ShelfLayout } from '../../model/layout.ts';
import { inches, millimetres, roundDown, roundUp, subtract, ticks } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import { downTicks, upTicks } from './amounts.ts';

export interface Nearest {
  /** m to take off the length; undefined where that would not do. */
  readonly shorterBy: number | undefined;
  /** Height of a front edge that there is, m. */
  readonly edge: number | undefined;
}

/** A narrower zone, where its width is one plain length; a higher edge, where there is one. */
export function sagFixes(fitting: ShelfLayout | RodLayout, { layout, show }: CheckInput, nearest: Nearest): Fix[] {
  const fixes: Fix[] = [];
  const zone = layout.zones.find((z) => z.fittings.includes(fitting));
  if (zone && nearest.shorterBy !== undefined) {
    const { statement } = zone.widthPlace;
    const number = onlyLength(statement);
    const written = number && writtenLength(number);
    if (number && written?.length === zone.width.value) {
      const grid = written.metric ? millimetres(1) : inches(1 / 8);
      const width = roundDown(subtract(zone.width.value, upTicks(nearest.shorterBy)), grid);
      const fix = writeInstead(statement, number, width, show);
      if (fix) fixes.push(fix);
    }
  }
  if (fitting.kind === 'shelf' && fitting.edge && nearest.edge !== undefined) {
    const { statement } = fitting.edge.place;
    const number = onlyLength(statement);
    const written = number && writtenLength(number);
    if (number && written?.length === fitting.edge.height) {
      const grid = written.metric ? millimetres(1) : inches(1 / 16);
      const fix = writeInstead(statement, number, roundUp(ticks(downTicks(nearest.edge)), grid), show);
      if (fix) fixes.push(fix);
    }
  }
  return fixes;
}

/** The one length of a statement; undefined where it has several, or one that is not plain. */
function onlyLength({ items }: Statement): NumberLiteral | undefined {
  const numbers = items.filter((item): item is NumberLiteral => item.kind === 'number');
  return numbers.length === 1 ? numbers[0] : undefined;
}
