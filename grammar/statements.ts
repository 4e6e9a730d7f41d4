/** From structure to statements: reads the heads of slices, carrying over statements whose text did not change. */
import { parseHead } from './parser.ts';
import { deepestBlocks, type Slice, type Stretch, type Structure, structureOf } from './structure.ts';
import type { Block, Comment, Item, Path, Problem, Segment, Statement, Word } from './tree.ts';

export interface ParsedSegment {
  readonly statements: Statement[];
  readonly comments: Comment[];
  /** Old statements that are in it now, or parts of which are. */
  readonly used: ReadonlySet<Statement>;
}

/**
 * Parses the text of a segment. `old` are statements of the version before, reused where their text is the same; where
 * it is not, what is in them may be. They belong to this segment then, and `used` tells all of them.
 */
export function parseSegment(
  text: string,
  old: readonly Statement[],
  structure: Structure = structureOf(text),
): ParsedSegment {
  const used = new Set<Statement>();
  return {
    statements: readAll(text, structure.slices, 0, old, used),
    comments: structure.comments.map((c) => commentAt(text, c, 0)),
    used,
  };
}

/** Those of some statements that stand in a text as they are. */
export function standingIn(text: string, { slices }: Structure, old: readonly Statement[]): Statement[] {
  return matched(text, slices, old).filter((statement) => statement !== undefined);
}

/** For each slice the old statement with the same text and shape, each at most once. */
function matched(text: string, slices: readonly Slice[], old: readonly Statement[]): (Statement | undefined)[] {
  const unused = new Map<string, Statement[]>();
  // The first of equal ones last, to be taken first.
  for (const statement of old.toReversed()) {
    const same = unused.get(statement.text);
    if (same) same.push(statement);
    else unused.set(statement.text, [statement]);
  }
  return slices.map((slice) => {
    const candidates = unused.get(text.slice(slice.start, slice.end));
    const statement = candidates?.at(-1);
    if (!candidates || !statement || !sameShape(slice, statement)) return undefined;
    candidates.pop();
    return statement;
  });
}

function readAll(
  text: string,
  slices: readonly Slice[],
  base: number,
  old: readonly Statement[],
  used?: Set<Statement>,
): Statement[] {
  if (old.length === 0) return slices.map((slice) => read(text, slice, base, undefined));
  const carried = matched(text, slices, old);
  // What is left pairs up by order: most likely the same statement, edited.
  const taken = new Set(carried);
  const changed = old.filter((s) => !taken.has(s));
  let next = 0;
  return slices.map((slice, i) => {
    const same = carried[i];
    const before = same ?? changed[next++];
    if (before) used?.add(before);
    if (!same) return read(text, slice, base, before);
    same.offset = slice.start - base;
    return same;
  });
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
  return slice.trouble !== undefined ? inTrouble : !statement.problems.some((p) => p.code === 'block-not-closed');
}

/** Reads one slice; `base` is the offset in the text that its parent's offsets count from. */
function read(text: string, slice: Slice, base: number, old: Statement | undefined): Statement {
  const own = slice.start;
  const headText = text.slice(slice.headStart, slice.headEnd);
  const head = parseHead(headText, slice.headStart - own);
  const first = head.items[0];
  const { word, items } = splitWord(head.items, slice.headStart - own);
  const trouble = troubles(slice, own, headText);
  const problems = trouble.length === 0 ? head.problems : [...head.problems, ...trouble];
  const children = readAll(text, slice.children, own, old?.block?.children ?? none);
  const block: Block | undefined =
    slice.open < 0
      ? undefined
      : {
          open: slice.open - own,
          close: slice.close < 0 ? -1 : slice.close - own,
          children,
          comments: slice.comments.length === 0 ? none : slice.comments.map((c) => commentAt(text, c, own)),
        };
  const statement: Statement = {
    kind: 'statement',
    parent: undefined as unknown as Segment,
    offset: own - base,
    text: text.slice(slice.start, slice.end),
    word,
    items,
    head: { start: first?.start ?? slice.headStart - own, end: head.items.at(-1)?.end ?? slice.headEnd - own },
    comments: head.comments,
    problems,
    block,
    doc: slice.docs.length > 0 ? slice.docs.map((d) => docText(text, d)).join('\n') : undefined,
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

function troubles(slice: Slice, own: number, head: string): readonly Problem[] {
  const at = (offset: number): { start: number; end: number } => ({ start: offset - own, end: offset - own + 1 });
  switch (slice.trouble) {
    case 'block-not-closed': {
      const name = head.trim().split(/\s+/).slice(0, 2).join(' ').replaceAll('"', '');
      return [
        {
          code: 'block-not-closed',
          message: `The block of ${name ? `"${name}"` : 'this statement'} is not closed.`,
          fix: 'Add } where it ends.',
          ...at(slice.open),
        },
      ];
    }
    case 'brace-without-block':
      return [
        {
          code: 'brace-without-block',
          message: 'This } closes nothing.',
          fix: 'Remove it, or add the { it belongs to.',
          ...at(slice.start),
        },
      ];
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
          message: `More than ${deepestBlocks} blocks inside each other.`,
          fix: 'Take some of them out.',
          ...at(slice.end - 1),
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

function commentAt(text: string, { start, end }: Stretch, own: number): Comment {
  const kind = text.startsWith('/*', start) ? 'block' : text.startsWith('///', start) ? 'doc' : 'line';
  return { kind, start: start - own, end: end - own };
}

function docText(text: string, { start, end }: Stretch): string {
  return text
    .slice(start + 3, end)
    .replace(/^ /, '')
    .trimEnd();
}
