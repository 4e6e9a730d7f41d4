/** What the saw has to do for the patterns of one material, in the order of the plan. */
import type { Pattern, SawFigures, SawLimits } from '../types.ts';

/** See `MaterialTotals` for what is counted. */
export function sawFigures(patterns: readonly Pattern[]): SawFigures {
  const ways = new Set(patterns.map((pattern) => `${givenBy(pattern)} of ${pattern.stock}`));
  return { patternCount: ways.size, stopSettings: settingNumbers(patterns).at(-1)?.at(-1) ?? 0 };
}

/** For each pattern, and each of its cuts: at which setting of the stop it is cut, counted from 1. */
export function settingNumbers(patterns: readonly Pattern[]): number[][] {
  let set = 0;
  let stop: number | undefined;
  let before: { readonly given: string; readonly numbers: ReadonlyMap<number, number> } | undefined;
  return patterns.map((pattern) => {
    const given = givenBy(pattern);
    if (before?.given !== given) {
      const numbers = new Map<number, number>();
      for (const { length } of pattern.cuts) {
        if (length !== stop) set++;
        stop = length;
        numbers.set(length, set);
      }
      before = { given, numbers };
    }
    const { numbers } = before;
    return pattern.cuts.map(({ length }) => numbers.get(length) as number);
  });
}

/** How many of each length a board gives, in words. */
function givenBy({ cuts }: Pattern): string {
  const lengths = new Map<number, number>();
  for (const { length, quantity } of cuts) lengths.set(length, (lengths.get(length) ?? 0) + quantity);
  return JSON.stringify([...lengths]);
}

/** The limits that a material's plan does not keep to, with what it came to. */
export function overLimits(
  { patternCount, stopSettings }: SawFigures,
  limits: SawLimits = {},
): { readonly of: keyof SawLimits; readonly limit: number; readonly reached: number }[] {
  const reached = { patterns: patternCount, stopSettings };
  return (['patterns', 'stopSettings'] as const).flatMap((of) => {
    const limit = limits[of];
    return limit !== undefined && reached[of] > limit ? [{ of, limit, reached: reached[of] }] : [];
  });
}
