/** How many brackets a shelf needs for what it carries, and the fixing schedule that has them. */
import type { Finding } from '../../model/finding.ts';
import type { ShelfLayout } from '../../model/layout.ts';
import { recentBy } from '../../model/memo.ts';
import { type Show, showInches } from '../../model/show.ts';
import { type CheckInput, looked } from '../check.ts';
import type { Needed } from '../fixings/fixing.ts';
import { type Fixings, fixingsOf } from '../fixings/schedule.ts';
import { about, capital, fittingsOf, nameOf } from '../say.ts';
import { holds } from './hold.ts';
import { prepareShelf } from './prepared.ts';
import { moreBrackets } from './rules.ts';
import { worstOf } from './stiffen.ts';
import { metres } from './units.ts';

/** Nobody puts more brackets than this under one shelf to save another board. */
const mostMore = 4;
/** Shelves of one unit for which more brackets are tried; the findings of the others speak for themselves. */
const mostTried = 24;

export type ForSchedule = Pick<CheckInput, 'layout' | 'policy'> & { readonly show?: Show };

const known = recentBy<Fixings>(2);

/**
 * The fixing schedule of a unit with so many brackets under each shelf that it sags no further than its policy
 * allows and no anchor carries more than its rating: the least number that does, where any up to a few more does.
 */
export function fixingsFor(input: ForSchedule): Fixings {
  return known([input.layout, input.policy], () => {
    const needed = neededFor(input);
    return needed.size === 0 ? fixingsOf(input.layout) : fixingsOf(input.layout, needed);
  });
}

/** How many brackets a shelf has without asking what it carries. */
function bracketsOf(fixings: Fixings, { path }: ShelfLayout): number {
  return (fixings.of.get(path) ?? []).filter(({ role }) => role === 'bracket').length;
}

function neededFor({ layout, policy, show = showInches }: ForSchedule): Needed {
  const { deflection, loads } = policy.demands;
  const base = fixingsOf(layout);
  const needed = new Map<string, number>();
  if (!deflection.shelf && !loads.shelf && !loads.hanging) return needed;
  // Only whether it holds is wanted; what is computed for that is asked for again by the rules.
  const quiet: CheckInput = { layout, policy, show };
  const overloaded = new Set(holds(quiet, base).map((f) => f.about));
  const failing = fittingsOf(layout).filter(
    (f): f is ShelfLayout =>
      f.kind === 'shelf' && bracketsOf(base, f) > 0 && (overloaded.has(f.path) || !sagsWithin(f, quiet, base)),
  );
  for (const shelf of failing.slice(0, mostTried)) {
    const had = bracketsOf(base, shelf);
    for (let count = had + 1; count <= had + mostMore; count++) {
      const tried = fixingsOf(layout, new Map([[shelf.path, count]]));
      const within = sagsWithin(shelf, quiet, tried) && !holds(quiet, tried).some((f) => f.about === shelf.path);
      if (!within) continue;
      needed.set(shelf.path, count);
      break;
    }
  }
  return needed;
}

/** Whether it sags no further than the policy allows; a shelf of which too little is known does. */
function sagsWithin(shelf: ShelfLayout, input: CheckInput, fixings: Fixings): boolean {
  const { deflection, creep } = input.policy.demands;
  const prepared = deflection.shelf && prepareShelf(shelf, input, fixings);
  if (!deflection.shelf || prepared?.kind !== 'prepared') return true;
  const { value, most } = deflection.shelf;
  const limit = { ratio: value, most: most === undefined ? undefined : metres(most) };
  return worstOf(prepared.answer, limit, creep?.value ?? 1)?.holds ?? true;
}

/** Tells of shelves that take more brackets than their hardware asks for by itself. */
export function addedBrackets(input: CheckInput): Finding[] {
  const base = fixingsOf(input.layout);
  const now = fixingsFor(input);
  return fittingsOf(input.layout).flatMap((shelf) => {
    if (shelf.kind !== 'shelf') return [];
    const [had, has] = [bracketsOf(base, shelf), bracketsOf(now, shelf)];
    if (had === 0) return [];
    const comparison = {
      what: `brackets under "${shelf.path}"`,
      measured: { count: had },
      relation: 'at least' as const,
      limit: { count: has },
    };
    if (looked(input, moreBrackets, shelf, comparison, had >= has)) return [];
    return [
      about(
        moreBrackets,
        shelf,
        shelf.place,
        `${capital(nameOf(shelf))} takes ${has} brackets: with the ${had} that its hardware asks for, it would sag too far for its policy, or its anchors would carry more than they are rated for.`,
        { advice: 'Nothing has to be done: the schedule and the takeoff count them.', comparison },
      ),
    ];
  });
}
