/**
 * Chunks: a file cut at the lines that begin, in column 0, with a top-level word. Where a chunk
 * begins depends on nothing but the lines around it, so an edit re-cuts only what it touches.
 * Chunks are then joined to segments where a block or a comment runs on over a cut.
 */
import { readingLimits } from './limits.ts';
import { ownText } from './own-text.ts';
import { isMarkOfNumber } from './structure.ts';

export interface Chunk {
  readonly text: string;
  /** Braces and comments when the chunk is entered outside a comment. */
  readonly plain: Balance;
  /** Offset of the first comment end mark, or -1; and the balance of what follows it. */
  readonly commentEnd: number;
  afterComment?: Balance;
}

export interface Balance {
  /** Unpaired `}` and, after them, unpaired `{`. */
  readonly closes: number;
  readonly opens: number;
  /** A block comment is open at the end. */
  readonly inComment: boolean;
}

/** A block or comment that is not closed within so many chunks counts as not closed at all. */
const reach = readingLimits.farthestEnd.most;

export function cutChunks(text: string, topWords: ReadonlySet<string>): Chunk[] {
  const starts = boundaries(text, topWords);
  return starts.map((start, i) => chunkOf(text.slice(start, starts[i + 1] ?? text.length)));
}

function chunkOf(text: string): Chunk {
  return { text, plain: balanceOf(text, 0), commentEnd: text.indexOf('*/') };
}

/** The chunk without the text that it was cut from. */
export function withOwnText(chunk: Chunk): Chunk {
  return { ...chunk, text: ownText(chunk.text) };
}

/** The start of the text, and each line with a top-level word in column 0, with the comment lines right above it. */
function boundaries(text: string, topWords: ReadonlySet<string>): number[] {
  const starts = [0];
  let commentRun = -1;
  let feed = -1;
  let carriage = -1;
  for (let line = 0; line < text.length; ) {
    // A byte order mark stands before the first line, not in it.
    const begin = line === 0 && text.charCodeAt(0) === 0xfeff ? 1 : line;
    const c = text.charCodeAt(begin);
    if (c === 47 && text.charCodeAt(begin + 1) === 47) {
      if (commentRun < 0) commentRun = line;
    } else {
      if (c >= 97 && c <= 122 && topWords.has(wordAt(text, begin))) {
        const start = commentRun >= 0 ? commentRun : line;
        if (start > 0) starts.push(start);
      }
      commentRun = -1;
    }
    // A lone carriage return ends a line too. Each is looked for once, however few there are.
    if (feed < line) feed = nextOf('\n', text, line);
    if (carriage < line) carriage = nextOf('\r', text, line);
    const next = Math.min(feed, carriage);
    line = next === carriage && carriage + 1 === feed ? feed + 1 : next + 1;
  }
  return starts;
}

function nextOf(mark: string, text: string, from: number): number {
  const at = text.indexOf(mark, from);
  return at < 0 ? text.length : at;
}

function wordAt(text: string, start: number): string {
  let end = start;
  while (end < text.length && end - start < 40 && /[\p{L}\p{N}_-]/u.test(text[end] as string)) end++;
  return text.slice(start, end);
}

function balanceOf(text: string, from: number): Balance {
  let closes = 0;
  let opens = 0;
  for (let i = from; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === 123) opens++;
    else if (c === 125) {
      if (opens > 0) opens--;
      else closes++;
    } else if (c === 34) {
      if (!isMarkOfNumber(text, i)) i = lineOrQuoteEnd(text, i);
    } else if (c === 47) {
      const next = text.charCodeAt(i + 1);
      if (next === 47) i = lineEnd(text, i);
      else if (next === 42) {
        const end = text.indexOf('*/', i + 2);
        if (end < 0) return { closes, opens, inComment: true };
        i = end + 1;
      }
    }
  }
  return { closes, opens, inComment: false };
}

/** Whether two texts do the same to a comment that is open in front of them, and to the blocks around it. */
export function closeTheSame(a: string, b: string): boolean {
  const [ends, others] = [a.indexOf('*/'), b.indexOf('*/')];
  if (ends < 0 || others < 0) return ends < 0 && others < 0;
  const [x, y] = [balanceOf(a, ends + 2), balanceOf(b, others + 2)];
  return x.closes === y.closes && x.opens === y.opens && x.inComment === y.inComment;
}

function lineEnd(text: string, from: number): number {
  for (let i = from; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === 10 || c === 13) return i;
  }
  return text.length;
}

function lineOrQuoteEnd(text: string, open: number): number {
  for (let i = open + 1; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === 34 || c === 10 || c === 13) return i;
  }
  return text.length;
}

/** How many chunks from `first` on make one segment: 1 unless a block or comment that is closed runs on. */
export function segmentLength(chunks: readonly Chunk[], first: number): number {
  const head = chunks[first] as Chunk;
  let depth = head.plain.opens;
  let inComment = head.plain.inComment;
  if (depth === 0 && !inComment) return 1;
  const last = Math.min(chunks.length, first + reach);
  for (let i = first + 1; i < last; i++) {
    const chunk = chunks[i] as Chunk;
    let balance = chunk.plain;
    if (inComment) {
      if (chunk.commentEnd < 0) continue;
      chunk.afterComment ??= balanceOf(chunk.text, chunk.commentEnd + 2);
      balance = chunk.afterComment;
    }
    depth = Math.max(0, depth - balance.closes) + balance.opens;
    inComment = balance.inComment;
    if (depth === 0 && !inComment) return i - first + 1;
  }
  return 1;
}
