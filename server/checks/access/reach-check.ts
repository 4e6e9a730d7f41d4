/** Of each kind of storage at least one within reach; advice for children; the share that kitchens have. */
import { type Finding, finding, type Related } from '../../model/finding.ts';
import { showLength } from '../../model/show.ts';
import { subtract } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import { capital, fittingsOf, fromTemplate, half, nameOf, verb } from '../say.ts';
import { writeIn } from '../swings/fixes.ts';
import { childReach, childReached } from './children.ts';
import { type Closet, positionAt } from './closet.ts';
import { heightFixes } from './fixes.ts';
import { isOfOldEdition, side1991, side2010 } from './reach.ts';
import { childCannotReach, halfOfShelvesWithinReach, noneWithinReach, reachOfOldEdition } from './rules.ts';
import {
  askedReaches,
  comparisonOf,
  heightsOf,
  isStorage,
  missedBy,
  moveOf,
  nearestOf,
  type Seen,
  whyNot,
  workingOf,
} from './seen.ts';
import { noneWithinReach as kindsWithout, shareWithin } from './storage.ts';

const kinds = { rod: 'rods', shelf: 'shelves', drawers: 'stacks of drawers' } as const;

export function reaches(seen: readonly Seen[], input: CheckInput, closet: Closet): Finding[] {
  recordAll(seen, input);
  return [...withoutReach(seen, input, closet), ...halfOfShelves(seen, input)];
}

function recordAll(seen: readonly Seen[], { record, show }: CheckInput): void {
  if (!record) return;
  for (const { fitting, attempts } of seen) {
    const about = { rule: noneWithinReach, about: fitting.path, place: fitting.atPlace };
    for (const attempt of attempts) {
      const comparison = comparisonOf(attempt, fitting);
      record.looked({ ...about, comparison, holds: attempt.within, working: workingOf(attempt, show) });
    }
  }
}

function withoutReach(seen: readonly Seen[], input: CheckInput, closet: Closet): Finding[] {
  const groups = Map.groupBy(seen, ({ fitting }) => fitting.kind);
  const asked = [...groups].map(([kind, own]) => ({
    kind: kinds[kind],
    things: own.map((thing) => ({
      thing,
      get within() {
        return thing.within;
      },
    })),
  }));
  return kindsWithout(asked).flatMap(({ kind, things }) => {
    const own = things.map(({ thing }) => thing);
    return noneOf(kind, own, input, closet);
  });
}

function noneOf(kind: string, own: readonly Seen[], input: CheckInput, closet: Closet): Finding[] {
  const { show } = input;
  const attempts = new Map(
    own.flatMap(({ fitting, attempts: all }) => {
      const nearest = nearestOf(all);
      return nearest ? [[fitting, nearest] as const] : [];
    }),
  );
  const [nearest, ...others] = [...attempts].sort(([, a], [, b]) => missedBy(a) - missedBy(b));
  if (!nearest) return [];
  const [fitting, attempt] = nearest;
  const why = whyNot(attempt, positionAt(fitting.wall, closet), show);
  const which =
    own.length === 1
      ? `${capital(nameOf(fitting))} ${verb(fitting, 'is', 'are')} the only one of its kind, at ${showLength(attempt.height, show)}, and it is out of reach`
      : `None of the ${own.length} ${kind} is within reach. The nearest, ${nameOf(fitting)}, is at ${showLength(attempt.height, show)}`;
  const move = moveOf(attempt);
  const way = move
    ? `${move.up ? 'Raise' : 'Lower'} it by ${showLength(move.by, show)}, to ${showLength(move.to, show)}`
    : 'Bring one nearer to the front, or stand less before it';
  const related: Related[] = askedReaches(input.policy).map(({ approach, asked }) => ({
    place: asked.place,
    message: `Policy "${asked.policy}" asks for a ${approach} reach up to ${showLength(asked.value, show)}.`,
  }));
  for (const [other, its] of others.slice(0, 3)) {
    related.push({
      place: other.atPlace,
      message: `${capital(nameOf(other))} ${verb(other, 'is', 'are')} at ${showLength(its.height, show)}.`,
    });
  }
  return [
    finding(noneWithinReach, fitting.atPlace, `${which}: ${why}.`, {
      about: '',
      causes: fromTemplate,
      advice: `${way}${own.length === 1 ? '' : '; one of them within reach is enough'}. Ask whoever applies the local accessibility code what has to be within reach.`,
      related,
      comparison: comparisonOf(attempt, fitting),
      working: workingOf(attempt, show),
      fixes: move ? heightFixes(fitting, move, input) : [],
    }),
  ];
}

/** Asked for only where a policy names the rule: closets are no kitchens. */
function halfOfShelves(seen: readonly Seen[], { policy, record, show }: CheckInput): Finding[] {
  const shelves = seen.filter(({ fitting }) => fitting.kind === 'shelf');
  const first = shelves[0]?.fitting;
  if (!first) return [];
  const about = { rule: halfOfShelvesWithinReach, about: '', place: first.place };
  if (!policy.severities.has(halfOfShelvesWithinReach.id)) {
    record?.lacks({ ...about, needs: 'a policy that names the rule' });
    return [];
  }
  const share = shareWithin(
    shelves.flatMap(({ fitting, length }) => {
      const all = subtract(fitting.box.x[1], fitting.box.x[0]);
      return [
        { space: length, within: true },
        { space: subtract(all, length), within: false },
      ];
    }),
  );
  const comparison = {
    what: 'length of shelves within reach',
    measured: { ticks: share.within },
    relation: 'at least' as const,
    limit: { ticks: half(share.all) },
  };
  record?.looked({ ...about, comparison, holds: share.enough });
  if (share.enough) return [];
  const short = subtract(half(share.all), share.within);
  return [
    finding(
      halfOfShelvesWithinReach,
      first.place,
      `Of ${showLength(share.all, show)} of shelf, ${showLength(share.within, show)} is within reach, which is less than half.`,
      {
        about: '',
        causes: fromTemplate,
        advice: `Bring ${showLength(short, show)} more of it within reach.`,
        comparison,
      },
    ),
  ];
}

/** Said once of the policy itself. */
export function oldEdition({ policy, record, show }: CheckInput): Finding[] {
  const asked = policy.demands.reach.side;
  if (!asked) return [];
  const comparison = {
    what: `side reach of policy "${asked.policy}"`,
    measured: { ticks: asked.value },
    relation: 'at most' as const,
    limit: { ticks: side2010.highest },
  };
  const old = isOfOldEdition(asked.value);
  record?.looked({ rule: reachOfOldEdition, about: '', place: asked.place, comparison, holds: !old });
  if (!old) return [];
  const [given, now, before] = [asked.value, side2010.highest, side1991.highest].map((l) => showLength(l, show));
  return [
    finding(
      reachOfOldEdition,
      asked.place,
      `A side reach up to ${given} is more than the standards of 2010 have, which end at ${now}; the guidelines of 1991 that they replaced went to ${before} (from memory).`,
      {
        about: '',
        causes: fromTemplate,
        advice: `Write \`reach side ${now}\` unless the older edition is meant.`,
        comparison,
        fixes: writeIn(asked.place.statement, asked.value, side2010.highest, 'down', show),
      },
    ),
  ];
}

/** Heights only: the published guidance is for either reach. */
export function children(input: CheckInput): Finding[] {
  const { layout, policy, show, record } = input;
  const child = policy.demands.child;
  if (!child) return [];
  const row = childReach(child.value);
  const fittings = fittingsOf(layout).filter(isStorage);
  if (!row) {
    const [first] = fittings;
    if (first) {
      const needs = `an age from 3 to 12 years; policy "${child.policy}" says ${child.value}`;
      record?.lacks({ rule: childCannotReach, about: '', place: child.place, needs });
    }
    return [];
  }
  const range = `${showLength(row.lowest, show)} to ${showLength(row.highest, show)}`;
  return [...Map.groupBy(fittings, ({ kind }) => kind)].flatMap(([kind, own]) => {
    const tries = own.flatMap((fitting) => heightsOf(fitting).map((height) => ({ fitting, height })));
    const off = ({ height }: (typeof tries)[number]) => Math.max(height - row.highest, row.lowest - height, 0);
    const [nearest] = tries.sort((a, b) => off(a) - off(b));
    if (!nearest) return [];
    const { fitting, height } = nearest;
    const result = childReached(row, height);
    const high = result === 'too high';
    const comparison = {
      what: `height of ${nameOf(fitting)}, the nearest of the ${kinds[kind]}`,
      measured: { ticks: height },
      relation: result === 'too low' ? ('at least' as const) : ('at most' as const),
      limit: { ticks: result === 'too low' ? row.lowest : row.highest },
    };
    record?.looked({
      rule: childCannotReach,
      about: '',
      place: fitting.atPlace,
      comparison,
      holds: result === 'within',
    });
    if (result === 'within') return [];
    const by = high ? subtract(height, row.highest) : subtract(row.lowest, height);
    return [
      finding(
        childCannotReach,
        fitting.atPlace,
        `At ${child.value} years one reaches from ${range}, as published guidance has it; of the ${kinds[kind]} the nearest, ${nameOf(fitting)}, is at ${showLength(height, show)}.`,
        {
          about: '',
          causes: fromTemplate,
          advice: `${high ? 'Lower' : 'Raise'} it by ${showLength(by, show)} if the child is to reach it. This is advice; children grow.`,
          related: [{ place: child.place, message: `Policy "${child.policy}" says ${child.value} years.` }],
          comparison,
          fixes: heightFixes(fitting, { by, up: !high }, input),
        },
      ),
    ];
  });
}
