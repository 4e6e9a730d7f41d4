/** What mends a statement that cannot be read as it stands. */
import { isMeasure } from '../../grammar/measures.ts';
import { type Place, type Problem, placeOf, type Range, type Statement } from '../../grammar/tree.ts';
import { indentOf, lineEndAt, removed } from './edits.ts';
import type { Fix } from './finding.ts';
import { meantBy, type SlipEdit, textBefore } from './other-spellings.ts';
import type { WordEntry } from './words/entry.ts';

export function problemFixes(statement: Statement, problem: Problem): Fix[] {
  switch (problem.code) {
    case 'block-not-closed':
      return [closedBlock(statement)];
    case 'block-not-opened':
      return [insert(statement, problem.end, ' {', 'Write {')];
    case 'text-not-closed': {
      const close = otherClose(statement, problem);
      if (close) return [{ title: 'Close the text', edits: [{ place: placeOf(statement, close), text: '"' }] }];
      // Up to what ends the statement, but for the space before it.
      const end =
        problem.start +
        statement.text
          .slice(problem.start)
          .replace(/[;{}\r\n].*$/s, '')
          .trimEnd().length;
      return [insert(statement, end, '"', 'Close the text')];
    }
    case 'comment-not-closed':
      return [insert(statement, statement.text.trimEnd().length, ' */', 'Close the comment')];
    case 'character-not-expected': {
      const meant = meantBy(statement.text, problem);
      if (!meant) return [withoutIt(statement, problem)];
      const edits = meant.map(({ text, ...range }) => ({ place: placeOf(statement, range), text }));
      return [{ title: `Write ${asMeant(statement, meant)}`, edits }];
    }
    case 'brace-without-block':
      return [withoutIt(statement, problem)];
    case 'expression-incomplete':
      return statement.text.slice(problem.start, problem.end) === '('
        ? [insert(statement, statement.head.end, ')', 'Close the parenthesis')]
        : [];
    case 'nested-too-deep':
    case 'too-long':
    case 'too-many-statements':
      return [];
  }
}

/** The mark of another kind with which a text ends. */
function otherClose({ text }: Statement, { start, end }: Problem): Range | undefined {
  const found = /^[^;{}\r\n]*?([\u201C\u201D\u00BB\uFF02])[ \t]*(?=[;{}\r\n]|$)/.exec(text.slice(start, end));
  const at = start + (found?.[0].trimEnd().length ?? 0);
  return found ? { start: at - 1, end: at } : undefined;
}

/** By hand: what is too much may be a part of something that is wrong elsewhere. */
function withoutIt(statement: Statement, problem: Problem): Fix {
  const place = placeOf(statement, problem);
  const sign = statement.text.slice(problem.start, problem.end);
  // From one name to another: without it the two are not one.
  const joins = /^(?:\.{2,}|…)$/.test(sign) && /\w/.test(statement.text[problem.start - 1] ?? '');
  return {
    title: `Remove ${sign}`,
    edits: [{ place, text: joins && /\w/.test(statement.text[problem.end] ?? '') ? ' ' : '' }],
    byHand: true,
  };
}

/** What a character was meant to be, with what it stands in: `23-1/2in`. */
export function asMeant({ text }: Statement, edits: readonly SlipEdit[]): string {
  const [first, last] = [edits[0], edits.at(-1)];
  if (!first || !last) return '';
  const isText = first.text === '"';
  const from = isText
    ? first.start
    : first.start - (/(?:\d[\w/.-]*[ \t]*|[^\s;{}(),=:]*)$/.exec(textBefore(text, first.start))?.[0].length ?? 0);
  const rest = isText ? '' : restOfValue(text.slice(last.end), last.text);
  let written = '';
  let at = from;
  for (const edit of edits) {
    written += text.slice(at, edit.start) + edit.text;
    at = edit.end;
  }
  return written + rest;
}

/** What touches it; of a sign between two values, the second one; of a number, its unit of measure. */
function restOfValue(text: string, sign: string): string {
  const touching = /^[^\s;{}(),]+/.exec(text)?.[0];
  if (touching !== undefined) return touching;
  const next = /^[ \t]+([^\s;{}(),]+)/.exec(text);
  const isNext = /^[-*/]$/.test(sign) || (next?.[1] !== undefined && isMeasure(next[1]));
  return isNext ? (next?.[0] ?? '') : '';
}

/** The block of the example, its numbers to be replaced. */
export function sampleBlock(statement: Statement, { example }: WordEntry): Fix[] {
  const open = example.indexOf('{');
  if (open < 0) return [];
  const block = example.slice(open);
  return [{ ...insert(statement, statement.head.end, ` ${block}`, `Write ${block}`), byHand: true }];
}

export function withoutBlock(statement: Statement): Fix[] {
  const { block, head } = statement;
  if (!block || block.close < 0) return [];
  const place = { statement, start: head.end, end: block.close + 1 };
  return [{ title: 'Remove the block', edits: [{ place, text: '' }], byHand: block.children.length > 0 }];
}

/** The second one counts for nothing; where it says something else, somebody has to choose. */
export function withoutRepeated(second: Statement, first: Statement): Fix {
  const title = `Remove this "${second.word.text}"`;
  return { title, edits: [removed(second)], byHand: second.text.trim() !== first.text.trim() };
}

function closedBlock(statement: Statement): Fix {
  const end = statement.text.trimEnd().length;
  const isLong = statement.text.slice(0, end).includes('\n');
  const before = isLong ? `${lineEndAt(statement, end)}${indentOf(statement)}` : ' ';
  return insert(statement, end, `${before}}`, 'Close the block');
}

function insert(statement: Statement, offset: number, text: string, title: string): Fix {
  const place: Place = { statement, start: offset, end: offset };
  return { title, edits: [{ place, text }] };
}
