/**
 * What the planner reaches, and how soon: published instances, projects of the size of a building, and the
 * example project. Given a folder, the instances in it too (formats: tests/cutting/instances/README.md).
 * Run with `npm run bench:cutting [-- FOLDER]`.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import path from 'node:path';
import { createWorkspace } from '../../server/checks/analysis.ts';
import { demandOf } from '../../server/cutting/demand.ts';
import { firstPlan } from '../../server/cutting/first-fit.ts';
import { optimal, rememberingPlanner } from '../../server/cutting/optimal.ts';
import { tasksOf } from '../../server/cutting/prepare.ts';
import type { MaterialTotals, Plan, Planner, PlanRequest } from '../../server/cutting/types.ts';
import { verify } from '../../server/cutting/verify.ts';
import { nodeFiles } from '../../server/model/node-files.ts';
import { closets } from '../cutting/projects.ts';
import { type Instance, readInstances, readOptima, requestOf } from '../cutting/published.ts';
import { bestFit } from './best-fit.ts';

const root = path.resolve(import.meta.dirname, '../..');
/** A task is left after this long, in milliseconds. */
const LIMIT = 60_000;

const costOf = (totals: MaterialTotals): number => totals.price ?? totals.boughtLength;
const percent = (part: number) => `${(100 * part).toFixed(4)} %`;
const milliseconds = (time: number) => (time < 10_000 ? `${time.toFixed(0)} ms` : `${(time / 1000).toFixed(1)} s`);
const gapOf = (totals: MaterialTotals) =>
  totals.bound.cost >= costOf(totals) ? 0 : (costOf(totals) - totals.bound.cost) / totals.bound.cost;

/** A run: its last plan, how long it took in milliseconds, and when the plan had its last cost and bound. */
interface Run {
  readonly plan: Plan;
  readonly time: number;
  readonly first: number;
  readonly settled: number;
  /** The most that the process has taken until then, in MB. */
  readonly memory: number;
}

/** Plans until the end or the limit; the verifier has the last word. */
function run(request: PlanRequest, planner: Planner, watch?: (plan: Plan, time: number) => void): Run {
  const from = performance.now();
  let last: Plan | undefined;
  let [first, settled] = [0, 0];
  for (const plan of planner.plan(request)) {
    if (!last) first = performance.now() - from;
    if (plan !== last) watch?.(plan, performance.now() - from);
    if (plan !== last && !plan.totals.some(({ before }) => before)) settled = performance.now() - from;
    last = plan;
    if (performance.now() - from > LIMIT) break;
  }
  const time = performance.now() - from;
  const memory = Math.round(process.resourceUsage().maxRSS / 1e3);
  const violations = verify(request, last as Plan);
  if (violations.length > 0) throw new Error(`the plan does not hold: ${violations[0]?.message}`);
  return { plan: last as Plan, time, first, settled, memory };
}

/** What cutting anew in fewer patterns comes to. */
function sawWork(all: readonly MaterialTotals[]): string {
  const sum = (figure: (totals: MaterialTotals) => number) => all.reduce((total, each) => total + figure(each), 0);
  const before = sum(({ before, patternCount }) => before?.patternCount ?? patternCount);
  const settings = sum(({ before, stopSettings }) => before?.stopSettings ?? stopSettings);
  return (
    `patterns ${before} before, ${sum(({ patternCount }) => patternCount)} after; ` +
    `settings of the stop ${settings} before, ${sum(({ stopSettings }) => stopSettings)} after`
  );
}

function benchClass(name: string, instances: readonly Instance[]): void {
  const times: number[] = [];
  let [asOptimum, known, certified, searched, worst, firstBest, bestBest] = [0, 0, 0, 0, 0, 0, 0];
  const open: string[] = [];
  const all: MaterialTotals[] = [];
  let [firstPlans, whole] = [0, 0];
  for (const instance of instances) {
    const request = requestOf(instance);
    const { plan, time, first, settled } = run(request, optimal);
    const totals = plan.totals[0] as MaterialTotals;
    all.push(totals);
    firstPlans = Math.max(firstPlans, first);
    whole += time;
    const boards = instance.stock.length === 1 && instance.stock[0]?.price === undefined;
    const value = boards ? totals.boardCount : costOf(totals);
    const gap = gapOf(totals);
    times.push(settled);
    worst = Math.max(worst, gap);
    if (gap === 0 && totals.bound.proof === 'search') searched++;
    else if (gap === 0) certified++;
    else open.push(instance.name);
    if (instance.optimum !== undefined) {
      known++;
      if (value === instance.optimum) asOptimum++;
      const bound = boards ? totals.bound.boards : totals.bound.cost;
      if (bound > instance.optimum)
        throw new Error(`${instance.name}: bound ${bound} above optimum ${instance.optimum}`);
    }
    const [task] = tasksOf(request);
    if (costOf(firstPlan(request).totals[0] as MaterialTotals) === costOf(totals)) firstBest++;
    if (task && bestFit(task.sizes, task.kinds) === costOf(totals)) bestBest++;
  }
  times.sort((a, b) => a - b);
  const count = instances.length;
  console.log(`${name}: ${count} instances`);
  console.log(
    `  as good: first-fit ${firstBest}, best-fit ${bestBest}, planner ${known > 0 ? `${asOptimum} of ${known} known optima` : count}`,
  );
  console.log(`  proven: ${certified} in whole numbers, ${searched} by search; worst gap ${percent(worst)}`);
  console.log(
    `  cost and bound: median ${milliseconds(times[Math.floor(count / 2)] as number)}, longest ${milliseconds(times.at(-1) as number)}; ` +
      `first plan ${milliseconds(firstPlans)} at most; to the end ${milliseconds(whole / count)} on average`,
  );
  console.log(`  ${sawWork(all)}`);
  if (open.length > 0) console.log(`  not proven: ${open.slice(0, 20).join(', ')}${open.length > 20 ? ', ...' : ''}`);
}

function benchFolder(folder: string): void {
  const optimaFile = path.join(folder, 'optima.tsv');
  const optima = existsSync(optimaFile) ? readOptima(readFileSync(optimaFile, 'utf8')) : new Map<string, number>();
  const instances: Instance[] = [];
  for (const name of readdirSync(folder).sort()) {
    const file = path.join(folder, name);
    if (statSync(file).isDirectory()) benchFolder(file);
    else if (!/[.](tsv|md)$/.test(name)) {
      try {
        const own = readInstances(name, readFileSync(file, 'utf8'), optima);
        if (own.length > 1) benchClass(file, own);
        else instances.push(...own);
      } catch (error) {
        console.log(`${file} is passed over: ${error instanceof Error ? error.message : error}`);
      }
    }
  }
  if (instances.length > 0) benchClass(folder, instances);
}

function benchProject(name: string, request: PlanRequest): void {
  console.log(name);
  const marks = [0.005, 0.0005, 0];
  const watch = (plan: Plan, time: number): void => {
    const gap = gapOf(plan.totals[0] as MaterialTotals);
    while (marks.length > 0 && gap <= (marks[0] as number)) {
      const mark = marks.shift() as number;
      console.log(`  ${mark === 0 ? 'proven optimal' : `within ${100 * mark} %`} after ${milliseconds(time)}`);
    }
  };
  const { plan, time, first: soonest, settled, memory } = run(request, optimal, watch);
  const totals = plan.totals[0] as MaterialTotals;
  const [task] = tasksOf(request);
  const over = (cost: number) => percent((cost - totals.bound.cost) / totals.bound.cost);
  const first = costOf(firstPlan(request).totals[0] as MaterialTotals);
  console.log(
    `  first-fit ${over(first)}, best-fit ${task ? over(bestFit(task.sizes, task.kinds)) : '-'}, planner ${over(costOf(totals))} above the bound`,
  );
  console.log(
    `  first plan ${milliseconds(soonest)}, cost and bound ${milliseconds(settled)}, ${milliseconds(time)} in all, ${totals.boardCount} boards, proof: ${totals.bound.proof}, at most ${memory} MB`,
  );
  console.log(`  ${sawWork([totals])}`);
}

/** Plans a project, changes one unit's worth of pieces, and plans again from what is remembered. */
function benchChange(name: string, request: PlanRequest): void {
  const planner = rememberingPlanner();
  run(request, planner);
  const pieces = request.pieces.map((piece, index) =>
    index % Math.ceil(request.pieces.length / 20) === 0 ? { ...piece, quantity: piece.quantity + 1 } : piece,
  );
  const times: string[] = [];
  for (let round = 0; round < 2; round++) {
    const from = performance.now();
    for (const plan of planner.plan(round === 0 ? { ...request, pieces } : request)) {
      const gap = gapOf(plan.totals[0] as MaterialTotals);
      if (gap > 0.001) continue;
      times.push(`${milliseconds(performance.now() - from)} (${percent(gap)})`);
      break;
    }
  }
  console.log(`${name}: one unit changed, and changed back: within 0.1 % after ${times.join(' and ')}`);
}

function benchExample(): void {
  const workspace = createWorkspace(nodeFiles, []);
  const { files } = workspace.loadFolder(path.join(root, 'examples/quarry-lane'));
  for (const { project } of new Set(files.flatMap((file) => workspace.projectOf(file) ?? []))) {
    project.refreshNow();
    // What is left over is cut up when the plan is finished: no matter of the planner's.
    const request = { ...demandOf(project).request, spares: [] };
    if (request.pieces.length === 0) continue;
    const first = firstPlan(request);
    const { plan, time } = run(request, optimal);
    console.log(`example project, ${milliseconds(time)}`);
    for (const totals of plan.totals) {
      const before = first.totals.find(({ material }) => material === totals.material) as MaterialTotals;
      const saved = (costOf(before) - costOf(totals)) / (totals.price === undefined ? 1_016_000 : 100);
      console.log(
        `  ${totals.material}: ${totals.boardCount} boards, ${before.boardCount - totals.boardCount} fewer than first-fit, ` +
          `${saved.toFixed(2)} ${totals.price === undefined ? 'in' : 'of money'} saved, gap ${percent(gapOf(totals))}, ${totals.bound.proof}`,
      );
      console.log(`    ${sawWork([totals])}`);
    }
  }
}

/** Each in a process of its own, so that its memory is its own. */
const projects: readonly (readonly [name: string, request: () => PlanRequest])[] = [
  ['500 closets, 12 lengths, 9,833 pieces', () => closets()],
  ['12,000 pieces of 600 lengths in 1/16 in', () => closets(600, 12_000, 16)],
  ['12,000 pieces of 600 lengths in 1/64 in', () => closets(600, 12_000, 64)],
];

const [, file = '', folder, number] = process.argv;
const alone = folder === '--project' ? projects[Number(number)] : undefined;
if (alone) benchProject(alone[0], alone[1]());
else if (folder) benchFolder(path.resolve(folder));
else {
  const shipped = path.join(root, 'tests/cutting/instances');
  const optima = readOptima(readFileSync(path.join(shipped, 'optima.tsv'), 'utf8'));
  for (const number of [1, 2, 3, 4]) {
    const name = `binpack${number}.txt`;
    benchClass(name, readInstances(name, readFileSync(path.join(shipped, name), 'utf8'), optima));
  }
  for (const at of projects.keys()) {
    const { stdout, stderr } = spawnSync(process.execPath, [file, '--project', String(at)], { encoding: 'utf8' });
    console.log(stdout.trimEnd() || stderr);
  }
  benchChange('12,000 pieces of 600 lengths in 1/16 in', closets(600, 12_000, 16));
  benchExample();
}
