/**
 * The parser of a statement's head. The grammar is total: every sequence of tokens is accepted, and
 * what does not fit becomes a stray or a missing operand with a problem beside it, so that a
 * half-typed statement costs only itself and no exception is ever thrown.
 *
 *   head       = { item }
 *   item       = expression | text | "," | ":" | "=" | stray
 *   expression = term { ("+" | "-") term }
 *   term       = operand { ("*" | "/") operand }
 *   operand    = [ "-" ... ] ( number | path | call | "(" expression ")" )
 *   number     = NUMBER [ UNIT [ [ "-" ] NUMBER UNIT ] ]            feet, then inches
 *   path       = WORD { "." WORD }
 *   call       = WORD "(" [ expression { "," expression } ] ")"   the parenthesis touches the word
 */
import { EmbeddedActionsParser, type IToken } from 'chevrotain';
import { readingLimits } from './limits.ts';
import * as t from './tokens.ts';
import type {
  Comment,
  Expression,
  Item,
  Mark,
  Missing,
  NumberLiteral,
  NumberPart,
  Path,
  Problem,
  Word,
} from './tree.ts';

export interface Head {
  readonly items: readonly Item[];
  readonly problems: readonly Problem[];
  readonly comments: readonly Comment[];
}

const longestHead = readingLimits.longestHead.most;
const longestName = readingLimits.longestName.most;
const longestNumber = readingLimits.longestNumber.most;
/** So long is a plain head at most: on a text of megabytes the expression for it would run out of stack. */
const longestPlain = 400;

/**
 * Words of plain letters, and numbers that touch their unit and have a word or nothing behind them: nothing in such a
 * head can be read in two ways. A number without a unit stands last, as a word behind it could be its unit.
 */
const plainHead =
  /^[a-z_]\w*(?:-\w+)*(?:[ \t]+(?:[a-z_]\w*(?:-\w+)*|\d+(?:[.]\d+)?(?:in|mm|ft)(?=$|[ \t]+[a-z_])))*(?:[ \t]+\d+(?:[.]\d+)?)?$/i;
const pieces = /[a-z_]\w*(?:-\w+)*|(\d+(?:[.]\d+)?)(in|mm|ft)?/gi;

/** One for all heads that have none. */
const none: readonly never[] = [];

class HeadParser extends EmbeddedActionsParser {
  private base = 0;
  private problems: Problem[] = [];
  private text = '';

  constructor(skipValidations: boolean) {
    super(t.allTokens, { recoveryEnabled: false, maxLookahead: 2, skipValidations });
    this.performSelfAnalysis();
  }

  /** What lexer and rules make of a plain head, in a fraction of their time; undefined for any other. */
  readPlain(text: string, base: number): Head | undefined {
    if (text.length > longestPlain || !plainHead.test(text)) return undefined;
    const items: Item[] = [];
    pieces.lastIndex = 0;
    for (let found = pieces.exec(text); found; found = pieces.exec(text)) {
      const [image, number, unit] = found;
      const start = base + found.index;
      const end = start + image.length;
      if (number === undefined) {
        if (image.length > longestName) return undefined;
        items.push({ kind: 'path', words: [{ kind: 'word', text: image, start, end }], start, end });
        continue;
      }
      if (number.length > longestNumber) return undefined;
      const at = start + number.length;
      const value = rational(number);
      const part: NumberPart = unit
        ? { ...value, unit: { kind: 'word', text: unit, start: at, end }, start, end }
        : { ...value, start, end };
      items.push({ kind: 'number', parts: [part], start, end, raw: image });
    }
    return { items, problems: none, comments: none };
  }

  /** Reads a head whose text begins `base` characters into its statement; by the rules alone if so wished. */
  read(whole: string, base: number, byRules: boolean): Head {
    const text = whole.length > longestHead ? beginningOf(whole) : whole;
    const { tokens, comments } = t.lex(text);
    this.base = base;
    this.problems = [];
    this.text = text;
    const beyond = beyondReading(tokens);
    const items = !byRules && isPlain(tokens) ? this.plain(tokens) : this.ruled(tokens.slice(0, beyond?.index));
    if (beyond) {
      // Where the reading stops nothing before it is complete; the one cause is told.
      this.problems = [];
      this.report(
        'nested-too-deep',
        beyond.message,
        this.rangeOf(tokens[beyond.index] as IToken),
        'Work out a part of it in a parameter of its own.',
      );
    }
    if (text !== whole && !beyond) {
      this.problems = [];
      this.report(
        'too-long',
        `This statement is ${grouped(whole.length)} characters long, and ${grouped(longestHead)} are read.`,
        { start: base, end: base + Math.min(text.length, 40) },
        'End it where its line should end, or divide it into several.',
      );
    }
    if (text === whole) for (const token of tokens.slice(0, beyond?.index)) this.checkName(token);
    for (const comment of comments) {
      if (comment.image.startsWith('/*') && (comment.image.length < 4 || !comment.image.endsWith('*/'))) {
        this.report(
          'comment-not-closed',
          'This comment is not closed.',
          this.rangeOf(comment),
          'Add */ where the comment ends.',
        );
      }
    }
    return {
      items,
      problems: this.problems.length === 0 ? none : this.problems,
      comments:
        comments.length === 0
          ? none
          : comments.map((c) => ({ kind: c.image.startsWith('/*') ? 'block' : 'line', ...this.rangeOf(c) })),
    };
  }

  private checkName(token: IToken): void {
    if (token.tokenType !== t.WordToken || token.image.length <= longestName) return;
    this.report(
      'too-long',
      `A name of ${grouped(token.image.length)} characters; ${longestName} are the most.`,
      this.rangeOf(token),
      'Give it a shorter name.',
    );
  }

  private ruled(tokens: IToken[]): Item[] {
    this.input = tokens;
    return this.head();
  }

  /** What the rules make of a plain head, in a fraction of their time. */
  private plain(tokens: readonly IToken[]): Item[] {
    const items: Item[] = [];
    for (let i = 0; i < tokens.length; i++) {
      const token = tokens[i] as IToken;
      if (token.tokenType === t.WordToken) {
        items.push(this.pathOf([this.wordOf(token)]));
        continue;
      }
      const next = tokens[i + 1];
      const unit = next?.tokenType === t.UnitToken ? next : undefined;
      items.push(this.numberOf([this.part(token, unit)]));
      this.reportOtherMarks([unit]);
      if (unit) i++;
    }
    return items;
  }

  private readonly head = this.RULE('head', (): Item[] => {
    const items: Item[] = [];
    this.MANY(() => {
      items.push(this.SUBRULE(this.item));
    });
    return items;
  });

  private readonly item: () => Item = this.RULE('item', (): Item => {
    return this.OR([
      { ALT: () => this.SUBRULE(this.expression) },
      {
        ALT: () => {
          const token = this.CONSUME(t.TextToken);
          return this.ACTION(() => this.textOf(token));
        },
      },
      { ALT: () => this.mark(this.CONSUME(t.CommaToken)) },
      { ALT: () => this.mark(this.CONSUME(t.ColonToken)) },
      { ALT: () => this.mark(this.CONSUME(t.EqualsToken)) },
      { ALT: () => this.stray(this.CONSUME(t.CloseToken)) },
      { ALT: () => this.stray(this.CONSUME(t.DotToken)) },
      { ALT: () => this.stray(this.CONSUME(t.PlusToken)) },
      { ALT: () => this.stray(this.CONSUME(t.MinusToken)) },
      { ALT: () => this.stray(this.CONSUME(t.TimesToken)) },
      { ALT: () => this.stray(this.CONSUME(t.OverToken)) },
      { ALT: () => this.stray(this.CONSUME(t.JointToken)) },
      { ALT: () => this.stray(this.CONSUME(t.UnitToken)) },
      { ALT: () => this.stray(this.CONSUME(t.StrayToken)) },
    ]);
  });

  private readonly expression: () => Expression = this.RULE('expression', (): Expression => {
    let left = this.SUBRULE(this.term);
    this.MANY(() => {
      const operator = this.OR([{ ALT: () => this.CONSUME(t.PlusToken) }, { ALT: () => this.CONSUME(t.MinusToken) }]);
      let right: Expression | undefined;
      this.OPTION(() => (right = this.SUBRULE2(this.term)));
      left = this.ACTION(() => this.binary(left, operator, right));
    });
    return left;
  });

  private readonly term: () => Expression = this.RULE('term', (): Expression => {
    let left = this.SUBRULE(this.operand);
    this.MANY(() => {
      const operator = this.OR([{ ALT: () => this.CONSUME(t.TimesToken) }, { ALT: () => this.CONSUME(t.OverToken) }]);
      let right: Expression | undefined;
      this.OPTION(() => (right = this.SUBRULE2(this.operand)));
      left = this.ACTION(() => this.binary(left, operator, right));
    });
    return left;
  });

  private readonly operand: () => Expression = this.RULE('operand', (): Expression => {
    return this.OR([{ ALT: () => this.SUBRULE(this.negation) }, { ALT: () => this.SUBRULE(this.primary) }]);
  });

  private readonly negation: () => Expression = this.RULE('negation', (): Expression => {
    const signs: IToken[] = [];
    this.AT_LEAST_ONE(() => {
      signs.push(this.CONSUME(t.NegateToken));
    });
    let operand: Expression | undefined;
    this.OPTION(() => {
      operand = this.SUBRULE(this.primary);
    });
    return this.ACTION(() => {
      let result: Expression = operand ?? this.missing(signs.at(-1), 'a value');
      for (const sign of signs.reverse()) {
        result = { kind: 'negation', operand: result, start: this.rangeOf(sign).start, end: result.end };
      }
      return result;
    });
  });

  private readonly primary: () => Expression = this.RULE('primary', (): Expression => {
    return this.OR([
      { ALT: () => this.SUBRULE(this.number) },
      { GATE: () => this.startsCall(), ALT: () => this.SUBRULE(this.call) },
      { ALT: () => this.SUBRULE(this.path) },
      { ALT: () => this.SUBRULE(this.group) },
    ]);
  });

  private readonly number: () => NumberLiteral = this.RULE('number', (): NumberLiteral => {
    const first = this.CONSUME(t.NumberToken);
    let unit: IToken | undefined;
    let second: IToken | undefined;
    let secondUnit: IToken | undefined;
    this.OPTION(() => {
      unit = this.CONSUME(t.UnitToken);
      this.OPTION2({
        GATE: () => unit !== undefined && t.isFoot(unit.image) && this.inchesFollow(),
        DEF: () => {
          this.OPTION3(() => this.CONSUME(t.JointToken));
          second = this.CONSUME2(t.NumberToken);
          secondUnit = this.CONSUME2(t.UnitToken);
        },
      });
    });
    return this.ACTION(() => {
      const parts = [this.part(first, unit)];
      if (second) parts.push(this.part(second, secondUnit));
      this.reportOtherMarks([unit, secondUnit]);
      return this.numberOf(parts);
    });
  });

  private readonly path: () => Path = this.RULE('path', (): Path => {
    const words = [this.wordOf(this.CONSUME(t.WordToken))];
    this.MANY({
      GATE: () => this.LA(2).tokenType === t.WordToken,
      DEF: () => {
        this.CONSUME(t.DotToken);
        words.push(this.wordOf(this.CONSUME2(t.WordToken)));
      },
    });
    return this.ACTION(() => this.pathOf(words));
  });

  private readonly call: () => Expression = this.RULE('call', (): Expression => {
    const name = this.wordOf(this.CONSUME(t.WordToken));
    const open = this.CONSUME(t.OpenToken);
    const args: Expression[] = [];
    this.OPTION(() => {
      args.push(this.SUBRULE(this.expression));
      this.MANY(() => {
        const comma = this.CONSUME(t.CommaToken);
        let next: Expression | undefined;
        this.OPTION2(() => (next = this.SUBRULE2(this.expression)));
        this.ACTION(() => args.push(next ?? this.missing(comma, 'a value')));
      });
    });
    let close: IToken | undefined;
    this.OPTION3(() => (close = this.CONSUME(t.CloseToken)));
    return this.ACTION(() => {
      const end = this.closing(open, close, args.at(-1)?.end);
      return { kind: 'call', name, args, start: name.start, end };
    });
  });

  private readonly group: () => Expression = this.RULE('group', (): Expression => {
    const open = this.CONSUME(t.OpenToken);
    let inner: Expression | undefined;
    this.OPTION(() => (inner = this.SUBRULE(this.expression)));
    let close: IToken | undefined;
    this.OPTION2(() => (close = this.CONSUME(t.CloseToken)));
    return this.ACTION(() => {
      const content = inner ?? this.missing(open, 'a value');
      return {
        kind: 'group',
        inner: content,
        start: this.rangeOf(open).start,
        end: this.closing(open, close, content.end),
      };
    });
  });

  private inchesFollow(): boolean {
    const joined = this.LA(1).tokenType === t.JointToken;
    const { tokenType, image } = this.LA(joined ? 3 : 2);
    // A text that is not closed is a quotation mark too.
    return tokenType === t.UnitToken && t.isInch(image);
  }

  /** `by (a + b)` is a word and a value: the parenthesis of a call touches its name. */
  private startsCall(): boolean {
    const open = this.LA(2);
    return open.tokenType === t.OpenToken && t.touches(this.LA(1), open.startOffset);
  }

  private rangeOf(token: IToken): { start: number; end: number } {
    const start = this.base + token.startOffset;
    return { start, end: start + token.image.length };
  }

  private pathOf(words: readonly Word[]): Path {
    return { kind: 'path', words, start: (words[0] as Word).start, end: (words.at(-1) as Word).end };
  }

  private numberOf(parts: readonly NumberPart[]): NumberLiteral {
    const start = (parts[0] as NumberPart).start;
    const end = (parts.at(-1) as NumberPart).end;
    return { kind: 'number', parts, start, end, raw: this.text.slice(start - this.base, end - this.base) };
  }

  private wordOf({ image, startOffset }: IToken): Word {
    const start = this.base + startOffset;
    // Too long a name is told of, and never stands in a message as a whole.
    const text = image.length > longestName ? `${image.slice(0, longestName)}…` : image;
    return { kind: 'word', text, start, end: start + image.length };
  }

  private textOf(token: IToken): Item {
    const closed = token.image.length > 1 && token.image.endsWith('"');
    const range = this.rangeOf(token);
    if (!closed) {
      this.report(
        'text-not-closed',
        'This text has no closing quotation mark.',
        range,
        'Add " where the text ends; a text ends on its own line.',
      );
    }
    return { kind: 'text', value: token.image.slice(1, closed ? -1 : undefined), ...range };
  }

  private mark(token: IToken): Mark {
    return { kind: 'mark', text: token.image as Mark['text'], ...this.rangeOf(token) };
  }

  private stray(token: IToken): Item {
    return this.ACTION(() => {
      const range = this.rangeOf(token);
      const last = this.problems.at(-1);
      // Several of the same one after another are one slip: `a..b`.
      if (last?.code === 'character-not-expected' && last.end === range.start && this.isRun(last, token)) {
        const text = this.text.slice(last.start - this.base, range.end - this.base);
        this.problems[this.problems.length - 1] = { ...last, end: range.end, message: meansNothing(text) };
        return { kind: 'stray', ...range };
      }
      const advice = token.image === '-' ? 'A minus between two values has a space on both sides.' : 'Remove it.';
      this.report('character-not-expected', meansNothing(token.image), range, advice);
      return { kind: 'stray', ...range };
    });
  }

  private isRun({ start }: Problem, { image }: IToken): boolean {
    return image !== '-' && this.text[start - this.base] === image;
  }

  private binary(left: Expression, operator: IToken, right: Expression | undefined): Expression {
    const other = right ?? this.missing(operator, 'a value');
    return { kind: 'binary', operator: operator.image as '+', left, right: other, start: left.start, end: other.end };
  }

  private missing(after: IToken | undefined, what: string): Missing {
    const end = after ? this.rangeOf(after).end : this.base;
    const shown = after ? ` after ${JSON.stringify(after.image)}` : '';
    this.report(
      'expression-incomplete',
      `There should be ${what}${shown}.`,
      { start: Math.max(this.base, end - 1), end },
      'Write it, or take away what asks for it.',
    );
    return { kind: 'missing', start: end, end };
  }

  private closing(open: IToken, close: IToken | undefined, contentEnd: number | undefined): number {
    if (close) return this.rangeOf(close).end;
    this.report('expression-incomplete', 'This parenthesis is not closed.', this.rangeOf(open), 'Add ) where it ends.');
    return contentEnd ?? this.rangeOf(open).end;
  }

  private part(number: IToken, unit: IToken | undefined): NumberPart {
    const range = this.rangeOf(number);
    if (number.image.length > longestNumber) {
      this.report(
        'expression-incomplete',
        `A number of ${number.image.length} characters.`,
        range,
        `Write at most ${longestNumber}.`,
      );
      return { numerator: 0n, denominator: 1n, start: range.start, end: unit ? this.rangeOf(unit).end : range.end };
    }
    const { numerator, denominator } = rational(number.image);
    if (denominator === 0n) {
      this.report(
        'expression-incomplete',
        `${number.image} divides by zero.`,
        range,
        'Write a denominator other than 0.',
      );
      return { numerator: 0n, denominator: 1n, start: range.start, end: unit ? this.rangeOf(unit).end : range.end };
    }
    const { start, end } = range;
    if (!unit) return { numerator, denominator, start, end };
    const named = this.wordOf(unit);
    return { numerator, denominator, unit: { ...named, text: t.markMeant(named.text) }, start, end: named.end };
  }

  /** What was meant is known, and counted with; it is told of all the same, as others would read something else. */
  private reportOtherMarks(units: readonly (IToken | undefined)[]): void {
    const marks = units.filter((unit) => unit !== undefined);
    const [first, last] = [marks[0], marks.at(-1)];
    if (!first || !last || marks.every(({ image }) => t.markMeant(image) === image)) return;
    const range = { start: this.rangeOf(first).start, end: this.rangeOf(last).end };
    const text = this.text.slice(range.start - this.base, range.end - this.base);
    this.report('character-not-expected', `${text} is not how feet and inches are written.`, range, 'Write ft and in.');
  }

  private report(code: Problem['code'], message: string, range: { start: number; end: number }, fix: string): void {
    this.problems.push({ code, message, fix, ...range });
  }
}

function meansNothing(text: string): string {
  return `${JSON.stringify(text)} means nothing here.`;
}

/** `21-3/4`, `3 1/2`, `3/4`, `23.9`, `5` as an exact fraction. */
function rational(image: string): { numerator: bigint; denominator: bigint } {
  const fraction = /^(?:(\d+)(?:-|\s+))?(\d+)\/(\d+)$/.exec(image);
  if (fraction) {
    const denominator = BigInt(fraction[3] as string);
    return { numerator: BigInt(fraction[1] ?? 0) * denominator + BigInt(fraction[2] as string), denominator };
  }
  const [whole = '', decimals = ''] = image.split('.');
  return { numerator: BigInt(whole + decimals), denominator: 10n ** BigInt(decimals.length) };
}

interface Beyond {
  /** Of the first token that is not read. */
  readonly index: number;
  readonly message: string;
}

/** As much of a text that is too long as is read; what begins in it and goes on behind it is left out. */
function beginningOf(text: string): string {
  const start = text.slice(0, longestHead);
  const cut = Math.max(start.lastIndexOf(' '), start.lastIndexOf('\t'));
  return cut < longestHead - longestName ? start : start.slice(0, cut);
}

function grouped(count: number): string {
  return count.toLocaleString('en');
}

/** Where a head passes the limits of what is read, if it does. */
function beyondReading(tokens: readonly IToken[]): Beyond | undefined {
  const deepestParentheses = readingLimits.deepestParentheses.most;
  const mostOperators = readingLimits.mostOperators.most;
  let depth = 0;
  let operators = 0;
  for (const [index, { tokenType }] of tokens.entries()) {
    if (tokenType === t.OpenToken) depth++;
    else if (tokenType === t.CloseToken) depth = Math.max(0, depth - 1);
    else if (t.operators.has(tokenType)) operators++;
    if (depth > deepestParentheses) {
      return { index, message: `More than ${deepestParentheses} parentheses inside each other.` };
    }
    if (operators > mostOperators) return { index, message: `More than ${mostOperators} operators in one statement.` };
  }
  return undefined;
}

/**
 * Words, and numbers with or without a unit of measure that a word or nothing follows, as in most heads.
 * There is nothing in them that could be read in two ways.
 */
function isPlain(tokens: readonly IToken[]): boolean {
  return tokens.every(({ tokenType }, i) => {
    if (tokenType === t.WordToken) return true;
    const before = tokens[i - 1]?.tokenType;
    if (tokenType === t.UnitToken) return before === t.NumberToken;
    return tokenType === t.NumberToken && (before === undefined || before === t.WordToken);
  });
}

/** What the library would look for at every start, faults of the grammar, is looked for by a test. */
const parser = new HeadParser(true);

/** Throws where the library finds a fault in the grammar: alternatives that cannot be told apart, say. */
export function validateGrammar(): void {
  new HeadParser(false);
}

/** A rule of the parser, or a part of one, as data. */
export interface RuleNode {
  readonly type: string;
  /** Of a rule or a token. */
  readonly name?: string;
  /** Of a token: the source of its regular expression. */
  readonly pattern?: string;
  readonly definition?: readonly RuleNode[];
}

/** The rules of a head, for the reference. */
export function headRules(): readonly RuleNode[] {
  return parser.getSerializedGastProductions();
}

/** Reads the head of a statement; `base` is its offset from the statement's start. Never throws on text. */
export function parseHead(text: string, base: number): Head {
  return parser.readPlain(text, base) ?? parser.read(text, base, false);
}

/** As parseHead, without its short ways for plain heads: what those are compared with. */
export function parseHeadByRules(text: string, base: number): Head {
  return parser.read(text, base, true);
}
