/** Whether leaves that swing in swing clear: of fittings, of what hangs, of fixtures and of walls. */
import type { Place } from '../../../grammar/tree.ts';
import { type Finding, type Fix, finding } from '../../model/finding.ts';
import type { FittingLayout, OpeningLayout } from '../../model/layout.ts';
import type { Rule } from '../../model/rule.ts';
import { showLength } from '../../model/show.ts';
import { add, inches, NONE, roundDown, subtract, type Ticks, ticks } from '../../model/ticks.ts';
import { type CheckInput, lacks, looked } from '../check.ts';
import { fixtureName } from '../fixture-name.ts';
import { garmentsOf, hanging } from '../hanging-reach.ts';
import { framesOf, gap, type Room, type Standing } from '../room.ts';
import { about, capital, compared, fittingsOf, fromTemplate, nameOf, wallName } from '../say.ts';
import { solid, standingOpen, swingOf } from './doorway.ts';
import { statementOf, swungOut, writeLength } from './fixes.ts';
import { movingOf } from './moving.ts';
import { fromPlan, meet as meetPlane, type Polygon, toPlan } from './plane.ts';
import {
  drawerInSwing,
  leafMeetsFitting,
  leafMeetsFixture,
  leafMeetsHanging,
  leafMeetsWall,
  swingWithoutHinge,
} from './rules.ts';
import { type Met, meetsLeaf, type Swing } from './sector.ts';
import { coverSeenFrom, keptFree, shareHeight } from './things.ts';

/** An opening is reported against so many things of a kind at most, the nearest to its hinges first. */
const mostMet = 3;

/** Something that may stand in the swing of a leaf. */
interface Candidate {
  readonly rule: Rule;
  readonly what: string;
  readonly place: Place;
  /** Path of the fitting, or name of the opening where it is no fitting. */
  readonly about: string;
  readonly fitting: FittingLayout | undefined;
  readonly cover: Polygon;
}

interface Door {
  readonly opening: OpeningLayout;
  readonly swing: Swing;
  /** The room that the leaf sweeps, as a box of its wall. */
  readonly swept: Standing;
}

export function leavesIn(input: CheckInput, room: Room): Finding[] {
  const found: Finding[] = [];
  for (const opening of input.layout.openings) {
    if (opening.leaf.kind !== 'swing' || opening.leaf.way === 'out') continue;
    const swing = swingOf(opening);
    if (!swing) {
      found.push(withoutHinge(opening, input));
      continue;
    }
    const { from, width, height, wall } = opening;
    const box = { x: [from, add(from, width)], y: [NONE, width], z: [NONE, height] } as const;
    const door: Door = { opening, swing, swept: { wall, box } };
    const met = candidates(door, input, room).flatMap((candidate) => {
      const meets = meetsLeaf(swing, candidate.cover);
      tell(door, candidate, meets, input);
      return meets ? [{ candidate, meets }] : [];
    });
    for (const own of Map.groupBy(met, ({ candidate }) => candidate.rule).values()) {
      own.sort((a, b) => a.meets.distance - b.meets.distance);
      for (const { candidate, meets } of own.slice(0, mostMet))
        found.push(meeting(door, candidate, meets, input, room));
    }
    found.push(...drawersInSwing(door, input, room));
  }
  return found;
}

function withoutHinge(opening: OpeningLayout, input: CheckInput): Finding {
  const { leaf, name } = opening;
  for (const rule of [
    swingWithoutHinge,
    leafMeetsFitting,
    leafMeetsHanging,
    leafMeetsFixture,
    leafMeetsWall,
    drawerInSwing,
  ]) {
    lacks(input, rule, { path: name, place: leaf.place }, `the side of the hinges of opening "${name}"`);
  }
  return finding(
    swingWithoutHinge,
    leaf.place,
    `The leaf of opening "${name}" swings in, and nothing says where its hinges are, so it was not compared with what stands in the closet.`,
    {
      advice: 'Say so, as seen from inside: `swing in hinged left`.',
      about: name,
      causes: fromTemplate,
      fixes: (['left', 'right'] as const).map((side) => hingedFix(leaf.place, side)),
    },
  );
}

function hingedFix({ statement }: Place, side: 'left' | 'right'): Fix {
  const { end } = statement.head;
  const text = `hinged ${side}`;
  return { title: `Write ${text}`, edits: [{ place: { statement, start: end, end }, text: ` ${text}` }] };
}

function candidates(door: Door, input: CheckInput, room: Room): Candidate[] {
  return [...fittings(door, input, room), ...clothes(door, input, room), ...others(door, input, room)];
}

function* fittings({ opening, swept }: Door, { layout }: CheckInput, room: Room): Generator<Candidate> {
  for (const fitting of fittingsOf(layout)) {
    if (!shareHeight(fitting.box.z, swept.box.z)) continue;
    // What stands in the opening itself is told as that.
    if (fitting.wall === opening.wall && gap(fitting.box.x, swept.box.x) < 0) continue;
    const cover = coverSeenFrom(swept, fitting, room);
    const { path, place } = fitting;
    if (cover) yield { rule: leafMeetsFitting, what: nameOf(fitting), place, about: path, fitting, cover };
  }
}

function* clothes({ swept }: Door, input: CheckInput, room: Room): Generator<Candidate> {
  for (const rod of fittingsOf(input.layout)) {
    if (rod.kind !== 'rod') continue;
    const garments = garmentsOf(rod);
    if (garments.length === 0) lacks(input, leafMeetsHanging, rod, `what hangs on ${nameOf(rod)}`);
    for (const garment of garments) {
      const box = hanging(rod, garment);
      if (!box) {
        lacks(input, leafMeetsHanging, rod, `hanging length and hanger width of "${garment.name}"`);
        continue;
      }
      if (!shareHeight(box.z, swept.box.z)) continue;
      const cover = coverSeenFrom(swept, { wall: rod.wall, box }, room);
      const what = `"${garment.name}" on ${nameOf(rod)}`;
      if (cover) yield { rule: leafMeetsHanging, what, place: rod.place, about: rod.path, fitting: rod, cover };
    }
  }
}

function* others({ opening, swept }: Door, { layout }: CheckInput, room: Room): Generator<Candidate> {
  for (const fixture of layout.fixtures) {
    const kept = keptFree(fixture);
    if (fixture.clear === 0 || !shareHeight(kept.box.z, swept.box.z)) continue;
    const cover = coverSeenFrom(swept, kept, room);
    const what = `what is to be kept free before ${fixtureName(fixture)}`;
    if (cover)
      yield { rule: leafMeetsFixture, what, place: fixture.place, about: opening.name, fitting: undefined, cover };
  }
  for (const wall of layout.walls) {
    if (wall.name === opening.wall) continue;
    const own = layout.openings.filter((o) => o.height >= opening.height);
    for (const x of solid(wall, own)) {
      const frames = framesOf(swept, { wall: wall.name, box: { ...swept.box, x } }, room);
      const cover = frames && x.map((at) => fromPlan(frames[0], toPlan(frames[1], [at, 0])));
      if (!cover) continue;
      const what = wallName(wall.name);
      yield { rule: leafMeetsWall, what, place: wall.place, about: opening.name, fitting: undefined, cover };
    }
  }
}

function tell({ opening }: Door, candidate: Candidate, met: Met | undefined, input: CheckInput): void {
  if (!input.record) return;
  const comparison = comparisonOf(opening, candidate.what, met?.distance ?? opening.width);
  looked(input, candidate.rule, { path: candidate.about, place: candidate.place }, comparison, met === undefined);
}

/** What swings clear is told to be at least as far off as the leaf is wide. */
function comparisonOf(opening: OpeningLayout, what: string, distance: Ticks) {
  return compared(`distance from the hinges of "${opening.name}" to ${what}`, distance, 'at least', opening.width);
}

function meeting(door: Door, candidate: Candidate, met: Met, input: CheckInput, room: Room): Finding {
  const { opening } = door;
  const { rule, what, fitting } = candidate;
  const length = (amount: Ticks) => showLength(amount, input.show);
  const flipped = flip(door, input, room);
  const shallower = fitting && fitting.kind !== 'rod' ? clearingDepth(door, fitting, room) : undefined;
  const ways = [
    ...(flipped ? [`hinge it on the ${flipped.side}, where it swings clear`] : []),
    'let it swing out, or slide',
    ...(shallower === undefined ? [] : [`make the ${fitting?.kind} at most ${length(shallower)} deep`]),
  ];
  const said = `The leaf of opening "${opening.name}", ${length(opening.width)} wide, swings in and meets ${what}, ${length(met.distance)} from its hinges: it opens ${Math.floor(met.opens)} degrees.`;
  const details = {
    advice: `${capital(ways.join(', or '))}.`,
    related: [
      fitting
        ? { place: opening.leaf.place, message: `The leaf of opening "${opening.name}" swings here.` }
        : { place: candidate.place, message: `${capital(what)} is in its way.` },
    ],
    comparison: comparisonOf(opening, what, met.distance),
    fixes: [
      ...(flipped?.fixes ?? []),
      ...(fitting && shallower !== undefined
        ? writeLength(fitting, 'depth', subtract(fitting.box.y[1], fitting.box.y[0]), shallower, 'down', input.show)
        : []),
      ...swungOut(opening),
    ],
  };
  return fitting
    ? about(rule, fitting, fitting.place, said, details)
    : finding(rule, opening.leaf.place, said, { ...details, about: opening.name, causes: fromTemplate });
}

/** The other side of the hinges, where nothing at all stands in the leaf's way then. */
function flip(
  { opening, swept }: Door,
  input: CheckInput,
  room: Room,
): { readonly side: 'left' | 'right'; readonly fixes: readonly Fix[] } | undefined {
  if (opening.leaf.kind !== 'swing') return undefined;
  const side = opening.leaf.hinge === 'left' ? 'right' : 'left';
  const turned: OpeningLayout = { ...opening, leaf: { ...opening.leaf, hinge: side } };
  const swing = swingOf(turned);
  if (!swing) return undefined;
  // Told nobody: it is a suggestion and not what is drawn.
  const { record: _, ...quiet } = input;
  const isMet = candidates({ opening: turned, swing, swept }, quiet, room).some(({ cover }) => meetsLeaf(swing, cover));
  return isMet ? undefined : { side, fixes: flipFix(opening, side) };
}

function flipFix({ leaf }: OpeningLayout, side: 'left' | 'right'): Fix[] {
  const { statement } = leaf.place;
  const other = side === 'left' ? 'right' : 'left';
  const written = statement.items.flatMap((i) => (i.kind === 'path' ? i.words : [])).find((w) => w.text === other);
  if (statement.word.text !== 'swing' || !written) return [];
  return [
    {
      title: `Write hinged ${side} instead of hinged ${other}`,
      edits: [{ place: { statement, start: written.start, end: written.end }, text: side }],
    },
  ];
}

/** The greatest depth at which a fitting is out of the leaf's way: depths are tried by halves. Undefined where none is. */
function clearingDepth({ swing, swept }: Door, fitting: FittingLayout, room: Room): Ticks | undefined {
  const [back, front] = fitting.box.y;
  const clears = (depth: Ticks): boolean => {
    const box = { ...fitting.box, y: [back, add(back, depth)] as const };
    const cover = coverSeenFrom(swept, { wall: fitting.wall, box }, room);
    return cover !== undefined && meetsLeaf(swing, cover) === undefined;
  };
  let [low, high]: [Ticks, Ticks] = [NONE, subtract(front, back)];
  while (high - low > 1) {
    const middle = ticks(Math.floor((low + high) / 2));
    if (clears(middle)) low = middle;
    else high = middle;
  }
  // A board of less than this is none.
  return roundDown(low, inches(1 / 8)) >= inches(4) &&
    (fitting.kind !== 'drawers' || statementOf(fitting.place.statement, 'depth'))
    ? roundDown(low, inches(1 / 8))
    : undefined;
}

/** Drawers that come out into the swing, past a leaf that stands open. */
function drawersInSwing({ opening, swing, swept }: Door, input: CheckInput, room: Room): Finding[] {
  const found: Finding[] = [];
  for (const drawers of fittingsOf(input.layout)) {
    if (drawers.kind !== 'drawers' || !shareHeight(drawers.box.z, swept.box.z)) continue;
    const closed = coverSeenFrom(swept, drawers, room);
    const out = coverSeenFrom(swept, movingOf(drawers).swept, room);
    if (!closed || !out || meetsLeaf(swing, closed)) continue;
    const met = meetsLeaf(swing, out);
    const comparison = comparisonOf(opening, `${nameOf(drawers)}, out`, met?.distance ?? opening.width);
    // What comes out against the leaf as it stands open is told as that.
    if (met && meetPlane(standingOpen(swing), out)) continue;
    if (looked(input, drawerInSwing, drawers, comparison, met === undefined) || !met) continue;
    const length = (amount: Ticks) => showLength(amount, input.show);
    found.push(
      about(
        drawerInSwing,
        drawers,
        drawers.place,
        `Pulled out, ${nameOf(drawers)} stand in the swing of opening "${opening.name}": ${length(met.distance)} from its hinges, and the leaf is ${length(opening.width)} wide.`,
        {
          advice: 'Close the drawers before the door is moved, or let it swing out, or slide.',
          related: [{ place: opening.leaf.place, message: `The leaf of opening "${opening.name}" swings here.` }],
          comparison,
          fixes: swungOut(opening),
        },
      ),
    );
  }
  return found;
}
