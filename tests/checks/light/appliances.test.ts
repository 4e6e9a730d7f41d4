/** Appliances among what is stored, the room before them, and the number of sprinkler heads. Numbers are worked out beside each case. */
import { describe, expect, it } from 'vitest';
import type { CheckInput, Lacked, Looked } from '../../../server/checks/check.ts';
import { lightCheck } from '../../../server/checks/light/light.ts';
import type { Burns, FittingLayout, FixtureLayout, WallLayout } from '../../../server/model/layout.ts';
import { type Building, noDemands } from '../../../server/model/materials.ts';
import { add, inches, subtract, type Ticks } from '../../../server/model/ticks.ts';
import { projectOf } from '../../model/support.ts';
import {
  fixture,
  ids,
  input,
  layout,
  only,
  opening,
  place,
  policy,
  shelf,
  standsOn,
  TICK,
  walkIn,
  wall,
} from '../layouts.ts';

interface Given {
  readonly fixtures?: readonly FixtureLayout[];
  readonly fittings?: readonly FittingLayout[];
  readonly walls?: readonly WallLayout[];
  readonly building?: Building;
  readonly policy?: Parameters<typeof policy>;
}

function asked({ fixtures = [], fittings = [], walls = walkIn, building, policy: given = [] }: Given): CheckInput {
  const demands = building
    ? { ...noDemands, building: { value: building, place: place('building'), policy: 'house-rules' } }
    : noDemands;
  const openings = [opening('door', 'front', 30, 36, 80)];
  return input(layout(fittings, { fixtures, walls, openings }), { ...policy(...given), demands });
}

const found = (given: Given) => lightCheck.run(asked(given));

function recorded(given: Given): { looked: Looked[]; lacked: Lacked[] } {
  const looked: Looked[] = [];
  const lacked: Lacked[] = [];
  const record = { looked: (l: Looked) => void looked.push(l), lacks: (l: Lacked) => void lacked.push(l) };
  lightCheck.run({ ...asked(given), record });
  return { looked, lacked };
}

/** On the back wall, 24 in wide from 40 in along it, 60 in high and 20 in deep. */
function heater(burns?: Omit<Burns, 'place'>, heats?: 'water' | 'air'): FixtureLayout {
  const flat = fixture('appliance', 'back', [40, 64], [0, 60]);
  return {
    ...flat,
    depth: inches(20),
    box: { ...flat.box, y: [inches(0), inches(20)] },
    ...(burns && { burns: { ...burns, place: place('burns') } }),
    ...(heats && { heats: { what: heats, place: place('heats') } }),
  };
}

const gas = { fuel: 'gas', kept: undefined } as const;
const directVent = { fuel: 'gas', kept: 'direct-vent' } as const;

describe('an appliance', () => {
  const high = shelf('tower.high', 80, { x: [0, 96] });

  it('that burns gas stands where things are stored only where it takes its air from outdoors', () => {
    const told = only(found({ fixtures: [heater(gas, 'air')], fittings: [high] }), 'appliance-among-storage');
    expect(told).toMatchObject({ severity: 'warning', about: 'appliance' });
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['burns', 'shelf tower.high']);
    expect(told.message).toContain('The appliance on the back wall burns gas');
    expect(found({ fixtures: [heater(directVent, 'air')], fittings: [high] })).toEqual([]);
    expect(found({ fixtures: [heater({ fuel: 'gas', kept: 'enclosed' }, 'air')], fittings: [high] })).toEqual([]);
  });

  it('that heats water with a flame never does, and one that burns nothing always', () => {
    expect(ids(found({ fixtures: [heater(directVent, 'water')], fittings: [high] }))).toEqual([
      'appliance-among-storage',
    ]);
    expect(found({ fixtures: [heater({ fuel: 'nothing', kept: undefined }, 'water')], fittings: [high] })).toEqual([]);
  });

  it('may burn gas where nothing is stored', () => {
    expect(found({ fixtures: [heater(gas, 'water')] })).toEqual([]);
  });

  it('lacks what nothing says', () => {
    const needs = (...given: Parameters<typeof heater>) =>
      recorded({ fixtures: [heater(...given)], fittings: [high] }).lacked.map((l) => l.needs);
    expect(needs()).toEqual(['what the appliance on the back wall burns: `burns gas direct-vent`']);
    expect(needs(directVent)).toEqual(['what the appliance on the back wall heats: `heats water`']);
    expect(needs(directVent, 'air')).toEqual([]);
    const { depth: _, ...flat } = heater(gas);
    expect(recorded({ fixtures: [flat] }).lacked.map((l) => l.needs)).toEqual([
      'how far the appliance on the back wall stands out: `depth 24in`',
    ]);
  });

  it('has 30 in of room before its face, to the tick', () => {
    // The closet is 60 in deep: 60 - 20 = 40 in before its face, and 10 in of shelf on the front wall leave 30.
    const own = heater(directVent, 'air');
    const across = shelf('far.one', 40, { wall: 'front', x: [40, 60], depth: 10 });
    expect(found({ fixtures: [own], fittings: [across] })).toEqual([]);
    const [from, to] = across.box.y;
    const deeper = { ...across, box: { ...across.box, y: [from, add(to, TICK)] as const } };
    const told = only(found({ fixtures: [own], fittings: [deeper] }), 'appliance-service-space');
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(30) - TICK }, limit: { ticks: inches(30) } });
    const limits = { 'before-appliance': { least: 24 }, 'beside-appliance': { least: 24 } };
    expect(found({ fixtures: [own], fittings: [deeper], policy: [limits] })).toEqual([]);
    // Over its top, at 60 in, nothing is asked for.
    expect(found({ fixtures: [own], fittings: [shelf('far.one', 60, { wall: 'front', depth: 30 })] })).toEqual([]);
  });
});

describe('a closet without a sprinkler head', () => {
  // 4 by 6 ft, 24 square feet.
  const square = (length: Ticks): readonly WallLayout[] =>
    [wall('left', 48), wall('back', 72), wall('right', 48), wall('front', 72)].map((w) =>
      w.name === 'back' || w.name === 'front' ? { ...w, length } : w,
    );
  const hotel = { kind: 'hotel', sprinklered: true } as const;

  it('is asked about only where a policy says that the building has sprinklers', () => {
    expect(recorded({})).toEqual({ looked: [], lacked: [] });
    expect(recorded({ building: { kind: 'flats', sprinklered: false } })).toEqual({ looked: [], lacked: [] });
  });

  it('is noted in flats, whatever its size', () => {
    const told = only(found({ building: { kind: 'flats', sprinklered: true } }), 'closet-without-head');
    expect(told.severity).toBe('note');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['building']);
    const head = fixture('sprinkler', undefined, [40, 43], [6, 9]);
    expect(found({ building: { kind: 'flats', sprinklered: true }, fixtures: [head] })).toEqual([]);
  });

  it('is noted in a hotel over 24 square feet, to the tick', () => {
    expect(found({ building: hotel, walls: square(inches(72)) })).toEqual([]);
    expect(recorded({ building: hotel, walls: square(inches(72)) }).lacked.map(({ needs }) => needs)).toEqual([
      'whether its walls and its ceiling do not burn',
    ]);
    const told = only(found({ building: hotel, walls: square(add(inches(72), TICK)) }), 'closet-without-head');
    expect(told.comparison).toMatchObject({ measured: { amount: 24.001, unit: 'ft2' }, limit: { amount: 24 } });
    expect(recorded({ building: hotel, walls: [wall('back', 72)] }).lacked.map(({ needs }) => needs)).toEqual([
      'the width and the depth of the closet',
    ]);
  });

  it('is asked about in a house, from memory, only where a policy names the rule', () => {
    const house = { kind: 'house', sprinklered: true } as const;
    expect(found({ building: house })).toEqual([]);
    expect(recorded({ building: house }).lacked.map(({ needs }) => needs)).toEqual([
      'a policy that names the rule: it is from memory',
    ]);
    const asks = { policy: [{}, { 'house-closet-without-head': 'note' as const }] as Parameters<typeof policy> };
    // 24 square feet, but 48 in on its shorter side.
    const told = only(found({ building: house, walls: square(inches(72)), ...asks }), 'house-closet-without-head');
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(48) }, limit: { ticks: inches(36) } });
  });
});

describe('a closet with one sprinkler head', () => {
  const head = fixture('sprinkler', undefined, [40, 43], [6, 9]);
  // 5 by 8 ft and 10 ft high are 400 cubic feet.
  const tall = (height: Ticks) => walkIn.map((w) => ({ ...w, height }));

  it('is noted over 400 cubic feet, to the tick', () => {
    expect(found({ fixtures: [head], walls: tall(inches(120)) })).toEqual([]);
    const over = { fixtures: [head], walls: tall(add(inches(120), TICK)) };
    expect(only(found(over), 'large-closet-one-head').comparison).toMatchObject({
      measured: { amount: 400.001, unit: 'ft3' },
      limit: { amount: 400, unit: 'ft3' },
    });
    const two = { ...head, name: 'second' };
    expect(found({ ...over, fixtures: [head, two] })).toEqual([]);
    expect(found({ fixtures: [head], walls: tall(subtract(inches(120), TICK)) })).toEqual([]);
  });
});

describe('a closet as it is written', () => {
  it('has its appliance, its head and its building compared', () => {
    const project = projectOf(`policy house-rules { building flats sprinklered }
template boiler {
  board white-12
  wall left { length 30in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 30in; height 96in }
  opening front { width 48in; height 80in }
  fixture appliance boiler on left { from right 12in; height 30in; size 20in by 60in; depth 10in; burns gas; heats water }
  zone shelf on back from right 0in { width 24in; shelf high { at 84in } }
}
unit u boiler { policy house-rules }
`);
    const own = project.findings().filter(({ rule }) => rule.family === 'light');
    expect(ids(own).sort()).toEqual(['appliance-among-storage', 'closet-without-head']);
  });
});
