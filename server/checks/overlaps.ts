/** What stands in the same place as something else, or outside the walls that hold it. */
import type { Finding, Fix } from '../model/finding.ts';
import type { Box, FittingLayout, WallLayout, ZoneLayout } from '../model/layout.ts';
import type { Rule } from '../model/rule.ts';
import { showLength } from '../model/show.ts';
import { add, greatest, least, NONE, subtract, type Ticks } from '../model/ticks.ts';
import { heightFixes } from './access/fixes.ts';
import { type Check, type CheckInput, lacks, looked, passesUnheard } from './check.ts';
import { nearbyOf } from './nearby.ts';
import { gap, gaps, inOneFrame, lengthOf, overlapping, type Room, roomOf } from './room.ts';
import { about, capital, compared, either, fittingsOf, nameOf, verb, wallName } from './say.ts';
import { depthBefore } from './swings/depth.ts';
import { writeIn, writeLength } from './swings/fixes.ts';

export const partsOverlap: Rule = {
  id: 'parts-overlap',
  family: 'parts',
  title: 'Two fittings stand in the same place',
  explanation:
    'Two shelves, rods or panels of one closet take up the same room, so they cannot both be built. ' +
    'Fittings on different walls are compared too, at the angle at which their walls meet. What only touches does not overlap.',
  severity: 'error',
  source: { kind: 'language' },
  comparison: 'room between the two along the wall, out from it or in height >= 0',
};

export const fittingOutsideWall: Rule = {
  id: 'fitting-outside-wall',
  family: 'parts',
  title: 'A fitting reaches past the wall that holds it',
  explanation:
    'A shelf, rod or panel runs past an end of its wall, through the ceiling or below the floor, so it cannot be built. ' +
    'Where the wall was surveyed, what was measured counts.',
  severity: 'error',
  source: { kind: 'language' },
  comparison: '0 <= place along the wall <= length of the wall; 0 <= height <= height of the wall',
};

export const fittingPastFront: Rule = {
  id: 'fitting-past-front',
  family: 'parts',
  title: 'A fitting reaches past the front of the closet',
  explanation:
    'A shelf, rod or panel reaches further out from its wall than the closet is deep. ' +
    'The depth is the length of the shorter wall beside it; in a room of another shape, the distance to the wall across from it. Doors will not close, or it stands in the room.',
  needs: ['lengths of the walls beside it or across from it'],
  severity: 'warning',
  source: { kind: 'language' },
  comparison: 'distance from the wall to the front of the fitting <= depth of the closet',
};

export const overlapCheck: Check = {
  rules: [partsOverlap, fittingOutsideWall, fittingPastFront],
  run: (input) => [...overlaps(input), ...outside(input)],
};

/** A fitting is reported against so many others at most: mending those moves it anyway. */
const mostOverlaps = 3;

function overlaps(input: CheckInput): Finding[] {
  const { layout } = input;
  const room = roomOf(layout);
  const zones = new Map(layout.zones.map((zone) => [zone.path, zone]));
  const nearby = nearbyOf(layout);
  const found: Finding[] = [];
  for (const fitting of fittingsOf(layout)) {
    let met = 0;
    for (const earlier of nearby.around(fitting)) {
      if (earlier === fitting) break;
      const boxes = inOneFrame(fitting, earlier, room);
      if (!boxes) {
        lacks(
          input,
          partsOverlap,
          fitting,
          `the lengths of the walls between ${nameOf(fitting)} and ${nameOf(earlier)}`,
        );
        continue;
      }
      const isMet = overlapping(...boxes) && sectionsMeet(fitting, earlier);
      if (!isMet) {
        if (!input.record) continue;
        const { x, y, z } = gaps(...boxes);
        const between = compared(betweenThem(fitting, earlier), greatest(x, y, z), 'at least', NONE);
        looked(input, partsOverlap, fitting, between, true);
        continue;
      }
      if (keptApart(fitting, earlier, zones)) continue;
      const made = overlap(fitting, earlier, boxes, room, input);
      if (made.comparison) looked(input, partsOverlap, fitting, made.comparison, false);
      found.push(made);
      if (++met === mostOverlaps) break;
    }
  }
  return found;
}

/**
 * Whether the chain of zones keeps two fittings of one wall apart. A wall that leans is longer at one
 * height than at another; each shelf is placed for its own height and each panel for the shortest, so
 * that their places along the wall are not to be compared across zones, nor with the panels they fit between.
 */
function keptApart(a: FittingLayout, b: FittingLayout, zones: ReadonlyMap<string, ZoneLayout>): boolean {
  if (a.wall !== b.wall) return false;
  if (fitsBetween(a, b) || fitsBetween(b, a)) return true;
  const [one, two] = [zones.get(a.zone), zones.get(b.zone)];
  if (!one || !two || one === two) return false;
  const stretch = ({ from, width }: ZoneLayout) => [from.value, add(from.value, width.value)] as const;
  return gap(stretch(one), stretch(two)) >= 0;
}

function fitsBetween(panel: FittingLayout, other: FittingLayout): boolean {
  if (panel.kind !== 'panel' || other.kind === 'panel') return false;
  return other.zone === panel.zone || other.zone.startsWith(`${panel.zone}.`);
}

function betweenThem(a: FittingLayout, b: FittingLayout): string {
  return `room between "${a.path}" and "${b.path}"`;
}

function overlap(
  fitting: FittingLayout,
  other: FittingLayout,
  [box, otherBox]: readonly [Box, Box],
  { isSquare }: Room,
  input: CheckInput,
): Finding {
  const { show } = input;
  const sameWall = fitting.wall === other.wall;
  const shared = (axis: 'x' | 'y' | 'z') =>
    `from ${showLength(greatest(box[axis][0], otherBox[axis][0]), show)} to ${showLength(least(box[axis][1], otherBox[axis][1]), show)}`;
  const between = gaps(box, otherBox);
  const where = sameWall
    ? `${shared('x')} along ${wallName(fitting.wall)}, ${shared('y')} out from it and ${shared('z')} in height`
    : isSquare
      ? `${shared('x')} from the left wall, ${shared('y')} from the back wall and ${shared('z')} in height`
      : `${showLength(subtract(NONE, between.x), show)} of the one is in the other where ${wallName(fitting.wall)} and ${wallName(other.wall)} come together, ${shared('z')} in height`;
  const ways = [
    { gap: between.z, way: 'up or down' },
    { gap: between.x, way: sameWall ? 'along the wall' : isSquare ? 'to the left or right' : 'apart' },
    // Seen aslant, x is the shortest way apart, and y another that nobody measures.
    ...(sameWall || isSquare ? [{ gap: between.y, way: sameWall ? 'in or out' : 'to the back or front' }] : []),
  ].sort((a, b) => b.gap - a.gap);
  const nearest = ways[0]?.gap ?? NONE;
  return about(
    partsOverlap,
    fitting,
    fitting.place,
    `${capital(nameOf(fitting))} and ${nameOf(other)} stand in the same place: ${where}.`,
    {
      advice: `Move one of them by at least ${either(ways.slice(0, 2).map(({ gap, way }) => `${showLength(subtract(NONE, gap), show)} ${way}`))}.`,
      related: [{ place: other.place, message: `${capital(nameOf(other))} ${verb(other, 'stands', 'stand')} here.` }],
      comparison: compared(betweenThem(fitting, other), nearest, 'at least', NONE),
      fixes: movedApart(fitting, box, otherBox, input).concat(movedApart(other, otherBox, box, input)),
    },
  );
}

/** Up or down until it is clear of the other one. Which of the two is moved, and which way, is for somebody to choose. */
function movedApart(fitting: FittingLayout, { z }: Box, other: Box, input: CheckInput): Fix[] {
  if (fitting.kind === 'panel') return [];
  const ways = [
    { by: subtract(other.z[1], z[0]), up: true },
    { by: subtract(z[1], other.z[0]), up: false },
  ];
  return ways.flatMap((way) => heightFixes(fitting, way, input)).map((fix) => ({ ...fix, byHand: true }));
}

/**
 * Whether two fittings on one wall meet when seen from the side. A tilted shelf fills only a slanting
 * band of its box, from the underside at its front edge up to its upper face at the back, so that
 * tilted shelves one above the other share a box and no room. Across walls the boxes decide.
 */
function sectionsMeet(a: FittingLayout, b: FittingLayout): boolean {
  if (a.wall !== b.wall || (!tilted(a) && !tilted(b))) return true;
  const back = greatest(a.box.y[0], b.box.y[0]);
  const front = least(a.box.y[1], b.box.y[1]);
  const [aBack, aFront, bBack, bFront] = [band(a, back), band(a, front), band(b, back), band(b, front)];
  // Between back and front both are straight: each has room below the other's upper face on one stretch.
  const [from, to] = positive(bBack.upper - aBack.lower, bFront.upper - aFront.lower);
  const [otherFrom, otherTo] = positive(aBack.upper - bBack.lower, aFront.upper - bFront.lower);
  return Math.max(from, otherFrom) < Math.min(to, otherTo);
}

function tilted(fitting: FittingLayout): boolean {
  return fitting.kind === 'shelf' && fitting.tilted;
}

/** The underside and upper face of a fitting at a distance from the wall. */
function band(fitting: FittingLayout, y: Ticks): { readonly lower: number; readonly upper: number } {
  const [bottom, top] = fitting.box.z;
  if (fitting.kind !== 'shelf' || !fitting.tilted) return { lower: bottom, upper: top };
  const [back, front] = fitting.box.y;
  const rise = Math.max(0, top - bottom - fitting.thickness) * (front > back ? (front - y) / (front - back) : 0);
  return { lower: bottom + rise, upper: bottom + rise + fitting.thickness };
}

/** Where a straight line from `start` (at 0) to `end` (at 1) is above zero. */
function positive(start: number, end: number): readonly [number, number] {
  if (start > 0 && end > 0) return [0, 1];
  if (start <= 0 && end <= 0) return [1, 0];
  const crossing = start / (start - end);
  return start > 0 ? [0, crossing] : [crossing, 1];
}

function outside(input: CheckInput): Finding[] {
  const { layout } = input;
  const room = roomOf(layout);
  const walls = new Map(layout.walls.map((wall) => [wall.name, wall]));
  const found: Finding[] = [];
  for (const fitting of fittingsOf(layout)) {
    const wall = walls.get(fitting.wall);
    if (!wall) continue;
    found.push(...outsideInHeight(fitting, wall, input), ...outsideAlong(fitting, wall, input));
    found.push(...pastFront(fitting, input, room));
  }
  return found;
}

function outsideInHeight(fitting: FittingLayout, wall: WallLayout, input: CheckInput): Finding[] {
  const { show } = input;
  const [bottom, top] = fitting.box.z;
  if (passesUnheard(input, bottom >= 0 && wall.height !== undefined && top <= wall.height)) return [];
  const aboveFloor = compared(`lowest point of "${fitting.path}"`, bottom, 'at least', NONE);
  if (!looked(input, fittingOutsideWall, fitting, aboveFloor, bottom >= 0)) {
    return [
      about(
        fittingOutsideWall,
        fitting,
        fitting.atPlace,
        `${capital(nameOf(fitting))} ${verb(fitting, 'reaches', 'reach')} ${showLength(subtract(NONE, bottom), show)} below the floor.`,
        {
          advice: `Raise ${verb(fitting, 'it', 'them')} by at least ${showLength(subtract(NONE, bottom), show)}.`,
          comparison: aboveFloor,
          fixes: fitting.kind === 'panel' ? [] : heightFixes(fitting, { by: subtract(NONE, bottom), up: true }, input),
        },
      ),
    ];
  }
  if (wall.height === undefined) {
    lacks(input, fittingOutsideWall, fitting, `the height of ${wallName(wall.name)}`);
    return [];
  }
  const belowCeiling = compared(`highest point of "${fitting.path}"`, top, 'at most', wall.height);
  if (looked(input, fittingOutsideWall, fitting, belowCeiling, top <= wall.height)) return [];
  const over = subtract(top, wall.height);
  return [
    about(
      fittingOutsideWall,
      fitting,
      fitting.atPlace,
      `${capital(nameOf(fitting))} ${verb(fitting, 'reaches', 'reach')} up to ${showLength(top, show)}, and ${wallName(wall.name)} is ${showLength(wall.height, show)} high: ${showLength(over, show)} too high.`,
      {
        advice:
          fitting.kind === 'panel'
            ? `Make it at most ${showLength(wall.height, show)} high.`
            : `Lower ${verb(fitting, 'it', 'them')} by at least ${showLength(over, show)}.`,
        fixes:
          fitting.kind === 'panel'
            ? writeIn(fitting.atPlace.statement, top, wall.height, 'down', show)
            : heightFixes(fitting, { by: over, up: false }, input),
        related: wall.heightPlace ? [{ place: wall.heightPlace, message: 'The height of the wall is set here.' }] : [],
        comparison: belowCeiling,
      },
    ),
  ];
}

function outsideAlong(fitting: FittingLayout, wall: WallLayout, input: CheckInput): Finding[] {
  const { show } = input;
  const [from, to] = fitting.box.x;
  // As long as it was measured at this height, which may be more than the least that was measured.
  const long = lengthOf(wall, fitting.box.z[0]);
  if (passesUnheard(input, from >= 0 && to <= long)) return [];
  const related = [
    { place: wall.lengthPlace, message: `${capital(wallName(wall.name))} is ${showLength(long, show)} long.` },
  ];
  const fromLeft = compared(`left end of "${fitting.path}"`, from, 'at least', NONE);
  if (!looked(input, fittingOutsideWall, fitting, fromLeft, from >= 0)) {
    const over = showLength(subtract(NONE, from), show);
    return [
      about(
        fittingOutsideWall,
        fitting,
        fitting.place,
        `${capital(nameOf(fitting))} ${verb(fitting, 'reaches', 'reach')} ${over} past the left end of ${wallName(wall.name)}.`,
        {
          advice: `Move ${verb(fitting, 'it', 'them')} to the right by at least ${over}, or make ${verb(fitting, 'its', 'their')} zone narrower.`,
          related,
          comparison: fromLeft,
        },
      ),
    ];
  }
  const toRight = compared(`right end of "${fitting.path}"`, to, 'at most', long);
  if (looked(input, fittingOutsideWall, fitting, toRight, to <= long)) return [];
  const over = showLength(subtract(to, long), show);
  return [
    about(
      fittingOutsideWall,
      fitting,
      fitting.place,
      `${capital(nameOf(fitting))} ${verb(fitting, 'reaches', 'reach')} ${showLength(to, show)} along ${wallName(wall.name)}, which is ${showLength(long, show)} long: ${over} too far to the right.`,
      {
        advice: `Move ${verb(fitting, 'it', 'them')} to the left by at least ${over}, or make ${verb(fitting, 'its', 'their')} zone narrower.`,
        related,
        comparison: toRight,
        // As drawn it would fit: it is what was measured that does not hold it.
        causes: { parameters: [], survey: wall.readings.length > 0 && to <= wall.nominal },
      },
    ),
  ];
}

function pastFront(fitting: FittingLayout, input: CheckInput, room: Room): Finding[] {
  const { show } = input;
  const closet = depthBefore(fitting, input.layout, room);
  if (!closet) {
    lacks(input, fittingPastFront, fitting, `the depth of the closet before ${wallName(fitting.wall)}`);
    return [];
  }
  const front = fitting.box.y[1];
  if (passesUnheard(input, front <= closet.depth)) return [];
  const comparison = compared(`front of "${fitting.path}"`, front, 'at most', closet.depth);
  if (looked(input, fittingPastFront, fitting, comparison, front <= closet.depth)) return [];
  const { wall, depth } = closet;
  const over = showLength(subtract(front, depth), show);
  return [
    about(
      fittingPastFront,
      fitting,
      fitting.place,
      `${capital(nameOf(fitting))} ${verb(fitting, 'reaches', 'reach')} ${showLength(front, show)} out from ${wallName(fitting.wall)}, and the closet is ${showLength(depth, show)} deep there: ${over} too deep.`,
      {
        advice: `Make ${verb(fitting, 'it', 'them')} shallower by at least ${over}.`,
        related: [
          room.isNamed
            ? {
                place: wall.lengthPlace,
                message: `${capital(wallName(wall.name))} is ${showLength(wall.length, show)} long.`,
              }
            : { place: wall.place, message: `${capital(wallName(wall.name))} is across from it.` },
        ],
        comparison,
        fixes:
          fitting.kind === 'rod'
            ? []
            : writeLength(
                fitting,
                'depth',
                subtract(front, fitting.box.y[0]),
                subtract(depth, fitting.box.y[0]),
                'down',
                show,
              ),
      },
    ),
  ];
}
