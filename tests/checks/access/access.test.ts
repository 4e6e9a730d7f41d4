/** Access on layouts: reach through an opening and from inside, one of each kind, floors and doors. Numbers are worked out beside each case. */
import { describe, expect, it } from 'vitest';
import { accessCheck } from '../../../server/checks/access/access.ts';
import type { CheckInput } from '../../../server/checks/check.ts';
import type { DrawersLayout, FittingLayout, OpeningLayout, WallLayout } from '../../../server/model/layout.ts';
import type { Demands } from '../../../server/model/materials.ts';
import { add, inches, subtract, type Ticks } from '../../../server/model/ticks.ts';
import {
  fixed,
  fixture,
  ids,
  input,
  layout,
  nudged,
  only,
  opening,
  panel,
  place,
  policy,
  reachIn,
  recorded,
  rod,
  shelf,
  standsOn,
  TICK,
  walkIn,
} from '../layouts.ts';

/** A reach-in closet 25 in deep and 96 in wide, its opening 72 in wide in the middle. */
const front = {
  ...opening('front', 'front', 12, 72, 80),
  floor: { width: inches(72), depth: inches(60), place: place('floor') },
};

interface Given {
  readonly fittings: readonly FittingLayout[];
  readonly openings?: readonly OpeningLayout[];
  readonly walls?: readonly WallLayout[];
  readonly side?: Ticks;
  readonly forward?: Ticks;
  readonly child?: number;
  readonly policy?: Parameters<typeof policy>;
}

function asked({
  fittings,
  openings = [front],
  walls = reachIn,
  side,
  forward,
  child,
  policy: given = [],
}: Given): CheckInput {
  const by = <T>(what: string, value: T) => ({ value, place: place(what), policy: 'accessible' });
  const demands: Demands = {
    deflection: {},
    loads: {},
    reach: {
      ...(side === undefined ? {} : { side: by('reach side', side) }),
      ...(forward === undefined ? {} : { forward: by('reach forward', forward) }),
    },
    ...(child === undefined ? {} : { child: by('child', child) }),
  };
  return input(layout(fittings, { openings, walls }), { ...policy(...given), demands });
}

const found = (given: Given) => accessCheck.run(asked(given));

const heard = (given: Given) => recorded(accessCheck, asked(given));

const side = inches(48);

describe('a closet that is reached into', () => {
  // The rod is 1 in thick and 12 in from the wall: its front is at 12-1/2, and 25 - 12-1/2 = 12-1/2 in is the depth, so 46 in is the top.
  const at46 = rod('hang.rod', 46, [], { x: [0, 96] });

  it('says nothing where no policy asks for a reach', () => {
    expect(found({ fittings: [rod('hang.rod', 90, [])] })).toEqual([]);
    expect(heard({ fittings: [rod('hang.rod', 90, [])] })).toEqual({ looked: [], lacked: [] });
  });

  it('has a rod at 46 in within the side reach, and not one a tick higher', () => {
    expect(found({ fittings: [at46], side })).toEqual([]);
    const above = { ...at46, at: fixed(add(inches(46), TICK)) };
    const told = only(found({ fittings: [above], side }), 'none-within-reach');
    expect(told).toMatchObject({ severity: 'warning', about: '' });
    expect(told.comparison).toMatchObject({
      measured: { ticks: inches(46) + TICK },
      relation: 'at most',
      limit: { ticks: inches(46) },
    });
  });

  it('says why, and how far, as people read it', () => {
    const told = only(found({ fittings: [rod('hang.rod', 54, [], { x: [0, 96] })], side }), 'none-within-reach');
    expect(told.message).toBe(
      'Rod "hang.rod" is the only one of its kind, at 54in, and it is out of reach: a side reach 12-1/2in deep, in over the floor of the closet, goes from 15in to 46in.',
    );
    expect(told.advice).toBe(
      'Lower it by 8in, to 46in. Ask whoever applies the local accessibility code what has to be within reach.',
    );
    expect(standsOn(told.place)).toBe('height of hang.rod');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['reach side']);
    expect(told.working?.map(({ what, value }) => `${what}: ${value}`)).toEqual([
      'highest, with nothing in the way: 48in',
      'reach depth: 12-1/2in',
      'lowest: 15in',
      'highest: 46in',
      'compared with: ADA Standards for Accessible Design, 308.3.2, side reach over an obstruction (2010)',
    ]);
  });

  it('asks for one of each kind, not for all', () => {
    const high = rod('hang.high', 80, [], { x: [0, 96] });
    const low = shelf('tower.low', 20, { x: [20, 60] });
    const top = shelf('tower.top', 84, { x: [20, 60] });
    expect(found({ fittings: [at46, high, low, top], side })).toEqual([]);
    expect(ids(found({ fittings: [at46, high, top], side }))).toEqual(['none-within-reach']);
    const told = only(
      found({ fittings: [high, rod('hang.mid', 66, [], { x: [0, 96] }), low], side }),
      'none-within-reach',
    );
    // The nearer of the two is named, the other is related.
    expect(told.message).toMatch(/^None of the 2 rods is within reach\. The nearest, rod "hang\.mid", is at 66in: /);
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['reach side', 'height of hang.high']);
    expect(told.advice).toContain('one of them within reach is enough');
  });

  it('does not reach what lies beside the opening', () => {
    // The opening leaves 12 in at each side: it is from 12 to 84 in, seen from the front.
    const beside = rod('hang.rod', 40, [], { x: [0, 12] });
    expect(only(found({ fittings: [beside], side }), 'none-within-reach').message).toContain(
      'no part of it lies straight before where a person can be',
    );
    expect(found({ fittings: [rod('hang.rod', 40, [], { x: [0, 13] })], side })).toEqual([]);
  });

  it('turns left and right of the opening as it is seen from outside', () => {
    // 60 in from the left of the front, seen from inside, 30 in wide: 96 - 90 = 6 to 36 in along the back wall.
    const aside = { ...front, from: inches(60), width: inches(30) };
    expect(ids(found({ fittings: [rod('a.rod', 40, [], { x: [35, 60] })], openings: [aside], side }))).not.toContain(
      'none-within-reach',
    );
    expect(ids(found({ fittings: [rod('a.rod', 40, [], { x: [36, 60] })], openings: [aside], side }))).toContain(
      'none-within-reach',
    );
  });

  it('passes over a chest up to 34 in high, from the side', () => {
    const chest = (high: Ticks): DrawersLayout => ({
      kind: 'drawers',
      name: 'chest',
      path: 'hang.chest',
      zone: 'hang',
      wall: 'back',
      place: place('chest'),
      at: fixed(inches(0)),
      atPlace: place('height of chest'),
      box: { x: [inches(0), inches(96)], y: [inches(0), inches(20)], z: [inches(0), high] },
      count: 1,
      each: high,
      depth: inches(20),
      pullOut: inches(16),
    });
    expect(found({ fittings: [at46, chest(inches(34))], side })).toEqual([]);
    const told = only(found({ fittings: [at46, chest(add(inches(34), TICK))], side }), 'none-within-reach');
    expect(told.comparison).toMatchObject({
      what: 'height of the obstruction on the way to rod "hang.rod"',
      limit: { ticks: inches(34) },
    });
    // From the front nothing runs in beneath a chest: 25 - 20 = 5 in, and 12-1/2 in are needed.
    const forward = only(found({ fittings: [at46, chest(inches(30))], forward: side }), 'none-within-reach');
    expect(forward.message).toContain(
      'a forward reach 12-1/2in deep needs as much clear floor beneath, and there is 5in',
    );
    // The drawer itself is within: the middle of its front at 15 in, 25 - 20 = 5 in deep.
    const { looked, lacked } = heard({ fittings: [chest(inches(30))], side });
    expect(looked.filter(({ about }) => about === 'hang.chest')).toMatchObject([
      { holds: true, comparison: { measured: { ticks: inches(15) } } },
    ]);
    expect(lacked.map(({ needs }) => needs)).toContain('what the pull of drawers "hang.chest" is: `pull bar`');
  });

  it('is reached over a heater that stands out from the wall as over a chest', () => {
    // 20 in deep like the chest, along the whole wall: side reach passes over what is 34 in high.
    const heater = (top: Ticks) => {
      const flat = fixture('appliance', 'back', [0, 96], [0, 34]);
      return {
        ...flat,
        depth: inches(20),
        box: { ...flat.box, y: [inches(0), inches(20)] as const, z: [inches(0), top] as const },
      };
    };
    const run = (top: Ticks) => {
      const given = asked({ fittings: [at46], side });
      return ids(accessCheck.run({ ...given, layout: { ...given.layout, fixtures: [heater(top)] } }));
    };
    expect(run(inches(34))).toEqual([]);
    expect(run(add(inches(34), TICK))).toEqual(['none-within-reach']);
  });

  it('takes either reach where both are asked for', () => {
    // From the front with free floor: 12-1/2 in deep is at most 20, so 48 in; from the side 46.
    const at48 = rod('hang.rod', 48, [], { x: [0, 96] });
    expect(ids(found({ fittings: [at48], side }))).toEqual(['none-within-reach']);
    expect(found({ fittings: [at48], forward: inches(48), side })).toEqual([]);
  });

  it('takes the upper face of a shelf, and says how much of it', () => {
    // 46 - 3/4 = 45-1/4 in; 25 - 12 = 13 in deep.
    const at = (height: number) => found({ fittings: [shelf('tower.one', height, { x: [20, 60] })], side });
    expect(at(45.25)).toEqual([]);
    expect(ids(at(45.5))).toEqual(['none-within-reach']);
  });

  it('records every reach it looked at, and lacks the floor before the opening where it is not given', () => {
    const { looked, lacked } = heard({ fittings: [at46], openings: [{ ...front, floor: undefined }], side });
    expect(looked.filter(({ rule }) => rule.id === 'none-within-reach')).toMatchObject([
      { about: 'hang.rod', holds: true },
    ]);
    expect(lacked.map(({ rule, needs }) => [rule.id, needs])).toEqual([
      ['floor-before-opening', 'the clear floor before opening "front": `clear-floor 48in by 30in`'],
    ]);
  });

  it('lacks what it cannot know', () => {
    const odd = reachIn.map((w) => ({ ...w, name: `${w.name}-of-bay` }));
    expect(heard({ fittings: [at46], walls: odd, side }).lacked.map(({ needs }) => needs)).toEqual([
      'a closet of four walls at right angles',
    ]);
    expect(heard({ fittings: [at46], openings: [], side }).lacked.map(({ needs }) => needs)).toEqual([
      'an opening: how one gets to the closet',
    ]);
  });
});

describe('the floor before an opening', () => {
  const fittings = [rod('hang.rod', 40, [], { x: [0, 96] })];
  const with_ = (width: Ticks, depth: Ticks) => [{ ...front, floor: { width, depth, place: place('floor') } }];

  it('has room for the reach that is asked for, to the tick', () => {
    expect(found({ fittings, side, openings: with_(inches(48), inches(30)) })).toEqual([]);
    const told = only(
      found({ fittings, side, openings: with_(subtract(inches(48), TICK), inches(30)) }),
      'floor-before-opening',
    );
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(48) - TICK }, limit: { ticks: inches(48) } });
    expect(standsOn(told.place)).toBe('floor');
    expect(ids(found({ fittings, side, openings: with_(inches(30), inches(48)) }))).toEqual(['floor-before-opening']);
    expect(found({ fittings, forward: side, openings: with_(inches(30), inches(48)) })).toEqual([]);
  });

  it('says what each reach would need', () => {
    const told = only(
      found({ fittings, side, forward: side, openings: with_(inches(28), inches(40)) }),
      'floor-before-opening',
    );
    expect(told.message).toBe(
      'The clear floor before opening "front" is 28in by 40in; a forward reach needs 30in by 48in or a side reach needs 48in by 30in.',
    );
  });
});

describe('a closet that is entered', () => {
  // 96 in wide and 60 in deep; shelves 12 in deep at the back leave 48 in of floor by 96.
  const door = {
    ...opening('door', 'front', 30, 32, 80),
    floor: { width: inches(60), depth: inches(60), place: place('floor') },
  };
  const walls = walkIn;
  const low = shelf('tower.low', 40, { x: [0, 48] });

  it('is reached from inside, with nothing in the way', () => {
    // Nothing before it: 48 in to its upper face, so its underside at 47-1/4.
    const at = (height: Ticks) => ({ ...low, at: fixed(height) });
    const given = { walls, openings: [door], side };
    expect(ids(found({ ...given, fittings: [at(inches(47.25))] }))).not.toContain('none-within-reach');
    expect(ids(found({ ...given, fittings: [at(add(inches(47.25), TICK))] }))).toContain('none-within-reach');
  });

  it('needs a doorway of 32 in, and half of sliding leaves counts', () => {
    const narrow = { ...door, width: subtract(inches(32), TICK) };
    expect(ids(found({ walls, openings: [door], fittings: [low], side }))).not.toContain('doorway-too-narrow');
    expect(ids(found({ walls, openings: [narrow], fittings: [low], side }))).toContain('doorway-too-narrow');
    const sliding = { ...door, width: inches(60), leaf: { kind: 'sliding' as const, place: place('leaf') } };
    const told = only(found({ walls, openings: [sliding], fittings: [low], side }), 'doorway-too-narrow');
    expect(told.message).toBe(
      'Opening "door" is 30in clear, half of 60in with sliding leaves; 32in is asked for where a person enters in a wheelchair.',
    );
    // A policy may ask for less or more.
    const asks = { policy: [{ 'doorway-width': { least: 30 } }] as Parameters<typeof policy> };
    expect(ids(found({ walls, openings: [sliding], fittings: [low], side, ...asks }))).not.toContain(
      'doorway-too-narrow',
    );
  });

  it('needs floor before a door that is pulled open: 60 in out, and 18 beyond the latch', () => {
    // 32 + 18 = 50 in along it.
    const leaf = { kind: 'swing' as const, way: 'out' as const, hinge: undefined, place: place('leaf') };
    const at = (width: Ticks, depth: Ticks) =>
      ids(
        found({
          walls,
          openings: [{ ...door, leaf, floor: { width, depth, place: place('floor') } }],
          fittings: [low],
          side,
        }),
      );
    expect(at(inches(50), inches(60))).not.toContain('floor-before-door');
    expect(at(subtract(inches(50), TICK), inches(60))).toContain('floor-before-door');
    expect(at(inches(50), subtract(inches(60), TICK))).toContain('floor-before-door');
    const inward = { ...leaf, way: 'in' as const };
    const pushed = { ...door, leaf: inward, floor: { width: inches(32), depth: inches(48), place: place('floor') } };
    expect(ids(found({ walls, openings: [pushed], fittings: [low], side }))).not.toContain('floor-before-door');
  });

  it('turns in 60 in where it is deeper than 48', () => {
    // 60 - 12 = 48 in are free the shorter way; a shelf on the left wall only leaves 60 by 84.
    const told = only(found({ walls, openings: [door], fittings: [low], side }), 'turning-space-too-small');
    expect(told).toMatchObject({
      severity: 'note',
      comparison: { measured: { ticks: inches(48) }, limit: { ticks: inches(60) } },
    });
    const left = shelf('side.low', 40, { wall: 'left', x: [0, 40] });
    expect(ids(found({ walls, openings: [door], fittings: [left], side }))).not.toContain('turning-space-too-small');
  });

  it('has no room for a wheelchair where fittings leave less than 30 in', () => {
    // 60 - 2 x 24 leaves 12 in out from the back wall: the closet is reached into from its front line at 60 in.
    const deep = [shelf('a.one', 40, { depth: 24 }), shelf('b.one', 40, { wall: 'front', depth: 24, x: [0, 20] })];
    const told = found({ walls, openings: [door], fittings: deep, side });
    expect(ids(told)).not.toContain('doorway-too-narrow');
  });
});

describe('advice and other editions', () => {
  const fittings = [rod('kid.rod', 42, [], { x: [0, 96] })];

  it('has a rod at 42 in for a child of ten, and not of eight; a note and no more', () => {
    expect(found({ fittings, child: 10 })).toEqual([]);
    const told = only(found({ fittings, child: 8 }), 'child-cannot-reach');
    expect(told.severity).toBe('note');
    expect(told.message).toContain('At 8 years one reaches from 18in to 40in');
    expect(told.advice).toContain('Lower it by 2in');
    expect(heard({ fittings, child: 15 }).lacked.map(({ needs }) => needs)).toEqual([
      'an age from 3 to 12 years; policy "accessible" says 15',
    ]);
  });

  it('knows 54 in for the side reach of the older edition', () => {
    const told = only(found({ fittings, side: inches(54) }), 'reach-of-old-edition');
    expect(told.severity).toBe('note');
    expect(standsOn(told.place)).toBe('reach side');
    expect(found({ fittings, side })).toEqual([]);
  });

  it('asks for half of the shelf space only where a policy names the rule', () => {
    // 40 in of shelf within reach and 56 beyond it.
    const shelves = [...fittings, shelf('a.low', 30, { x: [12, 52] }), shelf('a.high', 80, { x: [12, 68] })];
    expect(found({ fittings: shelves, side })).toEqual([]);
    const severities = { 'half-of-shelves-within-reach': 'warning' as const };
    const told = only(found({ fittings: shelves, side, policy: [{}, severities] }), 'half-of-shelves-within-reach');
    expect(told.message).toBe('Of 96in of shelf, 40in is within reach, which is less than half.');
    expect(told.advice).toBe('Bring 8in more of it within reach.');
    const more = [...shelves, shelf('b.low', 30, { x: [60, 76] })];
    // 56 of 112: just half.
    expect(found({ fittings: more, side, policy: [{}, severities] })).toEqual([]);
  });

  it('finds what sticks out of the front by more than 4 in where a cane does not find it', () => {
    // The closet is 25 in deep: a shelf 29 in deep reaches 4 in out.
    const out = shelf('a.deep', 40, { depth: 29, x: [20, 60] });
    expect(ids(found({ fittings: [...fittings, out], side }))).not.toContain('protruding-fitting');
    const further = { ...out, box: { ...out.box, y: [inches(0), add(inches(29), TICK)] as const } };
    expect(ids(found({ fittings: [...fittings, further], side }))).toContain('protruding-fitting');
    expect(
      ids(found({ fittings: [...fittings, nudged(panel('a.side', 20, { depth: 40 }), 'x', TICK)], side })),
    ).not.toContain('protruding-fitting');
  });

  it('advises a wider door, or a shelf within reach, over 24 in deep', () => {
    const narrow = { ...front, from: inches(30), width: inches(31) };
    expect(ids(found({ fittings, openings: [narrow], side }))).toEqual(['deep-closet-narrow-door']);
    const shelved = [...fittings, shelf('a.low', 30, { x: [12, 60] })];
    expect(found({ fittings: shelved, openings: [narrow], side })).toEqual([]);
    const slit = { ...front, from: inches(30), width: subtract(inches(20), TICK) };
    expect(ids(found({ fittings: shelved, openings: [slit], side }))).toContain('narrow-shallow-opening');
  });

  it('compares the depth of the closet only where a policy sets one', () => {
    const asks = (least: number) => found({ fittings, policy: [{ 'closet-depth': { least } }] });
    expect(asks(25)).toEqual([]);
    const told = only(asks(26), 'closet-too-shallow');
    expect(told.message).toBe('The closet is 25in deep; policy "everyday" asks for 26in.');
    expect(told.advice).toContain('It lacks 1in');
  });
});
