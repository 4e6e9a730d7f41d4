/** What the thing under the cursor is and comes to. Short Markdown, the most telling first. */
import { offsetOf, type Range } from '../../grammar/tree.ts';
import type { WordEntry } from '../model/vocabulary.ts';
import { type Located, locate, touches } from './locate.ts';
import type { Snapshot } from './snapshot.ts';

export interface Hover extends Range {
  readonly text: string;
}

export function hoverAt(snapshot: Snapshot, offset: number): Hover | undefined {
  const located = locate(snapshot, offset);
  if (!located) return undefined;
  return hoverOfWord(located);
}

function hoverOfWord({ statement, within, entry }: Located): Hover | undefined {
  if (!entry || !touches(statement.word, within)) return undefined;
  const base = offsetOf(statement);
  return { start: base + statement.word.start, end: base + statement.word.end, text: wordText(entry) };
}

/** What the vocabulary says of a word. */
export function wordText(entry: WordEntry): string {
  const { word, phrase, doc, datum, fallback, example, notYet } = entry;
  const lines = [code(`${word} ${phrase.notation}`.trim()), doc];
  if (datum !== undefined) lines.push(`Measured ${datum}.`);
  if (fallback !== undefined) lines.push(`Where it is not written: ${fallback}.`);
  if (notYet) lines.push('Read and kept; nothing is checked or computed from it yet.');
  lines.push(`For example: \`${example}\``);
  return lines.join('\n\n');
}

export function code(text: string): string {
  return `\`\`\`closet\n${text}\n\`\`\``;
}
