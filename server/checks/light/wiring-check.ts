/** Electrical panels: whether there may be one, and room to work before it. */
import { type Finding, finding, type Related } from '../../model/finding.ts';
import type { Box, FittingLayout, FixtureLayout } from '../../model/layout.ts';
import type { Rule } from '../../model/rule.ts';
import { showLength } from '../../model/show.ts';
import { greatest, NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { closetOf, facingBox, isSide } from '../access/closet.ts';
import type { CheckInput } from '../check.ts';
import { capital, compared, fittingsOf, fromTemplate, nameOf, relatedLimit, setBy, wallName } from '../say.ts';
import { lightLimit } from './limits.ts';
import { rodsOf } from './nearest-storage.ts';
import { panelInCloset, panelWorkingHeight, panelWorkingSpace } from './rules.ts';
import { workingRoom, workingSpace } from './working-space.ts';

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
  const closet = closetOf(layout);
  const things: { fitting: FittingLayout; box: Box }[] = [];
  for (const fitting of fittingsOf(layout)) {
    const box =
      fitting.wall === wall.name
        ? fitting.box
        : !('needs' in closet) && isSide(wall.name)
          ? facingBox(fitting, wall.name, closet)
          : undefined;
    if (box) things.push({ fitting, box });
    else {
      const needs = `the place of ${nameOf(fitting)} as seen from ${wallName(wall.name)}`;
      record?.lacks({ rule: panelWorkingSpace, about: panel.name, place: panel.place, needs });
    }
  }
  const found = compare(panelWorkingSpace, panel, things, wall.length, panel.box.z, input);
  if (policy.severities.has(panelWorkingHeight.id)) {
    const all = [NONE, greatest(workingSpace.high, panel.box.z[1])] as const;
    // What stands at the height of the panel has been said.
    const others = things.filter(({ box: { z } }) => z[1] <= panel.box.z[0] || panel.box.z[1] <= z[0]);
    return [...found, ...compare(panelWorkingHeight, panel, others, wall.length, all, input)];
  }
  record?.lacks({
    rule: panelWorkingHeight,
    about: panel.name,
    place: panel.place,
    needs: 'a policy that names the rule: it is from memory',
  });
  return found;
}

function compare(
  rule: Rule,
  panel: FixtureLayout,
  things: readonly { readonly fitting: FittingLayout; readonly box: Box }[],
  wall: Ticks,
  heights: readonly [Ticks, Ticks],
  { policy, record, show }: CheckInput,
): Finding[] {
  const length = (amount: Ticks) => showLength(amount, show);
  const [before, beside] = [
    lightLimit(policy, 'before-electrical-panel'),
    lightLimit(policy, 'beside-electrical-panel'),
  ];
  const deep = before.least ?? NONE;
  const wide = greatest(beside.least ?? NONE, subtract(panel.box.x[1], panel.box.x[0]));
  const room = workingRoom(
    panel.box,
    things.map(({ box }) => box),
    wall,
    heights,
    deep,
  );
  const about = { rule, about: panel.name, place: panel.place };
  const found: Finding[] = [];
  const inTheWay = (...indices: (number | undefined)[]): Related[] =>
    indices.flatMap((i) => {
      const fitting = i === undefined ? undefined : things[i]?.fitting;
      return fitting ? [{ place: fitting.place, message: `${capital(nameOf(fitting))} stands here.` }] : [];
    });
  const say = (message: string, advice: string, related: Related[], comparison: Finding['comparison']) =>
    found.push(
      finding(rule, panel.place, message, {
        about: panel.name,
        causes: fromTemplate,
        advice,
        related,
        ...(comparison && { comparison }),
      }),
    );
  const out = room.deep;
  if (out !== undefined) {
    const comparison = compared(`room out from ${panelName(panel)}`, out, 'at least', deep);
    record?.looked({ ...about, comparison, holds: out >= deep });
    const fitting = room.before === undefined ? undefined : things[room.before]?.fitting;
    if (out < deep && fitting) {
      say(
        `${capital(nameOf(fitting))} stands ${length(out)} out from ${panelName(panel)}; ${setBy(before)} asks for ${length(deep)} of room to work before it.`,
        `Take it away from there, or have the panel moved by a licensed electrician.`,
        [...inTheWay(room.before), ...relatedLimit(before, `The room is set here: at least ${length(deep)}.`)],
        comparison,
      );
    }
  }
  const comparison = compared(`width that is free before ${panelName(panel)}`, room.wide, 'at least', wide);
  record?.looked({ ...about, comparison, holds: room.wide >= wide });
  if (room.wide < wide) {
    say(
      `${length(room.wide)} of width is free before ${panelName(panel)}; ${wide === beside.least ? setBy(beside) : 'its own width'} asks for ${length(wide)} to work before it.`,
      `Give it ${length(subtract(wide, room.wide))} more, on either side.`,
      [...inTheWay(room.left, room.right), ...relatedLimit(beside, 'The width is set here.')],
      comparison,
    );
  }
  return found;
}
