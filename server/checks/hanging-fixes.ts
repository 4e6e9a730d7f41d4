/**
 * Where a rod would have to be: the nearest height, or distance from the wall, at which what hangs on it
 * hangs clear all around. Offered where the length is written plainly, and none where no place would do.
 */
import type { NumberLiteral, Statement } from '../../grammar/tree.ts';
import { writeInstead, writtenLength } from '../model/closing.ts';
import type { Fix } from '../model/finding.ts';
import type { RodLayout } from '../model/layout.ts';
import { showLength } from '../model/show.ts';
import {
  add,
  greatest,
  inches,
  least,
  millimetres,
  NONE,
  roundDown,
  roundUp,
  subtract,
  type Ticks,
  ticks,
} from '../model/ticks.ts';
import type { CheckInput } from './check.ts';
import { limitOf } from './defaults.ts';
import { above, garmentsOf, underGarment, widthOf } from './hanging-reach.ts';
import { type Room, roomOf } from './room.ts';
import { half } from './say.ts';
import { depthBefore } from './swings/depth.ts';

/** What is offered is a multiple of this, as a tape shows it. */
const inchGrid = inches(1 / 8);
const metricGrid = millimetres(1);

interface Between {
  readonly least: Ticks;
  /** Undefined where nothing bounds it. */
  readonly most: Ticks | undefined;
}

/** Raises a rod until everything on it hangs clear. */
export function raised(rod: RodLayout, input: CheckInput, room: Room): Fix[] {
  const bounds = heightsOf(rod, input, room);
  return heightFix(rod, bounds, input, (grid) => roundUp(bounds.least, grid));
}

/** Lowers a rod to a height or below it. */
export function lowered(rod: RodLayout, most: Ticks, input: CheckInput, room: Room): Fix[] {
  const bounds = heightsOf(rod, input, room);
  const lower = bounds.most === undefined ? most : least(most, bounds.most);
  return heightFix(rod, { ...bounds, most: lower }, input, (grid) => roundDown(lower, grid));
}

/** Moves a rod out from the wall until every hanger has room behind it. */
export function movedOut(rod: RodLayout, input: CheckInput): Fix[] {
  const bounds = distancesOf(rod, input);
  return distanceFix(rod, bounds, input, (grid) => roundUp(bounds.least, grid));
}

/** Moves a rod towards the wall until nothing on it reaches past the front. */
export function movedBack(rod: RodLayout, input: CheckInput): Fix[] {
  const bounds = distancesOf(rod, input);
  const { most } = bounds;
  return most === undefined ? [] : distanceFix(rod, bounds, input, (grid) => roundDown(most, grid));
}

/** The heights at which garments, hangers and policies are content, as things stand around the rod. */
function heightsOf(rod: RodLayout, { layout, policy }: CheckInput, room: Room): Between {
  const clear = limitOf(policy, 'clear-below-garment').least ?? NONE;
  const asked = limitOf(policy, 'rod-height');
  const lowest = garmentsOf(rod).flatMap((garment) =>
    garment.hang === undefined ? [] : [add(underGarment(rod, garment, layout, room).top, clear, garment.hang)],
  );
  const over = above(rod, layout, room);
  const below = over && subtract(over.underside, limitOf(policy, 'clear-above-rod').least ?? NONE);
  const highest = [below, asked.most].filter((h) => h !== undefined);
  return {
    least: greatest(half(rod.diameter), asked.least ?? NONE, ...lowest),
    most: highest.length > 0 ? least(...highest) : undefined,
  };
}

/** The distances from the wall at which every hanger and garment has room behind it and in front of it. */
function distancesOf(rod: RodLayout, { layout, policy }: CheckInput): Between {
  const behind = limitOf(policy, 'clear-behind-hanger').least ?? NONE;
  const before = limitOf(policy, 'clear-before-hanger').least ?? NONE;
  const depth = depthBefore(rod, layout, roomOf(layout))?.depth;
  const nearest = garmentsOf(rod).flatMap(({ hanger }) => (hanger === undefined ? [] : [add(half(hanger), behind)]));
  const farthest = garmentsOf(rod).flatMap((garment) => {
    const width = widthOf(garment);
    return width === undefined || depth === undefined ? [] : [subtract(depth, add(half(width), before))];
  });
  return {
    least: greatest(half(rod.diameter), ...nearest),
    most: farthest.length > 0 ? least(...farthest) : undefined,
  };
}

type OnGrid = (grid: Ticks) => Ticks;

function fits(length: Ticks, bounds: Between): boolean {
  return length >= bounds.least && (bounds.most === undefined || length <= bounds.most);
}

/** The height is written, `at 58in`, or follows from another: `under high by 3in`, `above low by 40in`. */
function heightFix(rod: RodLayout, bounds: Between, { show }: CheckInput, wanted: OnGrid): Fix[] {
  const { statement } = rod.atPlace;
  const number = onlyLength(statement);
  const written = number && writtenLength(number);
  if (!number || !written) return [];
  const word = statement.word.text;
  const isOwn = word === 'at' && written.length === rod.at.value;
  if (!isOwn && !(['under', 'above'].includes(word) && isOnlyHeight(statement))) return [];
  const height = wanted(written.metric ? metricGrid : inchGrid);
  if (!fits(height, bounds)) return [];
  const up = height - rod.at.value;
  const length = isOwn ? height : ticks(written.length + (word === 'above' ? up : -up));
  const fix = writeInstead(statement, number, length, show);
  return fix ? [fix] : [];
}

/** Nothing else says how high the rod is, and `at least` leaves nothing open. */
function isOnlyHeight({ items, parent }: Statement): boolean {
  const others = parent.kind === 'statement' ? (parent.block?.children ?? []) : [];
  const heights = others.filter((s) => ['at', 'under', 'above'].includes(s.word.text));
  return heights.length === 1 && !items.some((i) => i.kind === 'path' && i.words[0]?.text === 'at');
}

function distanceFix(rod: RodLayout, bounds: Between, { show }: CheckInput, wanted: OnGrid): Fix[] {
  const { statement } = rod.fromWallPlace;
  if (statement.word.text === 'from') {
    const number = onlyLength(statement);
    const written = number && writtenLength(number);
    if (!number || written?.length !== rod.fromWall) return [];
    const distance = wanted(written.metric ? metricGrid : inchGrid);
    const fix = fits(distance, bounds) ? writeInstead(statement, number, distance, show) : undefined;
    return fix ? [fix] : [];
  }
  // Nothing is written, so it is 12in: what is wanted is written behind what is said of the rod.
  const last = statement.block?.children.at(-1);
  if (statement.word.text !== 'rod' || !last || last.block) return [];
  const distance = wanted(show.system === 'millimetres' ? metricGrid : inchGrid);
  const text = `from wall ${showLength(distance, show)}`;
  if (!fits(distance, bounds) || text.includes('~')) return [];
  const end = last.offset + last.head.end;
  return [{ title: `Write ${text}`, edits: [{ place: { statement, start: end, end }, text: `; ${text}` }] }];
}

/** The one length of a statement, written as a number. */
function onlyLength({ items }: Statement): NumberLiteral | undefined {
  const numbers = items.filter((i) => i.kind === 'number');
  return numbers.length === 1 && items.every((i) => i.kind === 'number' || i.kind === 'path') ? numbers[0] : undefined;
}
