/** A cutting plan as JSON: what was asked for, the patterns, what is left over, and the figures. */
import type { Planned } from '../checks/analysis.ts';
import { overLimits } from '../cutting/patterns/figures.ts';
import { sparesCut } from '../cutting/spares.ts';
import type {
  Certificate,
  CertifiedBound,
  MaterialTotals,
  Pattern,
  Plan,
  PlanBound,
  PlanRequest,
  StockLength,
} from '../cutting/types.ts';
import { verify } from '../cutting/verify.ts';
import type { ProjectSettings } from '../model/settings.ts';
import { type Ticks, ticks } from '../model/ticks.ts';
import { findingJson, lengthJson, lengthOrNull, moneyJson, type PathOf } from './json.ts';
import { adviceJson, originJson } from './json-advice.ts';
import { each } from './json-text.ts';
import type { LocatedFinding } from './located.ts';

/** A plan with what it was made under. */
export interface PlannedCuts {
  readonly planned: Planned;
  readonly settings: ProjectSettings;
  /** All of the project; those about stock are listed with the plan. */
  readonly findings: readonly LocatedFinding[];
}

export function planJson(head: object, { planned, settings, findings }: PlannedCuts, pathOf: PathOf): object {
  const { show } = settings;
  const { demand, plan, advice, levers } = planned;
  const { pieces, stock, saw, limits, sets = [], worth = [], spares = [] } = demand.request;
  const cut = plan ? sparesCut(plan) : undefined;
  return {
    ...head,
    saw: {
      kerf: lengthJson(saw.kerf, show),
      trim: lengthJson(saw.trim ?? ticks(0), show),
      keepOffcutsFrom: lengthJson(saw.keepOffcutsFrom, show),
      step: lengthOrNull(saw.step, show),
    },
    limits: { patterns: limits?.patterns ?? null, stopSettings: limits?.stopSettings ?? null },
    pieces: each(pieces, ({ id, material, length, quantity }) => ({
      id,
      material,
      length: lengthJson(length, show),
      quantity,
      for: (demand.origins.get(id) ?? []).map(originJson),
    })),
    sets: each(sets, ({ id, runs, quantity }) => ({
      id,
      name: demand.matched.get(id)?.name ?? null,
      runs: runs.map((run) => ({ piece: run.piece, quantity: run.quantity })),
      quantity,
    })),
    spares: each(spares, ({ id, material, least, most, quantity }) => ({
      id,
      material,
      least: lengthJson(least, show),
      most: lengthJson(most, show),
      wanted: quantity,
      cut: cut?.get(id) ?? 0,
    })),
    stock: each(stock, (board) => stockJson(board, settings)),
    worth: each(worth, ({ material, price, per }) => ({
      material,
      price: moneyJson(price, settings.currency),
      per: lengthJson(per, show),
    })),
    planned: plan !== undefined,
    // Added up again here by the verifier, which shares no code with the planner.
    verified: plan !== undefined && verify(demand.request, plan).length === 0,
    ...planBody(plan, demand.request, settings),
    ...adviceJson(advice, levers, demand, settings),
    findings: each(
      findings.filter(({ finding }) => finding.rule.family === 'stock'),
      (located) => findingJson(located, pathOf),
    ),
  };
}

function stockJson(
  { id, material, length, price, count, offcut }: StockLength,
  { show, currency }: ProjectSettings,
): object {
  return {
    id,
    material,
    length: lengthJson(length, show),
    offcut,
    price: price === undefined ? null : moneyJson(price, currency),
    count: count ?? null,
  };
}

const noPlan: Plan = { version: 1, patterns: [], uncut: [], totals: [] };

function planBody(plan: Plan = noPlan, { stock, limits }: PlanRequest, settings: ProjectSettings): object {
  const { show } = settings;
  const lengths = new Map(stock.map(({ id, length }) => [id, length]));
  return {
    patterns: each(plan.patterns, (pattern) => patternJson(pattern, lengths.get(pattern.stock), settings)),
    offcutsKept: each(offcutsKept(plan.patterns), ({ material, length, count }) => ({
      material,
      length: lengthJson(length, show),
      count,
    })),
    uncut: each(plan.uncut, ({ piece, material, length, quantity, reason }) => ({
      piece,
      material,
      length: lengthJson(length, show),
      quantity,
      reason,
    })),
    totals: each(plan.totals, (total) => totalsJson(total, limits, settings)),
  };
}

function patternJson(pattern: Pattern, length: Ticks | undefined, { show }: ProjectSettings): object {
  return {
    stock: pattern.stock,
    material: pattern.material,
    length: lengthJson(length ?? ticks(0), show),
    times: pattern.times,
    cuts: pattern.cuts.map((cut) => ({
      piece: cut.piece,
      length: lengthJson(cut.length, show),
      quantity: cut.quantity,
      set: cut.set ?? null,
    })),
    spares: (pattern.spares ?? []).map((cut) => ({
      spare: cut.piece,
      length: lengthJson(cut.length, show),
      quantity: cut.quantity,
    })),
    used: lengthJson(pattern.used, show),
    kerfLoss: lengthJson(pattern.kerfLoss, show),
    offcut: lengthJson(pattern.offcut, show),
    keep: pattern.keep,
  };
}

/** What goes back to the rack: by material, the longest first. */
export function offcutsKept(
  patterns: readonly Pattern[],
): { readonly material: string; readonly length: Ticks; readonly count: number }[] {
  const kept = patterns.filter(({ keep }) => keep);
  return [...Map.groupBy(kept, ({ material, offcut }) => `${material} ${offcut}`).values()]
    .flatMap((alike) => {
      const [first] = alike;
      const count = alike.reduce((sum, { times }) => sum + times, 0);
      return first ? [{ material: first.material, length: first.offcut, count }] : [];
    })
    .sort((a, b) => (a.material < b.material ? -1 : a.material > b.material ? 1 : b.length - a.length));
}

function totalsJson(total: MaterialTotals, limits: PlanRequest['limits'], settings: ProjectSettings): object {
  const { show, currency } = settings;
  const { bound } = total;
  return {
    material: total.material,
    boards: total.boards.map(({ stock, length, count }) => ({ stock, length: lengthJson(length, show), count })),
    boardCount: total.boardCount,
    pieceCount: total.pieceCount,
    spareCount: total.spareCount ?? 0,
    patternCount: total.patternCount,
    stopSettings: total.stopSettings,
    before: total.before ?? null,
    withinLimits: overLimits(total, limits).length === 0,
    price: total.price === undefined ? null : moneyJson(total.price, currency),
    keptValue: total.keptValue === undefined ? null : moneyJson(total.keptValue, currency),
    takenValue: total.takenValue === undefined ? null : moneyJson(total.takenValue, currency),
    boughtLength: lengthJson(total.boughtLength, show),
    stockLength: lengthJson(total.stockLength, show),
    usedLength: lengthJson(total.usedLength, show),
    trimLoss: lengthJson(total.trimLoss, show),
    kerfLoss: lengthJson(total.kerfLoss, show),
    keptCount: total.keptCount,
    keptLength: lengthJson(total.keptLength, show),
    waste: lengthJson(total.waste, show),
    bound: {
      proof: bound.proof,
      measure: bound.measure,
      ...figuresJson(bound, bound.measure, settings),
      certificate: bound.proof === 'dual' ? certificateJson(bound.certificate, show) : null,
      certified:
        bound.proof === 'search'
          ? {
              ...figuresJson(bound.certified, bound.measure, settings),
              certificate: bound.certified.certificate ? certificateJson(bound.certified.certificate, show) : null,
            }
          : null,
    },
  };
}

function figuresJson(
  { cost, boards }: CertifiedBound,
  measure: PlanBound['measure'],
  { show, currency }: ProjectSettings,
): object {
  return {
    price: measure === 'price' ? moneyJson(cost, currency) : null,
    length: measure === 'length' ? lengthJson(ticks(cost), show) : null,
    boards,
  };
}

function certificateJson({ grid, weights, worth }: Certificate, show: ProjectSettings['show']): object {
  return {
    grid,
    worth: worth ?? null,
    weights: weights.map(([length, weight]) => ({ length: lengthJson(length, show), weight })),
  };
}
