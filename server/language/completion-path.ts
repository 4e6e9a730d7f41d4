/** The path or the number right at the cursor, in an item that may hold several. */

import type { Expression, Item, NumberLiteral, Path, Range, Statement } from '../../grammar/tree.ts';
import { isExpression } from '../model/phrase.ts';
import type { Cursor } from './cursor.ts';
import { touches } from './locate.ts';

export interface Begun {
  /** Where a path stands whose dot nothing is written behind yet. */
  readonly begun: Range | undefined;
  /** The item being typed: that of the path where one is begun. */
  readonly item: Item | undefined;
  readonly before: readonly Item[];
}

/** The item being typed and those before it: behind a dot, the path is still being written. */
export function begunPath({ trail, before, item, within }: Extract<Cursor, { kind: 'item' }>): Begun {
  const begun = item ? undefined : pathBegun(trail.at(-1) as Statement, before.at(-1), within);
  return begun ? { begun, item: before.at(-1), before: before.slice(0, -1) } : { begun, item, before };
}

/** `back.`: the dot is read as nothing, and belongs to the path that goes on behind it. */
function pathBegun(statement: Statement, last: Item | undefined, within: number): Range | undefined {
  if (!isExpression(last) || last.end !== within - 1 || statement.text[last.end] !== '.') return undefined;
  const e = lastOperand(last);
  return e.kind === 'path' ? { start: e.start, end: within } : undefined;
}

/** What ends an expression: `3` of `84in - 3`. */
export function lastOperand(e: Expression): Expression {
  if (e.kind === 'binary') return lastOperand(e.right);
  return e.kind === 'negation' ? lastOperand(e.operand) : e;
}

/** Where the unit of a number stands, or would stand, if the cursor is right there. */
export function numberBefore(e: Expression, within: number): Range | undefined {
  if (!touches(e, within)) return undefined;
  switch (e.kind) {
    case 'number': {
      const part = e.parts.find((p) => touches(p, within));
      if (!part) return undefined;
      if (part.unit) return touches(part.unit, within) ? part.unit : undefined;
      return part.end === within ? { start: within, end: within } : undefined;
    }
    default:
      return operandsOf(e)
        .map((o) => numberBefore(o, within))
        .find((r) => r !== undefined);
  }
}

/** The path or the number that the cursor touches: what is chosen takes its place. */
export function operandAt(e: Expression, within: number): Path | NumberLiteral | undefined {
  if (!touches(e, within)) return undefined;
  if (e.kind === 'path' || e.kind === 'number') return e;
  return operandsOf(e)
    .map((o) => operandAt(o, within))
    .find((p) => p !== undefined);
}

/** What an expression is put together of. */
export function operandsOf(e: Expression): readonly Expression[] {
  switch (e.kind) {
    case 'binary':
      return [e.left, e.right];
    case 'negation':
      return [e.operand];
    case 'group':
      return [e.inner];
    case 'call':
      return e.args;
    default:
      return [];
  }
}
