/** What a project asks of the saw: its parts as pieces, its stock, and where each piece comes from. */
import { headPlace, type Place } from '../../grammar/tree.ts';
import type { Extra } from '../model/extras.ts';
import type { Part } from '../model/layout.ts';
import type { StockItem } from '../model/materials.ts';
import { calledInProject, withLibraries } from '../model/names.ts';
import type { Project, Unit } from '../model/project.ts';
import { stockByMaterial } from '../model/stock-held.ts';
import type { Resolved } from '../model/unit.ts';
import { createAsked, type MatchedName, type Member, type Origin } from './asked.ts';
import { dearerThanBought } from './request.ts';
import type { OffcutWorth, PlanRequest, Spare, StockLength } from './types.ts';

export type { Origin } from './asked.ts';

export interface Demand {
  readonly request: PlanRequest;
  readonly items: ReadonlyMap<string, StockItem>;
  /** By the ids of pieces; by those of matched sets, the origins of all their pieces. */
  readonly origins: ReadonlyMap<string, readonly Origin[]>;
  readonly materials: ReadonlyMap<string, Place>;
  /** By the ids of the request's sets. */
  readonly matched: ReadonlyMap<string, MatchedName>;
  /** What offcuts are said to be worth, where that cannot be counted: the request leaves it out. */
  readonly notCounted: readonly NotCounted[];
}

export interface NotCounted {
  readonly worth: OffcutWorth;
  readonly place: Place;
  /** The boards that cost no more than an offcut of their length would be worth; none: some have no price. */
  readonly boards: readonly StockLength[];
}

/** Which units and loose parts are asked for; all of them where nothing is said. */
export type Wanted = (labels: Pick<Unit, 'floor' | 'flat' | 'phase'>) => boolean;

/** Equal parts become one piece, whatever they are for; those of matched sets, one piece in equal sets. */
export function demandOf(project: Project, wanted: Wanted = () => true): Demand {
  const asked = createAsked();
  for (const { resolved, name, names, count } of unitsByLayout(project, wanted)) {
    const { parts, matched = [] } = resolved.layout;
    const inSets = new Set(matched.flatMap((set) => set.parts));
    const of = (part: Part): Member => ({ part, place: part.place, unit: name, units: names, each: 1 });
    for (const part of parts) if (!inSets.has(part)) asked.piece(of(part), count);
    for (const set of matched) asked.set(set.parts.map(of), count);
  }
  for (const together of looseParts(project, wanted)) {
    const members = together.map(({ name, part, count, place }) => ({
      part,
      place,
      unit: name,
      units: [name],
      each: count,
    }));
    const [first] = members;
    if (first && members.length === 1 && (!first.part.matched || first.each === 1))
      asked.piece({ ...first, each: 1 }, first.each);
    else asked.set(members, 1);
  }
  const { items, stock } = stockOf(project);
  const { kerf, endTrim, sawStep, keepOffcutsFrom, mostPatterns, mostStopSettings } = project.settings;
  const spares = sparesOf(project, wanted, new Set(asked.pieces().map(({ id }) => id)));
  const { worth, notCounted } = worthOf(project, stock);
  return {
    request: {
      pieces: asked.pieces(),
      stock,
      saw: { kerf, trim: endTrim, ...(spares.length > 0 && { step: sawStep }), keepOffcutsFrom },
      ...(spares.length > 0 && { spares }),
      limits: { patterns: mostPatterns, stopSettings: mostStopSettings },
      ...(asked.sets().length > 0 && { sets: asked.sets() }),
      ...(worth.length > 0 && { worth }),
    },
    items,
    origins: asked.origins,
    materials: materialsOf(project),
    matched: asked.matched,
    notCounted,
  };
}

/** Loose parts that nothing is bought for, by names unlike any other. */
function sparesOf(project: Project, wanted: Wanted, ids: Set<string>): Spare[] {
  const spares: Spare[] = [];
  for (const computed of project.computed('extra')) {
    if (computed.kind !== 'extra' || computed.value?.kind !== 'spare' || !wanted(computed.value)) continue;
    const { name, material, least, most, count } = computed.value;
    let id = name;
    for (let n = 2; ids.has(id); n++) id = `${name} (${n})`;
    ids.add(id);
    spares.push({ id, material, least, most, quantity: count });
  }
  return spares;
}

/** Loose parts by themselves, and those of one matched set for the same floor, flat and phase together. */
function looseParts(project: Project, wanted: Wanted): (Extra & { readonly place: Place })[][] {
  const groups = new Map<unknown, (Extra & { readonly place: Place })[]>();
  for (const computed of project.computed('extra')) {
    if (computed.kind !== 'extra' || computed.value?.kind !== 'extra' || !wanted(computed.value)) continue;
    const extra = { ...computed.value, place: headPlace(computed.declared.statement) };
    const { part, floor, flat, phase } = extra;
    if (extra.count === 0) continue;
    const key = part.matched ? JSON.stringify([part.matched.set, part.material, floor, flat, phase]) : extra;
    groups.set(key, [...(groups.get(key) ?? []), extra]);
  }
  return [...groups.values()];
}

function stockOf(project: Project): { items: Map<string, StockItem>; stock: StockLength[] } {
  const items = new Map<string, StockItem>();
  const stock: StockLength[] = [];
  const held = stockByMaterial(project.computed('stock'));
  for (const item of [...held.values()].flatMap(({ items }) => items)) {
    const kind = item.offcut ? 'offcut' : 'stock';
    let id = `${kind} ${item.material} ${item.length}`;
    for (let n = 2; items.has(id); n++) id = `${kind} ${item.material} ${item.length} (${n})`;
    items.set(id, item);
    stock.push({
      id,
      material: item.material,
      length: item.length,
      offcut: item.offcut,
      ...(item.price !== undefined && { price: Math.round(item.price) }),
      ...(item.count !== undefined && { count: item.count }),
    });
  }
  return { items, stock };
}

function worthOf(project: Project, stock: readonly StockLength[]): { worth: OffcutWorth[]; notCounted: NotCounted[] } {
  const worth: OffcutWorth[] = [];
  const notCounted: NotCounted[] = [];
  for (const { items, material, worth: stated } of stockByMaterial(project.computed('stock')).values()) {
    if (items.length === 0 || !stated || stated.price === 0) continue;
    const own = stock.filter((board) => board.material === material);
    const bought = own.filter(({ offcut }) => !offcut);
    const one: OffcutWorth = { material, price: stated.price, per: stated.per };
    const boards = dearerThanBought(own, one).filter(({ price }) => price !== undefined);
    if (boards.length === 0 && bought.length > 0 && bought.every(({ price }) => price !== undefined)) worth.push(one);
    else notCounted.push({ worth: one, place: stated.place, boards });
  }
  return { worth, notCounted };
}

interface Alike {
  readonly resolved: Resolved;
  readonly name: string;
  readonly names: readonly string[];
  readonly count: number;
}

/** Units that share one layout go together: a thousand equal units are one entry with a count. */
export function unitsByLayout(project: Project, wanted: Wanted = () => true): Alike[] {
  const groups = new Map<Resolved, { readonly names: string[]; count: number }>();
  for (const unit of project.units()) {
    const { resolved, name, count } = unit;
    if (!resolved || !wanted(unit)) continue;
    const known = groups.get(resolved);
    if (known) {
      known.names.push(name);
      known.count += count;
    } else groups.set(resolved, { names: [name], count });
  }
  return [...groups].map(([resolved, { names, count }]) => ({
    resolved,
    names,
    count,
    name: names.length === 1 ? `${names[0]}` : `${names[0]} and ${names.length - 1} like it`,
  }));
}

function materialsOf(project: Project): Map<string, Place> {
  const found = new Map<string, Place>();
  for (const kind of ['board', 'rod'] as const) {
    for (const computed of project.computed(kind)) {
      if (computed.kind === 'board' || computed.kind === 'rod') found.set(computed.value.name, computed.value.place);
    }
  }
  // Those of libraries, and of the libraries that these use.
  for (const names of withLibraries(project.names)) {
    if (names === project.names) continue;
    for (const kind of ['board', 'rod'] as const)
      for (const { name } of names.all(kind)) {
        const counts = names.find(kind, name);
        if (counts) found.set(calledInProject(counts), headPlace(counts.statement));
      }
  }
  return found;
}
