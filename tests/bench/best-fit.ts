/** Best-fit decreasing, piece by piece, to hold the planner against: each kind tried as the main one. */
import { type Boards, type Kind, reduceBoards, type Size } from '../../server/cutting/pack.ts';

/** What the boards cost; Infinity when they run out. */
export function bestFit(sizes: readonly Size[], kinds: readonly Kind[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (let main = 0; main < kinds.length; main++) {
    const others = [...kinds.keys()].filter((kind) => kind !== main);
    const packed = pack(sizes, kinds, [main, ...others]);
    if (!packed) continue;
    const { boards } = reduceBoards({ boards: packed, over: sizes.map(() => 0) }, sizes, kinds);
    least = Math.min(
      least,
      boards.reduce((sum, { kind, times }) => sum + times * (kinds[kind] as Kind).cost, 0),
    );
  }
  return least;
}

function pack(sizes: readonly Size[], kinds: readonly Kind[], order: readonly number[]): Boards[] | undefined {
  const left = kinds.map(({ count }) => count);
  const open: { kind: number; room: number; parts: Map<number, number> }[] = [];
  for (const [place, { size, quantity }] of sizes.entries()) {
    for (let n = 0; n < quantity; n++) {
      let best: (typeof open)[number] | undefined;
      for (const board of open) if (board.room >= size && board.room < (best?.room ?? Infinity)) best = board;
      if (!best) {
        const kind = order.find((each) => (left[each] as number) > 0 && (kinds[each] as Kind).room >= size);
        if (kind === undefined) return undefined;
        left[kind] = (left[kind] as number) - 1;
        best = { kind, room: (kinds[kind] as Kind).room, parts: new Map() };
        open.push(best);
      }
      best.room -= size;
      best.parts.set(place, (best.parts.get(place) ?? 0) + 1);
    }
  }
  return open.map(({ kind, room, parts }) => ({ kind, times: 1, left: room, parts: [...parts] }));
}
