/** Lengths as people read them. What is computed is shown as `show` says; what was written is echoed as written. */
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
