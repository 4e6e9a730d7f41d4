/**
 * Files that a merge has left with both sides in them. What stands between the markers is no text of anybody's, so the
 * file is told of once, and nothing else is said of it until somebody has chosen.
 */
import { conflictsIn, mayConflict } from '../../grammar/merge-markers.ts';
import type { Source } from '../../grammar/source.ts';
import { offsetOf, type Place, placeOf } from '../../grammar/tree.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import { counted } from './money.ts';
import * as rules from './rules.ts';
import { startOf } from './start-of.ts';

/** What is said of a file with conflicts; undefined of any other. */
export function conflictOf(source: Source): Finding | undefined {
  const { text } = source;
  const conflicts = mayConflict(text) ? conflictsIn(text) : [];
  const [first] = conflicts;
  if (!first) return undefined;
  const anchor = startOf(source).statement;
  const at = (start: number, end: number): Place =>
    placeOf(anchor, { start: start - offsetOf(anchor), end: end - offsetOf(anchor) });
  const keep = (side: 'ours' | 'theirs', name: string, which: string): Fix => ({
    title: `Keep ${which} of both sides${name === '' ? '' : ` (${name})`}${conflicts.length > 1 ? `, in all ${conflicts.length} places` : ''}`,
    edits: conflicts.map((conflict) => ({
      place: at(conflict.start, conflict.end),
      text: text.slice(...conflict[side]),
    })),
    byHand: true,
  });
  const lines = conflicts.map(({ start }) => source.positionAt(start).line + 1);
  const shown = lines.length > 5 ? `${lines.slice(0, 5).join(', ')} and ${lines.length - 5} more` : lines.join(', ');
  const lineEnd = text.indexOf('\n', first.start);
  return finding(
    rules.mergeConflict,
    at(first.start, lineEnd < 0 ? first.end : lineEnd),
    `This file holds both sides of a merge, in ${counted(conflicts.length, 'place')} (line ${shown}).`,
    {
      advice: 'Keep what is right of each and remove the markers. Until then nothing else is said of this file.',
      fixes: [keep('ours', first.names[0], 'the first'), keep('theirs', first.names[1], 'the second')],
    },
  );
}
