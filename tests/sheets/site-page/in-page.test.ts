/** What the page does with what somebody types: lengths read, kept, and handed back as a table and as surveys. */
import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { readLength } from '../../../server/cli/length-text.ts';
import type { Kept, UnitEntry } from '../../../server/sheets/site-page/in-page/data.ts';
import { lengthWritten } from '../../../server/sheets/site-page/in-page/reading.ts';
import { storeFor } from '../../../server/sheets/site-page/in-page/store.ts';
import { csv, readingsOf, surveysOf } from '../../../server/sheets/site-page/in-page/survey.ts';
import { formulas, projectOf } from '../export/exports.ts';

describe('a length that is typed', () => {
  it.each([
    ['96', '96in'],
    ['96 3/16', '96-3/16in'],
    ['96-3/16"', '96-3/16in'],
    ['96.25 in', '96.25in'],
    ['96,25', '96.25in'],
    ["8'", '8ft'],
    ['8ft 1/4', '8ft 1/4in'],
    ['8\'-0 1/4"', '8ft 0-1/4in'],
    ["8' 2 1/4″", '8ft 2-1/4in'],
    ['2440mm', '2440mm'],
    ['244 cm', '244cm'],
    ['3/4', '3/4in'],
  ])('%j is %j in inches', (typed, written) => {
    expect(lengthWritten(typed, 'inches')).toBe(written);
    // And the language reads it.
    if (written !== undefined) expect(readLength(written).kind).not.toBe('refused');
  });

  it.each(['', '0', 'abc', '96 3/0', '1/0', '-3', '96 in or so', '1e9', '..', '96 3/16 7/8', '=1+1'])(
    '%j is none',
    (typed) => {
      expect(lengthWritten(typed, 'inches')).toBeUndefined();
    },
  );

  it('has the unit of its project where it has none', () => {
    expect(lengthWritten('2440.5', 'millimetres')).toBe('2440.5mm');
    expect(lengthWritten('96in', 'millimetres')).toBe('96in');
  });
});

const unit = (name: string, count = 1): UnitEntry => ({
  name,
  built: '',
  floor: '',
  flat: '',
  phase: '',
  count,
  sheet: 0,
  wrong: false,
});
const notes: Kept['notes'] = {
  'length back 1': '96 3/16',
  'height back 1': '6in',
  'length back 2': '96',
  'height back 2': '42in',
  'length left 1': '24.5',
  'length left 2': 'rubbish',
  'found check 1 x': 'ok',
};

it('what was measured becomes surveys that the language reads, with the lengths that were typed', () => {
  const readings = readingsOf('a-1', { boxes: {}, notes }, 'inches');
  expect(readings).toEqual([
    { unit: 'a-1', wall: 'back', height: '6in', length: '96-3/16in' },
    { unit: 'a-1', wall: 'back', height: '42in', length: '96in' },
    { unit: 'a-1', wall: 'left', height: '', length: '24.5in' },
  ]);
  const written = surveysOf(
    [
      { unit: unit('a-1'), readings },
      { unit: unit('a-2'), readings: [] },
    ],
    '2026-11-28',
  );
  const project = projectOf(
    `board white { depth 12in; thickness 3/4in }\ntemplate t { board white\n wall left { length 25in }\n wall back { length 97in }\n zone z on back { width fill; shelf s { at 42in } } }\nunit a-1 t\n${written}`,
  );
  expect(project.findings().filter(({ severity }) => severity === 'error')).toEqual([]);
  const walls = [...project.units()][0]?.resolved?.layout.walls ?? [];
  expect(walls.map(({ name, readings: own }) => [name, own.length])).toEqual([
    ['back', 2],
    ['left', 1],
  ]);
  expect(surveysOf([{ unit: unit('many', 12), readings }], '2026-11-28')).toContain('"many" stands for 12');
});

it('tables are read back by another reader, and hold no formula', () => {
  const rows = formulas.map((text, i) => [text, String(i)]);
  const read: string[][] = parse(csv(rows), { record_delimiter: '\r\n' });
  expect(read.map(([, i]) => i)).toEqual(rows.map(([, i]) => i));
  for (const [i, [cell = '']] of read.entries()) {
    expect(cell).not.toMatch(/^[=+\-@\t\r＝]/u);
    expect([formulas[i], `'${formulas[i]}`]).toContain(cell);
  }
});

describe('the store', () => {
  const page = { title: 'Quarry Lane', revision: 'abc' };
  const kept: Kept = { boxes: { 'cut x': true }, notes: { a: 'b' } };
  const disk = (items = new Map<string, string>()): Storage =>
    ({
      getItem: (key: string) => items.get(key) ?? null,
      setItem: (key: string, value: string) => void items.set(key, value),
      removeItem: (key: string) => void items.delete(key),
    }) as unknown as Storage;

  it('keeps by project, unit and revision', () => {
    const one = disk();
    storeFor(page, () => one).write('u', kept);
    expect(storeFor(page, () => one).read('u')).toEqual(kept);
    for (const other of [
      { ...page, revision: 'abd' },
      { ...page, title: 'Mill Row' },
    ])
      expect(storeFor(other, () => one).read('u').boxes).toEqual({});
    expect(storeFor(page, () => one).read('v').boxes).toEqual({});
    const store = storeFor(page, () => one);
    store.forget('u');
    expect(store.read('u').boxes).toEqual({});
  });

  it('goes on in the page alone where the browser refuses', () => {
    const store = storeFor(page, () => {
      throw new Error('SecurityError');
    });
    expect(store.isKept).toBe(false);
    store.write('u', kept);
    expect(store.read('u')).toEqual(kept);
  });

  it('goes on where the disk is full, or holds what is not ours', () => {
    const one = disk();
    const store = storeFor(page, () => one);
    Object.assign(one, {
      setItem: () => {
        throw new Error('QuotaExceededError');
      },
      getItem: () => '[',
    });
    store.write('u', kept);
    expect(store.isKept).toBe(false);
    expect(store.read('u')).toEqual(kept);
  });
});
