/** The fewest patterns of any plan from the same boards, by trying all: for tiny requests. */
import type { PlanRequest } from '../../../server/cutting/types.ts';

/**
 * Of one material, whose boards are taken as often as it says, by stock; at least so much must be kept. Undefined
 * where there is no such plan.
 */
export function fewestPatterns(
  { pieces, stock, saw }: PlanRequest,
  taken: ReadonlyMap<string, number>,
  kept: number,
): number | undefined {
  const wanted = [...Map.groupBy(pieces, ({ length }) => length)]
    .map(([length, own]) => ({ length, quantity: own.reduce((sum, piece) => sum + piece.quantity, 0) }))
    .filter(({ quantity }) => quantity > 0)
    .sort((a, b) => b.length - a.length);
  const boards = stock.filter(({ id }) => taken.has(id));
  const ways = boards.flatMap(({ id, length }, board) => {
    const room = length - 2 * (saw.trim ?? 0) + saw.kerf;
    return fillings(
      wanted.map((each) => each.length + saw.kerf),
      wanted.map((each) => each.quantity),
      room,
    ).map(({ counts, left }) => {
      const offcut = Math.max(0, left - saw.kerf);
      return { id, board, counts, keeps: offcut > 0 && offcut >= saw.keepOffcutsFrom ? offcut : 0 };
    });
  });
  const left = boards.map(({ id }) => taken.get(id) as number);
  const open = wanted.map(({ quantity }) => quantity);
  /** Whether so many further ways do: the next one cuts the longest piece still wanted. */
  const does = (most: number, back: number, used: ReadonlySet<number>): boolean => {
    const longest = open.findIndex((quantity) => quantity > 0);
    if (longest < 0) return left.every((count) => count === 0) && back >= kept;
    if (most === 0) return false;
    return ways.some(({ board, counts, keeps }, index) => {
      if (used.has(index) || (counts[longest] as number) === 0) return false;
      const fit = counts.map((count, size) => (count > 0 ? Math.floor((open[size] as number) / count) : Infinity));
      for (let times = Math.min(left[board] as number, ...fit); times > 0; times--) {
        const take = (by: number) => {
          left[board] = (left[board] as number) - by * times;
          counts.forEach((count, size) => {
            open[size] = (open[size] as number) - by * times * count;
          });
        };
        take(1);
        const done = does(most - 1, back + times * keeps, new Set([...used, index]));
        take(-1);
        if (done) return true;
      }
      return false;
    });
  };
  const boardCount = left.reduce((sum, count) => sum + count, 0);
  for (let most = 0; most <= boardCount; most++) if (does(most, 0, new Set())) return most;
  return undefined;
}

function fillings(
  sizes: readonly number[],
  quantities: readonly number[],
  room: number,
): { readonly counts: readonly number[]; readonly left: number }[] {
  const found: { counts: number[]; left: number }[] = [];
  const fill = (counts: readonly number[], left: number): void => {
    const at = counts.length;
    if (at === sizes.length) {
      if (counts.some((count) => count > 0)) found.push({ counts: [...counts], left });
      return;
    }
    const size = sizes[at] as number;
    for (let count = Math.min(quantities[at] as number, Math.floor(left / size)); count >= 0; count--)
      fill([...counts, count], left - count * size);
  };
  fill([], room);
  return found;
}
