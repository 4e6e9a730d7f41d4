/** One target on a thread of its own, which can be ended in the middle of a case that never ends. */
import { parentPort, workerData } from 'node:worker_threads';
import { coverageOf } from './coverage.ts';
import { explore, type Found, faultOf } from './explore.ts';
import { randomFrom } from './random.ts';
import { growthFault } from './scaling.ts';

export interface WorkerAsked {
  readonly target: string;
  readonly seed: number;
  readonly milliseconds: number;
  readonly corpus: readonly string[];
  readonly known: readonly string[];
  /** Only this case is run, and the worker ends. */
  readonly only?: string;
}

export type WorkerTold =
  | { readonly kind: 'case'; readonly text: string }
  | { readonly kind: 'found'; readonly found: Found }
  | {
      readonly kind: 'done';
      readonly tried: number;
      readonly kept: readonly string[];
      readonly reached: number;
      readonly processor: number;
    };

const { target: name, seed, milliseconds, corpus, known, only } = workerData as WorkerAsked;
const tell = (told: WorkerTold): void => parentPort?.postMessage(told);
// Blocks are counted of what is compiled from now on, so what is tried is loaded behind this.
const coverage = only === undefined ? coverageOf() : undefined;
const { targetNamed } = await import('./targets.ts');
const target = targetNamed(name);

if (!coverage) {
  await faultOf(target, only ?? '');
  tell({ kind: 'done', tried: 1, kept: [], reached: 0, processor: 0 });
} else {
  const began = performance.now();
  const cpu = process.threadCpuUsage();
  const { tried, kept } = await explore({
    target,
    random: randomFrom(seed),
    corpus,
    coverage,
    known: new Set(known),
    goOn: () => performance.now() - began < milliseconds,
    onCase: (text) => tell({ kind: 'case', text }),
    onFound: (found) => tell({ kind: 'found', found }),
  });
  coverage.stop();
  // Time is compared without the counting of blocks, which is not the same for every piece of code.
  const half = performance.now();
  const slow = growthFault(
    target,
    [...corpus, ...kept].slice(-40).reverse(),
    (text) => tell({ kind: 'case', text }),
    () => performance.now() - half < milliseconds / 6,
  );
  if (slow) tell({ kind: 'found', found: slow });
  const { user, system } = process.threadCpuUsage(cpu);
  tell({ kind: 'done', tried, kept, reached: coverage.size(), processor: (user + system) / 1000 });
}
process.exit(0);
