/** Lengths, loads and prices that are examples: in inches, pounds and EUR where the tool is written, and told in what a project is written in. */
import { measureOf } from '../../grammar/measures.ts';
import type { Finding } from './finding.ts';
import type { Show } from './show.ts';

const mmPerInch = 25.4;

/** `6ft 3-1/2in`, `93-3/4in`, `1/16in`, `0.049in`, `8ft`: as examples are written, which have no inch marks. */
const written = /(?<![\w./-])(?:(\d+)ft ?)?(?:(\d+(?:\.\d+)?)(?:-(\d+)\/(\d+))?|(\d+)\/(\d+))?(in|ft)\b/g;

/** `40 lbf/ft2`, `330 ksi`, and what is written for it in a project in millimetres. */
const amounts = /(?<![\w./-])(\d+(?:\.\d+)?) (lbf\/ft2|lbf\/ft|lbf|lb\/ft2|lb\/ft|lb|psi|ksi)(?![\w/])/g;
const metric: Readonly<Record<string, string>> = {
  'lbf/ft2': 'kPa',
  'lbf/ft': 'N/m',
  lbf: 'N',
  'lb/ft2': 'kg/m2',
  'lb/ft': 'kg/m',
  lb: 'kg',
  psi: 'MPa',
  ksi: 'GPa',
};

/** The currency of examples, and a price in it. */
const exampleCurrency = 'EUR';
const price = /(?<![\w./-])(\d+\.\d\d) EUR\b/g;

/** Whether examples are told as they stand in the tool. */
export function areAsWritten(system: Show['system'], currency: string | undefined): boolean {
  return system === 'inches' && (currency === undefined || currency === exampleCurrency);
}

/**
 * A text with the lengths of examples in a project's system. Inches are meant as they stand; in millimetres the
 * nearest length that somebody would write by whom such a thing is built: stock in tens, sizes in whole fifties, and
 * what is given to a fraction of an inch in single millimetres. Loads keep two digits that count. A price keeps its number,
 * which is none of anybody's, and is in the project's `currency` where it names one.
 */
export function examplesIn(text: string, system: Show['system'], currency?: string): string {
  const priced = currency === undefined ? text : text.replaceAll(price, `$1 ${currency}`);
  if (system === 'inches') return priced;
  const loads = priced.replaceAll(amounts, (all, amount, unit) => {
    const [from, to] = [measureOf(unit), measureOf(metric[unit] ?? '')];
    return from && to ? `${Number(((Number(amount) * from.size) / to.size).toPrecision(2))} ${to.spelling}` : all;
  });
  return loads.replaceAll(written, (all, feet, whole, n1, d1, n2, d2, unit) => {
    const number = Number(whole ?? 0) + Number(n1 ?? n2 ?? 0) / Number(d1 ?? d2 ?? 1);
    if (unit === 'ft') return feet === undefined && number > 0 ? `${toStep(number * 12 * mmPerInch, 10)}mm` : all;
    const mm = (Number(feet ?? 0) * 12 + number) * mmPerInch;
    if (mm === 0) return all.startsWith('0') ? '0mm' : all;
    if (whole?.includes('.')) return `${Number(mm.toFixed(2))}mm`;
    return `${n1 === undefined && n2 === undefined ? toStep(mm, stepFor(mm)) : Math.max(1, Math.round(mm))}mm`;
  });
}

function stepFor(mm: number): number {
  return mm < 50 ? 1 : mm < 100 ? 5 : mm < 200 ? 10 : 50;
}

function toStep(mm: number, step: number): number {
  return Math.round(mm / step) * step;
}

interface Told {
  readonly system: Show['system'];
  readonly currency: string | undefined;
  readonly finding: Finding;
}

const made = new WeakMap<Finding, Told>();

/** A finding as a project of some system and currency says it. The same one for the same one. */
export function withExamplesIn(found: Finding, system: Show['system'], currency: string | undefined): Finding {
  if (!found.examples || areAsWritten(system, currency)) return found;
  const known = made.get(found);
  if (known && known.system === system && known.currency === currency) return known.finding;
  const { advice, fixes } = found;
  const own = (text: string): string => examplesIn(text, system, currency);
  const finding: Finding = {
    ...found,
    ...(advice !== undefined && { advice: own(advice) }),
    fixes: fixes.map((fix) => ({
      ...fix,
      title: own(fix.title),
      edits: fix.edits.map((edit) => ({ ...edit, text: own(edit.text) })),
    })),
  };
  made.set(found, { system, currency, finding });
  return finding;
}
