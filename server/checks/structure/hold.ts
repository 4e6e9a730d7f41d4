/** Whether hardware, screws and anchors hold what shelves and rods press on them with. */
import type { Finding, Working } from '../../model/finding.ts';
import type { Hardware } from '../../model/materials.ts';
import { memo } from '../../model/memo.ts';
import type { Rule } from '../../model/rule.ts';
import { showLength } from '../../model/show.ts';
import { inches } from '../../model/ticks.ts';
import { type CheckInput, lacks, looked, passesUnheard } from '../check.ts';
import type { Fixings } from '../fixings/schedule.ts';
import { about, both, wallName } from '../say.ts';
import { atLeastText, forceAmount, forceText, massText, nearText } from './amounts.ts';
import { type Burden, burdensOf, loadText } from './burden.ts';
import { anchorHold, bracketPull, leverAssumption, penetration, withdrawal } from './fastener.ts';
import { framingNamed } from './materials.ts';
import { perSchedule } from './once.ts';
import { anchorPastRating, hardwarePastRating, screwsPulled } from './rules.ts';
import { readScrew } from './screw.ts';
import { GRAVITY, metres } from './units.ts';

/** Where a wall does not state its lining: the fallback of the word, common practice, no source. */
const usualLining = inches(1 / 2);

/** Asked for by the schedule, to see how many brackets are needed, and then by the rules. */
const unheard = perSchedule<readonly Finding[]>();

export function holds(input: CheckInput, schedule: Fixings): readonly Finding[] {
  return input.record ? compareAll(input, schedule) : unheard(schedule, input, '', () => compareAll(input, schedule));
}

function compareAll(input: CheckInput, schedule: Fixings): readonly Finding[] {
  const { known, unknown } = burdensOf(input, schedule);
  for (const { fitting, needs } of unknown) {
    for (const rule of [hardwarePastRating, anchorPastRating, screwsPulled]) lacks(input, rule, fitting, needs);
  }
  const past = known.flatMap((burden) => [...rating(burden, input), ...inWall(burden, input)]);
  const alike = Map.groupBy(past, ({ rule, burden: { fitting, fixing } }) => {
    return `${rule.id} ${fitting.path} ${fixing.hardware.name}`;
  });
  return [...alike.values()].flatMap((of) => worst(of));
}

/** A piece of hardware that is past a limit. */
interface Past {
  readonly rule: Rule;
  readonly burden: Burden;
  /** How many times the limit. */
  readonly times: number;
  readonly told: (others: readonly Burden[]) => Finding;
}

/** Of the pieces of one kind under one shelf or rod the worst is told, and which others are past the limit too. */
function worst(past: readonly Past[]): Finding[] {
  const [first] = past;
  if (!first) return [];
  const most = past.reduce((one, other) => (other.times > one.times ? other : one), first);
  return [most.told(past.filter((one) => one !== most).map(({ burden }) => burden))];
}

const down = ({ loads }: Burden) => loads.reduce((sum, { force }) => sum + force, 0);

interface InWall {
  readonly count: number;
  readonly first: Hardware['screws'][number] | undefined;
  readonly screw: ReturnType<typeof readScrew>;
}

const inWalls = new WeakMap<Hardware, InWall>();

/** The screws that hold one piece of hardware in the wall. */
function screwsInWall(hardware: Hardware): InWall {
  return memo(inWalls, hardware, () => {
    const screws = hardware.screws.filter(({ into }) => into === 'wall');
    const [first] = screws;
    return { count: screws.reduce((sum, { count }) => sum + count, 0), first, screw: readScrew(first?.size ?? '') };
  });
}

/** The load that its maker rates the hardware itself for. */
function rating(burden: Burden, input: CheckInput): Past[] {
  const { hardware } = burden.fixing;
  if (hardware.rated === undefined) {
    lacks(input, hardwarePastRating, burden.fitting, `the rating of hardware "${hardware.name}"`);
    return [];
  }
  return compare(burden, hardwarePastRating, down(burden), hardware.rated * GRAVITY, input, () => ({
    what: `load on "${hardware.name}"`,
    working: () => loadsWorking(burden, input),
    said: (force, limit) => `carries ${force}, and its maker rates it for ${limit}`,
    advice: () => `Set more of them, or one that is rated for at least ${massText(down(burden), input.show)}.`,
  }));
}

/** What pulls on and pushes down the fasteners of hardware in the wall. */
function inWall(burden: Burden, input: CheckInput): Past[] {
  const { fixing, fitting, loads } = burden;
  const { hardware, hold, role } = fixing;
  if (hold.kind === 'part') return [];
  const rules = [anchorPastRating, screwsPulled];
  const missing = (needs: string, of: readonly Rule[] = rules): Past[] => {
    for (const rule of of) lacks(input, rule, fitting, needs);
    return [];
  };
  if (hold.kind === 'not-known') return missing(`the studs of ${wallName(fixing.wall ?? fitting.wall)}`);
  const { count } = screwsInWall(hardware);
  if (count === 0) return missing(`the screws of hardware "${hardware.name}" into the wall`);
  const shear = down(burden) / count;
  let pulled = (): readonly Working[] => [];
  const working = () => [...loadsWorking(burden, input), ...pulled()];
  let pull = 0;
  if (role === 'bracket') {
    if (hardware.leg === undefined) return missing(`the leg of hardware "${hardware.name}"`);
    const { leg } = hardware;
    const arm = metres(leg);
    const turning = loads.reduce((sum, { force, reach }) => sum + force * reach, 0);
    const upper = Math.max(1, Math.floor(count / 2));
    const each = (bracketPull({ load: 1, reach: turning, arm }) ?? 0) / upper;
    pull = each;
    pulled = () => [
      {
        what: 'pull on each upper screw',
        value: forceText(each, input.show),
        how: `turning moment / leg of ${showLength(leg, input.show)} / ${upper}: ${leverAssumption}`,
      },
    ];
  }
  if (hold.kind === 'anchor') {
    if (!hold.anchor) return missing(`the anchor of hardware "${hardware.name}"`, [anchorPastRating]);
    return onAnchor(burden, hold.anchor, Math.hypot(pull, shear), working, input);
  }
  return role === 'bracket' ? inStud(burden, pull, working, input) : [];
}

function onAnchor(
  burden: Burden,
  anchor: { readonly name: string; readonly rated: number | undefined },
  force: number,
  working: () => readonly Working[],
  input: CheckInput,
): Past[] {
  const factor = input.policy.demands.anchorFactor;
  const limit = anchor.rated === undefined ? undefined : anchorHold(anchor.rated, factor?.value ?? 1);
  if (limit === undefined) {
    lacks(input, anchorPastRating, burden.fitting, `the rating of anchor "${anchor.name}"`);
    return [];
  }
  const divided = factor ? `, divided by ${factor.value}` : '';
  return compare(burden, anchorPastRating, force, limit, input, () => ({
    what: `load on each "${anchor.name}"`,
    working: () => [
      ...working(),
      { what: 'load on each anchor', value: forceText(force, input.show), how: 'pull and push down together' },
    ],
    said: (measured, most) => `puts ${measured} on each "${anchor.name}", which its maker rates for ${most}${divided}`,
    advice: () =>
      `Move it to a stud, set more of them, or take an anchor that is rated for at least ${massText(force * (factor?.value ?? 1), input.show)}.`,
    related: factor
      ? [{ place: factor.place, message: `Ratings of anchors are divided by ${factor.value} here.` }]
      : [],
  }));
}

function inStud(burden: Burden, pull: number, working: () => readonly Working[], input: CheckInput): Past[] {
  const { fixing, fitting } = burden;
  const missing = (needs: string): Past[] => {
    lacks(input, screwsPulled, fitting, needs);
    return [];
  };
  const wall = input.layout.walls.find(({ name }) => name === fixing.wall);
  const framing = wall?.framing && framingNamed(wall.framing);
  if (!framing) return missing(`the framing of ${wallName(fixing.wall ?? fitting.wall)}`);
  const { first, screw } = screwsInWall(fixing.hardware);
  if (screw.kind === 'unreadable') return missing(`a size that can be read of the screws of ${fixing.hardware.name}`);
  const lining = wall?.lining ?? usualLining;
  const { thread } = penetration(screw, [metres(lining)]);
  const perMetre = withdrawal('wood-screw', framing.gravity, screw.diameter) ?? 0;
  const { show } = input;
  const limit = perMetre * thread;
  const advice = () => {
    // Of a screw two thirds are thread, and what is left of it past the lining holds.
    const needed = pull / perMetre;
    const long = Math.max(needed * (screw.length / screw.thread), needed + metres(lining));
    const leg =
      fixing.hardware.leg !== undefined && limit > 0 ? (metres(fixing.hardware.leg) * pull) / limit : undefined;
    const taller = leg === undefined ? '' : ` a bracket with a leg of at least ${atLeastText(leg, show)},`;
    return `Take screws at least ${atLeastText(long, show)} long,${taller} more screws or more brackets.`;
  };
  return compare(burden, screwsPulled, pull, limit, input, () => ({
    what: `pull on each upper screw of "${fixing.hardware.name}"`,
    working: () => [
      ...working(),
      {
        what: 'thread in the stud',
        value: nearText(thread, show),
        how: `of ${first?.size}, two thirds of it threaded (from memory), past ${showLength(lining, show)} of lining`,
      },
      {
        what: 'withdrawal allowed',
        value: forceText(limit, show),
        how: `2850 G2 D an inch of thread, G ${framing.gravity} (${framing.name})`,
      },
    ],
    said: (measured, most) =>
      `pulls each of its upper screws with ${measured}; a screw "${first?.size}" in ${framing.name} behind ${showLength(lining, show)} of lining is allowed ${most}`,
    advice,
  }));
}

interface Saying {
  readonly what: string;
  readonly working: () => readonly Working[];
  readonly said: (measured: string, limit: string) => string;
  readonly advice: () => string;
  readonly related?: Finding['related'];
}

function compare(
  burden: Burden,
  rule: Rule,
  measured: number,
  limit: number,
  input: CheckInput,
  says: () => Saying,
): Past[] {
  if (passesUnheard(input, measured <= limit)) return [];
  const saying = says();
  const { fixing, fitting } = burden;
  const { show } = input;
  const comparison = {
    what: saying.what,
    measured: forceAmount(measured, show),
    relation: 'at most' as const,
    limit: forceAmount(limit, show),
  };
  if (looked(input, rule, fitting, comparison, measured <= limit, saying.working)) return [];
  const told = saying.said(forceText(measured, show), forceText(limit, show));
  const withOthers = (others: readonly Burden[]): Finding => {
    const more = others.map((other) => showLength(other.fixing.at, show));
    const also =
      more.length === 0
        ? ''
        : ` ${more.length === 1 ? 'That' : 'Those'} at ${both(more)} ${more.length === 1 ? 'is' : 'are'} past it too.`;
    return about(
      rule,
      fitting,
      fitting.place,
      `"${fixing.hardware.name}" at ${showLength(fixing.at, show)} ${told}. It carries ${both(burden.loads.map(loadText))}.${also}`,
      {
        advice: `${saying.advice()} ${rule.caution ?? ''}`.trim(),
        related: [
          { place: fixing.hardware.place, message: `Hardware "${fixing.hardware.name}" is stated here.` },
          ...(saying.related ?? []),
        ],
        comparison,
        working: saying.working(),
      },
    );
  };
  return [{ rule, burden, times: measured / limit, told: withOthers }];
}

function loadsWorking({ loads }: Burden, { show }: CheckInput): Working[] {
  return loads.map((load) => ({
    what: `load of ${loadText(load)}`,
    value: forceText(load.force, show),
    how: `${nearText(load.reach, show)} from the wall`,
  }));
}
