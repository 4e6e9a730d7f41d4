/** Conflicts of a merge by a second way, a line at a time. */
import type { Conflict } from '../../../grammar/merge-markers.ts';

export function conflictsPlainly(text: string): Conflict[] {
  const found: Conflict[] = [];
  let start = -1;
  let ours = 0;
  let base = -1;
  let middle = -1;
  let theirs = 0;
  let name = '';
  let at = 0;
  // A carriage return ends no line for git.
  for (const line of text.split(/(?<=\n)/)) {
    const next = at + line.length;
    const own = line.replace(/\r?\n$/, '');
    const said = own.slice(8);
    const is = (sign: string): boolean =>
      own.startsWith(sign.repeat(7)) && (own.length === 7 || own[7] === ' ' || own[7] === '\t') && !said.includes('\r');
    if (is('<')) [start, ours, base, middle, name] = [at, next, -1, -1, said];
    else if (is('|') && start >= 0 && base < 0 && middle < 0) base = at;
    else if (is('=') && start >= 0 && middle < 0) [middle, theirs] = [at, next];
    else if (is('>') && start >= 0 && middle >= 0) {
      found.push({
        start,
        end: next,
        ours: [ours, base < 0 ? middle : base],
        theirs: [theirs, at],
        names: [name, said],
      });
      start = -1;
    }
    at = next;
  }
  return found;
}
