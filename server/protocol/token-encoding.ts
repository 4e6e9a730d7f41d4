/**
 * Semantic tokens as the protocol wants them: five numbers each, counted from the token before. A file is a list of
 * pieces that are encoded once; only how far a piece is from the one before depends on its surroundings. What changed
 * since a result is found by comparing pieces, so a keystroke in a long file costs the piece that it is in.
 */
import {
  type Token,
  type TokenPiece,
  tokenModifiers,
  tokenPiecesOf,
  tokensIn,
  tokenTypes,
} from '../language/semantic-tokens.ts';
import type { Snapshot } from '../language/snapshot.ts';

interface Encoded {
  /** Five numbers a token; the first two of the first token count from the start of the piece. */
  readonly data: readonly number[];
  /** Of its last token, from the start of the piece; the column too, where it is in the first line. */
  readonly lastLine: number;
  readonly lastColumn: number;
}

const encoded = new WeakMap<readonly Token[], Encoded>();

const typeNumbers = new Map(tokenTypes.map((type, i) => [type, i]));
const modifierBits = new Map(tokenModifiers.map((modifier, i) => [modifier, 1 << i]));

function encode({ text, tokens }: TokenPiece): Encoded {
  const known = encoded.get(tokens);
  if (known) return known;
  const data: number[] = [];
  let line = 0;
  let lineStart = 0;
  let scanned = 0;
  let [lastLine, lastColumn] = [0, 0];
  for (const token of tokens) {
    for (; scanned < token.start; scanned++) {
      const c = text.charCodeAt(scanned);
      if (c !== 10 && (c !== 13 || text.charCodeAt(scanned + 1) === 10)) continue;
      line++;
      lineStart = scanned + 1;
    }
    const column = token.start - lineStart;
    data.push(line - lastLine, line === lastLine ? column - lastColumn : column, ...tail(token));
    [lastLine, lastColumn] = [line, column];
  }
  const made = { data, lastLine, lastColumn };
  encoded.set(tokens, made);
  return made;
}

function tail({ start, end, type, modifiers }: Token): [number, number, number] {
  let bits = 0;
  for (const modifier of modifiers) bits |= modifierBits.get(modifier) ?? 0;
  return [end - start, typeNumbers.get(type) ?? 0, bits];
}

/** Pieces with tokens, and by how much the first token of each is behind the last one of the piece before. */
export interface TokenResult {
  readonly pieces: readonly Encoded[];
  readonly lines: readonly number[];
  readonly columns: readonly number[];
}

export function tokenResultOf(snapshot: Snapshot): TokenResult {
  const pieces: Encoded[] = [];
  const lines: number[] = [];
  const columns: number[] = [];
  let [lastLine, lastColumn] = [0, 0];
  for (const piece of tokenPiecesOf(snapshot)) {
    if (piece.tokens.length === 0) continue;
    const { segment, at } = piece;
    const own = encode(piece);
    const start = at === 0 ? { line: segment.line, column: 0 } : snapshot.source.positionAt(segment.offset + at);
    const line = start.line + (own.data[0] as number);
    const column = (own.data[1] as number) + (own.data[0] === 0 ? start.column : 0);
    pieces.push(own);
    lines.push(line - lastLine);
    columns.push(line === lastLine ? column - lastColumn : column);
    lastLine = start.line + own.lastLine;
    lastColumn = own.lastColumn + (own.lastLine === 0 ? start.column : 0);
  }
  return { pieces, lines, columns };
}

export function tokenData(result: TokenResult, from = 0, to = result.pieces.length): number[] {
  const data: number[] = [];
  for (let i = from; i < to; i++) {
    const own = (result.pieces[i] as Encoded).data;
    data.push(result.lines[i] as number, result.columns[i] as number);
    for (let k = 2; k < own.length; k++) data.push(own[k] as number);
  }
  return data;
}

export interface TokenEdit {
  readonly start: number;
  readonly deleteCount: number;
  readonly data: number[];
}

/** What turns the numbers of one result into those of another. */
export function tokenEdits(before: TokenResult, after: TokenResult): TokenEdit[] {
  const [m, n] = [before.pieces.length, after.pieces.length];
  const isSame = (i: number, j: number): boolean =>
    before.pieces[i] === after.pieces[j] &&
    before.lines[i] === after.lines[j] &&
    before.columns[i] === after.columns[j];
  let head = 0;
  while (head < m && head < n && isSame(head, head)) head++;
  let foot = 0;
  while (foot < m - head && foot < n - head && isSame(m - 1 - foot, n - 1 - foot)) foot++;
  const old = tokenData(before, head, m - foot);
  const fresh = tokenData(after, head, n - foot);
  if (old.length === 0 && fresh.length === 0) return [];
  let from = 0;
  while (from < old.length && from < fresh.length && old[from] === fresh[from]) from++;
  let end = 0;
  const shorter = Math.min(old.length, fresh.length) - from;
  while (end < shorter && old[old.length - 1 - end] === fresh[fresh.length - 1 - end]) end++;
  if (from === old.length && from === fresh.length) return [];
  let start = from;
  for (let i = 0; i < head; i++) start += (before.pieces[i] as Encoded).data.length;
  return [{ start, deleteCount: old.length - from - end, data: fresh.slice(from, fresh.length - end) }];
}

/** Those that a stretch touches, counted from the start of the file. */
export function tokenDataIn(snapshot: Snapshot, range: { readonly start: number; readonly end: number }): number[] {
  const data: number[] = [];
  let [lastLine, lastColumn] = [0, 0];
  for (const token of tokensIn(snapshot, range)) {
    const { line, column } = snapshot.source.positionAt(token.start);
    data.push(line - lastLine, line === lastLine ? column - lastColumn : column, ...tail(token));
    [lastLine, lastColumn] = [line, column];
  }
  return data;
}
