/** Pages of texts and tables, written as a PDF and read by another program. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createPdf } from '../../../server/sheets/pdf/document.ts';
import { Flow } from '../../../server/sheets/pdf/flow.ts';
import { framed, marginsFor } from '../../../server/sheets/pdf/frame.ts';
import { runsOf } from '../../../server/sheets/pdf/lettering.ts';
import { papers } from '../../../server/sheets/pdf/page.ts';
import { measured, shortened, wrapped } from '../../../server/sheets/pdf/wrap.ts';
import { lettering } from './fonts.ts';
import { outside, overlapping, type ReadPdf, readPdf, textOf } from './read.ts';

const info = { title: 'A title', subject: 'Quarry Lane', creator: 'Storypole test', date: new Date(1e12) };

function bytesOf(fill: (flow: Flow) => void, title = 'A-101'): Uint8Array {
  const flow = new Flow(papers.a4, marginsFor(false), lettering);
  fill(flow);
  const frame = { above: 'Quarry Lane', title, kind: 'Test', foot: '2026-01-01', inFile: { first: 1 } };
  const pdf = createPdf(info, lettering);
  for (const page of framed(flow.made, frame, lettering)) pdf.addPage(page);
  return Buffer.concat(pdf.end());
}

const written = (fill: (flow: Flow) => void, title?: string): Promise<ReadPdf> => readPdf(bytesOf(fill, title));

describe('a document', () => {
  it('has its title, its language, its pages by number and its bookmarks', async () => {
    const read = await written((flow) => {
      flow.heading('First');
      flow.bookmark('First', 0);
      flow.newPage();
      flow.heading('Second');
      flow.bookmark('Second', 1);
    });
    expect(read.info).toMatchObject({ Title: 'A title', Producer: 'Storypole', CreationDate: 'D:20010909014640Z' });
    expect(read.language).toBe('en');
    expect(read.outline.map(({ title, items }) => [title, items.map((item) => item.title)])).toEqual([
      ['First', ['Second']],
    ]);
    expect(read.pages.map((page) => textOf(page).match(/page (\d of \d)/)?.[1])).toEqual(['1 of 2', '2 of 2']);
    expect(
      read.pages.map((page) =>
        textOf(page)
          .match(/of the file (\d) \/ +(\d)/)
          ?.slice(1),
      ),
    ).toEqual([
      ['1', '2'],
      ['2', '2'],
    ]);
  });

  it('is the same, byte for byte, when it is made again', () => {
    const make = (): Uint8Array => bytesOf((flow) => flow.text('The same, שלום, ∅ 12'));
    expect(Buffer.compare(make(), make())).toBe(0);
  });

  it('has both its fonts in it', async () => {
    const { fonts } = await written((flow) => flow.text('plain'));
    expect([...fonts.keys()].map((name) => name.replace(/^[A-Z]+\+/, '')).sort()).toEqual([
      'DejaVuSansCondensed',
      'DejaVuSansCondensed-Bold',
    ]);
    expect([...fonts.values()]).toEqual([true, true]);
  });
});

describe('a table', () => {
  const columns = [
    { title: 'part', align: 'left' },
    { title: 'what it is for', align: 'left', grows: 1 },
    { title: 'length', align: 'right' },
  ] as const;

  it('has its head on every page and no row on two', async () => {
    const rows = Array.from({ length: 200 }, (_, i) => ({
      cells: [`part-${i}`, `row ${i} begins ${'and goes on '.repeat(i % 9)}and row ${i} ends`, `${i}in`],
    }));
    const { pages } = await written((flow) => flow.table(columns, rows));
    expect(pages.length).toBeGreaterThan(3);
    for (const page of pages) {
      expect(textOf(page)).toContain('what it is for');
      expect([outside(page), overlapping(page)]).toEqual([[], []]);
    }
    for (let i = 0; i < 200; i++) {
      const on = pages.flatMap((page, at) => (textOf(page).includes(`row ${i} begins`) ? [at] : []));
      const ends = pages.flatMap((page, at) => (textOf(page).includes(`row ${i} ends`) ? [at] : []));
      expect([i, on.length, ends]).toEqual([i, 1, on]);
    }
  });

  it('leaves no row alone on its last page, and says again what it is about', async () => {
    for (let count = 20; count < 60; count++) {
      const flow = new Flow(papers.a4, marginsFor(false), lettering);
      flow.table(
        columns,
        Array.from({ length: count }, (_, i) => ({ cells: [`part-${i}`, '', ''] })),
        { about: 'Parts' },
      );
      const parts = flow.made.map(({ marks }) => marks.flatMap((mark) => (mark.kind === 'text' ? [mark.text] : [])));
      for (const texts of parts.slice(1)) expect(texts[0]).toBe('Parts, continued');
      expect(parts.at(-1)?.filter((text) => text.startsWith('part-')).length).toBeGreaterThan(1);
    }
  });

  it('keeps to the page with any texts in it', async () => {
    const texts = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 300 }),
      fc.string({ unit: 'grapheme', maxLength: 300 }),
      fc.string({ minLength: 200, maxLength: 400 }).map((text) => text.replaceAll(' ', '_')),
      fc.constantFrom('', ' ', 'אבג 12 (דה) x', 'مرحبا بالعالم', '👩‍👩‍👧 flat', '\u202eevil', '<script>', '\n\n\n'),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(fc.tuple(texts, texts, texts), { maxLength: 12 }), texts, async (rows, title) => {
        const read = await written((flow) => {
          flow.heading(title);
          flow.text(title);
          flow.table(
            columns,
            rows.map((cells) => ({ cells })),
          );
        }, title);
        for (const page of read.pages) expect([outside(page), overlapping(page)]).toEqual([[], []]);
      }),
      { numRuns: 12 },
    );
  });
});

describe('a line', () => {
  const face = { height: 2.3 };

  it('is never wider than it may be, and nothing of it is lost', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 200 }), fc.integer({ min: 8, max: 200 }), (text, width) => {
        const lines = wrapped(text, width, face, lettering);
        for (const line of lines) expect(measured(line, face, lettering)).toBeLessThanOrEqual(width + 0.01);
        expect(lines.join('').replaceAll(' ', '')).toBe(lettering.clean(text).replaceAll(' ', ''));
      }),
    );
  });

  it('is shortened where it must be on one, and says so', () => {
    const long = 'bedroom-'.repeat(25);
    const short = shortened(long, 60, face, lettering);
    expect(short).toMatch(/^bedroom-bed.*…$/);
    expect(measured(short, face, lettering)).toBeLessThanOrEqual(60);
    expect(measured(short, face, lettering)).toBeGreaterThan(55);
    expect(shortened('short', 60, face, lettering)).toBe('short');
  });

  it('is set from the right where its letters are, its numbers from the left (Unicode Standard Annex 9)', () => {
    expect(runsOf('flat 12')).toEqual([{ text: 'flat 12', isLeftwards: false }]);
    const runs = runsOf('flat אבג דה 12 x');
    expect(runs.map(({ text }) => text.trim()).filter((text) => text !== '')).toEqual(['flat', '12', 'דה', 'אבג', 'x']);
    expect(runsOf('(א)').map(({ text }) => text)).toEqual(['(', 'א', ')']);
  });

  it('shows what the font lacks as a box, and what steers not at all', () => {
    expect(lettering.clean('flat 👩‍👩‍👧 7\u202e\u0007')).toBe('flat \u25a1 7\u25a1');
    expect(lettering.clean('Zürich é ∅ שלום')).toBe('Zürich é ∅ שלום');
  });
});
