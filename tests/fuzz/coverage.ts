/**
 * Which code a case has reached, as V8 itself counts it, block by block. Cases that reach what none did before are kept
 * and gone on from.
 *
 * Why not a fuzzer from the registry: @jazzer.js/core 4.0.0 (Apache-2.0, of April 2026) installs, but its engine is a
 * native addon that asks for glibc 2.38, so it does not load on Debian 12, and building it takes LLVM; what it would add
 * to this file is that engine. And cases here are projects with steps, which random bytes hardly ever are.
 */
import { Session } from 'node:inspector';

export interface Coverage {
  /** How many places have been reached by now that never were before, since it was asked last. */
  readonly fresh: () => number;
  /** How many there are in all. */
  readonly size: () => number;
  readonly stop: () => void;
}

interface Taken {
  readonly result: readonly {
    readonly scriptId: string;
    readonly url: string;
    readonly functions: readonly {
      readonly ranges: readonly { readonly startOffset: number; readonly endOffset: number; readonly count: number }[];
    }[];
  }[];
}

/** Counts are taken by their order of magnitude, or every longer list would be news. */
const magnitude = (count: number): number => (count < 2 ? count : count < 8 ? 2 : count < 64 ? 3 : 4);

/** Of the code in grammar/ and server/. One at a time in a thread. */
export function coverageOf(pattern = /\/(grammar|server)\//): Coverage {
  const session = new Session();
  session.connect();
  const post = (method: string, params: object = {}): unknown => {
    let answer: unknown;
    session.post(method, params, (error, result) => {
      if (error) throw error;
      answer = result;
    });
    return answer;
  };
  post('Profiler.enable');
  post('Profiler.startPreciseCoverage', { callCount: true, detailed: true });
  const seen = new Map<string, Map<number, number>>();
  let size = 0;
  return {
    fresh() {
      let found = 0;
      // Taking the counts sets them back, and what has not run since is not told.
      for (const { scriptId, url, functions } of (post('Profiler.takePreciseCoverage') as Taken).result) {
        if (!pattern.test(url) || url.includes('/node_modules/')) continue;
        let known = seen.get(scriptId);
        if (!known) {
          known = new Map();
          seen.set(scriptId, known);
        }
        for (const { ranges } of functions) {
          for (const { startOffset, endOffset, count } of ranges) {
            if (count === 0) continue;
            const key = startOffset * 1_000_000 + (endOffset % 1_000_000);
            const bit = 1 << magnitude(count);
            const before = known.get(key) ?? 0;
            if ((before & bit) !== 0) continue;
            if (before === 0) size++;
            known.set(key, before | bit);
            found++;
          }
        }
      }
      return found;
    },
    size: () => size,
    stop: () => session.disconnect(),
  };
}
