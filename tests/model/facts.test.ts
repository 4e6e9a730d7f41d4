/** What is said of openings, fixtures, drawers, panels, people and buildings, as the layout and the policy have it. */
import { describe, expect, it } from 'vitest';
import { projectOf } from './support.ts';

const text = (body: string, unit = ''): string => `policy rules { building flats sprinklered }
policy later { building hotel }
template t {
  board white-12
  wall left { length 25in; height 96in }
  wall back { length 94in; height 96in }
${body}
}
unit u t { policy rules${unit} }
`;

function made(given: string) {
  const project = projectOf(given);
  const [unit] = [...project.units()];
  if (!unit?.resolved) throw new Error('a layout was expected');
  return { layout: unit.resolved.layout, policy: unit.policy, project };
}

const inch = 1_016_000;

describe('an opening', () => {
  it('says from where one comes to it, and what its leaf is pulled by', () => {
    const { layout } = made(
      text('  opening front { width 60in; height 80in; swing out; approach hinge-side; pull knob at 38in }'),
    );
    expect(layout.openings[0]).toMatchObject({
      approach: { from: 'hinge' },
      pull: { kind: 'knob', at: 38 * inch },
    });
    const { layout: bare } = made(text('  opening front { width 60in; height 80in; pull bar }'));
    expect(bare.openings[0]?.approach).toBeUndefined();
    expect(bare.openings[0]?.pull).not.toHaveProperty('at');
  });

  it('can be changed in a unit', () => {
    const { layout } = made(
      text('  opening front { width 60in; height 80in; pull knob }', '; override front { pull loop at 40in }'),
    );
    expect(layout.openings[0]?.pull).toMatchObject({ kind: 'loop', at: 40 * inch });
  });
});

describe('a fixture', () => {
  it('stands out from its wall, and hangs down from the ceiling, as far as it says', () => {
    const { layout } = made(
      text(`  fixture sprinkler on ceiling { from left 40in; from back 12in; depth 2in }
  fixture panel on back { from left 20in; height 50in; depth 4in }
  fixture outlet on back { from left 60in; height 16in }`),
    );
    const [head, panel, outlet] = layout.fixtures;
    expect(head?.box.z).toEqual([94 * inch, 96 * inch]);
    expect(panel?.box.y).toEqual([0, 4 * inch]);
    expect(outlet?.box.y).toEqual([0, 0]);
    expect(layout.fixtures.map(({ depth }) => depth)).toEqual([2 * inch, 4 * inch, undefined]);
  });

  it('that is an appliance says what it burns and heats', () => {
    const { layout } = made(
      text('  fixture appliance boiler on left { from left 12in; height 30in; burns gas enclosed; heats water }'),
    );
    expect(layout.fixtures[0]).toMatchObject({
      kind: 'appliance',
      name: 'boiler',
      burns: { fuel: 'gas', kept: 'enclosed' },
      heats: { what: 'water' },
    });
  });
});

describe('a template', () => {
  it('says how many people use it, by a number or a parameter', () => {
    expect(made(text('  persons 2')).layout.persons?.count).toBe(2);
    const { layout } = made(text('  parameter people: count = 1\n  persons people * 2', '; people 3'));
    expect(layout.persons?.count).toBe(6);
    expect(made(text('')).layout.persons).toBeUndefined();
  });

  it('says which tower stands free, and what drawers are pulled by', () => {
    const { layout } = made(
      text(`  zone tower on back {
    width 24in
    panels { height 80in; depth 14in; free-standing }
    drawers chest { at 4in; height 8in; depth 14in; pull edge }
  }`),
    );
    const fittings = layout.zones[0]?.fittings ?? [];
    expect(fittings.map((f) => (f.kind === 'panel' ? f.freeStanding : f.kind))).toEqual([true, true, 'drawers']);
    expect(fittings.find((f) => f.kind === 'drawers')?.pull?.kind).toBe('edge');
  });
});

describe('a policy', () => {
  it('says what the building is; a later one replaces it', () => {
    expect(made(text('')).policy?.demands.building?.value).toEqual({ kind: 'flats', sprinklered: true });
    const { policy } = made(text('').replace('policy rules }', 'policy rules, later }'));
    expect(policy?.demands.building).toMatchObject({ value: { kind: 'hotel', sprinklered: false }, policy: 'later' });
  });
});
