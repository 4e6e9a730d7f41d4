/** Sizes that a policy asks of a closet: its depth, and its rods by the people who use them. */
import { type Finding, finding } from '../../model/finding.ts';
import { showLength } from '../../model/show.ts';
import { add, NONE, subtract, type Ticks, ticks } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import { compared, fittingsOf, fromTemplate, relatedLimit, setBy } from '../say.ts';
import { accessLimit } from './limits.ts';
import { closetTooShallow, tooLittleRod } from './rules.ts';

export function sizes(input: CheckInput): Finding[] {
  return [...tooShallow(input), ...rodPerPerson(input)];
}

function tooShallow(input: CheckInput): Finding[] {
  const { layout, policy, show, record } = input;
  const limit = accessLimit(policy, 'closet-depth');
  if (limit.least === undefined) return [];
  const [side] = layout.walls
    .filter(({ name }) => name === 'left' || name === 'right')
    .sort((a, b) => a.length - b.length);
  if (!side) {
    const place = layout.walls[0]?.place;
    if (place) record?.lacks({ rule: closetTooShallow, about: '', place, needs: 'the length of a side wall' });
    return [];
  }
  const comparison = compared('depth of the closet', side.length, 'at least', limit.least);
  const holds = side.length >= limit.least;
  record?.looked({ rule: closetTooShallow, about: '', place: side.lengthPlace, comparison, holds });
  if (holds) return [];
  return [
    finding(
      closetTooShallow,
      side.lengthPlace,
      `The closet is ${showLength(side.length, show)} deep; ${setBy(limit)} asks for ${showLength(limit.least, show)}.`,
      {
        about: '',
        causes: { ...fromTemplate, survey: side.readings.length > 0 },
        advice: `It lacks ${showLength(subtract(limit.least, side.length), show)}; ask the local building office whether the rule holds for it.`,
        related: relatedLimit(limit, 'The depth is set here.'),
        comparison,
      },
    ),
  ];
}

/** All rods together, whatever hangs on them. */
function rodPerPerson({ layout, policy, show, record }: CheckInput): Finding[] {
  const limit = accessLimit(policy, 'rod-per-person');
  const place = layout.persons?.place ?? layout.walls[0]?.place;
  if (limit.least === undefined || !place) return [];
  const about = { rule: tooLittleRod, about: '', place };
  if (!layout.persons) {
    record?.lacks({ ...about, needs: 'how many people keep their clothes here: `persons 2`' });
    return [];
  }
  const { count } = layout.persons;
  const rods = fittingsOf(layout).filter(({ kind }) => kind === 'rod');
  const all = add(NONE, ...rods.map(({ box }) => subtract(box.x[1], box.x[0])));
  const needed = ticks(count * limit.least);
  const comparison = compared('length of all rods', all, 'at least', needed);
  record?.looked({ ...about, comparison, holds: all >= needed });
  if (all >= needed) return [];
  const length = (amount: Ticks) => showLength(amount, show);
  return [
    finding(
      tooLittleRod,
      place,
      `The rods of the closet are ${length(all)} long together; ${setBy(limit)} asks for ${length(limit.least)} a person, ${length(needed)} for ${count}.`,
      {
        about: '',
        causes: fromTemplate,
        advice: `Add ${length(subtract(needed, all))} of rod: a second rod below one for short clothes gives as much again.`,
        related: relatedLimit(limit, 'The length is set here.'),
        comparison,
      },
    ),
  ];
}
