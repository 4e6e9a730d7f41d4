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
    readonly totals: readonly { readonly boardCount: number; readonly price: { readonly text: string } | null }[];
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
