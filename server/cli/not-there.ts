/** What is said where nothing has the name that was asked for: the nearest one there is, or those there are. */
import { nearest } from '../model/nearest.ts';
import { Stop } from './stop.ts';
import { type Chosen, unitsOf } from './targets.ts';
import { printable, someOf } from './words.ts';

/** So many names are told. */
const mostNames = 10;

/** `areAlike`: one name is much like another, as of floors, so that none is taken to be meant. */
export function notThere(what: string, name: string, names: readonly string[], areAlike = false): Stop {
  const near = areAlike ? undefined : nearest(name, names);
  const head = `There is no ${what} "${printable(name)}"`;
  const own = [...new Set(names)];
  if (near !== undefined) return new Stop(`${head}; did you mean "${printable(near)}"?`);
  if (own.length === 0) return new Stop(`${head}: there is no ${what} at all.`);
  return new Stop(`${head}, only ${printable(someOf(own, mostNames))}.`);
}

/** No unit of that name is among those that were chosen. */
export function noUnit(name: string, all: readonly { readonly chosen: Chosen }[]): Stop {
  return notThere(
    'unit',
    name,
    all.flatMap(({ chosen }) => unitsOf(chosen).map((unit) => unit.name)),
  );
}
