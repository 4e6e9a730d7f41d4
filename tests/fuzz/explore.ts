/** Goes from case to case of one target: what reaches new code is gone on from, what does not hold is made small. */
import type { Coverage } from './coverage.ts';
import { minimised } from './minimise.ts';
import type { Random } from './random.ts';
import { NotTaken, signatureOf, type Target } from './target.ts';

export interface Found {
  readonly signature: string;
  readonly message: string;
  readonly text: string;
  /** Where it is a case of another target than the one that came upon it. */
  readonly target?: string;
}

export interface Explored {
  readonly tried: number;
  /** Cases that reached something new. */
  readonly kept: readonly string[];
  readonly found: readonly Found[];
}

export interface Exploring {
  readonly target: Target;
  readonly random: Random;
  readonly corpus: readonly string[];
  /** Whether to go on, asked before every case. */
  readonly goOn: (tried: number) => boolean;
  readonly coverage?: Coverage;
  /** Told of each case before it is run. */
  readonly onCase?: (text: string) => void;
  readonly onFound?: (found: Found) => void;
  /** Faults that are known already, by what they are called: they are passed over. */
  readonly known?: ReadonlySet<string>;
}

const longestMinimising = 90_000;

export async function faultOf(target: Target, text: string): Promise<unknown> {
  try {
    await target.run(text);
    return undefined;
  } catch (error) {
    return error ?? new Error('nothing was thrown');
  }
}

/** Runs the corpus first, then what comes of it. */
export async function explore({
  target,
  random,
  corpus,
  goOn,
  coverage,
  onCase,
  onFound,
  known,
}: Exploring): Promise<Explored> {
  const cases = [...corpus];
  const kept: string[] = [];
  const found: Found[] = [];
  const seen = new Set(known);
  let tried = 0;
  const attempt = async (text: string): Promise<void> => {
    tried++;
    onCase?.(text);
    const error = await faultOf(target, text);
    if (error === undefined) return;
    const signature = signatureOf(error);
    if (seen.has(signature)) return;
    seen.add(signature);
    const began = performance.now();
    const small = await minimised(text, async (smaller) => {
      // What takes long to try is left a little larger.
      if (performance.now() - began > longestMinimising) return false;
      onCase?.(smaller);
      const again = await faultOf(target, smaller);
      return again !== undefined && signatureOf(again) === signature;
    });
    const last = (await faultOf(target, small)) ?? error;
    const one = {
      signature,
      message: last instanceof Error ? (last.stack ?? last.message) : String(last),
      text: small,
    };
    found.push(one);
    onFound?.(one);
  };
  for (const text of corpus) {
    if (!goOn(tried)) break;
    await attempt(text);
  }
  coverage?.fresh();
  while (goOn(tried) && cases.length > 0) {
    // What was kept last is the least explored.
    const from = random.chance(0.4) ? Math.max(0, cases.length - 1 - random.int(12)) : random.int(cases.length);
    const others = [random.pick(cases), random.pick(cases)];
    let text: string;
    try {
      text = target.mutate(cases[from] as string, random, others);
    } catch (error) {
      if (!(error instanceof NotTaken)) throw error;
      tried++;
      const { cause } = error;
      const signature = `${error.message}: ${signatureOf(cause)}`;
      if (seen.has(signature)) continue;
      seen.add(signature);
      const one = { signature, message: String((cause as Error).stack ?? cause), text: error.text, target: 'grammar' };
      found.push(one);
      onFound?.(one);
      continue;
    }
    await attempt(text);
    if (coverage && coverage.fresh() > 0) {
      cases.push(text);
      kept.push(text);
    }
  }
  return { tried, kept, found };
}
