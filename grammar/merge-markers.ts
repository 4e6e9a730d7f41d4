/** Where a merge has left both sides in a text, as version control marks them. */

/** One stretch of both sides, offsets of the file; the middle of three-way markers belongs to neither. */
export interface Conflict {
  readonly start: number;
  readonly end: number;
  readonly ours: readonly [number, number];
  readonly theirs: readonly [number, number];
  /** What git calls the sides behind its markers. */
  readonly names: readonly [string, string];
}

/** A quick look: whether there may be any. */
export function mayConflict(text: string): boolean {
  return text.includes('<<<<<<<');
}

/** A quick look at the stretch around an edit: whether that can have made a marker, be it by taking away what stood before it. */
export function mayMark(stretch: string): boolean {
  return run.test(stretch);
}

/** So much on either side of what was written belongs to that stretch. */
export const markReach = 10;

const run = /([<|=>])\1{6}/;

/** In order. What is not whole, with all its markers, is none. In one pass over the text. */
export function conflictsIn(text: string): Conflict[] {
  const found: Conflict[] = [];
  let open: { start: number; from: number; name: string; base?: number; middle?: number; theirs?: number } | undefined;
  for (const { 0: line, 1: sign = '', 2: name = '', index } of text.matchAll(marker)) {
    const next = index + line.length;
    if (sign === '<') open = { start: index, from: next, name };
    else if (sign === '|' && open && open.base === undefined && open.middle === undefined) open.base = index;
    else if (sign === '=' && open && open.middle === undefined) Object.assign(open, { middle: index, theirs: next });
    else if (sign === '>' && open?.middle !== undefined && open.theirs !== undefined) {
      const { start, from, base, middle, theirs } = open;
      found.push({
        start,
        end: next,
        ours: [from, base ?? middle],
        theirs: [theirs, index],
        names: [open.name, name],
      });
      open = undefined;
    }
  }
  return found;
}

/** As git writes them: seven signs at the start of a line, then what the side is called. A lone `\r` ends none for it. */
const marker = /(?<![^\n])([<|=>])\1{6}(?!\1)(?:[ \t]([^\n\r]*))?(?:\r?\n|$)/g;
