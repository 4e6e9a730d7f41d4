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
    else if (entry.statement) for (const line of printOne(entry.statement, depth)) lines.push(line);
    else lines.push('  '.repeat(depth) + entry.comment);
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
  const { block } = statement;
  if (!block || isFlat(statement)) return [...docs, pad + printFlat(statement)];
  const nested = printEntries(entriesWithin(statement), statement.text, depth + 1);
  return [...docs, pad + openingOf(statement), ...nested, ...(block.close < 0 ? [] : [`${pad}}`])];
}

/** Its block is on one line, and nothing in it needs a line of its own. */
function isFlat(statement: Statement): boolean {
  const { block } = statement;
  if (!block) return statement.doc === undefined;
  if (block.children.length === 0 && block.comments.length === 0) return true;
  if (/[\n\r]/.test(statement.text.slice(block.open, block.close < 0 ? undefined : block.close))) return false;
  return block.comments.every((c) => c.kind === 'block') && block.children.every((child) => isFlat(child));
}

/** A statement on one line, without its documentation. */
function printFlat(statement: Statement): string {
  const { block } = statement;
  if (!block) return printHead(statement) || statement.text.trim();
  const opening = openingOf(statement);
  const close = block.close < 0 ? '' : '}';
  const inside = flatten(entriesWithin(statement));
  return inside === '' ? opening + close : `${opening} ${inside}${close && ` ${close}`}`;
}

function openingOf(statement: Statement): string {
  const head = printHead(statement);
  return head === '' ? '{' : `${head} {`;
}

function entriesWithin({ block, text }: Statement): Entry[] {
  return entriesOf({ statements: block?.children ?? [], comments: block?.comments ?? [], text }, 0);
}

/** Between two statements on a line there is always a semicolon, whatever comments stand between them. */
function flatten(entries: readonly Entry[]): string {
  let line = '';
  let open = false;
  for (const entry of entries) {
    if (line !== '') line += open && entry.statement ? '; ' : ' ';
    line += entry.statement ? printFlat(entry.statement) : entry.comment;
    open ||= entry.statement !== undefined;
  }
  return line;
}

/** The head with one space between tokens, none where tokens belong together. */
export function printHead(statement: Statement): string {
  const end = statement.block ? statement.block.open : statement.text.length;
  const head = statement.text.slice(statement.word.start, Math.max(statement.head.end, end));
  const { tokens, comments } = lex(head);
  const all = [...tokens, ...comments].sort((a, b) => a.startOffset - b.startOffset);
  let text = '';
  let previous: (typeof all)[number] | undefined;
  for (const token of all) {
    if (previous && needsSpace(previous, token)) text += ' ';
    text += token.image;
    previous = token;
  }
  return text;
}

type Token = ReturnType<typeof lex>['tokens'][number];

function needsSpace(a: Token, b: Token): boolean {
  const written = a.startOffset + a.image.length < b.startOffset;
  const { tokenType: left } = a;
  const { tokenType: right } = b;
  if (right === CommaToken || right === CloseToken || right === ColonToken) return false;
  if (left === OpenToken || left === NegateToken) return false;
  if (right === OpenToken) return left !== WordToken || written;
  if (left === DotToken || right === DotToken || left === JointToken || right === JointToken) return written;
  if (left === NumberToken && right === UnitToken) return written;
  return true;
}
