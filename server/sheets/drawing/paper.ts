/** What was placed on paper: millimetres, x to the right and y down, from the upper left corner. Renderers draw it as it is. */
import type { Layer } from './scene.ts';

export type At = readonly [x: number, y: number];

/** Filled with ink, with the colour of the paper, or with nothing. Hatches are lines. */
export type Ground = 'none' | 'paper' | 'ink';

export type Mark =
  | {
      readonly kind: 'path';
      readonly points: readonly At[];
      readonly closed: boolean;
      /** Width of the line in millimetres; 0: no line. */
      readonly width: number;
      /** Lengths of dashes and gaps in turn, in millimetres. */
      readonly dash?: readonly number[];
      readonly ground: Ground;
    }
  | {
      readonly kind: 'circle';
      readonly centre: At;
      readonly radius: number;
      readonly width: number;
      readonly dash?: readonly number[];
      readonly ground: Ground;
    }
  /** As they are seen: clockwise from `from` to `to`, in degrees from the direction of x. */
  | {
      readonly kind: 'arc';
      readonly centre: At;
      readonly radius: number;
      readonly from: number;
      readonly to: number;
      readonly width: number;
      readonly dash?: readonly number[];
    }
  | PaperText;

export interface PaperText {
  readonly kind: 'text';
  readonly text: string;
  /** The point of the baseline that `anchor` says. */
  readonly at: At;
  /** Height of a capital letter in millimetres. */
  readonly height: number;
  readonly bold: boolean;
  readonly anchor: 'start' | 'middle' | 'end';
  /** A quarter turn to the left: read from the right. */
  readonly turned: boolean;
  /** Of the whole text, in millimetres, so that it takes no more whatever the font. */
  readonly width: number;
  /** On ink. */
  readonly reversed?: boolean;
}

export interface Group {
  readonly layer: Layer;
  readonly of?: string;
  readonly label?: string;
  readonly marks: readonly Mark[];
}

export interface Placed {
  readonly title: string;
  readonly width: number;
  readonly height: number;
  /** So many millimetres are one on paper; 0 where nothing is to scale. */
  readonly scale: number;
  readonly groups: readonly Group[];
  /** Letters that stand in the drawing for a text that had no room there. */
  readonly key: readonly { readonly number: string; readonly text: string }[];
  /** Where the scene has its 0, 0: the left corner at the floor. */
  readonly origin?: At;
  /** What somebody should know who reads it. */
  readonly notes?: readonly string[];
}

/** A rectangle that a text covers, before it is turned over to anybody: [left, top, right, bottom]. */
export type Rectangle = readonly [left: number, top: number, right: number, bottom: number];

/** How far letters reach above and below the baseline, in heights of a capital letter. */
export const ascent = 1.06;
export const descent = 0.32;

export function boxOf({ at, height, width, anchor, turned }: PaperText): Rectangle {
  const before = anchor === 'start' ? 0 : anchor === 'middle' ? width / 2 : width;
  const [x, y] = at;
  return turned
    ? [x - height * ascent, y - (width - before), x + height * descent, y + before]
    : [x - before, y - height * ascent, x + width - before, y + height * descent];
}

export function overlap(a: Rectangle, b: Rectangle): boolean {
  return a[0] < b[2] - 1e-6 && b[0] < a[2] - 1e-6 && a[1] < b[3] - 1e-6 && b[1] < a[3] - 1e-6;
}
