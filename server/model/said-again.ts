/** What is said a second time of one thing, in whatever words. */
import { headPlace, type Place, type Statement } from '../../grammar/tree.ts';
import { type Finding, finding } from './finding.ts';
import { withoutRepeated } from './reading-fixes.ts';
import * as rules from './rules.ts';

/** Told at a place of the second of two statements. */
export function saidAgain(second: Statement, first: Statement, place: Place, message: string): Finding {
  return finding(rules.wordRepeated, place, message, {
    advice: 'The first one counts. Remove one of them.',
    related: [{ place: headPlace(first), message: 'It is said here first.' }],
    fixes: [withoutRepeated(second, first)],
  });
}
