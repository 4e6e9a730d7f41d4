/** The room seen from above: where walls meet, at which angle, and where each of them stands. Plain geometry, nothing outside to cite. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Layout } from '../../server/model/layout.ts';
import { inches } from '../../server/model/ticks.ts';
import { check, projectOf } from './support.ts';

function layoutOf(text: string): Layout {
  const [layout] = [...projectOf(text).units()].flatMap((u) => u.resolved?.layout ?? []);
  if (!layout) throw new Error('the unit was not resolved');
  return layout;
}

/** `back: 0, 0 -> 1, 0` in inches, by name. */
function plan(text: string): string[] {
  const inch = (value: number) => Number((value / inches(1)).toFixed(3));
  const unit = (value: number) => Number(value.toFixed(3));
  const said = layoutOf(text).plan.map(
    ({ wall, from, along }) => `${wall}: ${inch(from[0])}, ${inch(from[1])} -> ${unit(along[0])}, ${unit(along[1])}`,
  );
  return said.sort();
}

const square = (more = '', survey = '') => `template t {
  wall left { length 60in; height 96in }
  wall back { length 96in; height 96in }
  wall right { length 60in; height 96in }
  wall front { length 96in; height 96in }
  ${more}
}
${survey}
unit u t
`;

describe('a room of left, back, right and front', () => {
  it('goes round to the right from the back wall, whose left end is the origin', () => {
    expect(plan(square())).toEqual([
      'back: 0, 0 -> 1, 0',
      'front: 96, 60 -> -1, 0',
      'left: 0, 60 -> 0, -1',
      'right: 96, 0 -> 0, 1',
    ]);
  });

  it('is exact: every coordinate of it is a whole number of ticks, and every direction a whole one', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 400_000 }), fc.integer({ min: 1, max: 400_000 }), (a, b) => {
        const walls = layoutOf(
          square()
            .replaceAll('60in', `${a / 1000}mm`)
            .replaceAll('96in; h', `${b / 1000}mm; h`),
        ).plan;
        for (const { from, along } of walls) expect([...from, ...along].every(Number.isInteger)).toBe(true);
      }),
      { numRuns: 30 },
    );
  });

  it('knows each corner, the wall whose right end it is first', () => {
    expect(layoutOf(square()).corners.map(({ walls, angle, measured }) => [...walls, angle, measured])).toEqual([
      ['left', 'back', 90, false],
      ['back', 'right', 90, false],
      ['right', 'front', 90, false],
      ['front', 'left', 90, false],
    ]);
  });

  it('has a corner as drawn, and before that as measured', () => {
    const drawn = 'corner back right { angle 88deg }';
    expect(layoutOf(square(drawn)).corners[1]).toMatchObject({ angle: 88, measured: false });
    const measured = layoutOf(square(drawn, 'survey u { corner right back { angle 91deg } }'));
    expect(measured.corners[1]).toMatchObject({ angle: 91, measured: true });
  });

  it('leans in at a corner sharper than square', () => {
    // At 60 degrees the right wall turns by 120 from the back wall: cos 120 = -0.5, sin 120 = 0.866.
    expect(plan(square('corner back right { angle 60deg }'))).toContain('right: 96, 0 -> -0.5, 0.866');
    // And the left wall comes to its corner from the front, leaning the other way.
    expect(plan(square('corner left back { angle 60deg }'))).toContain('left: 30, 51.962 -> -0.5, -0.866');
  });

  it('has its front wall from where the right wall ends to where the left one begins, where no angle of it is stated', () => {
    // The right wall ends at 96 - 60 x 0.5 = 66, 60 x 0.866 = 51.962; the left one begins at 0, 60. They are
    // sqrt(66^2 + 8.038^2) = 66.488 apart: the direction is -66 / 66.488 and 8.038 / 66.488.
    expect(plan(square('corner back right { angle 60deg }'))).toContain('front: 66, 51.962 -> -0.993, 0.121');
    // Where one is stated, that holds: 120 at the right, so the front runs at -60 + 240 = 180 degrees.
    const stated = square('corner back right { angle 60deg }; corner right front { angle 120deg }');
    expect(plan(stated)).toContain('front: 66, 51.962 -> -1, 0');
  });

  it('has no place for a wall that does not meet the others', () => {
    const text = `template t {
  wall back { length 96in; height 96in }
  wall front { length 96in; height 96in }
}
unit u t
`;
    expect(plan(text)).toEqual(['back: 0, 0 -> 1, 0']);
  });
});

describe('a room of other walls', () => {
  it('turns at each wall as that says, by a square corner where it says nothing', () => {
    const text = `template t {
  wall one { length 40in; height 96in }
  wall two { length 20in; height 96in; turns 45deg }
  wall three { length 30in; height 96in }
  wall four { length 30in; height 96in; turns 270deg }
}
unit u t
`;
    // 20 x cos 45 = 14.142; the third goes on at 135 degrees, 30 x 0.7071 = 21.213; the fourth turns left, to 45 again.
    expect(plan(text)).toEqual([
      'four: 32.929, 35.355 -> 0.707, 0.707',
      'one: 0, 0 -> 1, 0',
      'three: 54.142, 14.142 -> -0.707, 0.707',
      'two: 40, 0 -> 0.707, 0.707',
    ]);
    expect(layoutOf(text).corners.map(({ angle }) => angle)).toEqual([135, 90, 270]);
  });

  it('that comes round is told where it does not close by more than an inch', () => {
    const room = (last: string) => `template t {
  wall one { length 40in; height 96in; turns 90deg }
  wall two { length 30in; height 96in; turns 90deg }
  wall three { length 40in; height 96in; turns 90deg }
  wall four { length ${last}; height 96in; turns 90deg }
}
unit u t
`;
    check(room('29in'));
    check(`template t {
  wall one { length 40in; height 96in; turns 90deg }
  wall two { length 30in; height 96in; turns 90deg }
  wall three { length 40in; height 96in; turns 90deg }
  wall four { length 28in; height 96in; turns 90deg }
  //^^^^^^^ warning room-does-not-close: end 2in from where they begin
}
unit u t
`);
  });

  it('any polygon whose angles come to a whole turn closes with the lengths that its plan has', () => {
    // A parallelogram, at any angle: two turns and their complements.
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 160 }), fc.integer({ min: 20, max: 90 }), (turn, length) => {
        const walls = layoutOf(`template t {
  wall one { length 40in; height 96in; turns ${180 - turn}deg }
  wall two { length ${length}in; height 96in; turns ${turn}deg }
  wall three { length 40in; height 96in; turns ${180 - turn}deg }
  wall four { length ${length}in; height 96in; turns ${turn}deg }
}
unit u t
`);
        const last = walls.plan.at(-1);
        const end = [0, 1].map((i) => (last?.from[i] ?? 0) + (last?.along[i] ?? 0) * inches(length));
        expect(Math.hypot(end[0] ?? 1, end[1] ?? 1)).toBeLessThan(1);
        expect(walls.findings.map(({ rule }) => rule.id)).not.toContain('room-does-not-close');
      }),
      { numRuns: 40 },
    );
  });
});

describe('an angle', () => {
  it('between walls that do not meet is an error', () => {
    check(`template t {
  wall left { length 60in; height 96in }
  wall back { length 96in; height 96in }
  wall right { length 60in; height 96in }
  corner left right { angle 80deg }
  //                  ^^^^^^^^^^^ error corner-not-there: Walls left and right do not meet
}
unit u t
`);
  });
});
