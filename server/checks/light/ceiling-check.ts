/** Sprinkler heads and attic hatches against what stands below them. */
import { examplesIn } from '../../model/examples.ts';
import { type Finding, type Fix, finding, type Related } from '../../model/finding.ts';
import type { Box, FittingLayout, FixtureLayout } from '../../model/layout.ts';
import { showLength } from '../../model/show.ts';
import { add, greatest, NONE, subtract, type Ticks, ticks } from '../../model/ticks.ts';
import { heightFixes } from '../access/fixes.ts';
import type { CheckInput } from '../check.ts';
import { gap, inOneFrame, roomOf } from '../room.ts';
import {
  about as aboutFitting,
  capital,
  compared,
  fittingsOf,
  fromTemplate,
  nameOf,
  relatedLimit,
  setBy,
  verb,
  wallName,
} from '../say.ts';
import { writeLength } from '../swings/fixes.ts';
import { freeOf, hatchSize, largeEnough, sides } from './hatch.ts';
import { belowDeflector } from './heads.ts';
import { lightLimit } from './limits.ts';
import { hatchCovered, hatchTooSmall, storageNearSprinkler } from './rules.ts';

export function heads(input: CheckInput): Finding[] {
  const { layout, policy, show, record } = input;
  const found: Finding[] = [];
  const limit = lightLimit(policy, 'clear-below-sprinkler');
  const needed = limit.least ?? NONE;
  const length = (amount: Ticks) => showLength(amount, show);
  for (const head of layout.fixtures.filter(({ kind }) => kind === 'sprinkler')) {
    const deflector = head.box.z[0];
    if (head.depth === undefined && head.wall === undefined) {
      const needs = `how far the deflector of ${nameIn(head)} hangs down: \`depth ${examplesIn('2in', show.system)}\``;
      record?.lacks({ rule: storageNearSprinkler, about: head.name, place: head.place, needs });
    }
    for (const { fitting } of below(head, input)) {
      const top = fitting.box.z[1];
      const free = belowDeflector(deflector, top);
      const comparison = compared(`from ${nameIn(head)} down to "${fitting.path}"`, free, 'at least', needed);
      record?.looked({
        rule: storageNearSprinkler,
        about: fitting.path,
        place: fitting.place,
        comparison,
        holds: free >= needed,
      });
      if (free >= needed) continue;
      const most = subtract(deflector, needed);
      const how = free < 0 ? `reaches ${length(subtract(NONE, free))} above` : `ends ${length(free)} below`;
      found.push(
        aboutFitting(
          storageNearSprinkler,
          fitting,
          fitting.place,
          `${capital(nameOf(fitting))} ${how} ${nameIn(head)}; ${setBy(limit)} asks for ${length(needed)} down to the top of what is stored there.`,
          {
            advice: `Lower it by ${length(subtract(needed, free))}, or move it from below the head; nothing on it may stand higher than ${length(most)}. The local fire code and a licensed contractor decide.`,
            related: [
              { place: head.place, message: `${capital(nameIn(head))} is here.` },
              ...relatedLimit(limit, `The distance is set here: at least ${length(needed)}.`),
            ],
            comparison,
            fixes: lower(fitting, subtract(needed, free), input),
          },
        ),
      );
    }
  }
  return found;
}

/** A panel ends lower; whatever else is there stands lower. */
function lower(fitting: FittingLayout, by: Ticks, input: CheckInput): Fix[] {
  if (fitting.kind !== 'panel') return heightFixes(fitting, { by, up: false }, input);
  const tall = subtract(fitting.box.z[1], fitting.box.z[0]);
  return writeLength(fitting, 'height', tall, subtract(tall, by), 'down', input.show);
}

function nameIn({ name, kind, wall }: FixtureLayout): string {
  const what = kind === 'sprinkler' ? 'sprinkler head' : 'hatch';
  return `${name === kind ? `the ${what}` : `${what} "${name}"`} on ${wall === undefined ? 'the ceiling' : wallName(wall)}`;
}

/** What stands straight below, or beside at the same place of the plan, with both in one frame. */
function below(
  fixture: FixtureLayout,
  { layout }: CheckInput,
): { readonly fitting: FittingLayout; readonly box: Box }[] {
  const room = roomOf(layout);
  const thick = thickened(fixture);
  return fittingsOf(layout).flatMap((fitting) => {
    const boxes = inOneFrame(fitting, { wall: fixture.wall, box: thick }, room);
    if (!boxes) return [];
    const [box, own] = boxes;
    return gap(box.x, own.x) < 0 && gap(box.y, own.y) < 0 ? [{ fitting, box }] : [];
  });
}

/** A head on a wall is flat: a tick tells what is before the wall from what is in it. */
function thickened({ wall, box }: FixtureLayout): Box {
  return wall === undefined ? box : { ...box, y: [box.y[0], greatest(box.y[1], add(box.y[0], ticks(1)))] };
}

export function hatches(input: CheckInput): Finding[] {
  return input.layout.fixtures
    .filter(({ kind }) => kind === 'hatch')
    .flatMap((hatch) => [...size(hatch, input), ...covered(hatch, input)]);
}

function sizes({ policy }: CheckInput) {
  const [short, long] = [lightLimit(policy, 'hatch-short-side'), lightLimit(policy, 'hatch-long-side')];
  return { short, long, least: { short: short.least ?? NONE, long: long.least ?? NONE } };
}

function size(hatch: FixtureLayout, input: CheckInput): Finding[] {
  const { show, record } = input;
  const { short, long, least } = sizes(input);
  const { x, y, z } = hatch.box;
  const [a, b] = [subtract(x[1], x[0]), hatch.wall === undefined ? subtract(y[1], y[0]) : subtract(z[1], z[0])];
  const about = { rule: hatchTooSmall, about: hatch.name, place: hatch.place };
  record?.lacks({
    ...about,
    needs: `the headroom above ${nameIn(hatch)}: ${showLength(hatchSize.headroom, show)} at the least`,
  });
  const holds = largeEnough(a, b, hatch.wall === undefined ? 'ceiling' : 'wall', least);
  const turned = hatch.wall === undefined && a > b;
  const [p, q] = turned ? [b, a] : [a, b];
  const isShort = p < least.short;
  const comparison = compared(
    `${hatch.wall === undefined ? (isShort ? 'short side' : 'long side') : isShort ? 'width' : 'height'} of ${nameIn(hatch)}`,
    isShort ? p : q,
    'at least',
    isShort ? least.short : least.long,
  );
  record?.looked({ ...about, comparison, holds });
  if (holds) return [];
  const length = (amount: Ticks) => showLength(amount, show);
  return [
    finding(
      hatchTooSmall,
      hatch.place,
      `${capital(nameIn(hatch))} is ${length(a)} by ${length(b)}; ${length(least.short)} by ${length(least.long)} is asked for${hatch.wall === undefined ? '' : ', upright'}.`,
      {
        about: hatch.name,
        causes: fromTemplate,
        advice: `Make it larger, or give its size if it is another: \`size ${length(least.long)} by ${length(least.short)}\`.`,
        related: [
          ...relatedLimit(short, 'Its short side is set here.'),
          ...relatedLimit(long, 'Its long side is set here.'),
        ],
        comparison,
      },
    ),
  ];
}

function covered(hatch: FixtureLayout, input: CheckInput): Finding[] {
  if (hatch.wall !== undefined) return [];
  const { show, record, layout } = input;
  const { least } = sizes(input);
  const about = { rule: hatchCovered, about: hatch.name, place: hatch.place };
  const covering = below(hatch, input);
  if (covering.length === 0) return [];
  if (!roomOf(layout).isSquare) {
    record?.lacks({ ...about, needs: 'square corners, to see the fittings and the hatch in one plan' });
    return [];
  }
  const free = freeOf(
    hatch.box,
    covering.map(({ box }) => box),
    least,
  );
  const left = free ? sides(free) : { short: NONE, long: NONE };
  const isShort = left.short < least.short;
  const comparison = compared(
    `${isShort ? 'short side' : 'long side'} of what is free below ${nameIn(hatch)}`,
    isShort ? left.short : left.long,
    'at least',
    isShort ? least.short : least.long,
  );
  const holds = !isShort && left.long >= least.long;
  record?.looked({ ...about, comparison, holds });
  if (holds) return [];
  const length = (amount: Ticks) => showLength(amount, show);
  const related: Related[] = covering.slice(0, 4).map(({ fitting }) => ({
    place: fitting.place,
    message: `${capital(nameOf(fitting))} ${verb(fitting, 'is', 'are')} below it.`,
  }));
  const rest = free ? `leaves ${length(left.short)} by ${length(left.long)} of it free` : 'leaves nothing of it free';
  return [
    finding(
      hatchCovered,
      hatch.place,
      `What stands below ${nameIn(hatch)} ${rest}; ${length(least.short)} by ${length(least.long)} is asked for to climb through.`,
      {
        about: hatch.name,
        causes: fromTemplate,
        advice: 'Move the fittings from below it, or make them shallower there; the local building code decides.',
        related,
        comparison,
      },
    ),
  ];
}
