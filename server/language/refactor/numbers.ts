/** The numbers of a statement, with where they stand, expressions included. */
import type { Expression, Item, NumberLiteral, Statement } from '../../../grammar/tree.ts';
import { type Located, touches } from '../locate.ts';

export function* numbersOf({ items }: Statement): Generator<NumberLiteral> {
  for (const item of items) yield* numbersIn(item);
}

export function numberAt({ statement, within }: Located): NumberLiteral | undefined {
  return [...numbersOf(statement)].find((number) => touches(number, within));
}

function* numbersIn(item: Item | Expression): Generator<NumberLiteral> {
  switch (item.kind) {
    case 'number':
      yield item;
      break;
    case 'binary':
      yield* numbersIn(item.left);
      yield* numbersIn(item.right);
      break;
    case 'negation':
      yield* numbersIn(item.operand);
      break;
    case 'group':
      yield* numbersIn(item.inner);
      break;
    case 'call':
      for (const argument of item.args) yield* numbersIn(argument);
      break;
    default:
      break;
  }
}
