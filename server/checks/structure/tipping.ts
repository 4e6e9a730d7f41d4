/** A tower that stands free: whether open drawers tip it over its front edge, by statics. SI. */

export interface Standing {
  /** Of the tower without the drawers that are open, N. */
  readonly weight: number;
  /** From the front edge it stands on back to its centre of gravity, m. */
  readonly behindEdge: number;
  readonly open: readonly OpenDrawer[];
}

export interface OpenDrawer {
  /** The drawer and what is in it, N. */
  readonly weight: number;
  /** Front to back, m. */
  readonly depth: number;
  /** How far its front stands before the edge, m. */
  readonly pullOut: number;
}

export interface Tipping {
  /** Moments about the front edge, N m: what keeps it standing, and what tips it. */
  readonly keeps: number;
  readonly tips: number;
  /** keeps / tips; infinite where nothing tips it. Below 1 it falls. */
  readonly ratio: number;
}

/** By statics, on a level floor, without carpet, climbing or a push. The load of a drawer counts in its middle. */
export function tipping({ weight, behindEdge, open }: Standing): Tipping | undefined {
  const given = [weight, behindEdge, ...open.flatMap((drawer) => [drawer.weight, drawer.depth, drawer.pullOut])];
  if (!given.every((value) => Number.isFinite(value) && value >= 0)) return undefined;
  let keeps = weight * behindEdge;
  let tips = 0;
  for (const drawer of open) {
    const before = drawer.pullOut - drawer.depth / 2;
    if (before > 0) tips += drawer.weight * before;
    else keeps += drawer.weight * -before;
  }
  return { keeps, tips, ratio: tips === 0 ? Number.POSITIVE_INFINITY : keeps / tips };
}
