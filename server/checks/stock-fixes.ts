/**
 * More of the stock that is counted, where it does not hold the parts. No rule but those about stock reads
 * counts, so those are run again, on the parts of the whole project.
 */

import { type NumberLiteral, placeOf, type Statement } from '../../grammar/tree.ts';
import { type Demand, demandOf } from '../cutting/demand.ts';
import type { StockLength } from '../cutting/types.ts';
import { stockPlan } from '../cutting/verified.ts';
import type { Finding, Fix } from '../model/finding.ts';
import type { Project } from '../model/project.ts';
import { showLength } from '../model/show.ts';
import { findingsOfPlan } from './analysis.ts';
import { stockPlanDoesNotFit, stockShort } from './stock.ts';

/** Whether counts could mend it. */
export function isShortage({ rule }: Finding): boolean {
  return rule === stockShort || rule === stockPlanDoesNotFit;
}

/**
 * The counts with which the plan that is found at once holds all parts. Made by hand: that so many can be had
 * is for somebody to know.
 */
export function moreStock(project: Project, { about: material }: Finding): Fix[] {
  const demand = demandOf(project);
  const { request, items } = demand;
  const bought = request.stock.filter((one) => one.material === material && !one.offcut && one.count !== undefined);
  if (bought.length === 0) return [];
  const times = timesOf({
    ...demand,
    request: {
      ...request,
      stock: request.stock.map((one) => (bought.includes(one) ? { ...one, count: undefined } : one)),
    },
  });
  const raised = bought.flatMap((one) => {
    const count = times.get(one.id) ?? 0;
    return count > (one.count ?? 0) ? [{ ...one, count }] : [];
  });
  if (raised.length === 0 || !holds(project, demand, raised)) return [];
  const edits = raised.flatMap(({ id, count }) => {
    const statement = items.get(id)?.place.statement;
    const at = statement && writtenCount(statement);
    return at ? [{ place: placeOf(statement, at), text: String(count) }] : [];
  });
  const said = raised.map(({ id, count, length }) => {
    const before = bought.find((one) => one.id === id)?.count;
    return `count ${count} of ${showLength(length, project.settings.show)} instead of ${before}`;
  });
  return edits.length === raised.length
    ? [{ title: `Write ${said.join(', ')}, if they can be had`, edits, byHand: true }]
    : [];
}

/** How many of each length a plan takes. */
function timesOf({ request }: Demand): Map<string, number> {
  const times = new Map<string, number>();
  for (const { stock, times: more } of stockPlan(request)?.patterns ?? [])
    times.set(stock, (times.get(stock) ?? 0) + more);
  return times;
}

/** With these counts nothing is short of the material, and no rule about stock finds more than before. */
function holds(project: Project, demand: Demand, raised: readonly StockLength[]): boolean {
  const stock = demand.request.stock.map((one) => raised.find(({ id }) => id === one.id) ?? one);
  const request = { ...demand.request, stock };
  const of = (tried: Demand) => findingsOfPlan(project, { demand: tried, plan: stockPlan(tried.request) });
  const [before, after] = [of(demand), of({ ...demand, request })];
  const short = after.some((found) => isShortage(found) && raised.some(({ material }) => material === found.about));
  return !short && after.length < before.length;
}

/** The number behind `count`. */
function writtenCount({ items }: Statement): NumberLiteral | undefined {
  const word = items.findIndex(
    (item) => item.kind === 'path' && item.words.length === 1 && item.words[0]?.text === 'count',
  );
  const number = items[word + 1];
  return word >= 0 && number?.kind === 'number' ? number : undefined;
}
