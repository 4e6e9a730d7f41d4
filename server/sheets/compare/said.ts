/** The change report in words: the same for the terminal, Markdown and pages. */
import { capital } from '../../model/capital.ts';
import { counted, grouped, money } from '../../model/money.ts';
import { type Show, showLength } from '../../model/show.ts';
import { type Ticks, ticks } from '../../model/ticks.ts';
import type { Value } from './changes.ts';
import type { ChangeGroup, Comparison, GroupedChange, Totals } from './compare.ts';

export interface SaidGroup {
  /** `Template reach-in, 180 units`. */
  readonly title: string;
  /** `A-101-bedroom, A-102-bedroom and 178 more`. */
  readonly units: string;
  readonly rows: readonly SaidChange[];
}

export interface SaidChange {
  readonly sign: '+' | '-' | '~';
  readonly of: string;
  readonly what: string;
  readonly how: string;
}

/** One row of the table of totals. */
export interface SaidTotal {
  readonly what: string;
  readonly before: string;
  readonly after: string;
  /** Empty where nothing differs. */
  readonly difference: string;
}

/** What the whole comes to, in one sentence. */
export function summaryOf(comparison: Comparison): string {
  const { isBuiltAlike, groups, added, removed, renamed, after } = comparison;
  if (isBuiltAlike) {
    const findings = groups.length > 0 || comparison.findings.added.length > 0 || comparison.findings.gone.length > 0;
    const others = [
      ...(renamed.length > 0
        ? [`${counted(renamed.length, 'unit')} ${renamed.length === 1 ? 'has' : 'have'} another name`]
        : []),
      ...(findings ? ['findings differ'] : []),
    ];
    return `No change in what is built.${others.length > 0 ? ` But ${others.join(', and ')}.` : ''}`;
  }
  const reached = new Map<string, number>();
  for (const { units, count, changes } of groups) {
    if (changes.every(({ kind }) => kind === 'finding')) continue;
    const each = count / units.length;
    for (const unit of units) reached.set(unit, Math.max(reached.get(unit) ?? 0, each));
  }
  const parts = [
    ...(reached.size > 0
      ? [`changes what is built in ${counted(reached.size, 'unit')} of ${grouped(after.units)}`]
      : []),
    ...(added.length > 0 ? [`adds ${counted(added.length, 'unit')}`] : []),
    ...(removed.length > 0 ? [`takes away ${counted(removed.length, 'unit')}`] : []),
  ];
  const text = parts.length > 0 ? parts.join(', ') : 'changes what is cut';
  return `${capital(text)}.`;
}

/** How many names are written out before the rest is counted. */
const namesShown = 6;

export function namesOf(names: readonly string[]): string {
  if (names.length <= namesShown + 1)
    return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
  return `${names.slice(0, namesShown).join(', ')} and ${grouped(names.length - namesShown)} more`;
}

export function saidGroup(group: ChangeGroup, show: Show): SaidGroup {
  const { template, units, count, changes } = group;
  const many =
    count === units.length
      ? counted(count, 'unit')
      : `${counted(units.length, 'unit')}, ${grouped(count)} with their counts`;
  return {
    title: template === undefined ? `Units without a template, ${many}` : `Template ${template}, ${many}`,
    units: namesOf(units),
    rows: changes.map((change) => saidChange(change, show)),
  };
}

function saidChange(change: GroupedChange, show: Show): SaidChange {
  const { before, after, of, what, kind } = change;
  const sign = before && after ? '~' : after ? '+' : before ? '-' : '~';
  if (kind === 'finding') {
    const message = after ?? before;
    return { sign, of, what, how: message && 'text' in message ? message.text : '' };
  }
  return { sign, of, what, how: howOf(change, show) };
}

function howOf({ before, after, spread, kind }: GroupedChange, show: Show): string {
  const said = (value: Value | undefined, range: readonly [Ticks, Ticks] | undefined): string => {
    if (!value) return '';
    if ('text' in value) return value.text === '' ? 'nothing' : value.text;
    if ('count' in value) return grouped(value.count);
    return range && range[0] !== range[1]
      ? `${showLength(range[0], show)} to ${showLength(range[1], show)}`
      : showLength(value.ticks, show);
  };
  const [old, now] = [said(before, spread?.before), said(after, spread?.after)];
  if (!before) return now;
  if (!after) return old;
  if ('ticks' in before && 'ticks' in after) {
    const by = after.ticks - before.ticks;
    const amount = showLength(ticks(Math.abs(by)), show);
    const word = kind === 'height' ? (by > 0 ? 'higher' : 'lower') : by > 0 ? 'more' : 'less';
    return `${old} -> ${now} (${amount} ${word})`;
  }
  return `${old} -> ${now}`;
}

export function totalRows({ before, after }: Comparison, show: Show, currency: string | undefined): SaidTotal[] {
  const rows: SaidTotal[] = [count('units', before.units, after.units)];
  const materials = [...new Set([...before.materials, ...after.materials].map(({ material }) => material))].sort();
  for (const material of materials) {
    const [a, b] = [before, after].map((side) => side.materials.find((m) => m.material === material));
    rows.push(count(`${material}: lengths`, a?.boards ?? 0, b?.boards ?? 0));
    rows.push(length(`${material}: waste`, (a?.waste ?? 0) as Ticks, (b?.waste ?? 0) as Ticks, show));
  }
  const hardware = [...new Set([...before.hardware.keys(), ...after.hardware.keys()])].sort();
  for (const name of hardware) {
    const row = count(name, before.hardware.get(name) ?? 0, after.hardware.get(name) ?? 0);
    // A list of what did not change would hide what did.
    if (row.difference !== '') rows.push(row);
  }
  rows.push(cost('cost of stock', stockPrice(before), stockPrice(after), currency));
  rows.push(cost('cost of hardware', before.hardwarePrice, after.hardwarePrice, currency));
  rows.push(count('errors', before.errors, after.errors));
  rows.push(count('warnings', before.warnings, after.warnings));
  rows.push(count('notes', before.notes, after.notes));
  return rows;
}

function stockPrice({ materials }: Totals): number | undefined {
  let sum = 0;
  for (const { price } of materials) {
    if (price === undefined) return undefined;
    sum += price;
  }
  return sum;
}

function count(what: string, before: number, after: number): SaidTotal {
  return { what, before: grouped(before), after: grouped(after), difference: signed(after - before, grouped) };
}

function length(what: string, before: Ticks, after: Ticks, show: Show): SaidTotal {
  const text = (amount: number): string => showLength(ticks(amount), show);
  return { what, before: text(before), after: text(after), difference: signed(after - before, text) };
}

function cost(
  what: string,
  before: number | undefined,
  after: number | undefined,
  currency: string | undefined,
): SaidTotal {
  const text = (amount: number | undefined): string => (amount === undefined ? 'not known' : money(amount, currency));
  const isKnown = before !== undefined && after !== undefined;
  return { what, before: text(before), after: text(after), difference: isKnown ? signed(after - before, text) : '' };
}

function signed(by: number, text: (amount: number) => string): string {
  return by === 0 ? '' : `${by > 0 ? '+' : '-'}${text(Math.abs(by))}`;
}
