/** Install packets as pdf.js reads them, against the model that they come from. */
import { describe, expect, it } from 'vitest';
import type { Unit } from '../../../server/model/project.ts';
import type { LengthStyle } from '../../../server/sheets/drawing/drawable.ts';
import { finalChecks, markOutOf, orderOfWork } from '../../../server/sheets/mark-out.ts';
import { type Job, said } from '../../../server/sheets/packet/job.ts';
import { packetFile, packetOf } from '../../../server/sheets/packet/packet.ts';
import type { PaperName } from '../../../server/sheets/pdf/page.ts';
import { lettering } from '../pdf/fonts.ts';
import { outside, overlapping, type ReadPage, readPdf, textOf } from '../pdf/read.ts';
import { type Example, jobFor, mistakes, projectsIn, quarryLane } from './example.ts';

function bytesOf(example: Example, units: readonly Unit[], job: Job): Uint8Array {
  const packets = units.map((unit) => packetOf(example.project, unit, job.style, []));
  return Buffer.concat([...packetFile(packets, units.length, job, lettering, 'Install packets')]);
}

/** One unit of each template, mirrored or not: the others are drawn alike. */
function different({ units }: Example): Unit[] {
  const seen = new Map<string, Unit>();
  for (const unit of units) {
    const key = `${unit.info?.declared.name} ${unit.mirrored}`;
    if (!seen.has(key)) seen.set(key, unit);
  }
  return [...seen.values()];
}

const looks: readonly (readonly [LengthStyle, PaperName])[] = [
  ['inches', 'a4'],
  ['inches', 'letter'],
  ['feet', 'a4'],
  ['feet', 'letter'],
  ['millimetres', 'a4'],
  ['millimetres', 'letter'],
];

/** In points. A4: ISO 216, Letter: 8-1/2 by 11 in. */
const boxes = { a4: [595.28, 841.89], letter: [612, 792] } as const;

/** The rows of a table: texts at one height, from the left, a bar between them. */
function rowsOf(page: ReadPage): string[] {
  const rows = new Map<number, (typeof page.texts)[number][]>();
  for (const text of page.texts) {
    if (text.turned) continue;
    const y = [...rows.keys()].find((known) => Math.abs(known - text.at[1]) < 1) ?? text.at[1];
    rows.set(y, [...(rows.get(y) ?? []), text]);
  }
  return [...rows].map(([, texts]) =>
    texts
      .toSorted((a, b) => a.at[0] - b.at[0])
      .map(({ text }) => text)
      .join('|'),
  );
}

describe('packets of Quarry Lane', () => {
  const example = quarryLane();
  const some = different(example);

  it.each(looks)(
    'in %s on %s keep to their pages, which are numbered, with fonts of their own',
    async (style, paper) => {
      const read = await readPdf(bytesOf(example, some, jobFor(example, style, paper)));
      expect([...read.fonts.values()]).toEqual([true, true]);
      const [short, long] = boxes[paper];
      for (const [i, page] of read.pages.entries()) {
        expect([i + 1, outside(page), overlapping(page)]).toEqual([i + 1, [], []]);
        const [, , width = 0, height = 0] = page.box;
        expect([Math.min(width, height), Math.max(width, height)].map((size) => size.toFixed(1))).toEqual([
          short.toFixed(1),
          long.toFixed(1),
        ]);
        expect(textOf(page)).toMatch(new RegExp(`of the file ${i + 1} / +${read.pages.length}\\b`));
      }
      const numbers = read.pages.map((page) => /page (\d+) of (\d+)/.exec(textOf(page))?.slice(1).map(Number) ?? []);
      let next = 1;
      for (const [number, of] of numbers as [number, number][]) {
        expect(number).toBe(next);
        next = number === of ? 1 : number + 1;
      }
      expect(next).toBe(1);
      expect(read.outline.length).toBe(some.length);
      for (const { items } of read.outline)
        expect(items.map(({ title }) => title)).toEqual(expect.arrayContaining(['Plan', 'Mark-out', 'Cut list']));
    },
  );

  it('say every level line, fixing, part, step and check of the model', async () => {
    const job = jobFor(example, 'inches', 'a4');
    for (const unit of some) {
      const packet = packetOf(example.project, unit, job.style, []);
      const { layout, fixings } = packet.drawable as NonNullable<typeof packet.drawable>;
      const { pages } = await readPdf(bytesOf(example, [unit], job));
      const rows = new Set(pages.flatMap(rowsOf));
      const all = pages.map(textOf).join(' ').replaceAll(/\s+/g, ' ');
      const starting = (beginning: string): string[] => [...rows].filter((row) => row.startsWith(beginning));
      const walls = markOutOf(layout, fixings).walls;
      for (const wall of walls) {
        for (const { height, from, length, mark } of wall.lines)
          expect(starting([height, from, length, mark].map((one) => said(one, job)).join('|'))).not.toEqual([]);
        for (const row of wall.fixings) {
          const where = [row.height, row.fromLeft, row.fromRight].map((one) => said(one, job)).join('|');
          expect(starting(where).join(' ')).toContain(row.hardware);
        }
        for (const stud of wall.studs) expect(all).toContain(said(stud, job));
      }
      for (const part of layout.parts) {
        const sizes = [part.length, ...(part.depth === undefined ? [] : [part.depth])].map((one) => said(one, job));
        const [slot] = job.boards.slotsOf(unit.name, part.path);
        const found = starting(sizes.join('|')).filter((row) => row.includes(`|${part.path}|`));
        expect([part.path, found.length]).toEqual([part.path, 1]);
        expect(found[0]).toContain(`${slot?.board.kind} ${slot?.board.number}, piece ${slot?.piece}`);
      }
      for (const { title } of orderOfWork(layout, fixings)) expect(all).toContain(title);
      for (const { wanted, kind } of finalChecks(layout))
        if (wanted !== undefined) expect([kind, all.includes(said(wanted, job))]).toEqual([kind, true]);
      expect(all).toContain('What pulls out of a wall falls on somebody');
      expect(all).not.toMatch(/\b(safe|compliant)\b/i);
    }
  });

  it('are the same byte for byte when they are made again, and say when that was', async () => {
    const job = jobFor(example, 'inches', 'a4');
    const [unit] = some as [Unit];
    const bytes = bytesOf(example, [unit], job);
    expect(Buffer.compare(bytes, bytesOf(example, [unit], job))).toBe(0);
    expect((await readPdf(bytes)).info).toMatchObject({ CreationDate: 'D:20260314000000Z', Creator: 'Storypole test' });
  });
});

describe('packets of projects with mistakes', () => {
  it('are made, and where there are errors say on every page not to cut by it', async () => {
    let [wrong, fine] = [0, 0];
    for (const folder of mistakes) {
      for (const example of projectsIn(`mistakes/${folder}`)) {
        const job = jobFor(example, example.project.settings.show.system, 'a4');
        for (const unit of example.units) {
          const { pages } = await readPdf(bytesOf(example, [unit], job));
          const packet = packetOf(example.project, unit, job.style, []);
          const has = packet.findings.some(({ severity }) => severity === 'error');
          if (has) wrong++;
          else fine++;
          for (const page of pages) {
            expect([folder, outside(page), overlapping(page)]).toEqual([folder, [], []]);
            expect([folder, textOf(page).includes('DO NOT CUT BY THIS SHEET')]).toEqual([folder, has]);
          }
          const cover = pages
            .map(textOf)
            .join(' ')
            .replaceAll(/[\s-]+/g, '');
          for (const { message } of packet.findings)
            expect(cover).toContain(message.replaceAll(/[\s-]+/g, '').slice(0, 40));
        }
      }
    }
    expect([wrong > 5, fine > 0]).toEqual([true, true]);
  });
});

describe('what somebody may have written', () => {
  const names = [
    'x'.repeat(200),
    'bed room '.repeat(22),
    'חדר שינה 12 (א)',
    'غرفة نوم',
    '👩‍👩‍👧 flat 🚪',
    '<b>&amp; %PDF (\\) endobj',
    '漢字',
  ];

  it.each(names)('is printed: %s', async (name) => {
    const example = quarryLane();
    const [unit] = example.units as [Unit];
    const job = { ...jobFor(example, 'inches', 'a4'), title: name };
    const { pages, info } = await readPdf(bytesOf(example, [{ ...unit, name, flat: name }], job));
    expect(pages.length).toBeGreaterThan(3);
    for (const page of pages) expect([outside(page), overlapping(page)]).toEqual([[], []]);
    expect(info.Title).toBe(`Install packets, ${lettering.clean(name)}`);
  });
});
