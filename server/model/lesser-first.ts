/** Ranges that are written with their greater end first. */

import { placeOf, sliceOf } from '../../grammar/tree.ts';
import { capital } from './capital.ts';
import { type Finding, finding } from './finding.ts';
import { expressionIn, type Reading } from './reading.ts';
import * as rules from './rules.ts';

/** Both ends of what a statement says as `from … to …`, the lesser one first. `what` is told where they are reported. */
export function lesserFirst<T extends number>(
  [least, most]: readonly [T, T],
  reading: Reading,
  what: string,
  report: (f: Finding) => void,
): readonly [T, T] {
  if (least <= most) return [least, most];
  const { statement } = reading;
  const [first, last] = [expressionIn(reading, 'least'), expressionIn(reading, 'most')];
  if (first && last) {
    const [from, to] = [sliceOf(statement, first), sliceOf(statement, last)];
    const edits = [
      { place: placeOf(statement, first), text: to },
      { place: placeOf(statement, last), text: from },
    ];
    report(
      finding(
        rules.outOfBounds,
        placeOf(statement, { start: first.start, end: last.end }),
        `${capital(what)} ends before it begins: it goes from ${from} to ${to}, so nothing would be within it.`,
        {
          advice: `Write the lesser end first: from ${to} to ${from}.`,
          fixes: [{ title: `Write from ${to} to ${from}`, edits }],
        },
      ),
    );
  }
  return [most, least];
}
