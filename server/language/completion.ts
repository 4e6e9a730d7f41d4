/** What may be typed at the cursor. */

import { type Item, offsetOf, type Statement } from '../../grammar/tree.ts';
import { limits } from '../model/limits.ts';
import { parameterTypes } from '../model/parameter-types.ts';
import { type Expected, expectedAfter, isExpression, type Phrase } from '../model/phrase.ts';
import { type WordEntry, wordIn, wordsIn } from '../model/vocabulary.ts';
import { valueOffers } from './completion-dimensions.ts';
import { lengthsElsewhere } from './completion-elsewhere.ts';
import { measureBegun, measuresBehind, measuresFor } from './completion-measures.ts';
import { declaredOffers, refOffers } from './completion-names.ts';
import { headText } from './completion-offer.ts';
import { begunPath, numberBefore, operandAt } from './completion-path.ts';
import {
  lengthsFromStock,
  parameterGiven,
  typeOfValue,
  valuesOfParameter,
  valuesThatHold,
} from './completion-values.ts';
import { type Cursor, cursorAt } from './cursor.ts';
import { wordHead, wordMeaning } from './hover.ts';
import { giverOf } from './locate.ts';
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
  if (place === 'override') {
    // It changes statements; what has a block would add a thing.
    const words = wordsIn(placeOfThing(snapshot, around) ?? place).filter(({ block }) => block === undefined);
    return words.map((entry) => wordOffer(entry, snapshot));
  }
  const said = new Set((around.at(-1)?.block?.children ?? []).map((s) => s.word.text));
  // There is one project, in whatever file it is declared.
  if (place === 'file' && snapshot.project.names.declarations('project', 'project').length > 0) said.add('project');
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

/** A slot that the item at the cursor can fill. */
type Slot = Extract<Expected, { kind: 'slot' }>;

/** Where no entry says what can stand, as behind the name of a parameter. */
const anyValue: Slot = { kind: 'slot', name: 'value', type: { kind: 'value' } };

/** At the end of what is written; digits behind a letter or a hyphen belong to a name. */
const decimalPoint = /(?<![\p{L}\p{N}_-])\d*\.$/u;

function slotsAfter(phrase: Phrase, before: readonly Item[]): Slot[] {
  return expectedAfter(phrase, before).expected.filter((e) => e.kind === 'slot');
}

function itemsHere(snapshot: Snapshot, cursor: Extract<Cursor, { kind: 'item' }>, offset: number): Completion[] {
  const { trail, place, within } = cursor;
  const statement = trail.at(-1) as Statement;
  const base = offsetOf(statement);
  const { begun, item, before } = begunPath(cursor);
  // Behind a decimal point only digits can come.
  if (decimalPoint.test(statement.text.slice(0, within))) return [];
  const entry = place && wordIn(placeOfWord(snapshot, trail, place), statement.word.text);
  const slotsBehind = (items: readonly Item[]): readonly Slot[] =>
    entry ? slotsAfter(entry.phrase, items) : items.length === 0 ? [anyValue] : [];
  const wanted = slotsBehind(before);
  const ranged = (offers: readonly Offer[], range?: { readonly start: number; readonly end: number }): Completion[] =>
    offers.map((o) => ({ ...o, start: range ? base + range.start : offset, end: range ? base + range.end : offset }));
  const values = begun ? [] : ranged(valuesHere(snapshot, trail, wanted, item, before), item);
  const number = isExpression(item) && !begun ? numberBefore(item, within) : undefined;
  const stroke = measureBegun(statement.text.slice(0, within));
  if (stroke !== undefined) {
    const gone = { start: within - stroke.length, end: within };
    const found = measuresFor(snapshot, trail, wanted).filter(({ label }) => label.startsWith(stroke));
    if (found.length > 0) return ranged(found, gone);
  }
  if (number) return [...ranged(measuresFor(snapshot, trail, wanted), number), ...values];
  const operand = isExpression(item) && !begun ? operandAt(item, within) : undefined;
  if (operand?.kind === 'number' && operand.start < within) return values;
  // Within an expression only values can stand, not the words of the phrase.
  const inSum = item !== undefined && item !== operand && item.kind !== 'path' && item.kind !== 'missing';
  const replaced = begun ?? operand;
  const typed = replaced ? statement.text.slice(replaced.start, within) : '';
  const offers = [
    ...(begun || inSum ? [] : measuresBehind(snapshot, trail, before, slotsBehind)),
    ...(entry && !inSum && !begun ? literalOffers(entry.phrase, before) : []),
    ...wanted.flatMap((slot) => slotOffers(snapshot, trail, slot, typed, inSum)),
  ];
  return [...values, ...ranged(offers, replaced)];
}

/** Whole values for the place of an item, the best first. */
function valuesHere(
  snapshot: Snapshot,
  trail: readonly Statement[],
  wanted: readonly Slot[],
  item: Item | undefined,
  before: readonly Item[],
): Offer[] {
  const statement = trail.at(-1) as Statement;
  if (item && (item.kind === 'missing' || item.kind === 'stray' || item.kind === 'mark')) return [];
  const held = item ? valuesThatHold(snapshot, statement, item) : [];
  const isSimple = item === undefined || item.kind === 'number' || item.kind === 'path';
  const parameter = isSimple && before.length === 0 ? parameterGiven(snapshot, trail) : undefined;
  const isLength = wanted.some(({ type }) => type.kind === 'quantity' && type.dimension === 'length');
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

function literalOffers(phrase: Phrase, before: readonly Item[]): Offer[] {
  return expectedAfter(phrase, before).expected.flatMap((e) =>
    e.kind === 'literal' ? [{ kind: 'literal' as const, label: e.text, text: e.text, rank: 1 }] : [],
  );
}

function slotOffers(
  snapshot: Snapshot,
  trail: readonly Statement[],
  slot: Slot,
  typed: string,
  inSum: boolean,
): Offer[] {
  const { type } = slot;
  switch (type.kind) {
    case 'ref':
      return refOffers(snapshot, trail, { name: slot.name, to: type.to }, typed);
    case 'type':
      return parameterTypes.map((t) => ({ kind: 'type', label: t, text: t, rank: 1 }));
    case 'quantity':
      return valueOffers(snapshot, trail, { dimension: type.dimension, inSum });
    case 'value':
      return givenOffers(snapshot, trail, slot);
    default:
      return [];
  }
}

/** Names for a value that is a board, rod, garment or hardware. Nothing of the template is known where a value is given to it. */
function givenOffers(snapshot: Snapshot, trail: readonly Statement[], { name }: Slot): Offer[] {
  const isParameter = trail.length === 2 && trail.at(-1)?.word.text === 'parameter';
  if (!isParameter && !giverOf(trail.slice(0, -1))) return [];
  const kind = typeOfValue(snapshot, trail);
  // A range is one of lengths or counts.
  const isName = kind === 'board' || kind === 'rod' || kind === 'garment' || kind === 'hardware';
  return isName && name !== 'least' && name !== 'most' ? declaredOffers(snapshot, trail, [kind]) : [];
}
