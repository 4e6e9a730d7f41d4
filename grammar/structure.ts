/**
 * Structure: where statements and blocks begin and end, found without reading what they say.
 * Strings, comments and braces are understood; a line end or `;` ends a statement, always.
 */
import { readingLimits } from './limits.ts';
import { lex, UnitToken } from './tokens.ts';

/** One statement as a stretch of text. All offsets are absolute in the scanned text. */
export interface Slice {
  /** First documentation comment line, or the first character of the head. */
  start: number;
  headStart: number;
  headEnd: number;
  /** Offset of `{`, or -1; where a block has none (`block-not-opened`), where it should stand. */
  open: number;
  /** Offset of `}`, or -1 where it is missing. */
  close: number;
  end: number;
  readonly children: Slice[];
  readonly comments: Stretch[];
  readonly docs: Stretch[];
  trouble?:
    | 'block-not-closed'
    | 'block-not-opened'
    | 'brace-without-block'
    | 'nested-too-deep'
    | 'comment-not-closed'
    | 'too-many-statements';
}

/** What the words of the language say of a head that stands at a place: undefined where they do not know it. */
export type KnowHead = (head: string, place: string) => KnownHead | undefined;

export interface KnownHead {
  /** The place that its block is; undefined where it takes none. */
  readonly inside: string | undefined;
  /** Offset in the head of what belongs in its block. */
  readonly content?: number | undefined;
}

export interface Stretch {
  readonly start: number;
  readonly end: number;
}

export interface Structure {
  readonly slices: Slice[];
  readonly comments: Stretch[];
}

const deepestBlocks = readingLimits.deepestBlocks.most;
const mostStatements = readingLimits.mostStatements.most;

const NEWLINE = 10;
const RETURN = 13;
const TAB = 9;
const SPACE = 32;
const QUOTE = 34;
const STAR = 42;
const SLASH = 47;
const SEMICOLON = 59;
const OPEN = 123;
const CLOSE = 125;
const MARK = 0xfeff;

/**
 * Reads the structure of a text. Where its braces do not pair up, it is read a second time with the
 * indentation as witness: a line that stands no deeper than the line on which the innermost block
 * was opened ends that block. A third time it is asked as well which brace is one too many, and before
 * what one is missing; that counts where it leaves no more braces without a partner than the second.
 * Text whose braces pair up never depends on its indentation.
 */
export function structureOf(text: string, know?: KnowHead): Structure {
  const plain = new Scan(text).run();
  if (plain.unpaired === 0) return plain;
  const asked = new Scan(text, plain, know).run();
  // The second leaves one at least: it leaves as many as the first, or has closed a block without its brace.
  if (asked.unpaired <= 1) return asked;
  const byIndent = new Scan(text, { closes: 0, opens: 0 }).run();
  return asked.unpaired <= byIndent.unpaired ? asked : byIndent;
}

/** Braces without a partner. */
interface Unpaired {
  readonly closes: number;
  readonly opens: number;
}

interface Level {
  readonly slice: Slice | undefined;
  readonly slices: Slice[];
  readonly comments: Stretch[];
  /** Column of the first character of the line on which the block was opened, and that line. */
  readonly indent: number;
  readonly line: number;
  /** What its words are told by; undefined where nobody knows what may stand in it. */
  readonly place: string | undefined;
  /** Line and column at which the line of its last statement begins. */
  lastLine: number;
  lastIndent: number;
  /** It holds as many statements as are read; what follows in it is passed over. */
  full?: true;
}

class Scan {
  closes = 0;
  opens = 0;
  readonly slices: Slice[] = [];
  readonly comments: Stretch[] = [];
  private readonly text: string;
  private readonly byIndent: boolean;
  /** There are more `}` than `{`: before something a `{` is missing, or a `}` is one too many. And the other way round. */
  private readonly seeksOpen: boolean;
  private readonly seeksClose: boolean;
  private readonly know: KnowHead | undefined;
  private at = 0;
  private line = 0;
  private lineStart = 0;
  private indent = 0;
  private atLineStart = true;
  private readonly levels: Level[];
  private level: Level;
  /** Blocks too deep to be read that are open now. */
  private skipped = 0;
  private docs: Stretch[] = [];

  /** With what a scan before left without a partner, indentation is asked; and the words, if they are known. */
  constructor(text: string, before?: Unpaired, know?: KnowHead) {
    this.text = text;
    this.byIndent = before !== undefined;
    this.seeksOpen = before !== undefined && before.closes > 0;
    this.seeksClose = before !== undefined && before.opens > 0;
    this.know = know;
    const { slices, comments } = this;
    this.level = {
      slice: undefined,
      slices,
      comments,
      indent: -1,
      line: -1,
      place: 'file',
      lastLine: -1,
      lastIndent: -1,
    };
    this.levels = [this.level];
  }

  get unpaired(): number {
    return this.closes + this.opens;
  }

  run(): this {
    const { text } = this;
    while (this.at < text.length) {
      const c = text.charCodeAt(this.at);
      if (c === NEWLINE || c === RETURN) this.newLine(c);
      else if (c === SPACE || c === TAB || c === SEMICOLON || c === MARK) this.at++;
      else if (c === SLASH && this.comment()) continue;
      else this.content(c);
    }
    while (this.levels.length > 1) this.closeUnclosed(this.text.length);
    this.flushDocs();
    return this;
  }

  private newLine(c: number): void {
    this.at += c === RETURN && this.text.charCodeAt(this.at + 1) === NEWLINE ? 2 : 1;
    this.line++;
    this.lineStart = this.at;
    this.atLineStart = true;
  }

  /** The first visible character of a line: its column tells which blocks it can belong to. */
  private beginLine(c: number): void {
    if (!this.atLineStart) return;
    this.atLineStart = false;
    this.indent = this.at - this.lineStart;
    if (!this.byIndent || this.skipped > 0) return;
    while (this.level.slice && this.level.line < this.line) {
      const over = c === CLOSE ? this.indent < this.level.indent : this.indent <= this.level.indent;
      if (!over) break;
      this.closeUnclosed(this.lineStart);
    }
    if (this.seeksOpen && c !== CLOSE) this.openDeeper();
  }

  /** A line that stands deeper than the statement before it, which may have a block and has none, stands in that. */
  private openDeeper(): void {
    const { slices, lastLine, lastIndent } = this.level;
    const owner = slices.at(-1);
    if (!owner || owner.open >= 0 || owner.trouble || lastLine === this.line || this.indent <= lastIndent) return;
    if (this.know && this.known(owner)?.inside === undefined) return;
    this.enterUnopened(owner, lastIndent, lastLine);
  }

  private known(slice: Slice): KnownHead | undefined {
    const { place } = this.level;
    return place === undefined ? undefined : this.know?.(this.text.slice(slice.headStart, slice.headEnd), place);
  }

  private content(c: number): void {
    this.beginLine(c);
    if (c === CLOSE) this.closingBrace();
    else if (this.skipped > 0 || this.level.full) this.skip(c);
    else if (c === OPEN) this.openingBrace();
    else this.head();
  }

  private closingBrace(): void {
    if (this.skipped > 0) {
      this.skipped--;
      this.at++;
      return;
    }
    const { slice } = this.level;
    if (slice && !this.isTooMany()) {
      slice.close = this.at;
      slice.end = this.at + 1;
      this.leave();
    } else {
      this.closes++;
      if (!this.level.full) this.pushBrace();
    }
    this.at++;
  }

  private pushBrace(): void {
    this.push({ ...blank(this.at), end: this.at + 1, trouble: 'brace-without-block' });
  }

  /** Among more `}` than `{`: one that closes what was opened on a line above, and stands behind something or deeper than that. */
  private isTooMany(): boolean {
    const { line, indent } = this.level;
    if (!this.seeksOpen || line === this.line) return false;
    return this.at - this.lineStart !== this.indent || this.indent > indent;
  }

  /** A `{` opens the block of the statement before it, be it on the line above. */
  private openingBrace(): void {
    const last = this.level.slices.at(-1);
    const isOwner = last && last.open < 0 && !last.trouble && this.onlySpaceSince(last.end);
    const owner = isOwner ? last : undefined;
    if (this.isStray(owner)) {
      this.opens++;
      this.pushBrace();
      this.at++;
      return;
    }
    if (!owner) this.opens++;
    this.enter(owner ?? this.push(blank(this.at)));
  }

  /** Among more `{` than `}`: one in a block that no statement is before, or one that takes no block. */
  private isStray(owner: Slice | undefined): boolean {
    if (!this.seeksClose || !this.level.slice) return false;
    const known = owner && this.known(owner);
    return owner === undefined || (known !== undefined && known.inside === undefined);
  }

  private onlySpaceSince(end: number): boolean {
    return this.docs.length === 0 && this.text.slice(end, this.at).trim() === '';
  }

  private enter(owner: Slice): void {
    const isBeyond = owner.trouble === 'too-many-statements';
    if (isBeyond || this.levels.length > deepestBlocks) {
      if (!isBeyond) owner.trouble = 'nested-too-deep';
      owner.end = this.at + 1;
      this.skipped = 1;
      this.at++;
      return;
    }
    owner.open = this.at;
    owner.end = this.at + 1;
    this.at++;
    this.descend(owner, this.indent, this.line);
  }

  /** Into a block whose `{` is missing. */
  private enterUnopened(owner: Slice, indent: number, line: number): void {
    if (this.levels.length > deepestBlocks) return;
    this.opens++;
    owner.trouble = 'block-not-opened';
    owner.open = owner.headEnd;
    // Comments behind the head stand in the block.
    const { comments } = this.level;
    let from = comments.length;
    while (from > 0 && (comments[from - 1] as Stretch).start >= owner.headEnd) from--;
    const behind = comments.splice(from);
    this.descend(owner, indent, line);
    for (const comment of behind) this.level.comments.push(comment);
  }

  private descend(owner: Slice, indent: number, line: number): void {
    const { children: slices, comments } = owner;
    const place = this.know && this.known(owner)?.inside;
    this.level = { slice: owner, slices, comments, indent, line, place, lastLine: -1, lastIndent: -1 };
    this.levels.push(this.level);
  }

  private leave(): void {
    this.flushDocs();
    this.levels.pop();
    this.level = this.levels.at(-1) as Level;
  }

  private closeUnclosed(before: number): void {
    this.opens++;
    const slice = this.level.slice as Slice;
    const from = slice.trouble === 'block-not-opened' ? slice.open : slice.open + 1;
    slice.trouble ??= 'block-not-closed';
    this.flushDocs();
    // Spaces at the end belong to nothing, but for those of a comment.
    const inside = Math.max(slice.comments.at(-1)?.end ?? 0, slice.children.at(-1)?.end ?? 0);
    slice.end = Math.max(from, inside, trimmedEnd(this.text, from, before));
    this.leave();
  }

  private push(slice: Slice): Slice {
    if (this.docs.length > 0) {
      slice.start = (this.docs[0] as Stretch).start;
      for (const doc of this.docs) slice.docs.push(doc);
      this.docs = [];
    }
    this.level.slices.push(slice);
    this.level.lastLine = this.line;
    this.level.lastIndent = this.indent;
    if (this.level.slices.length > mostStatements) {
      slice.trouble = 'too-many-statements';
      this.level.full = true;
    }
    return slice;
  }

  /** Documentation comments with nothing to document are plain comments. */
  private flushDocs(): void {
    for (const doc of this.docs) this.level.comments.push(doc);
    this.docs = [];
  }

  private head(): void {
    const stop = this.headStop(this.at);
    const end = trimmedEnd(this.text, this.at, stop);
    if (this.seeksOpen || this.seeksClose) this.otherLevel(end);
    const slice = this.push(blank(this.at));
    slice.headStart = this.at;
    slice.headEnd = end;
    const content = this.seeksOpen && !slice.trouble ? this.known(slice)?.content : undefined;
    const next = content === undefined ? stop : slice.headStart + content;
    slice.headEnd = trimmedEnd(this.text, this.at, next);
    slice.end = slice.headEnd;
    this.countLines(this.at, next);
    this.at = next;
    if (next < stop) this.enterUnopened(slice, this.indent, this.line);
    else if (this.text.charCodeAt(stop) === OPEN && !this.isStray(slice)) this.enter(slice);
  }

  /** What stands on one line with the block that it would be in, or behind it, and can only be around it, or in it. */
  private otherLevel(headEnd: number): void {
    const { slice, slices, line, place } = this.level;
    const last = slices.at(-1);
    const mayClose = this.seeksClose && slice !== undefined && line === this.line;
    const follows = (): boolean => last !== undefined && last.close >= 0 && this.level.lastLine === this.line;
    // What the words say is asked last: most lines stand by themselves.
    if (place === undefined || (!mayClose && !(this.seeksOpen && follows()))) return;
    const head = this.text.slice(this.at, headEnd);
    const knows = (at: string | undefined): boolean => at !== undefined && this.know?.(head, at) !== undefined;
    if (knows(place)) return;
    if (mayClose && knows(this.levels.at(-2)?.place)) this.closeUnclosed(last?.end ?? slice.open + 1);
    if (!last || !this.seeksOpen || !follows()) return;
    const between = this.text
      .slice(last.close + 1, this.at)
      .replace(';', '')
      .trim();
    if (between === '' && knows(this.known(last)?.inside)) this.reopen(last);
  }

  /** The `}` of a block was one too many. */
  private reopen(slice: Slice): void {
    this.descend(slice, this.indent, this.line);
    this.closes++;
    const brace = blank(slice.close);
    this.push({ ...brace, end: brace.end + 1, trouble: 'brace-without-block' });
    slice.close = -1;
  }

  /** Where a head that begins at `i` stops: a line end, `;`, a brace, a line comment or the end. */
  private headStop(i: number): number {
    const { text } = this;
    for (; i < text.length; i++) {
      const c = text.charCodeAt(i);
      if (c === NEWLINE || c === RETURN || c === SEMICOLON || c === OPEN || c === CLOSE) return i;
      if (c === QUOTE && !isMarkOfNumber(text, i)) i = endOfText(text, i) - 1;
      else if (c === SLASH) {
        const next = text.charCodeAt(i + 1);
        if (next === SLASH) return i;
        if (next === STAR) i = endOfBlockComment(text, i) - 1;
      }
    }
    return text.length;
  }

  private skip(c: number): void {
    if (c === OPEN) {
      this.skipped++;
      this.at++;
      return;
    }
    const stop = this.headStop(this.at);
    this.countLines(this.at, stop);
    this.at = Math.max(stop, this.at + 1);
    if (this.text.charCodeAt(this.at) === OPEN && this.at === stop) return;
  }

  private comment(): boolean {
    const next = this.text.charCodeAt(this.at + 1);
    if (next !== SLASH && next !== STAR) return false;
    const start = this.at;
    const end = next === SLASH ? endOfLine(this.text, start) : endOfBlockComment(this.text, start);
    const isDoc = next === SLASH && this.text.charCodeAt(start + 2) === SLASH && this.atLineStart;
    this.beginLine(SLASH);
    this.countLines(start, end);
    this.at = end;
    if (this.skipped > 0 || this.level.full) return true;
    if (next === STAR && (end - start < 4 || !this.text.startsWith('*/', end - 2))) {
      this.push({ ...blank(start), end, trouble: 'comment-not-closed' });
    } else if (isDoc) this.docs.push({ start, end });
    else {
      this.flushDocs();
      this.level.comments.push({ start, end });
    }
    return true;
  }

  private countLines(from: number, to: number): void {
    for (let i = this.text.indexOf('\n', from); i >= 0 && i < to; i = this.text.indexOf('\n', i + 1)) {
      this.line++;
      this.lineStart = i + 1;
    }
  }
}

function blank(at: number): Slice {
  return { start: at, headStart: at, headEnd: at, open: -1, close: -1, end: at, children: [], comments: [], docs: [] };
}

/**
 * An inch mark belongs to the number it follows; a text begins elsewhere. Whether digits are a number
 * or the end of a name (`A-101"`) is for the tokens to say; where a number plainly begins they are not asked.
 * `i` is the offset of a quotation mark that is in no text and no comment.
 */
export function isMarkOfNumber(text: string, i: number): boolean {
  const before = text.charCodeAt(i - 1);
  if (!(before >= 48 && before <= 57)) return false;
  if (/[\s,=(](?:\d+-)?\d+(?:\/\d+|\.\d+)?$/.test(text.slice(Math.max(0, i - 24), i))) return true;
  // Behind these marks, and behind a comment, tokens begin anew; and from one quotation mark to the next each
  // character is looked at once.
  let start = i;
  while (start > 0 && !/["\n\r,;:={}()]/.test(text[start - 1] as string) && !text.startsWith('*/', start - 2)) start--;
  return lex(text.slice(start, i + 1)).tokens.at(-1)?.tokenType === UnitToken;
}

function endOfText(text: string, open: number): number {
  for (let i = open + 1; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === QUOTE) return i + 1;
    if (c === NEWLINE || c === RETURN) return i;
  }
  return text.length;
}

function endOfLine(text: string, from: number): number {
  for (let i = from; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === NEWLINE || c === RETURN) return i;
  }
  return text.length;
}

function endOfBlockComment(text: string, open: number): number {
  const close = text.indexOf('*/', open + 2);
  return close < 0 ? text.length : close + 2;
}

function trimmedEnd(text: string, start: number, end: number): number {
  let i = end;
  while (i > start) {
    const c = text.charCodeAt(i - 1);
    if (c !== SPACE && c !== TAB && c !== NEWLINE && c !== RETURN && c !== MARK) break;
    i--;
  }
  return i;
}
