/** A gap that takes what is left over beside the zones of a run. */
import { addedFix, freeName } from './edits.ts';
import type { Fix } from './finding.ts';
import type { Placed, PlacedResult } from './runs.ts';
import type { ZoneSpec } from './spec.ts';
import type { Ticks } from './ticks.ts';

/** By hand: that it is meant is for somebody to say. `siblings` have the names that are taken, `wall` is left out inside of a zone. */
export function gapFor(
  hole: { readonly from: Ticks },
  { zones }: PlacedResult,
  siblings: readonly ZoneSpec[],
  wall?: string,
): Fix[] {
  const ends = ({ from, width }: Placed): number => from.value + width.value;
  const before = [...zones].find(([, placed]) => ends(placed) === hole.from)?.[0];
  const block = (before ?? [...zones.keys()][0])?.place.statement.parent;
  if (block?.kind !== 'statement') return [];
  const name = freeName(
    'rest',
    siblings.map((zone) => zone.name),
  );
  const on = wall === undefined ? '' : ` on ${wall}`;
  const after = before ? ` after ${before.name}` : '';
  return addedFix(block, `gap ${name}${on}${after} { width fill }`, { byHand: true });
}
