/** Laws of the frames: what two boxes are to each other does not depend on how the room is looked at. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gaps, inOneFrame, type Room, roomBefore, roomOf, type Standing } from '../../server/checks/room.ts';
import { inches, subtract, type Ticks, ticks } from '../../server/model/ticks.ts';
import { box, layout, wall } from './layouts.ts';

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
