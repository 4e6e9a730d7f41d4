/** Names and labels with signs in them that none has, and what can be written for them. */
import { measureOf } from '../../grammar/measures.ts';
import { parseHead } from '../../grammar/parser.ts';
import { type Item, type Place, placeOf, type Range, type Statement } from '../../grammar/tree.ts';
import { written } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { type Bindings, type Expected, isMatch, type Mismatch, matchPhrase, type RefKind, slotsOf } from './phrase.ts';
import * as rules from './rules.ts';
import { placesOf } from './vocabulary.ts';
import type { WordEntry } from './words/entry.ts';

interface Slip {
  readonly statement: Statement;
  readonly entry: WordEntry;
  readonly items: readonly Item[];
  readonly mismatch: Mismatch;
}

/** `101-bed`, `A/101`, `A 101` where a name stands. */
export function nameMalformed({ statement, entry, items, mismatch }: Slip): Finding | undefined {
  const { at, expected, slots } = mismatch;
  const [before, item] = [items[at - 1], items[at]];
  if (!item) return undefined;
  const own = letterOf(statement, expected);
  // The name has begun before what does not fit.
  const earlier = before?.kind === 'path' ? letterOf(statement, slotsWith(entry, slots, before)) : undefined;
  const isJoined = before && (before.end === item.start || item.kind === 'number');
  const range =
    earlier !== undefined && isJoined
      ? { start: before.start, end: Math.max(runFrom(statement, before.start), runFrom(statement, item.start)) }
      : { start: item.start, end: item.kind === 'text' ? item.end : runFrom(statement, item.start) };
  const letter = earlier !== undefined && isJoined ? earlier : own;
  if (letter === undefined || isMeasured(item)) return undefined;
  // A text names something of its own, and nothing else.
  if (item.kind === 'text' && !expected.some((one) => one.kind === 'slot' && one.type.kind === 'name'))
    return undefined;
  const raw = statement.text.slice(range.start, range.end);
  // One that can be a name is told of as a text.
  if (item.kind === 'text' && /^[\p{L}_][\p{L}\p{N}_]*(?:-[\p{L}\p{N}_]+)*$/u.test(item.value)) return undefined;
  // What stands in parentheses is no part of a name.
  const name = /[()]/.test(raw) ? undefined : nameOf(raw, letter);
  if (name === undefined || !fits(statement, entry, range, name)) return undefined;
  const place = placeOf(statement, range);
  return finding(
    rules.phraseNotUnderstood,
    place,
    `"${raw.replaceAll('"', '')}" is no name: a name begins with a letter, and has letters, digits, underscores and single hyphens.`,
    { advice: `Did you mean ${name}?`, fixes: [written(place, name)] },
  );
}

/** `3A`, `ground floor` where a label stands that is none by itself. */
export function labelMalformed({ statement, entry, items, mismatch }: Slip): Finding | undefined {
  const { at, expected, slots } = mismatch;
  const next = items[at];
  // Said again it is a part of the label: `floor ground floor`.
  const isStatement =
    next?.kind === 'path' &&
    next.words[0]?.text !== statement.word.text &&
    placesOf(next.words[0]?.text ?? '').length > 0;
  if (isStatement || items.some(({ kind }) => kind === 'mark')) return undefined;
  const label = labelIn(entry, slots) ?? (expected.some(isLabel) ? items[at] : undefined);
  if (!label || label.kind === 'text') return undefined;
  return labelFinding(statement, entry, { start: label.start, end: items.at(-1)?.end ?? label.end });
}

/** The same of a number with letters behind it, which could be a label if they were a unit of measure. */
export function labelWithUnit(statement: Statement, entry: WordEntry, slots: Bindings): Finding | undefined {
  const label = labelIn(entry, slots);
  const isOdd = label?.kind === 'number' && label.parts.some(({ unit }) => unit && !measureOf(unit.text));
  return isOdd ? labelFinding(statement, entry, label) : undefined;
}

function labelFinding(statement: Statement, entry: WordEntry, range: Range): Finding | undefined {
  const raw = statement.text.slice(range.start, range.end);
  // A sum or a part of a number is a slip of another kind.
  const isLike = /^\d+(?:-\d+)+$/.test(raw) || (/\p{L}/u.test(raw) && /^[\p{L}\p{N}_ ./-]+$/u.test(raw));
  if (!isLike || !fits(statement, entry, range, `"${raw}"`)) return undefined;
  const place: Place = placeOf(statement, range);
  return finding(
    rules.phraseNotUnderstood,
    place,
    `"${raw}" is neither a name nor a number, and any other label stands in quotation marks.`,
    { advice: `Write "${raw}"`, fixes: [written(place, `"${raw}"`)] },
  );
}

function labelIn(entry: WordEntry, slots: Bindings): Item | undefined {
  const name = slotsOf(entry.phrase).find(({ type }) => type.kind === 'label')?.name;
  return name === undefined ? undefined : slots[name]?.[0];
}

function isLabel(expected: Expected): boolean {
  return expected.kind === 'slot' && expected.type.kind === 'label';
}

/** Up to where something that is no name can stand. */
function runFrom({ text }: Statement, start: number): number {
  return start + (/^[^\s{};,:=]+/.exec(text.slice(start))?.[0].length ?? 0);
}

function isMeasured(item: Item): boolean {
  return item.kind === 'number' && item.parts.some(({ unit }) => unit && measureOf(unit.text));
}

/** What a name that begins with a digit is begun with: the first letter of what it is a name of. */
function letterOf({ word }: Statement, expected: readonly Expected[]): string | undefined {
  for (const one of expected) {
    if (one.kind !== 'slot') continue;
    if (one.type.kind === 'name') return word.text.charAt(0);
    if (one.type.kind === 'ref' && !unnamed.has(one.type.to))
      return one.type.to === 'fitting' ? 's' : one.type.to.charAt(0);
  }
  return undefined;
}

/** These are named by a path, or by the tool. */
const unnamed: ReadonlySet<RefKind> = new Set<RefKind>(['thing', 'rule', 'limit']);

function slotsWith(entry: WordEntry, slots: Bindings, item: Item): Expected[] {
  return slotsOf(entry.phrase)
    .filter(({ name }) => slots[name]?.includes(item))
    .map(({ name, type }) => ({ kind: 'slot', name, type }));
}

function nameOf(raw: string, letter: string): string | undefined {
  const plain = raw.replaceAll(/[^\p{L}\p{N}_]+/gu, '-').replaceAll(/^-+|-+$/g, '');
  const name = /^\p{N}/u.test(plain) ? letter + plain : plain;
  return name === '' || name === raw ? undefined : name;
}

/** With this in place of a stretch, all of the head is understood. */
export function fits({ word, head, text }: Statement, entry: WordEntry, { start, end }: Range, by: string): boolean {
  const whole = `${text.slice(word.start, start)}${by}${text.slice(end, head.end)}`;
  const { items, problems } = parseHead(whole, 0);
  return problems.length === 0 && isMatch(matchPhrase(entry.phrase, items.slice(1)));
}
