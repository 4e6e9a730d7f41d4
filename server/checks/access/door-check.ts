/** The way to a closet and into it: floor, doorways, room to turn, and what sticks out. */

import type { Place } from '../../../grammar/tree.ts';
import { examplesIn } from '../../model/examples.ts';
import { type Comparison, type Finding, type Fix, finding } from '../../model/finding.ts';
import type { FittingLayout, OpeningLayout } from '../../model/layout.ts';
import type { Rule } from '../../model/rule.ts';
import { type Show, showLength } from '../../model/show.ts';
import { add, least, NONE, subtract, type Ticks } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import {
  about as aboutFitting,
  capital,
  compared,
  either,
  fittingsOf,
  fromTemplate,
  nameOf,
  relatedLimit,
  verb,
} from '../say.ts';
import { statementOf, writeIn, writeLength } from '../swings/fixes.ts';
import { type Closet, clearWidth, deepFrom, facingBox } from './closet.ts';
import { floorLacks, needsTypeBAdvice, shallowDoor, slideClearance, swingClearances, typeBDoor } from './doors.ts';
import { approachesOn, clearFloorFor, turningSpace } from './floor.ts';
import { accessLimit } from './limits.ts';
import { protrudesBy, protruding } from './protrude.ts';
import {
  doorwayTooNarrow,
  floorBeforeDoor,
  floorBeforeOpening,
  narrowShallowOpening,
  protrudingFitting,
  turningSpaceTooSmall,
  typeBCloset,
} from './rules.ts';
import { askedReaches, type Seen } from './seen.ts';

/** Everything but reach itself. `seen` tells whether a shelf is within the side reach. */
export function doors(input: CheckInput, closet: Closet, seen: readonly Seen[]): Finding[] {
  const { opening } = closet;
  const found = [...protrusions(input, closet)];
  if (closet.entered) found.push(...turning(input, closet));
  if (!opening) {
    const place = input.layout.walls[0]?.place;
    const rule = closet.entered ? doorwayTooNarrow : floorBeforeOpening;
    if (place) input.record?.lacks({ rule, about: '', place, needs: 'an opening: how one gets to the closet' });
    return found;
  }
  if (closet.entered) return [...found, ...doorway(opening, input), ...beforeDoor(opening, input)];
  found.push(...beforeOpening(opening, input), ...narrow(opening, input));
  return [...found, ...typeB(opening, input, closet, seen)];
}

interface Judged {
  readonly rule: Rule;
  readonly about: string;
  readonly place: Place;
  readonly comparison: Comparison;
  readonly holds: boolean;
}

/** Records a comparison, and makes a finding of it where it does not hold. */
function judge(
  judged: Judged,
  input: CheckInput,
  message: string,
  advice: string,
  related: Finding['related'] = [],
  fixes: readonly Fix[] = [],
): Finding[] {
  input.record?.looked(judged);
  if (judged.holds) return [];
  const { rule, place, about, comparison } = judged;
  return [finding(rule, place, message, { about, causes: fromTemplate, advice, related, comparison, fixes })];
}

function beforeOpening(opening: OpeningLayout, input: CheckInput): Finding[] {
  const { record, policy, show } = input;
  const { floor, name, place } = opening;
  if (!floor) {
    const needs = `the clear floor before opening "${name}": \`clear-floor ${examplesIn('48in by 30in', show.system)}\``;
    record?.lacks({ rule: floorBeforeOpening, about: name, place, needs });
    return [];
  }
  const length = (amount: Ticks) => showLength(amount, show);
  const asked = askedReaches(policy).map(({ approach }) => ({ approach, needed: clearFloorFor(approach) }));
  const fits = approachesOn(floor);
  const short = asked.map(({ approach, needed }) => {
    const wide = subtract(floor.width, needed.width);
    const deep = subtract(floor.depth, needed.depth);
    return { approach, needed, worst: wide < deep ? ('width' as const) : ('depth' as const), by: least(wide, deep) };
  });
  const [best] = short.sort((a, b) => b.by - a.by);
  if (!best) return [];
  const ways = asked.map(
    ({ approach, needed }) => `a ${approach} reach needs ${length(needed.width)} by ${length(needed.depth)}`,
  );
  return judge(
    {
      rule: floorBeforeOpening,
      about: name,
      place: floor.place,
      comparison: compared(
        `${best.worst} of the clear floor before "${name}" for a ${best.approach} reach`,
        floor[best.worst],
        'at least',
        best.needed[best.worst],
      ),
      holds: asked.some(({ approach }) => fits.includes(approach)),
    },
    input,
    `The clear floor before opening "${name}" is ${length(floor.width)} by ${length(floor.depth)}; ${either(ways)}.`,
    `Keep ${length(subtract(NONE, best.by))} more of it free in ${best.worst}, along the opening or out from it.`,
  );
}

function doorway(opening: OpeningLayout, input: CheckInput): Finding[] {
  const { policy, show, record } = input;
  const limit = accessLimit(policy, 'doorway-width');
  const needed = limit.least ?? NONE;
  const clear = clearWidth(opening);
  const { name, place, leaf } = opening;
  const judged = { rule: doorwayTooNarrow, about: name, place };
  if (leaf.kind === 'swing' || leaf.kind === 'bifold') {
    record?.lacks({ ...judged, needs: `the thickness of the leaf of "${name}" and of its stop` });
  }
  const half = leaf.kind === 'sliding' ? `, half of ${showLength(opening.width, show)} with sliding leaves` : '';
  return judge(
    { ...judged, comparison: compared(`clear width of "${name}"`, clear, 'at least', needed), holds: clear >= needed },
    input,
    `Opening "${name}" is ${showLength(clear, show)} clear${half}; ${showLength(needed, show)} is asked for where a person enters in a wheelchair.`,
    `Widen it by ${showLength(subtract(needed, clear), show)}, or have leaves that leave more of it clear.`,
    relatedLimit(limit, 'The width is set here.'),
    leaf.kind === 'sliding' ? [] : wider(opening, needed, show),
  );
}

/** An opening is made in a wall, which nobody does for a check unasked. */
function wider({ place, width }: OpeningLayout, needed: Ticks, show: Show): Fix[] {
  const stated = statementOf(place.statement, 'width');
  return stated ? writeIn(stated, width, needed, 'up', show).map((fix) => ({ ...fix, byHand: true })) : [];
}

/** From where one comes, as the tables have it for leaves that slide and fold, and where there is none. */
const sliding = { front: 'front', hinge: 'pocket or hinge', latch: 'stop or latch' } as const;
const ways = { front: 'from the front', hinge: 'from the side of the hinges', latch: 'from the side of the latch' };

function beforeDoor(opening: OpeningLayout, input: CheckInput): Finding[] {
  const { record, show } = input;
  const { floor, name, place, leaf, width, approach } = opening;
  const judged = { rule: floorBeforeDoor, about: name, place };
  const from = approach?.from ?? 'front';
  const pulls = leaf.kind === 'swing' && leaf.way === 'out';
  const slide = leaf.kind === 'none' && from !== 'front' ? 'side' : sliding[from];
  const one = leaf.kind === 'swing' ? undefined : slideClearance(slide, width);
  const rows = leaf.kind === 'swing' ? swingClearances(from, pulls ? 'pull' : 'push') : one ? [one] : [];
  if (rows.length === 0) return [];
  if (!floor) {
    record?.lacks({ ...judged, needs: `the clear floor before opening "${name}"` });
    return [];
  }
  const length = (amount: Ticks) => showLength(amount, show);
  // All that the floor is wider than the opening lies at best on the side where it is asked for.
  const beside = subtract(floor.width, width);
  const lacks = floorLacks(rows, { out: floor.depth, beyondLatch: beside, beyondHinge: beside });
  if (!lacks) return [];
  const { row } = lacks;
  const wide = add(width, row.beyond);
  const side = row.side === 'latch' ? 'its latch' : 'its hinges';
  const comparison =
    lacks.out >= lacks.beyond
      ? compared(`clear floor out from "${name}"`, floor.depth, 'at least', row.out)
      : compared(`clear floor along "${name}" and beyond ${side}`, floor.width, 'at least', wide);
  const beyond =
    row.beyond === 0 ? 'the width of the opening' : `${length(row.beyond)} beyond ${side}, ${length(wide)} in all`;
  const related = [{ place, message: `Opening "${name}" is ${length(width)} wide.` }];
  if (approach) related.push({ place: approach.place, message: `One comes to it ${ways[from]}.` });
  return judge(
    { ...judged, place: floor.place, comparison, holds: lacks.out === 0 && lacks.beyond === 0 },
    input,
    `The clear floor before opening "${name}" is ${length(floor.width)} by ${length(floor.depth)}; to come ${ways[from]} and ${pulls ? 'pull it open' : 'pass'}, ${length(row.out)} out from it and ${beyond} are needed.`,
    'Keep more floor free before the door, or choose another leaf.',
    related,
  );
}

function narrow(opening: OpeningLayout, input: CheckInput): Finding[] {
  const { show } = input;
  const clear = clearWidth(opening);
  const { name, place } = opening;
  return judge(
    {
      rule: narrowShallowOpening,
      about: name,
      place,
      comparison: compared(`clear width of "${name}"`, clear, 'at least', shallowDoor.wide),
      holds: clear >= shallowDoor.wide,
    },
    input,
    `Opening "${name}" of a closet that is reached into is ${showLength(clear, show)} clear; an older federal standard ends at ${showLength(shallowDoor.wide, show)}.`,
    `Widen it by ${showLength(subtract(shallowDoor.wide, clear), show)}.`,
    [],
    opening.leaf.kind === 'sliding' ? [] : wider(opening, shallowDoor.wide, show),
  );
}

function typeB(opening: OpeningLayout, input: CheckInput, closet: Closet, seen: readonly Seen[]): Finding[] {
  const { policy, show } = input;
  if (!policy.demands.reach.side) return [];
  const depth = deepFrom(closet);
  const clear = clearWidth(opening);
  const shelvedWithinSideReach = seen.some(
    (one) => one.fitting.kind === 'shelf' && one.attempts.some(({ approach, within }) => approach === 'side' && within),
  );
  return judge(
    {
      rule: typeBCloset,
      about: opening.name,
      place: opening.place,
      comparison: compared(`clear width of "${opening.name}"`, clear, 'at least', typeBDoor.wide),
      holds: !needsTypeBAdvice({ depth, door: clear, shelvedWithinSideReach }),
    },
    input,
    `The closet is ${showLength(depth, show)} deep, its opening "${opening.name}" is ${showLength(clear, show)} clear, and no shelf is within the side reach.`,
    `Advice for dwellings: over ${showLength(typeBDoor.deeperThan, show)} deep, an opening ${showLength(typeBDoor.wide, show)} clear, or a shelf within the side reach.`,
  );
}

function turning(input: CheckInput, closet: Closet): Finding[] {
  const { policy, show, layout } = input;
  const depth = deepFrom(closet);
  const place = layout.walls.find(({ name }) => name === closet.facing)?.place ?? layout.walls[0]?.place;
  if (turningSpace(depth) === undefined || !place) return [];
  const limit = accessLimit(policy, 'turning-space');
  const needed = limit.least ?? NONE;
  const { width, depth: out } = closet.free;
  const free = least(width, out);
  return judge(
    {
      rule: turningSpaceTooSmall,
      about: '',
      place,
      comparison: compared('free floor inside, the shorter way', free, 'at least', needed),
      holds: free >= needed,
    },
    input,
    `The closet is ${showLength(depth, show)} deep, and the floor that is free between its fittings is ${showLength(width, show)} by ${showLength(out, show)}; a circle ${showLength(needed, show)} across is asked for to turn in.`,
    'Take shallower fittings, or leave a wall free; a T-shaped space may do as well and is not looked for.',
    relatedLimit(limit, 'The space is set here.'),
  );
}

function protrusions(input: CheckInput, closet: Closet): Finding[] {
  const { layout, policy, show, record } = input;
  const limit = accessLimit(policy, 'protrusion');
  const most = limit.most ?? protruding.fromWall;
  const line = deepFrom(closet);
  const found: Finding[] = [];
  for (const fitting of fittingsOf(layout)) {
    const box = facingBox(fitting, closet.facing, closet);
    const out = box && subtract(box.y[1], line);
    if (!box || out === undefined || out <= 0) continue;
    const edge = box.z[0];
    const by = protrudesBy({ edge, out }, most);
    const comparison = compared(`reach of "${fitting.path}" beyond the front`, out, 'at most', most);
    record?.looked({
      rule: protrudingFitting,
      about: fitting.path,
      place: fitting.place,
      comparison,
      holds: by === undefined,
    });
    if (by === undefined) continue;
    const length = (amount: Ticks) => showLength(amount, show);
    found.push(
      aboutFitting(
        protrudingFitting,
        fitting,
        fitting.place,
        `${capital(nameOf(fitting))} ${verb(fitting, 'reaches', 'reach')} ${length(out)} beyond the front of the closet, ${length(edge)} above the floor; ${length(most)} is the most where a cane does not find it.`,
        {
          advice: `Set it back by at least ${length(by)}.`,
          related: relatedLimit(limit, `The limit is set here: at most ${length(most)}.`),
          comparison,
          fixes: fitting.wall === closet.facing ? setBack(fitting, by, show) : [],
        },
      ),
    );
  }
  return found;
}

/** A rod stands nearer to the wall; whatever else is there is less deep. */
function setBack(fitting: FittingLayout, by: Ticks, show: Show): Fix[] {
  if (fitting.kind === 'rod')
    return writeLength(fitting, 'from', fitting.fromWall, subtract(fitting.fromWall, by), 'down', show);
  const depth = subtract(fitting.box.y[1], fitting.box.y[0]);
  return writeLength(fitting, 'depth', depth, subtract(depth, by), 'down', show);
}
