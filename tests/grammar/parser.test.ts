import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatted } from '../../grammar/format.ts';
import { readingLimits } from '../../grammar/limits.ts';
import { parseHead, parseHeadByRules, validateGrammar } from '../../grammar/parser.ts';
import { Source } from '../../grammar/source.ts';
import { type Item, offsetOf, type Problem, type Range, type Statement, statementsWithin } from '../../grammar/tree.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import { anyHead, anySoup, anyText } from './texts.ts';

/** An item as its structure: `(a - 3/4in)` for a subtraction, `[x]` for parentheses, `?` for what is missing, `!` for a stray. */
function shown(item: Item): string {
  switch (item.kind) {
    case 'number':
      return item.raw;
    case 'path':
      return item.words.map((word) => word.text).join('.');
    case 'binary':
      return `(${shown(item.left)} ${item.operator} ${shown(item.right)})`;
    case 'negation':
      return `-${shown(item.operand)}`;
    case 'call':
      return `${item.name.text}(${item.args.map(shown).join(', ')})`;
    case 'group':
      return `[${shown(item.inner)}]`;
    case 'text':
      return `"${item.value}"`;
    case 'mark':
      return item.text;
    case 'missing':
      return '?';
    case 'stray':
      return '!';
  }
}

/** The items of a head, one string each. */
function items(head: string): string[] {
  return parseHead(head, 0).items.map(shown);
}

function read(text: string): Statement[] {
  return [...new Source('a', text, topWords).statements()];
}

/** Every problem of a text as `code "what it marks" at its offset in the text`. */
function problems(text: string): string[] {
  return read(text)
    .flatMap((statement) => [...statementsWithin(statement)])
    .flatMap((statement) => statement.problems.map((problem) => told(text, offsetOf(statement), problem)));
}

function told(text: string, offset: number, { code, start, end }: Problem): string {
  return `${code} ${JSON.stringify(text.slice(offset + start, offset + end))} at ${offset + start}`;
}

const deepestBlocks = readingLimits.deepestBlocks.most;

it('has no fault that the parser generator knows', () => {
  expect(validateGrammar).not.toThrow();
});

describe('the short ways for plain heads', () => {
  const words = fc.constantFrom(
    'width',
    'a-b',
    'on',
    '3',
    '21-3/4',
    '2356.82',
    '1/0',
    '7in',
    "6'",
    '6ft',
    '3"',
    '%',
    '.',
    '-',
  );
  const plainish = fc.array(words, { maxLength: 8 }).map((parts) => parts.join(' '));

  it('give what the rules give', () => {
    fc.assert(
      fc.property(fc.oneof(plainish, anyHead, anySoup), fc.nat(9), (text, base) => {
        expect(parseHead(text, base)).toEqual(parseHeadByRules(text, base));
      }),
      { numRuns: 1500 },
    );
  });
});

describe('an expression', () => {
  it.each([
    ['a + b * c', '(a + (b * c))'],
    ['a * b + c', '((a * b) + c)'],
    ['a - b - c', '((a - b) - c)'],
    ['a / b / c', '((a / b) / c)'],
    ['(a + b) * 2', '([(a + b)] * 2)'],
    ['back.length - 3/4in', '(back.length - 3/4in)'],
    ['max(back.length / 3, 24in)', 'max((back.length / 3), 24in)'],
    ['min(a, max(b, c))', 'min(a, max(b, c))'],
    ['-3in', '-3in'],
    ['a - -3in', '(a - -3in)'],
    ['- -a', '--a'],
    ['a*2', '(a * 2)'],
    ['94in/2', '(94in / 2)'],
    ['6ft - 3in', '(6ft - 3in)'],
  ])('%s is %s', (text, structure) => {
    expect(items(text)).toEqual([structure]);
    expect(parseHead(text, 0).problems).toEqual([]);
  });

  it('ends where no operator follows', () => {
    expect(items('shirts on back after tower by 3in')).toEqual(['shirts', 'on', 'back', 'after', 'tower', 'by', '3in']);
    expect(items('3-1/4in, 19-1/4in')).toEqual(['3-1/4in', ',', '19-1/4in']);
    expect(items('width: length = 94in from 92in')).toEqual(['width', ':', 'length', '=', '94in', 'from', '92in']);
  });

  it('has a minus with a space on both sides; else it is a name or two items', () => {
    expect(items('x - 3in')).toEqual(['(x - 3in)']);
    expect(items('x-3in')).toEqual(['x-3in']);
    expect(items('x -3in')).toEqual(['x', '-3in']);
  });

  it('calls only where the parenthesis touches the name', () => {
    expect(items('min(a, b)')).toEqual(['min(a, b)']);
    expect(items('by (a + b)')).toEqual(['by', '[(a + b)]']);
  });

  it('takes feet and inches as one length', () => {
    for (const text of ['6ft 3-1/2in', `6'-3 1/2"`, `6'3"`, '6 ft 3 in', '6ft-3in'])
      expect(items(text)).toEqual([text]);
    expect(items('6in 3in')).toEqual(['6in', '3in']);
    expect(items('6ft 3mm')).toEqual(['6ft', '3mm']);
    // A quotation mark behind a space begins a text.
    expect(items(`6'3 "`)).toEqual([`6'`, '3', '""']);
    expect(items(`6'-3 " `)).toEqual([`6'`, '!', '3', '" "']);
  });
});

describe('a statement', () => {
  it('is its first word, what follows, and a block', () => {
    const [zone] = read('zone shirts on back { width 48in; shelf high { at 84in } }');
    expect(zone?.word.text).toBe('zone');
    expect(zone?.items.map(shown)).toEqual(['shirts', 'on', 'back']);
    expect(zone?.block?.children.map((child) => child.word.text)).toEqual(['width', 'shelf']);
  });

  it('ends with its line or at a semicolon', () => {
    expect(read('kerf 1/8in; currency EUR\nshow inches\r\npolicy p').map((s) => s.word.text)).toEqual([
      'kerf',
      'currency',
      'show',
      'policy',
    ]);
  });

  it('may have its block on the next line', () => {
    const [zone, ...others] = read('zone a on back\n{\n  width 3in\n}');
    expect(zone?.block?.children.map((child) => child.word.text)).toEqual(['width']);
    expect(others).toEqual([]);
  });

  it('may be interrupted by comments, even over lines', () => {
    const [at] = read('at /* the floor,\n finished */ 84in // as drawn');
    expect(at?.items.map(shown)).toEqual(['84in']);
    expect(at?.comments.map((comment) => comment.kind)).toEqual(['block']);
  });

  it('is documented by the lines of /// right above it', () => {
    const [template] = read('/// Bedroom closet.\n///\n/// Double hang.\ntemplate t { }');
    expect(template?.doc).toBe('Bedroom closet.\n\nDouble hang.');
    const [, unit] = read('/// About nothing.\n// A comment between.\nkerf 1in\nunit a b');
    expect(unit?.doc).toBeUndefined();
  });

  it('has no word where it begins with something else', () => {
    expect(read('84in at').map((s) => [s.word.text, s.items.map(shown)])).toEqual([['', ['84in', 'at']]]);
    expect(read('a.b c').map((s) => s.word.text)).toEqual(['']);
  });
});

describe('half-typed heads', () => {
  it.each([
    ['at 84in -', ['expression-incomplete "-" at 8'], '(84in - ?)'],
    ['at 84in +', ['expression-incomplete "+" at 8'], '(84in + ?)'],
    ['at a * / b', ['expression-incomplete "*" at 5'], '((a * ?) / b)'],
    ['at (84in', ['expression-incomplete "(" at 3'], '[84in]'],
    ['at (', ['expression-incomplete "(" at 3', 'expression-incomplete "(" at 3'], '[?]'],
    ['at ()', ['expression-incomplete "(" at 3'], '[?]'],
    ['at max(a,', ['expression-incomplete "," at 8', 'expression-incomplete "(" at 6'], 'max(a, ?)'],
    ['at max(', ['expression-incomplete "(" at 6'], 'max()'],
    ['at 1/0in', ['expression-incomplete "1/0" at 3'], '1/0in'],
  ])('%s: %s', (text, expected, structure) => {
    expect(problems(text)).toEqual(expected);
    expect(read(text)[0]?.items.map(shown)).toEqual([structure]);
  });

  it('say nothing where nothing is wrong with the text so far', () => {
    for (const text of ['zone', 'zone shirts on', 'width fill at least', 'under high by', 'shelf s']) {
      expect(problems(text)).toEqual([]);
    }
  });

  it('leave the other statements alone', () => {
    const [shelf] = read('shelf high {\n  at (84in -\n  depth 12in\n}');
    expect(shelf?.block?.children.map((c) => [c.word.text, c.problems.length > 0])).toEqual([
      ['at', true],
      ['depth', false],
    ]);
  });
});

describe('what means nothing', () => {
  it.each([
    ['at 84in)', ['character-not-expected ")" at 7'], ['84in', '!']],
    ["at 6'-3", ['character-not-expected "-" at 5'], ["6'", '!', '3']],
    ['at 84in # high', ['character-not-expected "#" at 8'], ['84in', '!', 'high']],
    ['at a..b', ['character-not-expected ".." at 4'], ['a', '!', '!', 'b']],
    ['at 🚪 84in', ['character-not-expected "🚪" at 3'], ['!', '84in']],
  ])('%s: %s', (text, expected, structure) => {
    expect(problems(text)).toEqual(expected);
    expect(read(text)[0]?.items.map(shown)).toEqual(structure);
  });

  it('is too much: a number of more than 40 characters, 41 parentheses or blocks inside each other, 501 operators', () => {
    expect(problems(`at ${'9'.repeat(40)}in`)).toEqual([]);
    expect(problems(`at ${'9'.repeat(41)}in`)).toEqual([`expression-incomplete "${'9'.repeat(41)}" at 3`]);
    const nested = (n: number): string => `at ${'('.repeat(n)}a${')'.repeat(n)}`;
    expect(problems(nested(40))).toEqual([]);
    expect(problems(nested(41))).toEqual(['nested-too-deep "(" at 43']);
    expect(problems(`at a${' + a'.repeat(500)}`)).toEqual([]);
    expect(problems(`at a${' + a'.repeat(501)} + (`)).toEqual(['nested-too-deep "+" at 2005']);
    const blocks = (n: number): string => `${'a {'.repeat(n)}${'}'.repeat(n)}`;
    expect(problems(blocks(deepestBlocks))).toEqual([]);
    expect(problems(blocks(deepestBlocks + 1))).toEqual([`nested-too-deep "{" at ${deepestBlocks * 3 + 2}`]);
  });
});

describe('what is not closed', () => {
  it('a text ends with its line', () => {
    expect(problems('finish "white\ndepth 12in')).toEqual(['text-not-closed "\\"white" at 7']);
    expect(read('finish "white\ndepth 12in').map((s) => s.items.map(shown))).toEqual([['"white"'], ['12in']]);
  });

  it('a comment ends before the next top-level word in column 0', () => {
    const text = 'zone a /* never closed\n  width 3in\nunit b c';
    expect(problems(text)).toEqual(['comment-not-closed "/* never closed\\n  width 3in" at 7']);
    expect(read(text).map((s) => s.word.text)).toEqual(['zone', 'unit']);
  });

  it('a comment that is closed may hold top-level words in column 0', () => {
    expect(problems('/*\nunit b c\n*/\nkerf 1in')).toEqual([]);
    expect(read('/*\nunit b c\n*/\nkerf 1in').map((s) => s.word.text)).toEqual(['kerf']);
  });

  it('a block ends before the next top-level word in column 0', () => {
    const text = 'unit a t {\n  floor 1\nunit b t { floor 2 }';
    expect(problems(text)).toEqual(['block-not-closed "{" at 9']);
    expect(read(text).map((s) => s.block?.children.map((c) => c.word.text))).toEqual([['floor'], ['floor']]);
  });

  it('a block in a block ends where the indentation returns', () => {
    const text = 'template t {\n  zone a {\n    width 3in\n  zone b {\n    width 4in\n  }\n}\n';
    expect(problems(text)).toEqual(['block-not-closed "{" at 22']);
    expect(read(text)[0]?.block?.children.map((c) => c.items.map(shown))).toEqual([['a'], ['b']]);
  });

  it('a brace that closes or opens nothing is told', () => {
    expect(problems('kerf 1in\n}')).toEqual(['brace-without-block "}" at 9']);
    expect(problems('{ at 3in }')).toEqual(['brace-without-block "{" at 0']);
  });
});

describe('laws of parsing', () => {
  it('never throws, and every range lies within its statement', () => {
    fc.assert(
      fc.property(fc.oneof(anyText, anyHead, anySoup), (text) => {
        const source = new Source('a', text, topWords);
        let end = 0;
        for (const top of source.statements()) {
          expect(offsetOf(top)).toBeGreaterThanOrEqual(end);
          end = offsetOf(top) + top.text.length;
          for (const statement of statementsWithin(top)) expectWithin(statement, text);
        }
        expect(end).toBeLessThanOrEqual(text.length);
        formatted(source);
      }),
      { numRuns: 1000 },
    );
  });

  it('reads every beginning of a file, and breaks no declaration that was complete', () => {
    const whole = readFileSync(new URL('sample.closet', import.meta.url), 'utf8');
    const complete = read(whole).map((s) => ({ end: offsetOf(s) + s.text.length, text: s.text }));
    expect(problems(whole)).toEqual([]);
    for (let length = 0; length <= whole.length; length++) {
      const statements = read(whole.slice(0, length));
      for (const statement of statements.flatMap((s) => [...statementsWithin(s)])) expectWithin(statement, whole);
      const before = complete.filter((c) => c.end <= length);
      expect(statements.slice(0, before.length).map((s) => s.text)).toEqual(before.map((c) => c.text));
    }
  });
});

/** Every range of a statement lies within it, children lie within and after each other, raw numbers are the text. */
function expectWithin(statement: Statement, text: string): void {
  const offset = offsetOf(statement);
  expect(text.startsWith(statement.text, offset)).toBe(true);
  const within = ({ start, end }: Range): void => {
    expect(start).toBeGreaterThanOrEqual(0);
    expect(end).toBeGreaterThanOrEqual(start);
    expect(end).toBeLessThanOrEqual(statement.text.length);
  };
  within(statement.word);
  within(statement.head);
  for (const comment of [...statement.comments, ...(statement.block?.comments ?? [])]) within(comment);
  for (const problem of statement.problems) {
    within(problem);
    expect(problem.end).toBeGreaterThan(problem.start);
  }
  const visit = (item: Item): void => {
    within(item);
    if (item.kind === 'number') {
      expect(statement.text.slice(item.start, item.end)).toBe(item.raw);
      item.parts.forEach(within);
    } else if (item.kind === 'binary') [item.left, item.right].forEach(visit);
    else if (item.kind === 'negation') visit(item.operand);
    else if (item.kind === 'group') visit(item.inner);
    else if (item.kind === 'call') item.args.forEach(visit);
    else if (item.kind === 'path') item.words.forEach(within);
  };
  statement.items.forEach(visit);
  let end = statement.block ? statement.block.open + 1 : 0;
  for (const child of statement.block?.children ?? []) {
    expect(child.offset).toBeGreaterThanOrEqual(end);
    end = child.offset + child.text.length;
    expect(end).toBeLessThanOrEqual(statement.text.length);
  }
}
