/**
 * How often a law is tried. STORYPOLE_RUNS=20 tries each of those that ask here twenty times as often, for a long look
 * by night; with STORYPOLE_SEED=random it looks elsewhere each time.
 */
const asked = process.env.STORYPOLE_RUNS ?? '1';
if (!/^[1-9]\d{0,5}$/.test(asked)) throw new Error(`STORYPOLE_RUNS is "${asked}"; it is a whole number from 1 up.`);

export const longer = Number(asked);

/** What a property is run with: `many` times in the suite. */
export function runs(many: number): { readonly numRuns: number } {
  return { numRuns: many * longer };
}
