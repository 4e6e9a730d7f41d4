/** Names that may have been meant by one that is not known: what is said of them, and a fix for each. */
import type { Place } from '../../grammar/tree.ts';
import type { Fix } from './finding.ts';

/** Of more that are as near nobody is helped by a list. */
const most = 3;

export function didYouMean(near: readonly string[]): string | undefined {
  const [first, ...others] = near.slice(0, most).map((name) => `"${name}"`);
  const last = others.pop();
  return last === undefined
    ? first && `Did you mean ${first}?`
    : `Did you mean ${[first, ...others].join(', ')} or ${last}?`;
}

/** Where several are as near somebody has to choose, and also where a name of one letter has nothing in common with another. */
export function nearFixes(place: Place, near: readonly string[], byHand = false): Fix[] {
  const isChoice = byHand || near.length > 1 || place.end - place.start === 1;
  return near
    .slice(0, most)
    .map((name) => ({ title: `Write "${name}"`, edits: [{ place, text: name }], ...(isChoice && { byHand: true }) }));
}
