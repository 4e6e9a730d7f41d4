/** What a project asks of the saw: its parts as pieces, its stock, and where each piece comes from. */
import { headPlace, type Place } from '../../grammar/tree.ts';
import type { Part } from '../model/layout.ts';
import type { StockItem } from '../model/materials.ts';
import type { Project, Unit } from '../model/project.ts';
import type { Resolved } from '../model/unit.ts';
import type { Piece, PlanRequest, StockLength } from './types.ts';

/** One of the places that equal pieces come from. */
export interface Origin {
  readonly place: Place;
  /** For people: `A-101 and 11 like it` where units share one layout. */
  readonly unit: string;
  /** The names of all these units; that of the loose part for one. */
  readonly units: readonly string[];
  readonly path: string;
  /** How many of the piece this place asks for. */
  readonly quantity: number;
}

export interface Demand {
  readonly request: PlanRequest;
  readonly items: ReadonlyMap<string, StockItem>;
  readonly origins: ReadonlyMap<string, readonly Origin[]>;
  readonly materials: ReadonlyMap<string, Place>;
}

/** Which units and loose parts are asked for; all of them where nothing is said. */
export type Wanted = (labels: Pick<Unit, 'floor' | 'flat' | 'phase'>) => boolean;

/** Equal parts become one piece, whatever they are for. */
export function demandOf(project: Project, wanted: Wanted = () => true): Demand {
  const pieces = new Map<string, { piece: Piece; origins: Origin[] }>();
  const ask = (part: Part, unit: string, units: readonly string[], count: number, place: Place): void => {
    if (count === 0) return;
    const id = `${part.material} ${part.length}`;
    const known = pieces.get(id);
    const origin: Origin = { place, unit, units, path: part.path, quantity: count };
    if (known) {
      known.piece = { ...known.piece, quantity: known.piece.quantity + count };
      known.origins.push(origin);
    } else
      pieces.set(id, {
        piece: { id, material: part.material, length: part.length, quantity: count },
        origins: [origin],
      });
  };
  for (const { resolved, name, names, count } of unitsByLayout(project, wanted)) {
    for (const part of resolved.layout.parts) ask(part, name, names, count, part.place);
  }
  for (const computed of project.computed('extra')) {
    if (computed.kind !== 'extra' || !computed.value || !wanted(computed.value)) continue;
    const { part, name, count } = computed.value;
    ask(part, name, [name], count, headPlace(computed.declared.statement));
  }
  const items = new Map<string, StockItem>();
  const stock: StockLength[] = [];
  for (const item of stockItems(project)) {
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
  const { kerf, endTrim, keepOffcutsFrom, mostPatterns, mostStopSettings } = project.settings;
  return {
    request: {
      pieces: [...pieces.values()].map((p) => p.piece),
      stock,
      saw: { kerf, trim: endTrim, keepOffcutsFrom },
      limits: { patterns: mostPatterns, stopSettings: mostStopSettings },
    },
    items,
    origins: new Map([...pieces].map(([id, p]) => [id, p.origins])),
    materials: materialsOf(project),
  };
}

interface Alike {
  readonly resolved: Resolved;
  readonly name: string;
  readonly names: readonly string[];
  readonly count: number;
}

/** Units that share one layout go together: a thousand equal units are one entry with a count. */
function unitsByLayout(project: Project, wanted: Wanted): Alike[] {
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

function* stockItems(project: Project): Generator<StockItem> {
  const seen = new Set<string>();
  for (const computed of project.computed('stock')) {
    // A second declaration for the same material has been reported; the first one is used.
    if (computed.kind !== 'stock' || seen.has(computed.declared.name)) continue;
    seen.add(computed.declared.name);
    yield* computed.value;
  }
}

function materialsOf(project: Project): Map<string, Place> {
  const found = new Map<string, Place>();
  for (const kind of ['board', 'rod'] as const) {
    for (const computed of project.computed(kind)) {
      if (computed.kind === 'board' || computed.kind === 'rod') found.set(computed.value.name, computed.value.place);
    }
  }
  for (const [alias, names] of project.names.libraries) {
    for (const kind of ['board', 'rod'] as const) {
      for (const declared of names.all(kind)) found.set(`${alias}.${declared.name}`, headPlace(declared.statement));
    }
  }
  return found;
}
