/** The range of a parameter: read, compared with its default and with what units give. */
import { headPlace, placeOf, type Statement, sliceOf } from '../../grammar/tree.ts';
import type { Context } from './context.ts';
import { written } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { lesserFirst } from './lesser-first.ts';
import type { Parameter } from './parameter.ts';
import { expressionIn } from './reading.ts';
import * as rules from './rules.ts';
import { type Show, showLength } from './show.ts';
import type { Ticks } from './ticks.ts';
import { meantInstead } from './unit-slips.ts';
import { evaluate, expect, type Value } from './values.ts';
import { listOr } from './word-lists.ts';

/** In ticks for a length, else plain numbers. */
export interface ParameterRange {
  readonly least: number;
  readonly most: number;
}

/** A range with its lesser end first. One that is written the other way round is reported, and meant that way. */
export function inOrder(
  range: ParameterRange,
  { name, reading }: Parameter,
  report: (f: Finding) => void,
): ParameterRange {
  const [least, most] = lesserFirst([range.least, range.most], reading, `the range of "${name}"`, report);
  return { least, most };
}

/** What a unit has that gives nothing must be within the range that the template sets for those that give something. */
export function checkDefault(
  value: Value,
  parameter: Parameter,
  range: ParameterRange,
  report: (f: Finding) => void,
): void {
  const { statement, slots } = parameter.reading;
  const item = slots.default?.[0];
  const amount = value.kind === 'length' ? value.ticks : value.kind === 'number' ? value.amount : undefined;
  if (!item || amount === undefined || (amount >= range.least && amount <= range.most)) return;
  const ends = (['least', 'most'] as const).flatMap((slot) => expressionIn(parameter.reading, slot) ?? []);
  // As they are written, the lesser one first.
  const [from = '', to = ''] = ends.map((end) => sliceOf(statement, end));
  const nearestEnd = amount < range.least ? from : to;
  const place = placeOf(statement, item);
  report(
    finding(
      rules.argumentOutOfRange,
      place,
      `"${parameter.name}" is ${sliceOf(statement, item)} where a unit gives none; its own range is ${from} to ${to}.`,
      {
        advice: `The nearest that fits is ${nearestEnd}. If the template holds for less or more, change the range.`,
        fixes: [{ title: `Write ${nearestEnd}`, edits: [{ place, text: nearestEnd }], byHand: true }],
      },
    ),
  );
}

/** The range as it is written, whichever end comes first; undefined where there is none or it cannot be read. */
export function rangeOf(parameter: Parameter, context: Context): ParameterRange | undefined {
  const end = (slot: 'least' | 'most'): number | undefined => {
    const expression = expressionIn(parameter.reading, slot);
    if (!expression || (parameter.type !== 'length' && parameter.type !== 'count' && parameter.type !== 'angle'))
      return undefined;
    return expect(
      evaluate(expression, parameter.reading.statement, context),
      parameter.type,
      expression,
      parameter.reading.statement,
      context,
    );
  };
  const least = end('least');
  const most = end('most');
  return least === undefined || most === undefined ? undefined : { least, most };
}

/** What a unit gives must be within the range that the template sets. */
export function checkRange(
  value: Value,
  statement: Statement,
  parameter: Parameter,
  range: ParameterRange | undefined,
  show: Show,
  report: (f: Finding) => void,
): void {
  if (!range) return;
  const amount = value.kind === 'length' ? value.ticks : value.kind === 'number' ? value.amount : undefined;
  const item = statement.items[0];
  if (amount === undefined || !item || (amount >= range.least && amount <= range.most)) return;
  const shown = (n: number): string => (value.kind === 'length' ? showLength(n as Ticks, show) : String(n));
  const nearestEnd = amount < range.least ? range.least : range.most;
  const place = placeOf(statement, item);
  const below = amount < range.least;
  const { least, most } = range;
  const isLength = value.kind === 'length' && item.kind === 'number';
  const meant = isLength ? meantInstead(item, (other) => other >= least && other <= most) : [];
  // What a template allows does not say how wide a place is: that is for who has measured it.
  const advice =
    meant.length === 0
      ? `The nearest that fits is ${shown(nearestEnd)}. If that is what is there, see whether the template holds from ${shown(Math.min(amount, least))} to ${shown(Math.max(amount, most))}, and change its range.`
      : `Did you mean ${listOr(meant.map(({ text }) => text))}?`;
  const offered = meant.length > 0 ? meant.map(({ text }) => text) : [shown(nearestEnd)];
  report(
    finding(
      rules.argumentOutOfRange,
      place,
      `"${parameter.name}" is ${shown(amount)}; the template allows ${shown(range.least)} to ${shown(range.most)}.`,
      {
        advice,
        related: [{ place: headPlace(parameter.reading.statement), message: 'The range is set here.' }],
        fixes: offered.map((text) => written(place, text, { byHand: true })),
        ...(value.kind === 'length' && {
          comparison: {
            what: parameter.name,
            measured: { ticks: value.ticks },
            relation: below ? ('at least' as const) : ('at most' as const),
            limit: { ticks: nearestEnd as Ticks },
          },
        }),
      },
    ),
  );
}
