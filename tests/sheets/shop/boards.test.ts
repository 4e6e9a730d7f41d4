/** Boards of a plan one by one, against the plan and the parts that they are cut for. */
import { describe, expect, it } from 'vitest';
import { said } from '../../../server/sheets/packet/job.ts';
import { boardFile, numbersText } from '../../../server/sheets/shop/board-pages.ts';
import { boardScene } from '../../../server/sheets/shop/board-scene.ts';
import { boardsOf, kerfsOf } from '../../../server/sheets/shop/boards.ts';
import { jobFor, mistakes, projectsIn, quarryLane } from '../packet/example.ts';
import { lettering } from '../pdf/fonts.ts';
import { outside, overlapping, readPdf, textOf } from '../pdf/read.ts';

const sum = (lengths: readonly number[]): number => lengths.reduce((total, length) => total + length, 0);
const projects = [quarryLane(), ...mistakes.flatMap((folder) => projectsIn(`mistakes/${folder}`))];

describe('boards', () => {
  it('are made up of their pieces, cuts, trims and what is left over', () => {
    let count = 0;
    for (const { planned, units } of projects)
      for (const board of boardsOf(planned, units).boards) {
        count++;
        const { stock, pieces, trim, pattern } = board;
        const kerfs = kerfsOf(board);
        expect(sum(kerfs)).toBe(pattern.kerfLoss);
        expect(sum(pieces.map(({ length }) => length)) + sum(kerfs) + 2 * trim + pattern.offcut).toBe(stock.length);
        // In the drawing as well: what is drawn covers the board from end to end, nothing twice.
        const scene = boardScene(board, { show: { system: 'inches', step: 1 as never }, style: 'inches' });
        const areas = scene.figures
          .slice(0, -1)
          .flatMap(({ shapes }) =>
            shapes.flatMap((shape) => (shape.kind === 'area' ? [shape.points.map(([x]) => x)] : [])),
          )
          .map((xs) => [Math.min(...xs), Math.max(...xs)] as const)
          .toSorted((a, b) => a[0] - b[0]);
        expect(areas[0]?.[0]).toBe(0);
        expect(areas.at(-1)?.[1]).toBe(stock.length);
        for (const [i, area] of areas.slice(1).entries()) expect(area[0]).toBe(areas[i]?.[1]);
      }
    expect(count).toBeGreaterThan(150);
  });

  it('give each part of each unit one piece of its length and material, unless the plan leaves it uncut', () => {
    for (const { planned, units } of projects) {
      const { boards, slotsOf, uncut } = boardsOf(planned, units);
      let missing = 0;
      for (const { name, count, resolved } of units) {
        for (const part of resolved?.layout.parts ?? []) {
          const slots = slotsOf(name, part.path);
          missing += count - slots.length;
          for (const { board, piece } of slots) {
            const own = board.pieces[piece - 1];
            expect([own?.length, board.material, own?.use?.path]).toEqual([part.length, part.material, part.path]);
          }
        }
      }
      const used = boards.flatMap(({ pieces }) =>
        pieces.flatMap(({ use }) => (use ? [`${use.unit} ${use.path} ${use.copy}`] : [])),
      );
      expect(new Set(used).size).toBe(used.length);
      if (planned.plan) expect(missing).toBeLessThanOrEqual(sum(uncut.map(({ quantity }) => quantity)));
      // Every piece is for somebody.
      for (const { pieces } of boards) for (const { use, spare } of pieces) expect(use ?? spare).toBeDefined();
    }
  });

  it('are numbered through, and said in runs', () => {
    const { planned, units } = quarryLane();
    expect(boardsOf(planned, units).boards.map(({ number }, i) => number - i)).toEqual(
      boardsOf(planned, units).boards.map(() => 1),
    );
    expect(numbersText([1, 2, 3, 5, 7, 8].map((number) => ({ number })))).toBe('1 to 3, 5, 7, 8');
  });

  it('are drawn with each of their pieces, on pages that hold them', async () => {
    const example = quarryLane();
    for (const [style, paper] of [
      ['inches', 'a4'],
      ['millimetres', 'letter'],
    ] as const) {
      const job = jobFor(example, style, paper);
      const { pages } = await readPdf(Buffer.concat([...boardFile(job, lettering)]));
      for (const page of pages) expect([outside(page), overlapping(page)]).toEqual([[], []]);
      const all = pages.map(textOf).join(' ').replaceAll(/\s+/g, ' ');
      for (const { pieces } of job.boards.boards)
        for (const { number, length, use } of pieces)
          expect(all).toContain(`${number} ${said(length, job)} ${use?.path ?? 'spare'}`);
    }
  });
});
