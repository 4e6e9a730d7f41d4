/** From structure to statements: reads the heads of slices, carrying over statements whose text did not change. */
import { readingLimits } from './limits.ts';
import { ownText } from './own-text.ts';
import { parseHead } from './parser.ts';
import { type KnowHead, type Slice, type Stretch, structureOf } from './structure.ts';
import type { Block, Comment, Item, Path, Problem, Range, Segment, Statement, Word } from './tree.ts';

export interface ParsedSegment {
  readonly statements: Statement[];
  readonly comments: Comment[];
}

/**
 * Parses the text of a segment. `old` are statements of the version before, reused where their text is the same: whole,
 * or what is in them. Those of which anything was reused are added to `spent`, and must not be given again.
 */
export function parseSegment(
  text: string,
  old: readonly Statement[],
  know?: KnowHead,
  spent?: Set<Statement>,
): ParsedSegment {
  const structure = structureOf(text, know);
  const whole: Cut = { text, at: 0 };
  return {
    statements: readAll(whole, structure.slices, 0, old, spent),
    comments: structure.comments.map((c) => commentAt(whole, c, 0)),
  };
}

/** A part of a segment, from which the parts within it are cut. */
interface Cut {
  readonly text: string;
  /** Where it begins in the segment; the offsets of slices count from the start of that. */
  readonly at: number;
}

function cut(from: Cut, start: number, end: number): string {
  return from.text.slice(start - from.at, end - from.at);
}

function readAll(
  from: Cut,
  slices: readonly Slice[],
  base: number,
  old: readonly Statement[],
  spent?: Set<Statement>,
): Statement[] {
  if (old.length === 0) return slices.map((slice) => read(from, slice, base, undefined, false));
  const unused = new Map<string, Statement[]>();
  // The first of equal ones last, to be taken first.
  for (const statement of old.toReversed()) {
    const same = unused.get(statement.text);
    if (same) same.push(statement);
    else unused.set(statement.text, [statement]);
  }
  const carried = slices.map((slice) => {
    const candidates = unused.get(cut(from, slice.start, slice.end));
    const statement = candidates?.at(-1);
    if (!candidates || !statement || !sameShape(slice, statement)) return undefined;
    candidates.pop();
    statement.offset = slice.start - base;
    return statement;
  });
  // What is left pairs up by order: most likely the same statement, edited.
  const taken = new Set(carried);
  const changed = old.filter((s) => !taken.has(s));
  let next = 0;
  const all = slices.map((slice, i) => carried[i] ?? read(from, slice, base, changed[next++], true));
  if (spent) for (const statement of [...carried, ...changed.slice(0, next)]) if (statement) spent.add(statement);
  return all;
}

/**
 * The same text can have another structure: in a declaration whose braces do not pair up, indentation
 * decides where its blocks end.
 */
function sameShape(slice: Slice, statement: Statement): boolean {
  const { block } = statement;
  const own = slice.start;
  if (!block) return slice.open < 0 && sameTrouble(slice, statement);
  if (slice.open - own !== block.open || sameClose(slice) !== block.close) return false;
  if (slice.children.length !== block.children.length || !sameTrouble(slice, statement)) return false;
  return slice.children.every((child, i) => {
    const other = block.children[i] as Statement;
    return (
      child.start - own === other.offset && child.end - child.start === other.text.length && sameShape(child, other)
    );
  });

  function sameClose(s: Slice): number {
    return s.close < 0 ? -1 : s.close - own;
  }
}

function sameTrouble(slice: Slice, statement: Statement): boolean {
  const inTrouble = statement.problems.some((p) => p.code === slice.trouble);
  return slice.trouble !== undefined ? inTrouble : !statement.problems.some(({ code }) => ofStructure.has(code));
}

/** Problems that the same text may have or not, by what stands around it. */
const ofStructure: ReadonlySet<Problem['code']> = new Set([
  'block-not-closed',
  'block-not-opened',
  'too-many-statements',
]);

/**
 * Reads one slice; `base` is the offset in the segment that its parent's offsets count from. Of statements beside which
 * others stay, each may outlive the text it was read from, and has a text of its own, unless it is most of that.
 */
function read(from: Cut, slice: Slice, base: number, old: Statement | undefined, beside: boolean): Statement {
  const own = slice.start;
  const whole = cut(from, slice.start, slice.end);
  const text = beside && whole.length < from.text.length / 2 ? ownText(whole) : whole;
  const mine: Cut = { text, at: own };
  const headText = cut(mine, slice.headStart, slice.headEnd);
  const head = parseHead(headText, slice.headStart - own);
  const first = head.items[0];
  const { word, items } = splitWord(head.items, slice.headStart - own);
  const trouble = troubles(slice, own, headText, text);
  const problems = trouble.length === 0 ? head.problems : [...head.problems, ...trouble];
  const children = readAll(mine, slice.children, own, old?.block?.children ?? none);
  const block: Block | undefined =
    slice.open < 0
      ? undefined
      : {
          open: slice.open - own,
          close: slice.close < 0 ? -1 : slice.close - own,
          children,
          comments: slice.comments.length === 0 ? none : slice.comments.map((c) => commentAt(mine, c, own)),
        };
  const statement: Statement = {
    kind: 'statement',
    parent: undefined as unknown as Segment,
    offset: own - base,
    text,
    word,
    items,
    head: { start: first?.start ?? slice.headStart - own, end: head.items.at(-1)?.end ?? slice.headEnd - own },
    comments: head.comments,
    problems,
    block,
    doc: slice.docs.length > 0 ? slice.docs.map((d) => docText(mine, d)).join('\n') : undefined,
  };
  for (const child of children) child.parent = statement;
  return statement;
}

/** A statement begins with a single word. Of `a.b`, the whole stays an item, and the word is empty. */
function splitWord(items: readonly Item[], at: number): { word: Word; items: readonly Item[] } {
  const first = items[0];
  if (first?.kind === 'path' && first.words.length === 1)
    return { word: first.words[0] as Word, items: items.slice(1) };
  if (first?.kind === 'binary' || first?.kind === 'call') {
    const lead = leadingWord(first);
    if (lead) return { word: lead, items };
  }
  return { word: { kind: 'word', text: '', start: at, end: at }, items };
}

/** `width - 3in` typed where `width X - 3in` was meant still is a `width` statement. */
function leadingWord(item: Item): Word | undefined {
  if (item.kind === 'binary') return leadingWord(item.left);
  if (item.kind === 'call') return item.name;
  return item.kind === 'path' && item.words.length === 1 ? (item as Path).words[0] : undefined;
}

/** One for all that have none. */
const none: readonly never[] = [];

function troubles(slice: Slice, own: number, head: string, text: string): readonly Problem[] {
  const at = (offset: number): { start: number; end: number } => ({ start: offset - own, end: offset - own + 1 });
  switch (slice.trouble) {
    case 'block-not-closed':
      return [notClosed(head, at(slice.open))];
    case 'block-not-opened': {
      const start = slice.headStart - own + Math.max(0, head.search(/\S+$/));
      const problem: Problem = {
        code: 'block-not-opened',
        message: `The block of ${called(head)} is not opened: there is no { after "${shortened(head)}".`,
        fix: 'Write { there. What follows, up to its }, is read as the block.',
        start,
        end: slice.headEnd - own,
      };
      return slice.close < 0 ? [problem, notClosed(head, { start, end: slice.headEnd - own })] : [problem];
    }
    case 'brace-without-block': {
      const isOpening = text[slice.headStart - own] === '{';
      return [
        {
          code: 'brace-without-block',
          message: isOpening ? 'This { is one too many: no } closes it.' : 'This } closes nothing.',
          fix: isOpening ? 'Remove it.' : 'Remove it, or add the { it belongs to.',
          ...at(slice.headStart),
        },
      ];
    }
    case 'comment-not-closed':
      return [
        {
          code: 'comment-not-closed',
          message: 'This comment is not closed.',
          fix: 'Add */ where the comment ends.',
          start: slice.start - own,
          end: slice.start - own + 2,
        },
      ];
    case 'nested-too-deep':
      return [
        {
          code: 'nested-too-deep',
          message: `More than ${readingLimits.deepestBlocks.most} blocks inside each other.`,
          fix: 'Take some of them out.',
          ...at(slice.end - 1),
        },
      ];
    case 'too-many-statements':
      return [
        {
          code: 'too-many-statements',
          message: `More than ${readingLimits.mostStatements.most.toLocaleString('en')} statements stand together here; those from this one on are not read.`,
          fix: 'Divide them: what is declared by itself begins its line with a word such as template or unit.',
          ...at(slice.headStart),
        },
      ];
    default:
      return slice.open >= 0 && slice.headStart === slice.headEnd
        ? [
            {
              code: 'brace-without-block',
              message: 'This { follows no statement.',
              fix: 'Write what the block describes before it.',
              ...at(slice.open),
            },
          ]
        : none;
  }
}

function notClosed(head: string, range: Range): Problem {
  return {
    code: 'block-not-closed',
    message: `The block of ${called(head)} is not closed.`,
    fix: 'Add } where it ends.',
    ...range,
  };
}

function called(head: string): string {
  const name = head.trim().split(/\s+/).slice(0, 2).join(' ').replaceAll('"', '');
  return name ? `"${name}"` : 'this statement';
}

function shortened(head: string): string {
  const line = head.trim().replaceAll(/\s+/g, ' ');
  return line.length > 60 ? `…${line.slice(-59)}` : line;
}

function commentAt({ text, at }: Cut, { start, end }: Stretch, own: number): Comment {
  const kind = text.startsWith('/*', start - at) ? 'block' : text.startsWith('///', start - at) ? 'doc' : 'line';
  return { kind, start: start - own, end: end - own };
}

function docText(from: Cut, { start, end }: Stretch): string {
  return cut(from, start + 3, end)
    .replace(/^ /, '')
    .trimEnd();
}
