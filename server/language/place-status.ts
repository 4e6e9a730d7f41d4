/** What the cursor stands in, for a status line: the unit or the template, what was found there, what it takes. */
import type { Statement } from '../../grammar/tree.ts';
import type { MaterialTotals, Plan, PlanRequest } from '../cutting/types.ts';
import { counted, money } from '../model/money.ts';
import type { Project, Unit } from '../model/project.ts';
import { dotted, nameIn, pathIn, read } from '../model/reading.ts';
import type { Severity } from '../model/rule.ts';
import { topOf } from './locate.ts';
import type { Made } from './made-plan.ts';
import { indexOf, told, worstOf } from './project-index.ts';
import type { Snapshot } from './snapshot.ts';

export interface PlaceStatus {
  readonly kind: 'unit' | 'template';
  readonly name: string;
  /** For one line: `A-101-bedroom · reach-in, mirrored`. */
  readonly text: string;
  /** All of it, in lines. */
  readonly detail: readonly string[];
  readonly severity: Severity | undefined;
}

/** Undefined outside of units, surveys and templates. */
export function placeStatusAt({ project, source }: Snapshot, offset: number, made: Made): PlaceStatus | undefined {
  const statement = source.statementAt(offset);
  const top = statement && topOf(statement);
  const reading = top && read(top, 'file').reading;
  if (!reading) return undefined;
  if (reading.word === 'template') return templateStatus(project, top, nameIn(reading)?.text ?? '', made);
  const unit = reading.word === 'unit' ? project.unitAt(top) : surveyed(project, reading);
  return unit && unitStatus(project, unit, made);
}

function surveyed(project: Project, reading: Parameters<typeof pathIn>[0]): Unit | undefined {
  const path = reading.word === 'survey' ? pathIn(reading, 'unit') : undefined;
  const declared = path && project.names.find('unit', dotted(path));
  return declared && project.unitAt(declared.statement);
}

function unitStatus(project: Project, unit: Unit, made: Made): PlaceStatus {
  const { name, info, mirrored, survey, count, resolved } = unit;
  const tally = indexOf(project, made.findings).ofUnit(name);
  const built = [
    info ? info.declared.home.prefix + info.declared.name : 'template not known',
    ...(mirrored ? ['mirrored'] : []),
    ...(survey ? ['measured'] : []),
  ].join(', ');
  const parts = resolved?.layout.parts ?? [];
  const byMaterial = [...Map.groupBy(parts, ({ material }) => material)].map(
    ([material, own]) => `${own.length} of ${material}`,
  );
  const cost = shareOf(project, unit, made);
  return {
    kind: 'unit',
    name,
    text: [`${name} · ${built}`, ...told(tally)].join(' · '),
    detail: [
      `Unit ${name}: ${built}`,
      told(tally).join(', ') || 'Nothing found.',
      ...(byMaterial.length > 0 ? [`Parts to cut: ${byMaterial.join(', ')}`] : []),
      ...(cost === undefined ? [] : [`Its share of the stock: ${cost}${count > 1 ? ' each' : ''}`]),
    ],
    severity: worstOf(tally),
  };
}

function templateStatus(project: Project, top: Statement, name: string, made: Made): PlaceStatus {
  const index = indexOf(project, made.findings);
  const tally = index.ofTemplate(top);
  const users = index.usersOf(top).reduce((sum, { count }) => sum + count, 0);
  const used = users === 0 ? 'no unit' : counted(users, 'unit');
  return {
    kind: 'template',
    name,
    text: [`${name} · ${used}`, ...told(tally)].join(' · '),
    detail: [
      `Template ${name}: ${users === 0 ? 'no unit is built from it' : `${used} ${users === 1 ? 'is' : 'are'} built from it`}`,
      told(tally).join(', ') || 'Nothing found.',
    ],
    severity: worstOf(tally),
  };
}

/**
 * What of the stock's price falls to a unit: each board's price shared among the parts cut from it, by their length.
 * Undefined where the plan is not of what is written now, where stock has no price, or where a part is not cut.
 */
function shareOf(project: Project, { resolved }: Unit, { state, cutting }: Made): string | undefined {
  const parts = resolved?.layout.parts ?? [];
  if (state !== 'current' || !cutting || parts.length === 0) return undefined;
  const prices = pricesOf(cutting.plan, cutting.demand.request);
  let sum = 0;
  for (const { material, length } of parts) {
    const price = prices.get(`${material} ${length}`);
    if (price === undefined) return undefined;
    sum += price;
  }
  return money(Math.round(sum), project.settings.currency);
}

const kept = new WeakMap<Plan, ReadonlyMap<string, number>>();

/** By material and length, what one part costs on average over all boards that give one. */
function pricesOf(plan: Plan, request: PlanRequest): ReadonlyMap<string, number> {
  const known = kept.get(plan);
  if (known) return known;
  const stock = new Map(request.stock.map((one) => [one.id, one]));
  const priced = new Set(plan.totals.filter(isPriced).map(({ material }) => material));
  const sums = new Map<string, { price: number; count: number }>();
  for (const { stock: id, material, times, cuts } of plan.patterns) {
    if (!priced.has(material)) continue;
    const price = stock.get(id)?.price ?? 0;
    const used = cuts.reduce((sum, { length, quantity }) => sum + length * quantity, 0);
    for (const { length, quantity } of cuts) {
      const key = `${material} ${length}`;
      const known = sums.get(key) ?? { price: 0, count: 0 };
      known.price += (price * times * length * quantity) / used;
      known.count += times * quantity;
      sums.set(key, known);
    }
  }
  const prices = new Map([...sums].map(([key, { price, count }]) => [key, price / count]));
  kept.set(plan, prices);
  return prices;
}

function isPriced({ price }: MaterialTotals): boolean {
  return price !== undefined;
}
