/** What is written here: the phrase of a word with the slot that comes next, or what a unit gives its template. */

import type { Item, Range, Statement } from '../../grammar/tree.ts';
import { examplesIn } from '../model/examples.ts';
import type { Expected } from '../model/phrase.ts';
import { describeType, expectedAfter, matchPhrase, shownSlot, slotsOf } from '../model/phrase.ts';
import { dotted, pathIn, readingAt } from '../model/reading.ts';
import { type WordEntry, wordIn } from '../model/vocabulary.ts';
import { begunPath } from './completion-path.ts';
import { cursorAt } from './cursor.ts';
import type { Spoken } from './hover.ts';
import { giverOf } from './locate.ts';
import { commented } from './markdown.ts';
import { type Parameter, parametersAt, placeOfWord } from './parameters.ts';
import type { Snapshot } from './snapshot.ts';

export interface Signature {
  readonly label: string;
  /** Markdown. */
  readonly doc: string;
  /** `start` and `end` within the label. */
  readonly parts: readonly (Range & { readonly doc: string })[];
  /** Which of the parts is being written; undefined where nothing more comes. */
  readonly active: number | undefined;
}

export function signatureAt(snapshot: Snapshot, offset: number): Signature | undefined {
  const cursor = cursorAt(snapshot, offset);
  if (!cursor) return undefined;
  if (cursor.kind === 'word') {
    return argumentsOf(snapshot, cursor.around, undefined);
  }
  const { trail, place } = cursor;
  const { item, before } = begunPath(cursor);
  const statement = trail.at(-1) as Statement;
  const entry = place && wordIn(placeOfWord(snapshot, trail, place), statement.word.text);
  if (entry) return phraseOf(entry, before, item, statement, snapshot.project.settings);
  return argumentsOf(snapshot, trail.slice(0, -1), statement.word.text);
}

// Phrases

const noted = /<([^:>]*):([^>]*)>(\.\.\.)?|[[\]()|]|[^\s[\]()|<>]+/g;

interface Token extends Range {
  readonly slot: string | undefined;
  readonly text: string;
  readonly doc: string;
}

/** `under <of> by [at least] <value>`, with each word and slot of it as hover and completion show them. */
function labelOf({ word, phrase }: WordEntry): { label: string; tokens: Token[] } {
  const types = new Map(slotsOf(phrase).map((s) => [s.name, s.type]));
  const tokens: Token[] = [];
  let label = `${word} `;
  let at = 0;
  for (const match of phrase.notation.matchAll(noted)) {
    label += phrase.notation.slice(at, match.index);
    at = match.index + match[0].length;
    const [all, slot, , many] = match;
    const type = slot === undefined ? undefined : types.get(slot);
    const text = slot === undefined ? all : `<${shownSlot(slot)}>${many ?? ''}`;
    const start = label.length;
    label += text;
    if (/^[[\]()|]$/.test(all)) continue;
    tokens.push({ start, end: label.length, slot, text, doc: type ? describeType(type) : '' });
  }
  return { label: (label + phrase.notation.slice(at)).trimEnd(), tokens };
}

function phraseOf(
  entry: WordEntry,
  before: readonly Item[],
  item: Item | undefined,
  statement: Statement,
  { show, currency }: Spoken,
): Signature | undefined {
  const { label, tokens } = labelOf(entry);
  if (tokens.length === 0) return undefined;
  const { expected } = expectedAfter(entry.phrase, before);
  const written = alignedEnd(entry, tokens, before, statement);
  const wanted = item ? firstOf(entry, before, item, expected) : expected;
  const isWanted = (token: Token): boolean =>
    wanted.some((e) =>
      e.kind === 'slot'
        ? token.slot === e.name
        : e.kind === 'literal' && token.slot === undefined && token.text === e.text,
    );
  let active = tokens.findIndex((token, i) => i >= written && isWanted(token) && token.slot !== undefined);
  if (active < 0) active = tokens.findIndex((token, i) => i >= written && isWanted(token));
  if (active < 0) active = tokens.findIndex(isWanted);
  const lines = [entry.doc];
  if (entry.datum !== undefined) lines.push(`Measured ${entry.datum}.`);
  if (entry.fallback !== undefined) lines.push(`Where it is not written: ${entry.fallback}.`);
  lines.push(`For example: \`${examplesIn(entry.example, show.system, currency)}\``);
  return {
    label,
    doc: lines.join('\n\n'),
    parts: tokens.map(({ start, end, doc }) => ({ start, end, doc })),
    active: active < 0 ? undefined : active,
  };
}

/** Of what could stand here, what the item that stands here is. */
function firstOf(
  entry: WordEntry,
  before: readonly Item[],
  item: Item,
  expected: readonly Expected[],
): readonly Expected[] {
  const match = matchPhrase(entry.phrase, [...before, item]);
  const literal = item.kind === 'path' && match.literals.includes(item) ? item.words[0]?.text : undefined;
  const found = expected.filter((e) =>
    e.kind === 'slot'
      ? match.slots[e.name]?.includes(item)
      : e.kind === 'literal' && literal !== undefined && e.text === literal,
  );
  return found.length > 0 ? found : expected;
}

/** The index behind the last token that is written already, each item going to the next token that it fits. */
function alignedEnd({ phrase }: WordEntry, tokens: readonly Token[], before: readonly Item[], s: Statement): number {
  const { slots, literals } = matchPhrase(phrase, before);
  let at = 0;
  for (const item of before) {
    const text = s.text.slice(item.start, item.end);
    const isLiteral = item.kind === 'path' && literals.includes(item);
    const next = tokens.findIndex(
      (token, i) =>
        i >= at &&
        (token.slot === undefined ? isLiteral && token.text === text : !isLiteral && slots[token.slot]?.includes(item)),
    );
    if (next >= 0) at = next + 1;
  }
  return at;
}

// Arguments

/** `reach-in { width: length from 92in to 98in; door: length = 60in }`. */
function argumentsOf(
  snapshot: Snapshot,
  around: readonly Statement[],
  writing: string | undefined,
): Signature | undefined {
  const giver = giverOf(around);
  const parameters = giver ? parametersAt(snapshot, around) : [];
  if (!giver || parameters.length === 0) return undefined;
  const top = around[0] && readingAt(around[0], 'file');
  const template = top && pathIn(top, top.word === 'unit' ? 'template' : 'name');
  const given = new Set((giver.block?.children ?? []).map((s) => s.word.text));
  let label = `${template ? dotted(template) : 'unit'} { `;
  const parts = parameters.map((parameter, i) => {
    if (i > 0) label += '; ';
    const start = label.length;
    label += parameter.text;
    return { start, end: label.length, doc: docOf(parameter, given, writing) };
  });
  label += ' }';
  const missing = parameters.filter(({ name, needed }) => needed && !given.has(name) && name !== writing);
  const named = parameters.findIndex(({ name }) => name === writing);
  const first = parameters.findIndex((p) => missing.includes(p));
  const open = parameters.findIndex(({ name }) => !given.has(name));
  const active = writing !== undefined ? named : first >= 0 ? first : open;
  return {
    label,
    doc:
      missing.length > 0
        ? `Still missing: ${missing.map((p) => `\`${p.name}\``).join(', ')}.`
        : 'Nothing else has to be given.',
    parts,
    active: active < 0 ? undefined : active,
  };
}

function docOf({ name, needed, statement }: Parameter, given: ReadonlySet<string>, writing?: string): string {
  // What is being written is not given yet, though its name stands there.
  const isGiven = given.has(name) && name !== writing;
  const state = isGiven ? 'It is given.' : needed ? 'It has to be given.' : 'Without it, the default is taken.';
  return [...(statement.doc !== undefined ? [commented(statement.doc)] : []), state].join('\n\n');
}
