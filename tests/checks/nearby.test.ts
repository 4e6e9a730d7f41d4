import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { nearbyOf } from '../../server/checks/nearby.ts';
import { gap, inOneFrame, overlapping, roomOf } from '../../server/checks/room.ts';
import { fittingsOf } from '../../server/checks/say.ts';
import { projectOf } from '../model/support.ts';

const shelf = fc.record({ at: fc.integer({ min: 0, max: 40 }), depth: fc.integer({ min: 6, max: 40 }) });
const wall = (name: string) =>
  fc
    .array(fc.record({ width: fc.integer({ min: 4, max: 30 }), shelves: fc.array(shelf, { maxLength: 4 }) }), {
      maxLength: 4,
    })
    .map((zones) =>
      zones
        .map(
          ({ width, shelves }, i) => `  zone ${name}${i} on ${name} ${i > 0 ? `after ${name}${i - 1} ` : ''}{
    width ${width}in
${shelves.map(({ at, depth }, k) => `    shelf s${k} { at ${at}in; depth ${depth}in }`).join('\n')}
  }`,
        )
        .join('\n'),
    );
const reading = fc.integer({ min: 116, max: 124 });

/** Of the one unit of a project. Gives how many pairs on different walls overlap, each counted from both sides. */
function expectNothingLeftOut(project: ReturnType<typeof projectOf>): number {
  const [layout] = [...project.units()].flatMap((u) => u.resolved?.layout ?? []);
  if (!layout) throw new Error('the unit was not resolved');
  const room = roomOf(layout);
  const all = [...fittingsOf(layout)];
  let met = 0;
  for (const one of all) {
    const around = nearbyOf(layout).around(one);
    const column = nearbyOf(layout).column(one);
    for (const other of all) {
      const boxes = inOneFrame(one, other, room);
      if (!boxes) continue;
      if (overlapping(...boxes)) {
        if (one.wall !== other.wall) met++;
        expect(around).toContain(other);
      }
      if (gap(boxes[0].x, boxes[1].x) < 0 && gap(boxes[0].y, boxes[1].y) < 0) expect(column).toContain(other);
    }
    expect(around).toEqual(all.filter((f) => around.includes(f)));
  }
  return met;
}

it('the index of what is near leaves out nothing that overlaps, or stands above or below', () => {
  fc.assert(
    fc.property(
      fc.tuple(wall('left'), wall('back'), wall('right'), wall('front')),
      fc.array(reading, { minLength: 4, maxLength: 4 }),
      (zones, [left, back, low, high]) => {
        const project = projectOf(`template t {
  board white-12
  wall left { length 120in; height 96in }
  wall back { length 120in; height 96in }
  wall right { length 120in; height 96in }
  wall front { length 120in; height 96in }
${zones.join('\n')}
}
survey u { wall left { length ${left}in }; wall back { length ${back}in }; wall right { length ${low}in at 2in; length ${high}in at 80in } }
unit u t
`);
        expectNothingLeftOut(project);
      },
    ),
    { numRuns: 60 },
  );
});

/** Rooms of four walls whose corners are drawn or measured out of square, and rooms whose walls turn by any angles. */
const shapes = fc.oneof(
  fc.array(fc.integer({ min: 70, max: 110 }), { minLength: 4, maxLength: 4 }).map((angles) => ({
    walls: ['left', 'back', 'right', 'front'].map((name) => ({ name, turns: undefined })),
    corners: ['left back', 'back right', 'right front', 'front left']
      .map((pair, i) => `  corner ${pair} { angle ${angles[i]}deg }`)
      .join('\n'),
  })),
  fc
    .array(fc.oneof(fc.integer({ min: 20, max: 130 }), fc.integer({ min: 250, max: 340 })), {
      minLength: 4,
      maxLength: 4,
    })
    .map((angles) => ({
      walls: ['aa', 'bb', 'cc', 'dd'].map((name, i) => ({ name, turns: i === 0 ? undefined : angles[i] })),
      corners: '',
    })),
);

it('the same holds in rooms that are out of square, or of another shape', () => {
  let met = 0;
  fc.assert(
    fc.property(
      shapes,
      fc.array(fc.array(shelf, { minLength: 1, maxLength: 3 }), { minLength: 4, maxLength: 4 }),
      fc.array(reading, { minLength: 2, maxLength: 2 }),
      ({ walls, corners }, shelves, [low, high]) => {
        const project = projectOf(`template t {
  board white-12
${walls.map(({ name, turns }) => `  wall ${name} { length 120in; height 96in${turns === undefined ? '' : `; turns ${turns}deg`} }`).join('\n')}
${corners}
${walls
  .map(
    ({ name }, i) => `  zone z${i} on ${name} {
    width fill
${(shelves[i] ?? []).map(({ at, depth }, k) => `    shelf s${k} { at ${at}in; depth ${depth}in }`).join('\n')}
  }`,
  )
  .join('\n')}
}
survey u { wall ${walls[2]?.name} { length ${low}in at 2in; length ${high}in at 80in } }
unit u t
`);
        met += expectNothingLeftOut(project);
      },
    ),
    { numRuns: 60 },
  );
  expect(met).toBeGreaterThan(3);
});
