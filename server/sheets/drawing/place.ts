/**
 * A scene brought on paper at a scale: everything with a size of its own (letters, symbols, rows of dimensions, hatching)
 * gets it here, and texts get places where none covers another.
 */
import { TICKS_PER_MM } from '../../model/ticks.ts';
import { noMoreThan } from '../too-much.ts';
import { hatching } from './hatch.ts';
import { widthOf } from './letters.ts';
import { createOccupied, type Occupied } from './occupied.ts';
import {
  type At,
  ascent,
  boxOf,
  descent,
  type Group,
  type Mark,
  type PaperText,
  type Placed,
  type Rectangle,
} from './paper.ts';
import { hatches, heights, metricScales, pens } from './pens.ts';
import { isOut, spread, standings } from './rows.ts';
import {
  type Bounds,
  boundsOf,
  type Chain,
  drawnIn,
  type Figure,
  type Label,
  type LabelPlace,
  type Layer,
  type Scene,
  type Shape,
  type Station,
  type TextSize,
} from './scene.ts';
import { findingHalf, symbolMarks } from './symbols.ts';
import { writtenAt } from './writing.ts';

/** From the drawing to the first row of dimensions, and from one row to the next. */
const firstRow = 8;
const nextRow = 7;
/** From a row to the numbers of the next one, with something between. */
const beforeNumber = 2.2;
/** From a row to what stands beyond its numbers, where those are on the outer side of its line. */
const pastNumber = heights.normal * (ascent + descent) + 1.1;
/** More for a row some of whose numbers stand farther out. */
const outRow = 4.2;
/** Between an extension line and what it points at, and beyond the dimension line. */
const extensionGap = 1;
/** Around everything. */
const margin = 1.5;
const extensionEnd = 1.5;

/** The largest of the scales at which a scene takes no more than this; the smallest one where none does. */
export function placeWithin(
  scene: Scene,
  width: number,
  height: number,
  scales: readonly number[] = metricScales,
): Placed {
  let placed: Placed | undefined;
  for (const scale of scales) {
    // What is far too large is not worth placing.
    const { x, y } = boundsOf(scene);
    const [w, h] = [(x[1] - x[0]) / TICKS_PER_MM / scale, (y[1] - y[0]) / TICKS_PER_MM / scale];
    if ((w > width || h > height) && scale !== scales.at(-1)) continue;
    placed = place(scene, scale);
    if (placed.width <= width && placed.height <= height) break;
  }
  return placed as Placed;
}

/**
 * As large as a scene can be drawn so that it takes about this much, at no scale in particular: for a screen, where
 * nobody holds a rule to it. Where there is hardly any room, larger than that, and whoever shows it makes it smaller.
 */
export function placeFilling(scene: Scene, width: number, height: number): Placed {
  const { x, y } = boundsOf(scene);
  const [w, h] = [(x[1] - x[0]) / TICKS_PER_MM, (y[1] - y[0]) / TICKS_PER_MM];
  // What has a size of its own stands around the scene, and takes about as much at any scale.
  let around: readonly [number, number] = [50, 50];
  let placed: Placed | undefined;
  for (let i = 0; i < 3; i++) {
    const room = [width - around[0], height - around[1]].map((side) => Math.max(40, side)) as [number, number];
    const scale = Math.max(w / room[0], h / room[1], 0.01);
    if (placed && Math.abs(placed.scale / scale - 1) < 0.03) break;
    placed = place(scene, scale);
    around = [placed.width - w / scale, placed.height - h / scale];
  }
  return placed as Placed;
}

/** Throws TooMuch where there is more in the scene than is drawn. */
export function place(scene: Scene, scale: number): Placed {
  noMoreThan('mostDrawn', drawnIn(scene), (count, most) => ({
    what: `"${scene.title}" comes to ${count} points, symbols and texts; ${most} are the most that one drawing takes.`,
    mend: 'Divide what it shows into several walls or units, or give it fewer parts and fixings.',
  }));
  return new Placing(scene, scale).run();
}

/** Layers whose lines texts keep off where they can. */
const solid: ReadonlySet<Layer> = new Set(['shelves', 'rods', 'panels', 'drawers', 'fixtures', 'findings']);

function around(points: readonly At[]): Rectangle {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** Paper behind a text, so that no line runs through it. */
function behind(text: PaperText): Mark {
  const [left, top, right, bottom] = boxOf(text);
  const points: At[] = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
  return { kind: 'path', points, closed: true, width: 0, ground: 'paper' };
}

class Placing {
  private readonly scene: Scene;
  private readonly scale: number;
  private readonly bounds: Bounds;
  private readonly groups: Group[] = [];
  /** What texts cover: nothing else may. */
  private readonly texts = createOccupied();
  /** What texts had better not cover. */
  private readonly drawn = createOccupied();
  private readonly key: { number: string; text: string }[] = [];
  private readonly notes: string[] = [];
  /** All that has been drawn, in millimetres: left, top, right, bottom. */
  private extent: [number, number, number, number];

  constructor(scene: Scene, scale: number) {
    this.scene = scene;
    this.scale = scale;
    this.bounds = boundsOf(scene);
    const [x0, y1] = this.at([this.bounds.x[0], this.bounds.y[0]]);
    const [x1, y0] = this.at([this.bounds.x[1], this.bounds.y[1]]);
    this.extent = [x0, y0, x1, y1];
  }

  run(): Placed {
    for (const figure of this.scene.figures) this.figure(figure);
    for (const along of ['x', 'y'] as const)
      for (const side of ['before', 'behind'] as const)
        this.rows(this.scene.chains.filter((c) => c.along === along && c.side === side));
    for (const label of this.scene.labels) this.label(label);
    return this.moved();
  }

  private at([x, y]: readonly [number, number]): At {
    const k = TICKS_PER_MM * this.scale;
    return [x / k, -y / k];
  }

  /** Everything moved so that it begins at 0. */
  private moved(): Placed {
    const [left, top, right, bottom] = [
      this.extent[0] - margin,
      this.extent[1] - margin,
      this.extent[2] + margin,
      this.extent[3] + margin,
    ];
    const to = ([x, y]: At): At => [x - left, y - top];
    const mark = (m: Mark): Mark => {
      switch (m.kind) {
        case 'path':
          return { ...m, points: m.points.map(to) };
        case 'text':
          return { ...m, at: to(m.at) };
        default:
          return { ...m, centre: to(m.centre) };
      }
    };
    return {
      title: this.scene.title,
      width: right - left,
      height: bottom - top,
      scale: this.scale,
      origin: to([0, 0]),
      groups: this.groups.map((group) => ({ ...group, marks: group.marks.map(mark) })),
      key: this.key,
      notes: this.notes,
    };
  }

  private grow([left, top, right, bottom]: Rectangle): void {
    const e = this.extent;
    this.extent = [Math.min(e[0], left), Math.min(e[1], top), Math.max(e[2], right), Math.max(e[3], bottom)];
  }

  private figure({ layer, of, label, shapes }: Figure): void {
    const marks = shapes.flatMap((shape) => this.shape(shape));
    if (solid.has(layer)) for (const mark of marks) if (mark.kind === 'path') this.drawn.take(around(mark.points));
    this.groups.push({ layer, ...(of !== undefined && { of }), ...(label !== undefined && { label }), marks });
  }

  private shape(shape: Shape): Mark[] {
    switch (shape.kind) {
      case 'line':
        return [
          {
            kind: 'path',
            points: shape.points.map((p) => this.at(p)),
            closed: false,
            ground: 'none',
            ...pens[shape.pen],
          },
        ];
      case 'area':
        return this.area(shape);
      case 'circle': {
        const radius = shape.radius / TICKS_PER_MM / this.scale;
        const ground = shape.fill === 'ink' ? 'ink' : shape.fill === 'none' ? 'none' : 'paper';
        return [{ kind: 'circle', centre: this.at(shape.centre), radius, ground, ...pens[shape.pen] }];
      }
      case 'arc': {
        const radius = shape.radius / TICKS_PER_MM / this.scale;
        // Upside down, what went counter-clockwise from one to the other goes clockwise from the other to the one.
        return [
          { kind: 'arc', centre: this.at(shape.centre), radius, from: -shape.to, to: -shape.from, ...pens[shape.pen] },
        ];
      }
      case 'symbol':
        return this.symbol(this.at(shape.at), shape);
    }
  }

  private area({ points, pen, fill }: Extract<Shape, { kind: 'area' }>): Mark[] {
    const outline = points.map((p) => this.at(p));
    const line = pen === 'none' ? { width: 0 } : pens[pen];
    const ground = fill === 'none' ? 'none' : fill === 'ink' ? 'ink' : 'paper';
    const hatch = hatches[fill];
    const lines = hatch ? hatching(outline, hatch.angle, hatch.apart) : [];
    return [
      ...(hatch ? [{ kind: 'path', points: outline, closed: true, width: 0, ground } as const] : []),
      ...lines.map((ends): Mark => ({ kind: 'path', points: ends, closed: false, width: 0.13, ground: 'none' })),
      { kind: 'path', points: outline, closed: true, ground: hatch ? 'none' : ground, ...line },
    ];
  }

  private symbol(at: At, { symbol: kind, text, towards }: Extract<Shape, { kind: 'symbol' }>): Mark[] {
    if (kind !== 'finding') return symbolMarks(at, kind, text, towards);
    const half = findingHalf(text);
    const boxAt = ([x, y]: At): Rectangle => [x - half, y - 3, x + half, y + 3];
    const free = besides(at, half * 2 + 0.5, 6.5).find((place) => this.texts.isFree(boxAt(place)));
    const place = free ?? at;
    this.texts.take(boxAt(place));
    this.grow(boxAt(place));
    const leader: Mark[] =
      place === at
        ? []
        : [{ kind: 'path', points: [at, place], closed: false, width: pens.thin.width, ground: 'none' }];
    return [...leader, ...symbolMarks(place, kind, text)];
  }

  private text(
    text: string,
    size: TextSize,
    bold: boolean,
    at: At,
    anchor: PaperText['anchor'],
    turned: boolean,
  ): PaperText {
    return writtenAt(text, at, heights[size], { bold, anchor, turned });
  }

  // Dimensions

  /** The rows of one side, nearest first; each goes as far out as those before it need. */
  private rows(chains: readonly Chain[]): void {
    if (chains.length === 0) return;
    const [first] = chains as [Chain];
    const isX = first.along === 'x';
    // Rows stand below and to the left ("before"), above and to the right ("behind"); on paper y goes down.
    const sign = isX ? (first.side === 'before' ? 1 : -1) : first.side === 'before' ? -1 : 1;
    const [left, top, right, bottom] = this.extent;
    const edge = isX ? (sign > 0 ? bottom : top) : sign > 0 ? right : left;
    let out = firstRow;
    for (const row of [...new Set(chains.map((c) => c.row))].sort((a, b) => a - b)) {
      let deepest = 0;
      for (const chain of chains.filter((c) => c.row === row))
        deepest = Math.max(deepest, this.chain(chain, edge + sign * out, sign));
      out += deepest + nextRow;
    }
  }

  /** Gives how far it reaches beyond its line, the line itself and numbers right beside it not counted. */
  private chain(chain: Chain, line: number, sign: number): number {
    const isX = chain.along === 'x';
    // Along the axis as on paper: up is negative.
    const along = (ticks: number): number => (isX ? ticks : -ticks) / TICKS_PER_MM / this.scale;
    const across = (ticks: number): number => (isX ? -ticks : ticks) / TICKS_PER_MM / this.scale;
    const point = (a: number, c: number): At => (isX ? [a, c] : [c, a]);
    const stations = chain.stations.map(({ at, from }: Station) => ({ at: along(at), from: across(from) }));
    const [first, last] = [stations[0], stations.at(-1)];
    if (!first || !last) return 0;
    const thin = pens.thin.width;
    const marks: Mark[] = [];
    const path = (points: At[], width = thin): void => {
      marks.push({ kind: 'path', points, closed: false, width, ground: 'none' });
    };
    path([point(first.at, line), point(last.at, line)]);
    for (const { at, from } of stations) {
      if (Math.abs(line - from) > extensionGap)
        path([point(at, from + sign * extensionGap), point(at, line + sign * extensionEnd)]);
      // An oblique stroke ends each part, by the practice of building drawings.
      const [dx, dy] = [1, -1];
      path(
        [isX ? [at - dx, line - dy] : [line - dx, at - dy], isX ? [at + dx, line + dy] : [line + dx, at + dy]],
        0.35,
      );
    }
    const deepest =
      chain.style === 'chain'
        ? this.chained(chain, stations, line, sign, marks)
        : this.running(chain, stations, line, sign, marks);
    this.groups.push({ layer: 'dimensions', label: chain.label, marks });
    const ends = [first.at - 1.5, last.at + 1.5].sort((a, b) => a - b) as [number, number];
    const lines = [line, line + sign * extensionEnd].sort((a, b) => a - b) as [number, number];
    this.grow(isX ? [ends[0], lines[0], ends[1], lines[1]] : [lines[0], ends[0], lines[1], ends[1]]);
    return deepest;
  }

  private chained(
    chain: Chain,
    stations: readonly { readonly at: number }[],
    line: number,
    sign: number,
    marks: Mark[],
  ): number {
    const isX = chain.along === 'x';
    const point = (a: number, c: number): At => (isX ? [a, c] : [c, a]);
    const height = heights.normal;
    const parts = chain.texts.map((text, i) => {
      const ends = [stations[i]?.at ?? 0, stations[i + 1]?.at ?? 0].sort((a, b) => a - b) as [number, number];
      return { from: ends[0], to: ends[1], width: widthOf(text) * height };
    });
    // Those that stand farther out are read from below beside an upright chain, and from the right where there are many.
    const taken = parts.filter(isOut).reduce((sum, { width }) => sum + width + 1, 0);
    const long = Math.max(...parts.map(({ to }) => to)) - Math.min(...parts.map(({ from }) => from));
    const isAcross = !isX || taken > Math.max(long, 60);
    const size = height * (ascent + descent) - 0.6;
    // Upwards on paper is downwards along it.
    const order = parts.map((_, i) => i).sort((a, b) => (parts[a]?.from ?? 0) - (parts[b]?.from ?? 0));
    const places = standings(
      order.map((i) => ({ ...(parts[i] as (typeof parts)[number]), ...(isAcross && { out: size }) })),
    );
    let deepest = 0;
    for (const [k, i] of order.entries()) {
      const { at, isOut: isFar } = places[k] as (typeof places)[number];
      const part = parts[i] as (typeof parts)[number];
      const words = chain.texts[i] as string;
      const middle = (part.from + part.to) / 2;
      if (!isFar) {
        // Numbers stand above their line, and left of one that goes up: read from below and from the right.
        const text = this.text(words, 'normal', false, point(at, line - (height * descent + 0.5)), 'middle', !isX);
        marks.push(text);
        this.take(text);
        continue;
      }
      const { text, edge } = isAcross
        ? this.across(words, at, line, sign, isX, sign > 0 ? undefined : pastNumber)
        : this.beyond(words, at, line, sign, isX);
      marks.push(
        { kind: 'path', points: [point(middle, line), point(at, edge)], closed: false, width: 0.18, ground: 'none' },
        text,
      );
      deepest = Math.max(deepest, isAcross ? Math.abs(edge - line) + text.width - beforeNumber : outRow);
      this.take(text);
    }
    return deepest;
  }

  /** A number beyond its line, along it. */
  private beyond(words: string, at: number, line: number, sign: number, isX: boolean) {
    const height = heights.normal;
    const c = line + (sign > 0 ? height * ascent + extensionEnd + 1.2 : -(height * descent + pastNumber));
    const text = this.text(words, 'normal', false, isX ? [at, c] : [c, at], 'middle', !isX);
    return { text, edge: sign > 0 ? c - height * ascent : c + height * descent };
  }

  /** A number beyond its line, at right angles to it. */
  private across(words: string, at: number, line: number, sign: number, isX: boolean, out = extensionEnd + 1.9) {
    const edge = line + sign * out;
    const start = edge + sign * 0.6;
    // Turned, a text begins below; its letters stand to the left of its baseline.
    const base = at + (heights.normal * (ascent - descent)) / 2;
    const text = isX
      ? this.text(words, 'normal', false, [base, start], sign > 0 ? 'end' : 'start', true)
      : this.text(words, 'normal', false, [start, base], sign > 0 ? 'start' : 'end', false);
    return { text, edge };
  }

  private running(
    chain: Chain,
    stations: readonly { readonly at: number }[],
    line: number,
    sign: number,
    marks: Mark[],
  ): number {
    const isX = chain.along === 'x';
    const point = (a: number, c: number): At => (isX ? [a, c] : [c, a]);
    const height = heights.normal;
    const size = height * (ascent + descent) + 0.4;
    const all = stations.map((_, i) => i).sort((a, b) => (stations[a]?.at ?? 0) - (stations[b]?.at ?? 0));
    const order = this.thinned(all, chain, stations, size);
    const places = spread(order.map((i) => ({ at: stations[i]?.at ?? 0, size })));
    let deepest = 0;
    for (const [k, i] of order.entries()) {
      const at = places[k] as number;
      const station = stations[i] as { readonly at: number };
      const { text, edge } = this.across(chain.texts[i] ?? '', at, line, sign, isX);
      marks.push(
        {
          kind: 'path',
          points: [point(station.at, line + sign * extensionEnd), point(at, edge)],
          closed: false,
          width: 0.18,
          ground: 'none',
        },
        text,
      );
      this.take(text);
      deepest = Math.max(deepest, extensionEnd + 2.5 + text.width - beforeNumber);
    }
    return Math.max(0, deepest);
  }

  /** Those that have room, where not all have it beside what is measured: every second, every third. */
  private thinned(
    all: readonly number[],
    { label }: Chain,
    stations: readonly { readonly at: number }[],
    size: number,
  ): readonly number[] {
    const long = Math.abs((stations.at(-1)?.at ?? 0) - (stations[0]?.at ?? 0));
    const every = Math.ceil((all.length * size) / Math.max(long * 1.25, 150));
    if (every < 2) return all;
    this.notes.push(`Of the ${label}, one in ${every} is written here, for want of room.`);
    return all.filter((i) => i % every === 0 || i === all.length - 1);
  }

  private take(text: PaperText): void {
    const box = boxOf(text);
    this.texts.take(box);
    this.grow(box);
  }

  // Labels

  private label(label: Label): void {
    const group = (marks: Mark[]): void => {
      this.groups.push({ layer: label.layer, ...(label.of !== undefined && { of: label.of }), marks });
    };
    for (const others of [[this.texts, this.drawn], [this.texts]]) {
      for (const one of label.places) {
        const text = this.standing(label.text, label, one);
        if (!this.isFree(text, one, others)) continue;
        this.take(text);
        group([behind(text), text]);
        return;
      }
    }
    if (!label.needed) return;
    const number = letters(this.key.length);
    this.key.push({ number, text: label.text });
    const places = label.places.flatMap((p) => [p, ...nearTo(p, this.scale)]);
    for (const { within: _, ...one } of places) {
      const text = this.standing(number, label, one);
      if (!this.isFree(text, one, [this.texts])) continue;
      this.take(text);
      group([behind(text), text]);
      return;
    }
  }

  private standing(
    text: string,
    { size, bold = false }: Label,
    { at, anchor, stands, turned = false, clear: aside = 0 }: LabelPlace,
  ): PaperText {
    const height = heights[size];
    const [px, y] = this.at(at);
    const x = px + (anchor === 'start' ? aside : anchor === 'end' ? -aside : 0);
    const clear = 0.7;
    const down =
      stands === 'above'
        ? -(height * descent + clear)
        : stands === 'below'
          ? height * ascent + clear
          : (height * (ascent - descent)) / 2;
    return this.text(text, size, bold, turned ? [x + down, y] : [x, y + down], anchor, turned);
  }

  private isFree(text: PaperText, { within }: LabelPlace, others: readonly Occupied[]): boolean {
    if (within !== undefined && text.width + 1 > within / TICKS_PER_MM / this.scale) return false;
    const box = boxOf(text);
    return others.every((other) => other.isFree(box));
  }
}

/** A, B, ... Z, AA: findings have the numbers. */
function letters(index: number): string {
  const before = Math.floor(index / 26);
  return `${before > 0 ? letters(before - 1) : ''}${String.fromCharCode(65 + (index % 26))}`;
}

/** A place, and those beside it in rings, nearest first. */
function besides(at: At, dx: number, dy: number): At[] {
  const places: At[] = [at];
  for (let ring = 1; ring <= 12; ring++)
    for (const [x, y] of [
      [1, 0],
      [-1, 0],
      [0, -1],
      [0, 1],
      [1, -1],
      [-1, -1],
      [1, 1],
      [-1, 1],
    ] as const)
      places.push([at[0] + x * ring * dx, at[1] + y * ring * dy]);
  return places;
}

/** Places a little off, for a number that has to stand somewhere near. */
function nearTo(one: LabelPlace, scale: number): LabelPlace[] {
  const step = 3 * TICKS_PER_MM * scale;
  const places: LabelPlace[] = [];
  for (const ring of [1, 2, 3])
    for (const [dx, dy] of [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
      [1, 1],
      [-1, 1],
      [1, -1],
      [-1, -1],
    ] as const)
      places.push({ ...one, at: [one.at[0] + dx * ring * step, one.at[1] + dy * ring * step] });
  return places;
}
