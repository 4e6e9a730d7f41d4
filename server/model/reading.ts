/**
 * Reading: statements understood by the vocabulary. A reading depends on nothing but the text of its
 * statement, so it is kept with the statement and lives as long as that does.
 */

import { measureOf } from '../../grammar/measures.ts';
import type { Expression } from '../../grammar/tree.ts';
import {
  type Block,
  headPlace,
  type Item,
  type Path,
  type Place,
  placeOf,
  type Range,
  type Statement,
  type Word,
  wordPlace,
} from '../../grammar/tree.ts';
import { likeliest } from './bare-values.ts';
import { capital } from './capital.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import { inSmallLetters } from './letters.ts';
import { labelMalformed, labelWithUnit } from './name-slips.ts';
import { didYouMean, nearFixes } from './near-names.ts';
import { nearestOnes } from './nearest.ts';
import { wordBehind } from './order-slips.ts';
import { decimalComma, isTornByASlip, meantBy } from './other-spellings.ts';
import { otherLiteral, otherWord } from './other-words.ts';
import {
  type Bindings,
  describeExpected,
  isExpression,
  isMatch,
  literalsOf,
  type Mismatch,
  matchPhrase,
  slotsOf,
} from './phrase.ts';
import { pushAll } from './push-all.ts';
import { sampleBlock, withoutBlock } from './reading-fixes.ts';
import { quoted, shorten, slipOf, wordsBefore } from './reading-slips.ts';
import * as rules from './rules.ts';
import { saidAgain } from './said-again.ts';
import { severalUnits } from './several-slips.ts';
import { commentIn, meaningful, problemsOf } from './text-problems.ts';
import { dimensionsOf, unitAsWord, unknownUnits } from './unit-spellings.ts';
import { unlikely } from './unlikely.ts';
import { textUnquoted } from './unquoted.ts';
import {
  type BlockPlace,
  placeName,
  placesOf,
  takesArguments,
  topWords,
  type WordEntry,
  wordIn,
  wordsIn,
} from './vocabulary.ts';
import { listOr } from './word-lists.ts';

export interface Reading {
  readonly statement: Statement;
  readonly word: string;
  readonly entry: WordEntry;
  readonly slots: Bindings;
  /** Words of the language among its items. */
  readonly literals: readonly Path[];
  readonly children: readonly Reading[];
  /** In a unit: statements whose first word is none of the vocabulary, arguments for the template. */
  readonly args: readonly Statement[];
  /** Of itself and everything in it. */
  readonly findings: readonly Finding[];
}

const kept = new WeakMap<Statement, Map<BlockPlace, Reading | Finding[]>>();

/** Reads a statement as one that stands at `place`. Undefined where its word may not stand there; the findings are kept all the same. */
export function read(
  statement: Statement,
  place: BlockPlace,
): { readonly reading?: Reading; readonly findings: readonly Finding[] } {
  let byPlace = kept.get(statement);
  if (!byPlace) {
    byPlace = new Map();
    kept.set(statement, byPlace);
  }
  let known = byPlace.get(place);
  if (!known) {
    known = readAfresh(statement, place);
    byPlace.set(place, known);
  }
  return Array.isArray(known) ? { findings: known } : { reading: known, findings: known.findings };
}

/** The reading alone. Of a word that may not stand there nothing is kept: a building has ten thousand arguments. */
export function readingAt(statement: Statement, place: BlockPlace): Reading | undefined {
  return wordIn(place, statement.word.text) && read(statement, place).reading;
}

/** The word of a statement where it stands, if that says what lengths are likely. */
export function entryWithLikely(statement: Statement): WordEntry | undefined {
  for (const known of kept.get(statement)?.values() ?? [])
    if (!Array.isArray(known) && known.entry.plausible !== undefined) return known.entry;
  return undefined;
}

function readAfresh(statement: Statement, place: BlockPlace): Reading | Finding[] {
  const findings: Finding[] = problemsOf(statement);
  const text = statement.word.text;
  // What is in a block that somebody has taken out is not told of.
  if (place === 'anything' || commentIn(statement)?.start === statement.head.start) return findings;
  const entry = wordIn(place, text);
  if (!entry) {
    const several = severalUnits(statement);
    if (several) return [several.finding];
    if (text !== '') {
      if (!isTornByASlip(statement, statement.word)) findings.push(unknownWord(statement, place));
    } else if (statement.items.length > 0 && statement.items[0]?.kind !== 'stray') {
      findings.push(wordless(statement, place));
    }
    // What is inside still has problems of its own to be told.
    for (const child of statement.block?.children ?? []) pushAll(findings, read(child, 'anything').findings);
    return findings;
  }
  const items = meaningful(statement);
  const match = matchPhrase(entry.phrase, items);
  const slots = match.slots;
  // What was not read to its end is not held against the rest.
  const isCut = statement.problems.some(({ code }) => code === 'too-long');
  const label = isMatch(match)
    ? labelWithUnit(statement, entry, slots)
    : labelMalformed({ statement, entry, items, mismatch: match });
  const unquoted = isMatch(match)
    ? undefined
    : (severalUnits(statement) ?? textUnquoted(statement, entry, items, match));
  if (unquoted) {
    const { range } = unquoted;
    const others = findings.splice(0).filter(({ place: { start, end } }) => end <= range.start || start >= range.end);
    pushAll(findings, [...others, unquoted.finding]);
  } else if (label) findings.push(label);
  else if (!isMatch(match) && !isCut) pushAll(findings, mismatchFindings(statement, entry, match, place));
  pushAll(findings, unlikely(statement, entry, Object.values(slots).flat()));
  // Where a name should be, a number is told of as such, and not by what seems to be its unit.
  if (!label && !unquoted)
    pushAll(findings, unknownUnits(statement, items, entry, 'at' in match ? items[match.at] : undefined));
  if (entry.notYet) {
    findings.push(
      finding(
        rules.notCheckedYet,
        wordPlace(statement),
        `"${text}" is read and kept; nothing is checked or computed from it yet.`,
      ),
    );
  }
  const inside = readBlock(statement, entry, isCut || !('at' in match) ? 'read' : endsAt(match) ? 'may-end' : 'unread');
  pushAll(findings, notYetTogether(statement, entry, inside.findings));
  return {
    statement,
    word: text,
    entry,
    slots,
    literals: match.literals,
    children: inside.children,
    args: inside.args,
    findings,
  };
}

function endsAt({ expected }: Mismatch): boolean {
  return expected.some(({ kind }) => kind === 'end');
}

/** What has no meaning yet is told once a block; within something that has none itself, not again. */
function notYetTogether(statement: Statement, entry: WordEntry, inside: readonly Finding[]): readonly Finding[] {
  if (entry.notYet) return inside.filter((f) => f.rule !== rules.notCheckedYet);
  const own = inside.filter((f) => f.rule === rules.notCheckedYet && isChild(statement, f.place.statement));
  const [first, ...others] = own;
  if (!first || others.length === 0) return inside;
  const words = [...new Set(own.map((f) => `"${f.place.statement.word.text}"`))];
  const listed = words.length > 1 ? `${words.slice(0, -1).join(', ')} and ${words.at(-1)} are` : `${words[0]} is`;
  const message = `${listed} read and kept; nothing is checked or computed from ${words.length > 1 ? 'them' : 'it'} yet.`;
  const merged = finding(rules.notCheckedYet, first.place, message, {
    related: others.map((f) => ({ place: f.place, message: `"${f.place.statement.word.text}" stands here.` })),
  });
  return [...inside.filter((f) => !own.includes(f)), merged];
}

function isChild(parent: Statement, statement: Statement): boolean {
  return parent.block?.children.includes(statement) ?? false;
}

function readBlock(
  statement: Statement,
  entry: WordEntry,
  head: 'read' | 'may-end' | 'unread',
): { children: Reading[]; args: Statement[]; findings: Finding[] } {
  const children: Reading[] = [];
  const args: Statement[] = [];
  const findings: Finding[] = [];
  const { block } = statement;
  if (!block) {
    // What does not fit in the head may be what belongs in the block.
    if (entry.needsBlock && head === 'read') {
      findings.push(
        finding(
          rules.blockMissing,
          headPlace(statement),
          `${capital(placeName(entry.block ?? 'anything'))} needs its properties between { and }.`,
          { advice: `For example: ${entry.example}`, examples: true, fixes: sampleBlock(statement, entry) },
        ),
      );
    }
    return { children, args, findings };
  }
  if (!entry.block) {
    // Then the block is of what does not fit.
    if (head !== 'read') return { children, args, findings };
    findings.push(blockWhereNone(statement, block, entry.word, entry.example));
    return { children, args, findings };
  }
  const place = entry.block;
  const once = new Map<string, Statement>();
  for (const [i, child] of block.children.entries()) {
    if (isInComment(statement, block.children[i - 1], child)) continue;
    // What a unit gives its template is not in the vocabulary; an override is read when its thing is known.
    if (place === 'override' || (takesArguments(place) && child.word.text !== '' && !wordIn(place, child.word.text))) {
      args.push(child);
      pushAll(findings, problemsOf(child));
      if (takesArguments(place)) {
        pushAll(findings, unknownUnits(child, meaningful(child), undefined));
        // What stands in it would mean nothing, and be told of by nobody; but of a declaration it is told that it is one.
        if (child.block && !topWords.has(child.word.text))
          findings.push(blockWhereNone(child, child.block, child.word.text, `${child.word.text} 64in`));
      }
      continue;
    }
    const result = read(child, place);
    pushAll(findings, result.findings);
    if (!result.reading) continue;
    if (result.reading.entry.repeats) {
      children.push(result.reading);
      continue;
    }
    const again = saidAgainIn(once, result.reading, place);
    if (again) findings.push(again);
    else children.push(result.reading);
  }
  return { children: justAsLong(children), args: justAsLong(args), findings };
}

/** The same list without room for more, as it is kept as long as its statement. */
function justAsLong<T>(list: T[]): T[] {
  return list.length === 0 ? list : list.slice();
}

function blockWhereNone(statement: Statement, block: Block, word: string, example: string): Finding {
  const place = placeOf(statement, { start: block.open, end: block.open + 1 });
  return finding(rules.blockNotExpected, place, `"${word}" takes no block.`, {
    advice: `Take the block away, or write it like this: ${example}`,
    examples: true,
    fixes: withoutBlock(statement),
  });
}

/** Behind a `;` in a comment of another language, which goes to the end of its line. */
function isInComment({ text }: Statement, before: Statement | undefined, child: Statement): boolean {
  const mark = before && before.problems.length > 0 ? commentIn(before) : undefined;
  return (
    before !== undefined && mark !== undefined && !text.slice(before.offset + mark.start, child.offset).includes('\n')
  );
}

/** Told of a statement that says what another one has said of the same thing; else it is said now. The first one counts. */
export function saidAgainIn(said: Map<string, Statement>, reading: Reading, place: BlockPlace): Finding | undefined {
  const { word, entry, statement } = reading;
  if (entry.repeats) return undefined;
  const first = [word, ...entry.otherWays].map((way) => said.get(way)).find((way) => way !== undefined);
  if (first) return saidTwice(statement, first, place);
  said.set(word, statement);
  return undefined;
}

function saidTwice(second: Statement, first: Statement, place: BlockPlace): Finding {
  const [word, earlier] = [second.word.text, first.word.text];
  const message =
    word === earlier
      ? `"${word}" is said twice ${inPlace(place)}.`
      : `"${word}" says again what "${earlier}" says ${inPlace(place)}, and only one of them can hold.`;
  return saidAgain(second, first, wordPlace(second), message);
}

function wordless(statement: Statement, place: BlockPlace): Finding {
  const behind = wordBehind(statement, (word) => wordIn(place, word));
  if (behind) return behind;
  const message = 'A statement begins with a word that says what it is about.';
  return finding(
    rules.wordNotKnown,
    headPlace(statement),
    message,
    wordLeftOut(statement, place) ?? { advice: `${capital(inPlace(place))} that is one of: ${listWords(place)}.` },
  );
}

/** It begins with a name that is no word. */
function isTornOff({ word, items }: Statement): boolean {
  return word.text !== '' || items[0]?.kind === 'path';
}

/** `8ft` is no time. */
function takesUnitOf({ items: [first] }: Statement, entry: WordEntry): boolean {
  const unit = first?.kind === 'number' ? first.parts[0]?.unit : undefined;
  const measure = unit && measureOf(unit.text);
  return !measure || dimensionsOf(entry).has(measure.dimension);
}

/** Of more that would do nobody is helped by a list. */
const mostLeftOut = 2;

/** The words that would make it complete. */
function wordLeftOut(
  statement: Statement,
  place: BlockPlace,
): { readonly advice: string; readonly fixes: readonly Fix[] } | undefined {
  const likely = wordsBefore(statement, place).filter((entry) => takesUnitOf(statement, entry));
  // A name is that of something sooner than a number that is called so.
  const naming = likely.filter(({ phrase }) => slotsOf(phrase)[0]?.type.kind === 'ref');
  const entries = naming.length > 0 && isTornOff(statement) ? naming : likeliest(likely, place);
  if (entries.length === 0 || entries.length > mostLeftOut) return undefined;
  const { start } = statement.head;
  const shown = entries.map(({ word }) => {
    const text = `${word} ${statement.text.slice(start, statement.head.end)}`;
    return quoted({ ...statement, text }, { start: 0, end: text.length });
  });
  return {
    advice: `Did you mean ${listOr(shown)}?`,
    fixes: entries.map(({ word }) => ({
      title: `Write "${word}" before it`,
      edits: [{ place: placeOf(statement, { start, end: start }), text: `${word} ` }],
      byHand: true,
    })),
  };
}

function unknownWord(statement: Statement, place: BlockPlace): Finding {
  const { text } = statement.word;
  const here = wordsIn(place).map((e) => e.word);
  const near = nearestOnes(text, here);
  const elsewhere = placesOf(text);
  const message =
    elsewhere.length > 0
      ? `"${text}" cannot stand ${inPlace(place)}; it belongs ${inPlaces(elsewhere)}.`
      : `"${text}" is not a word that can stand ${inPlace(place)}.`;
  const small = inSmallLetters(statement, place);
  if (small) return small;
  const other = otherWord(place, text);
  if (other !== undefined) {
    const fixes = nearFixes(wordPlace(statement), [other], true);
    return finding(rules.wordNotKnown, wordPlace(statement), message, { advice: didYouMean([other]) as string, fixes });
  }
  const fixes = nearFixes(wordPlace(statement), near);
  const behind = near.length > 0 ? undefined : wordsIn(place).find((e) => literalsOf(e.phrase).includes(text));
  const advice =
    didYouMean(near) ??
    (behind
      ? `It stands behind "${behind.word}", for example: ${behind.example}`
      : `Here can stand: ${listWords(place)}.`);
  const leftOut =
    wallLeftOut(statement, place) ??
    (near.length > 0 || elsewhere.length > 0 ? undefined : wordLeftOut(statement, place));
  return finding(rules.wordNotKnown, wordPlace(statement), message, leftOut ?? { advice, fixes });
}

const standardWalls: ReadonlySet<string> = new Set(['left', 'back', 'right', 'front']);

/** A statement that begins with the name of a wall, where walls can stand. */
function wallLeftOut(
  statement: Statement,
  place: BlockPlace,
): { readonly advice: string; readonly fixes: readonly Fix[] } | undefined {
  const { word, head, block, text } = statement;
  if (!standardWalls.has(word.text) || !wordIn(place, 'wall')) return undefined;
  const all = text.slice(word.end, head.end).trim();
  const said = /^\d/.test(all) ? `length ${all}` : all;
  // Where there is neither a block nor anything to stand in it, nobody knows more.
  const isWhole = block !== undefined && said === '';
  const isLine = !block && said !== '';
  const written = isLine ? `wall ${word.text} { ${said} }` : `wall ${word.text}`;
  return {
    advice: `What is said of a wall stands in its block: wall ${word.text} { ${isLine ? shorten(said) : 'length …'} }`,
    fixes:
      isWhole || isLine
        ? [
            {
              title: `Write ${isLine ? shorten(written) : written}`,
              edits: [
                {
                  place: { statement, start: word.start, end: isLine ? head.end : word.end },
                  text: written,
                },
              ],
            },
          ]
        : [],
  };
}

function mismatchFindings(statement: Statement, entry: WordEntry, mismatch: Mismatch, place: BlockPlace): Finding[] {
  const items = meaningful(statement);
  const item = items[mismatch.at];
  const expected =
    mismatch.expected.length > 1
      ? mismatch.expected.filter((e) => e.kind !== 'end' || item !== undefined)
      : mismatch.expected;
  const wanted = listOr(expected.map(describeExpected));
  const range: Range = item ?? endOfHead(statement);
  const shown = item && quoted(statement, item);
  const after = previousShown(statement, items, mismatch.at);
  // A problem of the text at the same place has said it already.
  if (statement.problems.some((p) => p.code === 'expression-incomplete' || p.code === 'text-not-closed')) return [];
  if (isToldOfTheValue(statement, items, mismatch.at)) return [];
  if (followsAStray(statement, item) || followsAStrangeUnit(items[mismatch.at - 1])) return [];
  const slip = slipOf({ statement, entry, items, mismatch, place });
  if (slip) return [slip];
  const message = shown
    ? `${shown} does not fit here: ${after} there should be ${wanted}.`
    : `This is not complete: ${after} there should be ${wanted}.`;
  const word = item?.kind === 'path' && item.words.length === 1 ? (item.words[0] as Word).text : undefined;
  // A word of the language is not misspelt: something is missing before it.
  const isMisspelt = word !== undefined && !literalsOf(entry.phrase).includes(word) && !wordIn(place, word);
  const literals = expected.flatMap((e) => (e.kind === 'literal' ? [e.text] : []));
  const other = word === undefined ? undefined : otherLiteral(word, literals);
  const near = other !== undefined ? [other] : isMisspelt ? nearestOnes(word, literals) : [];
  return [
    finding(rules.phraseNotUnderstood, placeOf(statement, range), message, {
      advice: didYouMean(near) ?? `Write it like this: ${entry.example}`,
      ...(near.length === 0 && { examples: true }),
      fixes: nearFixes(placeOf(statement, range), near),
    }),
  ];
}

/** A sign that means nothing stands before it, and is told of: what is behind that may be a part of something else. */
function followsAStray({ items }: Statement, item: Item | undefined): boolean {
  const before = item === undefined ? items : items.slice(0, items.indexOf(item));
  return before.some(({ kind }) => kind === 'stray');
}

/** What seems to be a unit of measure has taken in what should stand behind the number. */
function followsAStrangeUnit(item: Item | undefined): boolean {
  return item?.kind === 'number' && item.parts.some(({ unit }) => unit && !measureOf(unit.text));
}

/** What follows belongs to a value that is told of as a whole: a strange sign, a decimal comma, a unit as a word. */
function isToldOfTheValue(statement: Statement, items: readonly Item[], at: number): boolean {
  if (statement.problems.some((p) => p.code === 'character-not-expected' && meantBy(statement.text, p))) return true;
  const before = items[at - 1];
  if (!before || !isExpression(before)) return false;
  return decimalComma(statement, before) !== undefined || unitAsWord(before, statement) !== undefined;
}

function endOfHead(statement: Statement): Range {
  const { end } = statement.head;
  const start = statement.items.at(-1)?.start ?? statement.word.start;
  return { start, end };
}

function previousShown(statement: Statement, items: readonly Item[], at: number): string {
  const previous: Range = at > 0 ? (items[at - 1] as Item) : statement.word;
  return `after ${quoted(statement, previous)}`;
}

function listWords(place: BlockPlace): string {
  return wordsIn(place)
    .map((e) => e.word)
    .join(', ');
}

/** `in a shelf`, `at the top level of a file`. */
function inPlace(place: BlockPlace): string {
  return `${place === 'file' ? 'at' : 'in'} ${placeName(place)}`;
}

/** `in a zone, an extra or at the top level of a file`. */
function inPlaces(places: readonly BlockPlace[]): string {
  const inside = places.filter((place) => place !== 'file').map(placeName);
  if (inside.length === places.length) return `in ${listOr(inside)}`;
  return inside.length === 0 ? inPlace('file') : `${inPlace('file')}, or in ${listOr(inside)}`;
}

// Looking into readings

export function child(reading: Reading, word: string): Reading | undefined {
  return reading.children.find((c) => c.word === word);
}

export function childrenOf(reading: Reading, word: string): Reading[] {
  return reading.children.filter((c) => c.word === word);
}

export function pathIn(reading: Reading, slot: string): Path | undefined {
  const item = reading.slots[slot]?.[0];
  return item?.kind === 'path' ? item : undefined;
}

export function pathsIn(reading: Reading, slot: string): Path[] {
  return (reading.slots[slot] ?? []).filter((i): i is Path => i.kind === 'path');
}

/** The name a statement gives its thing. */
export function nameIn(reading: Reading, slot = 'name'): Word | undefined {
  return pathIn(reading, slot)?.words[0];
}

export function expressionIn(reading: Reading, slot: string): Expression | undefined {
  const item = reading.slots[slot]?.[0];
  return isExpression(item) ? item : undefined;
}

export function textIn(reading: Reading, slot: string): string | undefined {
  const item = reading.slots[slot]?.[0];
  return item?.kind === 'text' ? item.value : undefined;
}

/** A label as written: a word, a number or a text. */
export function labelIn(reading: Reading, slot: string): string | undefined {
  const item = reading.slots[slot]?.[0];
  if (item?.kind === 'text') return item.value;
  return item && reading.statement.text.slice(item.start, item.end);
}

/** A word of the phrase was written: `says(reading, 'fill')`. */
export function says(reading: Reading, literal: string): boolean {
  return reading.literals.some((p) => p.words[0]?.text === literal);
}

export function dotted(path: Path): string {
  return path.words.map((w) => w.text).join('.');
}

export function placeIn(reading: Reading, range: Range): Place {
  return placeOf(reading.statement, range);
}

export function headOf(reading: Reading): Place {
  return headPlace(reading.statement);
}
