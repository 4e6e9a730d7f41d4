/** Units of measure as people write them elsewhere, and what is written for them here. */
import { isMeasure, measureOf } from '../../grammar/measures.ts';
import type { Expression, Item, NumberLiteral, Range, Statement } from '../../grammar/tree.ts';
import { placeOf } from '../../grammar/tree.ts';
import { written } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { didYouMean, nearFixes } from './near-names.ts';
import { nearestOnes } from './nearest.ts';
import { isExpression, slotsOf } from './phrase.ts';
import * as rules from './rules.ts';
import type { WordEntry } from './words/entry.ts';

export interface Spelled extends Range {
  readonly meant: string;
}

/** By what is meant. */
const spellings: Readonly<Record<string, string>> = {
  inch: 'in',
  inches: 'in',
  ins: 'in',
  foot: 'ft',
  feet: 'ft',
  millimetre: 'mm',
  millimetres: 'mm',
  millimeters: 'mm',
  centimetres: 'cm',
  meter: 'm',
  metre: 'm',
  metres: 'm',
  pound: 'lb',
  pounds: 'lb',
  lbs: 'lb',
  degrees: 'deg',
};

/** What stands behind a stroke. */
const areas: Readonly<Record<string, string>> = {
  sqft: 'ft2',
  sf: 'ft2',
  'ft²': 'ft2',
  ft2: 'ft2',
  sqm: 'm2',
  'm²': 'm2',
  m2: 'm2',
  ft: 'ft',
  lf: 'ft',
  m: 'm',
};

/** A load is a force, and people write the mass that makes it. */
const forces: Readonly<Record<string, string>> = { lb: 'lbf', 'lb/ft2': 'lbf/ft2', 'lb/ft': 'lbf/ft' };
const masses = Object.fromEntries(Object.entries(forces).map(([mass, force]) => [force, mass]));

/** The unit of measure of one of these dimensions that is meant by another one: pounds-force by pounds. */
export function ofDimension(unit: string, dimensions: ReadonlySet<string>): string | undefined {
  return [forces[unit], masses[unit]].find(
    (one) => one !== undefined && dimensions.has(measureOf(one)?.dimension ?? ''),
  );
}

function meantBy(unit: string, dimensions: ReadonlySet<string>): string | undefined {
  const [above = '', below] = unit
    .toLowerCase()
    .split('/')
    .map((part) => part.trim());
  const first = spellings[above] ?? (isMeasure(above) ? above : undefined);
  if (first === undefined) return undefined;
  const second = below === undefined ? undefined : areas[below];
  if (below !== undefined && second === undefined) return undefined;
  const meant = second === undefined ? first : `${first}/${second}`;
  return isMeasure(meant) ? (ofDimension(meant, dimensions) ?? meant) : undefined;
}

/** What a unit of measure is written as here, whatever is measured by it; undefined of what is none. */
export function unitMeant(unit: string): string | undefined {
  return isMeasure(unit) ? unit : meantBy(unit, new Set());
}

/** `Oin` behind a number with the digits that its first letters look like: `0in`. */
export function asDigits(unit: string): string | undefined {
  const letters = /^[OoQDIlSBZ]+/.exec(unit)?.[0] ?? '';
  const rest = unit.slice(letters.length);
  if (letters === '' || (rest !== '' && unitMeant(rest) === undefined)) return undefined;
  return [...letters].map((letter) => digitLike[letter]).join('') + rest;
}

const digitLike: Readonly<Record<string, string>> = {
  O: '0',
  o: '0',
  Q: '0',
  D: '0',
  I: '1',
  l: '1',
  S: '5',
  B: '8',
  Z: '2',
};

/** The same of a mass as of the force of its weight, which people do not tell apart. */
export function ofWeight(unit: string): string {
  return forces[unit] ?? unit;
}

/** A unit of measure that stands as a word behind a number. */
export function unitAsWord(
  expression: Expression,
  { text }: Statement,
  dimensions: ReadonlySet<string> = new Set(),
): Spelled | undefined {
  if (expression.kind !== 'number') return undefined;
  const found = /^([ \t]+)([A-Za-z]+(?:[ \t]*\/[ \t]*[\p{L}\p{N}]+)?)(?![\w-])/u.exec(text.slice(expression.end));
  const meant = found?.[2] !== undefined && !isMeasure(found[2]) ? meantBy(found[2], dimensions) : undefined;
  if (!found || meant === undefined) return undefined;
  const start = expression.end + (found[1] ?? '').length;
  return { start, end: start + (found[2] ?? '').length, meant };
}

/** `lb/sqft` behind a number, of which the first half alone is a unit of measure: all of it. */
export function unitInHalves(
  expression: Expression,
  { text }: Statement,
  dimensions: ReadonlySet<string> = new Set(),
): Spelled | undefined {
  if (expression.kind !== 'binary' || expression.operator !== '/') return undefined;
  const { left, right } = expression;
  const unit = left.kind === 'number' ? left.parts.at(-1)?.unit : undefined;
  if (!unit || right.kind !== 'path' || right.words.length > 1) return undefined;
  const meant = meantBy(text.slice(unit.start, right.end), dimensions);
  return meant === undefined ? undefined : { start: unit.start, end: right.end, meant };
}

/** Units of measure that are none, with what is meant or the nearest one offered; `but` is an item that does not fit as it is. */
export function unknownUnits(
  statement: Statement,
  items: readonly Item[],
  entry: WordEntry | undefined,
  but?: Item,
): Finding[] {
  const dimensions = entry ? dimensionsOf(entry) : new Set<string>();
  const found: Finding[] = [];
  const visit = (e: Expression): void => {
    const halves = unitInHalves(e, statement, dimensions);
    if (halves) found.push(unitSpelled(statement, halves));
    else if (e.kind === 'binary') {
      visit(e.left);
      visit(e.right);
    } else if (e.kind === 'negation') visit(e.operand);
    else if (e.kind === 'group') visit(e.inner);
    else if (e.kind === 'call') e.args.forEach(visit);
    else if (e.kind === 'number') found.push(...ofNumber(statement, e, dimensions));
  };
  for (const item of items) if (item !== but && isExpression(item)) visit(item);
  return found;
}

function unitSquared(statement: Statement, { parts, end }: NumberLiteral, dimensions: ReadonlySet<string>): Finding {
  const range = { start: parts.at(-1)?.unit?.start ?? end, end: end + 1 };
  const written = statement.text.slice(range.start, range.end);
  return unitSpelled(statement, { ...range, meant: meantBy(written, dimensions) ?? written.replace('²', '2') });
}

function ofNumber(statement: Statement, number: NumberLiteral, dimensions: ReadonlySet<string>): Finding[] {
  const units = number.parts.flatMap(({ unit }) => unit ?? []);
  // The sign for an area is none here: `lb/ft²`.
  if (units.length > 0 && statement.text[number.end] === '²') return [unitSquared(statement, number, dimensions)];
  return units.filter(({ text }) => !measureOf(text)).map((unit) => unknownUnit(statement, unit, dimensions));
}

/** `5ft6in`: without the space, all of it is taken for a unit of measure. */
function inchesTouchFeet(
  { text }: Statement,
  { start }: Range,
): { start: number; end: number; meant: string } | undefined {
  const found = /^(ft|')(\d[\d./-]*(?:in|"))(?![\w-])/.exec(text.slice(start));
  if (!found) return undefined;
  const from = start - (/[\d./-]+$/.exec(text.slice(Math.max(0, start - 40), start))?.[0].length ?? 0);
  const end = start + found[0].length;
  return { start: from, end, meant: `${text.slice(from, start)}${found[1]} ${found[2]}` };
}

function unknownUnit(
  statement: Statement,
  unit: Range & { readonly text: string },
  dimensions: ReadonlySet<string>,
): Finding {
  const inches = inchesTouchFeet(statement, unit);
  if (inches) {
    const place = placeOf(statement, inches);
    const message = 'Between feet and inches stands a space.';
    const fixes = [written(place, inches.meant)];
    return finding(rules.unitNotKnown, place, message, { advice: `Did you mean ${inches.meant}?`, fixes });
  }
  const meant = meantBy(unit.text, dimensions);
  const near = meant === undefined ? nearestOnes(unit.text, allUnits) : [meant];
  const place = placeOf(statement, unit);
  const digits = asDigits(unit.text);
  // A digit that is taken for a part of the unit of measure belongs to the number: nobody knows which number was meant.
  const isOfNumber = digits !== undefined || /\d/.test(unit.text);
  const whole = /[\d./-]*$/.exec(statement.text.slice(0, unit.start))?.[0] ?? '';
  const fixes = nearFixes(place, near, isOfNumber);
  return finding(rules.unitNotKnown, place, `"${unit.text}" is not a unit of measure.`, {
    advice:
      digits === undefined
        ? (didYouMean(near) ?? 'Of lengths there are in, ft, mm, cm and m.')
        : `Did you mean ${whole}${digits}, with a digit in place of a letter?`,
    fixes:
      digits === undefined
        ? fixes
        : [{ ...written(place, digits, { byHand: true }), title: `Write ${whole}${digits}` }, ...fixes],
  });
}

export function unitSpelled(statement: Statement, { meant, ...range }: Spelled): Finding {
  const place = placeOf(statement, range);
  const written = statement.text.slice(range.start, range.end);
  return finding(rules.unitNotKnown, place, `"${written}" is not how a unit of measure is written.`, {
    advice: `Did you mean "${meant}"?`,
    fixes: [{ title: `Write "${meant}"`, edits: [{ place, text: meant }] }],
  });
}

export function dimensionsOf({ phrase }: WordEntry): ReadonlySet<string> {
  return new Set(slotsOf(phrase).flatMap(({ type }) => (type.kind === 'quantity' ? [type.dimension] : [])));
}

const allUnits = [
  'in',
  'ft',
  'mm',
  'cm',
  'm',
  'lb',
  'kg',
  'lbf',
  'psi',
  'ksi',
  'MPa',
  'GPa',
  'kPa',
  'deg',
  'days',
  'weeks',
];
