/**
 * The whole book of rules over a large building: cold, and after an edit of one unit. Printed by run.ts; a process
 * of its own, so that its memory is its own. Beside the time on the clock stands what the thread worked, which says
 * more where others work too.
 */
import { createWorkspace } from '../../server/checks/analysis.ts';
import { rules } from '../../server/checks/table.ts';
import type { Files } from '../../server/model/files.ts';
import { building } from './building.ts';

const units = 10_000;
const surveys = 2000;
const edits = 30;

const nowhere: Files = {
  read: () => ({ kind: 'failed', why: 'it is not there' }),
  list: () => undefined,
  kindOf: () => undefined,
  real: (path) => path,
};

const text = building(units, surveys);
const file = '/building/all.closet';
const from = performance.now();
const worked = process.threadCpuUsage();
const workspace = createWorkspace(nowhere, []);
const { project } = workspace.openDocument(file, text);
project.refreshNow();
const findings = project.findings();
const cold = performance.now() - from;
const { user, system } = process.threadCpuUsage(worked);
const { unitsEvaluated, layoutsResolved } = project.stats;
const megabytes = Math.round(process.memoryUsage().rss / 1e6);
const seen = new Set(findings.map(({ rule }) => rule.id)).size;
console.log(
  `  cold, ${rules.length} rules: ${cold.toFixed(0)} ms (${((user + system) / 1000).toFixed(0)} ms of work) to all ${findings.length} findings of ${seen} rules, ${megabytes} MB; ${unitsEvaluated} units, ${layoutsResolved} layouts resolved`,
);

/** Makes and undoes an edit behind a text that is there once. Median and worst of the times, and layouts resolved by one edit. */
function timed(behind: string, old: string, put: string): string {
  const at = text.indexOf(behind) + behind.length;
  const times: number[] = [];
  const before = project.stats.layoutsResolved;
  const start = process.threadCpuUsage();
  for (let i = 0; i < edits; i++) {
    const [was, is] = i % 2 === 0 ? [old, put] : [put, old];
    const began = performance.now();
    workspace.editDocument(file, [{ start: at, end: at + was.length, text: is }]);
    project.refreshNow();
    project.findings();
    times.push(performance.now() - began);
  }
  times.sort((a, b) => a - b);
  const work = process.threadCpuUsage(start);
  const resolved = (project.stats.layoutsResolved - before) / edits;
  return `${times[Math.floor(edits / 2)]?.toFixed(1)} ms, ${times.at(-1)?.toFixed(1)} ms; ${((work.user + work.system) / 1000 / edits).toFixed(1)} ms of work and ${resolved.toFixed(1)} layouts an edit`;
}

console.log(
  `  one surveyed unit edited (median, worst): ${timed('unit u777 t7 {\n  floor 17\n  flat A-777\n  width ', '92in', '93in')}`,
);
console.log(
  `  one unit without a survey edited: ${timed('unit u7777 t7 {\n  floor 17\n  flat A-7777\n  width ', '92in', '93in')}`,
);
