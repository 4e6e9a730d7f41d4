/** Laws of the frames: what two boxes are to each other does not depend on how the room is looked at. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  framesOf,
  gaps,
  inOneFrame,
  overlapping,
  type Room,
  roomBefore,
  roomOf,
  type Standing,
} from '../../server/checks/room.ts';
import { fromPlan, type Point, toPlan } from '../../server/checks/swings/plane.ts';
import { inches, subtract, type Ticks, ticks } from '../../server/model/ticks.ts';
import { box, layout, place, wall } from './layouts.ts';

const walls = ['left', 'back', 'right', 'front'] as const;
const [width, depth] = [inches(96), inches(60)];
/** A room of these sides. */
const roomWith = (back: number, side: number): Room =>
  roomOf(layout([], { walls: [wall('left', side), wall('back', back), wall('right', side), wall('front', back)] }));
const square = roomWith(96, 60);

const span = fc
  .tuple(fc.nat(1000), fc.nat(1000))
  .map(([from, length]): readonly [Ticks, Ticks] => [ticks(from), ticks(from + length)]);
const standing = fc.record({
  wall: fc.constantFrom(...walls),
  box: fc.record({ x: span, y: span, z: span }),
});

const mirroredWalls = { left: 'right', right: 'left', back: 'back', front: 'front' } as const;

/** The room as in a mirror: left and right change places, and every wall is run along from its other end. */
function mirrored({ wall, box }: { wall: (typeof walls)[number]; box: Standing['box'] }): Standing {
  const length = wall === 'left' || wall === 'right' ? depth : width;
  const [from, to] = box.x;
  return { wall: mirroredWalls[wall], box: { ...box, x: [subtract(length, to), subtract(length, from)] } };
}

const turnedWalls = { left: 'back', back: 'right', right: 'front', front: 'left' } as const;

describe('two boxes on walls of a room', () => {
  it('are as far apart from either side', () => {
    fc.assert(
      fc.property(standing, standing, (a, b) => {
        const [there, back] = [inOneFrame(a, b, square), inOneFrame(b, a, square)];
        expect(there && gaps(...there)).toEqual(back && gaps(...back));
        expect(there).toBeDefined();
      }),
    );
  });

  it('are as far apart in a mirror', () => {
    fc.assert(
      fc.property(standing, standing, (a, b) => {
        const [seen, turned] = [inOneFrame(a, b, square), inOneFrame(mirrored(a), mirrored(b), square)];
        expect(seen && gaps(...seen)).toEqual(turned && gaps(...turned));
      }),
    );
  });

  it('are as far apart when the whole room is turned by a quarter', () => {
    // Each wall is run along from its left end, so that a turn changes the names of the walls and no number.
    const turnedRoom = roomWith(60, 96);
    fc.assert(
      fc.property(standing, standing, (a, b) => {
        const seen = inOneFrame(a, b, square);
        const turned = inOneFrame({ ...a, wall: turnedWalls[a.wall] }, { ...b, wall: turnedWalls[b.wall] }, turnedRoom);
        const apart = turned && gaps(...turned);
        // What lay along the back wall now lies along the right wall; on one wall nothing changes.
        const same = a.wall === b.wall ? apart : apart && { x: apart.y, y: apart.x, z: apart.z };
        expect(seen && gaps(...seen)).toEqual(same);
      }),
    );
  });
});

describe('the depth before a wall', () => {
  it('is the least length of the walls beside it', () => {
    const closet = layout([], { walls: [wall('left', 25), wall('back', 96), wall('right', 24.5)] });
    expect(roomBefore('back', closet)).toEqual({ depth: inches(24.5), wall: 'right' });
    expect(roomBefore('left', closet)).toEqual({ depth: inches(96), wall: 'back' });
  });

  it('is not known where the walls make another shape, or none is beside it', () => {
    expect(roomBefore('back', layout([], { walls: [wall('back', 96)] }))).toBeUndefined();
    expect(
      roomBefore('back', layout([], { walls: [wall('back', 96), wall('left', 24), wall('bay', 30)] })),
    ).toBeUndefined();
  });
});

describe('a room', () => {
  it('has no frame for walls whose lengths are not known', () => {
    const room = roomOf(layout([], { walls: [wall('back', 96), wall('right', 60)] }));
    const item = (on: string): Standing => ({ wall: on, box: box([0, 10], [0, 10], [0, 10]) });
    expect(inOneFrame(item('back'), item('right'), room)).toBeDefined();
    expect(inOneFrame(item('back'), item('left'), room)).toBeUndefined();
    expect(inOneFrame(item('back'), item('front'), room)).toBeUndefined();
    expect(inOneFrame(item('left'), item('left'), room)).toBeDefined();
    expect(inOneFrame({ ...item('back'), wall: undefined }, item('back'), room)).toBeDefined();
  });
});

describe('boxes on walls that meet at any angle', () => {
  /** Two walls of 96 in: the back wall, and the right wall at the end of it, at `angle` degrees inside the room. */
  const bent = (angle: number): Room => {
    const turn = ((180 - angle) * Math.PI) / 180;
    return roomOf({
      ...layout([], { walls: [wall('back', 96), wall('right', 96)] }),
      corners: [{ walls: ['back', 'right'], angle, measured: true, place: place('corner') }],
      plan: [
        { wall: 'back', from: [0, 0], along: [1, 0] },
        { wall: 'right', from: [inches(96), 0], along: [Math.cos(turn), Math.sin(turn)] },
      ],
    });
  };
  /** Whole inches in the corner of the two, on the wall and as far from the corner as is said. */
  const onBack = fc
    .record({ from: fc.nat(40), wide: fc.integer({ min: 2, max: 30 }), deep: fc.integer({ min: 2, max: 30 }) })
    .map(
      ({ from, wide, deep }): Standing => ({
        wall: 'back',
        box: box([96 - from - wide, 96 - from], [0, deep], [0, 10]),
      }),
    );
  const onRight = fc
    .record({ from: fc.nat(40), wide: fc.integer({ min: 2, max: 30 }), deep: fc.integer({ min: 2, max: 30 }) })
    .map(({ from, wide, deep }): Standing => ({ wall: 'right', box: box([from, from + wide], [0, deep], [5, 20]) }));

  it('overlap exactly where they have points in common', () => {
    let [together, apart] = [0, 0];
    fc.assert(
      fc.property(fc.integer({ min: 45, max: 160 }), onBack, onRight, (angle, a, b) => {
        const room = bent(angle);
        const boxes = inOneFrame(a, b, room);
        if (!boxes) throw new Error('the two walls meet');
        const frames = framesOf(a, b, room);
        if (!frames) throw new Error('both walls stand in the plan');
        const { x, y } = b.box;
        const margin = inches(0.05);
        // The room between a point of the one and the other box: below 0 inside it.
        let nearest = Number.POSITIVE_INFINITY;
        for (let i = 0; i <= 40; i++) {
          for (let k = 0; k <= 40; k++) {
            const at: Point = [x[0] + ((x[1] - x[0]) * i) / 40, y[0] + ((y[1] - y[0]) * k) / 40];
            const [u, v] = fromPlan(frames[0], toPlan(frames[1], at));
            nearest = Math.min(nearest, Math.max(a.box.x[0] - u, u - a.box.x[1], a.box.y[0] - v, v - a.box.y[1]));
          }
        }
        if (nearest < -margin) {
          together++;
          expect(overlapping(...boxes)).toBe(true);
        }
        // A point of the grid is within half a diagonal of a mesh, at most 30/40 in x 0.71, of any other.
        if (nearest > inches(0.6)) {
          apart++;
          expect(overlapping(...boxes)).toBe(false);
        }
        const swapped = inOneFrame(b, a, room);
        expect(swapped && overlapping(...swapped)).toBe(overlapping(...boxes));
      }),
      { numRuns: 300 },
    );
    expect(together).toBeGreaterThan(20);
    expect(apart).toBeGreaterThan(20);
  });

  it('are as far apart as the square frame has them, where the corner is square all but by name', () => {
    // The same numbers by way of the plan: the right wall is called by another name, so the room is not a named one.
    fc.assert(
      fc.property(onBack, onRight, (a, b) => {
        const named = inOneFrame(a, b, bent(90));
        const plan = roomOf({
          ...layout([], { walls: [wall('back', 96), wall('bay', 96)] }),
          corners: [{ walls: ['back', 'bay'], angle: 90, measured: false, place: place('corner') }],
          plan: [
            { wall: 'back', from: [0, 0], along: [1, 0] },
            { wall: 'bay', from: [inches(96), 0], along: [0, 1] },
          ],
        });
        const bySlant = inOneFrame(a, { ...b, wall: 'bay' }, plan);
        const seen = (pair: ReturnType<typeof inOneFrame>) => {
          if (!pair) throw new Error('both have a frame');
          const { x, y, z } = gaps(...pair);
          return [Math.max(x, y), Math.min(x, y), z];
        };
        expect(seen(bySlant)).toEqual(seen(named));
      }),
    );
  });

  it('clear each other from where their fronts meet', () => {
    // At 135 degrees the right wall goes on from the corner half to the right: a shelf of 12 in whose end is at the corner
    // and one that begins there have the corner in common, and the room in front of them lies open.
    const room = bent(135);
    const a: Standing = { wall: 'back', box: box([48, 96], [0, 12], [0, 10]) };
    const b: Standing = { wall: 'right', box: box([0, 48], [0, 12], [0, 10]) };
    const boxes = inOneFrame(a, b, room);
    expect(boxes && overlapping(...boxes)).toBe(true);
    // 12 in x tan 22.5 degrees = 4.9706 in, between 4-31/32 and 4-63/64 in: from there on both clear each other along their fronts.
    const cleared = (from: number) =>
      inOneFrame(
        { wall: 'back', box: box([48, 96 - from], [0, 12], [0, 10]) },
        { wall: 'right', box: box([from, 48], [0, 12], [0, 10]) },
        room,
      );
    const [near, far] = [cleared(4 + 31 / 32), cleared(4 + 63 / 64)];
    expect(near && overlapping(...near)).toBe(true);
    expect(far && overlapping(...far)).toBe(false);
  });
});
