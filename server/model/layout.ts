/**
 * A unit as plain geometry, as it stands on site: mirrored, overridden, surveyed and solved.
 * Frame of a wall: x along it from the left of a person inside who faces it, y out from its face,
 * z up from the finished floor at its highest point along the wall. All lengths in ticks.
 */
import type { Place } from '../../grammar/tree.ts';
import type { Finding } from './finding.ts';
import type { Board, EdgeStrip, EndKind, Garment, Hardware, Load, RodMaterial } from './materials.ts';
import type { Ticks } from './ticks.ts';

/** A value that is fixed, or free within a range; `value` is what parts are made for. */
export interface Range {
  readonly value: Ticks;
  readonly least: Ticks;
  /** Undefined where nothing bounds it. */
  readonly most: Ticks | undefined;
}

export interface Reading {
  /** Height at which it was taken; undefined for one without height. */
  readonly at: Ticks | undefined;
  readonly length: Ticks;
  readonly place: Place;
}

export interface WallLayout {
  readonly name: string;
  readonly place: Place;
  /** As drawn. */
  readonly nominal: Ticks;
  /** Where it is drawn; undefined where it was only measured. */
  readonly nominalPlace: Place | undefined;
  /** What counts: the least of the readings, or the nominal length. */
  readonly length: Ticks;
  readonly lengthPlace: Place;
  readonly readings: readonly Reading[];
  readonly height: Ticks | undefined;
  readonly heightPlace: Place | undefined;
  /** Stud centres from the left. */
  readonly studs: readonly Ticks[];
  /** Undefined where nothing says where studs are. */
  readonly studsFrom: 'survey' | 'drawn' | undefined;
  /** Thickness of what covers the studs; undefined where it is not said. */
  readonly lining: Ticks | undefined;
  readonly framing: WoodName | undefined;
  /** What the fittings of a wall that owns the corner take off this wall's run, left and right. */
  readonly inset: { readonly left: Ticks; readonly right: Ticks };
  /** What the chain of zones leaves over, at the right end or between chains. */
  readonly left: readonly { readonly from: Ticks; readonly width: Ticks }[];
}

export interface OpeningLayout {
  readonly name: string;
  readonly wall: string;
  readonly place: Place;
  readonly from: Ticks;
  readonly width: Ticks;
  readonly height: Ticks;
  readonly leaf: Leaf;
  /** Clear floor in front of it, outside the closet; undefined where nothing says. */
  readonly floor: { readonly width: Ticks; readonly depth: Ticks; readonly place: Place } | undefined;
  /** Absent where nothing says. */
  readonly approach?: Approached;
  readonly pull?: Pull;
}

/** From where a person comes to an opening. Hinges go with the leaf when a closet is mirrored. */
export interface Approached {
  readonly from: 'front' | 'hinge' | 'latch';
  readonly place: Place;
}

/** What a hand takes hold of to open a leaf or a drawer. */
export interface Pull {
  readonly kind: 'bar' | 'knob' | 'edge' | 'loop';
  /** Its middle above the floor, where that is said. */
  readonly at?: Ticks;
  readonly place: Place;
}

/** What closes an opening. Sides as seen from inside the closet. */
export type Leaf =
  | { readonly kind: 'none' | 'sliding' | 'bifold'; readonly place: Place }
  | {
      readonly kind: 'swing';
      readonly way: 'in' | 'out';
      /** Undefined where nothing says. */
      readonly hinge: 'left' | 'right' | undefined;
      readonly place: Place;
    };

/** Wood of studs, by the names of the published table of specific gravities. */
export type WoodName = 'spf' | 'hem-fir' | 'douglas-fir' | 'southern-pine' | 'spf-south';

export interface Lamp {
  readonly mount: 'surface' | 'recessed' | 'pendant';
  readonly source: 'incandescent' | 'led' | 'fluorescent';
  /** The lamp is completely enclosed. */
  readonly enclosed: boolean;
  /** Identified by its maker for use within storage space. */
  readonly identified: boolean;
  readonly place: Place;
}

/** What an appliance burns, and how it is kept from the air of the closet. */
export interface Burns {
  readonly fuel: 'gas' | 'oil' | 'nothing';
  /** `direct-vent`: air from outdoors and smoke to there by itself; `enclosed`: shut off, with air from outdoors. */
  readonly kept: 'direct-vent' | 'enclosed' | undefined;
  readonly place: Place;
}

export interface Heats {
  readonly what: 'water' | 'air';
  readonly place: Place;
}

/** How many people keep their clothes in a closet. */
export interface Persons {
  readonly count: number;
  readonly place: Place;
}

/** A ceiling that slopes: `low` high at its wall, and as high as the wall `run` out from it. */
export interface SlopeLayout {
  readonly name: string;
  readonly wall: string;
  readonly place: Place;
  readonly low: Ticks;
  readonly high: Ticks;
  readonly run: Ticks;
}

/** Where two walls meet. */
export interface CornerLayout {
  /** The one whose right end it is, as seen from inside, first. */
  readonly walls: readonly [string, string];
  /** Degrees, inside the room. */
  readonly angle: number;
  readonly measured: boolean;
  readonly place: Place;
}

/**
 * A wall in the plan of the room, in ticks: X to the right and Y towards the viewer who faces the back
 * wall (or the first wall of a polygonal room), whose left end is the origin. `along` is its direction
 * from its left end, a unit vector; inwards is a quarter turn to the right of it.
 */
export interface WallInPlan {
  readonly wall: string;
  readonly from: readonly [number, number];
  readonly along: readonly [number, number];
}

export type FixtureKind =
  | 'outlet'
  | 'switch'
  | 'panel'
  | 'vent'
  | 'sprinkler'
  | 'light'
  | 'hatch'
  | 'appliance'
  | 'baseboard';

export interface FixtureLayout {
  readonly kind: FixtureKind;
  readonly name: string;
  /** `undefined` on the ceiling. */
  readonly wall: string | undefined;
  readonly place: Place;
  /** Extent on the wall's face (x, z) or on the ceiling (x from the left wall, y from the back wall), and as deep as is said. */
  readonly box: Box;
  /** To be kept free around it and in front of it. */
  readonly clear: Ticks;
  /** Of a light; undefined where nothing says. */
  readonly lamp: Lamp | undefined;
  /** Out from its wall, or down from the ceiling; absent where nothing says, and its box is flat. */
  readonly depth?: Ticks;
  /** Of an appliance; absent where nothing says. */
  readonly burns?: Burns;
  readonly heats?: Heats;
}

/** Half-open in each axis: touching is not overlapping. */
export interface Box {
  readonly x: readonly [Ticks, Ticks];
  readonly y: readonly [Ticks, Ticks];
  readonly z: readonly [Ticks, Ticks];
}

export interface ZoneLayout {
  readonly name: string;
  /** `shirts`, or `tower.left` for a zone inside a zone. */
  readonly path: string;
  readonly kind: 'zone' | 'gap';
  readonly wall: string;
  readonly place: Place;
  readonly widthPlace: Place;
  readonly from: Range;
  readonly width: Range;
  /** How the width is settled. */
  readonly settled: 'fixed' | 'range' | 'fill' | 'share';
  readonly fittings: readonly FittingLayout[];
}

interface FittingBase {
  readonly name: string;
  /** `shirts.high`; a shelf of a row `tower.loose.2`. */
  readonly path: string;
  readonly zone: string;
  readonly wall: string;
  readonly place: Place;
  /** Underside of a shelf (front edge if tilted), centre of a rod. */
  readonly at: Range;
  /** The statement that set the height. */
  readonly atPlace: Place;
  readonly box: Box;
}

export interface ShelfLayout extends FittingBase {
  readonly kind: 'shelf';
  readonly board: Board | undefined;
  readonly thickness: Ticks;
  readonly depth: Ticks;
  /** Where the zone or the template says it; absent where the fitting or its board does. */
  readonly depthPlace?: Place;
  readonly loads: readonly Load[];
  readonly edge: EdgeStrip | undefined;
  readonly carried: readonly Hardware[];
  readonly tilted: boolean;
  readonly fixed: boolean;
  /** From 1 in a row of shelves. */
  readonly inRow: number | undefined;
}

export interface RodLayout extends FittingBase {
  readonly kind: 'rod';
  readonly material: RodMaterial | undefined;
  readonly diameter: Ticks;
  /** Centre of the rod to the face of the wall. */
  readonly fromWall: Ticks;
  /** The statement that says so; the rod's own where none does. */
  readonly fromWallPlace: Place;
  readonly garments: readonly Garment[];
  readonly holds: readonly { readonly garment: Garment; readonly count: number; readonly place: Place }[];
  readonly loads: readonly Load[];
  readonly carried: readonly Hardware[];
  /** A garment is named that is not known; that has been reported. */
  readonly misnamed?: boolean;
}

export interface PanelLayout extends FittingBase {
  readonly kind: 'panel';
  readonly board: Board | undefined;
  readonly side: 'left' | 'right';
  readonly thickness: Ticks;
  readonly depth: Ticks;
  /** As of a shelf. */
  readonly depthPlace?: Place;
  readonly carried: readonly Hardware[];
  /** Of a tower that is fastened to no wall. */
  readonly freeStanding?: true;
}

/** A stack of drawers, closed. */
export interface DrawersLayout extends FittingBase {
  readonly kind: 'drawers';
  readonly count: number;
  /** Height of each front. */
  readonly each: Ticks;
  readonly depth: Ticks;
  /** How far one comes out. */
  readonly pullOut: Ticks;
  /** Of one drawer with what is in it, kg; absent where nothing says. */
  readonly weight?: number;
  /** Absent where nothing says. */
  readonly pull?: Pull;
}

export type FittingLayout = ShelfLayout | RodLayout | PanelLayout | DrawersLayout;

/** One line of how a cut length came about; the amounts of a part's steps add up to its length. */
export type Step =
  | {
      readonly kind: 'wall';
      readonly amount: Ticks;
      readonly name: string;
      readonly nominal: Ticks;
      readonly surveyed: boolean;
      readonly at: Ticks | undefined;
      readonly place: Place;
    }
  | { readonly kind: 'zone'; readonly amount: Ticks; readonly name: string; readonly place: Place }
  | { readonly kind: 'inset'; readonly amount: Ticks; readonly name: string; readonly place: Place }
  | { readonly kind: 'other-zones'; readonly amount: Ticks; readonly names: readonly string[]; readonly place: Place }
  | { readonly kind: 'height'; readonly amount: Ticks; readonly place: Place }
  | { readonly kind: 'panel'; readonly amount: Ticks; readonly name: string; readonly place: Place }
  | {
      readonly kind: 'end';
      readonly amount: Ticks;
      readonly side: 'left' | 'right';
      readonly meets: EndKind;
      readonly why: string | undefined;
      readonly place: Place | undefined;
    }
  | { readonly kind: 'given'; readonly amount: Ticks; readonly place: Place }
  | { readonly kind: 'rounding'; readonly amount: Ticks; readonly step: Ticks };

/** A piece to be cut, of one unit. */
export interface Part {
  /** Path of the fitting. */
  readonly path: string;
  readonly kind: 'shelf' | 'rod' | 'panel';
  readonly material: string;
  /** Finished length. */
  readonly length: Ticks;
  readonly depth: Ticks | undefined;
  readonly thickness: Ticks | undefined;
  /** Height of the fitting's datum. */
  readonly at: Ticks;
  readonly wall: string;
  readonly zone: string;
  readonly place: Place;
  readonly steps: readonly Step[];
  /** The matched set that it is of, and the statement that says so. */
  readonly matched?: { readonly set: string; readonly place: Place };
}

/** Parts of one material that must come from one board, one after another. */
export interface MatchedParts {
  readonly set: string;
  readonly material: string;
  /** In the order in which they are written. */
  readonly parts: readonly Part[];
}

/** A line drawn on the wall: undersides of shelves at one height in neighbouring zones. */
export interface LevelLine {
  readonly wall: string;
  readonly height: Ticks;
  readonly from: Ticks;
  readonly length: Ticks;
  /** The length rounded up to a whole inch, or a whole centimetre where millimetres are shown. */
  readonly mark: Ticks;
  readonly shelves: readonly string[];
}

/** All of one unit. Shared by units whose inputs are equal, so nothing in it names a unit. */
export interface Layout {
  readonly walls: readonly WallLayout[];
  readonly openings: readonly OpeningLayout[];
  readonly fixtures: readonly FixtureLayout[];
  readonly slopes: readonly SlopeLayout[];
  readonly corners: readonly CornerLayout[];
  /** Walls that have a length and meet one another. */
  readonly plan: readonly WallInPlan[];
  readonly zones: readonly ZoneLayout[];
  readonly parts: readonly Part[];
  /** Absent where there are none. Of one part there is no set. */
  readonly matched?: readonly MatchedParts[];
  readonly lines: readonly LevelLine[];
  /** Absent where nothing says. */
  readonly persons?: Persons;
  /** Found while resolving: chains, materials, quantities. The rules of checks/ add theirs. */
  readonly findings: readonly Finding[];
}
