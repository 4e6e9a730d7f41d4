/** Electrical panels: whether there may be one, and room to work before it. */
import { type Finding, finding } from '../../model/finding.ts';
import type { FixtureLayout } from '../../model/layout.ts';
import { greatest, NONE } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import { capital, fromTemplate, wallName } from '../say.ts';
import { lightLimit } from './limits.ts';
import { rodsOf } from './nearest-storage.ts';
import { roomToWork, seenFrom } from './room-to-work.ts';
import { panelInCloset, panelWorkingHeight, panelWorkingSpace } from './rules.ts';
import { workingSpace } from './working-space.ts';

export function panels(input: CheckInput): Finding[] {
  return input.layout.fixtures
    .filter(({ kind }) => kind === 'panel')
    .flatMap((panel) => [...inCloset(panel, input), ...working(panel, input)]);
}

function panelName({ name, kind, wall }: FixtureLayout): string {
  const on = wall === undefined ? 'the ceiling' : wallName(wall);
  return `${name === kind ? 'the electrical panel' : `electrical panel "${name}"`} on ${on}`;
}

function inCloset(panel: FixtureLayout, { layout, record }: CheckInput): Finding[] {
  const isForClothes = rodsOf(layout).length > 0;
  const comparison = {
    what: 'electrical panels in the closet',
    measured: { count: 1 },
    relation: 'at most' as const,
    limit: { count: 0 },
  };
  record?.looked({ rule: panelInCloset, about: panel.name, place: panel.place, comparison, holds: false });
  return [
    finding(
      panelInCloset,
      panel.place,
      `${capital(panelName(panel))} is in a ${isForClothes ? 'clothes closet' : 'closet'}; panels are to be away from what burns easily, such as clothes in closets.`,
      {
        ...(isForClothes ? {} : { severity: 'note' }),
        about: panel.name,
        causes: fromTemplate,
        advice:
          'Ask a licensed electrician what the local code says before anything is built round it. Do not hide it.',
        comparison,
      },
    ),
  ];
}

function working(panel: FixtureLayout, input: CheckInput): Finding[] {
  const { layout, policy, record } = input;
  const wall = layout.walls.find(({ name }) => name === panel.wall);
  if (!wall) return [];
  const asked = {
    rule: panelWorkingSpace,
    fixture: panel,
    name: panelName(panel),
    heights: panel.box.z,
    before: lightLimit(policy, 'before-electrical-panel'),
    beside: lightLimit(policy, 'beside-electrical-panel'),
    otherwise: 'have the panel moved by a licensed electrician',
  };
  const things = seenFrom(wall.name, asked, input);
  const found = roomToWork(asked, things, wall.length, input);
  if (policy.severities.has(panelWorkingHeight.id)) {
    const heights = [NONE, greatest(workingSpace.high, panel.box.z[1])] as const;
    // What stands at the height of the panel has been said.
    const others = things.filter(({ box: { z } }) => z[1] <= panel.box.z[0] || panel.box.z[1] <= z[0]);
    return [...found, ...roomToWork({ ...asked, rule: panelWorkingHeight, heights }, others, wall.length, input)];
  }
  record?.lacks({
    rule: panelWorkingHeight,
    about: panel.name,
    place: panel.place,
    needs: 'a policy that names the rule: it is from memory',
  });
  return found;
}
