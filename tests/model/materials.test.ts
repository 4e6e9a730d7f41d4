import { describe, expect, it } from 'vitest';
import type { Project } from '../../server/model/project.ts';
import { check, workspaceOf } from './support.ts';

function alone(text: string): Project {
  const [loaded] = workspaceOf({ '/p/main.closet': text }).projects;
  if (!loaded) throw new Error('there is no project');
  return loaded.project;
}

describe('materials', () => {
  it('of no size, and of stiffness that nothing has, are told', () => {
    check(`board flat { depth 12in; thickness 0in }
//                       ^^^^^^^^^^^^^ error number-out-of-bounds: The thickness of board "flat" is nothing
board thin { depth 0in; thickness 3/4in; stiffness 0 psi }
//           ^^^^^^^^^ error number-out-of-bounds: The depth of board "thin" is nothing
//                                       ^^^^^^^^^^^^^^^ error number-out-of-bounds: The stiffness of board "thin" is nothing
rod thick { diameter 1in; tube 5/8in }
//                        ^^^^^^^^^^ error number-out-of-bounds: more than half of its diameter
`);
  });

  it('take no load that is less than nothing', () => {
    check(`template t {
  board white-12
  wall back { length 36in; height 96in }
  zone a on back { width fill; shelf s { at 40in; load -1 lbf/ft2 } }
//                                                     ^^^^^^^^^^ error number-out-of-bounds: negative
}
unit u t
`);
  });

  it('bought in packs are paid for in the currency of the project', () => {
    check(`hardware clip { is support; pack 20 price 9.80 USD }
//                                             ^^^ error wrong-kind-of-quantity: The price is in USD; the project's currency is EUR
`);
  });

  it('carried by hardware whose anchors lead back to it, are told the circle', () => {
    check(`hardware a { is support; anchor b }
//                       ^^^^^^^^ error name-circle: Hardware "a" comes back to itself
hardware b { is anchor; anchor a }
//                      ^^^^^^^^ error name-circle: Hardware "b" comes back to itself
`);
  });
});

describe('policies', () => {
  it('each lay over those before them what they say, and leave the rest', () => {
    const project = alone(`project "Quarry Lane" { policy low, tall }
policy low { limit rod-height at most 48in; reach side 48in; deflection shelf 144; load shelf 40 lbf/ft2 }
policy tall { limit rod-height at least 15in; deflection rod 240 at most 1/4in; creep 1.5 }
`);
    const { limits, demands } = project.projectPolicy();
    const rod = limits.get('rod-height');
    expect([rod?.least, rod?.most]).toEqual([15 * 1_016_000, 48 * 1_016_000]);
    expect([demands.deflection.shelf?.value, demands.deflection.rod?.value, demands.creep?.value]).toEqual([
      144, 240, 1.5,
    ]);
    expect([demands.reach.side?.policy, demands.reach.forward]).toEqual(['low', undefined]);
    // 40 lbf/ft2 is 40 x 47.88026 Pa (NIST SP 811).
    expect(demands.loads.shelf?.amount).toBeCloseTo(40 * 47.88026, 2);
  });

  it('that contradict each other are told, with both', () => {
    check(`template t { wall back { length 36in; height 96in } }
unit u t { policy low, tall }
policy low { limit rod-height at most 48in }
policy tall { limit rod-height at least 54in }
//            ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ error policies-contradict: policy "tall" says at least 54in, and policy "low" says at most 48in
`);
  });

  it('that ask for what is no ratio, or treat a rule that there is not, are told', () => {
    check(`policy odd {
    deflection 0
//  ^^^^^^^^^^^^ error number-out-of-bounds: 0 is less than 1
    creep 0.5
//  ^^^^^^^^^ error number-out-of-bounds: 0.5 is less than 1
  treat shelf-sagging as error
//      ^^^^^^^^^^^^^ error name-not-known: There is no rule "shelf-sagging"
}
`);
  });
});
