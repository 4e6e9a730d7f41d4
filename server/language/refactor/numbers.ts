/** The numbers of a statement, with where they stand, expressions included. */
import { expressionsWithin, type NumberLiteral, type Statement } from '../../../grammar/tree.ts';
import { type Located, touches } from '../locate.ts';

export function* numbersOf({ items }: Statement): Generator<NumberLiteral> {
  for (const item of items) for (const part of expressionsWithin(item)) if (part.kind === 'number') yield part;
}

export function numberAt({ statement, within }: Located): NumberLiteral | undefined {
  return [...numbersOf(statement)].find((number) => touches(number, within));
}
