/** Part labels: their places on the sheet, their words, and their codes as another library reads them. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import type { Extra } from '../../../server/model/extras.ts';
import type { Project } from '../../../server/model/project.ts';
import { createPdf } from '../../../server/sheets/pdf/document.ts';
import type { PageContent } from '../../../server/sheets/pdf/page.ts';
import { cornerOf, type LabelSheet, labelSheet } from '../../../server/sheets/shop/label-sheet.ts';
import { codeOf, type Label, labelPages, labelsOf, labelText } from '../../../server/sheets/shop/labels.ts';
import { projectOf } from '../../model/support.ts';
import { jobFor, prepared, quarryLane } from '../packet/example.ts';
import { lettering } from '../pdf/fonts.ts';
import { outside, overlapping, readPdf, textOf } from '../pdf/read.ts';

const a4 = { width: 210, height: 297 };

beforeAll(async () => {
  const file = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm');
  await prepareZXingModule({
    overrides: { wasmBinary: readFileSync(file).buffer as ArrayBuffer },
    fireImmediately: true,
  });
});

/** What a camera would see of the black areas of a page, so many pixels to the millimetre. */
function pixelsOf({ width, height, marks }: PageContent, perMm: number) {
  const [w, h] = [Math.ceil(width * perMm), Math.ceil(height * perMm)];
  const data = new Uint8ClampedArray(w * h * 4).fill(255);
  for (const mark of marks) {
    if (mark.kind !== 'path' || mark.ground !== 'ink') continue;
    const [xs, ys] = [mark.points.map(([x]) => x * perMm), mark.points.map(([, y]) => y * perMm)];
    for (let y = Math.round(Math.min(...ys)); y < Math.round(Math.max(...ys)); y++)
      for (let x = Math.round(Math.min(...xs)); x < Math.round(Math.max(...xs)); x++)
        data.fill(0, (y * w + x) * 4, (y * w + x) * 4 + 3);
  }
  return { data, width: w, height: h, colorSpace: 'srgb' } as Parameters<typeof readBarcodes>[0];
}

async function codesOn(page: PageContent): Promise<string[]> {
  const found = await readBarcodes(pixelsOf(page, 6), { formats: ['QRCode'], maxNumberOfSymbols: 255 });
  return found.map(({ text }) => text);
}

function extrasIn(project: Project): Extra[] {
  return [...project.computed('extra')].flatMap((made) =>
    made.kind === 'extra' && made.value?.kind === 'extra' ? [made.value] : [],
  );
}

function made(asked: Parameters<typeof labelSheet>[0]): LabelSheet {
  const sheet = labelSheet(asked);
  if (sheet.kind === 'refused') throw new Error(sheet.why);
  return sheet.sheet;
}

describe('a sheet of labels', () => {
  it('holds as many as have room, in the middle of it', () => {
    expect(made({ sheet: a4, label: { width: 70, height: 37 } })).toMatchObject({
      columns: 3,
      rows: 8,
      margin: { left: 0, top: 0.5 },
    });
    expect(made({ sheet: a4, label: { width: 63.5, height: 38.1 }, gap: { across: 2.5, down: 0 } })).toMatchObject({
      columns: 3,
      rows: 7,
    });
  });

  it.each([
    [
      { sheet: a4, label: { width: 220, height: 37 } },
      'A label of 220mm x 37mm has no room on a sheet of 210mm x 297mm: it is 10mm too wide.',
    ],
    [
      { sheet: a4, label: { width: 70, height: 290 }, margin: { left: 5, top: 20 } },
      'A label of 70mm x 290mm has no room on a sheet of 210mm x 297mm with a margin of 5mm at the left and 20mm at the top: it is 13mm too high.',
    ],
    [
      { sheet: a4, label: { width: 10, height: 5 } },
      'A label of 10mm x 5mm is too small to read: it takes at least 24mm x 10mm.',
    ],
  ])('is refused where it does not fit: %#', (asked, why) => {
    expect(labelSheet(asked)).toEqual({ kind: 'refused', why });
  });

  it('never has a label over an edge or over another', () => {
    const size = fc.double({ min: 24, max: 320, noNaN: true });
    const small = fc.double({ min: 0, max: 30, noNaN: true });
    fc.assert(
      fc.property(
        size,
        size,
        size,
        size,
        fc.option(fc.tuple(small, small)),
        small,
        small,
        (w, h, sw, sh, edge, across, down) => {
          const asked = labelSheet({
            sheet: { width: sw, height: sh },
            label: { width: w, height: h },
            margin: edge ? { left: edge[0], top: edge[1] } : undefined,
            gap: { across, down },
          });
          if (asked.kind === 'refused') return;
          const { columns, rows, label } = asked.sheet;
          const last = cornerOf(asked.sheet, columns * rows - 1);
          expect(cornerOf(asked.sheet, 0).every((at) => at >= -1e-5)).toBe(true);
          expect(last[0] + label.width).toBeLessThanOrEqual(sw + 1e-5);
          expect(last[1] + label.height).toBeLessThanOrEqual(sh + 1e-5);
          if (columns > 1)
            expect(cornerOf(asked.sheet, 1)[0] - cornerOf(asked.sheet, 0)[0]).toBeGreaterThanOrEqual(
              label.width - 1e-9,
            );
        },
      ),
    );
  });
});

describe('labels of Quarry Lane', () => {
  const example = quarryLane();
  const job = jobFor(example, 'inches', 'a4');
  const { units } = example;
  const all = labelsOf({ units, extras: extrasIn(example.project), spares: true }, job);
  const sheet = made({ sheet: a4, label: { width: 70, height: 37 } });

  it('are one for each piece that is cut', () => {
    const pieces = job.boards.boards.flatMap((board) => board.pieces);
    expect(all.length).toBe(pieces.length);
    const [unit] = units;
    const own = labelsOf({ units: unit ? [unit] : [], extras: [], spares: false }, job);
    expect(own.map(({ part }) => part).sort()).toEqual(unit?.resolved?.layout.parts.map(({ path }) => path).sort());
    for (const label of own) {
      const part = unit?.resolved?.layout.parts.find(({ path }) => path === label.part);
      expect(label.material).toBe(part?.material);
      expect(label.from).toMatch(/^(board|rod) \d+, piece \d+$/);
    }
  });

  it('say in their codes what stands on them', async () => {
    const [first, second] = [...labelPages(all.slice(0, 12), sheet, 20, job, lettering)];
    expect((await codesOn(first as PageContent)).sort()).toEqual(
      all
        .slice(0, 5)
        .map((label) => labelText(label, job))
        .sort(),
    );
    expect((await codesOn(second as PageContent)).sort()).toEqual(
      all
        .slice(5, 12)
        .map((label) => labelText(label, job))
        .sort(),
    );
  });

  it('say the same in words, on their own label', async () => {
    const pdf = createPdf({ title: '', subject: '', creator: '', date: new Date(0) }, lettering);
    const some = all.slice(0, 30);
    for (const page of labelPages(some, sheet, 1, job, lettering)) pdf.addPage(page);
    const { pages } = await readPdf(Buffer.concat(pdf.end()));
    expect(pages.length).toBe(2);
    for (const page of pages) expect([outside(page), overlapping(page)]).toEqual([[], []]);
    const text = pages.map(textOf).join(' ');
    for (const { part, unit, length, from } of some)
      for (const line of [part, unit, length, from ?? '']) expect(text).toContain(line);
  });
});

describe('labels of loose parts', () => {
  const labelled = (stock: string, extra: string): string[] => {
    const project = projectOf(`board b { depth 10in; thickness 3/4in }
stock b { length 8ft ${stock} }
template t { wall back { length 48in; height 96in } zone z on back { width fill; board b; shelf s { at 60in } } }
unit one t
${extra}
`);
    const example = prepared(project);
    const labels = labelsOf(
      { units: example.units, extras: extrasIn(project), spares: true },
      jobFor(example, 'inches', 'a4'),
    );
    return labels.map(({ part, unit, length, depth, from }) => [part, unit, length, depth, from].join(', '));
  };

  it('say which of them are not planned, and are as many as are cut', () => {
    // The one board of 96 in holds the shelf of 48 in and one part of 40 in, or two of these.
    const some = labelled('count 1', 'extra spare { board b; length 40in; count 3 }');
    expect(some.filter((label) => label.endsWith('board 1, piece 1'))).toHaveLength(1);
    expect(some.map((label) => label.replace(/board 1, piece \d$/, '')).sort()).toEqual([
      'spare, loose part 1 of 3, 40", 10", ',
      'spare, loose part 2 of 3, 40", 10", ',
      'spare, loose part 3 of 3, 40", 10", ',
      'z.s, one, 48", 10", ',
    ]);
    expect(labelled('count 0', 'extra spare { board b; length 40in; count 3 }')).toEqual([
      'z.s, one, 48", 10", ',
      'spare, loose part 1 of 3, 40", 10", ',
      'spare, loose part 2 of 3, 40", 10", ',
      'spare, loose part 3 of 3, 40", 10", ',
    ]);
  });

  it('are their own where a unit has their name, and none where nothing is cut for sure', () => {
    expect(labelled('count 0', 'extra one { board b; length 40in }')).toEqual([
      'z.s, one, 48", 10", ',
      'one, loose part, 40", 10", ',
    ]);
    expect(labelled('count 0', 'extra e { board b; length 40in; count 0 }')).toHaveLength(1);
    expect(labelled('count 0', 'extra e { board b; length 40in; count up to 3 }')).toHaveLength(1);
  });
});

describe('a code', () => {
  it('can be read whatever a name holds', async () => {
    const labels = ['חדר 12', '👩‍👩‍👧', 'Zürich & <b>', 'y'.repeat(150)].map(
      (unit): Label => ({
        part: 'shirts.high',
        unit,
        length: '48"',
        depth: '12"',
        material: 'white-12',
        from: undefined,
      }),
    );
    const sheet = made({ sheet: a4, label: { width: 105, height: 70 } });
    const [page] = [...labelPages(labels, sheet, 1, { title: 'Quarry Lane', style: 'inches' }, lettering)];
    const expected = labels.map((label) => labelText(label, { title: 'Quarry Lane', style: 'inches' }));
    expect((await codesOn(page as PageContent)).sort()).toEqual(expected.sort());
  });

  it('is left out, and told, where it would be too fine or holds too much', () => {
    let bare = 0;
    const label: Label = {
      part: 'p',
      unit: 'u'.repeat(200),
      length: '1"',
      depth: undefined,
      material: 'm',
      from: undefined,
    };
    const small = made({ sheet: a4, label: { width: 38, height: 13 } });
    const pages = [...labelPages([label], small, 1, { title: 't', style: 'inches' }, lettering, () => bare++)];
    expect([pages.length, bare, pages[0]?.marks.some(({ kind }) => kind === 'path')]).toEqual([1, 1, false]);
    expect(codeOf('x'.repeat(5000))).toBeUndefined();
  });
});
