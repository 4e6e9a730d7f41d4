/** What has to stay free: plain geometry, the numbers are worked out beside each case. Clear distances are invented. */
import { describe, expect, it } from 'vitest';
import { fixtureCautions, fixtureCheck } from '../../server/checks/fixtures.ts';
import { openingCheck } from '../../server/checks/openings.ts';
import type { FittingLayout, FixtureLayout, OpeningLayout } from '../../server/model/layout.ts';
import { inches, ticks } from '../../server/model/ticks.ts';
import {
  fixture,
  ids,
  input,
  layout,
  nudged,
  only,
  opening,
  panel,
  rod,
  shelf,
  standsOn,
  TICK,
  walkIn,
  wall,
} from './layouts.ts';

const back = ticks(-TICK);

function found(fittings: readonly FittingLayout[], fixtures: readonly FixtureLayout[], walls = [...walkIn]) {
  return fixtureCheck.run(input(layout(fittings, { fixtures, walls })));
}

describe('a fixture on the wall of the fitting', () => {
  // 3 by 5 in about 60 in from the left and 48 in high.
  const lightSwitch = fixture('switch', 'back', [58.5, 61.5], [45.5, 50.5]);

  it('is covered by a shelf against the wall, though it has no thickness', () => {
    const before = shelf('tower.low', 48, { x: [48, 72] });
    const told = only(found([before], [lightSwitch]), 'fitting-before-fixture');
    expect(told.severity).toBe('warning');
    expect(told.message).toBe(
      'Shelf "tower.low" stands in front of the switch on the back wall, 2-1/2in over its edge.',
    );
    // In height 50-1/2 - 48 = 2-1/2 up or 48-3/4 - 45-1/2 = 3-1/4; the shortest way out is 2-1/2.
    expect(told.comparison).toMatchObject({
      measured: { ticks: inches(-2.5) },
      relation: 'at least',
      limit: { ticks: 0 },
    });
    expect(told.advice).toBe(
      'Move the shelf at least 2-1/2in away from it. Wiring is work for a licensed electrician; check the local code before a switch is covered or moved.',
    );
    expect(standsOn(told.place)).toBe('shelf tower.low');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['fixture switch']);
  });

  it('is free where the fitting just touches its edge', () => {
    const over = shelf('tower.low', 50.5, { x: [48, 72] });
    expect(found([over], [lightSwitch])).toEqual([]);
    expect(ids(found([nudged(over, 'z', back)], [lightSwitch]))).toEqual(['fitting-before-fixture']);
    const beside = panel('tower.left', 61.5);
    expect(found([beside], [lightSwitch])).toEqual([]);
    expect(ids(found([nudged(beside, 'x', back)], [lightSwitch]))).toEqual(['fitting-before-fixture']);
  });

  it('keeps its clear distance on every side and in front', () => {
    const outlet = fixture('outlet', 'back', [58.5, 61.5], [45.5, 50.5], 2);
    // Above: 50-1/2 + 2 = 52-1/2. Beside: 61-1/2 + 2 = 63-1/2. In front: 2 in out from the wall.
    const over = shelf('a.over', 52.5, { x: [48, 72] });
    const beside = panel('a.side', 63.5);
    const before = rod('a.rod', 48, [], { x: [48, 72], fromWall: 2.5 });
    expect(found([over, beside, before], [outlet])).toEqual([]);
    expect(ids(found([nudged(over, 'z', back)], [outlet]))).toEqual(['fitting-before-fixture']);
    expect(ids(found([nudged(beside, 'x', back)], [outlet]))).toEqual(['fitting-before-fixture']);
    expect(ids(found([nudged(before, 'y', back)], [outlet]))).toEqual(['fitting-before-fixture']);
  });

  it('is told with the distance where the fitting comes too near without covering it', () => {
    const outlet = fixture('outlet', 'back', [58.5, 61.5], [45.5, 50.5], 2);
    // 51-1/2 - 50-1/2 = 1.
    const told = only(found([shelf('a.over', 51.5, { x: [48, 72] })], [outlet]), 'fitting-before-fixture');
    expect(told.message).toContain('is 1in from the outlet on the back wall; 2in is to be kept free around it.');
    expect(told.advice).toMatch(/^Move the shelf at least 1in away from it\. /);
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(1) }, limit: { ticks: inches(2) } });
  });

  it('is not covered by what only touches its edge', () => {
    const outlet = fixture('outlet', 'back', [58.5, 61.5], [45.5, 50.5], 2);
    const told = only(found([shelf('a.over', 50.5, { x: [48, 72] })], [outlet]), 'fitting-before-fixture');
    expect(told.message).toContain('is 0in from the outlet');
  });

  it('leaves free what passes in front at a distance, where none is asked for', () => {
    expect(found([rod('a.rod', 48, [], { x: [48, 72] })], [lightSwitch])).toEqual([]);
  });
});

describe('a fixture on another wall', () => {
  it('is covered by the end of a shelf in the corner', () => {
    // 5 to 8 in from the left on the back wall; a shelf on the left wall is 12 in deep and its right end is at the
    // back wall where it is 60 in along.
    const outlet = fixture('outlet', 'back', [5, 8], [40, 44]);
    const touching = shelf('side.low', 42, { wall: 'left', x: [12, 60] });
    expect(ids(found([touching], [outlet]))).toEqual(['fitting-before-fixture']);
    expect(found([nudged(touching, 'x', back)], [outlet])).toEqual([]);
  });

  it('is not compared where the walls make another shape', () => {
    const outlet = fixture('outlet', 'bay', [5, 8], [40, 44], 2);
    const walls = [wall('long', 96), wall('bay', 60)];
    expect(found([shelf('side.low', 42, { wall: 'long' })], [outlet], walls)).toEqual([]);
  });
});

describe('a fixture on the ceiling', () => {
  // 96 in high; 44 to 52 from the left, 20 to 28 from the back; 12 in to be kept free.
  const light = fixture('light', undefined, [44, 52], [20, 28], 12);

  it('keeps its clear distance downwards and sideways', () => {
    // Below: 96 - 12 = 84 = 83-1/4 + 3/4. The shelf has to be 8 in deep to come near: 20 - 12 = 8.
    const under = shelf('a.high', 83.25, { depth: 16 });
    expect(found([under], [light])).toEqual([]);
    const told = only(found([nudged(under, 'z', TICK)], [light]), 'fitting-before-fixture');
    expect(told.message).toContain('from the light on the ceiling; 12in is to be kept free around it.');
    expect(told.advice).toContain('Things stored near a lamp can catch fire.');
    const behind = shelf('a.top', 90, { depth: 8 });
    expect(found([behind], [light])).toEqual([]);
    expect(ids(found([nudged(behind, 'y', TICK)], [light]))).toEqual(['fitting-before-fixture']);
  });

  it('is compared with the fittings of every wall', () => {
    // On the left wall: its y is the distance from the left wall, 44 - 12 = 32; its x counts from the front.
    const side = shelf('side.top', 90, { wall: 'left', x: [20, 40], depth: 32 });
    expect(found([side], [light])).toEqual([]);
    expect(ids(found([nudged(side, 'y', TICK)], [light]))).toEqual(['fitting-before-fixture']);
  });
});

describe('a baseboard', () => {
  it('is met by a panel that stands on the floor, as a note', () => {
    const baseboard = fixture('baseboard', 'back', [0, 96], [0, 4]);
    const told = only(found([panel('tower.left', 48)], [baseboard]), 'fitting-at-baseboard');
    expect(told.severity).toBe('note');
    expect(told.message).toBe('Panel "tower.left" meets the baseboard on the back wall by 4in.');
    expect(found([panel('tower.left', 48, { from: 4 })], [baseboard])).toEqual([]);
  });
});

describe('a light without a clear distance', () => {
  it('is noted where nothing says what lamp it has', () => {
    const told = only(found([], [fixture('light', 'back', [0, 8], [80, 88])]), 'fixture-without-clear');
    expect(told.severity).toBe('note');
    expect(told.advice).toContain('local code');
    expect(standsOn(told.place)).toBe('fixture light');
  });

  it('is not noted where it gives one, nor of other kinds', () => {
    expect(
      found([], [fixture('light', undefined, [44, 52], [20, 28], 12), fixture('outlet', 'back', [0, 3], [12, 17])]),
    ).toEqual([]);
  });
});

it('has a caution for every kind that can hurt somebody', () => {
  for (const [kind, caution] of Object.entries(fixtureCautions)) {
    if (kind === 'baseboard') expect(caution).toBeUndefined();
    else expect(caution).toMatch(/local (fire )?code/);
  }
  for (const kind of ['outlet', 'switch', 'panel', 'light'] as const) {
    expect(fixtureCautions[kind]).toMatch(/licensed electrician/);
  }
});

describe('an opening', () => {
  const inOpening = (fittings: readonly FittingLayout[], openings: readonly OpeningLayout[]) =>
    openingCheck.run(input(layout(fittings, { openings, walls: walkIn })));
  // 30 in wide from 24 to 54, 80 in high.
  const door = opening('door', 'front', 24, 30, 80);

  it('is not reached into from the side, from one tick on', () => {
    const beside = shelf('bench.low', 20, { wall: 'front', x: [54, 96] });
    expect(inOpening([beside], [door])).toEqual([]);
    expect(ids(inOpening([nudged(beside, 'x', back)], [door]))).toEqual(['fitting-before-opening']);
    const left = shelf('bench.left', 20, { wall: 'front', x: [0, 24] });
    expect(inOpening([left], [door])).toEqual([]);
    expect(ids(inOpening([nudged(left, 'x', TICK)], [door]))).toEqual(['fitting-before-opening']);
  });

  it('may have a shelf above it', () => {
    const over = shelf('bench.over', 80, { wall: 'front', x: [0, 96] });
    expect(inOpening([over], [door])).toEqual([]);
    expect(ids(inOpening([nudged(over, 'z', back)], [door]))).toEqual(['fitting-before-opening']);
  });

  it('is told with the numbers and the ways out', () => {
    // 54 - 50 = 4 along the wall; 80 - 78 = 2 up.
    const told = only(
      inOpening([shelf('bench.over', 78, { wall: 'front', x: [50, 96] })], [door]),
      'fitting-before-opening',
    );
    expect(told.message).toBe(
      'Shelf "bench.over" stands in opening "door" of the front wall, which is 30in wide and 80in high: to be clear of it takes 4in along the wall, or 2in in height.',
    );
    expect(told.advice).toBe('Raise it by 2in or move the shelf 4in along the wall.');
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(-2) }, limit: { ticks: 0 } });
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['opening door']);
  });

  it('is the business of its own wall only', () => {
    expect(inOpening([shelf('back.low', 20, { x: [0, 96] })], [door])).toEqual([]);
  });
});
