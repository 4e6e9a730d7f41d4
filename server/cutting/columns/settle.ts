/** From boards that hold about what is asked for to a packing that holds just that, on the cheapest boards. */
import { type Boards, firstFitPacking, type Packing, reduceBoards } from '../pack.ts';
import type { Content } from './master.ts';
import type { Space } from './space.ts';

/** Boards as a search makes them: how many are cut to a content. */
export interface Chosen extends Content {
  readonly times: number;
}

/**
 * What is still asked for beside a supply. A long piece too many stands in for the next shorter ones. With
 * it, how many of each size are too many even so.
 */
export function stillAsked(demand: ArrayLike<number>, supply: ArrayLike<number>): Float64Array {
  const open = new Float64Array(demand.length);
  let spare = 0;
  for (let size = 0; size < demand.length; size++) {
    const missing = (demand[size] as number) - (supply[size] as number);
    const covered = missing > 0 ? Math.min(spare, missing) : missing;
    spare -= covered;
    open[size] = missing - covered;
  }
  return open;
}

/**
 * A packing with just the pieces asked for. Pieces too many make room for shorter ones that are missing or
 * are left out; pieces missing go where there is room, then on further boards as far as there are any; in
 * the end each content goes on the cheapest board that holds it.
 */
export function settle(space: Space, chosen: readonly Chosen[]): Packing {
  const { sizes, kinds } = space;
  const supply = new Float64Array(sizes.length);
  for (const { parts, times } of chosen) {
    for (const [size, quantity] of parts) supply[size] = (supply[size] as number) + quantity * times;
  }
  const { changes, missing } = changesOf(space, supply);
  const boards = fillUp(space, change(space, chosen, changes), missing);
  if (!missing.some((count) => count > 0)) return reduceBoards({ boards, over: [...missing] }, sizes, kinds);

  const left = kinds.map(({ count }) => count);
  for (const { kind, times } of boards) left[kind] = (left[kind] as number) - times;
  const places = [...missing.keys()].filter((size) => (missing[size] as number) > 0);
  const rest = firstFitPacking(
    places.map((size) => ({ size: (sizes[size] as { size: number }).size, quantity: missing[size] as number })),
    kinds.map((kind, place) => ({ ...kind, count: left[place] as number })),
  );
  const more = rest.boards.map(
    (board): Boards => ({
      ...board,
      parts: board.parts.map(([place, quantity]) => [places[place] as number, quantity]),
    }),
  );
  const over = sizes.map(() => 0);
  rest.over.forEach((count, place) => {
    over[places[place] as number] = count;
  });
  return reduceBoards({ boards: [...boards, ...more], over }, sizes, kinds);
}

/** For each size, what becomes of pieces too many: another size, or nothing (-1). */
type Changes = { to: number; count: number }[][];

function changesOf({ sizes }: Space, supply: Float64Array): { changes: Changes; missing: number[] } {
  const changes: Changes = sizes.map(() => []);
  const missing = sizes.map(() => 0);
  const spare: { size: number; count: number }[] = [];
  sizes.forEach(({ quantity }, size) => {
    let wanted = quantity - (supply[size] as number);
    if (wanted < 0) spare.push({ size, count: -wanted });
    // The shortest of the longer ones is nearest.
    while (wanted > 0 && spare.length > 0) {
      const last = spare.at(-1) as { size: number; count: number };
      const count = Math.min(wanted, last.count);
      (changes[last.size] as Changes[number]).push({ to: size, count });
      last.count -= count;
      wanted -= count;
      if (last.count === 0) spare.pop();
    }
    missing[size] = Math.max(wanted, 0);
  });
  for (const { size, count } of spare) (changes[size] as Changes[number]).push({ to: -1, count });
  return { changes, missing };
}

/** Makes the changes, on the emptiest boards first. */
function change(space: Space, chosen: readonly Chosen[], changes: Changes): Boards[] {
  const boards: Boards[] = [];
  const contents = chosen.map((board) => withRoom(space, board)).sort((a, b) => b.left - a.left);
  for (const content of contents) {
    const open = [content];
    for (let board = open.pop(); board; board = open.pop()) {
      const { times } = board;
      const part = board.parts.find(([size]) => (changes[size] as Changes[number]).length > 0);
      if (!part || times === 0) {
        if (board.parts.length > 0 && times > 0) boards.push(board);
        continue;
      }
      const [size, quantity] = part;
      const pending = changes[size] as Changes[number];
      const first = pending[0] as Changes[number][number];
      const each = Math.min(quantity, first.count);
      const alike = Math.min(times, Math.floor(first.count / each));
      first.count -= each * alike;
      if (first.count === 0) pending.shift();
      const held = new Map(board.parts);
      if (quantity === each) held.delete(size);
      else held.set(size, quantity - each);
      if (first.to >= 0) held.set(first.to, (held.get(first.to) ?? 0) + each);
      const parts = [...held].sort((a, b) => a[0] - b[0]);
      open.push({ ...board, times: times - alike }, withRoom(space, { kind: board.kind, parts, times: alike }));
    }
  }
  return boards;
}

function withRoom({ sizes, kinds }: Space, { kind, parts, times }: Chosen): Boards {
  let left = (kinds[kind] as { room: number }).room;
  for (const [size, quantity] of parts) left -= (sizes[size] as { size: number }).size * quantity;
  return { kind, parts, times, left };
}

/** Puts missing pieces, longest first, where the least room is left that is enough; takes them off the list. */
function fillUp(space: Space, boards: readonly Boards[], missing: number[]): Boards[] {
  let open = [...boards].sort((a, b) => a.left - b.left);
  for (let size = 0; size < missing.length; size++) {
    if (missing[size] === 0) continue;
    const length = (space.sizes[size] as { size: number }).size;
    const next: Boards[] = [];
    for (const board of open) {
      const each = Math.min(Math.floor(board.left / length), missing[size] as number);
      const alike = each === 0 ? 0 : Math.min(board.times, Math.floor((missing[size] as number) / each));
      if (alike > 0) {
        missing[size] = (missing[size] as number) - alike * each;
        const held = new Map(board.parts);
        held.set(size, (held.get(size) ?? 0) + each);
        const parts = [...held].sort((a, b) => a[0] - b[0]);
        next.push({ kind: board.kind, parts, times: alike, left: board.left - each * length });
      }
      if (board.times > alike) next.push({ ...board, times: board.times - alike });
    }
    open = next.sort((a, b) => a.left - b.left);
  }
  return open;
}
