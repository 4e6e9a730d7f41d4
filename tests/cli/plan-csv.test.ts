/** A plan of plain lengths, for a shop that has no layout. */
import { describe, expect, it } from 'vitest';
import { folderWith, storypole } from './command.ts';

const plan = (csv: string, words: readonly string[] = []) =>
  storypole(['plan', 'lengths.csv', ...words], folderWith({ 'lengths.csv': csv }));

interface Report {
  readonly projects: readonly {
    readonly verified: boolean;
    readonly currency: string | null;
    readonly show: string;
    readonly saw: { readonly kerf: { readonly text: string } };
    readonly patterns: readonly {
      readonly stock: string;
      readonly times: number;
      readonly offcut: { readonly text: string };
    }[];
    readonly limits: { readonly patterns: number | null };
    readonly totals: readonly {
      readonly boardCount: number;
      readonly price: { readonly text: string } | null;
      readonly patternCount: number;
      readonly stopSettings: number;
      readonly withinLimits: boolean;
    }[];
  }[];
}

const asked = `what,material,length,count,price
part,white-12,22-1/2in,4
part,white-12,"1' 10-1/2""",4
stock,white-12,8ft,,18.90
offcut,white-12,50in
`;

describe('plan FILE.csv', () => {
  it('plans parts from stock and offcuts', () => {
    const { out, err, status } = plan(asked, ['--format', 'json', '--currency', 'EUR']);
    expect([status, err]).toEqual([0, '']);
    const [one] = (JSON.parse(out) as Report).projects;
    // 1 ft 10-1/2 in is 22-1/2 in: eight alike. Two from the offcut of 50 (45-1/8 with a cut between), and four
    // from a board of 96 (90-3/8), so that two are left for a second board: 37.80.
    expect(one?.totals.map(({ boardCount, price }) => [boardCount, price?.text])).toEqual([[3, '37.80 EUR']]);
    expect([one?.verified, one?.currency, one?.show]).toEqual([true, 'EUR', 'inches']);
  });

  it('takes the saw from the command line', () => {
    const { out } = plan(asked, ['--format', 'json', '--kerf', '3mm', '--end-trim', '1/4in']);
    expect((JSON.parse(out) as Report).projects[0]?.saw.kerf.text).toBe('~1/8in');
  });

  it('keeps to a limit on patterns where that costs nothing, and says where it cannot', () => {
    const two = 'what,material,length,count\npart,oak,30in,4\npart,oak,20in,4\npart,oak,7in,1\nstock,oak,104in,\n';
    const report = (words: readonly string[]) => plan(two, [...words, '--format', 'json']);
    const figuresOf = (text: string) => {
      const [one] = (JSON.parse(text) as Report).projects;
      const [totals] = one?.totals ?? [];
      return [
        one?.limits.patterns,
        totals?.boardCount,
        totals?.patternCount,
        totals?.stopSettings,
        totals?.withinLimits,
      ];
    };
    // Two boards hold 2 x 30 and 2 x 20 each (100-3/8 with three cuts), and the piece of 7 a third: 2 patterns.
    expect(figuresOf(report([]).out)).toEqual([null, 3, 2, 3, true]);
    expect(figuresOf(report(['--most-patterns', '2']).out)).toEqual([2, 3, 2, 3, true]);
    expect(figuresOf(report(['--most-patterns', '1']).out)).toEqual([1, 3, 2, 3, false]);
    const text = plan(two, ['--most-patterns', '1', '--most-stop-settings', '2']).out;
    expect(text).toContain("2 patterns; the saw's stop is set 3 times in this order, alike boards together");
    expect(text).toContain('The limit of 1 pattern is not kept to: 2 are the fewest found at this cost.');
    expect(text).toContain('The limit of 2 settings of the stop is not kept to: 3 are the fewest found at this cost.');
    expect(plan(two, ['--most-patterns', '0']).err).toContain('--most-patterns: "0" is not a whole number from 1');
    // No more than a project may ask for.
    expect(plan(two, ['--most-patterns', '10001']).err).toContain('"10001" is not a whole number from 1 to 10,000.');
    expect(plan(two, ['--most-patterns', '10000']).err).not.toContain('whole number');
  });

  it('numbers the settings of the stop in a table', () => {
    const rows = plan(asked, ['--format', 'csv']).out.trim().split('\r\n');
    const column = rows[0]?.split(',').indexOf('stop setting') as number;
    expect(new Set(rows.slice(1).map((row) => row.split(',')[column]))).toEqual(new Set(['1']));
  });

  it('reads what a spreadsheet writes where the comma is the decimal mark', () => {
    const { out, status } = plan('what;material;length mm;count\npart;oak;500,5;3\nstock;oak;2400;\n', [
      '--format',
      'json',
      '--kerf',
      '3mm',
    ]);
    expect(status).toBe(0);
    // 2400 - 3 x 500.5 - 3 x 3 = 889.5
    expect((JSON.parse(out) as Report).projects[0]?.patterns.map((p) => p.offcut.text)).toEqual(['889.5mm']);
  });

  it('cuts spares from what is left over, in whole millimetres where lengths are metric', () => {
    const text = 'what,material,length mm,count\npart,oak,500.5,3\nstock,oak,2400,\nspare,oak,200 to 430,4\n';
    const { out, status } = plan(text, ['--kerf', '3mm']);
    expect(status).toBe(0);
    // 2400 - 3 x 500.5 - 3 x 3 = 889.5: four of 200 and three cuts come to 809, so 80 more are to be had.
    expect(out).toContain('3 x 500.5mm; spare 280mm, 3 x 200mm');
    expect(out).toMatch(/4 +4 +200mm to 430mm +oak +spare \(row 4\) +280mm, 3 x 200mm/);
  });

  it('ends with 1 where something cannot be cut, and says what', () => {
    const { out, status } = plan('what,material,length,count\npart,oak,30in,3\nstock,oak,36in,2\n');
    expect(status).toBe(1);
    expect(out).toMatch(/ 1 +30in +oak +stock used up/);
  });

  it.each([
    ['part,oak,30,1', 'row 2: 30 has no unit of measure'],
    ['shelf,oak,30in,1', 'row 2: "shelf" is neither part, stock, offcut, kept nor spare'],
    ['spare,oak,10in,', 'row 2: a spare needs a count'],
    ['spare,oak,24in to 10in,2', 'row 2: length "24in to 10in": the first is longer than the second'],
    ['spare,oak,0in to 10in,2', 'row 2: A length of 0in is nothing'],
    ['spare,oak,5in to 10in to 12in,2', 'is not a range such as 10in to 24in'],
    ['part,oak,10in to 24in,2', 'row 2: '],
    ['part,oak,30in,some', 'row 2: count "some" is not a whole number'],
    ['part,,30in,1', 'row 2: no material is given'],
    ['part,oak,-3in,1', 'row 2: '],
    ['part,oak,30in; board x { },1', 'row 2: "30in; board x { }" is not a length'],
    ['part,oak,0in,1', 'row 2: A length of 0in is nothing'],
    ['stock,oak,30in,1', 'asks for no part'],
  ])('%s is refused whole, by its row', (row, said) => {
    const { out, err, status } = plan(`what,material,length,count\n${row}\n`);
    expect([status, out]).toEqual([2, '']);
    expect(err).toContain(said);
  });

  it('asks for its columns by name', () => {
    expect(plan('a,b\n1,2\n').err).toContain('names the columns: what, material, length');
    expect(plan('').err).toContain('names the columns');
  });
});
