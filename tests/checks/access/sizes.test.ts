/** Rods by the people who use them, and towers that stand free. Numbers are worked out beside each case. */
import { describe, expect, it } from 'vitest';
import { accessCheck } from '../../../server/checks/access/access.ts';
import type { CheckInput, Lacked, Looked } from '../../../server/checks/check.ts';
import type { DrawersLayout, FittingLayout } from '../../../server/model/layout.ts';
import { add, inches, subtract, type Ticks } from '../../../server/model/ticks.ts';
import { projectOf } from '../../model/support.ts';
import { box, fixed, ids, input, layout, nudged, only, panel, place, policy, rod, standsOn, TICK } from '../layouts.ts';

function runOn(given: CheckInput) {
  const looked: Looked[] = [];
  const lacked: Lacked[] = [];
  const record = { looked: (l: Looked) => void looked.push(l), lacks: (l: Lacked) => void lacked.push(l) };
  return { found: accessCheck.run({ ...given, record }), looked, lacked };
}

describe('the length of rods', () => {
  // Two rods of 24 in: 48 in for two people.
  const rods = [rod('a.one', 80, [], { x: [0, 24] }), rod('b.two', 80, [], { x: [24, 48] })];
  const run = (fittings: readonly FittingLayout[], persons?: number, least?: number) =>
    runOn(
      input(
        { ...layout(fittings), ...(persons !== undefined && { persons: { count: persons, place: place('persons') } }) },
        policy(least === undefined ? {} : { 'rod-per-person': { least } }),
      ),
    );

  it('is asked for only by a policy', () => {
    expect(run(rods, 9)).toEqual({ found: [], looked: [], lacked: [] });
  });

  it('is compared with that for all people, to the tick', () => {
    expect(run(rods, 2, 24).found).toEqual([]);
    const [first, second] = rods;
    if (!first || !second) throw new Error('two rods were expected');
    const [from, to] = second.box.x;
    const short = { ...second, box: { ...second.box, x: [from, subtract(to, TICK)] as const } };
    const told = only(run([first, short], 2, 24).found, 'too-little-rod');
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(48) - TICK }, limit: { ticks: inches(48) } });
    expect(standsOn(told.place)).toBe('persons');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['limit rod-per-person']);
    expect(ids(run([], 1, 24).found)).toEqual(['too-little-rod']);
  });

  it('lacks the number of people where nothing says it', () => {
    const { found, lacked } = run(rods, undefined, 24);
    expect(found).toEqual([]);
    expect(lacked.map(({ needs }) => needs)).toEqual(['how many people keep their clothes here: `persons 2`']);
  });
});

/** Two panels 24 in apart from outside to outside, and drawers between them. */
function tower(height: number, free = true, high = 16): readonly [FittingLayout, FittingLayout, DrawersLayout] {
  const standing = free ? ({ freeStanding: true } as const) : {};
  const [left, right] = [0, 23.25].map((x) => ({ ...panel('tower.panels', x, { height, depth: 16 }), ...standing }));
  if (!left || !right) throw new Error('two panels were expected');
  const drawers: DrawersLayout = {
    kind: 'drawers',
    name: 'chest',
    path: 'tower.chest',
    zone: 'tower',
    wall: 'back',
    place: place('drawers'),
    at: fixed(inches(4)),
    atPlace: place('height of drawers'),
    // 22.5 wide and 15.36 deep: 16 in high they enclose 5529.6 cubic inches, which is 3.2 cubic feet.
    box: box([0.75, 23.25], [0, 15.36], [4, 4 + high]),
    count: 2,
    each: inches(high / 2),
    depth: inches(15.36),
    pullOut: inches(12),
  };
  return [left, right, drawers];
}

describe('a tower that stands free', () => {
  const run = (fittings: readonly FittingLayout[]) => runOn(input(layout(fittings)));

  it('with drawers is warned of from 27 in and 3.2 cubic feet on, to the tick', () => {
    const own = tower(27);
    const { found, looked, lacked } = run(own);
    const told = only(found, 'free-standing-drawers');
    expect(told).toMatchObject({ severity: 'warning', about: 'tower' });
    expect(told.working?.map(({ value }) => value)).toEqual(['27in', '3.2 ft3']);
    expect(lacked.map(({ needs }) => needs)).toEqual([
      'what tower "tower" weighs with its drawers: 30 lb or more is the third mark',
    ]);
    expect(looked.map(({ rule, holds }) => [rule.id, holds])).toEqual([
      ['tall-free-standing', true],
      ['free-standing-drawers', false],
    ]);
    const [left, right, drawers] = own;
    const lower = (f: FittingLayout) => ({
      ...f,
      box: { ...f.box, z: [f.box.z[0], subtract(f.box.z[1], TICK)] as const },
    });
    expect(ids(run([lower(left) as FittingLayout, lower(right) as FittingLayout, drawers]).found)).toEqual([]);
    expect(ids(run([left, right, lower(drawers) as FittingLayout]).found)).toEqual([]);
  });

  it('is warned of over 6 ft, drawers or none', () => {
    const [left, right] = tower(72);
    expect(run([left, right]).found).toEqual([]);
    const up = (by: Ticks) => [nudged(left, 'z', by), nudged(right, 'z', by)];
    const told = only(run(up(TICK)).found, 'tall-free-standing');
    expect(told.comparison).toMatchObject({ measured: { ticks: add(inches(72), TICK) }, limit: { ticks: inches(72) } });
  });

  it('is not a tower that is built in', () => {
    expect(run(tower(96, false))).toEqual({ found: [], looked: [], lacked: [] });
  });

  it('is one as it is written', () => {
    const project = projectOf(`template t {
  board white-16
  wall left { length 25in; height 96in }
  wall back { length 94in; height 96in }
  zone chest on back {
    width 36in
    panels { height 84in; free-standing }
    shelf top { at 83-1/4in; fixed }
    drawers low { at 4in; count 4; height 8in; depth 15in }
  }
}
unit u t
`);
    const own = project.findings().filter(({ rule }) => rule.id.startsWith('free-') || rule.id.startsWith('tall-'));
    expect(ids(own).sort()).toEqual(['free-standing-drawers', 'tall-free-standing']);
  });
});
