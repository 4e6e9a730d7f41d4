/**
 * The tree: statements, phrases, blocks, quantities and expressions. It knows no closet.
 *
 * Every position is relative to the statement that owns it, and a statement's own offset is relative
 * to its parent, so that an edit elsewhere moves one number and no node. Absolute offsets are had
 * from `offsetOf` and `spanOf`; they hold until the next edit.
 */

/** A stretch of a statement; UTF-16 offsets from the start of that statement. */
export interface Range {
  readonly start: number;
  readonly end: number;
}

/** A stretch of text that keeps its place while the file around it is edited. */
export interface Place extends Range {
  readonly statement: Statement;
}

/** Something the grammar could not read. `code` is the id of a rule of the text family. */
export interface Problem extends Range {
  readonly code: ProblemCode;
  readonly message: string;
  readonly fix?: string;
}

export type ProblemCode =
  | 'block-not-closed'
  | 'block-not-opened'
  | 'brace-without-block'
  | 'text-not-closed'
  | 'comment-not-closed'
  | 'expression-incomplete'
  | 'character-not-expected'
  | 'nested-too-deep'
  | 'too-long'
  | 'too-many-statements';

export interface Word extends Range {
  readonly kind: 'word';
  readonly text: string;
}

/** A string between quotation marks; `value` without them. */
export interface Text extends Range {
  readonly kind: 'text';
  readonly value: string;
}

/** One number of a quantity, exact: numerator / denominator, with the unit of measure as written. */
export interface NumberPart extends Range {
  readonly numerator: bigint;
  readonly denominator: bigint;
  readonly unit?: Word;
}

/** `84in`, `6ft 3-1/2in`, `15 lbf/ft2`, `5`: one part, or feet and inches. */
export interface NumberLiteral extends Range {
  readonly kind: 'number';
  readonly parts: readonly NumberPart[];
  readonly raw: string;
}

/** `a` or `a.b.c`; a single word is a path of one. */
export interface Path extends Range {
  readonly kind: 'path';
  readonly words: readonly Word[];
}

export interface Binary extends Range {
  readonly kind: 'binary';
  readonly operator: '+' | '-' | '*' | '/';
  readonly left: Expression;
  readonly right: Expression;
}

export interface Negation extends Range {
  readonly kind: 'negation';
  readonly operand: Expression;
}

export interface Call extends Range {
  readonly kind: 'call';
  readonly name: Word;
  readonly args: readonly Expression[];
}

export interface Group extends Range {
  readonly kind: 'group';
  readonly inner: Expression;
}

/** An operand that is not there (yet); its problem is in the statement. */
export interface Missing extends Range {
  readonly kind: 'missing';
}

export type Expression = NumberLiteral | Path | Binary | Negation | Call | Group | Missing;

/** `,`, `:` or `=` between items. */
export interface Mark extends Range {
  readonly kind: 'mark';
  readonly text: ',' | ':' | '=';
}

/** Characters that mean nothing where they stand; their problem is in the statement. */
export interface Stray extends Range {
  readonly kind: 'stray';
}

export type Item = Expression | Text | Mark | Stray;

export interface Comment extends Range {
  readonly kind: 'line' | 'block' | 'doc';
}

/** The part of a statement between braces. Offsets are those of the owning statement. */
export interface Block {
  /** Offset of `{`; where it is missing (`block-not-opened`), where it should stand. */
  readonly open: number;
  /** Offset of `}`; -1 where it is missing. */
  readonly close: number;
  readonly children: readonly Statement[];
  /** Comments between the children, outside any of them. */
  readonly comments: readonly Comment[];
}

/** `WORD item... { statements }`: the one shape of the language. */
export interface Statement {
  readonly kind: 'statement';
  /** Set anew when the statement is carried over into a new tree. */
  parent: Statement | Segment;
  /** Offset from the start of the parent; set anew likewise. */
  offset: number;
  /** Source text from the first documentation comment to the closing brace. */
  readonly text: string;
  /** The first word; empty text where the statement does not begin with one. */
  readonly word: Word;
  readonly items: readonly Item[];
  /** From the first word to the last item. */
  readonly head: Range;
  readonly block?: Block | undefined;
  /** Documentation comments (`///`) above it, without their marks; undefined where there are none. */
  readonly doc?: string | undefined;
  /** Comments within the head. */
  readonly comments: readonly Comment[];
  readonly problems: readonly Problem[];
}

/** Top-level statements that are cut, lexed and parsed together, mostly one declaration. */
export interface Segment {
  readonly kind: 'segment';
  readonly source: SourceRef;
  /** Absolute offset and line of its start (always column 0). Set anew by every edit. */
  offset: number;
  line: number;
  readonly text: string;
  readonly statements: readonly Statement[];
  readonly comments: readonly Comment[];
}

/** What a segment knows of its file. */
export interface SourceRef {
  readonly id: string;
}

export function segmentOf(statement: Statement): Segment {
  let node: Statement | Segment = statement;
  while (node.kind === 'statement') node = node.parent;
  return node;
}

/** The top-level statement around a statement: it, where it is one. */
export function topOf(statement: Statement): Statement {
  let node = statement;
  while (node.parent.kind === 'statement') node = node.parent;
  return node;
}

/** Absolute offset of the start of a statement's text. */
export function offsetOf(statement: Statement): number {
  let offset = 0;
  let node: Statement | Segment = statement;
  while (node.kind === 'statement') {
    offset += node.offset;
    node = node.parent;
  }
  return offset + node.offset;
}

/** Absolute range of a place, as of now. */
export function spanOf(place: Place): Range {
  const offset = offsetOf(place.statement);
  return { start: offset + place.start, end: offset + place.end };
}

export function placeOf(statement: Statement, range: Range): Place {
  return { statement, start: range.start, end: range.end };
}

export function headPlace(statement: Statement): Place {
  return placeOf(statement, statement.head);
}

export function wordPlace(statement: Statement): Place {
  return placeOf(statement, statement.word);
}

/** The statement's source from `start` to `end`. */
export function sliceOf(statement: Statement, range: Range): string {
  return statement.text.slice(range.start, range.end);
}

/** A statement and those that it is nested in, the innermost first; none of none. */
export function outwards(statement: Statement | undefined): Statement[] {
  const chain: Statement[] = [];
  for (let node: Statement | Segment | undefined = statement; node?.kind === 'statement'; node = node.parent)
    chain.push(node);
  return chain;
}

/** Visits a statement and everything nested in it, outermost first. */
export function* statementsWithin(statement: Statement): Generator<Statement> {
  yield statement;
  for (const child of statement.block?.children ?? []) yield* statementsWithin(child);
}

/** An item of a statement and all that it is computed from, in the order of the text. */
export function* expressionsWithin(item: Item): Generator<Item> {
  yield item;
  switch (item.kind) {
    case 'binary':
      yield* expressionsWithin(item.left);
      yield* expressionsWithin(item.right);
      break;
    case 'negation':
      yield* expressionsWithin(item.operand);
      break;
    case 'group':
      yield* expressionsWithin(item.inner);
      break;
    case 'call':
      for (const argument of item.args) yield* expressionsWithin(argument);
      break;
    default:
      break;
  }
}

/** The innermost statement of a segment whose text reaches over an offset in it (its end included). */
export function statementIn({ statements }: Segment, offset: number): Statement | undefined {
  let found: Statement | undefined;
  let children = statements;
  let within = offset;
  for (;;) {
    const inner = lastFrom(children, within);
    if (!inner || within > inner.offset + inner.text.length) return found;
    found = inner;
    within -= inner.offset;
    children = inner.block?.children ?? [];
  }
}

/** The last statement that begins at an offset or before it; statements of one block do not overlap. */
function lastFrom(statements: readonly Statement[], offset: number): Statement | undefined {
  let low = 0;
  let high = statements.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((statements[middle] as Statement).offset <= offset) low = middle + 1;
    else high = middle;
  }
  return statements[low - 1];
}
