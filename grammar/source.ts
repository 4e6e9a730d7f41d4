/**
 * A file as a list of segments that are parsed alone. An edit re-cuts the chunks it touches, parses
 * the segments that changed (carrying over the statements in them that did not) and shifts the rest
 * by one number, so that a keystroke costs the same in 100 lines and in 50,000.
 */
import { type Chunk, cutChunks, segmentLength, withOwnText } from './chunks.ts';
import { KnownHeads } from './known-heads.ts';
import { parseSegment } from './statements.ts';
import type { KnowHead } from './structure.ts';
import { offsetOf, type Range, type Segment, type SourceRef, type Statement, statementIn } from './tree.ts';

export interface Position {
  /** Both from 0; the column in UTF-16 code units. */
  readonly line: number;
  readonly column: number;
}

export interface Edit extends Range {
  readonly text: string;
}

/** Top-level statements that an edit took away and put in. Carried-over ones are in neither. */
export interface Change {
  readonly removed: readonly Statement[];
  readonly added: readonly Statement[];
  /** Carried-over ones that stand behind others now that were behind them. */
  readonly moved: readonly Statement[];
}

/** The words that begin a declaration; what is known of all words, where that is given, tells which brace is missing. */
export interface TopWords extends ReadonlySet<string> {
  readonly know?: KnowHead;
}

interface Piece extends Segment {
  readonly chunks: readonly Chunk[];
  /** How many chunks come before its own. */
  firstChunk: number;
  readonly statements: Statement[];
  /** Line starts within the segment, found when first asked for. */
  lineStarts?: readonly number[];
}

export class Source implements SourceRef {
  readonly id: string;
  readonly topWords: TopWords;
  private chunks: Chunk[] = [];
  private pieces: Piece[] = [];
  /** Those that looked for a closing brace or comment end beyond themselves and found none. */
  private readonly open = new Set<Piece>();
  private joined: string | undefined;
  private readonly known: KnownHeads | undefined;
  /** Counts edits. */
  version = 0;

  constructor(id: string, text: string, topWords: TopWords) {
    this.id = id;
    this.topWords = topWords;
    this.joined = text;
    this.known = topWords.know && new KnownHeads(topWords.know);
    this.chunks = cutChunks(text, topWords);
    this.pieces = this.segmentsFrom(0, this.chunks.length, [], undefined);
    this.place(0);
    for (const piece of this.pieces) if (isOpen(piece)) this.open.add(piece);
  }

  get text(): string {
    this.joined ??= this.chunks.map((c) => c.text).join('');
    return this.joined;
  }

  /** A stretch of the text, without the rest of it. */
  slice(start: number, end: number): string {
    const from = Math.max(0, start);
    if (this.joined !== undefined) return this.joined.slice(from, Math.max(0, end));
    let taken = '';
    for (const { offset, text } of this.segmentsIn({ start: from, end }))
      taken += text.slice(Math.max(0, from - offset), Math.max(0, end - offset));
    return taken;
  }

  get length(): number {
    const last = this.pieces.at(-1);
    return last ? last.offset + last.text.length : 0;
  }

  get segments(): readonly Segment[] {
    return this.pieces;
  }

  *statements(): Generator<Statement> {
    for (const piece of this.pieces) yield* piece.statements;
  }

  /** Replaces a stretch of text. Statements that did not change keep their identity. */
  edit({ start, end, text }: Edit): Change {
    const length = this.length;
    const from = Math.max(0, Math.min(start, length));
    const to = Math.max(from, Math.min(end, length));
    this.joined = undefined;
    this.version++;

    // The chunks touched, and one to each side, since a cut may move over the nearest comment lines.
    const bounds = this.chunkBounds(from, to);
    const first = Math.max(0, bounds.first - 1);
    const last = Math.min(this.chunks.length - 1, bounds.last + 1);
    const regionStart = bounds.offset - (bounds.first > first ? (this.chunks[first] as Chunk).text.length : 0);
    const before = this.chunks.slice(first, last + 1);
    const old = before.map((c) => c.text).join('');
    const region = old.slice(0, from - regionStart) + text + old.slice(to - regionStart);
    const after = carryOver(before, cutChunks(region, this.topWords));
    this.chunks = replaced(this.chunks, first, before.length, after);
    return this.regroup(first, before.length, after.length);
  }

  positionAt(offset: number): Position {
    const piece = this.pieceAt(offset);
    if (!piece) return { line: 0, column: 0 };
    const starts = lineStartsOf(piece);
    const within = Math.max(0, Math.min(offset - piece.offset, piece.text.length));
    const line = lastWhere(starts, (start) => start <= within);
    return { line: piece.line + line, column: within - (starts[line] as number) };
  }

  /** The offset of a position; past the end of a line, the end of that line. */
  offsetAt({ line, column }: Position): number {
    const piece = this.pieces[lastWhere(this.pieces, (one) => one.line <= line)];
    if (!piece || line < 0) return 0;
    const starts = lineStartsOf(piece);
    const start = starts[line - piece.line];
    if (start === undefined) return this.length;
    const next = starts[line - piece.line + 1];
    let end = next ?? piece.text.length;
    while (end > start && (piece.text[end - 1] === '\n' || piece.text[end - 1] === '\r')) end--;
    return piece.offset + Math.max(start, Math.min(start + column, end));
  }

  /** The innermost statement whose text reaches over the offset (its end included). */
  statementAt(offset: number): Statement | undefined {
    const piece = this.pieceAt(offset);
    return piece && statementIn(piece, offset - piece.offset);
  }

  /** Comments with absolute ranges, in order. */
  comments(): Range[] {
    const all: Range[] = [];
    const shifted = (ranges: readonly Range[], by: number): void => {
      for (const r of ranges) all.push({ start: r.start + by, end: r.end + by });
    };
    const visit = (statement: Statement): void => {
      const at = offsetOf(statement);
      shifted(statement.comments, at);
      shifted(statement.block?.comments ?? [], at);
      for (const child of statement.block?.children ?? []) visit(child);
    };
    for (const piece of this.pieces) {
      shifted(piece.comments, piece.offset);
      for (const statement of piece.statements) visit(statement);
    }
    return all.sort((a, b) => a.start - b.start);
  }

  /** The segments that a stretch touches, if only with its ends. */
  *segmentsIn({ start, end }: Range): Generator<Segment> {
    for (let i = this.indexAt(start - 1); i < this.pieces.length; i++) {
      const piece = this.pieces[i] as Piece;
      if (piece.offset > end) return;
      if (piece.offset + piece.text.length >= start) yield piece;
    }
  }

  /** The last segment that begins at the offset or before it. */
  segmentAt(offset: number): Segment | undefined {
    return this.pieceAt(offset);
  }

  private pieceAt(offset: number): Piece | undefined {
    return this.pieces[this.indexAt(offset)];
  }

  private indexAt(offset: number): number {
    return lastWhere(this.pieces, (piece) => piece.offset <= offset);
  }

  private chunkBounds(from: number, to: number): { first: number; last: number; offset: number } {
    // Segments are found by bisection; only the chunks within one are walked.
    let chunk = 0;
    let offset = 0;
    const piece = this.pieceAt(from);
    if (piece) {
      chunk = piece.firstChunk;
      offset = piece.offset;
    }
    const lengthAt = (i: number): number => this.chunks[i]?.text.length ?? 0;
    while (chunk < this.chunks.length - 1 && offset + lengthAt(chunk) <= from) offset += lengthAt(chunk++);
    let last = chunk;
    for (let end = offset + lengthAt(chunk); last < this.chunks.length - 1 && end <= to; ) end += lengthAt(++last);
    return { first: chunk, last, offset };
  }

  /** Joins chunks to segments again after `oldCount` chunks from `first` on became `newCount`. */
  private regroup(first: number, oldCount: number, newCount: number): Change {
    // Segments that end before the change stay, but for one that looked beyond its end for a closing
    // brace in vain: from the first such one on, all is joined again.
    let limit = first;
    for (const { firstChunk } of this.open) limit = Math.min(limit, firstChunk);
    const keep = lastWhere(this.pieces, ({ firstChunk }) => firstChunk <= limit);
    const chunk = this.pieces[keep]?.firstChunk ?? 0;
    // Asked with rising chunks only, so one pass over the old segments answers all.
    let piece = keep;
    let start = chunk;
    const settled = (at: number): number | undefined => {
      if (at < first + newCount) return undefined;
      const before = at - newCount + oldCount;
      while (piece < this.pieces.length && start < before) start += (this.pieces[piece++] as Piece).chunks.length;
      return start === before && piece < this.pieces.length ? piece : undefined;
    };
    const old = this.pieces.slice(keep);
    const fresh = this.segmentsFrom(chunk, this.chunks.length, old, settled);
    const resume = fresh.resume === undefined ? this.pieces.length : fresh.resume;
    const gone = this.pieces.slice(keep, resume);
    this.pieces = replaced(this.pieces, keep, gone.length, fresh);
    this.place(keep);
    for (const one of gone) this.open.delete(one);
    for (const one of fresh) if (isOpen(one)) this.open.add(one);
    const kept = new Set<Statement>(fresh.flatMap((p) => p.statements));
    const known = new Set<Statement>(gone.flatMap((p) => p.statements));
    return {
      removed: [...known].filter((s) => !kept.has(s)),
      added: [...kept].filter((s) => !known.has(s)),
      moved: movedIn(known, kept),
    };
  }

  /** Segments of the chunks from `first` up to `end`, or up to where `settled` names an old segment to go on with. */
  private segmentsFrom(
    first: number,
    end: number,
    old: readonly Piece[],
    settled: ((chunk: number) => number | undefined) | undefined,
  ): Piece[] & { resume?: number } {
    const groups: (readonly Chunk[])[] = [];
    let resume: number | undefined;
    for (let i = first; i < end && resume === undefined; ) {
      resume = settled?.(i);
      if (resume !== undefined) break;
      const count = segmentLength(this.chunks, i);
      groups.push(this.chunks.slice(i, i + count));
      i += count;
    }
    // First the segments that stay as they are; what is in none of them may be carried over singly.
    const near = old.slice(0, resume === undefined ? undefined : resume - (this.pieces.length - old.length));
    const byFirstChunk = new Map(near.map((p) => [p.chunks[0] as Chunk, p]));
    const same = groups.map((chunks) => sameChunks(byFirstChunk.get(chunks[0] as Chunk), chunks));
    const kept = new Set(same);
    const gone = near.filter((p) => !kept.has(p));
    const fresh = same.filter((p) => p === undefined).length;
    // A segment whose text stayed the same keeps its statements, wherever it stands now. Where a whole file was
    // replaced, looking at every other old statement for every new segment would take the square of its length: then
    // only these are carried over.
    const texts = groups.map((chunks) =>
      chunks.length === 1 ? (chunks[0] as Chunk).text : chunks.map((c) => c.text).join(''),
    );
    const byText = Map.groupBy(gone.toReversed(), (p) => p.text);
    const moved = texts.map((text, i) => (same[i] ? undefined : byText.get(text)?.pop()));
    const taken = new Set(moved);
    const many = gone.length * fresh > 100_000;
    let loose = many ? [] : gone.flatMap((p) => (taken.has(p) ? [] : p.statements));
    const pieces: Piece[] & { resume?: number } = groups.map((chunks, i) => {
      const stays = same[i];
      if (stays) return stays;
      const spent = new Set<Statement>();
      const piece = this.pieceOf(chunks, texts[i] as string, moved[i]?.statements ?? loose, spent);
      // What is in one new statement cannot be in another one too.
      if (loose.length > 0) loose = loose.filter((s) => !spent.has(s));
      return piece;
    });
    if (resume !== undefined) pieces.resume = resume;
    this.known?.settle();
    return pieces;
  }

  private pieceOf(chunks: readonly Chunk[], text: string, loose: readonly Statement[], spent: Set<Statement>): Piece {
    const parsed = parseSegment(text, loose, this.known?.of, spent);
    const piece: Piece = { kind: 'segment', source: this, offset: 0, line: 0, firstChunk: 0, text, chunks, ...parsed };
    for (const statement of parsed.statements) statement.parent = piece;
    return piece;
  }

  /** Sets offset and line of the segments from `from` on. */
  private place(from: number): void {
    const previous = this.pieces[from - 1];
    let offset = previous ? previous.offset + previous.text.length : 0;
    let line = previous ? previous.line + lineStartsOf(previous).length - 1 : 0;
    let chunk = previous ? previous.firstChunk + previous.chunks.length : 0;
    for (let i = from; i < this.pieces.length; i++) {
      const piece = this.pieces[i] as Piece;
      piece.offset = offset;
      piece.line = line;
      piece.firstChunk = chunk;
      offset += piece.text.length;
      line += lineStartsOf(piece).length - 1;
      chunk += piece.chunks.length;
    }
  }
}

/** Those in both that one before them in the new order was behind in the old one. */
function movedIn(old: ReadonlySet<Statement>, now: ReadonlySet<Statement>): Statement[] {
  const rank = new Map<Statement, number>();
  for (const statement of old) rank.set(statement, rank.size);
  let highest = -1;
  return [...now].filter((statement) => {
    const at = rank.get(statement) ?? highest;
    const isBehind = at < highest;
    highest = Math.max(highest, at);
    return isBehind;
  });
}

function sameChunks(piece: Piece | undefined, chunks: readonly Chunk[]): Piece | undefined {
  if (piece?.chunks.length !== chunks.length) return undefined;
  return piece.chunks.every((c, i) => c === chunks[i]) ? piece : undefined;
}

/** It looked for a closing brace or comment end beyond itself and found none. */
function isOpen(piece: Piece): boolean {
  const { plain } = piece.chunks[0] as Chunk;
  return piece.chunks.length === 1 && (plain.opens > 0 || plain.inComment);
}

/**
 * Takes the old chunk object wherever the text is the same, from both ends. Those between get a text of their own: else
 * each would keep alive the whole it was cut from, a version of the file where that was replaced as a whole.
 */
function carryOver(before: readonly Chunk[], after: Chunk[]): Chunk[] {
  const shorter = Math.min(before.length, after.length);
  let head = 0;
  while (head < shorter && before[head]?.text === after[head]?.text) after[head] = before[head++] as Chunk;
  let tail = 0;
  for (; tail < shorter - head; tail++) {
    const old = before[before.length - 1 - tail] as Chunk;
    if (old.text !== after[after.length - 1 - tail]?.text) break;
    after[after.length - 1 - tail] = old;
  }
  for (let i = head; i < after.length - tail; i++) after[i] = withOwnText(after[i] as Chunk);
  return after;
}

/** As splice does, with any number of items: no call takes a hundred thousand arguments. */
function replaced<T>(list: T[], start: number, count: number, items: readonly T[]): T[] {
  if (items.length > 10_000) return [...list.slice(0, start), ...items, ...list.slice(start + count)];
  list.splice(start, count, ...items);
  return list;
}

function lineStartsOf(piece: Piece): readonly number[] {
  piece.lineStarts ??= lineStarts(piece.text);
  return piece.lineStarts;
}

/** Offsets at which lines begin; `\r\n`, `\n` and a lone `\r` end a line, as in the language server protocol. */
function lineStarts(text: string): number[] {
  const starts = [0];
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === 10 || (c === 13 && text.charCodeAt(i + 1) !== 10)) starts.push(i + 1);
  }
  // Without room for more: it is kept.
  return starts.slice();
}

/** Index of the last entry for which it holds, in a list where it does for the first ones only; 0 where it does for none. */
function lastWhere<T>(list: readonly T[], holds: (one: T) => boolean): number {
  let low = 0;
  let high = list.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (holds(list[middle] as T)) low = middle;
    else high = middle - 1;
  }
  return low;
}
