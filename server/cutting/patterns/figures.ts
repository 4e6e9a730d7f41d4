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
  let before: { readonly given: string; readonly numbers: readonly number[] } | undefined;
  return patterns.map((pattern) => {
    const runs = runsOf(pattern);
    const given = givenBy(pattern);
    if (before?.given !== given) {
      const numbers = runs.map(({ length }) => {
        if (length !== stop) set++;
        stop = length;
        return set;
      });
      before = { given, numbers };
    }
    const { numbers } = before;
    return runs.flatMap(({ cuts }, at) => Array.from({ length: cuts }, () => numbers[at] as number));
  });
}

interface Run {
  readonly length: number;
  quantity: number;
  /** Over how many entries of the pattern. */
  cuts: number;
}

/** Cuts of one length that follow each other; a matched set is cut in its own order and may come back to a length. */
function runsOf({ cuts }: Pattern): Run[] {
  const runs: Run[] = [];
  for (const { length, quantity } of cuts) {
    const last = runs.at(-1);
    if (last?.length === length) {
      last.quantity += quantity;
      last.cuts++;
    } else runs.push({ length, quantity, cuts: 1 });
  }
  return runs;
}

/** How many of each length a board gives, in its order, in words. */
function givenBy(pattern: Pattern): string {
  return runsOf(pattern)
    .map(({ length, quantity }) => `${quantity} x ${length}`)
    .join();
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
