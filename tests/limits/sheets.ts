/** Limits of drawings, and of what is printed and written of a project. */
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { compareStates } from '../../server/cli/compare.ts';
import { draw } from '../../server/cli/draw.ts';
import { upTo } from '../../server/cli/made.ts';
import { packet } from '../../server/cli/packet.ts';
import { drawingAt } from '../../server/language/drawing/drawing.ts';
import { limits } from '../../server/model/limits.ts';
import { dxfOf } from '../../server/sheets/drawing/dxf.ts';
import { place, placeFilling, placeWithin } from '../../server/sheets/drawing/place.ts';
import { drawnIn, type Figure, type Scene } from '../../server/sheets/drawing/scene.ts';
import { svgOf } from '../../server/sheets/drawing/svg.ts';
import { createPdf, type PdfBounds } from '../../server/sheets/pdf/document.ts';
import { Flow } from '../../server/sheets/pdf/flow.ts';
import { marginsFor } from '../../server/sheets/pdf/frame.ts';
import { papers } from '../../server/sheets/pdf/page.ts';
import { sitePage } from '../../server/sheets/site-page/page.ts';
import { naming, TooMuch } from '../../server/sheets/too-much.ts';
import { cursor } from '../language/marked.ts';
import { lettering } from '../sheets/pdf/fonts.ts';
import { projectOf, reaches } from './reach.ts';

/** What is said where it is refused; empty where it is made. */
function refusalOf(make: () => unknown): string {
  try {
    make();
    return '';
  } catch (error) {
    if (error instanceof TooMuch) return error.message;
    throw error;
  }
}

/** Screws in a wall, a foot apart, and a text and a dimension beside them. */
function sceneOf(count: number): Scene {
  const foot = 12_192_000;
  const shapes: Figure['shapes'] = Array.from({ length: count - 3 }, (_, i) => ({
    kind: 'symbol',
    symbol: 'loose',
    at: [(i % 1000) * foot, Math.floor(i / 1000) * foot],
  }));
  const station = (at: number) => ({ at: at as never, from: 0 as never });
  return {
    title: 'Back wall, elevation',
    view: 'elevation',
    figures: [{ layer: 'fixings', of: 'back', shapes }],
    labels: [{ text: 'a', size: 'small', layer: 'texts', places: [{ at: [0, 0], anchor: 'start', stands: 'above' }] }],
    chains: [
      {
        along: 'x',
        side: 'before',
        row: 0,
        style: 'chain',
        stations: [station(0), station(foot)],
        texts: ['1'],
        label: 'of the wall',
      },
    ],
  };
}

describe('drawings and sheets', () => {
  reaches('mostDrawn', (most) => {
    const whole = sceneOf(most);
    expect(drawnIn(whole)).toBe(most);
    // Corners count, each by itself.
    const corners = {
      kind: 'line',
      points: [
        [0, 0],
        [1, 0],
        [1, 1],
      ],
      pen: 'thin',
    } as const;
    expect(drawnIn({ ...whole, figures: [{ layer: 'walls', shapes: [corners] }] })).toBe(6);
    const placed = place(whole, 50);
    expect(placed.groups.flatMap(({ marks }) => marks).length).toBeGreaterThanOrEqual(most - 3);
    expect(svgOf(placed, { background: 'light' })).toContain('</svg>');
    const more = sceneOf(most + 1);
    for (const placing of [
      () => place(more, 50),
      () => placeWithin(more, 280, 190),
      () => placeFilling(more, 280, 190),
    ])
      expect(refusalOf(placing)).toBe(
        '"Back wall, elevation" comes to 100,001 points, symbols and texts; 100,000 are the most that one drawing takes. Divide what it shows into several walls or units, or give it fewer parts and fixings.',
      );
    expect(refusalOf(() => naming('Unit "A-101"', () => place(more, 50)))).toMatch(
      /^Unit "A-101": "Back wall, elevation" comes to 100,001 points/,
    );
  });

  reaches('largestDrawing', async (most) => {
    const placed = (of: string) => ({
      title: 'a',
      width: 1,
      height: 1,
      scale: 1,
      key: [],
      groups: [{ layer: 'walls' as const, of, marks: [] }],
    });
    const svg = (length: number): string => svgOf(placed('x'.repeat(length)), { background: 'light' });
    // What a group takes beside the name of what it is of.
    const around = '<g data-layer="walls" data-part=""></g>\n'.length;
    expect(svg(most - around).length).toBeGreaterThan(most);
    const said =
      'As a file this drawing takes more than 16,777,216 characters, the most that one drawing takes. Shorten the names in it, or divide what it shows into several walls or units.';
    expect(refusalOf(() => svg(most - around + 1))).toBe(said);
    // DXF is put together by the same hand, and slowly: here it has four thousand characters.
    const dxf = (lines: number) =>
      lowered('largestDrawing', 4000, () =>
        refusalOf(() => dxfOf(placed('a'), { lines: Array.from({ length: lines }, () => 'x'.repeat(100)) })),
      );
    expect(await dxf(1)).toBe('');
    expect(await dxf(40)).toBe(said.replace('16,777,216', '4,000'));
  });

  const pdf = (count: number, bounds: PdfBounds = {}): Uint8Array => {
    const document = createPdf({ title: 'a', subject: 'b', creator: 'c', date: new Date(0) }, lettering, bounds);
    const pieces: Uint8Array[] = [];
    for (let i = 0; i < count; i++) {
      document.addPage({ width: 210, height: 297, marks: [], bookmarks: [] });
      pieces.push(...document.taken());
    }
    return Buffer.concat([...pieces, ...document.end()]);
  };

  reaches('mostPages', (most) => {
    // As many as there may be take minutes: here they are twenty.
    expect(pdf(20, { pages: 20 }).length).toBeGreaterThan(0);
    expect(refusalOf(() => pdf(21, { pages: 20 }))).toBe(
      'This PDF comes to more than 20 pages, the most that one file takes.',
    );
    expect(most).toBeGreaterThanOrEqual(100_000);
  });

  reaches('largestPdf', (most) => {
    // Two gigabytes take minutes: here it is just as large as one of ten pages.
    const size = pdf(10).length;
    expect(pdf(10, { bytes: size }).length).toBe(size);
    const told = new RegExp(
      `^This PDF takes more than ${(size - 1).toLocaleString('en')} bytes, the most that one file`,
    );
    expect(refusalOf(() => pdf(10, { bytes: size - 1 }))).toMatch(told);
    // Offsets in it have ten digits.
    expect(most).toBeLessThan(1e10);
  });

  reaches('mostPagesOfOne', (most) => {
    const flow = new Flow(papers.a4, marginsFor(false), lettering);
    for (let i = 0; i < most; i++) flow.newPage();
    expect(flow.made).toHaveLength(most);
    expect(refusalOf(() => flow.newPage())).toBe(
      'The sheets come to more than 5,000 pages, the most that are made of one unit, or of the boards of one project. Give it fewer parts and fixings, or divide it into several.',
    );
  });

  reaches('largestSitePage', async (most) => {
    const project = projectOf(
      `board white-12 { depth 12in; thickness 3/4in }\ntemplate t { board white-12; wall back { length 8ft; height 96in }; zone z on back { width fill; shelf s { at 80in } } }\nunit u t`,
    );
    const { drawableOf } = await import('../../server/sheets/drawing/drawings.ts');
    const units = [...project.units()].map((unit) => ({ unit, drawable: drawableOf(project, unit, 'inches') }));
    const page = (bound?: number) =>
      sitePage(
        {
          title: 'P',
          part: undefined,
          revision: 'abc',
          date: '2026-01-01',
          system: 'inches',
          hasErrors: false,
          units,
          script: '',
        },
        bound,
      );
    const { unitSheet } = await import('../../server/sheets/site-page/unit-sheet.ts');
    const [{ unit, drawable }] = units as [(typeof units)[number]];
    const size = unitSheet(drawable as never, unit).length;
    expect(await page(size)).toContain('</html>');
    await expect(page(size - 1)).rejects.toThrow(
      `The layouts of these units take more than ${(size - 1).toLocaleString('en')} characters, the most that one page for the site holds.`,
    );
    expect(size).toBeLessThan(most / 1000);
  });

  reaches('mostMade', async (most) => {
    const count = async (files: number): Promise<number> => {
      let seen = 0;
      for await (const _ of upTo(Array.from({ length: files }, () => 0))) seen++;
      return seen;
    };
    expect(await count(most)).toBe(most);
    await expect(count(most + 1)).rejects.toThrow(
      'This comes to more than 200,000 files, the most that one run makes.',
    );
  });
});

/** With a lower limit, as reaching the real one would take a building. */
async function lowered<T>(
  name: 'mostDrawn' | 'largestDrawing' | 'mostPages' | 'mostMade',
  most: number,
  run: () => T,
): Promise<Awaited<T>> {
  const limit = limits[name] as { most: number };
  const { most: kept } = limit;
  limit.most = most;
  try {
    return await run();
  } finally {
    limit.most = kept;
  }
}

describe('what is more than is drawn or printed', () => {
  const text = `project "Quarry Lane" { show inches }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft unlimited }
template t {
  board white-12
  wall back { length 8ft; height 96in }
  zone z on back { width fill; shelf low { at 20in }; shelf high { at 80in } }
}
unit A-101 t
`;

  it('is told in the panel of the drawing, with all else there is to tell', async () => {
    const { snapshot, at } = cursor(text.replace('A-101 t', 'A-101 t|'));
    // One drawing is kept for the next question: each is asked for in a size of its own.
    const drawn = (width: number) => drawingAt(snapshot, at, { view: 'elevation back', width });
    const count = await lowered('mostDrawn', 0, () => Number(/comes to (\d+)/.exec(drawn(200)?.problem ?? '')?.[1]));
    expect(count).toBeGreaterThan(20);
    expect(await lowered('mostDrawn', count, () => drawn(210))).toMatchObject({
      sheet: { title: 'Back wall, elevation' },
      problem: undefined,
    });
    const refused = await lowered('mostDrawn', count - 1, () => drawn(220));
    expect(refused).toMatchObject({
      unit: { name: 'A-101' },
      view: 'elevation back',
      sheet: undefined,
      parts: [],
      problem: `"Back wall, elevation" comes to ${count} points, symbols and texts; ${count - 1} are the most that one drawing takes. Divide what it shows into several walls or units, or give it fewer parts and fixings.`,
    });
    // Other views can still be chosen.
    expect(refused?.views.length).toBeGreaterThan(1);
  });

  const folder = (): string => {
    const made = mkdtempSync(join(tmpdir(), 'storypole-'));
    folders.push(made);
    writeFileSync(join(made, 'a.closet'), text);
    return made;
  };
  const folders: string[] = [];
  afterAll(() => {
    for (const one of folders) rmSync(one, { recursive: true, force: true });
  });

  it('stops the command, which names the unit, says what to ask for, and leaves nothing behind', async () => {
    const at = folder();
    const out = join(at, 'out');
    const options = { paper: 'a3', theme: 'light', failOn: 'error', date: '2026-01-01', out } as const;
    for (const format of ['svg', 'dxf', 'pdf'] as const)
      await expect(lowered('mostDrawn', 20, () => draw([at], { ...options, format }))).rejects.toThrow(
        /^Unit "A-101": ".+" comes to \d+ points, symbols and texts; 20 are the most that one drawing takes\. Divide what it shows .+ fixings\. Nothing was written\.$/,
      );
    await expect(lowered('mostPages', 1, () => draw([at], { ...options, format: 'pdf' }))).rejects.toThrow(
      'This PDF comes to more than 1 pages, the most that one file takes. Draw one unit at a time (--unit), or as PDF name a folder as --out, where each unit gets a file. Nothing was written.',
    );
    await expect(lowered('mostMade', 1, () => draw([at], { ...options, format: 'svg' }))).rejects.toThrow(
      'This comes to more than 1 files, the most that one run makes. Draw one unit at a time (--unit),',
    );
    const sheets = { ...options, paper: 'a4' } as const;
    await expect(lowered('mostPages', 2, () => packet([at], sheets))).rejects.toThrow(
      'This PDF comes to more than 2 pages, the most that one file takes. Take one floor at a time (--floor), or a file for each unit (--each). Nothing was written.',
    );
    await expect(lowered('mostDrawn', 20, () => packet([at], sheets))).rejects.toThrow(/^Unit "A-101": ".+" comes to/);
    expect(readdirSync(at)).toEqual(['a.closet']);
    // And with as much as there is, all of it is made.
    expect([...(await draw([at], { ...options, format: 'pdf' })).result].join('')).toContain('Made ');
  });

  it('leaves a note in the place of a drawing in a comparison, half of which may be out already', async () => {
    const [before, after] = [folder(), folder()];
    writeFileSync(join(after, 'a.closet'), text.replace('at 80in', 'at 70in'));
    const page = (most: number) =>
      lowered('mostDrawn', most, () => [...compareStates(before, after, { format: 'html' } as never).result].join(''));
    expect(await page(limits.mostDrawn.most)).toContain('<svg');
    const bare = await page(20);
    expect(bare).not.toContain('<svg');
    expect(bare).toMatch(/<p>&#34;Back wall, elevation&#34; comes to \d+ points, symbols and texts; 20 are the most/);
    expect(bare).toContain('</html>');
  });
});
