/** What a shelf or a rod carries: what it says itself, what its garments weigh, or what a policy says. SI. */
import type { Place } from '../../../grammar/tree.ts';
import type { RodLayout, ShelfLayout } from '../../model/layout.ts';
import type { Demands, Load } from '../../model/materials.ts';
import { lately } from '../../model/memo.ts';
import type { Show } from '../../model/show.ts';
import { both } from '../say.ts';
import { areaText, forceText, lineText } from './amounts.ts';
import type { BeamLoad } from './beam-input.ts';
import { cappedLine, lineOfArea, lineOfGarments } from './loads.ts';

export interface Carried {
  /** N/m along the whole length. */
  readonly perMetre: number;
  /** N in the middle. */
  readonly middle: number;
  /** `40 lbf/ft2`, `20 lbf/ft and 30 lbf in the middle`. */
  readonly words: string;
  /** The statements that say so. */
  readonly places: readonly Place[];
}

export interface NotKnown {
  readonly kind: 'not-known';
  /** `the weight of garment coat`. */
  readonly needs: string;
}

/** @param length of the shelf, m, and its depth, m */
export function carriedBy(
  shelf: ShelfLayout,
  { loads }: Demands,
  length: number,
  depth: number,
  show: Show,
): Carried | NotKnown {
  const own = shelf.loads.length > 0 ? shelf.loads : loads.shelf ? [loads.shelf] : [];
  if (own.length === 0) return { kind: 'not-known', needs: `what shelf ${shelf.path} carries` };
  let total = sumOf(own, show, (pascals) => lineOfArea(pascals, depth));
  // What a policy allows of one shelf caps loads that are given by area, as design loads are.
  const spread = own.reduce((sum, { kind, amount }) => sum + (kind === 'area' ? lineOfArea(amount, depth) : 0), 0);
  const cap = loads.total;
  if (cap && cappedLine(spread, length, cap.amount) < spread) {
    total = {
      ...total,
      perMetre: total.perMetre - spread + cappedLine(spread, length, cap.amount),
      words: `${total.words}, ${forceText(cap.amount, show)} in all`,
      places: [...total.places, cap.place],
    };
  }
  return total;
}

/** @param length of the rod, m */
export function hangingOn(rod: RodLayout, { loads }: Demands, length: number, show: Show): Carried | NotKnown {
  if (rod.loads.length > 0) return sumOf(rod.loads, show, (amount) => amount);
  const byPolicy = loads.hanging && sumOf([loads.hanging], show, (amount) => amount);
  const weightless = rod.holds.find(({ garment }) => garment.weight === undefined);
  const weighed = rod.holds.length > 0 && !weightless ? weigh(rod, length) : undefined;
  // The greater of the two: a policy says what is usual, and what is to hang there may be more.
  if (weighed !== undefined && weighed > (byPolicy?.perMetre ?? 0)) {
    return {
      perMetre: weighed,
      middle: 0,
      words: `${both(rod.holds.map(({ count, garment }) => `${count} ${garment.name}`))}, ${lineText(weighed, show)}`,
      places: rod.holds.map(({ place }) => place),
    };
  }
  if (byPolicy) return byPolicy;
  const needs = weightless ? `the weight of garment ${weightless.garment.name}` : `what hangs on rod ${rod.path}`;
  return { kind: 'not-known', needs };
}

function weigh(rod: RodLayout, length: number): number | undefined {
  return lineOfGarments(
    rod.holds.map(({ count, garment }) => ({ count, weight: garment.weight })),
    length,
  );
}

function sumOf(loads: readonly Load[], show: Show, lineOf: (area: number) => number): Carried {
  let [perMetre, middle] = [0, 0];
  for (const { kind, amount } of loads) {
    if (kind === 'point') middle += amount;
    else perMetre += kind === 'area' ? lineOf(amount) : amount;
  }
  return {
    perMetre,
    middle,
    words: both(loads.map((load) => loadText(load, show))),
    places: loads.map((l) => l.place),
  };
}

const texts = lately<Load, string>(2);

function loadText(load: Load, show: Show): string {
  return texts(load, [show], () => {
    const { kind, amount } = load;
    if (kind === 'area') return areaText(amount, show);
    return kind === 'line' ? lineText(amount, show) : `${forceText(amount, show)} in the middle`;
  });
}

/** As loads of a beam so long. */
export function asBeamLoads({ perMetre, middle }: Pick<Carried, 'perMetre' | 'middle'>, length: number): BeamLoad[] {
  return [
    { kind: 'uniform', from: 0, to: length, perMetre },
    ...(middle === 0 ? [] : [{ kind: 'point' as const, at: length / 2, force: middle }]),
  ];
}
