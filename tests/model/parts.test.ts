/** The steps of a cut length as lines of text. */
import { describe, expect, it } from 'vitest';
import { stepText } from '../../server/model/parts.ts';
import { showInches, showMillimetres } from '../../server/model/show.ts';
import { inches, millimetres, ticks } from '../../server/model/ticks.ts';

describe('what is rounded off at the saw', () => {
  const rounding = (amount: number, step = millimetres(1)) => ({
    kind: 'rounding' as const,
    amount: ticks(-amount),
    step,
  });

  it('is the amount where it is less than a whole unit of measure', () => {
    // A sixty-fourth of an inch is 0.396875 mm, which is shown to the nearest thousandth.
    expect(stepText(rounding(15_875), showMillimetres)).toEqual({
      what: 'rounded down at the saw to 1mm',
      amount: '- ~0.397mm',
    });
    // 0.917 mm = 36,680 ticks of 25 nm; 5 ticks more are an eighth of a thousandth.
    expect(stepText(rounding(36_685), showMillimetres).amount).toBe('- ~0.917mm');
    expect(stepText(rounding(20_000), showMillimetres).amount).toBe('- 0.5mm');
  });

  it('is less than can be shown where it would be shown as nothing', () => {
    expect(stepText(rounding(19), showMillimetres).amount).toBe('- less than 0.001mm');
    expect(stepText(rounding(100, inches(1 / 16)), showInches).amount).toBe('- less than 1/64in');
    expect(stepText(rounding(15_000, inches(1 / 16)), showInches).amount).toBe('- ~1/64in');
  });
});
