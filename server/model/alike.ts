/**
 * Fittings that no survey moves: one and the same object in all units that draw them alike, so that what is computed of
 * one is computed once. Of any other it would be kept as long as its unit, and never asked for again.
 */
import type { FittingLayout } from './layout.ts';
import { lately } from './memo.ts';

const shared = new WeakSet<FittingLayout>();

/** Says that these are taken over by every unit that draws them alike. */
export function shareAmongUnits(fittings: Iterable<FittingLayout>): void {
  for (const fitting of fittings) shared.add(fitting);
}

/** As `lately`, but keeps nothing of a fitting that its unit has for itself. */
export function alikeOnce<K extends FittingLayout, V>(
  most: number,
): (fitting: K, circumstances: readonly unknown[], make: () => V) => V {
  const kept = lately<K, V>(most);
  return (fitting, circumstances, make) => (shared.has(fitting) ? kept(fitting, circumstances, make) : make());
}
