import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Source } from '../../grammar/source.ts';
import { read } from '../../server/model/reading.ts';
import { type Show, showInches, showLength, showMillimetres } from '../../server/model/show.ts';
import { LONGEST, TICKS_PER_INCH, TICKS_PER_MM, type Ticks, ticks } from '../../server/model/ticks.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import { amountOf, evaluated, lengthOf } from './evaluated.ts';

// The sizes of the units of measure are checked against their source in tests/outside/units-of-measure.test.ts.
const inch = 1_016_000;

describe('a length', () => {
  it.each([
    ['84in', 84 * inch],
    ['21-3/4in', 21.75 * inch],
    ['3/4in', 0.75 * inch],
    ['6ft', 72 * inch],
    ['6ft 3-1/2in', 75.5 * inch],
    [`6'-3 1/2"`, 75.5 * inch],
    [`6'3"`, 75 * inch],
    ['84"', 84 * inch],
    ['23.9in', 24_282_400],
    ['.5in', inch / 2],
    ['552mm', 22_080_000],
    ['55.2cm', 22_080_000],
    ['1.5m', 60_000_000],
    ['84 in', 84 * inch],
    ['0in', 0],
    ['-3in', -3 * inch],
  ])('%s is %d ticks', (text, expected) => {
    expect(lengthOf(text)).toBe(expected);
  });

  it('is the same however it is written', () => {
    const ways = ['75-1/2in', '75.5in', '6ft 3-1/2in', `6'-3 1/2"`, '75 1/2 in', '6-7/24ft', '1917.7mm', '191.77cm'];
    expect(new Set(ways.map((text) => lengthOf(text)))).toEqual(new Set([75.5 * inch]));
  });

  it('is kept exactly or not at all: what is finer than 25 nm offers its neighbours', () => {
    const { value, findings } = evaluated('1/3in');
    expect(value).toBeUndefined();
    expect(findings.map((f) => [f.rule.id, f.advice])).toEqual([
      ['finer-than-a-tick', 'Its neighbours are 21/64in and 11/32in.'],
    ]);
    expect(findings[0]?.fixes.flatMap((fix) => fix.edits.map((edit) => edit.text))).toEqual(['21/64in', '11/32in']);
    expect(evaluated('0.00001mm').findings[0]?.advice).toBe('Its neighbours are 0mm and 0.001mm.');
    expect(evaluated('0.0001in').findings[0]?.advice).toBe('Its neighbours are 0in and 0.001in.');
  });

  it('is at most 1 km', () => {
    expect(lengthOf('1000m')).toBe(LONGEST);
    expect(evaluated('1000.001m').findings.map((f) => f.message)).toEqual(['1000.001m is more than 1 km.']);
  });

  it('has a unit of measure, always: a bare number is a count', () => {
    expect(evaluated('84').value).toEqual({ kind: 'number', dimension: 'count', amount: 84 });
  });
});

describe('other quantities', () => {
  it.each([
    ['15 lbf/ft2', 'area-load'],
    ['0.72 kPa', 'area-load'],
    ['330 ksi', 'stiffness'],
    ['2.3 GPa', 'stiffness'],
    ['2.5 lb/ft2', 'area-mass'],
    ['0.5 lb/ft', 'line-mass'],
    ['40 lbf/ft', 'line-load'],
    ['50 lb', 'mass'],
    ['90deg', 'angle'],
    ['90°', 'angle'],
    ['10 days', 'time'],
    ['50%', 'share'],
    ['3', 'count'],
    ['14.50 EUR', 'money'],
  ])('%s is of the dimension %s', (text, dimension) => {
    expect(amountOf(text).dimension).toBe(dimension);
  });

  it('are ordinary numbers in SI base units, degrees, days and hundredths of money', () => {
    expect(amountOf('0.72 kPa').amount).toBe(720);
    expect(amountOf('2.3 GPa').amount).toBeCloseTo(2.3e9, 3);
    expect(amountOf('2 weeks').amount).toBe(14);
    expect(amountOf('50%').amount).toBe(0.5);
    expect(amountOf('14.50 EUR').amount).toBe(1450);
    expect(evaluated('19 EUR').value).toMatchObject({ currency: 'EUR' });
  });

  it('are alike in the two systems', () => {
    // Common practice, no source: a shelf load and the stiffness of a board, as each system rounds them.
    expect(amountOf('15 lbf/ft2').amount / amountOf('0.72 kPa').amount).toBeCloseTo(1, 2);
    expect(amountOf('330 ksi').amount / amountOf('2.3 GPa').amount).toBeCloseTo(1, 1);
  });
});

describe('a unit of measure that is none', () => {
  const findings = (text: string): string[][] => {
    const [statement] = [...new Source('a', text, topWords).statements()];
    if (!statement) throw new Error('no statement');
    return read(statement, 'file').findings.map((f) => [f.rule.id, f.advice ?? '']);
  };

  it('is named where it touches its number, with the nearest that is one', () => {
    expect(findings('board b { depth 12inch }')).toEqual([['unit-of-measure-not-known', 'Did you mean "in"?']]);
    expect(findings('board b { depth 12feet }')).toEqual([['unit-of-measure-not-known', 'Did you mean "ft"?']]);
  });
});

describe('computing', () => {
  const names = { 'back.length': 94 * inch, width: 48 * inch };

  it.each([
    ['back.length - 3/4in', 93.25 * inch],
    ['(back.length - width) / 2', 23 * inch],
    ['max(back.length / 4, 24in)', 24 * inch],
    ['min(width, 2 * 20in)', 40 * inch],
    ['width * (back.length / 47in)', 96 * inch],
    ['6ft - 3in', 69 * inch],
    ['10in - -3in', 13 * inch],
  ])('%s', (text, expected) => {
    const { value, findings } = evaluated(text, names);
    expect(value).toEqual({ kind: 'length', ticks: expected });
    expect(findings).toEqual([]);
  });

  it('takes counts like any other quantity', () => {
    expect(evaluated('2 * (3 + 1) / 4 - 1').value).toEqual({ kind: 'number', dimension: 'count', amount: 1 });
    expect(evaluated('94in / 47in').value).toEqual({ kind: 'number', dimension: 'count', amount: 2 });
    expect(amountOf('2 * 15 psf')).toEqual({ dimension: 'area-load', amount: 2 * amountOf('15 psf').amount });
  });

  it('takes counts and money exactly: decimals are no binary numbers', () => {
    // 3.0000000000000004 as a computer adds, and no whole number of shelves.
    expect(evaluated('(0.1 + 0.2) * 10').value).toEqual({ kind: 'number', dimension: 'count', amount: 3 });
    expect(lengthOf('1in * (1 / 3) * 3')).toBe(1_015_998);
    expect(lengthOf('1in * ((1 / 3) * 3)')).toBe(inch);
    // 100,000 / 1,016,000 of an inch, though 10000000.1 - 10000000 comes to 0.09999999962747097 there.
    expect(lengthOf('1in * (10000000.1 - 10000000)')).toBe(101_600);
    // 1.45 x 0.7 is 1.015, half up 1.02; as a computer multiplies it is 1.0149999999999999.
    expect(Math.round(amountOf('1.45 EUR * 0.7').amount)).toBe(102);
    expect(amountOf('10 EUR / 3 * 3').amount).toBe(1000);
  });

  it('rounds a quotient down to whole ticks', () => {
    expect(lengthOf('1in / 3')).toBe(338_666);
    expect(lengthOf('-1in / 3')).toBe(-338_667);
  });

  it.each([
    ['84in + 3', 'A count cannot be added to a length: only quantities of one kind can be.'],
    ['3 - 84in', 'A length cannot be taken from a count: only quantities of one kind can be.'],
    ['3in * 2in', 'Two lengths multiplied are an area, and nothing here takes one.'],
    ['3in / 0', 'This divides by zero.'],
    ['3 / 2in', 'A count cannot be divided by a length.'],
    ['15 psf + 2 psi', 'A stiffness cannot be added to a load on an area: only quantities of one kind can be.'],
    ['max(3in, 2)', 'A length and a count cannot be compared.'],
    ['max()', 'Max of nothing.'],
    ['sqrt(3)', 'There is no function "sqrt".'],
    ['900m + 900m', 'This comes to more than 1 km.'],
  ])('%s is an error where it stands: %s', (text, message) => {
    const { value, findings } = evaluated(text);
    expect(value).toBeUndefined();
    expect(findings.map((f) => [f.rule.id, f.message])).toEqual([['wrong-kind-of-quantity', message]]);
    const [found] = findings;
    expect(found && [found.place.start, found.place.end]).toEqual([3, 3 + text.length]);
  });
});

describe('laws of quantities', () => {
  const sixtyFourths = fc.integer({ min: 0, max: 64 * 600 });

  it('sums of 64ths of an inch are exact, however they are written', () => {
    fc.assert(
      fc.property(sixtyFourths, sixtyFourths, (a, b) => {
        expect(lengthOf(`${a}/64in + ${b}/64in`)).toBe(((a + b) * inch) / 64);
        expect(lengthOf(`${Math.floor(a / 64)}-${a % 64}/64in`)).toBe((a * inch) / 64);
        expect(lengthOf(`${Math.floor(a / 768)}ft ${Math.floor((a % 768) / 64)}-${a % 64}/64in`)).toBe((a * inch) / 64);
      }),
    );
  });

  it('a length shown exactly is read back as the same ticks', () => {
    const inInches = fc.integer({ min: -64 * 600, max: 64 * 600 }).map((n) => ticks((n * TICKS_PER_INCH) / 64));
    const inMillimetres = fc.integer({ min: -1e7, max: 1e7 }).map((n) => ticks((n * TICKS_PER_MM) / 1000));
    const readsBack = (show: Show) => (length: Ticks) => {
      expect(lengthOf(showLength(length, show))).toBe(length);
    };
    fc.assert(fc.property(inInches, readsBack(showInches)));
    fc.assert(fc.property(inMillimetres, readsBack(showMillimetres)));
  });

  it('a length that is shown with ~ is within half a step of what is shown, and one without is exact', () => {
    const length = fc.integer({ min: -1e9, max: 1e9 }).map(ticks);
    const step = fc
      .constantFrom(TICKS_PER_INCH / 64, TICKS_PER_INCH / 16, TICKS_PER_INCH / 1000, TICKS_PER_INCH)
      .map(ticks);
    const steps = fc.constantFrom(TICKS_PER_MM / 1000, TICKS_PER_MM / 10, TICKS_PER_MM, 10 * TICKS_PER_MM).map(ticks);
    const show = fc.oneof(
      fc.record({ system: fc.constant('inches' as const), step }),
      fc.record({ system: fc.constant('millimetres' as const), step: steps }),
    );
    fc.assert(
      fc.property(length, show, (value, how) => {
        const text = showLength(value, how);
        const off = Math.abs(lengthOf(text.replace('~', '')) - value);
        expect(off).toBeLessThanOrEqual(how.step / 2);
        expect(text.startsWith('~')).toBe(off > 0);
      }),
    );
  });
});
