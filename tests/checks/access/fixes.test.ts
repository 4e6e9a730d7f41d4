/** From text to findings and back: policies that ask for a reach, and the heights that are offered. */
import { describe, expect, it } from 'vitest';
import { accessCheck } from '../../../server/checks/access/access.ts';
import { heightFixes } from '../../../server/checks/access/fixes.ts';
import { accessLimits } from '../../../server/checks/access/limits.ts';
import type { Storage } from '../../../server/checks/access/seen.ts';
import { fittingsOf } from '../../../server/checks/say.ts';
import type { Fix } from '../../../server/model/finding.ts';
import type { Layout } from '../../../server/model/layout.ts';
import { showInches } from '../../../server/model/show.ts';
import { inches } from '../../../server/model/ticks.ts';
import { projectOf } from '../../model/support.ts';
import { ids, only } from '../layouts.ts';
import { applied, foundBy } from '../one-check.ts';

/** Other rules are left aside. */
const found = (text: string) => foundBy(accessCheck, accessLimits, text);

/** 25 in deep, open across 60 in; the rod 12 in from the wall: 25 - 12-5/8 = 12-3/8 in deep, so 46 in is the top. */
const closet = (
  rod: string,
  shelf = 'at 40in',
  policy = 'reach side 48in',
  floor = 'clear-floor 60in by 48in',
) => `template reach-in {
  board white-12
  pole chrome
  wall left { length 25in }
  wall back { length 96in; height 96in }
  wall right { length 25in }
  opening front { width 60in; height 80in; centred; ${floor} }
  zone hang on back {
    width 96in
    shelf one { ${shelf} }
    rod pole { ${rod} }
  }
}
policy accessible { ${policy} }
unit A-101 reach-in { policy accessible }
`;

describe('a unit under a policy that asks for a reach', () => {
  it('has its rod lowered to the nearest height within reach', () => {
    const text = closet('at 60in');
    const told = only(found(text), 'none-within-reach');
    expect(told.message).toContain('a side reach 12-3/8in deep');
    expect(told.fixes.map(({ title }) => title)).toEqual(['Write 46in instead of 60in for pole']);
    expect(found(applied(text, told.fixes[0] as Fix))).toEqual([]);
  });

  it('has its shelf lowered so that its upper face is within reach', () => {
    const text = closet('at 44in', 'at 60in');
    const told = only(found(text), 'none-within-reach');
    // 46 - 3/4 = 45-1/4 in.
    expect(told.fixes.map(({ title }) => title)).toEqual(['Write 45-1/4in instead of 60in for one']);
    expect(found(applied(text, told.fixes[0] as Fix))).toEqual([]);
  });

  it('has its shelf raised to the low end of the reach', () => {
    const text = closet('at 44in', 'at 6in');
    const told = only(found(text), 'none-within-reach');
    expect(told.fixes.map(({ title }) => title)).toEqual(['Write 14-1/4in instead of 6in for one']);
    expect(found(applied(text, told.fixes[0] as Fix))).toEqual([]);
  });

  it('is offered no height above the ceiling or below the floor', () => {
    const text = closet('at 60in');
    const project = projectOf(text);
    const layout = [...project.units()][0]?.resolved?.layout as Layout;
    const offered = (path: string, by: number, up: boolean) =>
      heightFixes(
        fittingsOf(layout).find((f) => f.path === path) as Storage,
        { by: inches(by), up },
        {
          layout,
          policy: project.projectPolicy(),
          show: showInches,
        },
      ).map(({ title }) => title);
    // 96 - 3/4 = 95-1/4 in for the shelf; half of 1-1/4 in is 5/8 in for the rod.
    expect(offered('hang.one', 55.25, true)).toEqual(['Write 95-1/4in instead of 40in for one']);
    expect(offered('hang.one', 55.375, true)).toEqual([]);
    expect(offered('hang.pole', 35.375, true)).toEqual(['Write 95-3/8in instead of 60in for pole']);
    expect(offered('hang.pole', 35.5, true)).toEqual([]);
    expect(offered('hang.pole', 59.875, false)).toEqual([]);
  });

  it('has a child told apart by age', () => {
    expect(ids(found(closet('at 42in', 'at 30in', 'child 10')))).toEqual([]);
    const text = closet('at 42in', 'at 30in', 'child 8');
    const told = only(found(text), 'child-cannot-reach');
    expect(found(applied(text, told.fixes[0] as Fix))).toEqual([]);
  });

  it('asks for nothing without such a policy', () => {
    expect(found(closet('at 60in', 'at 80in', 'limit turning-space at least 60in'))).toEqual([]);
  });

  it('has the floor before its opening compared', () => {
    const told = only(
      found(closet('at 44in', 'at 40in', 'reach side 48in', 'clear-floor 40in by 30in')),
      'floor-before-opening',
    );
    expect(told.advice).toBe('Keep 8in more of it free in width, along the opening or out from it.');
  });

  it('may be set a depth of its own', () => {
    expect(ids(found(closet('at 44in', 'at 40in', 'limit closet-depth at least 26in')))).toEqual([
      'closet-too-shallow',
    ]);
  });
});
