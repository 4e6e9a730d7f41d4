/** Lights, panels, heads and hatches on layouts. Numbers are worked out beside each case. */
import { describe, expect, it } from 'vitest';
import type { CheckInput } from '../../../server/checks/check.ts';
import { lightCheck } from '../../../server/checks/light/light.ts';
import type { FittingLayout, FixtureLayout, Lamp, WallLayout } from '../../../server/model/layout.ts';
import { add, inches, subtract, type Ticks } from '../../../server/model/ticks.ts';
import {
  panel as board,
  fixture,
  ids,
  input,
  layout,
  nudged,
  only,
  opening,
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

interface Given {
  readonly fixtures: readonly FixtureLayout[];
  readonly fittings?: readonly FittingLayout[];
  readonly walls?: readonly WallLayout[];
  readonly policy?: Parameters<typeof policy>;
}

const clothes = rod('hang.rod', 66, [], { x: [0, 96] });
const front = opening('door', 'front', 30, 36, 80);

function asked({ fixtures, fittings = [clothes], walls = walkIn, policy: given = [] }: Given): CheckInput {
  return input(layout(fittings, { fixtures, walls, openings: [front] }), policy(...given));
}

const found = (given: Given) => lightCheck.run(asked(given));

const heard = (given: Given) => recorded(lightCheck, asked(given));

const enclosed: Lamp = { mount: 'surface', source: 'led', enclosed: true, identified: false, place: place('lamp') };

/** On the ceiling, 8 by 8 in, its near edge `back` inches from the back wall. */
function light(back: number, lamp: Lamp | undefined = enclosed): FixtureLayout {
  return { ...fixture('light', undefined, [44, 52], [back, back + 8]), lamp };
}

const shifted = (given: FixtureLayout, by: Ticks): FixtureLayout => {
  const { y } = given.box;
  return { ...given, box: { ...given.box, y: [add(y[0], by), add(y[1], by)] } };
};
const back = subtract(inches(0), TICK);

describe('a light on the ceiling of a walk-in closet', () => {
  // Above 72 in the storage space is 12 in deep along the back wall: 12 + 12 = 24 in.
  it('keeps 12 in from the storage space, to the tick', () => {
    expect(found({ fixtures: [light(24)] })).toEqual([]);
    const told = only(found({ fixtures: [shifted(light(24), back)] }), 'light-near-storage');
    expect(told.severity).toBe('warning');
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(12) - TICK }, limit: { ticks: inches(12) } });
  });

  it('says what it was compared with, and what to do', () => {
    const told = only(found({ fixtures: [light(20)] }), 'light-near-storage');
    expect(told.message).toBe(
      'The light on the ceiling is 8in from the storage space along the back wall, 12in deep above 72in; the default limit asks for 12in for an enclosed LED light on the surface, because what is stored there can catch fire from it.',
    );
    expect(told.advice).toMatch(/^Move it 4in further off, .* licensed electrician .* local code/);
    expect(standsOn(told.place)).toBe('fixture light');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['lamp']);
    expect(told.working?.at(-1)).toMatchObject({ what: 'asked for', value: '12in' });
    expect(told.working?.at(-1)?.how).toMatch(/410\.16\(C\)\(1\).*2017/);
  });

  it.each([
    ['recessed, enclosed', { ...enclosed, mount: 'recessed' as const }, 18],
    ['fluorescent', { ...enclosed, source: 'fluorescent' as const, enclosed: false }, 18],
    ['recessed fluorescent', { ...enclosed, mount: 'recessed' as const, source: 'fluorescent' as const }, 18],
    ['enclosed incandescent', { ...enclosed, source: 'incandescent' as const }, 24],
  ])('%s', (_, lamp, at) => {
    expect(found({ fixtures: [light(at, lamp)] })).toEqual([]);
    expect(ids(found({ fixtures: [shifted(light(at, lamp), back)] }))).toEqual(['light-near-storage']);
  });

  it('may be inside where it is identified for that', () => {
    expect(found({ fixtures: [light(4, { ...enclosed, identified: true })] })).toEqual([]);
    expect(only(found({ fixtures: [light(4)] }), 'light-near-storage').message).toContain(
      'is inside the storage space',
    );
  });

  it('keeps off a deeper shelf, and a rod high up widens the lower part', () => {
    // A shelf 16 in deep at 84 in: 16 + 12 = 28 in.
    const deep = shelf('hang.top', 84, { depth: 16, x: [0, 96] });
    expect(found({ fixtures: [light(28)], fittings: [clothes, deep] })).toEqual([]);
    expect(ids(found({ fixtures: [shifted(light(28), back)], fittings: [clothes, deep] }))).toEqual([
      'light-near-storage',
    ]);
    // A rod at 88 in: up to there the space is 24 in deep; the ceiling is 8 in higher. 24 in out and 8 in up: from 26 in out
    // 2 and 8 in are 8.2 in; at 24 + 9 = 33 in, 9 and 8 in are 12.04 in.
    const high = rod('hang.high', 88, [], { x: [0, 96] });
    expect(ids(found({ fixtures: [light(26)], fittings: [high] }))).toEqual(['light-near-storage']);
    expect(found({ fixtures: [light(33)], fittings: [high] })).toEqual([]);
    expect(ids(found({ fixtures: [light(32.5)], fittings: [high] }))).toEqual(['light-near-storage']);
  });

  it('is a note in a closet without a rod', () => {
    const told = only(found({ fixtures: [light(20)], fittings: [shelf('linen.top', 80)] }), 'light-near-storage');
    expect(told.severity).toBe('note');
  });

  it('keeps the distance of a policy', () => {
    const asks = { policy: [{ 'clear-of-surface-light': { least: 8 } }] as Parameters<typeof policy> };
    expect(found({ fixtures: [light(20)], ...asks })).toEqual([]);
    const told = only(found({ fixtures: [shifted(light(20), back)], ...asks }), 'light-near-storage');
    expect(told.message).toContain('policy "everyday" asks for 8in');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['lamp', 'limit clear-of-surface-light']);
  });

  it('has no distance for open lamps and pendants, which are barred from memory only where a policy asks', () => {
    const open: Lamp = { ...enclosed, source: 'incandescent', enclosed: false };
    const told = only(found({ fixtures: [light(40, open)] }), 'light-without-distance');
    expect(told.severity).toBe('note');
    expect(told.message).toContain('an open incandescent light on the surface');
    const asks = { policy: [{}, { 'light-kind-barred': 'note' as const }] as Parameters<typeof policy> };
    expect(ids(found({ fixtures: [light(40, open)], ...asks }))).toEqual([
      'light-without-distance',
      'light-kind-barred',
    ]);
    expect(only(found({ fixtures: [light(40, open)], ...asks }), 'light-kind-barred').message).toContain('from memory');
    expect(ids(found({ fixtures: [light(40)], ...asks }))).toEqual([]);
  });

  it('lacks the kind of lamp where it is not said, and records what it compared', () => {
    const bare = heard({ fixtures: [{ ...light(4), lamp: undefined }] });
    expect(bare.looked).toEqual([]);
    expect(bare.lacked.map(({ needs }) => needs)).toEqual([
      'the kind of lamp of the light on the ceiling: `lamp surface led enclosed`',
    ]);
    const { looked, lacked } = heard({ fixtures: [light(24)] });
    expect(looked.map(({ rule, holds }) => [rule.id, holds])).toEqual([['light-near-storage', true]]);
    const memory = 'a policy that names the rule: it is from memory';
    expect(lacked.map(({ needs }) => needs)).toEqual([
      'how far the light on the ceiling stands out: `depth 3in`',
      memory,
    ]);
    const deep = heard({ fixtures: [{ ...light(24), depth: inches(3) }] });
    expect(deep.lacked.map(({ needs }) => needs)).toEqual([memory]);
  });

  it('has no storage space along the wall with the door', () => {
    // Over the door, its far edge at the face of the front wall: 60 - 8 = 52 in, 40 in from the back space.
    expect(found({ fixtures: [light(52)] })).toEqual([]);
  });

  it('lies within the depth of a shallow closet', () => {
    // 25 in deep: a light over the door, its near edge at 17 in, is 5 in from the space above 72 in.
    const told = only(found({ fixtures: [light(17)], walls: reachIn }), 'light-near-storage');
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(5) } });
  });
});

describe('a sprinkler head', () => {
  // On the ceiling at 96 in: 96 - 18 = 78 in is the highest top straight below it.
  const head = fixture('sprinkler', undefined, [40, 43], [6, 9]);
  const below = shelf('tower.top', 77.25, { x: [30, 60] });

  it('has 18 in free below it, to the tick, straight below only', () => {
    expect(found({ fixtures: [head], fittings: [below] })).toEqual([]);
    const told = only(found({ fixtures: [head], fittings: [nudged(below, 'z', TICK)] }), 'storage-near-sprinkler');
    expect(told).toMatchObject({ severity: 'warning', about: 'tower.top' });
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(18) - TICK }, limit: { ticks: inches(18) } });
    expect(found({ fixtures: [head], fittings: [shelf('tower.top', 84, { x: [43, 60] })] })).toEqual([]);
    expect(found({ fixtures: [head], fittings: [shelf('tower.top', 84, { x: [30, 60], depth: 6 })] })).toEqual([]);
  });

  it('says how high things may stand, and what it does not know', () => {
    const told = only(
      found({ fixtures: [head], fittings: [shelf('tower.top', 84, { x: [30, 60] })] }),
      'storage-near-sprinkler',
    );
    expect(told.message).toBe(
      'Shelf "tower.top" ends 11-1/4in below the sprinkler head on the ceiling; the default limit asks for 18in down to the top of what is stored there.',
    );
    expect(told.advice).toContain('Lower it by 6-3/4in');
    expect(told.advice).toContain('may stand higher than 78in');
    expect(heard({ fixtures: [head] }).lacked.map(({ needs }) => needs)).toEqual([
      'how far the deflector of the sprinkler head on the ceiling hangs down: `depth 2in`',
    ]);
  });

  it('counts from its deflector where that is said', () => {
    // 96 - 2 = 94 in, and 94 - 18 = 76 in is the highest top: the shelf that ends at 78 in is 2 in too high.
    const { box } = head;
    const low = { ...head, depth: inches(2), box: { ...box, z: [inches(94), inches(96)] as const } };
    const told = only(found({ fixtures: [low], fittings: [below] }), 'storage-near-sprinkler');
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(16) }, limit: { ticks: inches(18) } });
    expect(heard({ fixtures: [low] }).lacked).toEqual([]);
  });
});

describe('an electrical panel', () => {
  // 14 in wide from 40 in along the back wall, from 40 to 70 in high.
  const own = fixture('panel', 'back', [40, 54], [40, 70]);

  it('is not to be in a clothes closet, of any size', () => {
    const told = only(
      found({ fixtures: [own], fittings: [rod('hang.rod', 66, [], { x: [0, 12] })] }),
      'panel-in-clothes-closet',
    );
    expect(told.severity).toBe('warning');
    expect(only(found({ fixtures: [own], fittings: [] }), 'panel-in-clothes-closet').severity).toBe('note');
  });

  it('has 36 in of room out from it, also from what stands on the other walls', () => {
    const before = shelf('tower.one', 50, { x: [45, 60] });
    const told = only(found({ fixtures: [own], fittings: [before] }), 'panel-working-space');
    expect(told.message).toContain('Shelf "tower.one" stands 0in out from the electrical panel on the back wall');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['shelf tower.one']);
    // On the front wall, 60 in away: 24 in deep leaves 36 in.
    const across = (depth: number) => shelf('far.one', 50, { wall: 'front', x: [40, 60], depth });
    expect(ids(found({ fixtures: [own], fittings: [across(24)] }))).toEqual(['panel-in-clothes-closet']);
    expect(ids(found({ fixtures: [own], fittings: [across(24.5)] }))).toContain('panel-working-space');
  });

  it('has 30 in of width free before it, wherever the panel is in it', () => {
    const beside = (left: Ticks) => {
      const tower = board('tower.right', 60);
      return [nudged(board('tower.left', 0), 'x', subtract(left, inches(0.75))), tower];
    };
    expect(ids(found({ fixtures: [own], fittings: beside(inches(30)) }))).toEqual(['panel-in-clothes-closet']);
    const told = only(found({ fixtures: [own], fittings: beside(add(inches(30), TICK)) }), 'panel-working-space');
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(30) - TICK }, limit: { ticks: inches(30) } });
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['panel tower.left', 'panel tower.right']);
  });

  it('is seen from the left and the right wall as from the back', () => {
    const left = fixture('panel', 'left', [20, 34], [40, 70]);
    // Facing the left wall its left end is at the front: 20 to 34 in along are 60 - 34 = 26 to 40 in from the back wall.
    // A shelf on the back wall 28 in deep, from 10 in on along it, is before it and 10 in out.
    const over = shelf('back.deep', 50, { x: [10, 40], depth: 28 });
    const told = only(found({ fixtures: [left], fittings: [over] }), 'panel-working-space');
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(10) } });
    expect(
      ids(found({ fixtures: [left], fittings: [shelf('back.deep', 50, { x: [36, 60], depth: 28 })] })),
    ).not.toContain('panel-working-space');
    const right = fixture('panel', 'right', [26, 40], [40, 70]);
    const mirrored = shelf('back.deep', 50, { x: [56, 86], depth: 28 });
    expect(only(found({ fixtures: [right], fittings: [mirrored] }), 'panel-working-space').comparison).toMatchObject({
      measured: { ticks: inches(10) },
    });
  });

  it('asks for the height, from memory, only where a policy does', () => {
    const low = shelf('tower.low', 10, { x: [45, 60] });
    expect(ids(found({ fixtures: [own], fittings: [low] }))).toEqual(['panel-in-clothes-closet']);
    const asks = { policy: [{}, { 'panel-working-height': 'note' as const }] as Parameters<typeof policy> };
    expect(ids(found({ fixtures: [own], fittings: [low], ...asks }))).toContain('panel-working-height');
    // 78 in and above is out of it.
    expect(ids(found({ fixtures: [own], fittings: [shelf('tower.top', 78, { x: [45, 60] })], ...asks }))).not.toContain(
      'panel-working-height',
    );
  });
});

describe('an attic hatch', () => {
  // 30 in along the back wall by 24 in out from it, 4 in off it.
  const hatch = fixture('hatch', undefined, [30, 60], [4, 28]);

  it('leaves 22 by 30 in over what stands below it, to the tick', () => {
    // A shelf 6 in deep covers 2 of the 24 in.
    const below = shelf('tower.top', 84, { x: [0, 96], depth: 6 });
    expect(found({ fixtures: [hatch], fittings: [below] })).toEqual([]);
    const deeper = { ...below, box: { ...below.box, y: [inches(0), add(inches(6), TICK)] as const } };
    const told = only(found({ fixtures: [hatch], fittings: [deeper] }), 'hatch-covered');
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(22) - TICK }, limit: { ticks: inches(22) } });
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['shelf tower.top']);
  });

  it('may be covered whole', () => {
    const all = shelf('tower.top', 20, { x: [0, 96], depth: 30 });
    expect(only(found({ fixtures: [hatch], fittings: [all] }), 'hatch-covered').message).toBe(
      'What stands below the hatch on the ceiling leaves nothing of it free; 22in by 30in is asked for to climb through.',
    );
  });

  it('is 22 by 30 in at least; in a wall upright', () => {
    const size = (x: number, y: number) =>
      found({ fixtures: [fixture('hatch', undefined, [30, 30 + x], [20, 20 + y])] });
    expect([size(30, 22), size(22, 30)]).toEqual([[], []]);
    expect(ids(size(30, 21.5))).toEqual(['hatch-too-small']);
    const inWall = (x: number, z: number) =>
      ids(found({ fixtures: [fixture('hatch', 'back', [30, 30 + x], [60, 60 + z])] }));
    expect(inWall(22, 30)).toEqual([]);
    expect(inWall(30, 22)).toEqual(['hatch-too-small']);
    const told = only(size(30, 21.5), 'hatch-too-small');
    expect(told.message).toBe('The hatch on the ceiling is 30in by 21-1/2in; 22in by 30in is asked for.');
  });
});

describe('outlets and switches', () => {
  // NEC 210.52, from memory: an outlet in a closet is neither asked for nor barred.
  it('are not looked at', () => {
    const all = [fixture('outlet', 'back', [40, 43], [14, 19]), fixture('switch', 'left', [10, 13], [40, 45])];
    expect(found({ fixtures: all })).toEqual([]);
  });
});
