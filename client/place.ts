/** A place in a text that stays with its words while the text changes. Lines and UTF-16 columns, from 0. */

export interface Place {
  line: number;
  character: number;
}

/** One replaced stretch of the text, as editors report it. */
export interface Change {
  range: { start: Place; end: Place };
  text: string;
}

function isBefore(a: Place, b: Place): boolean {
  return a.line < b.line || (a.line === b.line && a.character < b.character);
}

/**
 * Where a place stands after some changes, each stated in the text before all of them and none overlapping.
 * A place inside a replaced stretch goes to the stretch's start.
 */
export function moved(place: Place, changes: readonly Change[]): Place {
  // From the last change to the first, a change never shifts the ranges still to come.
  const ordered = changes.toSorted((a, b) => (isBefore(a.range.start, b.range.start) ? 1 : -1));
  return ordered.reduce(movedByOne, place);
}

function movedByOne(place: Place, { range, text }: Change): Place {
  const { start, end } = range;
  if (isBefore(place, start)) return place;
  if (isBefore(place, end)) return start;
  const lines = text.split(/\r\n|\r|\n/);
  const lastLength = lines.at(-1)?.length ?? 0;
  const line = place.line - (end.line - start.line) + lines.length - 1;
  if (place.line !== end.line) return { line, character: place.character };
  const base = lines.length === 1 ? start.character : 0;
  return { line, character: base + lastLength + place.character - end.character };
}
