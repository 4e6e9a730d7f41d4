/**
 * Where the numbers of a row of dimensions stand, along its axis, in millimetres on paper. A number stands in its part
 * where it has room. The others stand in a line of their own farther out, in the order of their parts and as near to
 * them as they can without touching one another, each joined to its part by a leader, none of which cross.
 */

export interface Wanted {
  /** The part that is measured. */
  readonly from: number;
  readonly to: number;
  /** Of the number. */
  readonly width: number;
  /** What it takes along the axis where it stands farther out, if not its width. */
  readonly out?: number;
}

export interface Standing {
  /** Middle of the number. */
  readonly at: number;
  /** It stands farther out than its part. */
  readonly isOut: boolean;
}

/** Between two numbers. */
const gap = 1;
/** Between a number and the ends of its part. */
const room = 0.5;

/** It has no room in its part. */
export function isOut({ from, to, width }: Wanted): boolean {
  return width + 2 * room > to - from;
}

/** One place each, in the order given: that along the axis. */
export function standings(parts: readonly Wanted[]): Standing[] {
  const out = parts.filter(isOut);
  const places = spread(
    out.map(({ from, to, width, out: size }) => ({ at: (from + to) / 2, size: (size ?? width) + gap })),
  );
  let next = 0;
  return parts.map((part): Standing => {
    if (part !== out[next]) return { at: (part.from + part.to) / 2, isOut: false };
    return { at: places[next++] as number, isOut: true };
  });
}

/**
 * Middles for things of some sizes that want to stand at some places, in order: none overlaps another, and the squares
 * of the distances to where they want to stand add up to as little as can be (pooling of adjacent violators).
 */
export function spread(wanted: readonly { readonly at: number; readonly size: number }[]): number[] {
  // What all before it take is taken off, so that those that must not overlap must not go down.
  const before: number[] = [];
  let taken = 0;
  let last = 0;
  for (const [i, { size }] of wanted.entries()) {
    if (i > 0) taken += (last + size) / 2;
    last = size;
    before.push(taken);
  }
  const blocks: { readonly sum: number; readonly count: number }[] = [];
  for (const [i, { at }] of wanted.entries()) {
    let block = { sum: at - (before[i] as number), count: 1 };
    for (let low = blocks.at(-1); low && low.sum / low.count > block.sum / block.count; low = blocks.at(-1)) {
      blocks.pop();
      block = { sum: low.sum + block.sum, count: low.count + block.count };
    }
    blocks.push(block);
  }
  return blocks
    .flatMap(({ sum, count }) => Array.from({ length: count }, () => sum / count))
    .map((at, i) => at + (before[i] as number));
}
