/** What a run of zones is: what it is made of, what it is placed on, and what comes of that. */
import type { Chain, Unplaced } from './chains.ts';
import type { Weights } from './closing.ts';
import type { Edges } from './inside.ts';
import type { Range } from './layout.ts';
import type { Label } from './run-labels.ts';
import type { ZoneSpec } from './spec.ts';
import type { Ticks } from './ticks.ts';

/** The zones of a run, made ready once to be placed on any length. */
export interface Run {
  readonly zones: readonly ZoneSpec[];
  /** From left to right, or why there are none. */
  readonly chains: readonly Chain[] | Unplaced;
  readonly labels: ReadonlyMap<ZoneSpec, Labels>;
  /** Zones that stand at the same place and have the same width on every length on which the run can be placed. */
  readonly still: ReadonlySet<ZoneSpec>;
  /** The zones that hold others, with the run inside them and how wide they have to be for it. */
  readonly inside: ReadonlyMap<ZoneSpec, Inside>;
  /** Nothing is settled by rounding or by taking the least: every place follows from the statements alone. */
  readonly isExact: boolean;
  /** It is the mirror of one that is drawn: what is settled from left to right there is settled from right to left. */
  readonly mirrored: boolean;
}

/** The run inside a zone, between its panels. */
export interface Inside {
  readonly run: Run;
  readonly edges: Edges;
  /**
   * Between what the zone has to be wide for the zones inside it, panels included. Undefined where no width will do,
   * or none that the zone can have by what it says itself: that is told of what is inside, on the width it can have.
   */
  readonly needs: Needs | undefined;
  /** Why there is no such width, whatever the zone says of its own; undefined where there is one. */
  readonly never: Conflicting | undefined;
  /** Nearest to what is needed inside, of the widths that the zone can have; undefined where one of them will do. */
  readonly nearest: Ticks | undefined;
}

/**
 * What is inside needs some width at least: a lower bound of the zone's range. An upper one follows only where something
 * inside takes what is left and may be so wide at most, or where what is centred or shares cannot be wider, since
 * zones that say how wide they are, or how wide at most, may leave room beside them: that is told as left over.
 */
export interface Needs {
  readonly least: Ticks;
  readonly most: Ticks | undefined;
  readonly labels: { readonly least: Label; readonly most: Label };
}

/** What a run is placed on. */
export interface Stretch {
  readonly length: Ticks;
  readonly inset: { readonly left: Ticks; readonly right: Ticks };
  /** What says how long it is. */
  readonly label: Label;
}

export interface Labels {
  readonly width: Label;
  readonly start: Label;
}

export interface Placed {
  readonly from: Range;
  readonly width: Range;
}

export interface PlacedResult {
  readonly kind: 'placed';
  readonly zones: ReadonlyMap<ZoneSpec, Placed>;
  /** What no zone takes. */
  readonly left: readonly { readonly from: Ticks; readonly width: Ticks }[];
}

export type RunResult = PlacedResult | Conflicting | Unplaced;

export interface Conflicting {
  readonly kind: 'conflict';
  readonly labels: readonly Label[];
  readonly weights: Weights;
  readonly excess: Ticks;
  /** Zones of the run, and those in them, whose insides take part in it. */
  readonly inside: ReadonlySet<ZoneSpec>;
}

/** Of what no statement says, such as a length that is only asked for; in no finding. */
export const unsaid = Object.freeze({ text: '', parameters: [], role: 'length' }) as unknown as Label;
