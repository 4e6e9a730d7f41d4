/** Words of the language in capital letters: all of a declaration are told of, and mended, as one. */
import { type Place, placeOf, type Statement } from '../../grammar/tree.ts';
import { type Finding, finding } from './finding.ts';
import * as rules from './rules.ts';
import { type BlockPlace, type WordEntry, wordIn } from './vocabulary.ts';

/** Undefined where its first word is none in small letters either. */
export function inSmallLetters(statement: Statement, place: BlockPlace): Finding | undefined {
  const { text } = statement.word;
  const entry = meantBy(text, place);
  if (!entry) return undefined;
  const at = placeOf(statement, statement.word);
  const inside = statement.block && entry.block ? [...capitalsIn(statement, entry.block)] : [];
  const edits = [{ place: at, text: entry.word }, ...inside];
  return finding(rules.wordNotKnown, at, `Words of the language are written in small letters: "${entry.word}".`, {
    advice: `Write "${entry.word}"${inside.length > 0 ? ', and so the words in its block' : ''}.`,
    fixes: [{ title: `Write "${entry.word}"${inside.length > 0 ? ' and the words in its block so' : ''}`, edits }],
  });
}

function meantBy(text: string, place: BlockPlace): WordEntry | undefined {
  const small = text.toLowerCase();
  return small === text ? undefined : wordIn(place, small);
}

function* capitalsIn({ block }: Statement, place: BlockPlace): Generator<{ place: Place; text: string }> {
  for (const child of block?.children ?? []) {
    const meant = meantBy(child.word.text, place);
    if (meant) yield { place: placeOf(child, child.word), text: meant.word };
    const entry = meant ?? wordIn(place, child.word.text);
    if (entry?.block) yield* capitalsIn(child, entry.block);
  }
}
