/** Boards, rods, hardware, garments, stock and policies as plain values. Lengths in ticks, money in hundredths. */
import type { Place } from '../../grammar/tree.ts';
import type { Severity } from './rule.ts';
import type { Ticks } from './ticks.ts';

/** What an end of a part meets. */
export type EndKind = 'wall' | 'panel' | 'open';

/** What is taken off the clear opening at an end, by what the end meets. */
export interface EndTake {
  /** Undefined: whatever it meets. */
  readonly meets: EndKind | undefined;
  readonly amount: Ticks;
  readonly why: string | undefined;
  readonly place: Place;
}

export interface Board {
  readonly kind: 'board';
  readonly name: string;
  readonly place: Place;
  readonly depth: Ticks | undefined;
  readonly thickness: Ticks | undefined;
  readonly ripping: boolean;
  readonly ends: readonly EndTake[];
  /** Pa. */
  readonly stiffness: number | undefined;
  /** kg/m2. */
  readonly weight: number | undefined;
  readonly finish: string | undefined;
}

export interface RodMaterial {
  readonly kind: 'rod';
  readonly name: string;
  readonly place: Place;
  readonly diameter: Ticks | undefined;
  readonly ends: readonly EndTake[];
  readonly stiffness: number | undefined;
  /** kg/m. */
  readonly weight: number | undefined;
  readonly finish: string | undefined;
}

export interface Hardware {
  readonly kind: 'hardware';
  readonly name: string;
  readonly place: Place;
  readonly takes: Ticks | undefined;
  readonly why: string | undefined;
}

export interface Garment {
  readonly kind: 'garment';
  readonly name: string;
  readonly place: Place;
  /** Centre of the rod to the lowest point, on its hanger. */
  readonly hang: Ticks | undefined;
  /** Width of the hanger, shoulder to shoulder: what the rod needs on both sides together. */
  readonly hanger: Ticks | undefined;
  /** Front to back of the garment on its hanger, where it is more than the hanger. */
  readonly depth: Ticks | undefined;
  /** Length of rod that one takes. */
  readonly takes: Ticks | undefined;
  /** What it rests on, as written. */
  readonly source: string | undefined;
}

export interface StockItem {
  readonly material: string;
  readonly length: Ticks;
  readonly price: number | undefined;
  /** Undefined: unlimited. */
  readonly count: number | undefined;
  readonly offcut: boolean;
  readonly place: Place;
  /** The whole stock declaration. */
  readonly declaration: Place;
}

export interface Limit {
  readonly least: Ticks | undefined;
  readonly most: Ticks | undefined;
  readonly place: Place | undefined;
  /** The policy that set it. */
  readonly policy: string | undefined;
}

/** Limits and severities in force for a unit: all its policies laid over the defaults, later ones over earlier. */
export interface PolicyInForce {
  readonly names: readonly string[];
  readonly limits: ReadonlyMap<string, Limit>;
  readonly severities: ReadonlyMap<string, Severity | 'off'>;
}
