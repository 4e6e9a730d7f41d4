/**
 * Units of measure: their spellings, what they measure, and their exact size.
 * source: NIST Special Publication 811 (2008), appendix B: 1 in = 25.4 mm exactly, 1 lb = 0.45359237 kg
 * exactly, 1 lbf = 4.4482216152605 N, 1 psi = 6894.757 Pa, 1 lbf/ft2 = 47.88026 Pa.
 */

export type Dimension =
  | 'length'
  | 'mass'
  | 'force'
  | 'area-load'
  | 'line-load'
  | 'area-mass'
  | 'line-mass'
  | 'stiffness'
  | 'angle'
  | 'time'
  | 'share'
  | 'money'
  | 'count';

export interface Measure {
  readonly spelling: string;
  readonly dimension: Dimension;
  /** For a length, whole ticks of 25 nm; otherwise SI base (kg, N, Pa, N/m, kg/m2, kg/m), degrees, days or a plain ratio. */
  readonly size: number;
  readonly title: string;
}

const lbf = 4.4482216152605;
const lb = 0.45359237;
const foot = 0.3048;

function measure(dimension: Dimension, spelling: string, size: number, title: string): Measure {
  return { spelling, dimension, size, title };
}

export const measures: readonly Measure[] = [
  measure('length', 'in', 1_016_000, 'inches'),
  measure('length', '"', 1_016_000, 'inches'),
  measure('length', 'ft', 12_192_000, 'feet'),
  measure('length', "'", 12_192_000, 'feet'),
  measure('length', 'mm', 40_000, 'millimetres'),
  measure('length', 'cm', 400_000, 'centimetres'),
  measure('length', 'm', 40_000_000, 'metres'),
  measure('mass', 'lb', lb, 'pounds'),
  measure('mass', 'kg', 1, 'kilograms'),
  measure('force', 'lbf', lbf, 'pounds-force'),
  measure('force', 'N', 1, 'newtons'),
  measure('force', 'kN', 1000, 'kilonewtons'),
  measure('area-load', 'lbf/ft2', lbf / foot ** 2, 'pounds-force a square foot'),
  measure('area-load', 'psf', lbf / foot ** 2, 'pounds-force a square foot'),
  measure('area-load', 'kPa', 1000, 'kilopascals'),
  measure('line-load', 'lbf/ft', lbf / foot, 'pounds-force a foot'),
  measure('line-load', 'kN/m', 1000, 'kilonewtons a metre'),
  measure('line-load', 'N/m', 1, 'newtons a metre'),
  measure('area-mass', 'lb/ft2', lb / foot ** 2, 'pounds a square foot'),
  measure('area-mass', 'kg/m2', 1, 'kilograms a square metre'),
  measure('line-mass', 'lb/ft', lb / foot, 'pounds a foot'),
  measure('line-mass', 'kg/m', 1, 'kilograms a metre'),
  measure('stiffness', 'psi', lbf / 0.0254 ** 2, 'pounds-force a square inch'),
  measure('stiffness', 'ksi', (1000 * lbf) / 0.0254 ** 2, 'thousand pounds-force a square inch'),
  measure('stiffness', 'MPa', 1e6, 'megapascals'),
  measure('stiffness', 'GPa', 1e9, 'gigapascals'),
  measure('angle', 'deg', 1, 'degrees'),
  measure('angle', '°', 1, 'degrees'),
  measure('time', 'days', 1, 'days'),
  measure('time', 'day', 1, 'days'),
  measure('time', 'weeks', 7, 'weeks'),
  measure('time', 'week', 7, 'weeks'),
  measure('share', '%', 0.01, 'per cent'),
];

const bySpelling = new Map(measures.map((m) => [m.spelling, m]));
const compound = measures.filter((m) => m.spelling.includes('/')).map((m) => m.spelling);

/** A currency is its three-letter code (ISO 4217); the project says which one it uses. */
export function isCurrency(spelling: string): boolean {
  return /^[A-Z]{3}$/.test(spelling);
}

export function isMeasure(spelling: string): boolean {
  return bySpelling.has(spelling);
}

export function measureOf(spelling: string): Measure | undefined {
  const known = bySpelling.get(spelling);
  if (known) return known;
  return isCurrency(spelling) ? measure('money', spelling, 1, spelling) : undefined;
}

/** The known unit of measure with a stroke in it (`lbf/ft2`) that begins at `offset`, the longest. */
export function longestMeasure(text: string, offset: number): string | undefined {
  let best: string | undefined;
  for (const spelling of compound) {
    if (text.startsWith(spelling, offset) && spelling.length > (best?.length ?? 0)) best = spelling;
  }
  return best;
}

export function measuresOf(dimension: Dimension): string[] {
  return measures.filter((m) => m.dimension === dimension).map((m) => m.spelling);
}
