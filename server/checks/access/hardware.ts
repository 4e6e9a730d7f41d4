/** What a hand takes hold of, on drawers and on the leaf of an opening: its kind, and its height. */

import type { Path } from '../../../grammar/tree.ts';
import { placeOf } from '../../../grammar/tree.ts';
import { writeInstead, writtenLength } from '../../model/closing.ts';
import { examplesIn } from '../../model/examples.ts';
import { type Finding, type Fix, finding } from '../../model/finding.ts';
import type { OpeningLayout, Pull } from '../../model/layout.ts';
import { type Show, showLength } from '../../model/show.ts';
import { greatest, least, subtract, type Ticks } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import { capital, compared, fromTemplate, nameOf } from '../say.ts';
import type { Closet } from './closet.ts';
import { doorHardware } from './doors.ts';
import { forward2010, side2010 } from './reach.ts';
import { doorHardwareHeight, pullHardToWork } from './rules.ts';
import { askedReaches, type Seen } from './seen.ts';
import { asksOfHand, operation } from './storage.ts';

export function hardware(seen: readonly Seen[], input: CheckInput, { opening, entered }: Closet): Finding[] {
  const found: Finding[] = [];
  for (const { fitting } of seen) {
    if (fitting.kind !== 'drawers') continue;
    found.push(...kindOf(fitting.pull, nameOf(fitting), { about: fitting.path, place: fitting.place }, input));
  }
  if (!opening || opening.leaf.kind === 'none') return found;
  const about = { about: opening.name, place: opening.place };
  found.push(...kindOf(opening.pull, `the leaf of "${opening.name}"`, about, input));
  return [...found, ...heightOf(opening, entered, input)];
}

type About = Pick<OpeningLayout, 'place'> & { readonly about: string };

function kindOf(pull: Pull | undefined, name: string, at: About, { record }: CheckInput): Finding[] {
  const about = { rule: pullHardToWork, ...at };
  if (!pull) {
    record?.lacks({ ...about, needs: `what the pull of ${name} is: \`pull bar\`` });
    return [];
  }
  const asks = asksOfHand[pull.kind];
  const comparison = {
    what: `what the pull of ${name} asks of a hand that cannot grip`,
    measured: { count: asks === undefined ? 0 : 1 },
    relation: 'at most' as const,
    limit: { count: 0 },
  };
  record?.looked({ ...about, comparison, holds: asks === undefined });
  record?.lacks({ ...about, needs: `the force that opens ${name}: ${operation.force} N is the most` });
  if (asks === undefined) return [];
  return [
    finding(pullHardToWork, pull.place, `${capital(name)} opens by a ${pull.kind}, which asks for ${asks}.`, {
      about: at.about,
      causes: fromTemplate,
      advice: 'A bar or a loop opens with an open hand.',
      comparison,
      fixes: otherPull(pull),
    }),
  ];
}

function otherPull({ kind, place: { statement } }: Pull): Fix[] {
  const word = statement.items.find((item): item is Path => item.kind === 'path' && item.words[0]?.text === kind);
  if (!word) return [];
  return [{ title: `Write bar instead of ${kind}`, edits: [{ place: placeOf(statement, word), text: 'bar' }] }];
}

/** Where a person passes, from 34 to 48 in; where one only reaches in, within a reach that a policy asks for. */
function heightOf(opening: OpeningLayout, entered: boolean, input: CheckInput): Finding[] {
  const { record, show, policy } = input;
  const { name, pull, place } = opening;
  const about = { rule: doorHardwareHeight, about: name, place: pull?.place ?? place };
  if (pull?.at === undefined) {
    const needs = `how high the pull of the leaf of "${name}" is: \`pull bar at ${examplesIn('40in', show.system)}\``;
    record?.lacks({ ...about, needs });
    return [];
  }
  const lowest = entered ? doorHardware.lowest : least(forward2010.lowest, side2010.lowest);
  const highest = entered
    ? doorHardware.highest
    : greatest(lowest, ...askedReaches(policy).map(({ asked }) => asked.value));
  const { at } = pull;
  const low = at < lowest;
  const limit = low ? lowest : highest;
  const comparison = compared(`height of the pull of "${name}"`, at, low ? 'at least' : 'at most', limit);
  const holds = lowest <= at && at <= highest;
  record?.looked({ ...about, comparison, holds });
  if (holds) return [];
  const length = (amount: Ticks) => showLength(amount, show);
  const off = length(low ? subtract(limit, at) : subtract(at, limit));
  return [
    finding(
      doorHardwareHeight,
      pull.place,
      `The pull of the leaf of "${name}" is at ${length(at)}; ${entered ? 'on a door that people pass through it is' : 'where one reaches in it is'} from ${length(lowest)} to ${length(highest)} high.`,
      {
        about: name,
        causes: fromTemplate,
        advice: `${low ? 'Raise' : 'Lower'} it by ${off}, to ${length(limit)}.`,
        comparison,
        fixes: otherHeight(pull, limit, show),
      },
    ),
  ];
}

function otherHeight({ at, place: { statement } }: Pull, limit: Ticks, show: Show): Fix[] {
  const number = statement.items.find((item) => item.kind === 'number');
  if (!number || writtenLength(number)?.length !== at) return [];
  const fix = writeInstead(statement, number, limit, show);
  return fix ? [fix] : [];
}
