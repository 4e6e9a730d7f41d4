/** `storypole plan --verify FILE`: whether the plans in a report hold, worked out by the verifier alone. */

import { resolve } from 'node:path';
import type { MaterialTotals } from '../cutting/types.ts';
import { NotAReport, type VerifiedProject, verifyReport } from '../cutting/verify-report.ts';
import { limits } from '../model/limits.ts';
import { showInches, showLength } from '../model/show.ts';
import { ticks } from '../model/ticks.ts';
import type { Answer } from './answer.ts';
import { documentOf } from './json.ts';
import { type Common, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { wholeOf } from './whole.ts';
import { counted, money, printable } from './words.ts';

const largestReport = limits.largestReport.most;

/** Status 1 where a plan does not hold. Throws Stop where the file is no report of plans. */
export function verifyFile(written: string, options: Common): Answer {
  const session = sessionFor(options);
  const projects = projectsIn(resolve(session.current, written), written);
  const status = projects.some(({ violations }) => violations.length > 0) ? 1 : 0;
  if (options.format === 'json') {
    return {
      status,
      result: documentOf('verify', {
        projects: projects.map(({ title, root, plan, violations }) => ({
          title,
          root,
          planned: plan !== undefined,
          holds: violations.length === 0,
          violations,
        })),
      }),
    };
  }
  return { status, result: [`${projects.map(text).join('\n\n')}\n`] };
}

function projectsIn(file: string, written: string): VerifiedProject[] {
  const bytes = wholeOf(file, written, largestReport);
  try {
    return verifyReport(JSON.parse(bytes.toString('utf8')));
  } catch (error) {
    if (error instanceof NotAReport)
      throw new Stop(`${written} is no report of plans: ${error.message}. storypole plan --format json writes one.`);
    if (error instanceof SyntaxError)
      throw new Stop(`${written} is no JSON: ${error.message}. storypole plan --format json writes a report of plans.`);
    throw error;
  }
}

const mostTold = 20;

function text({ title, root, plan, violations }: VerifiedProject): string {
  const name = printable(title === '' ? root : title);
  if (!plan) return `${name}: the report has no plan.`;
  if (violations.length > 0) {
    const more = violations.length - mostTold;
    return [
      `${name}: the plan does not hold.`,
      ...violations.slice(0, mostTold).map(({ rule, where, message }) => `  ${rule}, ${where}: ${message}`),
      ...(more > 0 ? [`  and ${counted(more, 'more')}`] : []),
    ].join('\n');
  }
  return [`${name}: the plan holds.`, ...plan.totals.map((totals) => `  ${proof(totals)}`)].join('\n');
}

/** What was worked out again, and what has to be believed. */
function proof(totals: MaterialTotals): string {
  const { material, price = 0, keptValue, takenValue = 0, boughtLength, boardCount, bound } = totals;
  const inMoney = bound.measure === 'price';
  const amount = (cost: number): string => (inMoney ? money(cost, undefined) : showLength(ticks(cost), showInches));
  const spent = inMoney ? price + takenValue - (keptValue ?? 0) : boughtLength;
  const cost =
    keptValue === undefined ? amount(spent) : `${amount(price)}, ${amount(spent)} with what offcuts are worth`;
  const plan = `${printable(material)}: ${counted(boardCount, 'board')}, ${cost}`;
  const certified = bound.proof === 'search' ? bound.certified : bound;
  const least = `no plan can come to less than ${amount(certified.cost)}, worked out again`;
  if (bound.proof !== 'search')
    return `${plan}; ${spent <= certified.cost ? 'no plan can come to less, worked out again' : least}.`;
  return `${plan}; ${least}; that none comes to less than ${amount(bound.cost)} was found by a search, and is not worked out here.`;
}
