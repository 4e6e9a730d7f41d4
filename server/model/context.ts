/** Reading values out of readings: what every part of the model needs to do so. */
import type { Dimension } from '../../grammar/measures.ts';
import { headPlace, type Path, type Place, placeOf, type Statement, sliceOf, topOf } from '../../grammar/tree.ts';
import { declaredBehind, written } from './edits.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import type { Declared, DeclaredKind, Names } from './names.ts';
import { didYouMean, nearFixes } from './near-names.ts';
import { nearestOnes } from './nearest.ts';
import { dimensionName } from './phrase.ts';
import { child, dotted, expressionIn, pathIn, type Reading, says } from './reading.ts';
import * as rules from './rules.ts';
import type { Show } from './show.ts';
import { type Ticks, ticks } from './ticks.ts';
import type { Trace } from './trace.ts';
import { evaluate, expect, kindOf, type Scope, type Value } from './values.ts';

export interface Context extends Scope {
  readonly names: Names;
  /** The names of libraries, by the declarations whose statements mean these: what a template of a project extends. */
  readonly homes?: Homes;
  readonly trace: Trace;
}

export type Homes = ReadonlyMap<Statement, Names>;

/** The names that a statement means. */
export function namesAt({ names, homes }: Pick<Context, 'names' | 'homes'>, statement: Statement): Names {
  return homes?.get(topOf(statement)) ?? names;
}

const numberWords = 'zero one two three four five six seven eight nine ten eleven twelve'.split(' ');

/** Nothing has a name here: for declarations that stand by themselves. */
export function plainContext(names: Names, trace: Trace, report: (f: Finding) => void, homes?: Homes): Context {
  return {
    names,
    ...(homes && { homes }),
    trace,
    report,
    system: () => systemOf(names),
    lookUp: (path, statement) => {
      const digits = numberWords.indexOf(dotted(path));
      if (digits >= 0) {
        report(
          finding(
            rules.nameNotKnown,
            placeOf(statement, path),
            `A count is written in digits, and "${dotted(path)}" is a word.`,
            { advice: `Write ${digits}`, fixes: [written(placeOf(statement, path), String(digits))] },
          ),
        );
        return undefined;
      }
      report(
        finding(rules.nameNotKnown, placeOf(statement, path), `"${dotted(path)}" has no value here.`, {
          advice: 'Only a template has parameters and dimensions to compute with.',
        }),
      );
      return undefined;
    },
  };
}

/** As `show` in the project says. No trace is left: when that changes, everything is computed anew (`sameForUnits`). */
function systemOf(names: Names): Show['system'] {
  const [project] = names.declarations('project', 'project');
  const show = project && child(project.reading, 'show');
  return show && says(show, 'millimetres') ? 'millimetres' : 'inches';
}

/** A quantity in a slot; undefined where it is not there or not right (which has then been reported). */
export function quantityIn(
  reading: Reading | undefined,
  slot: string,
  dimension: Dimension,
  context: Context,
): number | undefined {
  if (!reading) return undefined;
  const expression = expressionIn(reading, slot);
  if (!expression) return undefined;
  const value = expect(
    evaluate(expression, reading.statement, context),
    dimension,
    expression,
    reading.statement,
    context,
  );
  if (value === undefined) return undefined;
  if (value < 0) {
    context.report(
      finding(
        rules.outOfBounds,
        placeOf(reading.statement, expression),
        `${sliceOf(reading.statement, expression)} comes out negative, and ${dimensionName(dimension)} cannot be less than nothing here.`,
        {
          advice:
            expression.kind === 'negation'
              ? 'Take the minus away.'
              : 'See that what is taken off is less than the rest.',
          fixes:
            expression.kind === 'negation'
              ? [written(placeOf(reading.statement, expression), sliceOf(reading.statement, expression.operand))]
              : [],
        },
      ),
    );
    return undefined;
  }
  return value;
}

export function lengthIn(reading: Reading | undefined, slot: string, context: Context): Ticks | undefined {
  const value = quantityIn(reading, slot, 'length', context);
  return value === undefined ? undefined : ticks(value);
}

/** Money in whole hundredths, rounded half up where it is computed: `9.80 EUR / 3`. */
export function moneyIn(reading: Reading | undefined, slot: string, context: Context): number | undefined {
  const value = quantityIn(reading, slot, 'money', context);
  return value === undefined ? undefined : Math.round(value);
}

/** A whole count from `least` to `most`. */
export function countIn(
  reading: Reading | undefined,
  slot: string,
  context: Context,
  least: number,
  most: number,
): number | undefined {
  const value = quantityIn(reading, slot, 'count', context);
  if (value === undefined || !reading) return undefined;
  const place = placeOf(reading.statement, expressionIn(reading, slot) as { start: number; end: number });
  if (!Number.isInteger(value)) {
    context.report(
      finding(rules.outOfBounds, place, `${value} is not a whole number, and things are counted here.`, {
        advice: `The nearest whole numbers are ${Math.floor(value)} and ${Math.ceil(value)}.`,
        fixes: [Math.floor(value), Math.ceil(value)]
          .filter((whole) => whole >= least && whole <= most)
          .map((whole) => written(place, String(whole))),
      }),
    );
    return undefined;
  }
  if (value > most) {
    context.report(
      finding(
        rules.tooMany,
        place,
        `${value.toLocaleString('en')} is more than the ${most.toLocaleString('en')} taken on here.`,
        {
          advice: `Write ${most.toLocaleString('en')} or less.`,
          comparison: { what: 'count', measured: { count: value }, relation: 'at most', limit: { count: most } },
        },
      ),
    );
    return undefined;
  }
  if (value < least) {
    context.report(
      finding(rules.outOfBounds, place, `${value} is less than ${least}, the least that can be counted here.`, {
        advice: `Write ${least} or more.`,
        comparison: { what: 'count', measured: { count: value }, relation: 'at least', limit: { count: least } },
      }),
    );
    return undefined;
  }
  return value;
}

export function placeOfSlot(reading: Reading, slot: string): Place {
  const item = reading.slots[slot]?.[0];
  return item ? placeOf(reading.statement, item) : headPlace(reading.statement);
}

/** The declaration a path names, reported where there is none. Parameters that hold a name go before. */
export function declarationAt(
  path: Path | undefined,
  kinds: readonly DeclaredKind[],
  statement: Statement,
  context: Context,
): Declared | undefined {
  if (!path) return undefined;
  const name = dotted(path);
  const names = namesAt(context, statement);
  for (const kind of kinds) {
    const found = names.find(kind, name, context.trace);
    if (found) return found;
  }
  context.report(nameNotKnown(path, kinds, statement, names));
  return undefined;
}

export function nameNotKnown(path: Path, kinds: readonly DeclaredKind[], statement: Statement, names: Names): Finding {
  const name = dotted(path);
  const candidates = [...new Set(kinds.flatMap((kind) => names.nearestTo(kind, name)))];
  // One with a library before it is not compared as it stands.
  const nearest = nearestOnes(name, candidates);
  const near = nearest.length > 0 ? nearest : candidates;
  const found = unknownName(path, statement, kinds.map(kindName).join(' or '), near);
  if (near.length === 0) return { ...found, fixes: declaring(kinds, name, statement) };
  // What was measured in one flat is given to no other unasked.
  return statement.word.text === 'survey' ? { ...found, fixes: nearFixes(found.place, near, true) } : found;
}

/** What a declaration has to say at the least, without the numbers. */
const sketches: Partial<Record<DeclaredKind, string>> = {
  board: '{ depth; thickness }',
  rod: '{ diameter }',
  garment: '{ hang; hanger }',
  hardware: '{ is }',
  policy: '{ limit }',
  template: '{ wall back { length; height } }',
};

/** Declares what is named and not known; none of a name in a library, which is written elsewhere. */
export function declaring(kinds: readonly DeclaredKind[], name: string, statement: Statement): Fix[] {
  if (name.includes('.')) return [];
  return kinds.flatMap((kind) => {
    const block = sketches[kind];
    const title = `Declare ${kind} ${name}, to be filled in`;
    return block === undefined ? [] : declaredBehind(statement, `${kind} ${name} ${block}`, title);
  });
}

/**
 * A name in an expression that has no value. A minus without spaces makes one word of two values. `words` may stand there
 * as well, and one of them may have been meant.
 */
export function unknownValue(
  path: Path,
  statement: Statement,
  kind: string,
  known: readonly string[],
  words: readonly string[] = [],
): Finding {
  const written = dotted(path);
  const minus = known.map((name) => `${name}-`).find((start) => written.startsWith(start));
  if (minus === undefined) {
    const near = nearestOnes(written, [...known, ...words]);
    const isWord = near.length > 0 && near.every((one) => words.includes(one) && !known.includes(one));
    return unknownName(path, statement, isWord ? `${kind} or word` : kind, near);
  }
  const apart = `${minus.slice(0, -1)} - ${written.slice(minus.length)}`;
  const place = placeOf(statement, path);
  return finding(rules.nameNotKnown, place, `There is no ${kind} "${written}".`, {
    advice: `A minus needs a space on each side: ${apart}`,
    fixes: [{ title: `Write "${apart}"`, edits: [{ place, text: apart }] }],
    sought: kind,
  });
}

export function unknownName(
  path: Path,
  statement: Statement,
  kind: string,
  near: readonly string[],
  otherwise = 'Declare it, or correct the name.',
): Finding {
  const place = placeOf(statement, path);
  // `shelf, rod or drawers in this zone`: the name goes before where it was looked for.
  const [what, where] = kind.split(/ (?=in )/);
  return finding(rules.nameNotKnown, place, `There is no ${what} "${dotted(path)}"${where ? ` ${where}` : ''}.`, {
    advice: didYouMean(near) ?? otherwise,
    fixes: nearFixes(place, near),
    sought: kind,
  });
}

function kindName(kind: DeclaredKind): string {
  return kind === 'use' ? 'library' : kind;
}

/** What a parameter may name. */
type NamedKind = 'board' | 'rod' | 'garment' | 'hardware';

/** A reference in a slot whose path may be a parameter that holds a name. */
export function namedIn(
  reading: Reading | undefined,
  slot: string,
  kind: NamedKind,
  context: Context,
  parameter?: (path: Path) => Value | 'unknown' | undefined,
): Declared | undefined {
  const path = reading && pathIn(reading, slot);
  return path && namedAt(path, reading, kind, context, parameter);
}

/** The same of one path, where a slot takes several. */
export function namedAt(
  path: Path,
  reading: Reading,
  kind: NamedKind,
  context: Context,
  parameter?: (path: Path) => Value | 'unknown' | undefined,
): Declared | undefined {
  const value = parameter?.(path);
  // A parameter without a value has been reported where the value is missing.
  if (value === 'unknown') return undefined;
  if (value) {
    if (value.kind === 'name' && value.of === kind) return value.home.find(kind, value.name, context.trace);
    context.report(
      finding(
        rules.wrongQuantity,
        placeOf(reading.statement, path),
        `"${dotted(path)}" is ${kindOf(value)}, and here should be a ${kind}.`,
      ),
    );
    return undefined;
  }
  return declarationAt(path, [kind], reading.statement, context);
}
