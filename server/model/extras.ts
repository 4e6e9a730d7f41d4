/** Loose parts: those that are cut whatever it takes, and those that are cut from what is left over. */

import { headPlace, type Place, placeOf } from '../../grammar/tree.ts';
import { countIn, declarationAt, lengthIn, placeOfSlot, type plainContext } from './context.ts';
import { boardOf, type Made, make, taken } from './declared.ts';
import { addedFix } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import type { Part } from './layout.ts';
import { limits } from './limits.ts';
import { calledInProject, type Declared, type Names } from './names.ts';
import { child, expressionIn, labelIn, pathIn, type Reading, says, textIn } from './reading.ts';
import * as rules from './rules.ts';
import type { ProjectSettings } from './settings.ts';
import { showLength } from './show.ts';
import { matchedIn } from './template-values.ts';
import { roundDown, roundUp, type Ticks } from './ticks.ts';

interface Labels {
  readonly name: string;
  readonly floor: string | undefined;
  readonly flat: string | undefined;
  readonly phase: string | undefined;
  readonly why: string | undefined;
}

/** `count 6`: boards are bought for them. */
export interface Extra extends Labels {
  readonly kind: 'extra';
  readonly count: number;
  readonly part: Part;
}

/** `count up to 6`: no board is bought for them. Any length from `least` to `most` will do, in whole steps of the saw. */
export interface Spare extends Labels {
  readonly kind: 'spare';
  readonly count: number;
  readonly material: string;
  readonly of: 'board' | 'rod';
  readonly least: Ticks;
  readonly most: Ticks;
  readonly depth: Ticks | undefined;
  readonly thickness: Ticks | undefined;
  readonly place: Place;
}

type Context = ReturnType<typeof plainContext>;

/** Undefined where it has no material or no length that can be used; that has been reported. */
export function extraOf(declared: Declared, names: Names, settings: ProjectSettings): Made<Extra | Spare | undefined> {
  return make(names, (context): Extra | Spare | undefined => {
    const { reading, statement, name } = declared;
    const material = materialOf(declared, names, context);
    const length = child(reading, 'length');
    const count = child(reading, 'count');
    if (!length && statement.block)
      context.report(
        finding(rules.widthMissing, headPlace(statement), `"${name}" has no length.`, {
          advice: 'Write for example: length 24in',
          examples: true,
          fixes: addedFix(statement, 'length 24in', { byHand: true }),
        }),
      );
    const spare = count !== undefined && says(count, 'up');
    const known = countIn(count, 'value', context, spare ? 1 : 0, limits.mostLoose.most) ?? (count ? 0 : 1);
    const range = length && lengthsOf(length, context);
    if (length?.slots.least && !spare) context.report(rangeWithoutUpTo(declared, length, count));
    if (!material || !length || !range) return undefined;
    const labels = labelsOf(declared);
    const { depth, thickness } = material;
    if (!spare) {
      // What a range is worth without `up to` has been reported; nothing is guessed.
      if (length.slots.least) return undefined;
      const part = partOf(declared, length, range.most, material, settings);
      return { kind: 'extra', ...labels, count: known, part };
    }
    // A count that is not understood has been reported.
    if (known === 0) return undefined;
    const fits = toTheSaw(range, length, settings, context);
    if (!fits) return undefined;
    const { name: cutFrom, of } = material;
    return {
      kind: 'spare',
      ...labels,
      count: known,
      material: cutFrom,
      of,
      ...fits,
      depth,
      thickness,
      place: headPlace(statement),
    };
  });
}

interface Material {
  readonly name: string;
  readonly of: 'board' | 'rod';
  readonly depth: Ticks | undefined;
  readonly thickness: Ticks | undefined;
}

function materialOf({ reading, statement, name }: Declared, names: Names, context: Context): Material | undefined {
  const board = child(reading, 'board');
  const of = board ?? child(reading, 'rod');
  if (!of) {
    context.report(
      finding(rules.materialMissing, headPlace(statement), `Nothing says what "${name}" is cut from.`, {
        advice: 'Write "board" or "rod" and its name.',
      }),
    );
    return undefined;
  }
  const kind = board ? 'board' : 'rod';
  const found = declarationAt(pathIn(of, kind), [kind], of.statement, context);
  if (!found) return undefined;
  const made = board ? taken(boardOf(found, names), context) : undefined;
  return { name: calledInProject(found), of: kind, depth: made?.depth, thickness: made?.thickness };
}

interface Lengths {
  readonly least: Ticks;
  readonly most: Ticks;
}

/** One length is a range of nothing but itself. Undefined where it is no range of lengths, which is reported. */
function lengthsOf(length: Reading, context: Context): Lengths | undefined {
  const value = lengthIn(length, 'value', context);
  if (value !== undefined) return { least: value, most: value };
  const least = lengthIn(length, 'least', context);
  const most = lengthIn(length, 'most', context);
  if (least === undefined || most === undefined) return undefined;
  if (least === 0) {
    context.report(
      finding(rules.outOfBounds, placeOfSlot(length, 'least'), 'A part of no length is no use.', {
        advice: 'Write the shortest length that would still be of use.',
      }),
    );
    return undefined;
  }
  if (least > most) {
    context.report(
      finding(rules.outOfBounds, headPlace(length.statement), 'The least is more than the most.', {
        advice: 'Write the shorter length first.',
      }),
    );
    return undefined;
  }
  return { least, most };
}

/** Whole steps of the saw within the range. */
function toTheSaw(
  { least, most }: Lengths,
  length: Reading,
  { sawStep, show }: ProjectSettings,
  context: Context,
): Lengths | undefined {
  const longest = roundDown(most, sawStep);
  // A single length is cut to the step below it, as that of any other part.
  const shortest = least === most ? longest : roundUp(least, sawStep);
  if (shortest <= longest && longest > 0) return { least: shortest, most: longest };
  context.report(
    finding(
      rules.outOfBounds,
      headPlace(length.statement),
      `No length within it can be set on the saw, which goes in steps of ${showLength(sawStep, show)}.`,
      { advice: 'Widen the range, or write a finer `saw-step` in the project.' },
    ),
  );
  return undefined;
}

function rangeWithoutUpTo({ name, statement }: Declared, length: Reading, count: Reading | undefined): Finding {
  const value = count && expressionIn(count, 'value');
  const message = count
    ? `"${name}" has a range of lengths and a fixed count. Any length in a range is for parts that are cut from what is left over, and how many there will be is known only then.`
    : `"${name}" has a range of lengths, and nothing says how many would be of use.`;
  const place = value ? placeOf(count.statement, value) : headPlace(length.statement);
  return finding(rules.countOpen, place, message, {
    advice: count ? 'Write `count up to`, or one length.' : 'Write for example: count up to 6',
    fixes: value
      ? [
          {
            title: 'Write "up to"',
            edits: [{ place: { ...place, end: place.start }, text: 'up to ' }],
          },
        ]
      : addedFix(statement, 'count up to 6', { byHand: true }),
  });
}

function labelsOf({ name, reading }: Declared): Labels {
  const label = (word: string): string | undefined => {
    const found = child(reading, word);
    return found && labelIn(found, 'value');
  };
  const why = child(reading, 'why');
  return {
    name,
    floor: label('floor'),
    flat: label('flat'),
    phase: label('phase'),
    why: why && textIn(why, 'value'),
  };
}

function partOf(
  { name, statement, reading: own }: Declared,
  reading: Reading,
  length: Ticks,
  { name: material, of, depth, thickness }: Material,
  { sawStep }: ProjectSettings,
): Part {
  const finished = roundDown(length, sawStep);
  const matched = matchedIn(child(own, 'matched'));
  return {
    path: name,
    kind: of === 'board' ? 'shelf' : 'rod',
    material,
    length: finished,
    depth,
    thickness,
    at: 0 as Part['at'],
    wall: '',
    zone: '',
    place: headPlace(statement),
    ...(matched?.set !== undefined && { matched: { set: matched.set, place: matched.place } }),
    steps: [
      { kind: 'given', amount: length, place: headPlace(reading.statement) },
      ...(finished === length
        ? []
        : [{ kind: 'rounding' as const, amount: (finished - length) as Part['length'], step: sawStep }]),
    ],
  };
}
