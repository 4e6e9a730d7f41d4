/** What statements that cannot be read may declare: names, and what has no name yet by its kind. */
import { type Statement, topOf } from '../../grammar/tree.ts';
import type { Finding } from './finding.ts';
import { memo } from './memo.ts';
import { nearestOnes } from './nearest.ts';
import { literalsOf } from './phrase.ts';
import { dotted } from './reading.ts';
import { unitsIn } from './several-slips.ts';
import { topWords, vocabulary, wordIn } from './vocabulary.ts';

export interface Declares {
  readonly anywhere: ReadonlySet<string>;
  /** By the declarations in which they stand. */
  readonly within: ReadonlyMap<string, ReadonlySet<Statement>>;
}

export function declaredBy(heads: Iterable<Statement>): Declares {
  const anywhere = new Set<string>();
  const within = new Map<string, Set<Statement>>();
  for (const head of heads) {
    for (const key of keysOf(head)) {
      if (head.parent.kind === 'segment') anywhere.add(key);
      else memo(within, key, () => new Set<Statement>()).add(topOf(head));
    }
  }
  return { anywhere, within };
}

/** By one of these something is declared that is not known by its name. */
export function keysSought({ place: { statement, start, end }, sought = '' }: Finding): readonly string[] {
  const named = wordsOf(statement.text.slice(Math.max(start, statement.word.end), end));
  return [...named, ...kindsIn(sought).map((kind) => unnamed + kind)];
}

/** The words by which something of the kinds that are spoken of is declared: `board or rod`. */
export function kindsIn(spoken: string): string[] {
  return wordsOf(spoken).flatMap((word) => spokenOf[word] ?? [word]);
}

const spokenOf: Readonly<Record<string, readonly string[]>> = { zone: ['zone', 'gap'], shelf: ['shelf', 'shelves'] };

/** What a word at the top level may be a slip of; nothing where it is one of those that stand there. */
export function meantAtTop(text: string): readonly string[] {
  return topWords.has(text) ? [] : nearestOnes(text, topWords);
}

/** Tells of a material whether a statement that cannot be read may say in which lengths it can be had. */
export function stockIn(unread: readonly Finding[]): (material: string) => boolean {
  const keys = new Set<string>();
  for (const { rule, severity, place } of unread) {
    const { statement } = place;
    if (statement.parent.kind !== 'segment' || severity !== 'error' || rule.family !== 'words') continue;
    if (mayBeStock(statement)) for (const key of keysOf(statement)) keys.add(key);
  }
  return (material) => keys.has(`${unnamed}stock`) || (material !== '' && wordsOf(material).every((w) => keys.has(w)));
}

/** Its word is `stock`, or a slip of that, or has been left out. */
function mayBeStock({ word: { text }, block }: Statement): boolean {
  if (topWords.has(text)) return text === 'stock';
  const meant = meantAtTop(text);
  return meant.length === 0 ? block !== undefined : meant.includes('stock');
}

/** Before the kind of what should have a name, so that it is none itself. */
const unnamed = 'some ';

const declaring =
  /^(?:board|rod|hardware|garment|policy|template|unit|zone|gap|shelf|shelves|panels|drawers|wall|opening|fixture|parameter|use|stock)$/;

/** The words that stand where a statement may declare something, and its kind where it should have a name and has none. */
function keysOf(head: Statement): readonly string[] {
  const keys = [...wordsOf(declaringText(head)), ...unitsIn(head)];
  return declaring.test(head.word.text) && !isNamed(head) ? [...keys, unnamed + head.word.text] : keys;
}

/** Where it may declare something, though it cannot be read: its documentation declares nothing. */
function declaringText({ word, text, head }: Statement): string {
  return text.slice(word.start, wordIn('file', word.text) ? head.end : undefined);
}

/** Whether a name stands behind the first word, and not what should follow it. */
function isNamed({ word, items: [first] }: Statement): boolean {
  if (first?.kind !== 'path') return false;
  return !literals.has(`${word.text} ${first.words[0]?.text}`);
}

/** Words with those that may stand among what follows them. */
const literals = new Set(vocabulary.flatMap(({ word, phrase }) => literalsOf(phrase).map((text) => `${word} ${text}`)));

function wordsOf(text: string): readonly string[] {
  return text.match(/[\p{L}\p{N}_-]+/gu) ?? [];
}

/** `white-12` of `board white-12`. */
export function nameOf({ items: [first] }: Statement): string {
  return first?.kind === 'path' ? dotted(first) : '';
}
