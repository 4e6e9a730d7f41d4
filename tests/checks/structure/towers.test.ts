/** Towers that stand free, and their drawers pulled out. */
import { describe, expect, it } from 'vitest';
import { coverageOf } from '../../../server/checks/coverage.ts';
import { showInches } from '../../../server/model/show.ts';
import { projectOf } from '../../model/support.ts';

const tower = (
  drawers: string,
  board = 'weight 3 lb/ft2',
): string => `board heavy { depth 16in; thickness 3/4in; ${board} }
stock heavy { length 12ft }
template t {
  board heavy
  wall back { length 24in; height 96in }
  zone tower on back {
    width fill
    panels { height 60in; free-standing }
    shelf top { at 59-1/4in }
    drawers chest { at 4in; count 2; height 8in; depth 16in; pull-out 14in; ${drawers} }
  }
}
unit u t
`;

const told = (text: string) =>
  projectOf(text)
    .findings()
    .find(({ rule }) => rule.id === 'free-standing-tips');

describe('a tower that stands free', () => {
  // Two panels of 60 x 16 in and a top of 22-1/2 x 16 in are 2280 in2, 15.833 ft2: 47.5 lb at 3 lb/ft2, 8 in behind the front
  // edge: 380 lbf in keep it. A drawer 16 in deep that comes out 14 in has its middle 14 - 8 = 6 in before the edge.
  it('tips where what is out weighs more, and is told to be fastened', () => {
    // 2 x 32 lb x 6 in = 384 lbf in.
    const finding = told(tower('weight 32 lb'));
    expect(finding?.message).toBe(
      'Tower "tower" tips over when drawers "tower.chest" are out: 384 lbf in about its front edge tip it, and 380 lbf in keep it standing.',
    );
    expect(finding?.advice).toContain('the trade requires a wall fixing for every tower');
    expect(finding?.rule.caution).toContain('kill a child');
  });

  it('is compared, and no more is said, where what is out weighs less', () => {
    // 2 x 31 lb x 6 in = 372 lbf in.
    expect(told(tower('weight 31 lb'))).toBeUndefined();
  });

  it('lacks the weight of its drawers, or of its boards, where nothing says', () => {
    const lacking = (text: string): string[] => {
      const [unit] = [...projectOf(text).units()];
      if (!unit?.resolved) throw new Error('the unit is not resolved');
      const { covered } = coverageOf({ layout: unit.resolved.layout, policy: unit.policy, show: showInches });
      return covered.find(({ rule }) => rule.id === 'free-standing-tips')?.lacked.map(({ needs }) => needs) ?? [];
    };
    expect(lacking(tower('pull bar'))).toEqual(['the weight of one drawer of tower.chest with what is in it']);
    expect(lacking(tower('weight 32 lb', 'ripping allowed'))).toEqual(['the weight of board heavy']);
  });
});
