/** Matched sets and what offcuts are worth, as plans and cut lists tell them. Sums are worked out beside them. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderWith, storypole } from './command.ts';

/** Two closets with 20 + 30 + 40 in from one board each: 90-1/4 in of 10 ft, so that 29-5/8 in are left. */
const project = `project "Quarry Lane" { kerf 1/8in; saw-step 1/16in; currency EUR; keep-offcuts from 24in }
board oak { depth 12in; thickness 3/4in }
stock oak { length 10ft price 24.00 EUR; keep-offcuts worth 1.20 EUR per 1ft }
template fronts {
  board oak
  matched row
  wall back { length 90in; height 96in }
  zone a on back { width 20in; shelf top { at 80in } }
  zone b on back after a { width 30in; shelf top { at 80in } }
  zone c on back after b { width fill; shelf top { at 80in } }
}
unit u fronts { count 2 }
`;
const folder = folderWith({ 'a.closet': project });
const run = (...words: string[]) => storypole(words, folder);

describe('a plan', () => {
  it('shows a matched set in brackets, and the total less what is kept', () => {
    const { out, status } = run('plan');
    expect(status).toBe(0);
    expect(out).toContain('2  120in  [20in + 30in + 40in]     29-5/8in  keep');
    expect(out).toContain('What stands in [ ] is a matched set: cut its parts one after another, in this order.');
    // 29-5/8 in at 1.20 a foot are 2.9625, rounded down to 2.96 each.
    expect(out).toContain('oak: 6 parts from 2 boards, 48.00 EUR, 42.08 EUR with what offcuts are worth');
    expect(out).toContain(
      'The total of 48.00 EUR less what the kept offcuts are worth, 5.92 EUR: the plan is judged by 42.08 EUR.',
    );
    expect(out).toContain('No plan for these parts comes to less, proven in whole numbers');
  });

  it('numbers the sets of a board in CSV', () => {
    const rows = run('plan', '--format', 'csv').out.trim().split('\r\n');
    expect(rows[0]).toMatch(/,keep,matched set$/);
    expect(rows.slice(1).map((row) => row.split(',').slice(7, 8).concat(row.split(',').slice(-1)))).toEqual([
      ['20in', '1 row'],
      ['30in', '1 row'],
      ['40in', '1 row'],
    ]);
  });

  it('is verified from its report, and refused where a set is torn or a worth is wrong', () => {
    const report = run('plan', '--format', 'json').out;
    const verify = (
      change: (project: { patterns: { cuts: unknown[] }[]; totals: { keptValue: { hundredths: number } }[] }) => void,
    ) => {
      const changed = JSON.parse(report);
      change(changed.projects[0]);
      const own = folderWith({});
      writeFileSync(join(own, 'plan.json'), JSON.stringify(changed));
      return storypole(['plan', '--verify', 'plan.json'], own);
    };
    expect(verify(() => undefined).out).toContain(
      'oak: 2 boards, 48.00, 42.08 with what offcuts are worth; no plan can come to less, worked out again.',
    );
    const torn = verify(({ patterns }) => patterns[0]?.cuts.reverse());
    expect([torn.status, torn.out]).toEqual([1, expect.stringContaining('matched set torn, pattern 1')]);
    const dear = verify(({ totals }) => {
      for (const { keptValue } of totals) keptValue.hundredths++;
    });
    expect([dear.status, dear.out]).toEqual([1, expect.stringContaining('value of offcuts kept: 592, not 593')]);
  });

  it('verifies a report that was written before there were such things', () => {
    const plain = folderWith({
      'a.closet': project.replace('; keep-offcuts worth 1.20 EUR per 1ft', '').replace('matched row', ''),
    });
    const report = JSON.parse(storypole(['plan', '--format', 'json'], plain).out);
    const [one] = report.projects;
    for (const field of ['sets', 'worth']) delete one[field];
    for (const { cuts } of one.patterns) for (const cut of cuts) delete cut.set;
    for (const totals of one.totals) {
      for (const field of ['keptValue', 'takenValue']) delete totals[field];
      delete totals.bound.certificate?.worth;
    }
    writeFileSync(join(plain, 'plan.json'), JSON.stringify(report));
    expect(storypole(['plan', '--verify', 'plan.json'], plain)).toMatchObject({ status: 0 });
  });

  it('leaves a stock file that still says what offcuts are worth', () => {
    run('plan', '--stock-after', 'left.closet');
    expect(readFileSync(join(folder, 'left.closet'), 'utf8')).toBe(`stock oak {
  length 120in price 24.00 EUR unlimited
  offcut 29-5/8in count 2
  keep-offcuts worth 1.20 EUR per 12in
}
`);
  });
});

it('a cut list names the matched set of each part in CSV and JSON', () => {
  const own = folderWith({ 'a.closet': `${project}extra spare { board oak; length 20in; count 2; matched spares }\n` });
  const rows = storypole(['cuts', '--format', 'csv'], own).out.trim().split('\r\n');
  const column = rows[0]?.split(',').indexOf('matched');
  expect(rows.map((row) => row.split(',')[column ?? -1])).toEqual(['matched', 'row', 'row', 'row', 'spares']);
  const [one] = JSON.parse(storypole(['cuts', '--format', 'json'], own).out).projects;
  expect(one.units[0].parts.map((part: { matched: string }) => part.matched)).toEqual(['row', 'row', 'row']);
  expect(one.extras[0].matched).toBe('spares');
});

describe('plan FILE.csv', () => {
  const plan = (csv: string, words: readonly string[] = []) =>
    storypole(['plan', 'lengths.csv', ...words], folderWith({ 'lengths.csv': csv }));
  const asked = `what,material,length,count,price,matched
part,oak,15in,2,,fronts
part,oak,30in,,,fronts
part,oak,25in,4
stock,oak,8ft,,18.90
kept,oak,1ft,,1.50
`;

  it('cuts parts with the same name under matched from one board, in the order of their rows', () => {
    // 15 + 15 + 30 and two cuts are 60-1/4: with a cut and 25 they come to 85-3/8 of 96.
    const { out, status } = plan(asked);
    expect(status).toBe(0);
    expect(out).toContain('1   96in  [2 x 15in + 30in], 25in');
    // 20-5/8 in are left of the other board, too short to be kept.
    expect(out).toContain('less what the kept offcuts are worth, 0.00: the plan is judged by 37.80.');
    expect(plan(asked, ['--keep-offcuts-from', '20in']).out).toContain(
      // 20-5/8 in at 1.50 a foot are 2.578.
      'less what the kept offcuts are worth, 2.57: the plan is judged by 35.23.',
    );
  });

  it.each([
    ['kept,oak,1ft,,', 'row 7: the price says what kept offcuts of this length are worth'],
    ['stock,oak,1ft,,2.00,fronts', 'row 7: stock cannot be matched, only parts can'],
    ['kept,oak,2ft,,1.00', 'it is said twice what kept offcuts of "oak" are worth'],
    ['stock,oak,10ft', 'not all of its stock has a price'],
    [
      'stock,oak,12ft,,17.90',
      'an offcut as long as a whole board would be worth no less than the board of row 7 costs',
    ],
  ])('says what is wrong with %s', (row, message) => {
    const { err, status } = plan(`${asked}${row}\n`);
    expect([status, err]).toEqual([2, expect.stringContaining(message)]);
  });
});
