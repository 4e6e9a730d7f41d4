/**
 * A template with its arguments put in: every quantity evaluated, nothing placed yet. Plain data, so
 * that mirroring and overriding are plain functions on it. Left and right as seen by a person inside
 * who faces the wall.
 */
import type { Place } from '../../grammar/tree.ts';
import type { Approached, Burns, FixtureKind, Heats, Lamp, Leaf, Persons, Pull, WoodName } from './layout.ts';
import type { Board, EdgeStrip, Garment, Hardware, Load, RodMaterial } from './materials.ts';
import type { Ticks } from './ticks.ts';

export type SideName = 'left' | 'right';

/** A length with the statement that set it and the parameters it came from. */
export interface Dim {
  readonly value: Ticks;
  readonly place: Place;
  readonly parameters: readonly string[];
}

export type StudSpec =
  | { readonly kind: 'every'; readonly every: Ticks; readonly first: Ticks; readonly side: SideName }
  | { readonly kind: 'list'; readonly at: readonly Ticks[]; readonly side: SideName };

export interface WallSpec {
  readonly name: string;
  readonly place: Place;
  readonly length?: Dim;
  /** A length is said, whether it has a value or not. */
  readonly lengthSaid: boolean;
  readonly height?: Dim;
  readonly studs: readonly StudSpec[];
  readonly lining?: Ticks;
  readonly framing?: WoodName;
  /** Degrees by which it turns from the wall before it, to the right as seen from inside. */
  readonly turns?: { readonly degrees: number; readonly place: Place };
}

export interface CornerSpec {
  readonly walls: readonly [string, string];
  readonly owner: string;
  readonly place: Place;
  /** Degrees between the walls, inside the room. */
  readonly angle?: { readonly degrees: number; readonly place: Place };
}

export interface Offset {
  readonly side: SideName;
  readonly offset: Dim;
}

export interface OpeningSpec {
  readonly name: string;
  readonly wall: string;
  readonly place: Place;
  readonly width?: Dim;
  readonly height?: Dim;
  /** Undefined: centred. */
  readonly from?: Offset;
  readonly leaf?: Leaf;
  /** Clear floor in front of it, outside the closet. */
  readonly floor?: { readonly width: Ticks; readonly depth: Ticks; readonly place: Place };
  readonly approach?: Approached;
  readonly pull?: Pull;
}

export interface FixtureSpec {
  readonly kind: FixtureKind | 'slope';
  readonly name: string;
  /** Undefined on the ceiling. */
  readonly wall: string | undefined;
  readonly place: Place;
  /** Along the wall; on the ceiling, from the left or right wall. */
  readonly along?: Offset;
  /** On the ceiling, from the back or front wall. */
  readonly out?: { readonly side: 'back' | 'front'; readonly offset: Dim };
  readonly height?: Dim;
  readonly size?: { readonly width: Ticks; readonly height: Ticks };
  readonly clear?: Dim;
  readonly lamp?: Lamp;
  /** Out from its wall, or down from the ceiling. */
  readonly depth?: Dim;
  readonly burns?: Burns;
  readonly heats?: Heats;
  /** Of a sloped ceiling: how far out from its wall it reaches the full height. */
  readonly run?: Dim;
}

export type StartSpec =
  /** At that end of the wall (or zone), because nothing else is said. */
  | { readonly kind: 'end'; readonly side: SideName }
  /** Next to a zone, on that side of it. */
  | { readonly kind: 'next'; readonly zone: string; readonly side: SideName; readonly by: Ticks; readonly place: Place }
  | { readonly kind: 'from'; readonly side: SideName; readonly offset: Dim; readonly place: Place }
  | { readonly kind: 'centred'; readonly place: Place };

export interface WidthSpec {
  readonly kind: 'fixed' | 'range' | 'fill' | 'share';
  readonly least: Ticks;
  readonly most: Ticks | undefined;
  readonly weight: number;
  readonly place: Place;
  readonly parameters: readonly string[];
}

export type HeightSpec =
  | {
      readonly kind: 'at';
      readonly least: Ticks;
      readonly most: Ticks;
      readonly place: Place;
      readonly parameters: readonly string[];
    }
  | {
      readonly kind: 'under' | 'above';
      readonly of: string;
      readonly by: Ticks;
      readonly orMore: boolean;
      readonly place: Place;
      readonly parameters: readonly string[];
    };

interface FittingSpecBase {
  readonly name: string;
  readonly place: Place;
  readonly board?: Board;
  readonly depth?: Dim;
  /** Distance from the wall: of a rod's centre, of a board's back edge. */
  readonly fromWall?: Dim;
  readonly held?: Hardware;
  readonly carried?: readonly Hardware[];
  readonly loads?: readonly Load[];
  readonly matched?: MatchedSpec;
}

/** The matched set of which a part is to be. */
export interface MatchedSpec {
  /** Undefined: of none, whatever the zone says. */
  readonly set: string | undefined;
  readonly place: Place;
}

export interface ShelfSpec extends FittingSpecBase {
  readonly kind: 'shelf';
  readonly heights: readonly HeightSpec[];
  readonly tilted: boolean;
  /** Degrees; 0 where it is not given. */
  readonly tilt: number;
  readonly fixed: boolean;
  readonly edge?: EdgeStrip;
}

export interface RodSpec extends FittingSpecBase {
  readonly kind: 'rod';
  readonly heights: readonly HeightSpec[];
  readonly pole?: RodMaterial;
  readonly garments: readonly Garment[];
  /** How many of a garment are to hang on it. */
  readonly holds?: readonly { readonly garment: Garment; readonly count: number; readonly place: Place }[];
  /** A garment is named that is not known; that has been reported. */
  readonly misnamed?: boolean;
}

export interface RowSpec extends FittingSpecBase {
  readonly kind: 'row';
  /** Undefined: the floor. */
  readonly lower: string | undefined;
  readonly upper: string;
  /** Both ends as they are written, where both are names. */
  readonly ends?: { readonly lower: Place; readonly upper: Place };
  readonly edge?: EdgeStrip;
  readonly count?: number;
  readonly countPlace?: Place;
  readonly pitch?: {
    readonly least: Ticks;
    readonly most: Ticks;
    readonly place: Place;
    readonly parameters: readonly string[];
  };
}

export interface PanelsSpec extends FittingSpecBase {
  readonly kind: 'panels';
  readonly height?: Dim;
  readonly foot?: Dim;
  readonly sides: readonly SideName[];
  readonly freeStanding?: true;
}

export interface DrawersSpec extends FittingSpecBase {
  readonly kind: 'drawers';
  readonly heights: readonly HeightSpec[];
  readonly count: number;
  /** Height of each front. */
  readonly each?: Dim;
  readonly pullOut?: Dim;
  /** Of one drawer with what is in it, kg. */
  readonly weight?: number;
  readonly pull?: Pull;
}

export type FittingSpec = ShelfSpec | RodSpec | RowSpec | PanelsSpec | DrawersSpec;

export interface ZoneSpec {
  readonly kind: 'zone' | 'gap';
  readonly name: string;
  readonly path: string;
  /** Undefined inside another zone. */
  readonly wall: string | undefined;
  readonly place: Place;
  readonly start: StartSpec;
  readonly width?: WidthSpec;
  readonly zones: readonly ZoneSpec[];
  readonly fittings: readonly FittingSpec[];
  readonly defaults: Defaults;
}

/** What fittings take where they do not say. */
export interface Defaults {
  readonly board?: Board;
  readonly pole?: RodMaterial;
  readonly depth?: Dim;
  readonly carried?: readonly Hardware[];
  readonly matched?: MatchedSpec;
}

export interface TemplateSpec {
  readonly place: Place;
  readonly walls: readonly WallSpec[];
  readonly corners: readonly CornerSpec[];
  readonly openings: readonly OpeningSpec[];
  readonly fixtures: readonly FixtureSpec[];
  readonly zones: readonly ZoneSpec[];
  readonly defaults: Defaults;
  readonly persons?: Persons;
}
