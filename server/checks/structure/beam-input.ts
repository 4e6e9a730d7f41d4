/** A straight beam as it is asked about, and why a question is refused. */
import type { Rigidity } from './section.ts';
import { positive } from './units.ts';

export interface Support {
  /** m from the left end of the beam. */
  readonly at: number;
  /** A rest holds the height only, down and up; `fixed` holds the rotation too. */
  readonly hold: 'rest' | 'fixed';
}

/** Downwards where positive. Places in metres from the left end of the beam. */
export type BeamLoad =
  | { readonly kind: 'uniform'; readonly from: number; readonly to: number; readonly perMetre: number }
  | { readonly kind: 'point'; readonly at: number; readonly force: number };

export interface Beam {
  /** m. */
  readonly length: number;
  /** The same along the whole beam. */
  readonly rigidity: Rigidity;
  /** In any order. */
  readonly supports: readonly Support[];
  readonly loads: readonly BeamLoad[];
}

export type RefusalReason =
  | 'no-length'
  | 'no-stiffness'
  | 'no-shear-stiffness'
  | 'no-support'
  | 'support-off-beam'
  | 'coincident-supports'
  | 'not-held'
  | 'load-not-a-number'
  | 'load-off-beam'
  | 'out-of-range';

/** Why nothing is computed. */
export interface Refusal {
  readonly kind: 'refused';
  readonly reason: RefusalReason;
  /** A sentence part: `two supports stand at the same place`. */
  readonly words: string;
}

const reasons: Readonly<Record<RefusalReason, string>> = {
  'no-length': 'the beam has no length',
  'no-stiffness': 'the beam has no stiffness against bending',
  'no-shear-stiffness': 'the beam has no stiffness against shear',
  'no-support': 'nothing supports the beam',
  'support-off-beam': 'a support stands beside the beam',
  'coincident-supports': 'two supports stand at the same place',
  'not-held': 'one support that lets the beam turn does not hold it',
  'load-not-a-number': 'a load is not a number',
  'load-off-beam': 'a load stands beside the beam',
  'out-of-range': 'the numbers are too large or too small to compute with',
};

export function refusal(reason: RefusalReason): Refusal {
  return { kind: 'refused', reason, words: reasons[reason] };
}

/** Places nearer to each other than this, m, are the same place: a micrometre. */
export const SAME_PLACE = 1e-6;

/** The beam with its supports from left to right, and what is at an end but for rounding at that end; or why it cannot be computed. */
export function checkedBeam(beam: Beam): (Beam & { readonly kind: 'beam' }) | Refusal {
  const { length, rigidity } = beam;
  if (!positive(length)) return refusal('no-length');
  if (!positive(rigidity.bending)) return refusal('no-stiffness');
  if (rigidity.shear !== undefined && !positive(rigidity.shear)) return refusal('no-shear-stiffness');

  const within = (at: number) => at >= 0 && at <= length;
  const snapped = (at: number) => (Math.abs(at) < SAME_PLACE ? 0 : Math.abs(at - length) < SAME_PLACE ? length : at);
  const supports = beam.supports
    .map((support) => ({ ...support, at: snapped(support.at) }))
    .sort((a, b) => a.at - b.at);
  if (supports.length === 0) return refusal('no-support');
  if (!supports.every(({ at }) => within(at))) return refusal('support-off-beam');
  if (supports.some(({ at }, i) => at - (supports[i - 1]?.at ?? -1) < SAME_PLACE)) {
    return refusal('coincident-supports');
  }
  if (supports.length === 1 && supports[0]?.hold === 'rest') return refusal('not-held');

  const loads: BeamLoad[] = [];
  for (const load of beam.loads) {
    const isPoint = load.kind === 'point';
    const size = isPoint ? load.force : load.perMetre;
    const from = snapped(isPoint ? load.at : load.from);
    const to = snapped(isPoint ? load.at : load.to);
    if (!Number.isFinite(size + from + to)) return refusal('load-not-a-number');
    if (!within(from) || !within(to) || from > to) return refusal('load-off-beam');
    loads.push(load.kind === 'point' ? { ...load, at: from } : { ...load, from, to });
  }
  return { kind: 'beam', length, rigidity, supports, loads };
}
