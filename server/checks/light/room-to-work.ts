/** Room to work before something on a wall: how far out from it, and how wide, it is free. */
import { type Finding, type Fix, finding, type Related } from '../../model/finding.ts';
import type { Box, FittingLayout, FixtureLayout } from '../../model/layout.ts';
import type { Limit } from '../../model/materials.ts';
import type { Rule } from '../../model/rule.ts';
import { showLength } from '../../model/show.ts';
import { NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { closetOf, facingBox, isSide } from '../access/closet.ts';
import type { CheckInput } from '../check.ts';
import { capital, compared, fittingsOf, fromTemplate, nameOf, relatedLimit, setBy, verb } from '../say.ts';
import { writeLength } from '../swings/fixes.ts';
import { workingRoom, workingWidth } from './working-space.ts';

export interface RoomAsked {
  readonly rule: Rule;
  readonly fixture: FixtureLayout;
  /** As people read it: `the electrical panel on the back wall`. */
  readonly name: string;
  /** What stands between them is compared. */
  readonly heights: readonly [Ticks, Ticks];
  /** Room out from it, and width that is free before it. */
  readonly before: Limit;
  readonly beside: Limit;
  /** What else can be done than taking away what stands there. */
  readonly otherwise: string;
}

export interface Thing {
  readonly fitting: FittingLayout;
  /** In the frame of the fixture's wall. */
  readonly box: Box;
}

/** Every fitting as seen from a wall; what has no place there is recorded as lacking. */
export function seenFrom(wall: string, { rule, fixture }: Pick<RoomAsked, 'rule' | 'fixture'>, input: CheckInput) {
  const { layout, record } = input;
  const closet = closetOf(layout);
  const things: Thing[] = [];
  for (const fitting of fittingsOf(layout)) {
    const box =
      fitting.wall === wall
        ? fitting.box
        : !('needs' in closet) && isSide(wall)
          ? facingBox(fitting, wall, closet)
          : undefined;
    if (box) things.push({ fitting, box });
    else {
      const needs = `the place of ${nameOf(fitting)} as seen from the wall of "${fixture.name}"`;
      record?.lacks({ rule, about: fixture.name, place: fixture.place, needs });
    }
  }
  return things;
}

/** `along` is the length of the wall. */
export function roomToWork(asked: RoomAsked, things: readonly Thing[], along: Ticks, input: CheckInput): Finding[] {
  const { rule, fixture, name, heights, before, beside, otherwise } = asked;
  const length = (amount: Ticks) => showLength(amount, input.show);
  const deep = before.least ?? NONE;
  const wide = workingWidth(fixture.box, beside.least ?? NONE);
  const boxes = things.map(({ box }) => box);
  const room = workingRoom(fixture.box, boxes, along, heights, deep);
  const about = { rule, about: fixture.name, place: fixture.place };
  const found: Finding[] = [];
  const inTheWay = (...indices: (number | undefined)[]): Related[] =>
    indices.flatMap((i) => {
      const fitting = i === undefined ? undefined : things[i]?.fitting;
      return fitting
        ? [{ place: fitting.place, message: `${capital(nameOf(fitting))} ${verb(fitting, 'stands', 'stand')} here.` }]
        : [];
    });
  const say = (
    message: string,
    advice: string,
    related: Related[],
    comparison: Finding['comparison'],
    fixes: readonly Fix[] = [],
  ) =>
    found.push(
      finding(rule, fixture.place, message, {
        about: fixture.name,
        causes: fromTemplate,
        advice,
        related,
        fixes,
        ...(comparison && { comparison }),
      }),
    );
  const out = room.deep;
  if (out !== undefined) {
    const comparison = compared(`room out from ${name}`, out, 'at least', deep);
    input.record?.looked({ ...about, comparison, holds: out >= deep });
    const fitting = room.before === undefined ? undefined : things[room.before]?.fitting;
    if (out < deep && fitting) {
      say(
        `${capital(nameOf(fitting))} ${verb(fitting, 'stands', 'stand')} ${length(out)} out from ${name}; ${setBy(before)} asks for ${length(deep)} of room to work before it.`,
        `Take it away from there, or ${otherwise}.`,
        [...inTheWay(room.before), ...relatedLimit(before, `The room is set here: at least ${length(deep)}.`)],
        comparison,
        fitting.wall === fixture.wall ? [] : lessDeep(fitting, subtract(deep, out), input),
      );
    }
  }
  const comparison = compared(`width that is free before ${name}`, room.wide, 'at least', wide);
  input.record?.looked({ ...about, comparison, holds: room.wide >= wide });
  if (room.wide < wide) {
    say(
      `${length(room.wide)} of width is free before ${name}; ${wide === beside.least ? setBy(beside) : 'its own width'} asks for ${length(wide)} to work before it.`,
      `Give it ${length(subtract(wide, room.wide))} more, on either side.`,
      [...inTheWay(room.left, room.right), ...relatedLimit(beside, 'The width is set here.')],
      comparison,
    );
  }
  return found;
}

/** What stands across from it reaches less far out from its own wall. */
function lessDeep(fitting: FittingLayout, by: Ticks, { show }: CheckInput): Fix[] {
  if (fitting.kind === 'rod') return [];
  const depth = subtract(fitting.box.y[1], fitting.box.y[0]);
  return writeLength(fitting, 'depth', depth, subtract(depth, by), 'down', show);
}
