/** Lengths and amounts as people read them. */
import { describe, expect, it } from 'vitest';
import type { Compared, Comparison } from '../../server/model/finding.ts';
import { type Show, showInches, showMillimetres, toldApart } from '../../server/model/show.ts';
import { inches, millimetres, ticks } from '../../server/model/ticks.ts';

const told = (measured: Compared, limit: Compared, show: Show, relation: Comparison['relation'] = 'at most') =>
  toldApart({ what: 'sag', measured, relation, limit }, show);

describe('two numbers of a comparison that does not hold', () => {
  it('are told with as many digits more as it takes, where they would read alike', () => {
    // 3/16 in = 190,500 ticks; 192,000 ticks are 0.18898 in, 192,532 are 0.1895 in.
    expect(told({ ticks: ticks(192_000) }, { ticks: inches(3 / 16) }, showInches)).toEqual(['~0.189in', '~0.188in']);
    expect(told({ ticks: ticks(190_600) }, { ticks: ticks(190_550) }, showInches)).toEqual(['~0.1876in', '~0.1875in']);
    expect(told({ ticks: ticks(190_501) }, { ticks: inches(3 / 16) }, showInches)).toEqual(['~0.187501in', '0.1875in']);
    const whole = { ...showMillimetres, step: millimetres(1) };
    expect(told({ ticks: ticks(494_000) }, { ticks: ticks(492_000) }, whole)).toEqual(['12.35mm', '12.3mm']);
    expect(told({ ticks: ticks(480_001) }, { ticks: ticks(480_002) }, showMillimetres, 'at least')).toEqual([
      '~12.00003mm',
      '12.00005mm',
    ]);
  });

  it('are told so where they are no lengths', () => {
    const pounds = (amount: number): Compared => ({ amount, unit: 'lb' });
    expect(told(pounds(123.44), pounds(123.41), showInches)).toEqual(['123.44 lb', '123.41 lb']);
    expect(told(pounds(100.0004), pounds(100), showInches)).toEqual(['100.0004 lb', '100 lb']);
  });

  it('are left as they are where they read differently, or where it holds', () => {
    expect(told({ ticks: inches(2) }, { ticks: inches(1) }, showInches)).toBeUndefined();
    expect(told({ ticks: ticks(190_400) }, { ticks: inches(3 / 16) }, showInches)).toBeUndefined();
    expect(told({ ticks: ticks(190_500) }, { ticks: inches(3 / 16) }, showInches)).toBeUndefined();
    expect(told({ count: 3 }, { count: 2 }, showInches)).toBeUndefined();
  });
});
