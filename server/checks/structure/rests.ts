/** What holds the front of a shelf, or a rod, along its length. */
import type { Layout, RodLayout, ShelfLayout } from '../../model/layout.ts';
import { lately, memo } from '../../model/memo.ts';
import { type Show, showLength } from '../../model/show.ts';
import { NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { endOf } from '../fixings/ends.ts';
import { type Fixing, sides } from '../fixings/fixing.ts';
import type { Fixings } from '../fixings/schedule.ts';
import { both } from '../say.ts';
import type { Support } from './beam-input.ts';
import { metres } from './units.ts';

export interface Rest {
  readonly what: 'bracket' | 'hook' | 'cup' | 'pin' | 'tie' | 'end';
  /** From the left end of the shelf or rod. */
  readonly at: Ticks;
}

/** Two things nearer to each other than a millimetre, in ticks, hold one place. */
export const ONE_PLACE = 40_000;

/**
 * Brackets, hooks, and cups, pins and ties at its ends, where the fixing schedule has them. Where those are
 * fewer than two, the ends that meet a wall or a panel count as well, because something has to hold it there;
 * beside two brackets or hooks an end counts only with hardware of its own. From left to right.
 * What is held by the same fixings between the same ends has one and the same list.
 */
export function restsOf(fitting: ShelfLayout | RodLayout, layout: Layout, schedule: Fixings): readonly Rest[] {
  const own = schedule.of.get(fitting.path) ?? nothing;
  const { stated, hasCups } = memo(known, own, () => statedBy(own, fitting));
  if (!hasCups && stated.length >= 2) return stated;
  const [left, right] = sides.map((side) => endOf(fitting, side, layout) !== 'open');
  const length = subtract(fitting.box.x[1], fitting.box.x[0]);
  return withEnds(stated, [left, right, length], () => {
    const what = hasCups ? 'cup' : 'end';
    return placesOf([
      ...stated,
      ...(left ? [{ what, at: NONE } as const] : []),
      ...(right ? [{ what, at: length } as const] : []),
    ]);
  });
}

const withEnds = lately<readonly Rest[], readonly Rest[]>(2);

const nothing: readonly Fixing[] = [];

interface Stated {
  readonly stated: readonly Rest[];
  readonly hasCups: boolean;
}

const known = new WeakMap<readonly Fixing[], Stated>();

/** Cups stand at the ends that meet something, and in the schedule may be measured along the next wall. */
function statedBy(fixings: readonly Fixing[], { box }: ShelfLayout | RodLayout): Stated {
  const rests = fixings.flatMap(({ role, at }): Rest[] =>
    role === 'bracket' || role === 'hook' || role === 'pin' || role === 'tie'
      ? [{ what: role, at: subtract(at, box.x[0]) }]
      : [],
  );
  return { stated: placesOf(rests), hasCups: fixings.some(({ role }) => role === 'cup') };
}

/** From left to right, each place once. */
function placesOf(rests: readonly Rest[]): Rest[] {
  const inOrder = rests.toSorted((a, b) => a.at - b.at);
  return inOrder.filter(({ at }, i) => i === 0 || at - (inOrder[i - 1] as Rest).at > ONE_PLACE);
}

export function supportsOf(rests: readonly Rest[]): Support[] {
  return rests.map(({ at }) => ({ at: metres(at), hold: 'rest' }));
}

/** `its two ends`, `brackets at 6in and 42in`. */
export function restsText(rests: readonly Rest[], show: Show): string {
  if (rests.every(({ what }) => what === 'end')) return rests.length === 2 ? 'its two ends' : 'one end';
  const kinds = [...new Set(rests.map(({ what }) => what))];
  const count = (kind: Rest['what']) => rests.filter(({ what }) => what === kind).length;
  const names = both(kinds.map((kind) => (count(kind) === 1 ? `${kind === 'end' ? 'an' : 'a'} ${kind}` : `${kind}s`)));
  return `${names} at ${both(rests.map(({ at }) => showLength(at, show)))}`;
}
