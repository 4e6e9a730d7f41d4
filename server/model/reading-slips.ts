/** What somebody meant by items that do not fit a phrase: one slip, told as what it is, with what mends it. */
import { type Item, placeOf, type Range, type Statement, type Word } from '../../grammar/tree.ts';
import { valueOutside } from './bare-values.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import { isFiller } from './head-slips.ts';
import { nameMalformed } from './name-slips.ts';
import { nearest, nearestOnes } from './nearest.ts';
import { behindItsWord, countBehindName } from './order-slips.ts';
import { describeExpected, isMatch, literalsOf, type Mismatch, matchPhrase } from './phrase.ts';
import * as rules from './rules.ts';
import { type BlockPlace, contentIn, type WordEntry, wordIn, wordsIn } from './vocabulary.ts';
import { listOr } from './word-lists.ts';
import { countForAName, twoWordsMissing, wordingSlip } from './wording-slips.ts';

export interface Slip {
  readonly statement: Statement;
  readonly entry: WordEntry;
  /** Those that mean something. */
  readonly items: readonly Item[];
  readonly mismatch: Mismatch;
  /** Where the statement stands. */
  readonly place: BlockPlace;
}

/** Undefined where nobody can tell what was meant. */
export function slipOf(slip: Slip): Finding | undefined {
  return (
    twice(slip) ??
    contentOutside(slip) ??
    nextStatement(slip) ??
    countForAName(slip) ??
    countBehindName(slip) ??
    nameMalformed(slip) ??
    wordingSlip(slip) ??
    commaMissing(slip) ??
    wordForAValue(slip) ??
    wordMissing(slip) ??
    twoWordsMissing(slip) ??
    valueOutside(slip) ??
    behindItsWord(slip) ??
    oneTooMany(slip) ??
    quotedName(slip)
  );
}

/** What belongs in the block stands before it, or there is no block. */
function contentOutside({ statement, entry, items }: Slip): Finding | undefined {
  const { block, text, head } = statement;
  const item = entry.block && contentIn(entry.block, entry.phrase, items);
  if (!item) return undefined;
  const called = quoted(statement, { start: statement.word.start, end: item.start });
  const content = text.slice(item.start, head.end);
  const word = quoted(statement, item);
  if (!block) {
    const edits = [
      { place: at(statement, item.start), text: '{ ' },
      { place: at(statement, head.end), text: ' }' },
    ];
    return told(statement, item, `${word} belongs in the block of ${called}, and no { stands before it.`, {
      advice: `Write ${text.slice(statement.word.start, item.start).trimEnd()} { ${shorten(content)} }`,
      fixes: [{ title: `Write { before ${word}`, edits }],
    });
  }
  const isSound = block.close >= 0 && !statement.problems.some(({ code }) => code === 'block-not-opened');
  const inside = placeOf(statement, { start: block.open + 1, end: block.open + 1 });
  const edits = [
    { place: placeOf(statement, { start: text.slice(0, item.start).trimEnd().length, end: head.end }), text: '' },
    { place: inside, text: ` ${content};` },
  ];
  return told(statement, item, `${word} belongs in the block of ${called}, behind its {.`, {
    advice: `Write it there: { ${shorten(content)}; …`,
    fixes: isSound
      ? [{ title: `Move ${quoted(statement, { start: item.start, end: head.end })} into the block`, edits }]
      : [],
  });
}

/** What does not fit begins a statement of its own: nothing parts the two, or a comma does. */
function nextStatement({ statement, items, mismatch, place }: Slip): Finding | undefined {
  const { at: index, expected } = mismatch;
  const isComma = isMark(items[index], ',');
  const [before, item] = [items[index - 1], items[isComma ? index + 1 : index]];
  if (!before || item?.kind !== 'path' || item.words.length !== 1) return undefined;
  const word = (item.words[0] as Word).text;
  // Said again it is a part of the label: `floor ground floor`.
  if (!wordIn(place, word) || word === statement.word.text || !expected.some(({ kind }) => kind === 'end'))
    return undefined;
  const written = shorten(statement.text.slice(statement.word.start, before.end));
  const parted = isComma ? 'a comma does not part' : 'nothing parts';
  return told(statement, item, `"${word}" begins a statement of its own, and ${parted} it from what is before it.`, {
    advice: `Write a semicolon or begin a line: ${written}; ${word} …`,
    fixes: [
      {
        title: isComma ? 'Write ; instead of ,' : `Write ; before "${word}"`,
        edits: isComma
          ? partedByCommas(items, place).map((range) => ({ place: placeOf(statement, range), text: ';' }))
          : [{ place: at(statement, before.end), text: ';' }],
      },
    ],
  });
}

/** The commas before what begins a statement of its own: whoever writes one for a semicolon writes all so. */
function partedByCommas(items: readonly Item[], place: BlockPlace): Range[] {
  return items.flatMap((item, i) => {
    const [before, after] = [items[i - 1], items[i + 1]];
    const word = after?.kind === 'path' && after.words.length === 1 ? after.words[0]?.text : undefined;
    if (!before || !isMark(item, ',') || word === undefined || !wordIn(place, word)) return [];
    return [{ start: before.end, end: item.end }];
  });
}

/** An item that stands twice, and without the second one all of it fits. */
function twice({ statement, entry, items, mismatch }: Slip): Finding | undefined {
  for (let i = 0; i <= mismatch.at && i < items.length; i++) {
    const item = items[i] as Item;
    const before = items[i - 1] ?? statement.word;
    const written = statement.text.slice(item.start, item.end);
    const behind = statement.text.slice(before.start, before.end);
    if (behind !== written && !behind.endsWith(` ${written}`)) continue;
    if (!isMatch(matchPhrase(entry.phrase, items.toSpliced(i, 1)))) continue;
    if (isMark(item, ','))
      return betweenCommas(without(statement, item, before.end, 'Between two commas a value is missing.'));
    return without(statement, item, before.end, `${quoted(statement, item)} stands here twice.`);
  }
  return undefined;
}

/** A value may have been lost there: nobody but who wrote it knows. */
function betweenCommas(found: Finding): Finding {
  return {
    ...found,
    advice: 'Write it there, or leave one of the commas out.',
    fixes: found.fixes.map((fix) => ({ ...fix, byHand: true })),
  };
}

/** Without this one item all of it fits. */
function oneTooMany({ statement, entry, items, mismatch }: Slip): Finding | undefined {
  const item = items[mismatch.at];
  if (!item || !isMatch(matchPhrase(entry.phrase, items.toSpliced(mismatch.at, 1)))) return undefined;
  if (isMark(item, ':') || isMark(item, '=')) {
    const message = `No ${item.text} is written here: a word and what it says stand side by side.`;
    return without(statement, item, (items[mismatch.at - 1] ?? statement.word).end, message);
  }
  if (isNearAWord(item, mismatch)) return undefined;
  const filler = items[mismatch.at - 1];
  if (filler && isFiller(filler) && isMatch(matchPhrase(entry.phrase, items.toSpliced(mismatch.at - 1, 1))))
    return tooMany(statement, filler, (items[mismatch.at - 2] ?? statement.word).end);
  return tooMany(statement, item, item.start);
}

function tooMany(statement: Statement, item: Item, start: number): Finding {
  const message = `${quoted(statement, item)} does not fit here; without it this is complete.`;
  const found = without(statement, item, start, message);
  return { ...found, fixes: found.fixes.map((fix) => ({ ...fix, byHand: true })) };
}

/** A word of the language that is misspelt, as `mirorred`: it is not too many. */
function isNearAWord(item: Item, { expected }: Mismatch): boolean {
  const words = expected.flatMap((one) => (one.kind === 'literal' ? [one.text] : []));
  return item.kind === 'path' && nearest(item.words.map(({ text }) => text).join('.'), words) !== undefined;
}

function without(statement: Statement, item: Item, start: number, message: string): Finding {
  const rest = statement.text.slice(statement.word.start, start) + statement.text.slice(item.end, statement.head.end);
  const edits = [{ place: placeOf(statement, { start, end: item.end }), text: '' }];
  return told(statement, item, message, {
    advice: `Write ${shorten(rest.replaceAll(/ +/g, ' ').trim())}`,
    fixes: [{ title: `Remove ${quoted(statement, item)}`, edits }],
  });
}

function commaMissing({ statement, entry, items, mismatch }: Slip): Finding | undefined {
  const [before, item] = [items[mismatch.at - 1], items[mismatch.at]];
  if (!before || !item || isFiller(before)) return undefined;
  const comma: Item = { kind: 'mark', text: ',', start: before.end, end: before.end };
  if (!isMatch(matchPhrase(entry.phrase, items.toSpliced(mismatch.at, 0, comma)))) return undefined;
  const message = `Between ${quoted(statement, before)} and ${quoted(statement, item)} a comma is missing.`;
  return told(statement, item, message, inserted(statement, before.end, ',', 'Write a comma'));
}

/** A word of the phrase, where all of it fits with that; of several somebody has to choose one. */
function wordMissing({ statement, entry, items, mismatch }: Slip): Finding | undefined {
  const { at: index } = mismatch;
  const [before, item] = [items[index - 1], items[index]];
  if (!before || !item || isFiller(before)) return undefined;
  // Written beside itself it says nothing: something else is missing there.
  const beside = [before, item].flatMap(({ start, end }) => statement.text.slice(start, end).split(' '));
  const fitting = mismatch.expected.flatMap((one) => {
    if (one.kind !== 'literal' || !/^[a-z]/.test(one.text) || beside.includes(one.text)) return [];
    return isMatch(matchPhrase(entry.phrase, items.toSpliced(index, 0, named(one.text, before.end)))) ? [one.text] : [];
  });
  const [first, ...others] = fitting;
  if (first === undefined) return undefined;
  // `outlet no back`: what is read as a name may be the word itself.
  const [near] = before.kind === 'path' ? nearestOnes(statement.text.slice(before.start, before.end), fitting) : [];
  if (near !== undefined && isMatch(matchPhrase(entry.phrase, items.with(index - 1, named(near, before.start))))) {
    const message = `${quoted(statement, before)} does not fit here: before ${quoted(statement, item)} there should be "${near}".`;
    const whole = `${statement.text.slice(statement.word.start, before.start)}${near}${statement.text.slice(before.end, statement.head.end)}`;
    const edits = [{ place: placeOf(statement, before), text: near }];
    return told(statement, before, message, {
      advice: `Did you mean ${shorten(whole)}?`,
      fixes: [{ title: `Write "${near}"`, edits }],
    });
  }
  const message = `${quoted(statement, item)} does not fit here: after ${quoted(statement, before)} there should be ${listOr(fitting.map((text) => `"${text}"`))}.`;
  const { advice } = inserted(statement, before.end, ` ${first}`, '');
  const fixes = fitting.flatMap((text) => inserted(statement, before.end, ` ${text}`, `Write "${text}"`).fixes);
  return told(statement, item, message, {
    advice,
    fixes: others.length > 0 ? fixes.map((fix) => ({ ...fix, byHand: true })) : fixes,
  });
}

/** A word of the phrase stands where a value or a name should. */
function wordForAValue({ statement, entry, items, mismatch }: Slip): Finding | undefined {
  const words = literalsOf(entry.phrase);
  const index = items.findIndex(
    (item, i) =>
      i < mismatch.at &&
      item.kind === 'path' &&
      item.words.length === 1 &&
      words.includes(item.words[0]?.text ?? '') &&
      !mismatch.literals.includes(item),
  );
  const item = items[index];
  if (!item) return undefined;
  const match = matchPhrase(entry.phrase, items.slice(0, index));
  // Where it could end there, it is another form of the phrase that could.
  const slots = 'at' in match ? match.expected.filter(({ kind }) => kind === 'slot') : [];
  const wanted = slots.length > 0 ? listOr(slots.map(describeExpected)) : 'a value';
  return finding(
    rules.phraseNotUnderstood,
    placeOf(statement, item),
    `This is not complete: before ${quoted(statement, item)} there should be ${wanted}.`,
    { advice: `Write it like this: ${entry.example}`, examples: true },
  );
}

function inserted(
  statement: Statement,
  offset: number,
  text: string,
  title: string,
): Pick<Finding, 'fixes'> & { advice: string } {
  const { word, head } = statement;
  const whole = `${statement.text.slice(word.start, offset)}${text}${statement.text.slice(offset, head.end)}`;
  return { advice: `Write ${shorten(whole)}`, fixes: [{ title, edits: [{ place: at(statement, offset), text }] }] };
}

function named(text: string, offset: number): Item {
  return { kind: 'path', words: [{ kind: 'word', text, start: offset, end: offset }], start: offset, end: offset };
}

/** A name in quotation marks. */
function quotedName({ statement, entry, items, mismatch }: Slip): Finding | undefined {
  const item = items[mismatch.at];
  if (item?.kind !== 'text' || !/^[A-Za-z_][\w-]*$/.test(item.value)) return undefined;
  if (!isMatch(matchPhrase(entry.phrase, items.with(mismatch.at, named(item.value, item.start))))) return undefined;
  return told(statement, item, `"${item.value}" is a name here, and a name stands without quotation marks.`, {
    advice: `Write ${item.value}`,
    fixes: [{ title: `Write ${item.value}`, edits: [{ place: placeOf(statement, item), text: item.value }] }],
  });
}

function told(
  statement: Statement,
  range: Range,
  message: string,
  details: { readonly advice: string; readonly fixes: readonly Fix[] },
): Finding {
  return finding(rules.phraseNotUnderstood, placeOf(statement, range), message, details);
}

function at(statement: Statement, offset: number): ReturnType<typeof placeOf> {
  return placeOf(statement, { start: offset, end: offset });
}

function isMark(item: Item | undefined, text: string): item is Extract<Item, { kind: 'mark' }> {
  return item?.kind === 'mark' && item.text === text;
}

/** The words before which a statement would be complete: of several, those with the most words of the language in it. */
export function wordsBefore(statement: Statement, place: BlockPlace): readonly WordEntry[] {
  const { word, items, block } = statement;
  const isPart = word.text === '' || items[0]?.start === word.start;
  const all = isPart ? items : [named(word.text, word.start), ...items];
  if (items.some(({ kind }) => kind === 'stray')) return [];
  let most = 0;
  let found: WordEntry[] = [];
  for (const entry of wordsIn(place)) {
    const match = matchPhrase(entry.phrase, all);
    if (!isMatch(match) || (block !== undefined) !== entry.needsBlock || all.length === 0) continue;
    // One name by itself may be anything.
    // But a path in a thing has a block of its own kind, and a number is none.
    const isPath = block !== undefined && all[0]?.kind === 'path' && all[0].words.length > 1;
    if (match.literals.length === 0 && all.length < 2 && !isPath && all[0]?.kind !== 'number') continue;
    if (entry.word === 'project') continue;
    if (match.literals.length < most) continue;
    if (match.literals.length > most) found = [];
    most = match.literals.length;
    found.push(entry);
  }
  return found;
}

/** As written, in quotation marks: those of its own, where it is a text. */
export function quoted({ text }: Statement, { start, end }: Range): string {
  const written = text.slice(start, end).trim();
  const inner = written.startsWith('"') ? written.slice(1, written.endsWith('"') ? -1 : undefined) : written;
  return `"${shorten(inner)}"`;
}

export function shorten(text: string): string {
  return text.length > 40 ? `${text.slice(0, 37)}...` : text;
}
