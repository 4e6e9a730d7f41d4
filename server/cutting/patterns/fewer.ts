/**
 * Fewer ways to cut, and then fewer settings of the stop, at the same cost: the same pieces from the same boards, with
 * no less kept for the rack. Few ways at a time are cut anew (recut.ts), as long as that helps and work is left.
 * Every step is a plan by itself, so it can be left at any time; the same boards give the same steps.
 */
import type { Boards } from '../pack.ts';
import type { SawLimits } from '../types.ts';
import { inOrder, settingsOf } from './order.ts';
import { type Bench, recut, type Work } from './recut.ts';

/** Steps of backtracking, without a limit and to get under one. */
const WORK = 1.5e5;
const MORE = 1e7;
/** Steps between two moments at which it can be left. */
const TURN = 20_000;
/** Of so many of the ways that are used least, all choices are looked at. */
const WIDTH: Readonly<Record<number, number>> = { 2: 400, 3: 60, 4: 26, 5: 14, 6: 12 };

/** So many ways in so many fewer. */
interface Move {
  readonly size: number;
  readonly less: number;
}

const MOVES: readonly Move[] = [
  { size: 2, less: 1 },
  { size: 3, less: 1 },
  { size: 2, less: 0 },
  { size: 4, less: 1 },
  { size: 3, less: 0 },
  { size: 5, less: 1 },
  { size: 6, less: 1 },
];

/** Numbers of ways stay below this: four of them make one number that is exact. */
const KEY = 8000;

/** A way to cut with a number of its own. */
interface Way {
  readonly id: number;
  readonly boards: Boards;
}

/** Yields better and better boards; nothing where it only gives way. */
export function* fewerPatterns(
  boards: readonly Boards[],
  bench: Bench,
  limits: SawLimits = {},
): Generator<readonly Boards[] | undefined> {
  let count = 0;
  let ways = joined(boards)
    .map((boards): Way => ({ id: count++, boards }))
    .sort(compareWays);
  let settings = settingsOf(inOrder(ways.map((way) => way.boards)));
  const isOver = () => ways.length > (limits.patterns ?? Infinity) || settings > (limits.stopSettings ?? Infinity);
  // Fewer ways may take a setting more where the stop does not stand right any more, unless settings are limited.
  const mostSettings = () => (limits.stopSettings === undefined ? Infinity : Math.max(limits.stopSettings, settings));
  const work: Work = { left: isOver() ? MORE : WORK };
  const failed = new Set<number>();
  /** For each move: ways of which all choices have been tried. */
  const tried = MOVES.map(() => new Set<number>());
  for (let at = 0; at < MOVES.length && work.left > 0 && count < KEY - 8; ) {
    const move = MOVES[at] as Move;
    const old = tried[at] as Set<number>;
    let better = false;
    let turn = work.left - TURN;
    for (const group of groupsOf(ways, move.size, old)) {
      better = attempt(group, move);
      if (better || work.left <= 0) break;
      if (work.left < turn) {
        yield undefined;
        turn = work.left - TURN;
      }
    }
    if (better) {
      yield ways.map((way) => way.boards);
      if (!isOver()) work.left = Math.min(work.left, WORK);
      at = 0;
    } else {
      for (const { id } of ways.slice(0, WIDTH[move.size])) old.add(id);
      at++;
    }
  }

  function attempt(group: readonly Way[], { less }: Move): boolean {
    work.left -= 5;
    if (group.length <= 4) {
      const key = group.reduce((sum, { id }) => sum * KEY + id, less);
      if (failed.has(key)) return false;
      failed.add(key);
    }
    const own = group.map((way) => way.boards);
    if (!mayDo(own, less)) return false;
    const lengths = own.reduce((sum, { parts }) => sum + parts.length, 0) - (less === 0 ? 1 : 0);
    const found = recut(own, bench, { ways: group.length - less, lengths }, work);
    if (!found) return false;
    const others = ways.filter((way) => !group.includes(way));
    const next = [...others];
    for (const each of found) {
      const known = next.findIndex((way) => isAlike(way.boards, each));
      const times = each.times + (next[known]?.boards.times ?? 0);
      next.splice(known < 0 ? next.length : known, 1, { id: count++, boards: { ...each, times } });
    }
    next.sort(compareWays);
    const stops = settingsOf(inOrder(next.map((way) => way.boards)));
    if (next.length < ways.length ? stops > mostSettings() : stops >= settings) return false;
    ways = next;
    settings = stops;
    return true;
  }
}

/** Whether it can help to cut these anew. */
function mayDo(group: readonly Boards[], less: number): boolean {
  const kinds = new Set(group.map(({ kind }) => kind)).size;
  if (kinds > group.length - less) return false;
  if (less > 0) return true;
  const lengths = new Set(group.flatMap(({ parts }) => parts.map(([size]) => size))).size;
  return lengths < group.reduce((sum, { parts }) => sum + parts.length, 0);
}

/** Boards that are cut alike together, and their parts in order. */
function joined(boards: readonly Boards[]): Boards[] {
  const alike = new Map<string, Boards>();
  for (const board of boards) {
    const parts = [...board.parts].sort((a, b) => a[0] - b[0]);
    const key = `${board.kind} ${parts.join(' ')}`;
    const times = board.times + (alike.get(key)?.times ?? 0);
    alike.set(key, { ...board, times, parts });
  }
  return [...alike.values()];
}

function isAlike(a: Boards, b: Boards): boolean {
  return a.kind === b.kind && a.parts.join(' ') === b.parts.join(' ');
}

/** Those used least first, as they are the easiest to do without; the rest only has to be the same every time. */
function compareWays({ boards: a }: Way, { boards: b }: Way): number {
  if (a.times !== b.times || a.kind !== b.kind) return a.times - b.times || a.kind - b.kind;
  for (let index = 0; index < a.parts.length; index++) {
    const [one, two] = [a.parts[index] as Boards['parts'][number], b.parts[index]];
    if (!two) return 1;
    if (one[0] !== two[0] || one[1] !== two[1]) return one[0] - two[0] || one[1] - two[1];
  }
  return a.parts.length - b.parts.length;
}

/** Every choice of so many ways, not all of them old; those with the first ways first. One list, filled anew. */
function* groupsOf(all: readonly Way[], size: number, old: ReadonlySet<number>): Generator<readonly Way[]> {
  const ways = all.slice(0, WIDTH[size]);
  const chosen: Way[] = [];
  const choose = function* (before: number, open: number, isOld: boolean): Generator<readonly Way[]> {
    if (open === 0) {
      if (!isOld) yield chosen;
      return;
    }
    for (let place = open - 1; place < before; place++) {
      const way = ways[place] as Way;
      chosen.push(way);
      yield* choose(place, open - 1, isOld && old.has(way.id));
      chosen.pop();
    }
  };
  yield* choose(ways.length, size, true);
}
