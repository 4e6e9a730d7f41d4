/** The nearest length that passes, written in place of the one in the text. */
import type { NumberLiteral, Statement } from '../../../grammar/tree.ts';
import { writeInstead, writtenLength } from '../../model/closing.ts';
import type { Fix } from '../../model/finding.ts';
import type { FittingLayout, OpeningLayout } from '../../model/layout.ts';
import type { Show } from '../../model/show.ts';
import { inches, millimetres, roundDown, roundUp, type Ticks } from '../../model/ticks.ts';

/** As a tape shows it. */
const inchGrid = inches(1 / 8);
const metricGrid = millimetres(1);

export type Towards = 'down' | 'up';

/** `word` of the fitting's own block, where it is written as `length` plainly: as near to `wanted` as a tape shows, on the side given. */
export function writeLength(
  { place }: FittingLayout,
  word: string,
  length: Ticks,
  wanted: Ticks,
  towards: Towards,
  show: Show,
): Fix[] {
  const stated = statementOf(place.statement, word);
  return stated ? writeIn(stated, length, wanted, towards, show) : [];
}

export function statementOf(fitting: Statement, word: string): Statement | undefined {
  return fitting.block?.children.findLast((s) => s.word.text === word);
}

export function writeIn(statement: Statement, length: Ticks, wanted: Ticks, towards: Towards, show: Show): Fix[] {
  const number = onlyLength(statement);
  const written = number && writtenLength(number);
  if (!number || written?.length !== length) return [];
  const grid = written.metric ? metricGrid : inchGrid;
  const fix = writeInstead(
    statement,
    number,
    towards === 'down' ? roundDown(wanted, grid) : roundUp(wanted, grid),
    show,
  );
  return fix ? [fix] : [];
}

/** The leaf swings the other way: made by hand, since somebody has to see that there is room for it outside. */
export function swungOut({ leaf }: OpeningLayout): Fix[] {
  const { statement } = leaf.place;
  const way = statement.items.flatMap((i) => (i.kind === 'path' ? i.words : [])).find((w) => w.text === 'in');
  if (statement.word.text !== 'swing' || !way) return [];
  const place = { statement, start: way.start, end: way.end };
  return [{ title: 'Write swing out instead of swing in', edits: [{ place, text: 'out' }], byHand: true }];
}

/** The one length of a statement, written as a number. */
function onlyLength({ items }: Statement): NumberLiteral | undefined {
  const numbers = items.filter((i) => i.kind === 'number');
  return numbers.length === 1 && items.every((i) => i.kind === 'number' || i.kind === 'path') ? numbers[0] : undefined;
}
