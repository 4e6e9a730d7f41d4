/**
 * Plane geometry for the plan of a room: convex polygons whose corners are pairs of doubles, in ticks.
 *
 * Corners that turn by other than quarters have no whole coordinates, so lengths that come of them are
 * rounded to whole ticks at the end, and what meets by less than `touch` (50 nm) counts as touching.
 * In square rooms every coordinate is whole, and nothing is rounded.
 */
import { type Ticks, ticks } from '../../model/ticks.ts';

export type Point = readonly [x: number, y: number];
/** Convex; a stretch of a wall is one of two corners. */
export type Polygon = readonly Point[];

/** A frame in the plan of a room: where its origin is, and its x axis as a unit vector. Its y axis is a quarter turn to the right. */
export interface Frame {
  readonly from: Point;
  readonly along: Point;
}

/** What is less than this is touching. */
export const touch = 2;

export function dot(a: Point, b: Point): number {
  return a[0] * b[0] + a[1] * b[1];
}

/** A quarter turn to the right, seen with X to the right and Y towards the viewer. */
export function inwards([x, y]: Point): Point {
  return [y === 0 ? 0 : -y, x];
}

export function toPlan({ from, along }: Frame, [x, y]: Point): Point {
  const [ax, ay] = along;
  return [from[0] + ax * x - ay * y, from[1] + ay * x + ax * y];
}

export function fromPlan({ from, along }: Frame, [X, Y]: Point): Point {
  const out: Point = [X - from[0], Y - from[1]];
  return [dot(out, along), dot(out, inwards(along))];
}

type Span = readonly [number, number];

export function rectangle(x: Span, y: Span): Polygon {
  return [
    [x[0], y[0]],
    [x[1], y[0]],
    [x[1], y[1]],
    [x[0], y[1]],
  ];
}

/** The part of a polygon where `normal . p >= least`. */
export function clipped(polygon: Polygon, normal: Point, least: number): Polygon {
  const kept: Point[] = [];
  for (const [i, here] of polygon.entries()) {
    const next = polygon[(i + 1) % polygon.length] ?? here;
    const [a, b] = [dot(here, normal) - least, dot(next, normal) - least];
    if (a >= 0) kept.push(here);
    if ((a < 0 && b > 0) || (a > 0 && b < 0)) {
      const t = a / (a - b);
      kept.push([here[0] + (next[0] - here[0]) * t, here[1] + (next[1] - here[1]) * t]);
    }
  }
  return kept;
}

/** The part of a polygon between two lines at right angles to an axis. */
export function band(polygon: Polygon, axis: Point, [from, to]: Span): Polygon {
  return clipped(clipped(polygon, axis, from), [-axis[0], -axis[1]], -to);
}

export function extent(polygon: Polygon, axis: Point): Span {
  const along = polygon.map((p) => dot(p, axis));
  return [Math.min(...along), Math.max(...along)];
}

export const xAxis: Point = [1, 0];
export const yAxis: Point = [0, 1];

/** Whether two rectangles share more than `touch`: no side of either parts them. */
export function meet(a: Polygon, b: Polygon): boolean {
  const axes = [a, b].flatMap((polygon) => [sideOf(polygon, 0), sideOf(polygon, 1)]);
  return axes.every((axis) => {
    const [one, two] = [extent(a, axis), extent(b, axis)];
    return Math.min(one[1] - two[0], two[1] - one[0]) > touch;
  });
}

function sideOf(polygon: Polygon, i: number): Point {
  const [a, b] = [polygon[i] ?? [0, 0], polygon[i + 1] ?? [0, 0]];
  const size = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  return [(b[0] - a[0]) / size, (b[1] - a[1]) / size];
}

/** How far a point is from a polygon; 0 inside it. */
export function distanceFrom(point: Point, polygon: Polygon): number {
  if (polygon.length === 0) return Number.POSITIVE_INFINITY;
  if (polygon.length > 2 && isInside(point, polygon)) return 0;
  return Math.min(...polygon.map((a, i) => distanceFromSegment(point, a, polygon[(i + 1) % polygon.length] ?? a)));
}

function isInside(point: Point, polygon: Polygon): boolean {
  const sides = polygon.map((a, i) => {
    const b = polygon[(i + 1) % polygon.length] ?? a;
    return (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0]);
  });
  return sides.every((s) => s > 0) || sides.every((s) => s < 0);
}

function distanceFromSegment(point: Point, a: Point, b: Point): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const squared = dx * dx + dy * dy;
  const t = squared === 0 ? 0 : ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / squared;
  const s = Math.min(1, Math.max(0, t));
  return Math.hypot(a[0] + dx * s - point[0], a[1] + dy * s - point[1]);
}

/** A whole number of ticks, downwards, that the noise of doubles does not take a tick from. */
export function wholeDown(length: number): Ticks {
  return ticks(Math.floor(length + 1e-3));
}

/** The same upwards. */
export function wholeUp(length: number): Ticks {
  return ticks(Math.ceil(length - 1e-3));
}
