/** Whether a rod is as long as what is to hang on it takes. */

import type { Place } from '../../grammar/tree.ts';
import { examplesIn } from '../model/examples.ts';
import type { Finding, Fix, Working } from '../model/finding.ts';
import type { RodLayout } from '../model/layout.ts';
import type { Garment } from '../model/materials.ts';
import { showLength } from '../model/show.ts';
import { add, subtract, type Ticks, ticks } from '../model/ticks.ts';
import { type CheckInput, lacks, looked } from './check.ts';
import { rodTooShort } from './hanging-rules.ts';
import { about, both, capital, compared, nameOf } from './say.ts';

interface Held {
  readonly garment: Garment;
  readonly count: number;
  readonly place: Place;
  readonly takes: Ticks;
}

export function longEnough(rod: RodLayout, input: CheckInput): Finding[] {
  if (rod.holds.length === 0) return [];
  const held: Held[] = [];
  for (const { garment, count, place } of rod.holds) {
    const { takes } = garment;
    if (takes === undefined)
      lacks(
        input,
        rodTooShort,
        rod,
        `the length of rod that one "${garment.name}" takes (\`takes ${examplesIn('2in', input.show.system)}\`)`,
      );
    else held.push({ garment, count, place, takes });
  }
  const there = subtract(rod.box.x[1], rod.box.x[0]);
  const needed = add(...held.map(({ count, takes }) => ticks(count * takes)));
  const length = (amount: Ticks) => showLength(amount, input.show);
  const comparison = compared(`clear length of "${rod.path}"`, there, 'at least', needed);
  const working: Working[] = held.map(({ garment, count, takes }) => ({
    what: `${count} "${garment.name}"`,
    value: length(ticks(count * takes)),
    how: `${count} x ${length(takes)}`,
  }));
  if (held.length === 0 || looked(input, rodTooShort, rod, comparison, there >= needed, working)) return [];
  const [first] = held;
  const short = subtract(needed, there);
  const fewer = held.flatMap((one) => {
    const count = Math.floor((there - (needed - one.count * one.takes)) / one.takes);
    return count > 0 ? [{ one, count }] : [];
  });
  return [
    about(
      rodTooShort,
      rod,
      first?.place ?? rod.place,
      `${capital(nameOf(rod))} is ${length(there)} long between its ends, and ${both(working.map(({ what, value, how }) => `${what} take ${value} (${how})`))}: ${length(short)} too short.`,
      {
        advice: `${capital([`make it ${length(short)} longer`, ...fewer.map(({ one, count }) => `hang at most ${count} "${one.garment.name}" there`)].join(', or '))}.`,
        related: held.map(({ garment, takes }) => ({
          place: garment.place,
          message: `"${garment.name}" takes ${length(takes)} of rod${garment.source === undefined ? '' : `; source: ${garment.source}`}.`,
        })),
        comparison,
        working,
        fixes: fewer.flatMap(({ one, count }) => countFix(one, count)),
      },
    ),
  ];
}

/** The greatest number that fits, written in place of the one that does not. */
function countFix({ place, count, garment }: Held, fits: number): Fix[] {
  const { statement } = place;
  const number = statement.items.find((i) => i.kind === 'number');
  if (statement.word.text !== 'holds' || number?.kind !== 'number' || number.raw !== String(count)) return [];
  return [
    {
      title: `Write ${fits} instead of ${count} for ${garment.name}`,
      edits: [{ place: { statement, start: number.start, end: number.end }, text: String(fits) }],
    },
  ];
}
