/** Projects of the size of a building, for tests and benchmarks; the same every time. */
import type { PlanRequest } from '../../server/cutting/types.ts';
import { inches, ticks } from '../../server/model/ticks.ts';
import { board, saw } from './requests.ts';

/**
 * Pieces of so many different lengths from 8 in up to 60 in, in steps of an inch divided by `steps`, from
 * stock of 6, 8 and 12 ft with prices, and twenty offcuts of 50 in.
 */
export function closets(lengths = 12, pieces = 9833, steps = 16): PlanRequest {
  let state = 12_345;
  const next = (limit: number) => {
    // The multiplicative generator of Park and Miller (1988).
    state = (state * 48271) % 2147483647;
    return state % limit;
  };
  const chosen = new Set<number>();
  while (chosen.size < lengths) chosen.add(8 * steps + next(52 * steps));
  const counts = new Map([...chosen].map((length): [number, number] => [length, 0]));
  for (let n = 0; n < pieces; n++) {
    const length = [...chosen][next(lengths)] as number;
    counts.set(length, (counts.get(length) as number) + 1);
  }
  return {
    pieces: [...counts].map(([length, quantity]) => ({
      id: `${length}/${steps} in`,
      material: 'white',
      length: ticks((length * inches(1)) / steps),
      quantity,
    })),
    stock: [
      board('6 ft', inches(72), { price: 1000 }),
      board('8 ft', inches(96), { price: 1290 }),
      board('12 ft', inches(144), { price: 2010 }),
      board('rack', inches(50), { offcut: true, count: 20 }),
    ],
    saw,
  };
}
