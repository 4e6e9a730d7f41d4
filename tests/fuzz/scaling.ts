/** Whether work grows with the size of a text and no faster: only asked in the long run, as it looks at the clock. */
import type { Found } from './explore.ts';
import { signatureOf, type Target } from './target.ts';

/** Twice the text may take so many times as long; n log n and a loaded machine are well below it, n² is 4. */
const mostTimes = 3;
/** What is done sooner says nothing. */
const leastMilliseconds = 60;

/** The first of some cases that takes more than its size explains, said many times over; or that no longer holds then. */
export function growthFault(
  target: Target,
  cases: readonly string[],
  onCase: (text: string) => void,
  goOn: () => boolean,
): Found | undefined {
  if (!target.repeated) return undefined;
  for (const text of cases) {
    if (text.length === 0) continue;
    if (!goOn()) break;
    const spent: number[] = [];
    for (let times = 4; times * text.length < 1_000_000; times *= 2) {
      const long = target.repeated(text, times);
      onCase(long);
      try {
        spent.push(least(target, long));
      } catch (error) {
        return { signature: signatureOf(error), message: String(error).slice(0, 2_000), text: long };
      }
      const [a = 0, b = 0, c = 0] = spent.slice(-3);
      // Twice in a row: one of them may be the collector of garbage.
      if (a > leastMilliseconds && b > a * mostTimes && c > b * mostTimes)
        return {
          signature: 'grows faster than its text',
          message: `doubled twice, from ${times / 4} times: ${spent.slice(-3).map(Math.round).join(', ')} ms`,
          text,
        };
      if (c > 1_500) break;
    }
  }
  return undefined;
}

/** Of the thread itself, whatever else the machine does. */
function least(target: Target, text: string): number {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 2; i++) {
    const began = process.threadCpuUsage();
    void target.run(text);
    const { user, system } = process.threadCpuUsage(began);
    best = Math.min(best, (user + system) / 1000);
  }
  return best;
}
