/**
 * Reading: statements understood by the vocabulary. A reading depends on nothing but the text of its
 * statement, so it is kept with the statement and lives as long as that does.
 */

import { measureOf, measuresOf } from '../../grammar/measures.ts';
import type { Expression } from '../../grammar/tree.ts';
import {
  headPlace,
  type Item,
  type Path,
  type Place,
  type Problem,
  placeOf,
  type Range,
  type Statement,
  type Word,
  wordPlace,
} from '../../grammar/tree.ts';
import { capital } from './capital.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import { nearest } from './nearest.ts';
import { decimalComma, meantBy, unitAsWord, unitWords } from './other-spellings.ts';
import { type Bindings, describeExpected, isExpression, isMatch, type Mismatch, matchPhrase } from './phrase.ts';
import { pushAll } from './push-all.ts';
import { asMeant, problemFixes, sampleBlock, withoutBlock } from './reading-fixes.ts';
import { listOr, quoted, shorten, slipOf, wordsBefore } from './reading-slips.ts';
import type { Rule } from './rule.ts';
import * as rules from './rules.ts';
import { saidAgain } from './said-again.ts';
import { showInches, showLength, showMillimetres } from './show.ts';
import { inches, LONGEST, ticks } from './ticks.ts';
import { type BlockPlace, placeName, placesOf, takesArguments, type WordEntry, wordIn, wordsIn } from './vocabulary.ts';

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

/** Inches: the most that the word of a statement is ever likely to be where it stands. Undefined where nothing says so. */
export function plausibleHere(statement: Statement): number | undefined {
  for (const known of kept.get(statement)?.values() ?? [])
    if (!Array.isArray(known) && known.entry.plausible !== undefined) return known.entry.plausible;
  return undefined;
}

function readAfresh(statement: Statement, place: BlockPlace): Reading | Finding[] {
  const findings: Finding[] = problemsOf(statement);
  const text = statement.word.text;
  if (place === 'anything') return findings;
  const entry = wordIn(place, text);
  if (!entry) {
    if (text !== '') findings.push(unknownWord(statement, place));
    else if (statement.items.length > 0) findings.push(wordless(statement, place));
    // What is inside still has problems of its own to be told.
    for (const child of statement.block?.children ?? []) pushAll(findings, read(child, 'anything').findings);
    return findings;
  }
  const items = statement.items.filter((i) => i.kind !== 'stray');
  const match = matchPhrase(entry.phrase, items);
  const slots = match.slots;
  // What was not read to its end is not held against the rest.
  const isCut = statement.problems.some(({ code }) => code === 'too-long');
  if (!isMatch(match) && !isCut) pushAll(findings, mismatchFindings(statement, entry, match, place));
  if (entry.plausible !== undefined) pushAll(findings, unlikely(statement, entry));
  // Where a name should be, a number is told of as such, and not by what seems to be its unit.
  pushAll(findings, unknownUnits(statement, 'at' in match ? items[match.at] : undefined));
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
    // What does not fit where the head may end may be what belongs in the block.
    if (entry.needsBlock && head !== 'may-end') {
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
    findings.push(
      finding(
        rules.blockNotExpected,
        placeOf(statement, { start: block.open, end: block.open + 1 }),
        `"${entry.word}" takes no block.`,
        {
          advice: `Take the block away, or write it like this: ${entry.example}`,
          examples: true,
          fixes: withoutBlock(statement),
        },
      ),
    );
    return { children, args, findings };
  }
  const place = entry.block;
  const once = new Map<string, Statement>();
  for (const child of block.children) {
    // What a unit gives its template is not in the vocabulary; an override is read when its thing is known.
    if (place === 'override' || (takesArguments(place) && child.word.text !== '' && !wordIn(place, child.word.text))) {
      args.push(child);
      pushAll(findings, problemsOf(child));
      if (takesArguments(place)) pushAll(findings, unknownUnits(child));
      continue;
    }
    const result = read(child, place);
    pushAll(findings, result.findings);
    if (!result.reading) continue;
    if (result.reading.entry.repeats) {
      children.push(result.reading);
      continue;
    }
    const first = once.get(child.word.text) ?? otherWayIn(once, result.reading.entry);
    if (first) {
      findings.push(saidTwice(child, first, place));
    } else {
      // The first one counts.
      once.set(child.word.text, child);
      children.push(result.reading);
    }
  }
  return { children, args, findings };
}

function otherWayIn(said: ReadonlyMap<string, Statement>, { otherWays }: WordEntry): Statement | undefined {
  return otherWays.map((word) => said.get(word)).find((statement) => statement !== undefined);
}

function saidTwice(second: Statement, first: Statement, place: BlockPlace): Finding {
  const [word, earlier] = [second.word.text, first.word.text];
  const message =
    word === earlier
      ? `"${word}" is said twice ${inPlace(place)}.`
      : `"${word}" says again what "${earlier}" says ${inPlace(place)}, and only one of them can hold.`;
  return saidAgain(second, first, wordPlace(second), message);
}

const problemRules: Record<Problem['code'], Rule> = {
  'block-not-closed': rules.blockNotClosed,
  'block-not-opened': rules.blockNotOpened,
  'brace-without-block': rules.braceWithoutBlock,
  'text-not-closed': rules.textNotClosed,
  'comment-not-closed': rules.commentNotClosed,
  'expression-incomplete': rules.expressionIncomplete,
  'character-not-expected': rules.characterNotExpected,
  'nested-too-deep': rules.nestedTooDeep,
  'too-long': rules.tooLong,
  'too-many-statements': rules.tooLong,
};

export function problemsOf(statement: Statement): Finding[] {
  return statement.problems.map((p) => {
    const meant = p.code === 'character-not-expected' ? meantBy(statement.text, p) : undefined;
    const advice = meant ? `Did you mean ${asMeant(statement, meant)}?` : p.fix;
    return finding(problemRules[p.code], placeOf(statement, p), p.message, {
      ...(advice !== undefined && { advice }),
      fixes: problemFixes(statement, p),
    });
  });
}

function wordless(statement: Statement, place: BlockPlace): Finding {
  const message = 'A statement begins with a word that says what it is about.';
  return finding(
    rules.wordNotKnown,
    headPlace(statement),
    message,
    wordLeftOut(statement, place) ?? { advice: `${capital(inPlace(place))} that is one of: ${listWords(place)}.` },
  );
}

/** The one word that would make it complete. */
function wordLeftOut(
  statement: Statement,
  place: BlockPlace,
): { readonly advice: string; readonly fixes: readonly Fix[] } | undefined {
  const [entry, ...more] = wordsBefore(statement, place);
  if (!entry || more.length > 0) return undefined;
  const { start } = statement.head;
  const whole = { ...statement, text: `${entry.word} ${statement.text.slice(start, statement.head.end)}` };
  const edits = [{ place: placeOf(statement, { start, end: start }), text: `${entry.word} ` }];
  return {
    advice: `Did you mean ${quoted(whole, { start: 0, end: whole.text.length })}?`,
    fixes: [{ title: `Write "${entry.word}" before it`, edits, byHand: true }],
  };
}

function unknownWord(statement: Statement, place: BlockPlace): Finding {
  const { text } = statement.word;
  const here = wordsIn(place).map((e) => e.word);
  const near = nearest(text, here);
  const elsewhere = placesOf(text);
  const message =
    elsewhere.length > 0
      ? `"${text}" cannot stand ${inPlace(place)}; it belongs ${inPlaces(elsewhere)}.`
      : `"${text}" is not a word that can stand ${inPlace(place)}.`;
  const fixes: Fix[] = near ? [{ title: `Write "${near}"`, edits: [{ place: wordPlace(statement), text: near }] }] : [];
  const advice = near ? `Did you mean "${near}"?` : `Here can stand: ${listWords(place)}.`;
  const leftOut =
    wallLeftOut(statement, place) ?? (near || elsewhere.length > 0 ? undefined : wordLeftOut(statement, place));
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
  const said = text.slice(word.end, head.end).trim();
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
  const items = statement.items.filter((i) => i.kind !== 'stray');
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
  const fixes: Fix[] = [];
  const word = item?.kind === 'path' && item.words.length === 1 ? (item.words[0] as Word).text : undefined;
  const near =
    word &&
    nearest(
      word,
      expected.flatMap((e) => (e.kind === 'literal' ? [e.text] : [])),
    );
  if (near) fixes.push({ title: `Write "${near}"`, edits: [{ place: placeOf(statement, range), text: near }] });
  return [
    finding(rules.phraseNotUnderstood, placeOf(statement, range), message, {
      advice: near ? `Did you mean "${near}"?` : `Write it like this: ${entry.example}`,
      ...(!near && { examples: true }),
      fixes,
    }),
  ];
}

/** A sign that means nothing stands before it, and is told of. */
function followsAStray({ items }: Statement, item: Item | undefined): boolean {
  return item !== undefined && items[items.indexOf(item) - 1]?.kind === 'stray';
}

/** What seems to be a unit of measure has taken in what should stand behind the number. */
function followsAStrangeUnit(item: Item | undefined): boolean {
  return item?.kind === 'number' && item.parts.some(({ unit }) => unit && !measureOf(unit.text));
}

/** What follows belongs to a value that is told of as a whole: a strange sign, a decimal comma, a unit as a word. */
function isToldOfTheValue(statement: Statement, items: readonly Item[], at: number): boolean {
  const slips = statement.problems.filter((p) => p.code === 'character-not-expected' && meantBy(statement.text, p));
  if (slips.length > 0) return true;
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

/** Units of measure that are none, with the nearest one offered; `but` is an item that does not fit as it is. */
function unknownUnits(statement: Statement, but?: Statement['items'][number]): Finding[] {
  const found: Finding[] = [];
  const visit = (e: Expression): void => {
    if (e.kind === 'binary') {
      visit(e.left);
      visit(e.right);
    } else if (e.kind === 'negation') visit(e.operand);
    else if (e.kind === 'group') visit(e.inner);
    else if (e.kind === 'call') e.args.forEach(visit);
    else if (e.kind === 'number') {
      for (const { unit } of e.parts) {
        if (!unit || measureOf(unit.text)) continue;
        const near = unitWords[unit.text.toLowerCase()] ?? nearest(unit.text, allUnits);
        found.push(
          finding(rules.unitNotKnown, placeOf(statement, unit), `"${unit.text}" is not a unit of measure.`, {
            advice: near ? `Did you mean "${near}"?` : `Lengths are written in ${measuresOf('length').join(', ')}.`,
            fixes: near ? [{ title: `Write "${near}"`, edits: [{ place: placeOf(statement, unit), text: near }] }] : [],
          }),
        );
      }
    }
  };
  for (const item of statement.items) if (item !== but && isExpression(item)) visit(item);
  return found;
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
/** A number of feet where only inches make sense, or of centimetres where only millimetres do. */
function unlikely(statement: Statement, entry: WordEntry): Finding[] {
  const found: Finding[] = [];
  const limit = inches(entry.plausible as number);
  for (const item of statement.items) {
    if (item.kind !== 'number' || item.parts.length !== 1) continue;
    const [part] = item.parts;
    const measure = part?.unit && measureOf(part.unit.text);
    if (!part?.unit || measure?.dimension !== 'length') continue;
    const length = (Number(part.numerator) / Number(part.denominator)) * measure.size;
    if (length <= limit) continue;
    const meant = slips[part.unit.text];
    const show = /^(mm|cm|m)$/.test(part.unit.text) ? showMillimetres : showInches;
    const [long, most] = [Math.min(Math.round(length), LONGEST), limit].map((l) => showLength(ticks(l), show));
    // What is written in the smallest unit of measure is not said a second time.
    const is = meant ? `${item.raw} is ${long}, and` : `${item.raw} is long:`;
    const asked = meant ? ` ${capital(meant.written)} may be written where ${meant.meant} were meant.` : '';
    const text = meant && `${item.raw.slice(0, part.unit.start - item.start).trimEnd()}${meant.unit}`;
    const place = placeOf(statement, item);
    found.push(
      finding(rules.unlikelySize, place, `${is} "${entry.word}" is hardly ever more than ${most} here.${asked}`, {
        advice: text === undefined ? 'See whether there is a digit too many.' : `Did you mean ${text}?`,
        comparison: {
          what: entry.word,
          measured: { ticks: ticks(Math.min(Math.round(length), LONGEST)) },
          relation: 'at most',
          limit: { ticks: limit },
        },
        fixes: text === undefined ? [] : [{ title: `Write ${text}`, edits: [{ place, text }] }],
      }),
    );
  }
  return found;
}

const feet = { written: 'feet', meant: 'inches', unit: 'in' };
const centimetres = { written: 'centimetres', meant: 'millimetres', unit: 'mm' };
/** What a unit of measure is written in place of. */
const slips: Readonly<Record<string, typeof feet>> = {
  ft: feet,
  "'": feet,
  cm: centimetres,
  m: { ...centimetres, written: 'metres' },
};

export { listOr };

/** `a, b and c`. */
export function listAnd(texts: readonly string[]): string {
  return texts.length < 2 ? texts.join('') : `${texts.slice(0, -1).join(', ')} and ${texts.at(-1)}`;
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
