/** Drawings of every example unit and of odd ones, held against the layout they are of and against what was placed. */
import { describe, expect, it } from 'vitest';
import { readLength } from '../../../server/cli/length-text.ts';
import { TICKS_PER_MM, type Ticks } from '../../../server/model/ticks.ts';
import { drawnLength, type LengthStyle } from '../../../server/sheets/drawing/drawable.ts';
import { pageOf, papers } from '../../../server/sheets/drawing/page.ts';
import { boxOf, overlap, type PaperText, type Placed } from '../../../server/sheets/drawing/paper.ts';
import { place } from '../../../server/sheets/drawing/place.ts';
import { partsOf, type Scene } from '../../../server/sheets/drawing/scene.ts';
import { svgOf } from '../../../server/sheets/drawing/svg.ts';
import { all, drawn, odd, styles } from './units.ts';
import { every, parsed } from './xml.ts';

const known = new Map<string, number>();

/** A printed length by the language's own rules, and whether it is about that. */
function printed(text: string, style: LengthStyle): { readonly length: number; readonly isAbout: boolean } {
  const isAbout = text.startsWith('~');
  const said = (isAbout ? text.slice(1) : text) + (style === 'millimetres' ? 'mm' : '');
  if (/^0("|mm)?$/.test(said)) return { length: 0, isAbout };
  let length = known.get(said);
  if (length === undefined) {
    // What nobody would build is refused as one length, so its whole inches or millimetres are read one by one.
    const [, whole = '', rest, unit = ''] = /^(\d{3,})-?(\d+\/\d+|\.\d+)?("|mm)$/.exec(said) ?? [];
    length = unit
      ? Number(whole) * read(`1${unit}`) + (rest ? read(`${rest.replace('.', '0.')}${unit}`) : 0)
      : read(said);
    known.set(said, length);
  }
  return { length, isAbout };
}

function read(text: string): number {
  const found = readLength(text);
  if (found.kind !== 'read') throw new Error(found.why);
  return found.length;
}

const textsOf = ({ groups }: Pick<Placed, 'groups'>): PaperText[] =>
  groups.flatMap(({ marks }) => marks.flatMap((mark) => (mark.kind === 'text' ? [mark] : [])));

/** Pairs of texts of which one covers the other. */
function covered(placed: Placed): string[] {
  const texts = textsOf(placed)
    .map((text) => ({ text: text.text, box: boxOf(text) }))
    .sort((a, b) => a.box[0] - b.box[0]);
  const found: string[] = [];
  for (const [i, one] of texts.entries())
    for (let k = i + 1; k < texts.length; k++) {
      const other = texts[k] as (typeof texts)[number];
      if (other.box[0] >= one.box[2]) break;
      if (overlap(one.box, other.box)) found.push(`${one.text} | ${other.text}`);
    }
  return found;
}

describe.each(styles)('in %s', (style) => {
  const drawings = all.map((one) => drawn(one, style));

  it('the parts of every chain add up to what it measures, as printed too', () => {
    let chains = 0;
    for (const { name, drawable, drawings: of } of drawings)
      for (const { scene } of of)
        for (const chain of scene.chains) {
          const [first, last] = [chain.stations[0]?.at ?? 0, chain.stations.at(-1)?.at ?? 0];
          const parts = partsOf(chain);
          const told = chain.texts.map((text) => printed(text, style));
          const { step } = drawable.show;
          const where = `${name}, ${scene.title}, ${chain.label}`;
          if (chain.style === 'running') {
            for (const [i, { length, isAbout }] of told.entries())
              expect(Math.abs(length - (parts[i] ?? NaN)), where).toBeLessThanOrEqual(isAbout ? step / 2 : 0);
            continue;
          }
          chains++;
          expect(parts.reduce((a, b) => a + b, 0)).toBe(last - first);
          const whole = printed(drawnLength((last - first) as Ticks, drawable), style);
          const sum = told.reduce((total, { length }) => total + length, 0);
          const about = told.filter(({ isAbout }) => isAbout).length + (whole.isAbout ? 1 : 0);
          expect(Math.abs(sum - whole.length), where).toBeLessThanOrEqual((about * step) / 2);
        }
    expect(chains).toBeGreaterThan(300);
  });

  it('a wall whose parts are measured has its whole length beside them', () => {
    for (const { drawable, drawings: of } of drawings)
      for (const { scene, kind, of: name } of of) {
        if (kind !== 'wall') continue;
        const wall = drawable.layout.walls.find((one) => one.name === name);
        const whole = scene.chains.filter(({ along, side }) => along === 'x' && side === 'before').at(-1);
        expect(whole?.texts).toEqual([drawnLength(wall?.length as Ticks, drawable)]);
      }
  });

  it('no text covers another, and none leaves the sheet', () => {
    for (const { name, pages } of drawings)
      for (const page of pages) {
        const placed = pageOf(page);
        expect(covered(placed), `${name}, ${page.title.drawing}`).toEqual([]);
        const [width, height] = [placed.width, placed.height];
        for (const text of textsOf(placed)) {
          const [left, top, right, bottom] = boxOf(text);
          const isIn = left >= 20 && top >= 10 && right <= width - 10 && bottom <= height - 10;
          expect(isIn, `${name}, ${page.title.drawing}: ${text.text}`).toBe(true);
        }
      }
  });
});

describe('placed on paper', () => {
  it('everything stands where the layout has it, read again from the SVG', () => {
    let compared = 0;
    for (const one of all) {
      const { drawable, drawings, name } = drawn(one, 'inches');
      for (const { kind, of, scene } of drawings) {
        if (kind !== 'wall') continue;
        const scale = 25;
        const svg = parsed(svgOf(place(scene, scale), { background: 'light' }));
        const group = (layer: string, part: string) =>
          every(svg, 'g').find(
            ({ attributes }) => attributes['data-layer'] === layer && attributes['data-part'] === part,
          );
        // The corner at the floor and the length of the wall come from what is drawn, not from the placing.
        const wall = drawable.layout.walls.find((w) => w.name === of);
        const frame = pointsOf(
          every(group('walls', of) as never, 'path').find(({ attributes }) => attributes['stroke-width'] === '0.7'),
        );
        const [[ox, oy], [ex]] = [frame[1] as At, frame[2] as At];
        expect((ex - ox) * scale * TICKS_PER_MM).toBeCloseTo(wall?.length ?? NaN, -6);
        for (const zone of drawable.layout.zones.filter((z) => z.wall === of))
          for (const { path, box, kind: what } of zone.fittings) {
            if (what !== 'shelf' && what !== 'panel') continue;
            const outline = pointsOf(
              every(group(what === 'shelf' ? 'shelves' : 'panels', path) as never, 'path').find(
                ({ attributes }) => attributes['stroke-width'] === '0.5',
              ),
            );
            const xs = outline.map(([x]) => (x - ox) * scale);
            const zs = outline.map(([, y]) => (oy - y) * scale);
            // Hundredths of a millimetre on paper are a quarter of one in the room.
            const near = (a: number, b: number) =>
              expect(Math.abs(a - b / TICKS_PER_MM), `${name} ${path}`).toBeLessThan(0.3);
            near(Math.min(...xs), box.x[0]);
            near(Math.max(...xs), box.x[1]);
            near(Math.min(...zs), box.z[0]);
            near(Math.max(...zs), box.z[1]);
            compared++;
          }
      }
    }
    expect(compared).toBeGreaterThan(150);
  });

  it('symbols of fixings stand where the schedule has them', () => {
    for (const one of all) {
      const { drawable, drawings } = drawn(one, 'millimetres');
      for (const { kind, of, scene } of drawings) {
        if (kind !== 'wall') continue;
        const onWall = drawable.fixings.all.filter(({ wall, hold }) => wall === of && hold.kind !== 'part');
        const symbols = symbolsOf(scene).filter(({ symbol }) => symbol !== 'finding');
        expect(symbols.map(({ at }) => at.join()).sort()).toEqual(
          onWall.map(({ at, height }) => [at, height].join()).sort(),
        );
        for (const symbol of ['stud', 'anchor', 'unknown'] as const)
          expect(symbols.filter((s) => s.symbol === symbol).length).toBe(
            onWall.filter(({ hold }) => (hold.kind === 'not-known' ? 'unknown' : hold.kind) === symbol).length,
          );
      }
    }
  });

  it('every finding about something drawn is marked, and listed on the sheet; the others are listed on the first', () => {
    let marked = 0;
    for (const one of all) {
      const { drawable, pages, drawings } = drawn(one, 'inches');
      const listed = new Set(pages.flatMap(({ findings }) => findings.map(({ number }) => number)));
      expect(listed.size).toBe(drawings.length > 0 ? drawable.findings.length : 0);
      for (const [i, { scene }] of drawings.entries()) {
        const numbers = symbolsOf(scene).flatMap(({ symbol, text }) =>
          symbol === 'finding' ? (text ?? '').split(',') : [],
        );
        const here = pages[i]?.findings.map(({ number }) => number) ?? [];
        expect(here).toEqual(expect.arrayContaining(numbers));
        marked += numbers.length;
      }
    }
    expect(marked).toBeGreaterThan(50);
  });

  it('a sheet of a unit with errors says across it not to cut by it', () => {
    const overfull = odd.find(({ unit }) => unit.name === 'overfull') as (typeof odd)[number];
    const { pages } = drawn(overfull, 'inches');
    expect(pages).toHaveLength(2);
    for (const page of pages) {
      const svg = parsed(svgOf(pageOf(page), { background: 'light' }));
      expect(every(svg, 'text').map(({ text }) => text)).toContain('Errors in this unit: do not cut by this drawing');
    }
  });

  it.each(['a4', 'a3', 'letter'] as const)('fills a sheet of %s, either way up', (paper) => {
    for (const one of odd)
      for (const page of drawn(one, 'feet', { paper }).pages)
        for (const orientation of ['landscape', 'portrait'] as const) {
          const placed = pageOf({ ...page, orientation });
          const [short, long] = papers[paper];
          expect([placed.width, placed.height]).toEqual(orientation === 'landscape' ? [long, short] : [short, long]);
          expect(covered(placed)).toEqual([]);
        }
  });
});

type At = readonly [number, number];

function pointsOf(path: { readonly attributes: Readonly<Record<string, string>> } | undefined): At[] {
  const numbers = [...(path?.attributes.d ?? '').matchAll(/-?[\d.]+/g)].map(Number);
  return numbers.flatMap((n, i): At[] => (i % 2 === 0 ? [[n, numbers[i + 1] as number]] : []));
}

function symbolsOf({ figures }: Scene) {
  return figures.flatMap(({ shapes }) => shapes.flatMap((shape) => (shape.kind === 'symbol' ? [shape] : [])));
}
