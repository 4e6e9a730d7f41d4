/** What holds for any drawing: numbers never meet, hatches keep to their areas, names are never markup, ink can be read. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TICKS_PER_MM, ticks } from '../../../server/model/ticks.ts';
import { hatching } from '../../../server/sheets/drawing/hatch.ts';
import { widthOf } from '../../../server/sheets/drawing/letters.ts';
import { pageOf } from '../../../server/sheets/drawing/page.ts';
import { type At, boxOf, overlap, type PaperText } from '../../../server/sheets/drawing/paper.ts';
import { place } from '../../../server/sheets/drawing/place.ts';
import type { Chain, Scene } from '../../../server/sheets/drawing/scene.ts';
import { svgOf } from '../../../server/sheets/drawing/svg.ts';
import { fitted, linesOf } from '../../../server/sheets/drawing/writing.ts';
import { drawn, odd, projectWith } from './units.ts';
import { type Element, every, parsed } from './xml.ts';

const lengths = fc.array(fc.integer({ min: 1, max: 3000 }), { minLength: 1, maxLength: 40 });

describe('numbers of dimensions', () => {
  it('never cover one another, whatever the lengths, the side and the scale', () => {
    const side = fc.record({
      along: fc.constantFrom('x' as const, 'y' as const),
      side: fc.constantFrom('before' as const, 'behind' as const),
      style: fc.constantFrom('chain' as const, 'running' as const),
    });
    fc.assert(
      fc.property(lengths, lengths, side, fc.constantFrom(5, 20, 25, 50, 100), (first, second, how, scale) => {
        const chains = [first, second].map((parts, row): Chain => {
          const stations = [0, ...parts.map((_, i) => parts.slice(0, i + 1).reduce((a, b) => a + b, 0))];
          return {
            ...how,
            row,
            label: 'parts',
            stations: stations.map((mm) => ({ at: ticks(mm * TICKS_PER_MM), from: ticks(0) })),
            texts: (how.style === 'chain' ? parts : stations).map(String),
          };
        });
        const scene: Scene = { title: '', view: 'elevation', figures: [], labels: [], chains };
        const texts = place(scene, scale).groups.flatMap(({ marks }) =>
          marks.flatMap((mark) => (mark.kind === 'text' ? [mark] : [])),
        );
        const boxes = texts.map(boxOf);
        const met = boxes.flatMap((box, i) => boxes.slice(i + 1).filter((other) => overlap(box, other)));
        expect(met).toEqual([]);
        // All that is measured from part to part is written.
        if (how.style === 'chain') expect(texts).toHaveLength(first.length + second.length);
      }),
    );
  });
});

describe('a hatch', () => {
  /** Corners on a circle of random radii, so that the outline does not cross itself. */
  const outlines = fc.array(fc.double({ min: 3, max: 40, noNaN: true }), { minLength: 3, maxLength: 9 }).map((radii) =>
    radii.map((r, i): At => {
      const angle = (2 * Math.PI * i) / radii.length;
      return [r * Math.cos(angle), r * Math.sin(angle)];
    }),
  );

  it('covers its area and nothing else', () => {
    fc.assert(
      fc.property(outlines, fc.constantFrom(45, -45, 0, 90), (outline, angle) => {
        const apart = 0.25;
        const lines = hatching(outline, angle, apart);
        // The sum of the lines times their distance comes near to the area: half a line more or less at each corner.
        const covered = lines.reduce((sum, [a, b]) => sum + Math.hypot(b[0] - a[0], b[1] - a[1]) * apart, 0);
        const area = Math.abs(
          outline.reduce((sum, [x, y], i) => {
            const [nx, ny] = outline[(i + 1) % outline.length] as At;
            return sum + (x * ny - nx * y) / 2;
          }, 0),
        );
        expect(Math.abs(covered - area)).toBeLessThan(area * 0.03 + 40 * apart);
        for (const [a, b] of lines) expect(isWithin(outline, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2])).toBe(true);
      }),
    );
  });

  /** By how often the outline goes round a point: another way than the crossings that hatches are made from. */
  function isWithin(outline: readonly At[], [px, py]: At): boolean {
    const turns = outline.reduce((sum, [x, y], i) => {
      const [nx, ny] = outline[(i + 1) % outline.length] as At;
      const [a, b] = [
        [x - px, y - py],
        [nx - px, ny - py],
      ] as [At, At];
      return sum + Math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]);
    }, 0);
    return Math.abs(turns) > Math.PI;
  }
});

describe('writing', () => {
  const words = fc.string({ unit: 'grapheme', maxLength: 200 });

  it('is shortened to the room there is, and not where it has room', () => {
    fc.assert(
      fc.property(words, fc.double({ min: 5, max: 60, noNaN: true }), fc.boolean(), (text, room, bold) => {
        const made = fitted(text, room, 2.5, bold);
        expect(widthOf(made, bold) * 2.5).toBeLessThanOrEqual(room + 1e-9);
      }),
    );
    expect(fitted('A-101-bedroom', 100, 2.5)).toBe('A-101-bedroom');
    expect(fitted('A-101-bedroom', 15, 2.5)).toMatch(/^A-1.*…$/);
  });

  it('breaks into lines that have room and leave nothing out', () => {
    fc.assert(
      fc.property(words, fc.double({ min: 12, max: 60, noNaN: true }), (text, room) => {
        const lines = linesOf(text, room, 2);
        for (const line of lines) expect(widthOf(line) * 2).toBeLessThanOrEqual(room + 1e-9);
      }),
    );
    const said = 'Nothing is left to cut of shelf none.a: its clear opening is 0in, and 0in is taken off.';
    expect(linesOf(said, 40, 2).join(' ')).toBe(said);
    expect(linesOf(said, 40, 2, false, 2)).toHaveLength(2);
    expect(linesOf(said, 40, 2, false, 2).at(-1)).toMatch(/…$/);
  });
});

/** Names that have broken documents before, and those that are hard to set. */
const names = [
  '</text><script>alert(1)</script>',
  '"><img src=x onerror=alert(1)>',
  ']]><!--',
  '--> <svg onload=alert(1)>',
  '&lt;b&gt; &amp; &#60; &bogus;',
  'url(javascript:alert(1))',
  "'; } * { display: none } /*",
  '\u0000\u0001\u0007\u001b[31m\ud800',
  '\u202eright to left\u202c \u2066x\u2069',
  'خزانة الملابس في غرفة النوم',
  'ארון בגדים לחדר השינה',
  '👗👔🧥👩‍👩‍👧‍👦🏳️‍🌈',
  '衣装部屋の棚板と引き出し',
  'Z̷̢̛a̸̡l̵̢g̶̡o̷̢'.repeat(10),
  '﷽﷽﷽﷽﷽﷽﷽﷽',
  'W'.repeat(200),
  'a'.repeat(200),
  `${'long '.repeat(40)}`,
];

const inside = new Set(['svg', 'title', 'style', 'rect', 'g', 'path', 'circle', 'text']);

function checkInert(root: Element): void {
  const wrong: string[] = [];
  const check = (element: Element): void => {
    if (!inside.has(element.name)) wrong.push(element.name);
    for (const [name, value] of Object.entries(element.attributes)) {
      if (/^on|href|^style$/i.test(name)) wrong.push(name);
      if (!/^(data|aria)-/.test(name) && /javascript:|url\(/i.test(value)) wrong.push(value);
    }
    for (const child of element.children) check(child);
  };
  check(root);
  expect(wrong).toEqual([]);
}

describe('names', () => {
  it.each(names)('are text and nothing else, and stay in their cells: %s', (name) => {
    const [one] = odd;
    if (!one) throw new Error('no unit');
    const { pages } = drawn(one, 'inches');
    for (const page of pages.slice(0, 2)) {
      const title = { ...page.title, project: name, unit: name, template: name, drawing: name, revision: name };
      const hostile = {
        ...page,
        title,
        banner: name,
        notes: [name],
        findings: [{ number: '1', severity: 'error' as const, text: name }],
        scenes: page.scenes.map((scene) => ({
          ...scene,
          title: name,
          figures: scene.figures.map((figure) => ({ ...figure, of: name, label: name })),
          labels: scene.labels.map((label) => ({ ...label, text: name, needed: true })),
        })),
      };
      for (const orientation of ['landscape', 'portrait'] as const) {
        const placed = pageOf({ ...hostile, orientation });
        for (const theme of ['light', 'dark', 'page'] as const)
          checkInert(parsed(svgOf(placed, { background: theme, interactive: true })));
        const cells = placed.groups
          .filter(({ layer }) => layer === 'sheet')
          .flatMap(({ marks }) => marks.filter((mark): mark is PaperText => mark.kind === 'text'));
        const boxes = cells.map((cell) => ({ text: cell.text, box: boxOf(cell) }));
        const out = boxes.filter(({ box }) => box[0] < 20 || box[2] > placed.width - 10);
        expect(out).toEqual([]);
        const met = boxes.flatMap((a, i) => boxes.slice(i + 1).flatMap((b) => (overlap(a.box, b.box) ? [[a, b]] : [])));
        expect(met).toEqual([]);
      }
    }
  });

  it('that are of the language itself come through whole', () => {
    const project = projectWith(
      'project "</title><script>" {}\nboard b { depth 12in; thickness 3/4in }\ntemplate t { board b; wall back { length 36in; height 96in }\n zone z on back { width fill; shelf s { at 40in } } }\nunit u-1 t\n',
    );
    const [unit] = project.units();
    if (!unit) throw new Error('no unit');
    const { pages } = drawn({ project, unit }, 'inches', { project: project.settings.title });
    for (const page of pages) {
      const svg = parsed(svgOf(pageOf(page), { background: 'light' }));
      checkInert(svg);
      expect(every(svg, 'text').map(({ text }) => text)).toContain('</title><script>');
    }
  });
});

describe('ink on its ground', () => {
  /** WCAG 2.2, "relative luminance" and "contrast ratio". */
  function luminance(colour: string): number {
    const [r, g, b] = [1, 3, 5].map((i) => {
      const c = Number.parseInt(colour.slice(i, i + 2), 16) / 255;
      return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
    }) as [number, number, number];
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  }

  it.each(['light', 'dark', 'page'] as const)('can be read: %s', (background) => {
    const style = /<style>([^<]*)<\/style>/.exec(svgOf(place(emptyScene, 1), { background }))?.[1] ?? '';
    const [, paper = ''] = /\.p\{fill:(?:var\(--paper, )?(#[0-9a-f]{6})/.exec(style) ?? [];
    const [, ink = ''] = /\.i\{fill:(?:var\(--ink, )?(#[0-9a-f]{6})/.exec(style) ?? [];
    const [a, b] = [luminance(paper), luminance(ink)].sort((x, y) => y - x) as [number, number];
    // Success criterion 1.4.6, the stricter of the two for text.
    expect((a + 0.05) / (b + 0.05)).toBeGreaterThan(7);
    // No third colour.
    const colours = new Set(style.match(/#[0-9a-f]{6}/g));
    expect([...colours].sort()).toEqual([paper, ink].sort());
  });

  const emptyScene: Scene = { title: '', view: 'plan', figures: [], labels: [], chains: [] };
});
