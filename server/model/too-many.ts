/** The one way to say that a limit is passed: how many there are, how many are taken on, what to do. */
import type { Place } from '../../grammar/tree.ts';
import { type Finding, type FindingDetails, finding } from './finding.ts';
import { type LimitName, limits, limitText } from './limits.ts';
import * as rules from './rules.ts';

interface Excess extends Pick<FindingDetails, 'related' | 'about' | 'causes' | 'examples'> {
  /** Whose they are, and that it has them: `Template "linen" has`. */
  readonly who: string;
  readonly count: number;
  /** What they are: `zones and gaps`. */
  readonly what: string;
  readonly advice: string;
  /** Counted no further than one beyond the limit. */
  readonly isLeast?: boolean;
}

export function tooMany(name: LimitName, place: Place, excess: Excess): Finding {
  const { who, count, what, advice, isLeast = false, ...details } = excess;
  const shown = isLeast ? `more than ${limitText(name)}` : count.toLocaleString('en');
  return finding(
    rules.tooMany,
    place,
    `${who} ${shown} ${what}; ${isLeast ? 'no more' : limitText(name)} are taken on.`,
    {
      advice,
      comparison: {
        what,
        measured: { count },
        relation: 'at most',
        limit: { count: limits[name].most },
      },
      ...details,
    },
  );
}
