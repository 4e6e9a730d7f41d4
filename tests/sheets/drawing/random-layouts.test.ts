/** Closets drawn at random, read again from their DXF by a parser that is none of ours: 1:1, in millimetres. */
import dxfParser, { type IDxf, type IEntity } from 'dxf-parser';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { TICKS_PER_MM } from '../../../server/model/ticks.ts';
import { dxfOf } from '../../../server/sheets/drawing/dxf.ts';
import { place } from '../../../server/sheets/drawing/place.ts';
import { runs } from '../../runs.ts';
import { drawn, projectWith } from './units.ts';

/** What the package is when it is required, whatever its types say. */
const DxfParser = dxfParser as unknown as new () => { parseSync(text: string): IDxf | null };
type Outline = IEntity & { readonly vertices?: readonly { readonly x: number; readonly y: number }[] };

const sixteenths = (least: number, most: number) => fc.integer({ min: least, max: most }).map((n) => `${n}/16in`);
const zone = fc.record({
  width: sixteenths(160, 640),
  panels: fc.boolean(),
  heights: fc.uniqueArray(fc.integer({ min: 40, max: 1400 }), { minLength: 1, maxLength: 5 }),
});

it('every shelf and panel stands in it where the layout has it', () => {
  let compared = 0;
  fc.assert(
    fc.property(fc.array(zone, { minLength: 1, maxLength: 4 }), fc.constantFrom(5, 20, 25, 50), (zones, scale) => {
      const stated = zones.map(
        ({ width, panels, heights }, i) =>
          `  zone z${i} on back${i > 0 ? ` after z${i - 1}` : ''} { width ${width}; ${panels ? 'panels { height 90in }; ' : ''}${heights
            .map((at, k) => `shelf s${k} { at ${at}/16in }`)
            .join('; ')} }\n`,
      );
      const project = projectWith(
        `project "Quarry Lane" {}\nboard b { depth 12in; thickness 3/4in }\ntemplate t { board b; wall back { length 240in; height 96in }\n${stated.join('')}}\nunit u t\n`,
      );
      const [unit] = project.units();
      if (!unit) throw new Error('no unit');
      const { drawable, drawings } = drawn({ project, unit }, 'millimetres');
      const wall = drawings.find(({ kind }) => kind === 'wall');
      if (!wall) throw new Error('no wall is drawn');
      const { entities } = new DxfParser().parseSync(dxfOf(place(wall.scene, scale))) ?? { entities: [] };
      const boxes = (entities as Outline[]).flatMap(({ vertices = [] }) => {
        const [xs, ys] = [vertices.map(({ x }) => x), vertices.map(({ y }) => y)];
        return vertices.length >= 4 ? [[Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]] : [];
      });
      for (const { path, kind, box } of drawable.layout.zones.flatMap(({ fittings }) => fittings)) {
        if (kind !== 'shelf' && kind !== 'panel') continue;
        const wanted = [...box.x, ...box.z].map((end) => end / TICKS_PER_MM);
        const isThere = boxes.some((found) => found.every((end, i) => Math.abs(end - (wanted[i] as number)) < 1e-3));
        expect([path, wanted, isThere]).toEqual([path, wanted, true]);
        compared++;
      }
    }),
    runs(30),
  );
  expect(compared).toBeGreaterThan(100);
});
