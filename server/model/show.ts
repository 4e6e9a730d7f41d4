/** Lengths as people read them. What is computed is shown as `show` says; what was written is echoed as written. */
import type { Compared, Comparison } from './finding.ts';
import { TICKS_PER_INCH, TICKS_PER_MM, type Ticks, ticks } from './ticks.ts';

export interface Show {
  readonly system: 'inches' | 'millimetres';
  /** Finest step shown, one that can be (`canShow`); what is finer is shown with `~` in front. */
  readonly step: Ticks;
}

export const showInches: Show = { system: 'inches', step: ticks(TICKS_PER_INCH / 64) };
export const showMillimetres: Show = { system: 'millimetres', step: ticks(TICKS_PER_MM / 1000) };

/** Whether whole steps can be written: as a fraction of an inch, or with three digits behind the point. */
export function canShow({ system, step }: Show): boolean {
  return system === 'inches'
    ? TICKS_PER_INCH % step === 0 && TICKS_PER_INCH / step <= 1000
    : step % (TICKS_PER_MM / 1000) === 0;
}

/** `21-3/4in`, `0in`, `-1/8in`; `552mm`, `552.5mm`. */
export function showLength(length: Ticks, show: Show): string {
  return show.system === 'inches' ? asInches(length, show.step) : asMillimetres(length, show.step);
}

/** A range, or one length where both ends are the same. */
export function showRange(least: Ticks, most: Ticks | undefined, show: Show): string {
  if (most === undefined) return `${showLength(least, show)} or more`;
  return least === most ? showLength(least, show) : `${showLength(least, show)} to ${showLength(most, show)}`;
}

function asInches(length: Ticks, step: Ticks): string {
  const perInch = Math.max(1, Math.round(TICKS_PER_INCH / step));
  const parts = Math.round((Math.abs(length) * perInch) / TICKS_PER_INCH);
  const exact = parts * TICKS_PER_INCH === Math.abs(length) * perInch;
  const whole = Math.floor(parts / perInch);
  const { numerator, denominator } = reduced(parts - whole * perInch, perInch);
  const sign = length < 0 && parts > 0 ? '-' : '';
  const fraction = numerator === 0 ? '' : `${whole > 0 ? '-' : ''}${numerator}/${denominator}`;
  const number = whole > 0 || fraction === '' ? `${whole}${fraction}` : fraction;
  return `${exact ? '' : '~'}${sign}${number}in`;
}

function asMillimetres(length: Ticks, step: Ticks): string {
  const rounded = Math.round(length / step) * step;
  const text = (rounded / TICKS_PER_MM).toFixed(3).replace(/\.?0+$/, '');
  return `${rounded === length ? '' : '~'}${text === '-0' ? '0' : text}mm`;
}

function reduced(numerator: number, denominator: number): { numerator: number; denominator: number } {
  let [a, b] = [numerator, denominator];
  while (b > 0) [a, b] = [b, a % b];
  return a === 0 ? { numerator: 0, denominator: 1 } : { numerator: numerator / a, denominator: denominator / a };
}

/** Four digits that mean something: loads and stresses are not known better. */
export function significant(amount: number): string {
  return amount === 0 ? '0' : String(Number(amount.toPrecision(4)));
}

/**
 * What is measured and its limit, where the comparison does not hold and yet both would read alike: with as many digits
 * more as it takes to tell them apart. Undefined where they read differently as they are.
 */
export function toldApart(
  { measured, relation, limit }: Comparison,
  show: Show,
): readonly [measured: string, limit: string] | undefined {
  const [is, bound] = [plain(measured, show), plain(limit, show)];
  if (!is || !bound || !alike(is.text(0), bound.text(0)) || holds(is.amount, relation, bound.amount)) return undefined;
  for (let more = 1; more <= 12; more++) {
    const [one, other] = [is.text(more), bound.text(more)];
    if (!alike(one, other)) return [one, other];
  }
  return undefined;
}

/** A mark in front for what is rounded does not tell two numbers apart. */
function alike(one: string, other: string): boolean {
  return one.replace('~', '') === other.replace('~', '');
}

function holds(is: number, relation: Comparison['relation'], bound: number): boolean {
  if (relation === 'equal to') return is === bound;
  return relation === 'at most' ? is <= bound : is >= bound;
}

/** As it is shown, and with so many digits more; undefined for a count, which is shown whole. */
function plain(
  one: Compared,
  show: Show,
): { readonly amount: number; readonly text: (more: number) => string } | undefined {
  if ('ticks' in one) {
    const text = (more: number) => (more === 0 ? showLength(one.ticks, show) : asDecimal(one.ticks, show, more));
    return { amount: one.ticks, text };
  }
  if ('count' in one) return undefined;
  return { amount: one.amount, text: (more) => `${Number(one.amount.toPrecision(4 + more))} ${one.unit}` };
}

/** `~0.189in`: finer than what is shown. */
function asDecimal(length: Ticks, { system, step }: Show, more: number): string {
  const [unit, name] = system === 'inches' ? [TICKS_PER_INCH, 'in'] : [TICKS_PER_MM, 'mm'];
  const digits = Math.max(0, Math.floor(Math.log10(unit / step))) + more;
  const text = (length / unit).toFixed(digits).replace(/\.?0+$/, '');
  const exact = Number.isInteger((length * 10 ** digits) / unit);
  return `${exact ? '' : '~'}${text}${name}`;
}
