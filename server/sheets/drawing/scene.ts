/**
 * A drawing before it is on paper: lines, hatches, texts and dimension chains in real units. Ticks, x to the right and
 * y up. What has a size on paper (texts, symbols, the rows of dimensions) gets it when it is placed (place.ts), and
 * SVG, PDF and DXF are written from what was placed, so that all three show one drawing.
 */
import type { Ticks } from '../../model/ticks.ts';

/** In ticks; of plans that are not square no whole ones. */
export type Point = readonly [x: number, y: number];

/**
 * Line types by the practice of ISO 128-2 (common practice as noted, the standard itself not at hand): wide and narrow
 * lines are 2 to 1, what is hidden or moves is dashed, a centre is a chain line. `cut` is what the drawing cuts through.
 */
export type Pen = 'cut' | 'outline' | 'thin' | 'hidden' | 'centre' | 'finding';

/** Told apart in black and white: by the direction and distance of its lines, not by colour. */
export type Fill = 'none' | 'paper' | 'wall' | 'board' | 'taken' | 'ink';

/** Layers, by the words that DXF names them with. */
export type Layer =
  | 'walls'
  | 'openings'
  | 'fixtures'
  | 'studs'
  | 'zones'
  | 'shelves'
  | 'rods'
  | 'panels'
  | 'drawers'
  | 'garments'
  | 'fixings'
  | 'dimensions'
  | 'texts'
  | 'slack'
  | 'findings'
  | 'ceiling'
  /** The border of a page and what is written on it. */
  | 'sheet';

export type Shape =
  | { readonly kind: 'line'; readonly points: readonly Point[]; readonly pen: Pen }
  /** A closed outline, filled. */
  | { readonly kind: 'area'; readonly points: readonly Point[]; readonly pen: Pen | 'none'; readonly fill: Fill }
  | { readonly kind: 'circle'; readonly centre: Point; readonly radius: number; readonly pen: Pen; readonly fill: Fill }
  /** Counter-clockwise, in degrees from the direction of x. */
  | {
      readonly kind: 'arc';
      readonly centre: Point;
      readonly radius: number;
      readonly from: number;
      readonly to: number;
      readonly pen: Pen;
    }
  /** As large on any paper. `towards` is where an arrow points, counter-clockwise in degrees from the direction of x. */
  | {
      readonly kind: 'symbol';
      readonly symbol: SymbolKind;
      readonly at: Point;
      readonly text?: string;
      readonly towards?: number;
    };

/**
 * `stud`: a fixing in a stud; `anchor`: into the wall without one; `loose`: into a part; `unknown`: into the wall, and
 * nothing says where studs are; `level`: a height; `finding`: the number of a finding; `arrow`: its point is there.
 */
export type SymbolKind = 'stud' | 'anchor' | 'loose' | 'unknown' | 'finding' | 'arrow';

/** Shapes that belong together: those of one part. */
export interface Figure {
  readonly layer: Layer;
  /** Path of the fitting or zone, or the name of the wall, opening or fixture, that it is of. */
  readonly of?: string;
  /** What somebody hears who cannot see it: `shelf shirts.high, 48in long, at 84in`. */
  readonly label?: string;
  readonly shapes: readonly Shape[];
}

/** Nominal heights of letters in millimetres, from the series of ISO 3098 (2.5, 3.5, 5, 7). */
export type TextSize = 'small' | 'normal' | 'title';

/** A text that stands at the first of its places that is free. */
export interface Label {
  readonly text: string;
  readonly size: TextSize;
  readonly bold?: boolean;
  readonly of?: string;
  readonly layer: Layer;
  /** Best first. */
  readonly places: readonly LabelPlace[];
  /** Listed beside the drawing by a number where no place is free, instead of left out. */
  readonly needed?: boolean;
}

export interface LabelPlace {
  readonly at: Point;
  /** Which point of the text stands there. */
  readonly anchor: 'start' | 'middle' | 'end';
  /** Above, upon or below that point. */
  readonly stands: 'above' | 'on' | 'below';
  /** No wider than this, in ticks, or the next place is tried. */
  readonly within?: number;
  /** So many millimetres on paper between the point and a text that stands beside it. */
  readonly clear?: number;
  /** Read from the right. */
  readonly turned?: boolean;
}

/**
 * Dimensions along one line beside the drawing, `row` 0 nearest to it. `chain`: from each station to the next, and the
 * parts add up to the whole. `running`: each station from the first one (the floor, the left corner).
 */
export interface Chain {
  readonly along: 'x' | 'y';
  readonly side: 'before' | 'behind';
  readonly row: number;
  readonly style: 'chain' | 'running';
  /** In order. Of a chain one more than texts; of running dimensions as many. */
  readonly stations: readonly Station[];
  readonly texts: readonly string[];
  /** What it measures, for those who cannot see it: `zones of the back wall`. */
  readonly label: string;
}

export interface Station {
  /** Along the chain. */
  readonly at: Ticks;
  /** Across it: where what is measured begins, which the extension line points at. */
  readonly from: Ticks;
}

export interface Scene {
  /** `Back wall, elevation`. */
  readonly title: string;
  readonly view: 'elevation' | 'plan' | 'section' | 'board';
  readonly figures: readonly Figure[];
  readonly labels: readonly Label[];
  readonly chains: readonly Chain[];
}

/** Corners of what is drawn, chains and texts apart. */
export interface Bounds {
  readonly x: readonly [number, number];
  readonly y: readonly [number, number];
}

/** How much there is to draw: corners of lines and outlines, circles, arcs, symbols, texts and stations of dimensions. */
export function drawnIn({ figures, labels, chains }: Scene): number {
  let count = labels.length;
  for (const { stations } of chains) count += stations.length;
  for (const { shapes } of figures)
    for (const shape of shapes) count += shape.kind === 'line' || shape.kind === 'area' ? shape.points.length : 1;
  return count;
}

export function boundsOf({ figures }: Pick<Scene, 'figures'>): Bounds {
  const x: [number, number] = [Infinity, -Infinity];
  const y: [number, number] = [Infinity, -Infinity];
  const take = ([px, py]: Point, by = 0): void => {
    x[0] = Math.min(x[0], px - by);
    x[1] = Math.max(x[1], px + by);
    y[0] = Math.min(y[0], py - by);
    y[1] = Math.max(y[1], py + by);
  };
  for (const { shapes } of figures) {
    for (const shape of shapes) {
      if (shape.kind === 'circle') take(shape.centre, shape.radius);
      else if (shape.kind === 'arc') for (const p of arcPoints(shape)) take(p);
      else if (shape.kind === 'symbol') take(shape.at);
      else for (const p of shape.points) take(p);
    }
  }
  return x[0] > x[1] ? { x: [0, 0], y: [0, 0] } : { x, y };
}

/** Ends of an arc, and where it crosses an axis through its centre. */
export function arcPoints({
  centre,
  radius,
  from,
  to,
}: {
  readonly centre: Point;
  readonly radius: number;
  readonly from: number;
  readonly to: number;
}): Point[] {
  const at = (degrees: number): Point => {
    const angle = (degrees * Math.PI) / 180;
    return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
  };
  const points = [at(from), at(to)];
  for (let quarter = Math.ceil(from / 90) * 90; quarter < to; quarter += 90) points.push(at(quarter));
  return points;
}

export function rectanglePoints(x: readonly [number, number], y: readonly [number, number]): Point[] {
  return [
    [x[0], y[0]],
    [x[1], y[0]],
    [x[1], y[1]],
    [x[0], y[1]],
  ];
}

/** Lengths of a chain's parts; they add up to what lies between its ends. */
export function partsOf({ stations, style }: Pick<Chain, 'stations' | 'style'>): number[] {
  const [first] = stations;
  if (!first) return [];
  return style === 'running'
    ? stations.map(({ at }) => at - first.at)
    : stations.slice(1).map(({ at }, i) => at - (stations[i] as Station).at);
}
