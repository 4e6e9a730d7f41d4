/** Heaters and other appliances among what is stored, and room to get at one. */
import { examplesIn } from '../../model/examples.ts';
import { type Finding, finding } from '../../model/finding.ts';
import type { FixtureLayout } from '../../model/layout.ts';
import { NONE } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import { capital, fittingsOf, fromTemplate, nameOf, verb, wallName } from '../say.ts';
import { barredFromStorage } from './appliances.ts';
import { lightLimit } from './limits.ts';
import { roomToWork, seenFrom } from './room-to-work.ts';
import { applianceAmongStorage, applianceServiceSpace } from './rules.ts';

export function appliances(input: CheckInput): Finding[] {
  return input.layout.fixtures
    .filter(({ kind }) => kind === 'appliance')
    .flatMap((appliance) => [...amongStorage(appliance, input), ...service(appliance, input)]);
}

function applianceName({ name, kind, wall }: FixtureLayout): string {
  return `${name === kind ? 'the appliance' : `appliance "${name}"`} on ${wall === undefined ? 'the ceiling' : wallName(wall)}`;
}

function amongStorage(appliance: FixtureLayout, input: CheckInput): Finding[] {
  const { layout, record } = input;
  const about = { rule: applianceAmongStorage, about: appliance.name, place: appliance.place };
  const [stored] = fittingsOf(layout).filter(({ kind }) => kind !== 'panel');
  if (!stored) return [];
  const { burns, heats } = appliance;
  if (!burns) {
    record?.lacks({ ...about, needs: `what ${applianceName(appliance)} burns: \`burns gas direct-vent\`` });
    return [];
  }
  const barred = barredFromStorage({ ...burns, heats: heats?.what });
  if (barred === undefined) {
    record?.lacks({ ...about, needs: `what ${applianceName(appliance)} heats: \`heats water\`` });
    return [];
  }
  const comparison = {
    what: `${applianceName(appliance)} is of a kind that is barred from where things are stored`,
    measured: { count: barred ? 1 : 0 },
    relation: 'at most' as const,
    limit: { count: 0 },
  };
  record?.looked({ ...about, comparison, holds: !barred });
  if (!barred) return [];
  const isWaterHeater = heats?.what === 'water';
  const kind = isWaterHeater
    ? `heats water and burns ${burns.fuel}`
    : `burns ${burns.fuel}, and takes its air from here`;
  return [
    finding(
      applianceAmongStorage,
      appliance.place,
      `${capital(applianceName(appliance))} ${kind}; such a one may not stand in a closet in which things are stored, and ${nameOf(stored)} ${verb(stored, 'is', 'are')}.`,
      {
        about: appliance.name,
        causes: fromTemplate,
        advice: `Store nothing here, or have ${isWaterHeater ? 'a water heater elsewhere or one that burns nothing' : 'one that is direct-vent, or shut it off from the closet'}. The local code and a licensed trade decide.`,
        related: [
          { place: burns.place, message: 'What it burns is written here.' },
          { place: stored.place, message: `${capital(nameOf(stored))} ${verb(stored, 'is', 'are')} stored on, here.` },
        ],
        comparison,
      },
    ),
  ];
}

function service(appliance: FixtureLayout, input: CheckInput): Finding[] {
  const { layout, policy, record } = input;
  const wall = layout.walls.find(({ name }) => name === appliance.wall);
  const about = { rule: applianceServiceSpace, about: appliance.name, place: appliance.place };
  if (appliance.depth === undefined) {
    record?.lacks({
      ...about,
      needs: `how far ${applianceName(appliance)} stands out: \`depth ${examplesIn('24in', input.show.system)}\``,
    });
  }
  if (!wall) {
    record?.lacks({ ...about, needs: `the side from which ${applianceName(appliance)} is serviced` });
    return [];
  }
  const asked = {
    rule: applianceServiceSpace,
    fixture: appliance,
    name: applianceName(appliance),
    heights: [NONE, appliance.box.z[1]] as const,
    before: lightLimit(policy, 'before-appliance'),
    beside: lightLimit(policy, 'beside-appliance'),
    otherwise: 'have the appliance moved by a licensed trade',
  };
  return roomToWork(asked, seenFrom(wall.name, asked, input), wall.length, input);
}
