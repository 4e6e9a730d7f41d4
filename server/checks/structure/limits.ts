/** How far a beam may deflect, and the compared result of every span and overhang. Metres. */
import type { Solved, Stretch } from './beam.ts';

/** What a policy asks for: a part of the span, a distance, or both. */
export interface DeflectionLimit {
  /** n of "span / n"; undefined where no part of the span is asked for. */
  readonly ratio: number | undefined;
  /** m. */
  readonly most: number | undefined;
}

/** The deflection allowed over a span, m; infinite where nothing is asked for. */
export function allowedOver(span: number, { ratio, most }: DeflectionLimit): number {
  return Math.min(ratio === undefined ? Number.POSITIVE_INFINITY : span / ratio, most ?? Number.POSITIVE_INFINITY);
}

/**
 * The length that a ratio is taken of. An overhang counts twice its length, because it deflects like
 * half of a span (as footnotes of building codes have it for cantilevers; from memory).
 */
export function countedLength({ kind, from, to }: Pick<Stretch, 'kind' | 'from' | 'to'>): number {
  return (kind === 'overhang' ? 2 : 1) * (to - from);
}

export interface Deflected {
  readonly stretch: Stretch;
  /** Long-term deflection downwards, m: an end that is lifted does not sag. */
  readonly deflection: number;
  /** m; infinite where nothing is asked for. */
  readonly allowed: number;
  readonly holds: boolean;
}

/** Every stretch against the limit, its deflection multiplied by `creep` (1 for none). */
export function compareStretches({ stretches }: Solved, limit: DeflectionLimit, creep = 1): Deflected[] {
  return stretches.map((stretch) => {
    const deflection = creep * stretch.sag.amount;
    const allowed = allowedOver(countedLength(stretch), limit);
    return { stretch, deflection, allowed, holds: deflection <= allowed };
  });
}
