/**
 * Units of measure against published factors.
 *
 * source: NIST Special Publication 811, 2008 edition ("Guide for the Use of the International System of Units"),
 * appendix B.8, "Factors for units listed alphabetically". Factors set in bold there are exact; the others are
 * rounded to seven digits. Footnotes 22 and 23 give the exact factors of the pound and the pound-force. Read in
 * copies of the table, not in the publication itself; the row of the kip per square inch is from memory.
 */
import { describe, expect, it } from 'vitest';
import { measureOf } from '../../grammar/measures.ts';
import { LONGEST, TICKS_PER_FOOT, TICKS_PER_INCH, TICKS_PER_MM } from '../../server/model/ticks.ts';
import { amountOf, lengthOf } from '../grammar/evaluated.ts';

/** A tick in metres: 25 nm. */
const tick = 25e-9;

describe('lengths, exactly as NIST SP 811 B.8 has them in bold', () => {
  it.each([
    ['in', 'inch', 2.54e-2],
    ['"', 'inch', 2.54e-2],
    ['ft', 'foot', 3.048e-1],
    ["'", 'foot', 3.048e-1],
  ])('1%s: the %s is %s m', (unit, _, metres) => {
    // In whole nanometres, so that nothing is rounded on the way.
    expect(lengthOf(`1${unit}`) * 25).toBe(Math.round(metres * 1e9));
  });

  it('96in is 2438.4mm, evaluated from text', () => {
    // 96 * 25.4 = 2438.4
    expect(lengthOf('96in')).toBe(lengthOf('2438.4mm'));
    expect(lengthOf('96in - 2438.4mm')).toBe(0);
    expect(lengthOf('8ft')).toBe(lengthOf('2438.4mm'));
  });

  it('the metre and its parts are SI prefixes of each other', () => {
    expect(lengthOf('1m')).toBe(lengthOf('100cm'));
    expect(lengthOf('1m')).toBe(lengthOf('1000mm'));
    expect(lengthOf('1m') * tick).toBeCloseTo(1, 12);
  });
});

describe('other units of measure, to the seven digits that NIST SP 811 B.8 prints', () => {
  it.each([
    ['1 lb', 'pound (avoirdupois), kg', 4.535924e-1],
    ['1 lbf', 'pound-force, N', 4.448222],
    ['1 psi', 'pound-force per square inch, Pa', 6.894757e3],
    ['1 ksi', 'kip per square inch, Pa', 6.894757e6],
    ['1 lbf/ft2', 'pound-force per square foot, Pa', 4.788026e1],
    ['1 psf', 'pound-force per square foot, Pa', 4.788026e1],
    ['1 lbf/ft', 'pound-force per foot, N/m', 1.45939e1],
    ['1 lb/ft2', 'pound per square foot, kg/m2', 4.882428],
    ['1 lb/ft', 'pound per foot, kg/m', 1.488164],
  ])('%s: %s', (text, _, factor) => {
    expect(Number(amountOf(text).amount.toPrecision(7))).toBe(factor);
  });

  it('the pound and the pound-force are exact (footnotes 22 and 23)', () => {
    expect(amountOf('1 lb').amount).toBe(0.45359237);
    expect(amountOf('1 lbf').amount).toBe(4.4482216152605);
    // The pound-force is the pound at the standard acceleration of free fall, 9.80665 m/s2 exactly (SP 811 B.8).
    expect(amountOf('1 lbf').amount).toBeCloseTo(0.45359237 * 9.80665, 12);
  });

  it('those of SI are powers of ten', () => {
    expect(
      ['1 kN', '1 kPa', '1 MPa', '1 GPa', '1 kN/m', '1 N/m', '1 kg/m2', '1 kg/m'].map((t) => amountOf(t).amount),
    ).toEqual([1e3, 1e3, 1e6, 1e9, 1e3, 1, 1, 1]);
  });
});

describe('ticks', () => {
  it('1/64 in, 0.001 in and 0.001 mm are whole', () => {
    // 25.4 mm / 64 = 0.396875 mm; 0.0254 mm; 0.001 mm: each over 25 nm.
    expect(lengthOf('1/64in')).toBe(15_875);
    expect(lengthOf('0.001in')).toBe(1_016);
    expect(lengthOf('0.001mm')).toBe(40);
  });

  it('are the largest length in which all three are whole', () => {
    const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));
    // In nanometres: 25.4 mm / 64, 0.0254 mm, 0.001 mm.
    expect(gcd(gcd(396_875, 25_400), 1_000)).toBe(25);
  });

  it('add up to inches, feet and millimetres', () => {
    expect(64 * lengthOf('1/64in')).toBe(TICKS_PER_INCH);
    expect(1000 * lengthOf('0.001in')).toBe(TICKS_PER_INCH);
    expect(1000 * lengthOf('0.001mm')).toBe(TICKS_PER_MM);
    expect(12 * TICKS_PER_INCH).toBe(TICKS_PER_FOOT);
    expect(254 * TICKS_PER_MM).toBe(10 * TICKS_PER_INCH);
  });

  it('do not drift: a 64th added 6,144 times is 96 in', () => {
    const step = lengthOf('1/64in');
    let sum = 0;
    for (let i = 0; i < 64 * 96; i++) sum += step;
    expect(sum).toBe(lengthOf('96in'));
  });

  it('are exact as plain numbers far beyond the longest length', () => {
    expect(LONGEST * tick).toBeCloseTo(1000, 9);
    expect(LONGEST * 200_000).toBeLessThan(Number.MAX_SAFE_INTEGER);
  });
});

describe('the table', () => {
  it('has no other size for a unit of measure than a literal has', () => {
    for (const spelling of ['in', 'ft', 'mm', 'cm', 'm'])
      expect(measureOf(spelling)?.size).toBe(lengthOf(`1${spelling}`));
    for (const spelling of ['lb', 'lbf', 'psi', 'psf', 'kPa']) {
      expect(measureOf(spelling)?.size).toBe(amountOf(`1 ${spelling}`).amount);
    }
  });
});
