/** Lines, hatches and letters as they are on any paper, in millimetres. */
import type { Fill, Pen, TextSize } from './scene.ts';

/** Nominal heights of letters in millimetres. */
export const heights: Readonly<Record<TextSize, number>> = { small: 2, normal: 2.5, title: 5 };

/** Widths of lines in millimetres, wide to narrow as 2 to 1, and their dashes. */
export const pens: Readonly<Record<Pen, { readonly width: number; readonly dash?: readonly number[] }>> = {
  cut: { width: 0.7 },
  outline: { width: 0.5 },
  thin: { width: 0.25 },
  hidden: { width: 0.25, dash: [3, 1.5] },
  centre: { width: 0.25, dash: [6, 1.5, 0.5, 1.5] },
  finding: { width: 0.7, dash: [1, 1] },
};

/** Direction and distance of the lines of a hatch. */
export const hatches: Partial<Readonly<Record<Fill, { readonly angle: number; readonly apart: number }>>> = {
  wall: { angle: 45, apart: 1.6 },
  board: { angle: -45, apart: 0.9 },
  taken: { angle: -45, apart: 3 },
};

/**
 * The scales of ISO 5455 (common practice as noted, the standard itself not at hand), largest first, for drawings in
 * millimetres.
 */
export const metricScales: readonly number[] = [1, 2, 5, 10, 20, 25, 50, 100, 200, 500, 1000, 2000, 5000, 10000];

/** Those that stand on a rule for drawings in feet and inches (common practice, no source), with what such a rule says. */
const inchRule: readonly (readonly [scale: number, inches: string])[] = [
  [1, 'full size'],
  [2, '6" = 1\'-0"'],
  [4, '3" = 1\'-0"'],
  [8, '1-1/2" = 1\'-0"'],
  [12, '1" = 1\'-0"'],
  [16, '3/4" = 1\'-0"'],
  [24, '1/2" = 1\'-0"'],
  [32, '3/8" = 1\'-0"'],
  [48, '1/4" = 1\'-0"'],
  [64, '3/16" = 1\'-0"'],
  [96, '1/8" = 1\'-0"'],
  [128, '3/32" = 1\'-0"'],
  [192, '1/16" = 1\'-0"'],
  [240, '1" = 20\'-0"'],
  [360, '1" = 30\'-0"'],
  [480, '1" = 40\'-0"'],
];
export const inchScales: readonly number[] = [...inchRule.map(([scale]) => scale), 960, 1920, 4800, 9600];

/** `1:24 (1/2" = 1'-0")`; `1:25`. A scale that stands on no rule is told to the nearest that reads well. */
export function scaleText(scale: number, isMetric: boolean): string {
  const said = `1:${Number.isInteger(scale) ? scale : Number(scale.toPrecision(4))}`;
  const rule = isMetric ? undefined : inchRule.find(([known]) => known === scale)?.[1];
  return rule === undefined ? said : `${said} (${rule})`;
}
