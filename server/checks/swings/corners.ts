/**
 * What a corner that is out of square does to what is cut square and ends in it. Seen from above, in a corner of a
 * and b, a board along a whose square end is as long as the face of a:
 *
 *     sharper than square: b leans in over the end      wider: b runs away from it
 *
 *          \ b                                                / b
 *     ------\----+  front edge, too long                -----+ /   front edge, stands off
 *     a      \---+  back edge, at the corner            a    +/    back edge, at the corner
 *
 * Out from a by d, b is off by d x tan(deviation).
 */
import type { Finding, Working } from '../../model/finding.ts';
import type { CornerLayout, FittingLayout, Layout } from '../../model/layout.ts';
import { showLength } from '../../model/show.ts';
import { NONE, subtract, type Ticks, ticks } from '../../model/ticks.ts';
import { type CheckInput, looked } from '../check.ts';
import { lengthOf, type Room } from '../room.ts';
import { about, capital, compared, fittingsOf, nameOf, wallName } from '../say.ts';
import { wholeDown, wholeUp } from './plane.ts';
import { cornerLeavesGap, cornerOutOfSquare } from './rules.ts';

export function cornersIn(input: CheckInput, room: Room): Finding[] {
  const found: Finding[] = [];
  for (const corner of input.layout.corners) {
    const { angle } = corner;
    // At 0 and 180 degrees there is no corner.
    if (angle === 90 || angle <= 1 || angle >= 179) continue;
    for (const fitting of fittingsOf(input.layout)) {
      const side = endsIn(fitting, corner, room);
      if (!side) continue;
      found.push(...(angle < 90 ? tooLong(fitting, side, corner, input) : standsOff(fitting, side, corner, input)));
    }
  }
  return found;
}

/** The end of a fitting that reaches the other wall of a corner. */
function endsIn({ wall, box }: FittingLayout, { walls }: CornerLayout, room: Room): 'left' | 'right' | undefined {
  const own = room.walls.get(wall);
  if (!own) return undefined;
  if (wall === walls[0] && box.x[1] >= lengthOf(own, box.z[0])) return 'right';
  return wall === walls[1] && box.x[0] <= 0 ? 'left' : undefined;
}

/** How far out the square end reaches: a rod is cut for its centre. */
function outTo(fitting: FittingLayout): Ticks {
  return fitting.kind === 'rod' ? fitting.fromWall : fitting.box.y[1];
}

/** What of the clear opening is not cut at that end. */
function takenOff({ parts }: Layout, { path }: FittingLayout, side: 'left' | 'right'): Ticks {
  const part = parts.find((p) => p.path === path);
  const end = part?.steps.find((step) => step.kind === 'end' && step.side === side);
  return end ? ticks(Math.abs(end.amount)) : NONE;
}

function deviationOf({ angle }: CornerLayout): number {
  return Math.abs(90 - angle);
}

function otherWall(fitting: FittingLayout, { walls }: CornerLayout): string {
  return wallName(fitting.wall === walls[0] ? walls[1] : walls[0]);
}

function offBy(distance: Ticks, corner: CornerLayout): number {
  return distance * Math.tan((deviationOf(corner) * Math.PI) / 180);
}

/** `91-1/2 degrees` would be read as a length: degrees are written in decimals. */
function degrees(value: number): string {
  const rounded = Number(value.toFixed(3));
  return `${rounded} ${rounded === 1 ? 'degree' : 'degrees'}`;
}

function said(corner: CornerLayout): string {
  const [a, b] = corner.walls.map(wallName);
  return `The corner of ${a} and ${b} is ${corner.measured ? 'measured' : 'drawn'} at ${degrees(corner.angle)}`;
}

function workingOf(fitting: FittingLayout, corner: CornerLayout, off: Ticks, { show }: CheckInput): Working[] {
  return [
    { what: 'angle of the corner', value: degrees(corner.angle) },
    { what: 'deviation from square', value: degrees(deviationOf(corner)), how: '|90 degrees - angle|' },
    { what: fitting.kind === 'rod' ? 'distance from the wall' : 'depth', value: showLength(outTo(fitting), show) },
    { what: 'off by', value: showLength(off, show), how: 'depth x tan(deviation)' },
  ];
}

function tooLong(fitting: FittingLayout, side: 'left' | 'right', corner: CornerLayout, input: CheckInput): Finding[] {
  const need = wholeUp(offBy(outTo(fitting), corner));
  const room = takenOff(input.layout, fitting, side);
  const comparison = compared(`room at the ${side} end of "${fitting.path}"`, room, 'at least', need);
  const working = workingOf(fitting, corner, need, input);
  if (looked(input, cornerOutOfSquare, fitting, comparison, room >= need, working)) return [];
  const length = (amount: Ticks) => showLength(amount, input.show);
  const other = otherWall(fitting, corner);
  const over = length(subtract(need, room));
  const isRod = fitting.kind === 'rod';
  const isCut = isRod || fitting.kind === 'shelf';
  const taken = room > 0 ? `, of which ${length(room)} is taken off there already` : '';
  const where = isRod
    ? `${length(outTo(fitting))} out, at the rod`
    : `${length(outTo(fitting))} out, at the front edge`;
  const mend = {
    rod: `Cut the rod ${over} shorter, and set its end where ${other} is at the rod`,
    panel: `Scribe the panel to ${other}, or stand it ${over} off the corner at its back edge`,
    drawers: `Stand the drawers ${over} off the corner`,
    shelf: `Scribe the ${side} end to ${other}: take ${over} off at the front edge, running out to nothing at the back, or cut the shelf ${over} shorter`,
  }[fitting.kind];
  return [
    about(
      cornerOutOfSquare,
      fitting,
      fitting.place,
      `${said(corner)}, sharper than square by ${degrees(deviationOf(corner))}. ${capital(other)} leans in over ${nameOf(fitting)}: by ${length(need)} ${where}${taken}. ${isCut ? `Cut square, it is ${over} too long there` : `It goes no nearer to the corner than ${over}`}.`,
      {
        advice: `${mend}.`,
        related: [{ place: corner.place, message: `${said(corner)}.` }],
        comparison,
        working,
        causes: { parameters: [], survey: corner.measured },
      },
    ),
  ];
}

function standsOff(fitting: FittingLayout, side: 'left' | 'right', corner: CornerLayout, input: CheckInput): Finding[] {
  // A rod hangs in its cups, and drawers are set as boxes: only a board shows its edge against the wall.
  if (fitting.kind === 'rod' || fitting.kind === 'drawers') return [];
  const off = wholeDown(offBy(outTo(fitting), corner));
  const comparison = compared(
    `gap at the front of the ${side} end of "${fitting.path}"`,
    off,
    'at most',
    input.show.step,
  );
  const working = workingOf(fitting, corner, off, input);
  if (looked(input, cornerLeavesGap, fitting, comparison, off <= input.show.step, working)) return [];
  const length = (amount: Ticks) => showLength(amount, input.show);
  const other = otherWall(fitting, corner);
  const taken = takenOff(input.layout, fitting, side);
  const besides = taken > 0 ? `, besides the ${length(taken)} that is taken off` : '';
  return [
    about(
      cornerLeavesGap,
      fitting,
      fitting.place,
      `${said(corner)}, wider than square by ${degrees(deviationOf(corner))}. Cut square, ${nameOf(fitting)} stands ${length(off)} off ${other} at its front edge${besides}.`,
      {
        advice:
          fitting.kind === 'panel'
            ? `Leave the gap, or cover it with a strip ${length(off)} wide.`
            : `Leave the gap, or cut the ${side} end at the angle, ${length(off)} longer at the front edge.`,
        related: [{ place: corner.place, message: `${said(corner)}.` }],
        comparison,
        working,
        causes: { parameters: [], survey: corner.measured },
      },
    ),
  ];
}
