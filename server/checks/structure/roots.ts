/** Real roots of a polynomial within an interval, by bracketing between the roots of its derivative. */

/** Halvings of a bracket: far past the resolution of a double. */
const HALVINGS = 100;

/**
 * Where the polynomial sum of `coefficients[i] x^i` changes its sign or touches nought at a turning
 * point, between `from` and `to`. Of one that is nought throughout, the two ends.
 */
export function rootsWithin(coefficients: readonly number[], from: number, to: number): number[] {
  if (coefficients.length < 2) return [];
  const value = (x: number) => coefficients.reduceRight((sum, c) => sum * x + c, 0);
  const derivative = coefficients.slice(1).map((c, i) => c * (i + 1));
  const turns = rootsWithin(derivative, from, to);
  const stops = [from, ...turns, to];
  const roots = stops.filter((x) => value(x) === 0);
  for (let i = 0; i + 1 < stops.length; i++) {
    const [a, b] = [stops[i] as number, stops[i + 1] as number];
    if (value(a) * value(b) < 0) roots.push(between(value, a, b));
  }
  return roots;
}

function between(value: (x: number) => number, from: number, to: number): number {
  const rising = value(to) > 0;
  let [low, high] = [from, to];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = low + (high - low) / 2;
    if (middle <= low || middle >= high) break;
    if (value(middle) > 0 === rising) high = middle;
    else low = middle;
  }
  return low + (high - low) / 2;
}
