/**
 * `npm run fuzz -- --minutes 30 [--target NAME]... [--seed N] [--patience SECONDS]`
 *
 * Each target in turn, for an equal share of the time. What does not hold is written, made small, to the corpus of its
 * target, where the tests run it from then on; the status is 1 then.
 */
import { parseArgs } from 'node:util';
import { Worker } from 'node:worker_threads';
import { corpusFolder, corpusOf, grownFolder, keep } from './corpus.ts';
import type { Found } from './explore.ts';
import { targetNamed, targetNames } from './targets.ts';
import type { WorkerAsked, WorkerTold } from './worker.ts';

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '10' },
    target: { type: 'string', multiple: true },
    seed: { type: 'string' },
    patience: { type: 'string', default: '60' },
    /** Where failing cases are written; the corpus of the repository where nothing is said. */
    into: { type: 'string', default: corpusFolder },
  },
});
const wanted = values.target ?? targetNames;
for (const name of wanted)
  if (!targetNames.includes(name)) stop(`There is no target "${name}"; there are ${targetNames.join(', ')}.`);
const minutes = Number(values.minutes);
const patience = Number(values.patience) * 1000;
const seed = values.seed === undefined ? Date.now() & 0x7fffffff : Number(values.seed);
if (!(minutes > 0) || !(patience > 0) || !Number.isInteger(seed))
  stop('--minutes and --patience are numbers above 0, --seed is a whole number.');

function stop(why: string): never {
  console.error(why);
  process.exit(2);
}

interface Slice {
  readonly tried: number;
  readonly kept: number;
  readonly reached: number;
  readonly processor: number;
}

/** Some seconds of one target. A case that never ends, or ends the thread, is a fault like any other. */
function slice(
  target: string,
  from: number,
  milliseconds: number,
  known: Set<string>,
  onFound: (found: Found) => void,
): Promise<Slice> {
  const corpus = [
    ...targetNamed(target).seeds(),
    ...[...corpusOf(target), ...corpusOf(target, grownFolder)].map(({ text }) => text),
  ];
  return new Promise((resolve) => {
    const asked: WorkerAsked = { target, seed: from, milliseconds, corpus, known: [...known] };
    const worker = new Worker(new URL('worker.ts', import.meta.url), {
      workerData: asked,
      resourceLimits: { maxOldGenerationSizeMb: 1_500 },
    });
    let last = '';
    let cases = 0;
    let seen = performance.now();
    let done = false;
    const end = (how: Slice): void => {
      if (done) return;
      done = true;
      clearInterval(watch);
      void worker.terminate();
      resolve(how);
    };
    const lost = (signature: string, message: string): void => {
      if (done) return;
      onFound({ signature, message, text: last });
      end({ tried: cases, kept: 0, reached: 0, processor: milliseconds });
    };
    const watch = setInterval(() => {
      // A thread that starts has a lot to read first.
      if (performance.now() - seen > (cases > 0 ? patience : 5 * patience))
        lost('never ends', `It took more than ${values.patience} s, and was ended.`);
    }, 500);
    worker.on('message', (told: WorkerTold) => {
      seen = performance.now();
      if (told.kind === 'case') {
        last = told.text;
        cases++;
      } else if (told.kind === 'found') onFound(told.found);
      else {
        for (const text of told.kept) keep(target, text, grownFolder);
        end({ ...told, kept: told.kept.length });
      }
    });
    worker.on('error', (error) => lost('ends its thread', String((error as Error).stack ?? error)));
    worker.on('exit', (code) => setTimeout(() => lost('ends its thread', `status ${code}`), 1_000));
  });
}

console.log(`seed ${seed}, ${minutes} minutes, ${wanted.join(', ')}`);
const until = performance.now() + minutes * 60_000;
const rounds = Math.max(1, Math.round(minutes / 20));
const share = (minutes * 60_000) / rounds / wanted.length;
const faults = new Map(wanted.map((name) => [name, new Set<string>()]));
const totals = new Map(wanted.map((name) => [name, { tried: 0, kept: 0, reached: 0, processor: 0 }]));
let any = 0;
let turn = 0;
while (performance.now() < until - 1_000) {
  for (const target of wanted) {
    const left = until - performance.now();
    if (left < 1_000) break;
    const from = seed + turn++;
    const known = faults.get(target) as Set<string>;
    const made = await slice(
      target,
      from,
      Math.min(share, left),
      known,
      ({ signature, message, text, target: of = target }) => {
        if (known.has(signature)) return;
        known.add(signature);
        any++;
        console.log(
          `\n${target}, seed ${from}: ${signature}\n${message}\n  written to ${keep(of, text, values.into, 'found')}\n`,
        );
      },
    );
    const total = totals.get(target) as Slice;
    totals.set(target, {
      tried: total.tried + made.tried,
      kept: total.kept + made.kept,
      reached: Math.max(total.reached, made.reached),
      processor: total.processor + made.processor,
    });
    console.log(
      `${target}: ${made.tried} cases, ${made.kept} kept, ${made.reached} places of the code reached, ${(made.processor / 1000).toFixed(0)} s`,
    );
  }
}
console.log('\ntarget        cases    kept  reached  processor seconds');
for (const [name, { tried, kept, reached, processor }] of totals)
  console.log(
    `${name.padEnd(12)} ${String(tried).padStart(7)} ${String(kept).padStart(6)} ${String(reached).padStart(8)} ${(processor / 1000).toFixed(0).padStart(8)}`,
  );
console.log(any === 0 ? 'Everything holds.' : `${any} faults.`);
process.exit(any === 0 ? 0 : 1);
