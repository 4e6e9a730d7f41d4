/** Computed amounts as people read them, in the system that a project shows. Taken in SI. */
import { type Show, showLength } from '../../model/show.ts';
import { inches, millimetres, roundDown, roundUp, TICKS_PER_MM, type Ticks, ticks } from '../../model/ticks.ts';
import { GRAVITY, INCH, PLF, POUND_FORCE, PSI } from './units.ts';

const TICKS_PER_METRE = TICKS_PER_MM * 1000;

/** A measured amount in whole ticks that is no smaller than it was. */
export function upTicks(length: number): Ticks {
  return ticks(bounded(Math.ceil(length * TICKS_PER_METRE - 1e-6)));
}

/** A limit in whole ticks that is no greater than it was. */
export function downTicks(length: number): Ticks {
  return ticks(bounded(Math.floor(length * TICKS_PER_METRE + 1e-6)));
}

/** Of absurd stiffness and loads come absurd lengths: they are shown as the longest that can be counted. */
function bounded(count: number): number {
  const most = Number.MAX_SAFE_INTEGER - TICKS_PER_METRE;
  return Math.max(-most, Math.min(most, count));
}

/** A length on the way to a result, to the nearest 1/64 in or 0.1 mm. */
export function nearText(length: number, show: Show): string {
  const step = show.system === 'inches' ? inches(1 / 64) : millimetres(0.1);
  return showLength(ticks(Math.round((length * TICKS_PER_METRE) / step) * step), show);
}

/** A sag: `0.297in`, `7.5mm`. Decimals, because nobody marks one out. */
export function sagText(length: number, { system }: Show): string {
  return system === 'inches' ? `${(length / INCH).toFixed(3)}in` : `${(length * 1000).toFixed(2)}mm`;
}

/** The longest length that may be cut or marked out: rounded down to 1/8 in or 1 mm. */
export function atMostText(length: number, show: Show): string {
  return showLength(roundDown(downTicks(length), show.system === 'inches' ? inches(1 / 8) : millimetres(1)), show);
}

/** The least size that does: rounded up to 1/16 in or 1 mm. */
export function atLeastText(length: number, show: Show): string {
  return showLength(roundUp(upTicks(length), show.system === 'inches' ? inches(1 / 16) : millimetres(1)), show);
}

export function lineText(newtonsPerMetre: number, { system }: Show): string {
  return system === 'inches' ? `${digits(newtonsPerMetre / PLF)} lbf/ft` : `${digits(newtonsPerMetre)} N/m`;
}

/** A load that is no more than this: rounded down to two digits that count. */
export function lineAtMostText(newtonsPerMetre: number, show: Show): string {
  const unit = show.system === 'inches' ? PLF : 1;
  const amount = newtonsPerMetre / unit;
  const step = 10 ** (Math.floor(Math.log10(amount)) - 1);
  return lineText(Math.floor(amount / step + 1e-9) * step * unit, show);
}

export function areaText(pascals: number, { system }: Show): string {
  return system === 'inches' ? `${digits(pascals / (PSI / 144))} lbf/ft2` : `${digits(pascals / 1000)} kPa`;
}

export function forceText(newtons: number, { system }: Show): string {
  return system === 'inches' ? `${digits(newtons / POUND_FORCE)} lbf` : `${digits(newtons)} N`;
}

/** What a mass must be at the least to press with so many newtons, as ratings are given: whole pounds or kilograms, rounded up. */
export function massText(newtons: number, { system }: Show): string {
  const amount = system === 'inches' ? newtons / POUND_FORCE : newtons / GRAVITY;
  return `${Math.ceil(amount - 1e-9)} ${system === 'inches' ? 'lb' : 'kg'}`;
}

/** A force as a number and its unit of measure. */
export function forceAmount(newtons: number, { system }: Show): { readonly amount: number; readonly unit: string } {
  return system === 'inches' ? { amount: newtons / POUND_FORCE, unit: 'lbf' } : { amount: newtons, unit: 'N' };
}

export function stiffnessText(pascals: number, { system }: Show): string {
  return system === 'inches' ? `${digits(pascals / PSI / 1000)} ksi` : `${digits(pascals / 1e6)} MPa`;
}

/** A stress as a number and its unit of measure. */
export function stress(pascals: number, { system }: Show): { readonly amount: number; readonly unit: string } {
  return system === 'inches' ? { amount: pascals / PSI, unit: 'psi' } : { amount: pascals / 1e6, unit: 'MPa' };
}

export function stressText(pascals: number, show: Show): string {
  const { amount, unit } = stress(pascals, show);
  return `${digits(amount)} ${unit}`;
}

export function inertiaText(inertia: number, { system }: Show): string {
  return system === 'inches' ? `${digits(inertia / INCH ** 4)} in4` : `${digits(inertia * 1e12)} mm4`;
}

export function modulusText(modulus: number, { system }: Show): string {
  return system === 'inches' ? `${digits(modulus / INCH ** 3)} in3` : `${digits(modulus * 1e9)} mm3`;
}

export function momentText(newtonMetres: number, { system }: Show): string {
  return system === 'inches' ? `${digits(newtonMetres / (POUND_FORCE * INCH))} lbf in` : `${digits(newtonMetres)} N m`;
}

/** Four digits that count, whole numbers in full, no zeros at the end. */
function digits(value: number): string {
  if (!Number.isFinite(value)) return String(value);
  const size = Math.abs(value);
  if (size >= 1000) return value.toFixed(0);
  return String(Number(value.toPrecision(4)));
}

export function momentAmount(
  newtonMetres: number,
  { system }: Show,
): { readonly amount: number; readonly unit: string } {
  return system === 'inches'
    ? { amount: newtonMetres / (POUND_FORCE * INCH), unit: 'lbf in' }
    : { amount: newtonMetres, unit: 'N m' };
}
