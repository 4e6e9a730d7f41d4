/** As many brackets as the load asks for, and no more. */
import { describe, expect, it } from 'vitest';
import { fixingsOf } from '../../../server/checks/fixings/schedule.ts';
import { fixingsFor } from '../../../server/checks/structure/needed.ts';
import { check, projectOf } from '../../model/support.ts';

const closet = (width: string, load: string): string => `policy house { load shelf ${load}; deflection shelf 144 }
hardware plug { is anchor; rated 200 lb }
hardware arm { is bracket; inset 6in; reach 12in; leg 9in; anchor plug; screws "#8 x 3 in" count 2 }
board deep { depth 12in; thickness 3/4in; stiffness 330 ksi; carried by arm }
stock deep { length 12ft }
template t {
  wall back { length ${width}; height 96in; studs every 16in from 8in }
  zone a on back { width fill; shelf s { at 60in; board deep } }
}
unit u t { policy house }
unit v t { policy house }
`;

function brackets(text: string): { readonly asked: number; readonly taken: number } {
  const [unit] = [...projectOf(text).units()];
  if (!unit?.resolved) throw new Error('the unit is not resolved');
  const { layout } = unit.resolved;
  const count = ({ of }: ReturnType<typeof fixingsOf>): number => (of.get('a.s') ?? []).length;
  return { asked: count(fixingsOf(layout)), taken: count(fixingsFor({ layout, policy: unit.policy })) };
}

describe('a shelf on brackets 6 in in from its ends', () => {
  it('takes the two that its hardware asks for where they do', () => {
    // 48 - 12 = 36 in between them; 15 lbf/ft2 on 12 in are 1.25 lbf/in, I = 12 x (3/4)3 / 12 = 0.4219 in4:
    // 5 x 1.25 x 36^4 / (384 x 330000 x 0.4219) = 0.196 in, and 36 / 144 = 0.25 in is allowed.
    expect(brackets(closet('48in', '15 lbf/ft2'))).toEqual({ asked: 2, taken: 2 });
  });

  it('takes one more where it would sag further than its policy allows, and says so', () => {
    // 25 lbf/ft2: 0.196 x 25 / 15 = 0.327 in, of which the 6 in past each bracket take off w a2 / 2 x L2 / 8 E I =
    // 2.083 x 18 x 1296 / (8 x 330000 x 0.4219) = 0.044 in: 0.283 in, more than 0.25 in.
    expect(brackets(closet('48in', '25 lbf/ft2'))).toEqual({ asked: 2, taken: 3 });
    const text = closet('48in', '25 lbf/ft2').replace(
      'shelf s { at 60in; board deep } }',
      'shelf s { at 60in; board deep } }\n//                             ^^^^^^^ note more-brackets-for-load: Shelf "a.s" takes 3 brackets: with the 2 that its hardware asks for',
    );
    check(text);
  });

  it('takes as many as it needs, the least that do', () => {
    // 84 in: spans of 72, 36, 24 and 18 in with 2, 3, 4 and 5 brackets. Under 60 lbf/ft2, 5 lbf/in, a middle span of a
    // continuous shelf sags a fifth of a simple one and an end span half of it: 36 in sag 0.4 in, 24 in 0.08 in.
    expect(brackets(closet('84in', '60 lbf/ft2'))).toEqual({ asked: 2, taken: 4 });
  });

  it('stays as it is where a few more would not do either, and what does not hold is told', () => {
    const text = closet('240in', '900 lbf/ft2');
    expect(brackets(text)).toEqual({ asked: 2, taken: 2 });
    const rules = projectOf(text)
      .findings()
      .map(({ rule }) => rule.id);
    expect(rules).toContain('shelf-sags');
    expect(rules).not.toContain('more-brackets-for-load');
  });
});
