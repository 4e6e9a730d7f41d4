import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { differences, expectedIn, expectedList, type Told } from './expectations.ts';
import { closetFiles, examples, filesRead, loadAll, toldOf } from './load.ts';

const mistakes = `${examples}/mistakes`;
const folders = readdirSync(mistakes, { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map((entry) => entry.name);

/** What the files of a folder, and its list where it has one, expect to be told. */
function expectationsOf(folder: string): Told[] {
  const inFiles = closetFiles(folder).flatMap((file) => expectedIn(file, readFileSync(join(folder, file), 'latin1')));
  const list = join(folder, 'expected.txt');
  return existsSync(list) ? [...inFiles, ...expectedList(readFileSync(list, 'utf8'))] : inFiles;
}

describe('mistakes people make', () => {
  it.each(folders)('%s is told what it expects, and nothing else', (name) => {
    const folder = `${mistakes}/${name}`;
    const expected = expectationsOf(folder);
    expect(expected.length).toBeGreaterThan(0);
    const found = loadAll(folder, mistakes).flatMap(({ findings }) => findings.map((f) => toldOf(f, folder)));
    expect(differences(expected, found)).toEqual({ missing: [], tooMany: [] });
  });

  it.each(folders)('%s says how to mend what is wrong', (name) => {
    for (const { findings } of loadAll(`${mistakes}/${name}`, mistakes)) {
      for (const { rule, advice, severity } of findings) {
        if (severity !== 'note') expect(advice, rule.id).toMatch(/\w/);
      }
    }
  });

  it('are all in a folder of their own, and every file of them is read', () => {
    const read = folders.flatMap((name) => filesRead(loadAll(`${mistakes}/${name}`, mistakes), mistakes));
    expect(read.sort()).toEqual(closetFiles(mistakes));
  });
});

describe('50,000 lines pasted at once', () => {
  // 5 lines a unit, so 10,000 units are 50,000 lines; the slip is in unit 7,000, whose lines begin
  // after the 17 lines before the first unit and 6,999 x 5 = 34,995 lines of units: at line 35,013.
  const head = `project "Quarry Lane" { currency EUR }

board white-16 { depth 16in; thickness 3/4in }
stock white-16 { length 8ft price 24.60 EUR unlimited }

template linen {
  parameter width: length from 30in to 42in
  board white-16
  wall back { length width; height 96in }
  zone main on back {
    width fill
    shelf top { at 78in }
    shelf middle { at 48in }
    shelf low { at 18in }
  }
}

`;
  const unit = (number: number, width: string): string =>
    `unit B-${number}-linen linen {\n  floor ${Math.ceil(number / 100)}\n  flat B-${number}\n  width ${width}\n}\n`;
  const units = Array.from({ length: 10_000 }, (_, i) => unit(i + 1, i + 1 === 7000 ? '36' : `${30 + (i % 12)}in`));

  it('is read, and the one slip in it is told', () => {
    const folder = mkdtempSync(join(tmpdir(), 'closets-'));
    try {
      writeFileSync(join(folder, 'pasted.closet'), head + units.join(''));
      const [loaded, ...others] = loadAll(folder);
      expect(others).toEqual([]);
      const told = loaded?.findings.map((f) => toldOf(f, folder));
      expect(told?.map(({ file, line, rule, severity }) => ({ file, line, rule, severity }))).toEqual([
        { file: 'pasted.closet', line: 35_016, rule: 'unit-of-measure-missing', severity: 'error' },
      ]);
      expect([...(loaded?.project.units() ?? [])]).toHaveLength(10_000);
      // Three shelves each for all but the one whose width is not known.
      expect(loaded?.planned.demand.request.pieces.reduce((sum, piece) => sum + piece.quantity, 0)).toBe(29_997);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
