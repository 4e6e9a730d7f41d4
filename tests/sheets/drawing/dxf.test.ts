/** DXF, read back by a parser that is none of ours, and held against what was placed and against the layout. */
import dxfParser, { type IDxf, type IEntity } from 'dxf-parser';
import { describe, expect, it } from 'vitest';
import { TICKS_PER_MM } from '../../../server/model/ticks.ts';
import { dxfOf } from '../../../server/sheets/drawing/dxf.ts';
import type { Mark, Placed } from '../../../server/sheets/drawing/paper.ts';
import { place } from '../../../server/sheets/drawing/place.ts';
import { all, drawn } from './units.ts';

/** What the package is when it is required, whatever its types say. */
const DxfParser = dxfParser as unknown as new () => { parseSync(text: string): IDxf | null };

interface Point {
  readonly x: number;
  readonly y: number;
}

type Entity = IEntity & {
  readonly vertices?: Point[];
  readonly text?: string;
  readonly startPoint?: Point;
  readonly textHeight?: number;
};

function read(text: string) {
  const dxf = new DxfParser().parseSync(text);
  if (!dxf) throw new Error('nothing was read');
  return { header: dxf.header, tables: dxf.tables, entities: dxf.entities as Entity[] };
}

/** How many entities a mark is: what is filled has one more, what has neither line nor ink none. */
function entitiesOf(mark: Mark): number {
  if (mark.kind === 'text') return mark.text === '' ? 0 : 1;
  if (mark.kind === 'arc') return 1;
  if (mark.kind === 'circle') return mark.ground === 'ink' ? 2 : 1;
  const isFilled = mark.ground === 'ink' && mark.points.length > 2 && mark.points.length <= 4;
  return (mark.width > 0 ? 1 : 0) + (isFilled ? 1 : 0);
}

const scenes = all.flatMap((one) => {
  const { drawable, drawings, name } = drawn(one, 'inches');
  return drawings.map((drawing) => ({ name, drawable, drawing, placed: place(drawing.scene, 25) }));
});

describe('of every drawing', () => {
  it('has as many things on each layer as were placed', () => {
    for (const { placed, name } of scenes) {
      const wanted = new Map<string, number>();
      for (const { layer, marks } of placed.groups)
        for (const mark of marks) wanted.set(layer, (wanted.get(layer) ?? 0) + entitiesOf(mark));
      const found = new Map<string, number>();
      for (const { layer } of read(dxfOf(placed)).entities) found.set(layer, (found.get(layer) ?? 0) + 1);
      const sorted = (counts: Map<string, number>) => [...counts].filter(([, n]) => n > 0).sort();
      expect(sorted(found), name).toEqual(sorted(wanted));
    }
  });

  it('is 1:1: each shelf has the corners of its box in millimetres, the corner of the wall at 0, 0', () => {
    let compared = 0;
    for (const { drawable, drawing, placed } of scenes) {
      if (drawing.kind !== 'wall') continue;
      const { entities } = read(dxfOf(placed));
      const outlines = entities.filter(({ type, layer }) => type === 'POLYLINE' && layer === 'shelves');
      const boxes = outlines.map(({ vertices = [] }) =>
        extentOf(vertices)
          .map((n) => n.toFixed(4))
          .join(),
      );
      for (const zone of drawable.layout.zones.filter(({ wall }) => wall === drawing.of))
        for (const { kind, box } of zone.fittings) {
          if (kind !== 'shelf') continue;
          const [x, z] = [box.x, box.z].map((ends) => ends.map((end) => end / TICKS_PER_MM)) as [number[], number[]];
          expect(boxes).toContain([x[0], z[0], x[1], z[1]].map((n) => (n as number).toFixed(4)).join());
          compared++;
        }
    }
    expect(compared).toBeGreaterThan(150);
  });

  it('says its own extents, and they hold all of it', () => {
    for (const { placed } of scenes) {
      const { header, entities } = read(dxfOf(placed));
      const [low, high] = [header.$EXTMIN, header.$EXTMAX] as unknown as [Point, Point];
      const points = entities.flatMap(({ vertices, startPoint }) => [
        ...(vertices ?? []),
        ...(startPoint ? [startPoint] : []),
      ]);
      const [left, bottom, right, top] = extentOf(points);
      expect(left).toBeGreaterThanOrEqual(low.x - 1e-6);
      expect(bottom).toBeGreaterThanOrEqual(low.y - 1e-6);
      expect(right).toBeLessThanOrEqual(high.x + 1e-6);
      expect(top).toBeLessThanOrEqual(high.y + 1e-6);
    }
  });
});

function extentOf(points: readonly Point[]): [number, number, number, number] {
  const [xs, ys] = [points.map(({ x }) => x), points.map(({ y }) => y)];
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

const lettering = (text: string): Placed => ({
  title: '',
  width: 10,
  height: 10,
  scale: 10,
  key: [],
  groups: [
    {
      layer: 'texts',
      marks: [{ kind: 'text', text, at: [1, 2], height: 2, bold: false, anchor: 'start', turned: false, width: 5 }],
    },
  ],
});

it('lines stand below the drawing, on a layer of their own', () => {
  const { entities } = read(dxfOf(lettering('x'), { lines: ['Quarry Lane', 'Plan'] }));
  const added = entities.filter(({ layer }) => layer === 'sheet');
  expect(added.map(({ text }) => text)).toEqual(['Quarry Lane', 'Plan']);
  for (const { startPoint } of added) expect(startPoint?.y).toBeLessThan(80);
});

it('a letter is as high as on the sheet times the scale, and starts from below', () => {
  const [text] = read(dxfOf(lettering('x'))).entities;
  expect([text?.textHeight, text?.startPoint?.x, text?.startPoint?.y]).toEqual([20, 10, 80]);
});

it('names cannot break out of their line, steer a reader, or be more than a value holds', () => {
  const names = [
    '0\nEOF\n0',
    'a\r\n  0\nSECTION',
    '%%u%%c',
    '\\U+0041',
    '^J',
    'wardrobe 👗',
    '衣装',
    'x'.repeat(2000),
    '衣'.repeat(300),
  ];
  for (const name of names) {
    const made = dxfOf(lettering(name));
    const { entities } = read(made);
    expect(entities).toHaveLength(1);
    expect(made).toMatch(/^[\x20-\x7e\n]*$/);
    for (const line of made.split('\n')) expect(line.length).toBeLessThanOrEqual(255);
  }
});

it('names its layers in words, and every line type that it uses', () => {
  for (const { placed } of scenes.slice(0, 40)) {
    const { tables, entities } = read(dxfOf(placed));
    const layers = Object.keys((tables.layer as unknown as { layers: object }).layers);
    const lineTypes = Object.keys((tables.lineType as unknown as { lineTypes: object }).lineTypes);
    expect(layers).toEqual(expect.arrayContaining([...new Set(entities.map(({ layer }) => layer))]));
    const used = [...new Set(entities.flatMap((e) => ('lineType' in e && e.lineType ? [String(e.lineType)] : [])))];
    expect(lineTypes).toEqual(expect.arrayContaining(used));
    for (const layer of layers) expect(layer).toMatch(/^[a-z]+$/);
  }
});
