/** What is taken on a sheet of paper: rectangles, found by the squares of a grid that they lie in. */
import { overlap, type Rectangle } from './paper.ts';

/** Side of a square, in millimetres: about that of a label. */
const side = 12;
/** What lies in more squares than this, a frame say, is looked at every time. */
const mostSquares = 400;

export interface Occupied {
  readonly take: (box: Rectangle) => void;
  readonly isFree: (box: Rectangle) => boolean;
}

export function createOccupied(): Occupied {
  const squares = new Map<number, Map<number, Rectangle[]>>();
  const large: Rectangle[] = [];

  return {
    take(box) {
      const { left, top, right, bottom } = squaresOf(box);
      // Written so that what is no number is large as well.
      if (!((right - left + 1) * (bottom - top + 1) <= mostSquares)) {
        large.push(box);
        return;
      }
      for (let x = left; x <= right; x++) {
        const column = squares.get(x) ?? new Map<number, Rectangle[]>();
        squares.set(x, column);
        for (let y = top; y <= bottom; y++) {
          const own = column.get(y);
          if (own) own.push(box);
          else column.set(y, [box]);
        }
      }
    },
    isFree(box) {
      const { left, top, right, bottom } = squaresOf(box);
      for (let x = left; x <= right; x++) {
        const column = squares.get(x);
        if (!column) continue;
        for (let y = top; y <= bottom; y++) if (column.get(y)?.some((other) => overlap(box, other))) return false;
      }
      return !large.some((other) => overlap(box, other));
    },
  };
}

function squaresOf([left, top, right, bottom]: Rectangle) {
  const square = (at: number): number => Math.floor(at / side);
  return { left: square(left), top: square(top), right: square(right), bottom: square(bottom) };
}
