/**
 * DXF of a drawing: real millimetres, 1:1, the left corner at the floor at 0, 0, layers named in words. Written as R12
 * in ASCII, which every reader of the format takes (AutoCAD's DXF reference, from memory): POLYLINE, LINE, CIRCLE, ARC,
 * SOLID and TEXT. Letters, symbols and rows of dimensions are as large as on the sheet, times its scale.
 */
import { madeBy } from '../mark.ts';
import { joined } from '../too-much.ts';
import { cleaned } from './letters.ts';
import type { At, Mark, PaperText, Placed } from './paper.ts';
import { heights } from './pens.ts';
import type { Layer } from './scene.ts';

/** Lines that stand below the drawing: what it is of, and when it was made. */
export interface DxfOptions {
  readonly lines?: readonly string[];
}

const layers: readonly Layer[] = [
  'walls',
  'openings',
  'fixtures',
  'studs',
  'zones',
  'shelves',
  'rods',
  'panels',
  'drawers',
  'garments',
  'fixings',
  'dimensions',
  'texts',
  'findings',
  'ceiling',
  'sheet',
];

/** A group code and its value, a line each. */
type Pair = readonly [code: number, value: string | number];

/** Throws TooMuch where it would be larger than the file of one drawing is to be. */
export function dxfOf(placed: Placed, { lines = [] }: DxfOptions = {}): string {
  const sheet = new Sheet(placed);
  for (const { layer, marks } of placed.groups) for (const mark of marks) sheet.add(mark, layer);
  sheet.below(lines);
  const pairs: Pair[] = [
    [999, madeBy],
    [999, 'Lengths in millimetres, 1:1'],
    ...section('HEADER', [
      [9, '$ACADVER'],
      [1, 'AC1009'],
      [9, '$EXTMIN'],
      ...at3([sheet.extent[0], sheet.extent[1]]),
      [9, '$EXTMAX'],
      ...at3([sheet.extent[2], sheet.extent[3]]),
      [9, '$LUNITS'],
      [70, 2],
    ]),
    ...section('TABLES', [...lineTypes(sheet.dashes), ...layerTable(), ...styleTable()]),
    ...section('BLOCKS', []),
    ...section('ENTITIES', sheet.entities),
    [0, 'EOF'],
  ];
  return `${joined(pairs, ([code, value]) => `${code}\n${typeof value === 'number' ? number(value) : value}`, '\n')}\n`;
}

class Sheet {
  readonly entities: Pair[] = [];
  /** Dashes in use, by the name of their line type. */
  readonly dashes = new Map<string, readonly number[]>();
  /** Left, bottom, right, top, in millimetres. */
  readonly extent: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity];
  private readonly placed: Placed;
  private readonly scale: number;

  constructor(placed: Placed) {
    this.placed = placed;
    this.scale = placed.scale || 1;
  }

  /** From the sheet, where y goes down, to the room, where it goes up. */
  private at([x, y]: At): At {
    const [ox, oy] = this.placed.origin ?? [0, this.placed.height];
    return [(x - ox) * this.scale, (oy - y) * this.scale];
  }

  add(mark: Mark, layer: Layer): void {
    switch (mark.kind) {
      case 'path':
        this.path(mark, layer);
        break;
      case 'circle':
        this.circle(mark, layer);
        break;
      case 'arc': {
        const [x, y] = this.taken(this.at(mark.centre));
        // Seen from below, clockwise is counter-clockwise.
        const [from, to] = [turn(-mark.to), turn(-mark.from)];
        this.entity('ARC', layer, mark.dash, [...at3([x, y]), [40, mark.radius * this.scale], [50, from], [51, to]]);
        break;
      }
      case 'text':
        this.text(mark, layer);
    }
  }

  /** Two lines of letters below everything. */
  below(lines: readonly string[]): void {
    const height = heights.normal;
    const [left, bottom] = [this.extent[0], this.extent[1]].map((n) => (Number.isFinite(n) ? n : 0)) as [
      number,
      number,
    ];
    for (const [i, line] of lines.entries()) {
      const y = bottom - (i + 2) * height * 1.8 * this.scale;
      this.taken([left, y]);
      this.entity('TEXT', 'sheet', undefined, [
        ...at3([left, y]),
        [40, height * this.scale],
        [1, lettered(line)],
        [7, 'STANDARD'],
      ]);
    }
  }

  private path({ points, closed, width, dash, ground }: Extract<Mark, { kind: 'path' }>, layer: Layer): void {
    const corners = points.map((p) => this.at(p));
    if (ground === 'ink' && corners.length <= 4 && corners.length > 2) {
      for (const corner of corners) this.taken(corner);
      const [a, b, c, d = c] = corners as [At, At, At, At?];
      // A SOLID takes its corners crosswise.
      this.entity('SOLID', layer, undefined, [...at3(a), ...at3(b, 1), ...at3(d, 2), ...at3(c, 3)]);
    }
    // Paper behind a text or a hatch is not drawn: there is no paper.
    if (width === 0) return;
    for (const corner of corners) this.taken(corner);
    if (corners.length === 2 && !closed) {
      const [a, b] = corners as [At, At];
      this.entity('LINE', layer, dash, [...at3(a), ...at3(b, 1)]);
      return;
    }
    this.polyline(
      layer,
      dash,
      closed,
      corners.map((corner) => ({ corner })),
    );
  }

  private circle({ centre, radius, dash, ground }: Extract<Mark, { kind: 'circle' }>, layer: Layer): void {
    const [x, y] = this.at(centre);
    const r = radius * this.scale;
    this.taken([x - r, y - r]);
    this.taken([x + r, y + r]);
    this.entity('CIRCLE', layer, dash, [...at3([x, y]), [40, r]]);
    // Two half turns, as broad as the radius, fill it.
    if (ground === 'ink')
      this.polyline(
        layer,
        undefined,
        true,
        [x - r / 2, x + r / 2].map((px) => ({ corner: [px, y] as const, bulge: 1 })),
        r,
      );
  }

  private polyline(
    layer: Layer,
    dash: readonly number[] | undefined,
    closed: boolean,
    corners: readonly { readonly corner: At; readonly bulge?: number }[],
    broad = 0,
  ): void {
    const width: Pair[] =
      broad > 0
        ? [
            [40, broad],
            [41, broad],
          ]
        : [];
    this.entity('POLYLINE', layer, dash, [[66, 1], ...at3([0, 0]), [70, closed ? 1 : 0], ...width]);
    for (const { corner, bulge } of corners)
      this.entity('VERTEX', layer, undefined, [...at3(corner), ...width, ...(bulge ? [[42, bulge] as const] : [])]);
    this.entity('SEQEND', layer, undefined, []);
  }

  private text({ text, at, height, anchor, turned, width }: PaperText, layer: Layer): void {
    if (text === '') return;
    const [x, y] = this.taken(this.at(at));
    const [long, before] = [width * this.scale, anchor === 'start' ? 0 : anchor === 'middle' ? 0.5 : 1];
    this.taken(turned ? [x, y - long * before] : [x - long * before, y]);
    this.taken(turned ? [x, y + long * (1 - before)] : [x + long * (1 - before), y]);
    const aligned: Pair[] = anchor === 'start' ? [] : [[72, anchor === 'middle' ? 1 : 2], ...at3([x, y], 1)];
    this.entity('TEXT', layer, undefined, [
      ...at3([x, y]),
      [40, height * this.scale],
      [1, lettered(text)],
      ...(turned ? ([[50, 90]] as const) : []),
      [7, 'STANDARD'],
      ...aligned,
    ]);
  }

  private entity(kind: string, layer: Layer, dash: readonly number[] | undefined, pairs: readonly Pair[]): void {
    this.entities.push([0, kind], [8, layer]);
    if (dash) {
      const name = dash.length > 2 ? 'CENTRE' : dash[0] === dash[1] ? 'SHORT-DASHES' : 'DASHES';
      this.dashes.set(
        name,
        dash.map((d) => d * this.scale),
      );
      this.entities.push([6, name]);
    }
    this.entities.push(...pairs);
  }

  private taken(at: At): At {
    const [x, y] = at;
    const e = this.extent;
    e[0] = Math.min(e[0], x);
    e[1] = Math.min(e[1], y);
    e[2] = Math.max(e[2], x);
    e[3] = Math.max(e[3], y);
    return at;
  }
}

function section(name: string, pairs: readonly Pair[]): Pair[] {
  return [[0, 'SECTION'], [2, name], ...pairs, [0, 'ENDSEC']];
}

function table(name: string, entries: readonly (readonly Pair[])[]): Pair[] {
  return [[0, 'TABLE'], [2, name], [70, entries.length], ...entries.flat(), [0, 'ENDTAB']];
}

function lineTypes(dashes: ReadonlyMap<string, readonly number[]>): Pair[] {
  const entry = (name: string, said: string, pattern: readonly number[]): Pair[] => [
    [0, 'LTYPE'],
    [2, name],
    [70, 0],
    [3, said],
    [72, 65],
    [73, pattern.length],
    [40, pattern.reduce((sum, d) => sum + d, 0)],
    // Below 0: nothing is drawn.
    ...pattern.map((d, i): Pair => [49, i % 2 === 0 ? d : -d]),
  ];
  return table('LTYPE', [
    entry('CONTINUOUS', 'unbroken', []),
    ...[...dashes].map(([name, pattern]) => entry(name, name.toLowerCase(), pattern)),
  ]);
}

function layerTable(): Pair[] {
  // 7 is black on white and white on black; findings alone have a colour, 1: red.
  return table(
    'LAYER',
    layers.map((name) => [
      [0, 'LAYER'],
      [2, name],
      [70, 0],
      [62, name === 'findings' ? 1 : 7],
      [6, 'CONTINUOUS'],
    ]),
  );
}

function styleTable(): Pair[] {
  return table('STYLE', [
    [
      [0, 'STYLE'],
      [2, 'STANDARD'],
      [70, 0],
      [40, 0],
      [41, 1],
      [50, 0],
      [71, 0],
      [42, 2.5],
      [3, 'txt'],
      [4, ''],
    ],
  ]);
}

function at3([x, y]: At, nth = 0): Pair[] {
  return [
    [10 + nth, x],
    [20 + nth, y],
    [30 + nth, 0],
  ];
}

/** Degrees from 0 up to 360. */
function turn(degrees: number): number {
  return ((degrees % 360) + 360) % 360;
}

/** A millionth of a millimetre is far below a tick. */
function number(value: number): string {
  return Number.isFinite(value) ? String(Number(value.toFixed(6))) : '0';
}

/** Values of R12 hold no more. */
const longest = 255;

/** One line of ASCII: other letters by their code, and nothing that a reader takes for a command. */
function lettered(text: string): string {
  const parts = [...cleaned(text)].map((character) => {
    if (character === '%') return '%%%';
    if (character === '^') return '^ ';
    if (character === '\\') return '\\U+005C';
    if (character >= ' ' && character <= '~') return character;
    return Array.from(
      character.split(''),
      (unit) => `\\U+${unit.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`,
    ).join('');
  });
  let made = '';
  for (const part of parts) {
    if (made.length + part.length > longest - 3) return `${made}...`;
    made += part;
  }
  return made;
}
