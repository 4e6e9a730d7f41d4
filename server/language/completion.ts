/** What may be typed at the cursor. */

import { type Measure, measures } from '../../grammar/measures.ts';
import { type Expression, type Item, offsetOf, type Path, type Range, type Statement } from '../../grammar/tree.ts';
import { limits } from '../model/limits.ts';
import { expectedAfter, isExpression, type Phrase, type SlotType } from '../model/phrase.ts';
import { dotted, pathIn } from '../model/reading.ts';
import { parameterTypes } from '../model/unit.ts';
import { type WordEntry, wordIn, wordsIn } from '../model/vocabulary.ts';
import { lengthsElsewhere } from './completion-elsewhere.ts';
import { headText, refOffers, valueOffers } from './completion-names.ts';
import { lengthsFromStock, parameterGiven, valuesOfParameter, valuesThatHold } from './completion-values.ts';
import { type Cursor, cursorAt } from './cursor.ts';
import { wordHead, wordMeaning } from './hover.ts';
import { giverOf, touches } from './locate.ts';
import { commented } from './markdown.ts';
import type { Completion, Offer } from './offer.ts';
import { parametersAt, placeOfThing, placeOfWord } from './parameters.ts';
import type { Snapshot } from './snapshot.ts';
import { snippetOf } from './snippet.ts';
import { snippetsAt } from './snippets.ts';

/** So many are offered; beyond, only what goes with what is typed. */
export const mostOffered = limits.mostOffered.most;

export function completionsAt(snapshot: Snapshot, offset: number): Completion[] {
  const cursor = cursorAt(snapshot, offset);
  if (!cursor) return [];
  const found =
    cursor.kind === 'word'
      ? wordsAt(snapshot, cursor)
      : itemsHere(snapshot, cursor, offset).filter(({ start, end }) => start <= offset && offset <= end);
  if (found.length <= mostOffered) return found;
  const typed = snapshot.source.slice(found[0]?.start ?? offset, offset).toLowerCase();
  return found.filter(({ label }) => isIn(typed, label.toLowerCase())).slice(0, mostOffered);
}

/** The letters of one text come in another in their order, as editors match what is typed. */
function isIn(typed: string, label: string): boolean {
  let at = 0;
  for (const letter of typed) {
    at = label.indexOf(letter, at) + 1;
    if (at === 0) return false;
  }
  return true;
}

/** Values would be offered here that are not known before the project is up to date. */
export function waitsForValues(snapshot: Snapshot, offset: number): boolean {
  return !snapshot.project.isFresh && cursorAt(snapshot, offset)?.kind === 'item';
}

// First words

function wordsAt(snapshot: Snapshot, cursor: Extract<Cursor, { kind: 'word' }>): Completion[] {
  const { start, end } = cursor;
  const offers = [
    ...givenParameters(snapshot, cursor.around),
    ...wordsHere(snapshot, cursor),
    ...startsHere(snapshot, cursor),
  ];
  return offers.map((o) => ({
    ...o,
    start,
    end,
  }));
}

function wordsHere(snapshot: Snapshot, { around, place }: Extract<Cursor, { kind: 'word' }>): Offer[] {
  if (place === undefined || place === 'anything') return [];
  if (place === 'override')
    return wordsIn(placeOfThing(snapshot, around) ?? place).map((entry) => wordOffer(entry, snapshot));
  const said = new Set((around.at(-1)?.block?.children ?? []).map((s) => s.word.text));
  return wordsIn(place).map((entry) => {
    const offer = wordOffer(entry, snapshot);
    // What is there already, and may not be said twice, comes last.
    return said.has(entry.word) && !entry.repeats ? { ...offer, rank: 9 } : offer;
  });
}

/** What stands behind the word already would be left over behind a whole statement. */
const nothingBehind = /^[ \t]*(\r|\n|[;}]|\/[/*]|$)/;

function startsHere(snapshot: Snapshot, { around, place, end }: Extract<Cursor, { kind: 'word' }>): Offer[] {
  if (place === undefined || place === 'anything' || place === 'override') return [];
  return nothingBehind.test(snapshot.source.slice(end, end + 200)) ? snippetsAt(snapshot, around, place) : [];
}

function wordOffer(entry: WordEntry, { project }: Snapshot): Offer {
  return {
    kind: 'word',
    label: entry.word,
    text: entry.word,
    snippet: snippetOf(entry),
    detail: wordHead(entry),
    doc: () => wordMeaning(entry, project.settings),
    rank: entry.notYet ? 6 : 3,
  };
}

/** In a unit or a test, what its template asks for; what is missing comes first. */
function givenParameters(snapshot: Snapshot, around: readonly Statement[]): Offer[] {
  const giver = giverOf(around);
  if (!giver) return [];
  const given = new Set((giver.block?.children ?? []).map((s) => s.word.text));
  return parametersAt(snapshot, around).map(({ name, statement, needed }) => ({
    kind: 'parameter',
    label: name,
    text: name,
    snippet: `${name} $0`,
    detail: headText(statement),
    doc: () => statement.doc && commented(statement.doc),
    rank: given.has(name) ? 8 : needed ? 0 : 1,
  }));
}

// Behind the first word

function itemsHere(snapshot: Snapshot, cursor: Extract<Cursor, { kind: 'item' }>, offset: number): Completion[] {
  const { trail, place, within } = cursor;
  const statement = trail.at(-1) as Statement;
  const base = offsetOf(statement);
  const begun = cursor.item ? undefined : pathBegun(statement, cursor.before.at(-1), within);
  const item = begun ? cursor.before.at(-1) : cursor.item;
  const before = begun ? cursor.before.slice(0, -1) : cursor.before;
  const entry = place && wordIn(placeOfWord(snapshot, trail, place), statement.word.text);
  const wanted: readonly SlotType[] = entry
    ? expectedAfter(entry.phrase, before).expected.flatMap((e) => (e.kind === 'slot' ? [e.type] : []))
    : [{ kind: 'value' }];
  const values = (begun ? [] : valuesHere(snapshot, trail, wanted, item, before)).map((o) => ({
    ...o,
    start: item ? base + item.start : offset,
    end: item ? base + item.end : offset,
  }));
  const number = isExpression(item) && !begun ? numberBefore(item, within) : undefined;
  if (number) {
    const units = measuresFor(wanted).map((o) => ({ ...o, start: base + number.start, end: base + number.end }));
    return [...units, ...values];
  }
  const path = begun ?? (isExpression(item) ? pathBefore(item, within) : undefined);
  // Within an expression only values can stand, not the words of the phrase.
  const inside = item !== undefined && item.kind !== 'path' && item.kind !== 'missing';
  const literals = entry && !inside ? literalOffers(entry.phrase, before) : [];
  const offers = [...literals, ...wanted.flatMap((type) => slotOffers(snapshot, trail, type))];
  const range = path ? { start: base + path.start, end: base + path.end } : { start: offset, end: offset };
  return [...values, ...offers.map((o) => ({ ...o, ...range }))];
}

/** Whole values for the place of an item, the best first. */
function valuesHere(
  snapshot: Snapshot,
  trail: readonly Statement[],
  wanted: readonly SlotType[],
  item: Item | undefined,
  before: readonly Item[],
): Offer[] {
  const statement = trail.at(-1) as Statement;
  if (item && (item.kind === 'missing' || item.kind === 'stray' || item.kind === 'mark')) return [];
  const held = item ? valuesThatHold(snapshot, statement, item) : [];
  const isSimple = item === undefined || item.kind === 'number' || item.kind === 'path';
  const parameter = isSimple && before.length === 0 ? parameterGiven(snapshot, trail) : undefined;
  const isLength = wanted.some((type) => type.kind === 'quantity' && type.dimension === 'length');
  const offers = [
    ...held,
    ...(parameter ? valuesOfParameter(snapshot, trail, parameter) : []),
    ...(isLength && isSimple && statement.word.text === 'length' ? lengthsFromStock(snapshot, trail) : []),
    ...(isLength && isSimple ? lengthsElsewhere(snapshot, trail, item, before.length) : []),
  ];
  const first = new Map<string, Offer>();
  for (const offer of offers) if (!first.has(offer.label)) first.set(offer.label, offer);
  return [...first.values()];
}

function literalOffers(phrase: Phrase, before: Parameters<typeof expectedAfter>[1]): Offer[] {
  return expectedAfter(phrase, before).expected.flatMap((e) =>
    e.kind === 'literal' ? [{ kind: 'literal' as const, label: e.text, text: e.text, rank: 1 }] : [],
  );
}

function slotOffers(snapshot: Snapshot, trail: readonly Statement[], type: SlotType): Offer[] {
  switch (type.kind) {
    case 'ref':
      return refOffers(snapshot, trail, type.to);
    case 'type':
      return parameterTypes.map((t) => ({ kind: 'type', label: t, text: t, rank: 1 }));
    case 'quantity':
    case 'value':
      return [
        ...(trail[0]?.word.text === 'template' ? valueOffers(snapshot, trail) : []),
        ...(type.kind === 'value' && giverOf(trail.slice(0, -1)) ? argumentOffers(snapshot, trail) : []),
      ];
    default:
      return [];
  }
}

/** Names for a parameter that is a board, rod, garment or hardware. */
function argumentOffers(snapshot: Snapshot, trail: readonly Statement[]): Offer[] {
  const parameter = parameterGiven(snapshot, trail);
  const type = parameter && pathIn(parameter.reading, 'type');
  const kind = type && dotted(type);
  return kind === 'board' || kind === 'rod' || kind === 'garment' || kind === 'hardware'
    ? refOffers(snapshot, trail, kind)
    : [];
}

// Units of measure

function measuresFor(wanted: readonly SlotType[]): Offer[] {
  const dimensions = new Set(wanted.flatMap((t) => (t.kind === 'quantity' ? [t.dimension] : [])));
  const fits = ({ dimension, spelling }: Measure): boolean =>
    (dimensions.size > 0 ? dimensions.has(dimension) : dimension === 'length') && /^[a-z%]/i.test(spelling);
  return measures
    .filter(fits)
    .map((m, rank) => ({ kind: 'measure', label: m.spelling, text: m.spelling, detail: m.title, rank }));
}

/** Where the unit of a number stands, or would stand, if the cursor is right there. */
function numberBefore(e: Expression, within: number): Range | undefined {
  if (!touches(e, within)) return undefined;
  switch (e.kind) {
    case 'number': {
      const part = e.parts.find((p) => touches(p, within));
      if (!part) return undefined;
      if (part.unit) return touches(part.unit, within) ? part.unit : undefined;
      return part.end === within ? { start: within, end: within } : undefined;
    }
    default:
      return operandsOf(e)
        .map((o) => numberBefore(o, within))
        .find((r) => r !== undefined);
  }
}

/** `back.`: the dot is read as nothing, and belongs to the path that goes on behind it. */
function pathBegun(statement: Statement, last: Item | undefined, within: number): Range | undefined {
  if (!isExpression(last) || last.end !== within - 1 || statement.text[last.end] !== '.') return undefined;
  let e = last;
  while (e.kind === 'binary' || e.kind === 'negation') e = e.kind === 'binary' ? e.right : e.operand;
  return e.kind === 'path' ? { start: e.start, end: within } : undefined;
}

function pathBefore(e: Expression, within: number): Path | undefined {
  if (!touches(e, within)) return undefined;
  if (e.kind === 'path') return e;
  return operandsOf(e)
    .map((o) => pathBefore(o, within))
    .find((p) => p !== undefined);
}

function operandsOf(e: Expression): readonly Expression[] {
  switch (e.kind) {
    case 'binary':
      return [e.left, e.right];
    case 'negation':
      return [e.operand];
    case 'group':
      return [e.inner];
    case 'call':
      return e.args;
    default:
      return [];
  }
}
