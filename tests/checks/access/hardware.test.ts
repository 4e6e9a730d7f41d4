/** Pulls, and the way one comes to a door: what templates say of them. Numbers are worked out beside each case. */
import { describe, expect, it } from 'vitest';
import { accessCheck } from '../../../server/checks/access/access.ts';
import type { CheckInput, Lacked, Looked } from '../../../server/checks/check.ts';
import type {
  Approached,
  DrawersLayout,
  FittingLayout,
  Leaf,
  OpeningLayout,
  Pull,
  WallLayout,
} from '../../../server/model/layout.ts';
import { noDemands } from '../../../server/model/materials.ts';
import { add, inches, subtract, type Ticks } from '../../../server/model/ticks.ts';
import { projectOf } from '../../model/support.ts';
import {
  box,
  fixed,
  ids,
  input,
  layout,
  only,
  opening,
  place,
  policy,
  reachIn,
  shelf,
  standsOn,
  TICK,
  walkIn,
} from '../layouts.ts';

const swing = (way: 'in' | 'out'): Leaf => ({ kind: 'swing', way, hinge: 'left', place: place('leaf') });
const pull = (kind: Pull['kind'], at?: Ticks): Pull => ({
  kind,
  place: place('pull'),
  ...(at !== undefined && { at }),
});

interface Given {
  readonly opening: OpeningLayout;
  readonly walls?: readonly WallLayout[];
  readonly fittings?: readonly FittingLayout[];
  readonly side?: number;
}

/** The upper face of the shelf is at 40-3/4 in: within reach. */
const low = shelf('tower.low', 40, { x: [0, 48] });

function asked({ opening: own, walls = walkIn, fittings = [low], side = 48 }: Given): CheckInput {
  const reach = { side: { value: inches(side), place: place('reach side'), policy: 'accessible' } };
  return input(layout(fittings, { openings: [own], walls }), { ...policy(), demands: { ...noDemands, reach } });
}

const found = (given: Given) => accessCheck.run(asked(given));

function recorded(given: Given): { looked: Looked[]; lacked: Lacked[] } {
  const looked: Looked[] = [];
  const lacked: Lacked[] = [];
  const record = { looked: (l: Looked) => void looked.push(l), lacks: (l: Lacked) => void lacked.push(l) };
  accessCheck.run({ ...asked(given), record });
  return { looked, lacked };
}

/** Into a walk-in closet: 32 in wide, much floor before it. */
const door: OpeningLayout = {
  ...opening('door', 'front', 30, 32, 80),
  leaf: swing('out'),
  floor: { width: inches(96), depth: inches(96), place: place('floor') },
};

describe('the pull of a door', () => {
  it('is from 34 to 48 in high where a person passes, to the tick', () => {
    const at = (height: Ticks) => ids(found({ opening: { ...door, pull: pull('bar', height) } }));
    for (const height of [34, 40, 48]) expect(at(inches(height))).not.toContain('door-hardware-height');
    expect(at(subtract(inches(34), TICK))).toContain('door-hardware-height');
    const high = found({ opening: { ...door, pull: pull('bar', add(inches(48), TICK)) } });
    expect(only(high, 'door-hardware-height')).toMatchObject({
      about: 'door',
      comparison: { measured: { ticks: inches(48) + TICK }, relation: 'at most', limit: { ticks: inches(48) } },
    });
  });

  it('is from 15 in to the reach of the policy where one reaches in', () => {
    // 25 in deep: nobody goes in.
    const at = (height: Ticks) =>
      ids(found({ opening: { ...door, pull: pull('bar', height) }, walls: reachIn, side: 46 }));
    for (const height of [15, 34, 46]) expect(at(inches(height))).not.toContain('door-hardware-height');
    expect(at(subtract(inches(15), TICK))).toContain('door-hardware-height');
    expect(at(add(inches(46), TICK))).toContain('door-hardware-height');
  });

  it('is lacking where nothing says it, and where there is no leaf there is none', () => {
    const needs = (own: OpeningLayout) => recorded({ opening: own }).lacked.map((l) => l.needs);
    expect(needs(door)).toContain('what the pull of the leaf of "door" is: `pull bar`');
    expect(needs(door)).toContain('how high the pull of the leaf of "door" is: `pull bar at 40in`');
    const open: OpeningLayout = { ...door, leaf: { kind: 'none', place: place('leaf') } };
    expect(needs(open).filter((n) => n.includes('pull'))).toEqual([]);
  });

  it('asks for no tight grasp', () => {
    const told = only(found({ opening: { ...door, pull: pull('knob', inches(40)) } }), 'pull-hard-to-work');
    expect(told.message).toBe(
      'The leaf of "door" opens by a knob, which asks for a tight grasp, and a twist where it works a latch.',
    );
    expect(standsOn(told.place)).toBe('pull');
    for (const kind of ['bar', 'loop', 'edge'] as const) {
      const given = { opening: { ...door, pull: pull(kind, inches(40)) } };
      expect(ids(found(given))).not.toContain('pull-hard-to-work');
      expect(recorded(given).lacked.map(({ needs }) => needs)).toContain(
        'the force that opens the leaf of "door": 22.2 N is the most',
      );
    }
  });

  it('of drawers asks for none either', () => {
    const chest: DrawersLayout = {
      kind: 'drawers',
      name: 'chest',
      path: 'tower.chest',
      zone: 'tower',
      wall: 'back',
      place: place('drawers'),
      at: fixed(inches(16)),
      atPlace: place('height of drawers'),
      box: box([48, 72], [0, 14], [16, 32]),
      count: 2,
      each: inches(8),
      depth: inches(14),
      pullOut: inches(14),
      pull: pull('knob'),
    };
    const told = only(found({ opening: door, fittings: [low, chest] }), 'pull-hard-to-work');
    expect(told.about).toBe('tower.chest');
    const loop = { ...chest, pull: pull('loop') };
    expect(ids(found({ opening: door, fittings: [low, loop] }))).not.toContain('pull-hard-to-work');
  });
});

describe('the floor before a door', () => {
  // The door is 32 in wide; what its row of the table has beyond latch or hinges comes on top, along the wall.
  it.each([
    ['out', 'front', 60, 18],
    ['out', 'latch', 48, 24],
    ['in', 'front', 48, 0],
    ['in', 'hinge', 42, 22],
    ['in', 'latch', 42, 24],
  ] as const)('that swings %s, come to from the %s, is %d in out and %d beyond', (way, from, out, beyond) => {
    const approach: Approached = { from, place: place('approach') };
    const at = (width: Ticks, depth: Ticks) =>
      found({
        opening: { ...door, leaf: swing(way), approach, floor: { width, depth, place: place('floor') } },
      }).filter(({ rule }) => rule.id === 'floor-before-door');
    const [width, depth] = [inches(32 + beyond), inches(out)];
    expect(at(width, depth)).toEqual([]);
    const [told] = at(subtract(width, TICK), depth);
    expect(told?.comparison).toMatchObject({ measured: { ticks: width - TICK }, limit: { ticks: width } });
    expect(told?.related.map((r) => standsOn(r.place))).toEqual(['opening door', 'approach']);
    expect(at(width, subtract(depth, TICK))).toHaveLength(1);
  });

  it('that is pulled, come to from the side of its hinges, may have either of two shapes', () => {
    // 60 out and 36 beyond the latch, or 54 out and 42 beyond it.
    const approach: Approached = { from: 'hinge', place: place('approach') };
    const at = (beyond: number, depth: number) =>
      ids(
        found({
          opening: {
            ...door,
            approach,
            floor: { width: inches(32 + beyond), depth: inches(depth), place: place('floor') },
          },
        }),
      ).includes('floor-before-door');
    expect([at(36, 60), at(42, 54), at(36, 59), at(41, 54)]).toEqual([false, false, true, true]);
  });

  it('is asked for before sliding leaves too, and from the side where there is none', () => {
    const at = (leaf: Leaf, from: Approached['from'], width: number, depth: number) =>
      ids(
        found({
          opening: {
            ...door,
            leaf,
            approach: { from, place: place('approach') },
            floor: { width: inches(width), depth: inches(depth), place: place('floor') },
          },
        }),
      ).includes('floor-before-door');
    const slides: Leaf = { kind: 'sliding', place: place('leaf') };
    const none: Leaf = { kind: 'none', place: place('leaf') };
    // 42 in out and 24 beyond the latch; 22 beyond where the leaf stacks; from the side of an open one nothing beyond.
    expect([at(slides, 'latch', 56, 42), at(slides, 'latch', 55, 42)]).toEqual([false, true]);
    expect([at(slides, 'hinge', 54, 42), at(slides, 'hinge', 53, 42)]).toEqual([false, true]);
    expect([at(none, 'latch', 32, 42), at(none, 'hinge', 32, 41)]).toEqual([false, true]);
  });
});

describe('a closet as it is written', () => {
  const text = (pulled: string) => `policy accessible { reach side 48in }
template room {
  board white-12
  wall left { length 60in; height 96in }
  wall back { length 96in; height 96in }
  wall right { length 60in; height 96in }
  wall front { length 96in; height 96in }
  opening front { width 34in; height 80in; swing out; ${pulled}; clear-floor 80in by 60in }
  zone tower on back { width 24in; shelf low { at 40in } }
}
unit u room { policy accessible }
`;
  const own = (pulled: string) =>
    projectOf(text(pulled))
      .findings()
      .filter(({ rule }) => rule.id === 'pull-hard-to-work' || rule.id === 'door-hardware-height');

  it('has fixes for its pull', () => {
    const [knob, high] = own('pull knob at 50in');
    expect(knob?.fixes).toMatchObject([{ title: 'Write bar instead of knob', edits: [{ text: 'bar' }] }]);
    expect(high?.fixes).toMatchObject([{ edits: [{ text: '48in' }] }]);
    expect(own('pull bar at 48in')).toEqual([]);
  });
});
