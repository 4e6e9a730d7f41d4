/** What the figures of an hour say: medians, and whether they rise. */

export function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN;
}

export interface Trend {
  /** By how much it rises in an hour. */
  readonly hourly: number;
  /** Half of the interval that holds the true rise in 95 of 100 cases, where deviations are independent. */
  readonly within: number;
  readonly mean: number;
}

/** A straight line through values that are a minute apart, by least squares. Minutes without a value are passed over. */
export function trendOf(minutes: readonly number[]): Trend {
  const values = minutes.flatMap((value, minute) => (Number.isFinite(value) ? [{ value, minute }] : []));
  const n = values.length;
  const mean = values.reduce((sum, { value }) => sum + value, 0) / n;
  const middle = values.reduce((sum, { minute }) => sum + minute, 0) / n;
  let [xx, xy] = [0, 0];
  for (const { value, minute } of values) {
    xx += (minute - middle) ** 2;
    xy += (minute - middle) * (value - mean);
  }
  const slope = xy / xx;
  const left = values.reduce((sum, { value, minute }) => sum + (value - mean - slope * (minute - middle)) ** 2, 0);
  const error = Math.sqrt(left / (n - 2) / xx);
  return { hourly: slope * 60, within: 1.96 * error * 60, mean };
}

/** `heap after collection: 312.4 MB, +0.3 (±0.9) MB an hour: flat`. */
export function trendSaid(what: string, unit: string, values: readonly number[]): string {
  if (values.filter(Number.isFinite).length < 4) return `${what}: too few minutes for a trend`;
  const { hourly, within, mean } = trendOf(values);
  const share = hourly / mean;
  const sign = hourly < 0 ? '' : '+';
  const meaning =
    hourly <= within
      ? 'does not rise'
      : Math.abs(share) < 0.02
        ? 'rises by less than 2 % an hour'
        : `RISES by ${(100 * share).toFixed(0)} % an hour`;
  return `${what}: mean ${mean.toFixed(1)} ${unit}, ${sign}${hourly.toFixed(2)} (±${within.toFixed(2)}) ${unit} an hour: ${meaning}`;
}

/** Numbers of a seed, the same in every run. Source: the mulberry32 generator, from memory. */
export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
