/**
 * The dimensions that parts take their length from, by the statements that give them. Each says what happens to
 * every part when it is made smaller, as far as the derivations of the parts tell: a zone of a stated width gets
 * narrower, and what takes the rest of the wall wider; where that cannot be told, each fitting stands for itself.
 * What moves a part of a matched set is left out: the lengths of a set hang together.
 */
import { headPlace, type Place, type Statement, segmentOf, sliceOf } from '../../grammar/tree.ts';
import type { Layout, Part, Step, ZoneLayout } from '../model/layout.ts';
import type { Project } from '../model/project.ts';
import type { Ticks } from '../model/ticks.ts';
import { pieceId } from './asked.ts';
import { unitsByLayout } from './demand.ts';
import type { Lever } from './near-miss.ts';

/** What stands in the text for a lever. */
export interface LeverOrigin {
  /** The dimension; the fitting where its length comes from the room. */
  readonly place: Place;
  readonly kind: 'width' | 'height' | 'length' | 'fitting';
  /** Path of the zone or fitting, name of the loose part. */
  readonly name: string;
  /** The parts that it makes shorter. Units that share one layout are named together. */
  readonly parts: readonly ShortenedPart[];
  /** How many parts get longer, as they take the rest of the wall. */
  readonly longer: number;
}

export interface ShortenedPart {
  readonly place: Place;
  readonly path: string;
  readonly material: string;
  readonly length: Ticks;
  readonly unit: string;
  readonly units: readonly string[];
  readonly quantity: number;
}

export interface Levers {
  readonly levers: readonly Lever[];
  readonly origins: ReadonlyMap<string, LeverOrigin>;
}

type Named = Pick<LeverOrigin, 'place' | 'kind' | 'name'>;

interface Made extends Named {
  readonly parts: ShortenedPart[];
  /** By piece: how many get shorter, and how many longer. */
  readonly moves: Map<string, { down: number; up: number }>;
  /** It moves a part of a matched set. */
  isMatched: boolean;
}

/** Equal statements are told apart by where they stand; the order of a project's units is that of its levers. */
export function leversOf(project: Project): Levers {
  const made = new Map<Statement, Map<string, Made>>();
  const at = ({ place, kind, name }: Named): Made => {
    const own = made.get(place.statement) ?? new Map<string, Made>();
    made.set(place.statement, own);
    const key = `${kind} ${place.start} ${place.end}`;
    const lever = own.get(key) ?? { place, kind, name, parts: [], moves: new Map(), isMatched: false };
    own.set(key, lever);
    return lever;
  };
  const move = (lever: Made, part: Part, count: number, way: 'down' | 'up'): void => {
    const { moves } = lever;
    lever.isMatched ||= part.matched !== undefined;
    const id = pieceId(part);
    const known = moves.get(id) ?? { down: 0, up: 0 };
    known[way] += count;
    moves.set(id, known);
  };
  for (const { resolved, name, names, count } of unitsByLayout(project)) {
    if (count === 0) continue;
    const { layout } = resolved;
    const takers = new Map<string, Part[]>();
    for (const part of layout.parts)
      for (const zone of othersOf(part)) {
        const key = `${part.wall} ${zone}`;
        takers.set(key, [...(takers.get(key) ?? []), part]);
      }
    const told = new Set<Made>();
    for (const part of layout.parts) {
      const dimension = dimensionOf(part, layout);
      const lever = at(dimension);
      lever.parts.push({ ...part, unit: name, units: names, quantity: count });
      move(lever, part, count, 'down');
      // What takes the rest grows once, however many parts the zone has.
      if (dimension.kind !== 'width' || told.has(lever)) continue;
      told.add(lever);
      for (const taker of takers.get(`${part.wall} zone ${dimension.name}`) ?? []) move(lever, taker, count, 'up');
    }
  }
  for (const computed of project.computed('extra')) {
    // Nothing is bought for spares.
    if (computed.kind !== 'extra' || computed.value?.kind !== 'extra' || computed.value.count === 0) continue;
    const { part, name, count } = computed.value;
    const place = part.steps.find((step) => step.kind === 'given')?.place ?? headPlace(computed.declared.statement);
    const lever = at({ place, kind: 'length', name });
    lever.parts.push({ ...part, path: name, unit: name, units: [name], quantity: count });
    move(lever, part, count, 'down');
  }
  return named([...made.values()].flatMap((own) => [...own.values()]));
}

/** The zones whose widths are taken off the wall before a part has its length, as `zone shirts`. */
function othersOf({ steps }: Part): readonly string[] {
  return steps.flatMap((step) => (step.kind === 'other-zones' ? step.names : []));
}

function dimensionOf(part: Part, layout: Layout): Named {
  const [first] = part.steps as [Step, ...Step[]];
  if (first.kind === 'height') return { place: first.place, kind: 'height', name: part.path };
  if (first.kind === 'zone' && first.place.statement.word.text === 'width') {
    const zone = layout.zones.find(({ path, wall }) => path === first.name && wall === part.wall);
    if (zone && isPlain(zone, layout)) return { place: first.place, kind: 'width', name: first.name };
  }
  return { place: part.place, kind: 'fitting', name: part.path };
}

/** Whether it is known what a narrower zone does to all others. */
function isPlain(zone: ZoneLayout, { zones }: Layout): boolean {
  if (zone.settled !== 'fixed') return false;
  return (
    zones.every((other) => {
      if (other === zone || other.wall !== zone.wall) return true;
      const isInside = other.path.startsWith(`${zone.path}.`);
      const isOutside = zone.path.startsWith(`${other.path}.`);
      if (isInside) return other.settled === 'fixed';
      // Inside another zone, what its neighbours there take is not told by their derivations.
      if (zone.path.includes('.')) return isOutside || !isBeside(other, zone) || other.settled === 'fixed';
      return other.path.includes('.') || other.settled === 'fixed' || other.settled === 'fill';
    }) && !zones.some((other) => other.settled === 'fill' && other.wall === zone.wall && hasFlexible(other, zones))
  );
}

function isBeside(other: ZoneLayout, zone: ZoneLayout): boolean {
  return other.path.slice(0, other.path.lastIndexOf('.') + 1) === zone.path.slice(0, zone.path.lastIndexOf('.') + 1);
}

/** A zone that takes the rest, with zones in it that take the rest of that. */
function hasFlexible(zone: ZoneLayout, zones: readonly ZoneLayout[]): boolean {
  return zones.some(({ path, settled }) => path.startsWith(`${zone.path}.`) && settled !== 'fixed');
}

/** Names by what encloses the statement, so that they stay when text elsewhere moves. */
function named(made: readonly Made[]): Levers {
  const origins = new Map<string, LeverOrigin>();
  const levers = made
    .filter(({ isMatched }) => !isMatched)
    .map(({ moves, isMatched: _, ...origin }): Lever => {
      const chain = chainOf(origin.place.statement).join(' / ');
      let id = chain;
      for (let n = 2; origins.has(id); n++) id = `${chain} (${n})`;
      const longer = [...moves.values()].reduce((sum, { up }) => sum + up, 0);
      origins.set(id, { ...origin, longer });
      return {
        id,
        moves: [...moves].flatMap(([piece, { down, up }]): Lever['moves'] => [
          ...(down > 0 ? [{ piece, quantity: down, by: 1 as const }] : []),
          ...(up > 0 ? [{ piece, quantity: up, by: -1 as const }] : []),
        ]),
      };
    });
  return { levers, origins };
}

function chainOf(statement: Statement): string[] {
  const [first] = statement.items;
  const own = first && statement.block ? `${statement.word.text} ${sliceOf(statement, first)}` : statement.word.text;
  const { parent } = statement;
  return [...(parent.kind === 'statement' ? chainOf(parent) : [segmentOf(statement).source.id]), own];
}
