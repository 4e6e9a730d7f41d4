/**
 * The layout of a segment, as changes of the space between its tokens. Words, numbers and comments are never touched;
 * what changes is space and `;`, each stretch of it by itself, so that a line that is in order is in no change.
 */
import { type Respaced, respacedHead } from './spacing.ts';
import { type Slice, type Stretch, type Structure, structureOf } from './structure.ts';
import type { Segment, Statement } from './tree.ts';

/** What stands on one line together does so as long as the line is no longer than this, and is split otherwise. */
export const widestLine = 120;

/** Spaces a level of blocks. */
export const indentation = 2;

/** What a segment has to know of its file. */
export interface Surroundings {
  readonly isFirst: boolean;
  readonly isLast: boolean;
  /** What ends a line where there was no line end before. */
  readonly lineEnd: string;
  /** Levels by which the line of a statement stands deeper than its block tells, where something else tells that. */
  readonly deeper?: ((statement: Statement) => number) | undefined;
}

/** The changes that bring a segment into the one layout, in order; undefined where its blocks cannot be told for certain. */
export function layoutOf(segment: Pick<Segment, 'text' | 'statements'>, around: Surroundings): Respaced[] | undefined {
  if (segment.statements.some(isUncertain)) return undefined;
  return new Layout(segment.text, around).run(structureOf(segment.text), segment.statements);
}

const structural: ReadonlySet<string> = new Set([
  'block-not-closed',
  'block-not-opened',
  'brace-without-block',
  'comment-not-closed',
  'nested-too-deep',
  'too-long',
  'too-many-statements',
]);

/** Where braces or comments do not pair up, indentation or a line end may be what tells the blocks. */
export function isUncertain({ problems, block }: Statement): boolean {
  if (problems.some(({ code }) => structural.has(code))) return true;
  return block?.children.some(isUncertain) ?? false;
}

function isTextOpen({ problems }: Statement): boolean {
  return problems.some(({ code }) => code === 'text-not-closed');
}

/** A statement or a comment among others. */
interface Entry {
  /** Without documentation. */
  readonly start: number;
  readonly end: number;
  readonly slice?: Slice;
  readonly statement?: Statement;
}

interface Head {
  readonly changes: readonly Respaced[];
  readonly width: number;
}

class Layout {
  private readonly text: string;
  private readonly around: Surroundings;
  private readonly changes: Respaced[] = [];
  private readonly heads = new Map<Slice, Head>();
  private readonly widths = new Map<Slice, number>();

  constructor(text: string, around: Surroundings) {
    this.text = text;
    this.around = around;
  }

  run({ slices, comments }: Structure, statements: readonly Statement[]): Respaced[] {
    const { text, around } = this;
    const entries = this.entriesOf(slices, comments, statements);
    const [first, last] = [entries[0], entries.at(-1)];
    const start = around.isFirst && text.startsWith('\uFEFF') ? 1 : 0;
    if (!first || !last) {
      if (around.isFirst) this.space(start, text.length, '');
      return this.changes;
    }
    // Where documentation of nothing stands right above the next declaration, only its indentation keeps it apart.
    const loose = around.isLast ? undefined : this.looseDocs(entries);
    if (around.isFirst && loose !== 0) this.space(start, fullStart(first), '');
    if (loose === undefined) {
      this.level(entries, 0, false);
      this.ending(last.end);
    } else this.level(entries.slice(0, loose), 0, false);
    return this.changes;
  }

  private ending(end: number): void {
    const { text, around } = this;
    if (around.isLast) this.space(end, text.length, breaksIn(text, end, text.length).first ?? around.lineEnd);
    else if (breaksIn(text, end, text.length).count > 0) this.newLine(end, text.length, 0, true);
  }

  /** Index of the first entry behind the last statement, where that one is followed by documentation of nothing. */
  private looseDocs(entries: readonly Entry[]): number | undefined {
    const { text } = this;
    const after = entries.findLastIndex(({ slice }) => slice) + 1;
    const last = entries.at(-1) as Entry;
    if (breaksIn(text, last.end, text.length).blank) return undefined;
    const isLoose = ({ start }: Entry, i: number): boolean =>
      i >= after && text.startsWith('///', start) && (i === 0 || this.lineOf(entries, i - 1) === i);
    return entries.some(isLoose) ? after : undefined;
  }

  private entriesOf(slices: readonly Slice[], comments: readonly Stretch[], statements: readonly Statement[]): Entry[] {
    const entries = slices.map((slice, i): Entry => {
      const statement = statements[i] as Statement;
      return { start: slice.headStart, end: this.endOf(slice, statement), slice, statement };
    });
    if (comments.length === 0) return entries;
    for (const comment of comments) entries.push({ start: comment.start, end: this.commentEnd(comment) });
    return entries.sort((a, b) => a.start - b.start);
  }

  /** A text that is not closed runs to the end of its line, spaces included. */
  private endOf(slice: Slice, statement: Statement): number {
    if (slice.open >= 0 || !isTextOpen(statement)) return slice.end;
    let { end } = slice;
    while (end < this.text.length && !isLineEnd(this.text.charCodeAt(end))) end++;
    return end;
  }

  /** Nobody sees the spaces at the end of a comment. */
  private commentEnd({ start, end }: Stretch): number {
    if (this.text.charCodeAt(start + 1) === 42) return end;
    let trimmed = end;
    while (isBlank(this.text.charCodeAt(trimmed - 1))) trimmed--;
    return trimmed;
  }

  /**
   * Lays out what stands in a block of several lines, from its first entry to its last one. `split` puts every
   * statement on a line of its own; otherwise those that share a line go on doing so while it is short enough.
   */
  private level(entries: readonly Entry[], depth: number, split: boolean): void {
    for (let from = 0; from < entries.length; ) {
      const to = this.lineOf(entries, from);
      const own = depth + this.deeper(entries, from);
      if (from > 0) {
        const end = (entries[from - 1] as Entry).end;
        this.newLine(end, fullStart(entries[from] as Entry), own, true);
      }
      this.line(entries.slice(from, to), own, split);
      from = to;
    }
  }

  /** Of the line that begins with an entry: comments stand where what they are above does. */
  private deeper(entries: readonly Entry[], from: number): number {
    const { deeper } = this.around;
    if (!deeper) return 0;
    for (let next = from; next < entries.length; next++) {
      const { statement } = entries[next] as Entry;
      if (statement) return deeper(statement);
    }
    return 0;
  }

  /** Where the entries end that stand on the same line as the one at `from`. */
  private lineOf(entries: readonly Entry[], from: number): number {
    let to = from + 1;
    while (to < entries.length) {
      const next = entries[to] as Entry;
      if (breaksIn(this.text, (entries[to - 1] as Entry).end, fullStart(next)).count > 0) break;
      to++;
    }
    return to;
  }

  private line(entries: readonly Entry[], depth: number, split: boolean): void {
    const last = entries.findLastIndex(({ slice }) => slice);
    const several = last > entries.findIndex(({ slice }) => slice);
    const together = !several || (!split && depth * indentation + this.widthOf(entries) <= widestLine);
    let isStart = true;
    for (let i = 0; i < entries.length; i++) {
      const entry = entries[i] as Entry;
      const next = entries[i + 1];
      if (entry.slice) {
        this.docs(entry.slice, entry.start, depth);
        const flat = this.isFlat(entry) && ((several && together) || this.fits(entries, i, depth));
        this.statement(entry, depth, flat);
      } else if (isStart) this.stars(entry, depth);
      if (!next) break;
      isStart = !together && entry.slice !== undefined && i < last;
      if (isStart) this.newLine(entry.end, next.start, depth, false);
      else this.space(entry.end, next.start, separator(entry, i < last));
    }
  }

  /** Whether a statement is short enough for one line, behind the comments that lead to it. */
  private fits(entries: readonly Entry[], i: number, depth: number): boolean {
    const { slice, statement } = entries[i] as Required<Entry>;
    let width = depth * indentation + this.flatWidth(slice, statement);
    for (let before = i - 1; before >= 0 && !entries[before]?.slice; before--) {
      const { start, end } = entries[before] as Entry;
      width += end - start + 1;
      if (hasLineEnd(this.text, start, end)) break;
    }
    return width <= widestLine;
  }

  /** Written on one line, but for a brace that stands alone on the next one. */
  private isFlat({ start, end, slice, statement }: Entry): boolean {
    if (!slice || !statement || slice.open < 0 || isTextOpen(statement)) return !hasLineEnd(this.text, start, end);
    return !hasLineEnd(this.text, start, slice.headEnd) && !hasLineEnd(this.text, slice.open, end);
  }

  /** Columns of entries on one line; a comment up to the end of the line takes none. Without bound where there are several lines. */
  private widthOf(entries: readonly Entry[]): number {
    const last = entries.findLastIndex(({ slice }) => slice);
    let width = 0;
    for (let i = 0; i < entries.length; i++) {
      const entry = entries[i] as Entry;
      if (!this.isFlat(entry)) return Number.POSITIVE_INFINITY;
      if (entry.slice && entry.statement) width += this.flatWidth(entry.slice, entry.statement);
      else if (this.text.charCodeAt(entry.start + 1) === 42) width += entry.end - entry.start;
      if (i + 1 < entries.length) width += separator(entry, i < last).length;
    }
    return width;
  }

  private flatWidth(slice: Slice, statement: Statement): number {
    let width = this.widths.get(slice);
    if (width === undefined) {
      width = this.headOf(slice, statement).width;
      if (slice.open >= 0) {
        const inside = this.widthOf(this.entriesIn(slice, statement));
        width += inside === 0 ? 3 : 5 + inside;
      }
      this.widths.set(slice, width);
    }
    return width;
  }

  private entriesIn(slice: Slice, { block }: Statement): Entry[] {
    return this.entriesOf(slice.children, slice.comments, block?.children ?? []);
  }

  private headOf(slice: Slice, { problems }: Statement): Head {
    let head = this.heads.get(slice);
    if (!head) {
      const written = this.text.slice(slice.headStart, slice.headEnd);
      // What cannot be read stays as it is.
      const changes = problems.length > 0 ? [] : respacedHead(written);
      const width = changes.reduce((sum, c) => sum + c.text.length - (c.end - c.start), written.length);
      head = { changes, width };
      this.heads.set(slice, head);
    }
    return head;
  }

  private docs({ docs }: Slice, head: number, depth: number): void {
    for (let i = 0; i < docs.length; i++)
      this.newLine(this.commentEnd(docs[i] as Stretch), docs[i + 1]?.start ?? head, depth, false);
  }

  private statement(entry: Entry, depth: number, flat: boolean): void {
    const { slice, statement } = entry as Required<Entry>;
    for (const { start, end, text } of this.headOf(slice, statement).changes)
      this.space(slice.headStart + start, slice.headStart + end, text);
    if (slice.open < 0) return;
    if (!isTextOpen(statement)) this.space(slice.headEnd, slice.open, ' ');
    const entries = this.entriesIn(slice, statement);
    const [first, last] = [entries[0], entries.at(-1)];
    const inside = slice.open + 1;
    if (!first || !last) this.space(inside, slice.close, '');
    else if (flat) {
      this.space(inside, first.start, ' ');
      this.flat(entries);
      this.space(last.end, slice.close, ' ');
    } else this.open(entries, slice, depth, this.isFlat(entry));
  }

  /** What stands in a block on one line. */
  private flat(entries: readonly Entry[]): void {
    const last = entries.findLastIndex(({ slice }) => slice);
    for (let i = 0; i < entries.length; i++) {
      const entry = entries[i] as Entry;
      const next = entries[i + 1];
      if (entry.slice) this.statement(entry, 0, true);
      if (next) this.space(entry.end, next.start, separator(entry, i < last));
    }
  }

  /** What stands in a block of several lines. A comment behind the brace stays there. */
  private open(entries: readonly Entry[], slice: Slice, depth: number, split: boolean): void {
    const [first, last] = [entries[0] as Entry, entries.at(-1) as Entry];
    const inside = slice.open + 1;
    const onLine = entries.slice(0, this.lineOf(entries, 0));
    const behind =
      breaksIn(this.text, inside, fullStart(first)).count === 0 && onLine.every(({ slice: own }) => !own) && !split;
    if (behind) {
      this.space(inside, first.start, ' ');
      for (let i = 0; i + 1 < onLine.length; i++)
        this.space((onLine[i] as Entry).end, (onLine[i + 1] as Entry).start, ' ');
      const rest = entries.slice(onLine.length);
      if (rest.length > 0) {
        this.newLine((onLine.at(-1) as Entry).end, fullStart(rest[0] as Entry), depth + 1, false);
        this.level(rest, depth + 1, split);
      }
    } else {
      this.newLine(inside, fullStart(first), depth + 1, false);
      this.level(entries, depth + 1, split);
    }
    this.newLine(last.end, slice.close, depth, false);
  }

  /** A comment of several lines that all begin with a star moves as a whole. */
  private stars({ start, end }: Entry, depth: number): void {
    const comment = this.text.slice(start, end);
    if (!/^\/\*[^\n\r]*(?:(?:\r\n|\n|\r)[ \t]*\*[^\n\r]*)+$/.test(comment)) return;
    const lead = ' '.repeat(depth * indentation + 1);
    for (const { index, 0: found } of comment.matchAll(/(?<=[\n\r])[ \t]*(?=\*)/g))
      this.space(start + index, start + index + found.length, lead);
  }

  /** A line end, and a blank line before it where one was and may stay. */
  private newLine(start: number, end: number, depth: number, mayBlank: boolean): void {
    const { first = this.around.lineEnd, blank } = breaksIn(this.text, start, end);
    this.space(start, end, (mayBlank && blank ? first + first : first) + ' '.repeat(depth * indentation));
  }

  private space(start: number, end: number, wanted: string): void {
    const { text } = this;
    if (end - start === wanted.length && text.startsWith(wanted, start)) return;
    // As little as may be: what is in order at either end stays, and a line end in one piece.
    let from = 0;
    const most = Math.min(end - start, wanted.length);
    while (from < most && text[start + from] === wanted[from]) from++;
    if (from > 0 && wanted[from - 1] === '\r') from--;
    let back = 0;
    while (back < most - from && text[end - 1 - back] === wanted[wanted.length - 1 - back]) back++;
    if (back > 0 && wanted[wanted.length - back] === '\n') back--;
    const change = { start: start + from, end: end - back, text: wanted.slice(from, wanted.length - back) };
    const last = this.changes.at(-1);
    if (last?.end !== change.start) this.changes.push(change);
    else this.changes.splice(-1, 1, { ...change, start: last.start, text: last.text + change.text });
  }
}

/** Behind an entry that shares its line with the next one. Between two statements there is one, whatever comments are. */
function separator({ slice }: Entry, beforeStatement: boolean): '; ' | ' ' {
  return slice && beforeStatement ? '; ' : ' ';
}

function fullStart({ start, slice }: Entry): number {
  return slice ? slice.start : start;
}

interface Breaks {
  readonly count: number;
  /** One of the lines in between has nothing on it. */
  readonly blank: boolean;
  readonly first: string | undefined;
}

/** The line ends in a stretch of space. */
function breaksIn(text: string, start: number, end: number): Breaks {
  let count = 0;
  let blank = false;
  let first: string | undefined;
  let empty = false;
  for (let i = start; i < end; i++) {
    const c = text.charCodeAt(i);
    if (!isLineEnd(c)) {
      empty &&= isBlank(c);
      continue;
    }
    const pair = c === 13 && text.charCodeAt(i + 1) === 10;
    if (pair) i++;
    first ??= pair ? '\r\n' : c === 13 ? '\r' : '\n';
    blank ||= empty;
    empty = true;
    count++;
  }
  return { count, blank, first };
}

function hasLineEnd(text: string, start: number, end: number): boolean {
  for (let i = start; i < end; i++) if (isLineEnd(text.charCodeAt(i))) return true;
  return false;
}

function isLineEnd(c: number): boolean {
  return c === 10 || c === 13;
}

function isBlank(c: number): boolean {
  return c === 32 || c === 9 || c === 0xfeff;
}
