/** CSV by the rules of RFC 4180 (section 2, by their numbers), and what people's programs write besides. */
import { describe, expect, it } from 'vitest';
import { mostRows, type Sheet } from '../../../server/language/survey-import/cells.ts';
import { readCsv } from '../../../server/language/survey-import/csv.ts';

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);

function cells(csv: string | Uint8Array): (string | undefined)[][] {
  const sheet = readCsv(typeof csv === 'string' ? encode(csv) : csv, 'site.csv');
  if ('unreadable' in sheet) throw new Error(sheet.unreadable);
  return sheet.rows.map((row) => row.cells.map((cell) => cell?.text));
}

const unreadable = (csv: string | Uint8Array): string => {
  const sheet = readCsv(typeof csv === 'string' ? encode(csv) : csv, 'site.csv');
  return 'unreadable' in sheet ? sheet.unreadable : '';
};

describe('RFC 4180, section 2', () => {
  it('1 and 2: records end with CRLF, the last one with or without', () => {
    const table = [
      ['a', 'b'],
      ['1', '2'],
    ];
    expect(cells('a,b\r\n1,2\r\n')).toEqual(table);
    expect(cells('a,b\r\n1,2')).toEqual(table);
    expect(cells('a,b\n1,2\n')).toEqual(table);
    expect(cells('a,b\r1,2\r')).toEqual(table);
  });

  it('4: spaces are part of a field, and fields may be empty', () => {
    expect(cells('a, b ,\r\n,,c\r\n')).toEqual([
      ['a', ' b ', undefined],
      [undefined, undefined, 'c'],
    ]);
  });

  it('5: quotation marks stand around a whole field or not at all', () => {
    expect(cells('"a","b"\r\n')).toEqual([['a', 'b']]);
    expect(unreadable('a,"b" c\r\n')).toMatch(/^site\.csv: something stands behind the closing quotation mark of B1/);
  });

  it('5: inch marks that people leave bare are taken where they can mean but one thing', () => {
    expect(cells('unit,length\nA-101,93 3/4"\nA-102,7\' 9 1/2"\n')).toEqual([
      ['unit', 'length'],
      ['A-101', '93 3/4"'],
      ['A-102', '7\' 9 1/2"'],
    ]);
    expect(unreadable('a,b\n5",6\n"x" 7",8\n')).toContain('quotation mark stands in the middle of A2 (line 2)');
  });

  it('6 and 7: separators, line ends and doubled quotation marks within quotation marks', () => {
    expect(cells('a,"x, ""y""\r\nz"\r\n1,2\r\n')).toEqual([
      ['a', 'x, "y"\r\nz'],
      ['1', '2'],
    ]);
    expect(unreadable('a,b\r\n1,"x\r\n2,y\r\n')).toMatch(
      /the quotation mark that opens B2 \(line \d\) is never closed/,
    );
  });

  it('rows are counted as a spreadsheet counts them, whatever lines a cell has', () => {
    const sheet = readCsv(encode('a,"b\nb"\n\n1,2\n'), 'site.csv') as Sheet;
    expect(sheet.rows.map(({ number, cells: own }) => [number, own[0]?.text])).toEqual([
      [1, 'a'],
      [2, undefined],
      [3, '1'],
    ]);
  });
});

describe('what programs write besides', () => {
  it('semicolons, tabs, a line that says the separator, a mark of the byte order', () => {
    expect(cells('a;b\n1,5;2\n')).toEqual([
      ['a', 'b'],
      ['1,5', '2'],
    ]);
    expect(cells('a\tb, c\n1\t2\n')).toEqual([
      ['a', 'b, c'],
      ['1', '2'],
    ]);
    expect(cells('sep=;\r\na;b\r\n')).toEqual([['a', 'b']]);
    expect(cells('\ufeffa,b\n')).toEqual([['a', 'b']]);
    expect(cells('"a;b",c\n')).toEqual([['a;b', 'c']]);
  });

  it('encodings other than UTF-8 are refused by the byte', () => {
    const mixed = new Uint8Array([...encode('unit,note\nA-101,Tür ok\nA-102,T'), 0xfc, ...encode('r\n')]);
    expect(unreadable(mixed)).toBe(
      'site.csv is not all UTF-8: byte FC at line 3, byte 32 of the file (after "A-102,T"), which in an older encoding may have been "ü". Save the whole table as "CSV UTF-8"; where it was put together from several, each of them.',
    );
    expect(unreadable(new Uint8Array([0xff, 0xfe, 0x61, 0]))).toContain('is UTF-16 (it begins with the bytes FF FE)');
    expect(unreadable(new Uint8Array([0x61, 0x2c, 0, 0x62]))).toContain('byte 00 at line 1, byte 3 of the file');
    for (const bytes of [[0xc3], [0xe2, 0x82], [0xf0, 0x9f, 0x92], [0xed, 0xa0, 0x80], [0xc0, 0x80], [0x80], [0xf5]])
      expect(unreadable(new Uint8Array([0x61, ...bytes])), String(bytes)).toContain('byte 2 of the file (after "a")');
  });

  it('200,000 rows take a second or two, and more than the bound are refused', () => {
    const row = 'A-101-bedroom,back,6in,"93 3/4"\r\n';
    const start = performance.now();
    expect(cells(`unit,wall,height,length\r\n${row.repeat(200_000)}`)).toHaveLength(200_001);
    expect(performance.now() - start).toBeLessThan(20_000);
    expect(unreadable(`unit,wall,height,length\r\n${row.repeat(mostRows + 1)}`)).toBe(
      'site.csv has more than 250,000 rows, and no more are taken on at once. Divide it, by floors for example.',
    );
  }, 120_000);
});
