/**
 * Expressions to values. Lengths, counts and money (in hundredths) are exact; everything else is an ordinary number in
 * SI base units. Whatever is wrong is reported once, where it stands, and gives no value.
 */

import { type Dimension, measureOf } from '../../grammar/measures.ts';
import {
  type Expression,
  type NumberLiteral,
  type NumberPart,
  type Path,
  type Place,
  placeOf,
  type Statement,
} from '../../grammar/tree.ts';
import { bareNumber } from './bare-number.ts';
import { capital } from './capital.ts';
import { written } from './edits.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import { computed, type Fraction, fraction, fractionOfNumber, nearestNumber, roundedDown } from './fractions.ts';
import { limits } from './limits.ts';
import { calledInProject, type Names } from './names.ts';
import { decimalComma, isCutByASlip, isLeftByASlip } from './other-spellings.ts';
import { dimensionName } from './phrase.ts';
import * as rules from './rules.ts';
import type { Show } from './show.ts';
import { LONGEST, TICKS_PER_INCH, TICKS_PER_MM, type Ticks, ticks } from './ticks.ts';
import { ofDimension, unitAsWord, unitInHalves, unitSpelled } from './unit-spellings.ts';
import { listOr } from './word-lists.ts';

export type Value =
  | { readonly kind: 'length'; readonly ticks: Ticks }
  | {
      readonly kind: 'number';
      readonly dimension: Exclude<Dimension, 'length'>;
      readonly amount: number;
      readonly currency?: string;
      /** A count, or hundredths of money, that is no whole number: what it is exactly. `amount` is the nearest number. */
      readonly exactly?: Fraction;
    }
  | { readonly kind: 'text'; readonly text: string }
  | {
      readonly kind: 'name';
      readonly of: 'board' | 'rod' | 'garment' | 'hardware';
      readonly name: string;
      readonly home: Names;
    };

type NumberValue = Extract<Value, { kind: 'number' }>;

/** Where an expression is evaluated: what its names mean, and where findings go. */
export interface Scope {
  /** The value of a parameter or dimension. Undefined where it is not known; the scope has then reported it. */
  readonly lookUp: (path: Path, statement: Statement) => Value | undefined;
  readonly report: (finding: Finding) => void;
  /** What the project shows lengths in. Asked only where something is offered to be written. */
  readonly system: () => Show['system'];
}

/** The same for equal values, for telling equal inputs. */
export function valueKey(value: Value | undefined): string {
  if (!value) return '?';
  if (value.kind === 'length') return `${value.ticks}`;
  if (value.kind === 'number') return `${exactText(value)} ${value.dimension}`;
  return value.kind === 'text' ? JSON.stringify(value.text) : `${value.of} ${calledInProject(value)}`;
}

function exactText({ amount, exactly }: NumberValue): string {
  return exactly ? `${exactly.numerator}/${exactly.denominator}` : `${amount}`;
}

export function kindOf(value: Value): string {
  if (value.kind === 'length') return 'a length';
  if (value.kind === 'text') return 'a text';
  if (value.kind === 'name') return `a ${value.of}`;
  return dimensionName(value.dimension);
}

/** Evaluates an expression of a statement. */
export function evaluate(expression: Expression, statement: Statement, scope: Scope): Value | undefined {
  switch (expression.kind) {
    case 'missing':
      return undefined;
    case 'number':
      return numberValue(expression, statement, scope);
    case 'path':
      return isLeftByASlip(statement, expression) ? undefined : scope.lookUp(expression, statement);
    case 'group':
      return evaluate(expression.inner, statement, scope);
    case 'negation': {
      const value = evaluate(expression.operand, statement, scope);
      if (!value) return undefined;
      if (value.kind === 'length') return { kind: 'length', ticks: ticks(-value.ticks) };
      if (value.kind === 'number') return negative(value);
      return wrong(`${kindOf(value)} cannot be negative.`);
    }
    case 'call':
      return call(expression, statement, scope);
    case 'binary': {
      // It has been reported by the reading.
      if (unitInHalves(expression, statement)) return undefined;
      const left = evaluate(expression.left, statement, scope);
      const right = evaluate(expression.right, statement, scope);
      if (!left || !right) return undefined;
      const result = combine(expression.operator, left, right);
      if (typeof result !== 'string') {
        if (!isTooLarge(result)) return result;
        scope.report(tooLarge(placeOf(statement, expression), 'This'));
        return undefined;
      }
      const { operator } = expression;
      return wrong(
        result,
        operator === '+' || operator === '-' ? bareLength([expression.left, left], [expression.right, right]) : [],
      );
    }
  }

  /** Of a length and a bare number, the number with a unit of measure. */
  function bareLength(...sides: readonly (readonly [Expression, Value])[]): Fix[] {
    if (!sides.some(([, value]) => value.kind === 'length')) return [];
    return sides.flatMap(([side, value]) =>
      side.kind === 'number' && value.kind === 'number' && value.dimension === 'count'
        ? bareNumber(side, statement, scope.system()).fixes
        : [],
    );
  }

  function wrong(message: string, fixes: readonly Fix[] = []): undefined {
    const advice = message.endsWith(byZero)
      ? 'Divide by a number other than 0.'
      : 'Give both the same kind of quantity: a number that is a length has a unit of measure.';
    scope.report(finding(rules.wrongQuantity, placeOf(statement, expression), capital(message), { advice, fixes }));
    return undefined;
  }
}

function combine(operator: '+' | '-' | '*' | '/', a: Value, b: Value): Value | string {
  if (a.kind === 'text' || b.kind === 'text' || a.kind === 'name' || b.kind === 'name') {
    return `${kindOf(a)} and ${kindOf(b)} cannot be computed with.`;
  }
  if (operator === '+' || operator === '-') {
    const verb =
      operator === '+'
        ? `${kindOf(b)} cannot be added to ${kindOf(a)}`
        : `${kindOf(b)} cannot be taken from ${kindOf(a)}`;
    if (a.kind === 'length' && b.kind === 'length')
      return length(operator === '+' ? a.ticks + b.ticks : a.ticks - b.ticks);
    return a.kind === 'number' && b.kind === 'number' && a.dimension === b.dimension
      ? numbers(operator, a, b, a)
      : `${verb}: only quantities of one kind can be.`;
  }
  if (operator === '*') {
    if (a.kind === 'length' && b.kind === 'length')
      return 'Two lengths multiplied are an area, and nothing here takes one.';
    if (a.kind === 'length')
      return b.kind === 'number' && b.dimension === 'count'
        ? scaled('*', a.ticks, b)
        : `A length can only be multiplied by a count.`;
    if (b.kind === 'length') return combine('*', b, a);
    if (a.dimension === 'count') return numbers('*', a, b, b);
    return b.dimension === 'count' ? numbers('*', a, b, a) : `${kindOf(a)} cannot be multiplied by ${kindOf(b)}.`;
  }
  const divisor = b.kind === 'length' ? b.ticks : b.amount;
  if (divisor === 0) return byZero;
  if (a.kind === 'length' && b.kind === 'length')
    return exact(fraction(BigInt(a.ticks), BigInt(b.ticks)), { kind: 'number', dimension: 'count' });
  if (a.kind === 'length')
    return b.kind === 'number' && b.dimension === 'count'
      ? scaled('/', a.ticks, b)
      : 'A length can only be divided by a count or a length.';
  if (b.kind === 'number' && b.dimension === 'count') return numbers('/', a, b, a);
  return `${kindOf(a)} cannot be divided by ${kindOf(b)}.`;
}

/** Two numbers computed into one of the kind of `like`. */
function numbers(operator: '+' | '-' | '*' | '/', a: NumberValue, b: NumberValue, like: NumberValue): Value | string {
  const { exactly: _, ...kind } = like;
  const amount = plainly(operator, a.amount, b.amount);
  const areWhole = Number.isSafeInteger(a.amount) && Number.isSafeInteger(b.amount) && !a.exactly && !b.exactly;
  if (!isExact(like.dimension) || (areWhole && Number.isSafeInteger(amount)))
    return Number.isFinite(amount)
      ? { ...kind, amount: amount === 0 ? 0 : amount }
      : 'This is more than can be computed with.';
  const [one, other] = [fractionOf(a), fractionOf(b)];
  return exact(one && other && computed(operator, one, other), kind);
}

function plainly(operator: '+' | '-' | '*' | '/', a: number, b: number): number {
  switch (operator) {
    case '+':
      return a + b;
    case '-':
      return a - b;
    case '*':
      return a * b;
    case '/':
      return a / b;
  }
}

function isExact(dimension: Dimension): boolean {
  return dimension === 'count' || dimension === 'money';
}

function fractionOf({ amount, exactly }: NumberValue): Fraction | undefined {
  return exactly ?? fractionOfNumber(amount);
}

function exact(value: Fraction | undefined, kind: Omit<NumberValue, 'amount' | 'exactly'>): Value | string {
  if (!value) return 'This has more digits than can be computed with.';
  const amount = nearestNumber(value);
  return value.denominator === 1n && Number.isSafeInteger(amount)
    ? { ...kind, amount }
    : { ...kind, amount, exactly: value };
}

function negative(value: NumberValue): Value {
  const { amount, exactly } = value;
  const less = { ...value, amount: amount === 0 ? 0 : -amount };
  return exactly ? { ...less, exactly: { ...exactly, numerator: -exactly.numerator } } : less;
}

/** A length times or by a count, rounded down to a whole tick: a part is never made longer than it comes to exactly. */
function scaled(operator: '*' | '/', of: Ticks, by: NumberValue): Value | string {
  const plain = plainly(operator, of, by.amount);
  if (!by.exactly && Number.isSafeInteger(by.amount) && Number.isSafeInteger(plain)) return length(plain);
  const count = fractionOf(by);
  const result = count && computed(operator, { numerator: BigInt(of), denominator: 1n }, count);
  return result ? length(Number(roundedDown(result))) : 'This has more digits than can be computed with.';
}

function isTooLarge(value: Value): boolean {
  return value.kind === 'number' && !(Math.abs(value.amount) <= limits.largestAmount.most);
}

function tooLarge(place: Place, what: string): Finding {
  return finding(
    rules.outOfBounds,
    place,
    `${what} comes to more than ${limits.largestAmount.most.toLocaleString('en')}, the most that is computed with.`,
    { advice: 'Is the number right, and its unit of measure?' },
  );
}

function length(value: number): Value | string {
  return Number.isFinite(value) && Math.abs(value) <= LONGEST
    ? { kind: 'length', ticks: ticks(value) }
    : 'This comes to more than 1 km.';
}

function call(
  expression: Extract<Expression, { kind: 'call' }>,
  statement: Statement,
  scope: Scope,
): Value | undefined {
  const name = expression.name.text;
  const report = (message: string): undefined => {
    scope.report(
      finding(rules.wrongQuantity, placeOf(statement, expression), capital(message), {
        advice: 'There are min(a, b, ...) and max(a, b, ...).',
      }),
    );
    return undefined;
  };
  if (name !== 'min' && name !== 'max') return report(`There is no function "${name}".`);
  const values = expression.args.map((arg) => evaluate(arg, statement, scope));
  if (values.length === 0) return report(`${name} of nothing.`);
  let best: Value | undefined;
  for (const value of values) {
    if (!value) return undefined;
    if (value.kind === 'text' || value.kind === 'name') return report(`${kindOf(value)} has no ${name}.`);
    if (
      best &&
      (best.kind !== value.kind ||
        (best.kind === 'number' && value.kind === 'number' && best.dimension !== value.dimension))
    ) {
      return report(`${kindOf(best)} and ${kindOf(value)} cannot be compared.`);
    }
    if (!best) best = value;
    else {
      const [x, y] = [amountOf(best), amountOf(value)];
      if (name === 'min' ? y < x : y > x) best = value;
    }
  }
  return best;
}

function amountOf(value: Value): number {
  return value.kind === 'length' ? value.ticks : value.kind === 'number' ? value.amount : 0;
}

const literals = new WeakMap<NumberLiteral, Value | ((statement: Statement) => Finding)>();

function numberValue(literal: NumberLiteral, statement: Statement, scope: Scope): Value | undefined {
  let known = literals.get(literal);
  if (!known) {
    known = literalValue(literal) ?? (() => finding(rules.unitNotKnown, placeOf(statement, literal), ''));
    literals.set(literal, known);
  }
  if (typeof known !== 'function') return known;
  const problem = known(statement);
  // An unknown unit of measure has been reported by the reading already.
  if (problem.message !== '') scope.report(problem);
  return undefined;
}

function literalValue(literal: NumberLiteral): Value | ((statement: Statement) => Finding) | undefined {
  const value = anyValue(literal);
  return value && typeof value !== 'function' && isTooLarge(value)
    ? (statement) => tooLarge(placeOf(statement, literal), literal.raw)
    : value;
}

function anyValue(literal: NumberLiteral): Value | ((statement: Statement) => Finding) | undefined {
  let sum = 0n;
  for (const part of literal.parts) {
    const measure = part.unit ? measureOf(part.unit.text) : undefined;
    if (part.unit && !measure) return undefined;
    const dimension = measure?.dimension ?? 'count';
    if (dimension !== 'length') {
      if (dimension === 'money')
        return {
          kind: 'number',
          dimension,
          amount: hundredths(part.numerator, part.denominator),
          currency: (part.unit as { text: string }).text,
        };
      const value = fraction(part.numerator, part.denominator);
      if (dimension === 'count') {
        const count = exact(value, { kind: 'number', dimension });
        return typeof count === 'string' ? undefined : count;
      }
      return value && { kind: 'number', dimension, amount: nearestNumber(value) * (measure?.size ?? 1) };
    }
    const scaled = part.numerator * BigInt((measure as { size: number }).size);
    if (scaled % part.denominator !== 0n) return (statement) => fineFinding(literal, part, scaled, statement);
    sum += scaled / part.denominator;
  }
  if (sum > BigInt(LONGEST)) {
    return (statement) =>
      finding(rules.outOfBounds, placeOf(statement, literal), `${literal.raw} is more than 1 km.`, {
        advice: 'Is the unit of measure right?',
      });
  }
  return { kind: 'length', ticks: ticks(Number(sum)) };
}

/** Money in whole hundredths, rounded half up where more digits are written. */
function hundredths(numerator: bigint, denominator: bigint): number {
  return Number((numerator * 200n + denominator) / (denominator * 2n));
}

/** One of each, as it is written. */
const samples: Readonly<Record<Dimension, string>> = {
  length: '84in',
  count: '4',
  money: '14.50 EUR',
  angle: '90deg',
  mass: '50 lb',
  force: '40 lbf',
  'area-load': '40 lbf/ft2',
  'line-load': '20 lbf/ft',
  'area-mass': '2.5 lb/ft2',
  'line-mass': '0.5 lb/ft',
  stiffness: '330 ksi',
  time: '10 days',
  share: '50%',
};

/** With the number that is written, where it lacks nothing but what it is a number of. */
function sampleOf(dimension: Dimension, expression: Expression, value: Value): string {
  const isBare = expression.kind === 'number' && value.kind === 'number' && value.dimension === 'count';
  const sample = samples[dimension];
  return isBare && dimension !== 'money' ? sample.replace(/^[\d.]+/, expression.raw) : sample;
}

/** Pounds where pounds-force are meant, and the other way round, are how the trade speaks of loads. */
function withForce(expression: Expression, dimension: Dimension): string | undefined {
  if (expression.kind !== 'number' || expression.parts.length !== 1) return undefined;
  const unit = expression.parts[0]?.unit;
  // Angles have one unit of measure alone.
  if (!unit && dimension === 'angle') return `${expression.raw}deg`;
  const meant = unit && ofDimension(unit.text, new Set([dimension]));
  return meant && expression.raw.slice(0, unit.start - expression.start) + meant;
}

/** Where things are counted, a number with a unit of measure loses it. */
function counted(dimension: Dimension, expression: Expression, place: Place): Fix[] {
  if (dimension !== 'count' || expression.kind !== 'number' || expression.parts.length !== 1) return [];
  const number = /^[0-9]+/.exec(expression.raw)?.[0];
  return number ? [{ ...written(place, number), byHand: true }] : [];
}

/** A length that is no whole number of ticks, with the nearest marks of its own kind on both sides. */
function fineFinding(literal: NumberLiteral, part: NumberPart, scaled: bigint, statement: Statement): Finding {
  const inch = part.unit?.text !== 'mm' && part.unit?.text !== 'cm' && part.unit?.text !== 'm';
  const fraction = literal.raw.includes('/');
  const step = BigInt(inch ? (fraction ? TICKS_PER_INCH / 64 : TICKS_PER_INCH / 1000) : TICKS_PER_MM / 1000);
  const below = (scaled / (part.denominator * step)) * step;
  const neighbours = [below, below + step].map((t) => spelled(Number(t), inch, fraction));
  return finding(
    rules.tooFine,
    placeOf(statement, literal),
    `${literal.raw} is finer than can be kept exactly (steps of 25 nm).`,
    {
      advice: `Its neighbours are ${neighbours.join(' and ')}.`,
      fixes: neighbours.map(
        (text): Fix => ({ title: `Write ${text}`, edits: [{ place: placeOf(statement, part), text }] }),
      ),
    },
  );
}

function spelled(length: number, inch: boolean, fraction: boolean): string {
  if (!inch) return `${trimmed(length / TICKS_PER_MM)}mm`;
  if (!fraction) return `${trimmed(length / TICKS_PER_INCH)}in`;
  const whole = Math.floor(length / TICKS_PER_INCH);
  let over = Math.round(((length - whole * TICKS_PER_INCH) * 64) / TICKS_PER_INCH);
  let under = 64;
  while (over > 0 && over % 2 === 0) {
    over /= 2;
    under /= 2;
  }
  if (over === 0) return `${whole}in`;
  return whole > 0 ? `${whole}-${over}/${under}in` : `${over}/${under}in`;
}

function trimmed(n: number): string {
  return n.toFixed(3).replace(/\.?0+$/, '');
}

/** A value must be of a dimension; says so where it is not, and offers units of measure to a bare number. */
export function expect(
  value: Value | undefined,
  dimension: Dimension,
  expression: Expression,
  statement: Statement,
  scope: Scope,
): number | undefined {
  if (!value) return undefined;
  if (dimension === 'length' && value.kind === 'length') return value.ticks;
  if (value.kind === 'number' && value.dimension === dimension) return value.amount;
  const place = placeOf(statement, expression);
  if (isToldOtherwise(expression, dimension, statement, scope)) return undefined;
  if (dimension === 'length' && value.kind === 'number' && value.dimension === 'count') {
    const raw = statement.text.slice(expression.start, expression.end);
    const { why, advice, fixes } = bareNumber(expression, statement, scope.system());
    const message = `${raw} has no unit of measure: ${why}.`;
    scope.report(finding(rules.unitMissing, place, message, { advice, fixes }));
    return undefined;
  }
  const meant = withForce(expression, dimension);
  scope.report(
    finding(rules.wrongQuantity, place, `Here should be ${dimensionName(dimension)}, and this is ${kindOf(value)}.`, {
      ...(meant === undefined
        ? { advice: `Write for example: ${sampleOf(dimension, expression, value)}`, examples: true }
        : { advice: `Did you mean ${meant}?` }),
      fixes: meant === undefined ? counted(dimension, expression, place) : [written(place, meant)],
    }),
  );
  return undefined;
}

const byZero = 'This divides by zero.';

/** Before exactly three digits a comma may part thousands: 1,978 mm are two metres, or two millimetres. */
function meantByComma(text: string, decimal: string): { readonly texts: readonly string[]; readonly byHand: boolean } {
  if (!/,\d{3}(?!\d)/.test(text)) return { texts: [decimal], byHand: false };
  return { texts: /^[1-9]\d{0,2},/.test(text) ? [text.replace(',', ''), decimal] : [decimal], byHand: true };
}

/** A number that something is wrong with which is told of by itself: that it is a count says nothing then. */
function isToldOtherwise(expression: Expression, dimension: Dimension, statement: Statement, scope: Scope): boolean {
  if (expression.kind !== 'number') return false;
  // The number itself could not be read.
  if (statement.problems.some(({ start, end }) => start >= expression.start && end <= expression.end)) return true;
  if (isCutByASlip(statement, expression)) return true;
  // A sign before it that means nothing is told of: a currency, mostly.
  if (statement.problems.some(({ code, end }) => code === 'character-not-expected' && end === expression.start))
    return true;
  const comma = decimalComma(statement, expression);
  if (comma) {
    const place = placeOf(statement, comma);
    const written = statement.text.slice(comma.start, comma.end);
    const { texts, byHand } = meantByComma(written, comma.text);
    scope.report(
      finding(rules.characterNotExpected, place, `A decimal is written with a point, and ${written} has a comma.`, {
        advice: `Write ${listOr(texts)}.`,
        fixes: texts.map((text) => ({ title: `Write ${text}`, edits: [{ place, text }], ...(byHand && { byHand }) })),
      }),
    );
    return true;
  }
  const word = unitAsWord(expression, statement, new Set([dimension]));
  if (word) scope.report(unitSpelled(statement, word));
  return word !== undefined;
}
