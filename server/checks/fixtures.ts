/** What stands in front of, or too near, something in the wall or ceiling that has to stay free. */

import { gapFix } from '../model/edits.ts';
import { examplesIn } from '../model/examples.ts';
import type { Comparison, Finding, Fix } from '../model/finding.ts';
import { finding } from '../model/finding.ts';
import type { Box, FittingLayout, FixtureKind, FixtureLayout } from '../model/layout.ts';
import type { Rule } from '../model/rule.ts';
import { showLength } from '../model/show.ts';
import { add, greatest, NONE, subtract, type Ticks, ticks } from '../model/ticks.ts';
import { clearOfHeights } from './access/fixes.ts';
import { type Check, type CheckInput, lacks, looked, passesUnheard } from './check.ts';
import { fixtureName } from './fixture-name.ts';
import { gaps, inOneFrame, overlapping, type Room, roomOf, type Standing } from './room.ts';
import { about, capital, compared, fittingsOf, fromTemplate, nameOf, verb } from './say.ts';

const localCode = 'check the local code';

/** What goes wrong when it is covered, and who is to be asked. Undefined where nobody gets hurt. */
export const fixtureCautions: Readonly<Record<FixtureKind, string | undefined>> = {
  outlet: `Wiring is work for a licensed electrician; ${localCode} before an outlet is covered or moved.`,
  switch: `Wiring is work for a licensed electrician; ${localCode} before a switch is covered or moved.`,
  panel: `Room to work has to stay free in front of an electrical panel, and many codes do not allow one in a clothes closet at all: ${localCode} and ask a licensed electrician.`,
  vent: `A covered vent can starve a room or an appliance of air: ${localCode} before anything stands in front of one.`,
  sprinkler: `A sprinkler that sprays against a shelf does not reach the fire: check the local fire code, and leave the sprinkler to a licensed contractor.`,
  light: `Things stored near a lamp can catch fire. How far off they have to stay depends on the kind of lamp: ${localCode} and ask a licensed electrician.`,
  hatch: `An attic hatch has to open, with room for a ladder and for the person on it: ${localCode}.`,
  appliance: `An appliance that burns something can set stored things on fire and foul the air, and it has to be got at: ${localCode}, follow its maker, and leave it to a licensed trade.`,
  baseboard: undefined,
};

export const fittingBeforeFixture: Rule = {
  id: 'fitting-before-fixture',
  family: 'fixtures',
  title: 'A fitting stands before something that has to stay free',
  explanation:
    'A shelf, rod or panel covers an outlet, switch, panel, vent, sprinkler, light, hatch or appliance, or comes nearer to it than the clear distance that the fixture gives. ' +
    'The clear distance is kept on all sides and in front. That nothing is reported means only that these numbers were compared; it does not stand for what the local code asks.',
  severity: 'warning',
  source: { kind: 'common-practice' },
  comparison:
    'room between the fitting and the fixture, on the side where there is most >= clear distance of the fixture',
  caution:
    'Electricity, fire and air are at stake: check the local code, leave wiring to a licensed electrician and sprinklers to a licensed contractor, and keep attic hatches and electrical panels accessible.',
};

export const fittingAtBaseboard: Rule = {
  id: 'fitting-at-baseboard',
  family: 'fixtures',
  title: 'A fitting meets the baseboard',
  explanation:
    'A panel or shelf stands where the baseboard runs. Notch the panel round it, or cut the baseboard back, before the part is fixed.',
  severity: 'note',
  source: { kind: 'common-practice' },
  comparison: 'room between the fitting and the baseboard >= clear distance of the baseboard',
  caution: 'Old baseboard may carry lead paint: check the local rules before it is cut or sanded.',
};

export const fixtureWithoutClear: Rule = {
  id: 'fixture-without-clear',
  family: 'fixtures',
  title: 'A light says neither its lamp nor how much is to be kept free',
  explanation:
    'A light in a closet needs free room, and how much depends on its lamp and on the local code, so the tool does not make a number up. ' +
    'Until the fixture says what it is (`lamp surface led enclosed`) or how far off things have to stay (`clear 12in`), only the light itself is kept free.',
  severity: 'note',
  source: { kind: 'language' },
  caution: 'The clear distance of a light comes from the local code: ask a licensed electrician, not this tool.',
};

export const fixtureCheck: Check = {
  rules: [fittingBeforeFixture, fittingAtBaseboard, fixtureWithoutClear],
  run: (input) => [...beforeFixtures(input), ...withoutClear(input)],
};

function beforeFixtures(input: CheckInput): Finding[] {
  const { layout } = input;
  const room = roomOf(layout);
  const found: Finding[] = [];
  for (const fixture of layout.fixtures) {
    const thick = { wall: fixture.wall, box: withThickness(fixture) };
    for (const fitting of fittingsOf(layout)) {
      const distance = freeRoom(fitting, fixture, thick, room);
      if (distance === undefined || passesUnheard(input, distance.needed >= 0)) continue;
      const rule = fixture.kind === 'baseboard' ? fittingAtBaseboard : fittingBeforeFixture;
      if (looked(input, rule, fitting, roomBetween(fitting, fixture, distance.between), distance.needed >= 0)) continue;
      found.push(before(fitting, fixture, distance.between, input, movedFrom(fitting, fixture, thick, input, room)));
    }
  }
  return found;
}

/**
 * `between` is the room on the axis that has most of it, negative where the fitting covers the
 * fixture; `needed` is the same with the clear distance taken off. Undefined where their walls have
 * no common frame.
 */
function freeRoom(
  fitting: FittingLayout,
  fixture: FixtureLayout,
  thick: Standing,
  room: Room,
): { readonly between: Ticks; readonly needed: Ticks } | undefined {
  const boxes = inOneFrame(fitting, fixture, room);
  if (!boxes) return undefined;
  const measured = (between: Ticks) => ({ between, needed: subtract(between, fixture.clear) });
  const apart = gaps(...boxes);
  const between = greatest(apart.x, apart.y, apart.z);
  // Farther apart than the fixture is thick.
  if (between > 1) return measured(between);
  const met = inOneFrame(fitting, thick, room);
  if (!met) return undefined;
  if (!overlapping(...met)) return measured(between);
  // Covered: say by how much along the wall or in height, where one move or the other uncovers it.
  const { x, y, z } = gaps(...met);
  return measured(fitting.wall === fixture.wall ? greatest(x, z) : greatest(x, y, z));
}

/** A fixture in the wall or ceiling is flat, and what touches its face covers it: one tick tells the two sides apart. */
function withThickness({ wall, box }: FixtureLayout): Box {
  const thick = ([from, to]: Box['x']): Box['x'] => [from, greatest(to, add(from, ticks(1)))];
  return wall === undefined ? { ...box, z: thick(box.z) } : { ...box, y: thick(box.y) };
}

/** What has nothing over it and below it but what it says. Before the others codes ask for more than was compared. */
const clearedByHeight: ReadonlySet<FixtureKind> = new Set(['outlet', 'switch', 'vent', 'baseboard']);

function movedFrom(
  fitting: FittingLayout,
  { kind, clear }: FixtureLayout,
  thick: Standing,
  input: CheckInput,
  room: Room,
): Fix[] {
  const [, other] = inOneFrame(fitting, thick, room) ?? [];
  return other && clearedByHeight.has(kind)
    ? clearOfHeights(fitting, [subtract(other.z[0], clear), add(other.z[1], clear)], input)
    : [];
}

function before(
  fitting: FittingLayout,
  fixture: FixtureLayout,
  between: Ticks,
  { show }: CheckInput,
  fixes: readonly Fix[],
): Finding {
  const name = fixtureName(fixture);
  const caution = fixtureCautions[fixture.kind];
  const away = showLength(subtract(fixture.clear, between), show);
  const isBaseboard = fixture.kind === 'baseboard';
  const said =
    between < 0
      ? isBaseboard
        ? `${capital(nameOf(fitting))} ${verb(fitting, 'meets', 'meet')} ${name} by ${showLength(subtract(NONE, between), show)}.`
        : `${capital(nameOf(fitting))} ${verb(fitting, 'stands', 'stand')} in front of ${name}, ${showLength(subtract(NONE, between), show)} over its edge.`
      : `${capital(nameOf(fitting))} ${verb(fitting, 'is', 'are')} ${showLength(between, show)} from ${name}; ${showLength(fixture.clear, show)} is to be kept free around it.`;
  const way = isBaseboard
    ? 'Notch the part round the baseboard, or cut the baseboard back.'
    : `Move the ${fitting.kind} at least ${away} away from it.`;
  return about(isBaseboard ? fittingAtBaseboard : fittingBeforeFixture, fitting, fitting.place, said, {
    advice: caution ? `${way} ${caution}` : way,
    related: [{ place: fixture.place, message: `${capital(name)} is here.` }],
    comparison: roomBetween(fitting, fixture, between),
    fixes,
  });
}

function roomBetween(fitting: FittingLayout, fixture: FixtureLayout, between: Ticks): Comparison {
  return compared(`room between "${fitting.path}" and ${fixtureName(fixture)}`, between, 'at least', fixture.clear);
}

function withoutClear(input: CheckInput): Finding[] {
  const found: Finding[] = [];
  for (const fixture of input.layout.fixtures) {
    if (fixture.kind !== 'light' || fixture.lamp || fixture.clear > NONE) continue;
    const at = { path: fixture.name, place: fixture.place };
    lacks(input, fittingBeforeFixture, at, `the clear distance of ${fixtureName(fixture)}`);
    lacks(input, fixtureWithoutClear, at, `the clear distance of ${fixtureName(fixture)}`);
    found.push(
      finding(
        fixtureWithoutClear,
        fixture.place,
        `${capital(fixtureName(fixture))} says neither what lamp it has nor how much is to be kept free around it, so only the light itself was compared.`,
        {
          // What lamp it is, and what the local code asks for, is for somebody to look up.
          fixes: (['lamp', 'clear'] as const).flatMap((word) => gapFix(fixture.place.statement, word)),
          advice: `Say what it is: \`lamp surface led enclosed\`; or give the distance that the local code asks for: \`clear ${examplesIn('12in', input.show.system)}\`. ${fixtureCautions.light}`,
          about: fixture.name,
          causes: fromTemplate,
        },
      ),
    );
  }
  return found;
}
