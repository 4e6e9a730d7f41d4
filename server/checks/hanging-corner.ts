/** Rods of two walls that run into one corner: whether what hangs on the one meets what hangs on the other. */
import type { Finding } from '../model/finding.ts';
import type { Box, RodLayout } from '../model/layout.ts';
import type { Garment } from '../model/materials.ts';
import { showLength } from '../model/show.ts';
import { NONE, subtract, type Ticks } from '../model/ticks.ts';
import { type CheckInput, lacks, looked } from './check.ts';
import { garmentsOf, hanging } from './hanging-reach.ts';
import { hangingMeetsHanging } from './hanging-rules.ts';
import type { Room } from './room.ts';
import { about, compared, fittingsOf, nameOf, wallName } from './say.ts';
import { band, extent, touch, wholeUp, xAxis, yAxis } from './swings/plane.ts';
import { coverSeenFrom, shareHeight } from './swings/things.ts';

/** What hangs on a rod, a box a garment. */
interface Full {
  readonly rod: RodLayout;
  readonly hung: readonly { readonly garment: Garment; readonly box: Box }[];
}

interface Meeting {
  readonly own: Garment;
  readonly other: Garment;
  /** How much shorter the rod would have to be, at the end that is nearest; below 0 there is as much to spare. */
  readonly short: Ticks;
  readonly side: 'left' | 'right';
}

export function meetInCorners(input: CheckInput, room: Room): Finding[] {
  const rods = fittingsOf(input.layout).filter((f) => f.kind === 'rod');
  if (new Set(rods.map(({ wall }) => wall)).size < 2) return [];
  const full = rods.map((rod) => fullOf(rod, input));
  const found: Finding[] = [];
  for (const [i, one] of full.entries()) {
    for (const earlier of full.slice(0, i)) {
      if (one.rod.wall !== earlier.rod.wall) found.push(...meet(one, earlier, input, room));
    }
  }
  return found;
}

function fullOf(rod: RodLayout, input: CheckInput): Full {
  const garments = garmentsOf(rod);
  if (garments.length === 0) lacks(input, hangingMeetsHanging, rod, `what hangs on ${nameOf(rod)}`);
  const hung = garments.flatMap((garment) => {
    const box = hanging(rod, garment);
    if (!box) lacks(input, hangingMeetsHanging, rod, `hanging length and hanger width of "${garment.name}"`);
    return box ? [{ garment, box }] : [];
  });
  return { rod, hung };
}

function meet(one: Full, earlier: Full, input: CheckInput, room: Room): Finding[] {
  let worst: Meeting | undefined;
  for (const own of one.hung) {
    for (const other of earlier.hung) {
      const meeting = shortBy(own, other, one.rod, earlier.rod, room);
      if (meeting && (!worst || meeting.short > worst.short)) worst = meeting;
    }
  }
  if (!worst) return [];
  const { own, other, short, side } = worst;
  const [rod, against] = [one.rod, earlier.rod];
  const comparison = compared(
    `room between "${own.name}" on "${rod.path}" and "${other.name}" on "${against.path}"`,
    subtract(NONE, short),
    'at least',
    NONE,
  );
  if (looked(input, hangingMeetsHanging, rod, comparison, short <= 0)) return [];
  const length = (amount: Ticks) => showLength(amount, input.show);
  const isCorner = room.corners.some(({ walls }) => walls.includes(rod.wall) && walls.includes(against.wall));
  const where = isCorner
    ? `meet where ${wallName(against.wall)} and ${wallName(rod.wall)} come together: what hangs on the one takes up ${length(short)} of the ${side} end of the other`
    : `meet across the closet, over ${length(short)} of the rod`;
  return [
    about(
      hangingMeetsHanging,
      rod,
      rod.place,
      `"${own.name}" on ${nameOf(rod)} and "${other.name}" on ${nameOf(against)} ${where}.`,
      {
        advice: isCorner
          ? `End ${nameOf(rod)} ${length(short)} before its ${side} end, or leave that much of it empty.`
          : 'Set the rods nearer to their walls, or hang something narrower on one of them.',
        related: [{ place: against.place, message: `"${other.name}" hangs here.` }],
        comparison,
      },
    ),
  ];
}

/** Only where the one stands before some of the other along its width, and at some of its heights. */
function shortBy(
  own: { readonly garment: Garment; readonly box: Box },
  other: { readonly garment: Garment; readonly box: Box },
  rod: RodLayout,
  against: RodLayout,
  room: Room,
): Meeting | undefined {
  if (!shareHeight(own.box.z, other.box.z)) return undefined;
  const cover = coverSeenFrom({ wall: rod.wall, box: own.box }, { wall: against.wall, box: other.box }, room);
  const beside = cover ? band(cover, yAxis, own.box.y) : [];
  if (beside.length === 0) return undefined;
  const out = extent(beside, yAxis);
  if (out[1] - out[0] <= touch) return undefined;
  const [from, to] = extent(beside, xAxis);
  const left = wholeUp(to - own.box.x[0]);
  const right = wholeUp(own.box.x[1] - from);
  return left < right
    ? { own: own.garment, other: other.garment, short: left, side: 'left' }
    : { own: own.garment, other: other.garment, short: right, side: 'right' };
}
