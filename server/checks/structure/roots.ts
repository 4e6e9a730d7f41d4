/** Real roots of a polynomial within an interval: in closed form up to the second degree, else by bracketing between the roots of its derivative. */

/** Newton steps and halvings of a bracket: past the resolution of a double. */
const MOST_STEPS = 100;

/**
 * Where the polynomial sum of `coefficients[i] x^i` changes its sign or touches nought at a turning
 * point, between `from` and `to`, rising. Of one that is nought throughout, the two ends.
 */
export function rootsWithin(coefficients: readonly number[], from: number, to: number): number[] {
  const [c, b = 0, a = 0] = coefficients;
  if (c === undefined) return [];
  let degree = coefficients.length - 1;
  while (degree > 0 && coefficients[degree] === 0) degree--;
  if (degree === 0) return c === 0 && coefficients.length > 1 ? [from, to] : [];
  const inside = (x: number): boolean => x >= from && x <= to;
  if (degree === 1) return [-c / b].filter(inside);
  if (degree === 2) return quadratic(a, b, c).filter(inside);
  const derivative = coefficients.slice(1, degree + 1).map((each, i) => each * (i + 1));
  const stops = [from, ...rootsWithin(derivative, from, to), to];
  const roots = stops.filter((x, i) => x !== stops[i - 1] && valueAt(coefficients, x) === 0);
  for (let i = 0; i + 1 < stops.length; i++) {
    const [low, high] = [stops[i] as number, stops[i + 1] as number];
    if (valueAt(coefficients, low) * valueAt(coefficients, high) < 0) {
      roots.push(between(coefficients, derivative, low, high));
    }
  }
  return roots.sort((x, y) => x - y);
}

/** Of a x^2 + b x + c, a not nought, rising; one that is touched, once. Without subtracting what is nearly equal. */
function quadratic(a: number, b: number, c: number): number[] {
  const discriminant = b * b - 4 * a * c;
  if (discriminant < 0) return [];
  if (discriminant === 0) return [-b / (2 * a)];
  const q = -(b + (b < 0 ? -1 : 1) * Math.sqrt(discriminant)) / 2;
  const [x, y] = [q / a, c / q];
  return x < y ? [x, y] : [y, x];
}

function valueAt(coefficients: readonly number[], x: number): number {
  let sum = 0;
  for (let i = coefficients.length - 1; i >= 0; i--) sum = sum * x + (coefficients[i] as number);
  return sum;
}

/** The root between two places of different signs: by Newton's steps, by halving where one would leave the bracket. */
function between(coefficients: readonly number[], derivative: readonly number[], from: number, to: number): number {
  const rising = valueAt(coefficients, to) > 0;
  let [low, high] = [from, to];
  let x = low + (high - low) / 2;
  for (let i = 0; i < MOST_STEPS; i++) {
    const value = valueAt(coefficients, x);
    if (value === 0) return x;
    if (value > 0 === rising) high = x;
    else low = x;
    const newton = x - value / valueAt(derivative, x);
    const next = newton > low && newton < high ? newton : low + (high - low) / 2;
    if (next === x || next <= low || next >= high) break;
    x = next;
  }
  return x;
}
