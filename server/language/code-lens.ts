/**
 * What stands above a template or unit: who uses it, what it takes of the plan, which dimension of it a little smaller
 * would save stock, and whether its longest part is near the next shorter stock length. Which lenses there are is known at once; what they say is asked for one by one.
 */
import { headPlace, offsetOf, type Place, type Range, type Statement } from '../../grammar/tree.ts';
import { stockNearlySaved } from '../checks/near-miss.ts';
import { usableLength } from '../cutting/board.ts';
import type { MaterialTotals } from '../cutting/types.ts';
import type { Finding } from '../model/finding.ts';
import type { Layout, Part, Step } from '../model/layout.ts';
import { memo } from '../model/memo.ts';
import { counted, grouped, money } from '../model/money.ts';
import type { Project, Unit } from '../model/project.ts';
import { dotted, pathIn, readingAt } from '../model/reading.ts';
import { showLength } from '../model/show.ts';
import { stockByMaterial } from '../model/stock-held.ts';
import { inches, type Ticks, ticks } from '../model/ticks.ts';
import { unreadIn } from '../model/unread-units.ts';
import type { Snapshot } from './snapshot.ts';
import { standsFor } from './stands.ts';
import { stockShare } from './stock-share.ts';
import { isWritten } from './target.ts';
import { usersOf } from './users.ts';

export type LensKind = 'uses' | 'boards' | 'savings' | 'stock';

export interface Lens extends Range {
  readonly kind: LensKind;
  readonly say: () => LensText;
}

export interface LensText {
  readonly title: string;
  /** What it leads to. */
  readonly places: readonly Place[];
}

/** The last plan of a project, as far as there is one. */
export interface PlanFigures {
  readonly totals: ReadonlyMap<string, MaterialTotals>;
  /** It holds for what is to be cut now. */
  readonly isCurrent: boolean;
  /** What is found of stock with this plan. */
  readonly findings: readonly Finding[];
}

/**
 * The lenses of some kinds of a file that is up to date, or of a stretch of it. `plan` tells of the one that there is, and
 * is never waited for.
 */
export function lensesOf(
  snapshot: Snapshot,
  kinds: ReadonlySet<LensKind>,
  plan: (project: Project) => PlanFigures | undefined,
  within: Range = { start: 0, end: Number.POSITIVE_INFINITY },
): Lens[] {
  const { project, source } = snapshot;
  const lenses: Lens[] = [];
  let saved: ReadonlyMap<string, Finding> | undefined;
  for (const top of source.statements()) {
    const { text } = top.word;
    if (text !== 'template' && text !== 'unit') continue;
    const base = offsetOf(top);
    const name = top.items[0] ?? top.word;
    const at = { start: base + name.start, end: base + name.end };
    if (at.start > within.end || at.end < within.start) continue;
    const unit = project.unitAt(top);
    if (text === 'template' && kinds.has('uses'))
      lenses.push({ ...at, kind: 'uses', say: () => usesOf(snapshot, top) });
    if (unit && kinds.has('boards') && (unit.resolved?.layout.parts.length ?? 0) > 0)
      lenses.push({ ...at, kind: 'boards', say: () => boardsOf(project, unit, plan(project)) });
    if (unit && kinds.has('savings')) saved ??= savingsByUnit(plan(project)?.findings ?? []);
    const saving = unit && saved?.get(unit.name);
    if (saving) lenses.push({ ...at, kind: 'savings', say: () => savingText(snapshot, saving, plan(project)) });
    if (!kinds.has('stock')) continue;
    const near = unit ? nearStock(project, unit.resolved?.layout) : nearestOf(snapshot, top);
    if (near) lenses.push({ ...at, kind: 'stock', say: () => nearText(project, near) });
  }
  return lenses;
}

// Uses

function usesOf(snapshot: Snapshot, template: Statement): LensText {
  const { project } = snapshot;
  const units = usersOf(project).get(template) ?? [];
  const closets = units.reduce((sum, { count }) => sum + count, 0);
  const reading = readingAt(template, 'file');
  const own = reading && pathIn(reading, 'name');
  const builtOn = project.names.written('template').filter((t) => {
    const base = pathIn(t.reading, 'base');
    return own && base && dotted(base) === dotted(own);
  });
  const texts = [
    ...(units.length > 0 ? [`used by ${counted(units.length, 'unit')}`] : []),
    ...(closets !== units.length && units.length > 0 ? [`${grouped(closets)} closets`] : []),
    ...(builtOn.length > 0 ? [`extended by ${counted(builtOn.length, 'template')}`] : []),
  ];
  const statements = [...units.map((u) => u.declared.statement), ...builtOn.map((t) => t.statement)];
  return {
    title: texts.length > 0 ? texts.join(', ') : 'used by no unit of this project',
    places: statements.filter((s) => isWritten(snapshot, s)).map(headPlace),
  };
}

// Boards

/** At most so many materials are named. */
const mostMaterials = 3;

function boardsOf(project: Project, unit: Unit, plan: PlanFigures | undefined): LensText {
  const { settings } = project;
  const parts = unit.resolved?.layout.parts ?? [];
  const places = [headPlace(unit.declared.statement)];
  // What cannot be read has no parts.
  const most = unreadIn(project)(unit).length > 0 ? 'not all can be read; so far ' : '';
  const begin = `${most}${counted(parts.length, 'part')}${unit.count > 1 ? ' each' : ''}`;
  const { known, price } = stockShare(parts, (material) => plan?.totals.get(material));
  if (known.length === 0)
    return {
      title: plan
        ? `${begin}, no stock to cut ${parts.length * unit.count === 1 ? 'it' : 'them'} from`
        : `${begin}, not planned yet`,
      places,
    };
  const named = known.slice(0, mostMaterials).map(({ material, totals, share }) => {
    const boards = Math.round(share * totals.boardCount * 10) / 10;
    return `${boards < 0.1 ? 'under 0.1' : boards} of ${material}`;
  });
  const more = known.length > mostMaterials ? [counted(known.length - mostMaterials, 'more material')] : [];
  const cost = price === undefined ? [] : [money(Math.round(price), settings.currency)];
  const title = `${begin}: about ${[...named, ...more, ...cost].join(', ')}`;
  return { title: plan?.isCurrent ? title : `${title} (before the last edit)`, places };
}

// Savings

/** What saves most of all that reaches a unit, by its name. The findings are in this order. */
function savingsByUnit(findings: readonly Finding[]): ReadonlyMap<string, Finding> {
  const found = new Map<string, Finding>();
  for (const one of findings) {
    if (one.rule !== stockNearlySaved) continue;
    for (const unit of one.reach) if (!found.has(unit)) found.set(unit, one);
  }
  return found;
}

/** It leads to the dimension, where a smaller one is offered. */
function savingText(snapshot: Snapshot, { working, place }: Finding, plan: PlanFigures | undefined): LensText {
  const [{ what, value, how } = { what: '', value: '' }] = working ?? [];
  const title = `${what} ${value}: ${how ?? ''}`;
  return {
    title: plan?.isCurrent ? title : `${title} (before the last edit)`,
    places: isWritten(snapshot, place.statement) ? [place] : [],
  };
}

// Stock lengths

/** Further away than this, nobody looks for the rest in a layout: common practice, no source. */
const nearby = inches(1);

interface Near {
  readonly part: Part;
  readonly stock: Ticks;
  readonly away: Ticks;
}

interface Had {
  /** By material, what can be cut from its boards and how long these are, in rising order. */
  readonly stock: ReadonlyMap<string, readonly { readonly usable: number; readonly length: Ticks }[]>;
  readonly near: WeakMap<Layout, Near | 'none'>;
}

const stocks = new WeakMap<Project['outcome'], Had>();

function stockOf(project: Project): Had {
  return memo(stocks, project.outcome, () => ({ stock: stockIn(project), near: new WeakMap() }));
}

/** By material. */
function stockIn(project: Project): Had['stock'] {
  const { kerf, endTrim: trim, keepOffcutsFrom } = project.settings;
  const stock = new Map<string, { usable: number; length: Ticks }[]>();
  for (const [called, { items }] of stockByMaterial(project.computed('stock'))) {
    const lengths = items.flatMap(({ material, length, offcut }) =>
      offcut
        ? []
        : [{ usable: usableLength({ id: '', material, length, offcut }, { kerf, trim, keepOffcutsFrom }), length }],
    );
    stock.set(
      called,
      lengths.sort((a, b) => a.length - b.length),
    );
  }
  return stock;
}

/** The longest part of a material that a shorter board would nearly hold, the nearest of all materials. */
function nearStock(project: Project, layout: Layout | undefined): Near | undefined {
  if (!layout) return undefined;
  const { stock, near } = stockOf(project);
  const found = memo(near, layout, () => {
    const longest = new Map<string, Part>();
    for (const part of layout.parts)
      if (part.length > (longest.get(part.material)?.length ?? 0)) longest.set(part.material, part);
    let best: Near | undefined;
    for (const [material, part] of longest) {
      const down = stock.get(material)?.findLast(({ usable }) => usable < part.length);
      const away = down && ticks(part.length - down.usable);
      if (down && away !== undefined && away <= nearby && (!best || away < best.away))
        best = { part, stock: down.length, away };
    }
    return best ?? 'none';
  });
  return found === 'none' ? undefined : found;
}

function nearestOf(snapshot: Snapshot, template: Statement): Near | undefined {
  const found = standsFor(snapshot, template).all.flatMap(({ layout }) => nearStock(snapshot.project, layout) ?? []);
  return found.sort((a, b) => a.away - b.away)[0];
}

/** What the length of a part comes from; the rest takes something off. */
const takesFrom: ReadonlySet<Step['kind']> = new Set<Step['kind']>(['wall', 'zone', 'height', 'given']);

function nearText({ settings }: Project, { part, stock, away }: Near): LensText {
  const [down, by] = [stock, away].map((l) => showLength(l, settings.show));
  // Short: it stands beside another one, and the places that it leads to tell the rest.
  const dimension = part.steps.flatMap((step) =>
    'place' in step && step.place && takesFrom.has(step.kind) ? [step.place] : [],
  )[0];
  return { title: `next stock length down, ${down}, is ${by} away: ${part.path}`, places: [dimension ?? part.place] };
}
