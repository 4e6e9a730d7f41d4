/** What the rules about stock are given, and how they tell which parts wait. */
import type { Place } from '../../grammar/tree.ts';
import type { Advice } from '../cutting/advice.ts';
import type { NotCounted } from '../cutting/demand.ts';
import type { LeverOrigin } from '../cutting/levers.ts';
import type { Item } from '../cutting/sets.ts';
import type { Plan, PlanRequest } from '../cutting/types.ts';
import type { Finding, Related } from '../model/finding.ts';
import type { StockItem } from '../model/materials.ts';
import { type Show, showLength } from '../model/show.ts';
import type { Ticks } from '../model/ticks.ts';

/** Where equal pieces come from: one of them for each part of each unit. */
export interface PieceOrigin {
  readonly place: Place;
  readonly unit: string;
  /** Where `unit` speaks of several: all their names. */
  readonly units?: readonly string[];
  /** Path of the fitting, or the name of the loose parts. */
  readonly path: string;
}

export interface StockInput {
  /** Free of flaws, see cutting/request.ts. */
  readonly request: PlanRequest;
  /** Undefined while there is none yet: what can be said without one is said. */
  readonly plan: Plan | undefined;
  /** The statement of each stock length, by the id it has in the request. */
  readonly items: ReadonlyMap<string, StockItem>;
  /** Where the pieces come from, by their id in the request; the pieces of a matched set, by the set's as well. */
  readonly origins: ReadonlyMap<string, readonly PieceOrigin[]>;
  /** The declaration of each material, by name. */
  readonly materials: ReadonlyMap<string, Place>;
  readonly show: Show;
  /** Units and loose parts of which it is told that a length is a slip. Asked where something is too long. */
  readonly ofSlips?: () => ReadonlySet<string>;
  /** What matched sets are called and where that is said, by their id in the request. */
  readonly matched?: ReadonlyMap<string, { readonly name: string; readonly place: Place }>;
  /** What offcuts are said to be worth and the request leaves out. */
  readonly notCounted?: readonly NotCounted[];
  readonly currency?: string | undefined;
  /** What was found of the plan; absent while it is not known. */
  readonly advice?: Advice | undefined;
  /** What stands in the text for each dimension that was tried, by its name in the advice. */
  readonly levers?: ReadonlyMap<string, LeverOrigin>;
}

/** A list of hundreds helps nobody: so many places are named, and how many there are besides. */
export const mostNamed = 10;

/** Adds where the waiting parts come from, the longest first, and the units they belong to. */
export function waiting(made: Finding, pieces: readonly Item[], input: StockInput): Finding {
  const origins = originsOf(pieces, input);
  const more = origins.length - mostNamed;
  const related = origins.slice(0, mostNamed).map(({ place, unit, path, length }, index): Related => {
    const rest = more > 0 && index === mostNamed - 1 ? `; and ${more} more` : '';
    return { place, message: `"${path}" of ${unitNamed(unit)} waits: ${showLength(length, input.show)}${rest}.` };
  });
  return { ...made, related, reach: [...new Set(origins.flatMap(({ unit, units }) => units ?? [unit]))] };
}

/** `unit "A-101" and 11 like it`. */
export function unitNamed(unit: string): string {
  const [name, ...more] = unit.split(' ');
  return [`unit "${name}"`, ...more].join(' ');
}

export function originsOf(
  pieces: readonly Item[],
  { origins }: StockInput,
): (PieceOrigin & { readonly length: Ticks })[] {
  return pieces
    .toSorted((a, b) => b.length - a.length)
    .flatMap(({ id, length }) => (origins.get(id) ?? []).map((origin) => ({ ...origin, length })));
}
