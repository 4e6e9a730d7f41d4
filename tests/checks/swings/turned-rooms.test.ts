/** What stands on walls that meet at any angle, through all that compares fittings. Numbers worked out by hand. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fixtureCheck } from '../../../server/checks/fixtures.ts';
import { hangingCheck } from '../../../server/checks/hanging.ts';
import { overlapCheck } from '../../../server/checks/overlaps.ts';
import { swingChecks } from '../../../server/checks/swings/index.ts';
import { projectOf } from '../../model/support.ts';
import { input } from '../layouts.ts';
import { expects, fixedBy, rulesFound, run } from './rooms.ts';

/** Two walls of a bay that turns by 45 degrees. */
const bay = (first: string, second: string, more = '') => `template t {
  board white-12
  pole chrome
  wall one { length 60in; height 96in }
  wall two { length 60in; height 96in; turns 45deg }
${more}
  zone left on one ${first}
  zone right on two ${second}
}
unit u t
`;

describe('in a bay', () => {
  it('shelves of two walls overlap where their fronts cross', () => {
    // Both 12 in deep, in a corner of 135 degrees: clear of each other when both end 12 x tan 22.5 = 4.9706 in short of it.
    const pair = (from: string) =>
      bay(
        `from right ${from} { width 20in; shelf low { at 40in } }`,
        `from left ${from} { width 20in; shelf low { at 40in } }`,
      );
    expect(rulesFound(pair('4-63/64in'), [overlapCheck])).toEqual([]);
    const [found] = run(pair('4-31/32in'), [overlapCheck]).findings;
    expect(found?.rule.id).toBe('parts-overlap');
    expect(found?.message).toContain('where wall "two" and wall "one" come together, from 40in to 40-3/4in in height');
  });

  it('a shelf of one wall is under what hangs on the other', () => {
    // A shirt on a rod 12 in off wall two hangs 8-1/2 in to each side of it. A shelf of wall one that ends at the corner is under it there.
    const pair = (at: string) =>
      bay(
        `from right 0in { width 20in; shelf low { at ${at} } }`,
        'from left 0in { width 20in; rod high { at 70in; for shirt } }',
      );
    // 70 - 36 = 34 in, less 3/4 in.
    expect(rulesFound(pair('33-1/4in'), [hangingCheck])).toEqual([]);
    expect(rulesFound(pair('33-17/64in'), [hangingCheck])).toEqual(['garment-meets-below']);
  });

  it('a shelf comes near to a switch of the other wall', () => {
    // A switch 3 in wide at 20 in along wall two begins 18-1/2 in from the corner, 18.5 x sin 45 = 13.081 in beyond the end of
    // a shelf of wall one that ends at the corner: the axis on which the two are farthest apart.
    const pair = (clear: string) =>
      bay(
        'from right 0in { width 20in; shelf low { at 44in } }',
        'from left 30in { width 20in; shelf low { at 80in } }',
        `  fixture switch on two { from left 20in; height 44in; clear ${clear} }`,
      );
    expect(rulesFound(pair('13in'), [fixtureCheck])).toEqual([]);
    expect(rulesFound(pair('13-1/8in'), [fixtureCheck])).toEqual(['fitting-before-fixture']);
  });

  it('a shelf reaches past the wall across from it', () => {
    const text = `template t {
  wall one { length 60in; height 96in }
  wall two { length 10in; height 96in; turns 90deg }
  wall three { length 60in; height 96in; turns 90deg }
  zone main on one {
    width 20in
    shelf deep { at 40in; depth 12in; board white-12 }
    //^^^^^^^^ warning fitting-past-front: reaches 12in out from wall "one", and the closet is 10in deep there: 2in too deep
  }
}
unit u t
`;
    const { findings } = expects(text, [overlapCheck]);
    expect(rulesFound(fixedBy(text, findings[0]?.fixes[0]), [overlapCheck])).toEqual([]);
  });
});

describe('a room in a mirror', () => {
  const checks = [overlapCheck, hangingCheck, fixtureCheck, ...swingChecks];
  const angle = fc.integer({ min: 75, max: 105 });

  it('has the same mistakes', () => {
    // A parallelogram, so that its walls come round.
    let found = 0;
    fc.assert(
      fc.property(
        fc.record({
          angle,
          deep: fc.integer({ min: 30, max: 80 }),
          hinge: fc.constantFrom('left', 'right'),
          at: fc.integer({ min: 0, max: 28 }),
          pull: fc.integer({ min: 8, max: 30 }),
          run: fc.integer({ min: 10, max: 60 }),
        }),
        ({ angle, deep, hinge, at, pull, run: sloped }) => {
          const text = `template t {
  board white-12
  pole chrome
  wall left { length ${deep}in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length ${deep}in; height 96in }
  wall front { length 60in; height 96in }
  corner left back { angle ${angle}deg }
  corner back right { angle ${180 - angle}deg }
  corner right front { angle ${angle}deg }
  corner front left { angle ${180 - angle}deg }
  opening front { width 28in; height 80in; from left ${at}in; swing in hinged ${hinge} }
  fixture slope eave on right { height 50in; run ${sloped}in }
  fixture switch on right { from left 20in; height 44in; clear 6in }
  zone a on back { width 22in; rod r { at 70in; holds 9 shirt }; drawers d { at 4in; count 2; height 8in; depth 14in; pull-out ${pull}in } }
  zone b on back after a { width fill; shelf s { at 40in } }
  zone c on left from left 1in { width 20in; rod r { at 60in; for shirt }; drawers d { at 4in; count 2; height 8in; depth 12in } }
}
unit u t
unit v t mirrored
`;
          const [one, two] = [...projectOf(text).units()].map((unit) => {
            const layout = unit.resolved?.layout;
            if (!layout) throw new Error('the unit was not resolved');
            return checks
              .flatMap((check) => check.run(input(layout)))
              .map(({ rule, about }) => `${rule.id} ${about}`)
              .sort();
          });
          found += one?.length ?? 0;
          // Which of two drawers or rods is told of the other goes by their order along the walls.
          const once = (all: readonly string[] | undefined) =>
            all?.map((text) => text.replace(/^(drawers-meet|hanging-meets-hanging|parts-overlap) .*/, '$1'));
          expect(once(two)).toEqual(once(one));
        },
      ),
      { numRuns: 60 },
    );
    expect(found).toBeGreaterThan(60);
  });
});
