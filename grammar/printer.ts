/**
 * Text from a tree, in the one layout: two spaces a level, one between items, blocks on one line
 * where they were on one line. Words, numbers, comments and their order are kept as written.
 */

import type { Source } from './source.ts';
import {
  CloseToken,
  ColonToken,
  CommaToken,
  DotToken,
  JointToken,
  lex,
  NegateToken,
  NumberToken,
  OpenToken,
  UnitToken,
  WordToken,
} from './tokens.ts';
import type { Comment, Segment, Statement } from './tree.ts';

interface Entry {
  readonly offset: number;
  readonly end: number;
  readonly statement?: Statement;
  readonly comment?: string;
}

/** Prints a whole file. Reading the result gives the same tree, positions aside. */
export function print(source: Source): string {
  const entries = source.segments.flatMap((segment) => entriesOf(segment, segment.offset));
  const lines = printEntries(entries, source.text, 0);
  return lines.length > 0 ? `${lines.join('\n')}\n` : '';
}

/** Prints one statement on its own, without indentation. */
export function printStatement(statement: Statement): string {
  return printOne(statement, 0).join('\n');
}

function entriesOf(
  owner: Segment | { statements: readonly Statement[]; comments: readonly Comment[]; text: string },
  base: number,
): Entry[] {
  const entries: Entry[] = [
    ...owner.statements.map((statement) => ({
      offset: base + statement.offset,
      end: base + statement.offset + statement.text.length,
      statement,
    })),
    ...owner.comments.map((c) => ({
      offset: base + c.start,
      end: base + c.end,
      comment: owner.text.slice(c.start, c.end),
    })),
  ];
  return entries.sort((a, b) => a.offset - b.offset);
}

/** `text` is what the offsets of the entries count in; it tells line ends and blank lines between them. */
function printEntries(entries: readonly Entry[], text: string, depth: number): string[] {
  const lines: string[] = [];
  let previousEnd: number | undefined;
  for (const entry of entries) {
    const between = previousEnd === undefined ? '' : text.slice(previousEnd, entry.offset);
    const breaks = between.split(/\r\n|\n|\r/).length - 1;
    const trailing = entry.comment !== undefined && previousEnd !== undefined && breaks === 0 && lines.length > 0;
    if (breaks > 1) lines.push('');
    if (trailing) lines[lines.length - 1] += ` ${entry.comment}`;
    else if (entry.statement) lines.push(...printOne(entry.statement, depth));
    else lines.push(...indented(entry.comment ?? '', depth));
    previousEnd = entry.end;
  }
  return lines;
}

function printOne(statement: Statement, depth: number): string[] {
  const pad = '  '.repeat(depth);
  const docs =
    statement.doc === undefined
      ? []
      : statement.doc.split('\n').map((line) => `${pad}///${line === '' ? '' : ` ${line}`}`);
  const head = printHead(statement);
  const { block } = statement;
  if (!block) return [...docs, head === '' ? pad + statement.text.trim() : pad + head];
  const opening = head === '' ? '{' : `${head} {`;
  const inside = { statements: block.children, comments: block.comments, text: statement.text };
  const entries = entriesOf(inside, 0);
  const body = statement.text.slice(block.open, block.close < 0 ? undefined : block.close);
  const close = block.close < 0 ? '' : '}';
  if (entries.length === 0) return [...docs, pad + opening + close];
  const flat = !/[\n\r]/.test(body) && entries.every((e) => !e.comment?.startsWith('//'));
  const lines = printEntries(entries, statement.text, flat ? 0 : depth + 1);
  if (flat && lines.every((line) => !line.includes('\n')) && entries.every((e) => !e.statement?.doc)) {
    return [...docs, `${pad}${opening} ${flatten(entries)}${close && ` ${close}`}`];
  }
  const nested = flat ? printEntries(entries, statement.text, depth + 1) : lines;
  return [...docs, pad + opening, ...nested, ...(close ? [pad + close] : [])];
}

function flatten(entries: readonly Entry[]): string {
  let line = '';
  let afterStatement = false;
  for (const entry of entries) {
    const text = entry.statement ? printOne(entry.statement, 0).join(' ') : (entry.comment ?? '');
    if (line !== '') line += afterStatement && entry.statement ? '; ' : ' ';
    line += text;
    afterStatement = entry.statement !== undefined;
  }
  return line;
}

function indented(comment: string, depth: number): string[] {
  return [`${'  '.repeat(depth)}${comment}`];
}

/** The head with one space between tokens, none where tokens belong together. */
export function printHead(statement: Statement): string {
  const head = statement.text.slice(statement.word.start, Math.max(statement.head.end, headEnd(statement)));
  const { tokens, comments } = lex(head);
  const all = [...tokens, ...comments].sort((a, b) => a.startOffset - b.startOffset);
  let text = '';
  let previous: (typeof all)[number] | undefined;
  for (const token of all) {
    if (previous && needsSpace(previous, token, head)) text += ' ';
    text += token.image;
    previous = token;
  }
  return text;
}

function headEnd(statement: Statement): number {
  const end = statement.block ? statement.block.open : statement.text.length;
  return end;
}

type Token = ReturnType<typeof lex>['tokens'][number];

function needsSpace(a: Token, b: Token, head: string): boolean {
  const written = a.startOffset + a.image.length < b.startOffset;
  const { tokenType: left } = a;
  const { tokenType: right } = b;
  if (right === CommaToken || right === CloseToken || right === ColonToken) return false;
  if (left === OpenToken || left === NegateToken) return false;
  if (right === OpenToken) return left !== WordToken || written;
  if (left === DotToken || right === DotToken || left === JointToken || right === JointToken) return written;
  if (left === NumberToken && right === UnitToken) return written;
  void head;
  return true;
}
