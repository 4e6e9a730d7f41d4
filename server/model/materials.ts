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
  /** A thickness is written that cannot be read, which has been reported. */
  readonly thicknessUnread?: true;
  readonly ripping: boolean;
  readonly ends: readonly EndTake[];
  /** Modulus of elasticity, Pa. */
  readonly stiffness: number | undefined;
  /** Shear modulus, Pa. */
  readonly shearStiffness: number | undefined;
  /** Bending stress that may be counted on, Pa. */
  readonly strength: number | undefined;
  readonly carried: readonly Hardware[];
  /** kg/m2. */
  readonly weight: number | undefined;
  readonly finish: string | undefined;
}

/** A strip along the front edge of a shelf, upright, its top flush with the upper face. */
export interface EdgeStrip {
  readonly height: Ticks;
  readonly board: Board;
  readonly place: Place;
}

export interface RodMaterial {
  readonly kind: 'rod';
  readonly name: string;
  readonly place: Place;
  readonly diameter: Ticks | undefined;
  /** Thickness of the wall of a tube; undefined where it is solid. */
  readonly tube: Ticks | undefined;
  readonly ends: readonly EndTake[];
  readonly stiffness: number | undefined;
  readonly shearStiffness: number | undefined;
  readonly strength: number | undefined;
  readonly carried: readonly Hardware[];
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
  readonly role: HardwareRole | undefined;
  /** Greatest distance between two of it. */
  readonly spacing: Ticks | undefined;
  /** From the end of the part to the outermost. */
  readonly inset: Ticks;
  readonly least: number;
  /** How many of those on one part must meet a stud. */
  readonly inStud: number;
  /** How far one may be moved to meet a stud, by whole steps where there is a step. */
  readonly shift: { readonly most: Ticks; readonly step: Ticks | undefined };
  /** Of a hook: back from the front of its bracket. */
  readonly setBack: Ticks | undefined;
  /** Of a bracket: out from the wall, and down it. */
  readonly reach: Ticks | undefined;
  readonly leg: Ticks | undefined;
  /** Of ties: where on each panel. */
  readonly at: readonly ('top' | 'middle' | 'bottom')[];
  /** Set into the wall where one of it meets no stud. */
  readonly anchor: Hardware | undefined;
  readonly screws: readonly Screws[];
  readonly pack: { readonly count: number; readonly price: number | undefined } | undefined;
  /** Load its maker rates one of it for, kg. */
  readonly rated: number | undefined;
}

export type HardwareRole = 'support' | 'bracket' | 'hook' | 'cup' | 'anchor' | 'pin' | 'tie' | 'cover';

export interface Screws {
  /** As written: `#8 x 1-1/2 in`. */
  readonly size: string;
  readonly count: number;
  readonly into: 'wall' | 'part';
  readonly place: Place;
}

/** What a shelf or rod carries. SI: Pa, N/m, N. */
export interface Load {
  readonly kind: 'area' | 'line' | 'point';
  readonly amount: number;
  readonly place: Place;
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
  /** kg, on its hanger. */
  readonly weight: number | undefined;
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

/** A stock declaration. */
export interface Stock {
  /** As the project calls it, or as it is written where it is not known. */
  readonly material: string;
  readonly items: readonly StockItem[];
  /** What kept offcuts are worth, where that is said: minor units for so much length. */
  readonly worth: { readonly price: number; readonly per: Ticks; readonly place: Place } | undefined;
  /** Not all of it can be read. */
  readonly unread?: true;
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
  readonly demands: Demands;
}

/** What policies ask that is more than a length. Later policies replace what earlier ones said, one by one. */
export interface Demands {
  /** Highest point reached with nothing in the way. */
  readonly reach: { readonly forward?: Asked<Ticks>; readonly side?: Asked<Ticks> };
  /** Age in years. */
  readonly child?: Asked<number>;
  readonly building?: Asked<Building>;
  readonly deflection: { readonly shelf?: DeflectionLimit; readonly rod?: DeflectionLimit };
  readonly loads: { readonly shelf?: Load; readonly hanging?: Load; readonly total?: Load };
  readonly creep?: Asked<number>;
  readonly anchorFactor?: Asked<number>;
}

export interface Asked<T> {
  readonly value: T;
  readonly place: Place;
  readonly policy: string;
}

export interface Building {
  readonly kind: 'house' | 'flats' | 'hotel' | 'hospital';
  /** It has sprinklers throughout. */
  readonly sprinklered: boolean;
}

/** A span may sag its `ratio`th part, and `most` at the most. */
export interface DeflectionLimit extends Asked<number> {
  readonly most: Ticks | undefined;
}

export const noDemands: Demands = { reach: {}, deflection: {}, loads: {} };
