/** Whether fixings meet studs, and what is set into the wall where they do not. */
import { gapFix } from '../../model/edits.ts';
import { type Comparison, type Finding, finding, type Working } from '../../model/finding.ts';
import type { WallLayout } from '../../model/layout.ts';
import { type Show, showLength } from '../../model/show.ts';
import { inches, subtract, type Ticks } from '../../model/ticks.ts';
import { type CheckInput, lacks, looked, passesUnheard } from '../check.ts';
import { about, both, compared, nameOf, wallName } from '../say.ts';
import { POUND } from '../structure/units.ts';
import { namedAnchor, spacingFor, widerShift, widerSpacing } from './fixes.ts';
import type { Fixing } from './fixing.ts';
import { counted, groups, scheduleOf, speaks, studCauses, wallOf } from './looked.ts';
import { NEAR_STUD, widestGap } from './positions.ts';
import { anchorNotNamed, anchorRatedLow, spacingExceeded, studMissed, studsNotStated, studsUneven } from './rules.ts';

/** Where each stands and what it meets. */
export function placesWorking(fixings: readonly Fixing[], show: Show): Working[] {
  return fixings.map(({ hardware, wall, at, hold, shift }) => ({
    what: `${hardware.name}${wall === undefined ? '' : ` on ${wallName(wall)}`}`,
    value: showLength(at, show),
    how: [
      ...(shift === 0
        ? []
        : [
            `moved ${showLength(shift < 0 ? subtract(0 as Ticks, shift) : shift, show)} to the ${shift < 0 ? 'left' : 'right'}`,
          ]),
      hold.kind === 'stud'
        ? `meets the stud at ${showLength(hold.stud, show)}, within ${showLength(NEAR_STUD, show)}`
        : hold.kind === 'anchor'
          ? `meets no stud${hold.anchor ? `: ${hold.anchor.name}` : ''}`
          : hold.kind === 'part'
            ? 'not in the wall'
            : 'studs not stated',
    ].join('; '),
  }));
}

export function checkStuds(input: CheckInput): Finding[] {
  const { show } = input;
  const found: Finding[] = [];
  for (const { fitting, hardware, fixings } of groups(input)) {
    const inWall = fixings.filter(({ hold }) => hold.kind !== 'part');
    if (inWall.length === 0) continue;
    const wall = wallOf(input, inWall[0]?.wall ?? fitting.wall);
    const unknown = inWall.filter(({ hold }) => hold.kind === 'not-known');
    if (unknown.length > 0) {
      const where =
        unknown[0]?.wall === undefined
          ? 'the wall that it meets, and its studs'
          : `the studs of ${wallName(unknown[0].wall)}`;
      if (hardware.inStud > 0) lacks(input, studMissed, fitting, where);
      lacks(input, anchorNotNamed, fitting, where);
      continue;
    }
    const working = () => placesWorking(inWall, show);
    const causes = studCauses(wall);
    const met = inWall.filter(({ hold }) => hold.kind === 'stud').length;
    const missed = inWall.length - met;
    if (hardware.inStud > 0) {
      const comparison = counted(`${hardware.name} in a stud`, met, 'at least', hardware.inStud);
      if (!looked(input, studMissed, fitting, comparison, met >= hardware.inStud, working) && speaks(fitting)) {
        const studs = (wall?.studs ?? []).map((stud) => showLength(stud, show));
        const fixes = fitting.kind === 'shelf' ? widerShift(fitting, hardware, wall?.studs ?? [], show) : [];
        found.push(
          about(
            studMissed,
            fitting,
            fitting.place,
            `${met === 0 ? 'None' : `Only ${met}`} of the ${inWall.length} "${hardware.name}" of ${nameOf(fitting)} ${met > 1 ? 'meet' : 'meets'} a stud, and ${hardware.inStud} must. They stand at ${places(inWall, show)} along ${wallName(wall?.name ?? fitting.wall)}; its studs are at ${both(studs) || 'no place'}.`,
            {
              advice: `Let "${hardware.name}" be moved ${hardware.shift.most > 0 ? `by more than ${showLength(hardware.shift.most, show)}` : 'to a stud'}, take hardware that spans from stud to stud, or put blocking into the wall.`,
              related: [
                { place: hardware.place, message: `"${hardware.name}" asks for ${hardware.inStud} in a stud.` },
              ],
              comparison,
              working: working(),
              fixes,
              causes,
            },
          ),
        );
      }
    }
    const bare = inWall.filter(({ hold }) => hold.kind === 'anchor' && hold.anchor === undefined);
    const comparison = counted(`${hardware.name} without stud and anchor`, bare.length, 'at most', 0);
    if (looked(input, anchorNotNamed, fitting, comparison, bare.length === 0, working) || !speaks(fitting)) continue;
    found.push(
      about(
        anchorNotNamed,
        fitting,
        fitting.place,
        `${ofAll(missed, inWall.length, hardware.name)} of ${nameOf(fitting)} ${missed === 1 ? 'meets' : 'meet'} no stud, at ${places(bare, show)} along ${wallName(wall?.name ?? fitting.wall)}, and "${hardware.name}" names no anchor.`,
        {
          advice: 'Name what is set into the wall there: "anchor" and the name of hardware that is an anchor.',
          related: [{ place: hardware.place, message: `"${hardware.name}" is described here.` }],
          comparison,
          working: working(),
          fixes: namedAnchor(
            hardware,
            scheduleOf(input).all.map((other) => other.hardware),
          ),
          causes,
        },
      ),
    );
  }
  return found;
}

function places(fixings: readonly Fixing[], show: Show): string {
  return both(fixings.map(({ at }) => showLength(at, show)));
}

/** `All 3 "rear"`, `2 of the 3 "rear"`. */
function ofAll(some: number, all: number, name: string): string {
  if (some < all) return `${some} of the ${all} "${name}"`;
  return all === 1 ? `The one "${name}"` : all === 2 ? `Both "${name}"` : `All ${all} "${name}"`;
}

/** kg: 50 lb, common practice. */
const leastRating = 50 * POUND;

/** Each anchor that is set, once, by the part where it is set first. */
export function checkRatings(input: CheckInput): Finding[] {
  const found: Finding[] = [];
  const seen = new Set<object>();
  for (const { fitting, fixings } of groups(input)) {
    for (const { hold } of fixings) {
      const anchor = hold.kind === 'anchor' ? hold.anchor : undefined;
      if (!anchor || seen.has(anchor.place.statement)) continue;
      seen.add(anchor.place.statement);
      if (anchor.rated === undefined) {
        lacks(input, anchorRatedLow, fitting, `what ${anchor.name} is rated for`);
        continue;
      }
      const comparison: Comparison = {
        what: `rating of ${anchor.name}`,
        measured: mass(anchor.rated, input.show),
        relation: 'at least',
        limit: mass(leastRating, input.show),
      };
      // Pounds become kilograms and come back with the last digit off.
      if (looked(input, anchorRatedLow, fitting, comparison, anchor.rated >= leastRating - 1e-9)) continue;
      found.push(
        finding(
          anchorRatedLow,
          anchor.place,
          `Anchor "${anchor.name}" is rated for ${massText(anchor.rated, input.show)}, and is set where fixings meet no stud, as of ${nameOf(fitting)}; common practice is ${massText(leastRating, input.show)} at the least.`,
          {
            advice: `Take an anchor that its maker rates for at least ${massText(leastRating, input.show)}, or move the fixing to a stud.`,
            comparison,
            about: anchor.name,
            causes: { parameters: [], survey: false },
          },
        ),
      );
    }
  }
  return found;
}

/** Rounded down to a tenth, so that what is too little never reads as enough. */
function massText(kilograms: number, show: Show): string {
  const { amount, unit } = mass(kilograms, show);
  return `${Math.floor(amount * 10 + 1e-6) / 10} ${unit}`;
}

function mass(kilograms: number, { system }: Show): { readonly amount: number; readonly unit: string } {
  return system === 'inches' ? { amount: kilograms / POUND, unit: 'lb' } : { amount: kilograms, unit: 'kg' };
}

/** Each wall that something is screwed to says where its studs are. */
export function checkStudsStated(input: CheckInput): Finding[] {
  const unknown = scheduleOf(input).all.filter(({ hold }) => hold.kind === 'not-known');
  const byWall = Map.groupBy(unknown, ({ wall }) => wall);
  return input.layout.walls.flatMap((wall) => {
    const own = byWall.get(wall.name);
    if (!own) return [];
    const names = [...new Set(own.map(({ hardware }) => hardware.name))];
    lacks(input, studsNotStated, { path: wall.name, place: wall.place }, `the studs of ${wallName(wall.name)}`);
    return [
      finding(
        studsNotStated,
        wall.place,
        `${own.length === 1 ? 'One fixing is' : `${own.length} fixings are`} screwed to ${wallName(wall.name)} (${names.map((name) => `"${name}"`).join(', ')}), and nothing says where its studs are.`,
        {
          advice: 'Write for example: studs every 16in from 14-1/2in',
          examples: true,
          // Where they are is known on site alone: what is written asks for it.
          fixes: gapFix(wall.place.statement, 'studs', 'Write studs, where they are to be filled in'),
          about: wall.name,
          causes: { parameters: [], survey: false },
        },
      ),
    ];
  });
}

/** Nearer than this two are one doubled stud. */
const doubled = inches(3);
const evenWithin = inches(1);

/** Measured studs that are not spaced as the others are. */
export function checkStudsEven(input: CheckInput): Finding[] {
  return input.layout.walls.flatMap((wall) => (wall.studsFrom === 'survey' ? unevenIn(wall, input) : []));
}

function unevenIn(wall: WallLayout, input: CheckInput): Finding[] {
  const { show } = input;
  const gaps = wall.studs
    .slice(1)
    .map((to, i) => ({ from: wall.studs[i] as Ticks, to, gap: subtract(to, wall.studs[i] as Ticks) }));
  const counting = gaps.filter(({ gap }) => gap >= doubled);
  const usual = counting.map(({ gap }) => gap).sort((a, b) => a - b)[Math.floor((counting.length - 1) / 2)];
  // Of two distances neither is the usual one.
  if (usual === undefined || counting.length < 3) return [];
  const at = { path: wall.name, place: wall.place };
  const off = counting.filter(({ from, to, gap }) => {
    const comparison = compared(
      `from the stud at ${showLength(from, show)} to the one at ${showLength(to, show)}`,
      gap,
      'equal to',
      usual,
    );
    return !looked(input, studsUneven, at, comparison, Math.abs(gap - usual) <= evenWithin);
  });
  const [first] = off;
  if (!first) return [];
  const told = off.map(
    ({ from, to, gap }) => `${showLength(gap, show)} from ${showLength(from, show)} to ${showLength(to, show)}`,
  );
  return [
    finding(
      studsUneven,
      wall.place,
      `The measured studs of ${wallName(wall.name)} stand ${told.join(', ')}; most stand ${showLength(usual, show)} apart.`,
      {
        advice: 'Look for the stud again there. Fixings are set for the list as it is.',
        about: wall.name,
        causes: { parameters: [], survey: true },
        comparison: compared(`distance of two studs of ${wallName(wall.name)}`, first.gap, 'equal to', usual),
      },
    ),
  ];
}

/** Distances along a shelf against the spacing of its hardware. */
export function checkSpacing(input: CheckInput): Finding[] {
  const found: Finding[] = [];
  for (const { fitting, hardware, fixings } of groups(input)) {
    const role = fixings[0]?.role;
    if (hardware.spacing === undefined || (role !== 'support' && role !== 'bracket')) continue;
    const widest = widestGap(fixings.map(({ at }) => at));
    if (widest === undefined) continue;
    if (passesUnheard(input, widest <= hardware.spacing)) continue;
    const { show } = input;
    const comparison = compared(`distance of two ${hardware.name}`, widest, 'at most', hardware.spacing);
    const working = () => placesWorking(fixings, show);
    if (looked(input, spacingExceeded, fitting, comparison, widest <= hardware.spacing, working) || !speaks(fitting))
      continue;
    found.push(
      about(
        spacingExceeded,
        fitting,
        fitting.place,
        `Two "${hardware.name}" of ${nameOf(fitting)} stand ${showLength(widest, show)} apart, and ${showLength(hardware.spacing, show)} is allowed: no more than ${fixings.length} are set on a part.`,
        {
          advice: `Write a spacing of at least ${showLength(spacingFor(widest, show), show)}.`,
          fixes: widerSpacing(hardware, widest, show),
          related: [{ place: hardware.place, message: `"${hardware.name}" is described here.` }],
          comparison,
          working: working(),
        },
      ),
    );
  }
  return found;
}
