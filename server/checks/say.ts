/** How the checks name things, so that every message reads alike. */
import type { Place } from '../../grammar/tree.ts';
import {
  type Causes,
  type Compared,
  type Comparison,
  type Finding,
  type FindingDetails,
  finding,
  type Related,
} from '../model/finding.ts';
import type { FittingLayout, Layout } from '../model/layout.ts';
import type { Limit } from '../model/materials.ts';
import { recent } from '../model/memo.ts';
import type { Rule } from '../model/rule.ts';
import { type Ticks, ticks } from '../model/ticks.ts';

export { wallName } from '../model/wall-name.ts';

/** What the numbers came from, where nothing else is known: the template as it is written. */
export const fromTemplate: Causes = { parameters: [], survey: false };

/** `shelf "shirts.high"`. */
export function nameOf(fitting: FittingLayout): string {
  return `${fitting.kind} "${fitting.path}"`;
}

/** Drawers are many, other fittings one. */
export function verb({ kind }: FittingLayout, one: string, many: string): string {
  return kind === 'drawers' ? many : one;
}

export { capital } from '../model/capital.ts';

/** `a, b or c`. */
export function either(ways: readonly string[]): string {
  return listed(ways, 'or');
}

/** `a, b and c`. */
export function both(names: readonly string[]): string {
  return listed(names, 'and');
}

function listed(words: readonly string[], joint: string): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} ${joint} ${words.at(-1)}`;
}

/** Who set a limit: `policy "everyday"`, or the limits the tool ships with. */
export function setBy(limit: Limit): string {
  return limit.policy === undefined ? 'the default limit' : `policy "${limit.policy}"`;
}

/** The statement that set a limit, where one did. */
export function relatedLimit(limit: Limit, message: string): Related[] {
  return limit.place ? [{ place: limit.place, message }] : [];
}

/** Half of a length, rounded up where a tick would have to be split, so that a limit is never met by rounding. */
export function half(length: Ticks): Ticks {
  return ticks(Math.ceil(length / 2));
}

export function compared(what: string, measured: Ticks, relation: Comparison['relation'], limit: Ticks): Comparison {
  const amount = (length: Ticks): Compared => ({ ticks: length });
  return { what, measured: amount(measured), relation, limit: amount(limit) };
}

/** A finding about a fitting. It sits on `place`, and says which fitting it is about. */
export function about(
  rule: Rule,
  fitting: FittingLayout,
  place: Place,
  message: string,
  details: FindingDetails = {},
): Finding {
  return finding(rule, place, message, { about: fitting.path, causes: fromTemplate, ...details });
}

const fittings = recent<Layout, readonly FittingLayout[]>(2);

/** Of all zones, in the order of the zones. */
export function fittingsOf(layout: Layout): readonly FittingLayout[] {
  return fittings(layout, () => layout.zones.flatMap((zone) => zone.fittings));
}
