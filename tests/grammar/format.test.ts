/** The one style: what it does to texts, and the laws that it keeps for every text. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatted, formattingOf, sayTheSame, withEdits } from '../../grammar/format.ts';
import { layoutOf, widestLine } from '../../grammar/layout.ts';
import { Source } from '../../grammar/source.ts';
import { respacedByTokens, respacedHead } from '../../grammar/spacing.ts';
import { lex } from '../../grammar/tokens.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import { closetFiles, examples } from '../examples/load.ts';
import { anyHead, anySoup, anyText } from './texts.ts';

const sourceOf = (text: string): Source => new Source('a', text, topWords);
const format = (text: string): string => formatted(sourceOf(text));

/** Before, after; what is not given twice stays as it is. */
function becomes(before: string, after = before): void {
  expect(format(before)).toBe(after);
  expect(format(after)).toBe(after);
}

describe('spaces in a head', () => {
  it.each([
    ['a   b\tc', 'a b c'],
    ['studs 1in ,16in,  32in', 'studs 1in, 16in, 32in'],
    ['parameter width :length=60in', 'parameter width: length = 60in'],
    ['at back -3/4in', 'at back -3/4in'],
    ['unit  101-bed  linen', 'unit 101-bed linen'],
    ['at back . length  -  3/4in', 'at back.length - 3/4in'],
    ['at (a+b)*2', 'at (a + b) * 2'],
    ['at ( a + b )', 'at (a + b)'],
    ['at max( a,b )', 'at max(a, b)'],
    ['by (a)', 'by (a)'],
    ['by(a)', 'by(a)'],
    ['at -( a )', 'at -(a)'],
    ['at - -3in', 'at - -3in'],
    ['width 24 in', 'width 24in'],
    ['angle 45 °', 'angle 45°'],
    ['angle 88 deg', 'angle 88deg'],
    ['keep 10 %', 'keep 10%'],
    ['load 15lbf/ft2', 'load 15 lbf/ft2'],
    ['price 14.50EUR', 'price 14.50 EUR'],
    ['width 84inch', 'width 84inch'],
    ['width 3  1/2 in', 'width 3 1/2in'],
    ['width 6 ft   3-1/2 in', 'width 6ft 3-1/2in'],
    ['width 3\u00a01/2in', 'width 3 1/2in'],
    ['at21-3/4\uFEFF3/4', 'at21-3 / 4 3/4'],
    [`width 6'-3 1/2"`, `width 6'-3 1/2"`],
    ['share 2   after', 'share 2 after'],
    ['finish"white, all  faces"count 2', 'finish "white, all  faces" count 2'],
    ['a/* why */b', 'a /* why */ b'],
    ['/*)//*/21-3/4";b', '/*)//*/ 21-3/4"; b'],
    ['width\u00a024in', 'width 24in'],
    ['\u00a0width 24in\u00a0', 'width 24in'],
    ['zone 🚪  b', 'zone 🚪  b'],
  ])('%j', (before, after) => becomes(`${before}\n`, `${after}\n`));

  it('needs no tokens where it is in order, and that changes nothing', () => {
    const heads = fc.array(
      fc.constantFrom(
        'a',
        'A-101',
        ' ',
        ' ',
        ' ',
        '3',
        '3/4',
        '21-3/4',
        '2.5',
        'in',
        'ft',
        'mm',
        'm',
        'deg',
        ',',
        ':',
        '=',
        '"t"',
        '-',
        '.',
        'EUR',
      ),
      { maxLength: 12 },
    );
    fc.assert(
      fc.property(
        fc.oneof(
          heads.map((list) => `a${list.join('')}`),
          anyHead,
        ),
        (head) => {
          expect(respacedHead(head)).toEqual(respacedByTokens(head));
        },
      ),
      { numRuns: 2000 },
    );
  });
});

describe('statements and blocks', () => {
  it('have two spaces a level, whatever they had', () =>
    becomes(
      'zone a {\n\twidth 3in\n      shelf b {\n at 4in\n}\n  }\n',
      'zone a {\n  width 3in\n  shelf b {\n    at 4in\n  }\n}\n',
    ));
  it('stay on one line where they are on one line', () =>
    becomes('wall left{length 25in;height 96in}\n', 'wall left { length 25in; height 96in }\n'));
  it('stay on several lines where they are on several', () => becomes('wall left {\n  length 25in\n}\n'));
  it('stand one below the other in a block of several lines, but for those that share a line', () =>
    becomes('rod r { under top by 3in;for shirt\nat 4in }\n', 'rod r {\n  under top by 3in; for shirt\n  at 4in\n}\n'));
  it('lose every ; that separates nothing', () => becomes(';a;;b;\n;\nc { ; d ; ; e ; };\n', 'a; b\nc { d; e }\n'));
  it('have the brace behind the head', () =>
    becomes('unit a b\n\n{ floor 1 }\nzone c\n{\n  d\n}\n', 'unit a b { floor 1 }\nzone c {\n  d\n}\n'));
  it('that are empty have nothing between the braces', () =>
    becomes('zone a{\n\n}\nzone b{ }\n', 'zone a {}\nzone b {}\n'));
  it('of several lines begin a line and end one', () => becomes('a; b {\nc\n}; d\n', 'a\nb {\n  c\n}\nd\n'));
  it('begin no line with space, and end none', () => becomes('  \n\n  a  \n\tb\t\n \n', 'a\nb\n'));
});

describe('long lines', () => {
  const long = (width: number): string => `word ${'x'.repeat(width - 'word '.length)}`;
  it('are split as soon as they are wider than the style has it', () => {
    const fits = `unit a b { ${long(widestLine - 22)}; floor 1 }`;
    expect(fits).toHaveLength(widestLine);
    becomes(`${fits}\n`);
    becomes(
      `unit a b { ${long(widestLine - 21)}; floor 1 }\n`,
      `unit a b {\n  ${long(widestLine - 21)}\n  floor 1\n}\n`,
    );
  });
  it('are split from the outside in', () =>
    becomes(
      `zone a { shelf b { at 3in; ${long(90)} }; rod c { at 4in } }\n`,
      `zone a {\n  shelf b { at 3in; ${long(90)} }\n  rod c { at 4in }\n}\n`,
    ));
  it('of several statements become a line each, and comments go with what they stand before', () =>
    becomes(`a ${long(60)}; /* why */ b; ${long(50)}; c\n`, `a ${long(60)}\n/* why */ b\n${long(50)}\nc\n`));
  it('of one statement stay as they are', () => becomes(`accept because "${'x'.repeat(150)}"\n`));
  it('are no longer for a comment behind them', () => becomes(`a { b } // ${'x'.repeat(150)}\n`));
});

describe('blank lines', () => {
  it('stay, one at a time', () => becomes('a\n\n\n\nb\n\nc\nd\n', 'a\n\nb\n\nc\nd\n'));
  it('go behind an opening brace, before a closing one and at the ends of the file', () =>
    becomes('\n\na {\n\n  b\n\n  c\n\n}\n\n\n', 'a {\n  b\n\n  c\n}\n'));
  it('go between documentation and what it documents', () =>
    becomes('a {\n  /// why\n\n  b\n}\n', 'a {\n  /// why\n  b\n}\n'));
  it('stay where they keep documentation apart', () => becomes('/// of nothing\n\nunit a b\n'));
});

describe('comments', () => {
  it('go with the lines they are on', () =>
    becomes(
      '// a\n   // b\nzone z {   // c\n// d\nwidth 3in// e\n/* f */   shelf s {} /* g */\n// h\n}  // i\n',
      '// a\n// b\nzone z { // c\n  // d\n  width 3in // e\n  /* f */ shelf s {} /* g */\n  // h\n} // i\n',
    ));
  it('stay as they are, but for spaces at the end of a line', () =>
    becomes('//a  \t\n///b\na //c \n', '//a\n///b\na //c\n'));
  it('between statements on a line keep the ; before them', () =>
    becomes('u { a;/* b */c /* d */ ; e; /* f */ }\n', 'u { a; /* b */ c /* d */; e /* f */ }\n'));
  it('of several lines stay as they are', () => becomes('a {\n  /* b\nc\n   d */\n  e\n}\n'));
  it('of several lines that begin with stars move as a whole', () =>
    becomes('a {\n/*\n* b\n   * c\n*/\n  d\n}\n', 'a {\n  /*\n   * b\n   * c\n   */\n  d\n}\n'));
  it('in a block put it on several lines where they end only with the line', () =>
    becomes('a { // b\nc }\n', 'a { // b\n  c\n}\n'));
  it('that document nothing do not come to document something', () => {
    becomes('a\n  /// of nothing\nunit b c\n');
    becomes('a {\n/// of nothing\n}\nunit b c\n', 'a {\n  /// of nothing\n}\nunit b c\n');
  });
  it('that document something go on doing so', () => {
    becomes('  /// why\n\n   unit b c\n', '/// why\nunit b c\n');
    // A no-break space begins the statement, so the comment stands in it, and not between it and what documents it.
    becomes('/// why\n  \u00a0/* c */unit b c\n', '/// why\n\u00a0/* c */unit b c\n');
  });
});

describe('line ends', () => {
  it('stay as they are, and a new one is like the first', () => {
    becomes('a {\r\nb; c }\r\n', 'a {\r\n  b; c\r\n}\r\n');
    becomes('a\r\n\r\n\r\nb', 'a\r\n\r\nb\r\n');
    becomes('a\rb {\rc }\r', 'a\rb {\r  c\r}\r');
    becomes('a {\n  b\r\n}\n');
  });
  it('are never cut in two', () => {
    const source = sourceOf('a\r\n\r\n\r\n   b\r\n');
    for (const { start, end } of formattingOf(source).edits)
      for (const offset of [start, end]) expect(source.text.slice(offset - 1, offset + 1)).not.toBe('\r\n');
  });
});

describe('texts that are nothing or little', () => {
  it.each([
    ['', ''],
    ['\uFEFF', '\uFEFF'],
    ['\n\n', ''],
    [' ; ', ''],
    ['\uFEFF  a', '\uFEFFa\n'],
    ['\uFEFF/// why\nunit a b', '\uFEFF/// why\nunit a b\n'],
    ['a', 'a\n'],
    ['// a', '// a\n'],
  ])('%j', (before, after) => becomes(before, after));
});

describe('what cannot be read', () => {
  it('in a head stays as it is, and the rest is laid out', () =>
    becomes('zone a {\nat  3in+\n  at   3in\n}\n', 'zone a {\n  at  3in+\n  at 3in\n}\n'));
  it('keeps the spaces at the end of a text that is not closed', () =>
    becomes('zone a {\nwhy "b  \n}\n', 'zone a {\n  why "b  \n}\n'));
  it('in its braces keeps the whole declaration as it is, and no other', () => {
    becomes(
      'unit  a b\ntemplate c {\n   zone  d {\n}\nunit  e f\n',
      'unit a b\ntemplate c {\n   zone  d {\n}\nunit e f\n',
    );
    const source = sourceOf('unit  a b\ntemplate c {\n');
    expect(formattingOf(source).kept).toEqual([{ start: 10, end: source.length }]);
  });
  it.each(['a  b {', 'a  b }', '{  c }', 'a  b /* c', 'a // b\n{  c }', 'a;  {  b }'])('as in %j stays', (text) =>
    becomes(text),
  );
  it('because it is nested too deep stays', () => becomes('a  {'.repeat(45) + '}'.repeat(45)));
});

describe('edits', () => {
  const edits = (text: string): string[] =>
    formattingOf(sourceOf(text)).edits.map(({ start, end, text: put }) => `${start}-${end} ${JSON.stringify(put)}`);
  it('are none where everything is in order', () => expect(edits('unit a b { floor 1 }\n')).toEqual([]));
  it('take away and put in what differs, and nothing beside it', () => {
    expect(edits('a  b\n')).toEqual(['2-3 ""']);
    expect(edits('a {\n    b\n}\n')).toEqual(['6-8 ""']);
    expect(edits('a\n\n\n\nb\n')).toEqual(['3-5 ""']);
    expect(edits('a\nb')).toEqual(['3-3 "\\n"']);
  });
  it('within a stretch are those that lie there', () => {
    const text = 'a  b\nc  d\ne  f\n';
    expect(withEdits(text, formattingOf(sourceOf(text), { start: 5, end: 9 }).edits)).toBe('a  b\nc d\ne  f\n');
  });
  it('of a zone that is put in leave its neighbours alone', () => {
    const whole = readFileSync(`${examples}/quarry-lane/templates/reach-in.closet`, 'utf8');
    const at = whole.indexOf('  zone tower');
    const zone = 'zone extra on back after shirts{width 3in\n}\n';
    const grown = `${whole.slice(0, at)}${zone}${whole.slice(at)}`;
    for (const { start, end } of formattingOf(sourceOf(grown)).edits) {
      expect(start).toBeGreaterThanOrEqual(at);
      expect(end).toBeLessThanOrEqual(at + zone.length);
    }
    expect(format(grown)).toBe(
      `${whole.slice(0, at)}  zone extra on back after shirts {\n    width 3in\n  }\n${whole.slice(at)}`,
    );
  });
});

describe('every example', () => {
  const files = closetFiles(examples).filter((file) => !file.endsWith('latin-1.closet'));
  const texts = new Map(files.map((file) => [file, readFileSync(`${examples}/${file}`, 'utf8')]));

  it('is in the one style', () => {
    expect(files.length).toBeGreaterThan(30);
    for (const [file, text] of texts) expect(format(text), file).toBe(text);
  });

  it('that the README shows is in the one style', () => {
    const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
    const shown = [...readme.matchAll(/^```closet\n(.*?)^```$/gms)].map(([, text = '']) => text);
    expect(shown.length).toBeGreaterThan(1);
    for (const text of shown) expect(format(text)).toBe(text);
  });

  it('keeps its tokens with a comment put in at any of their boundaries', () => {
    const comments = ['/* c */', '// c\n', '/// c\n', '/* c\n * d */', '\n// c\n', ' /* c\nd */ ', ';'];
    let at = 0;
    for (const text of texts.values()) {
      const boundaries = boundariesOf(text);
      // Every boundary of a small file; of a larger one so many that all files take a few seconds together.
      const step = Math.max(1, Math.floor(boundaries.length / 150));
      for (let i = at % step; i < boundaries.length; i += step) {
        const offset = boundaries[i] as number;
        expectLaws(text.slice(0, offset) + comments[at++ % comments.length] + text.slice(offset));
      }
    }
    expect(at).toBeGreaterThan(2000);
  }, 120_000);

  it('keeps its tokens with pieces taken out, doubled or moved', () => {
    const whole = [...texts.values()];
    const pick = fc.tuple(
      fc.nat(whole.length - 1),
      fc.nat(),
      fc.nat(),
      fc.nat(),
      fc.constantFrom('out', 'twice', 'move', '{', '}', '"', '/*', '\r'),
    );
    fc.assert(
      fc.property(pick, ([file, a, b, c, what]) => {
        const text = whole[file] as string;
        const [from, to] = [a % text.length, Math.min(text.length, (a % text.length) + (b % 60))];
        const piece = text.slice(from, to);
        const rest = text.slice(0, from) + text.slice(to);
        const at = c % (rest.length + 1);
        if (what === 'out') expectLaws(rest);
        else if (what === 'twice') expectLaws(text.slice(0, to) + piece + text.slice(to));
        else if (what === 'move') expectLaws(rest.slice(0, at) + piece + rest.slice(at));
        else expectLaws(text.slice(0, from) + what + text.slice(from));
      }),
      { numRuns: 600 },
    );
  }, 120_000);
});

/** Where a token, a comment or a space begins or ends. */
function boundariesOf(text: string): number[] {
  const { tokens, comments } = lex(text);
  const ends = [...tokens, ...comments].flatMap(({ startOffset, image }) => [startOffset, startOffset + image.length]);
  return [...new Set([0, ...ends, text.length])].sort((a, b) => a - b);
}

describe('a comment at every boundary of a small text', () => {
  const small = `/// Doc.
template a { parameter b: length = 3 1/2in; c -b + max(d.e, 6'-3 1/2"), "f" } // g

unit A-1 a mirrored
{ /* h */ i; j { k } }
`;
  const comments = [
    '/* c */',
    '/**/',
    '// c\n',
    '/// c\n',
    '\n/// c\n',
    '\n// c',
    '/* c\n * d\n */',
    '/* }\n{ */',
    '\r\n// c\r\n',
    ';',
    ';;\n',
  ];
  it.each(comments)('%j', (comment) => {
    const boundaries = boundariesOf(small);
    expect(boundaries.length).toBeGreaterThan(60);
    for (const a of boundaries) {
      expectLaws(small.slice(0, a) + comment + small.slice(a));
      for (const b of boundaries.filter((offset) => offset >= a && offset < a + 12))
        expectLaws(small.slice(0, a) + comment + small.slice(a, b) + comment + small.slice(b));
    }
  });
});

/** What does not change: all that is neither space nor `;`. */
const bare = (text: string): string => text.replace(/[\s;\uFEFF]/g, '');

/** Nothing is lost, nothing else is said, and a second time nothing changes. */
function expectLaws(text: string): void {
  const source = sourceOf(text);
  const { edits, kept } = formattingOf(source);
  const after = withEdits(text, edits);
  expect(bare(after)).toBe(bare(text));
  const again = sourceOf(after);
  if (!sayTheSame([...source.statements()], [...again.statements()])) expect(after).toBe('the same statements');
  expect(formatted(again)).toBe(after);
  // Every layout is right as it is made: none has had to be thrown away.
  const { segments } = source;
  const uncertain = segments.filter((segment) => !layoutOf(segment, { isFirst: false, isLast: false, lineEnd: '\n' }));
  expect(kept).toHaveLength(uncertain.length);
  let at = -1;
  for (const edit of edits) {
    expect(edit.start).toBeGreaterThan(at);
    expect(text.slice(edit.start, edit.end)).not.toBe(edit.text);
    at = edit.end;
  }
}

describe('laws', () => {
  const piece = fc.constantFrom(
    ...[
      'unit u t',
      'template a',
      'rod r',
      'shelf',
      'at 3in',
      'b',
      'studs 1in,2in',
      'max( a,b )',
      '"text"',
      '"',
      '-',
      '5 in',
    ],
    ...[
      '/// doc',
      '// note',
      '/* c */',
      '/* c\n * d */',
      '/* c\nd */',
      '{',
      '}',
      '{',
      '}',
      ';',
      '\n',
      '\n',
      '\r\n',
      '\r',
    ],
    ...[' ', '\t', '\u00a0', '\f', '\uFEFF', '🚪', 'x'.repeat(70)],
  );
  const space = fc.constantFrom('', ' ', '\n', '; ', '\n\n  ');
  const soup = fc.array(fc.tuple(piece, space), { maxLength: 25 }).map((list) => list.flat().join(''));
  const { statement } = fc.letrec<{ statement: string }>((tie) => ({
    statement: fc
      .tuple(
        fc.constantFrom('', '', '/// doc\n', '  /// doc\n\n', '// note\n', '/* c */ ', '/* c\n  * d */', ' '),
        fc.constantFrom(
          'a',
          'unit u t',
          '  unit v t',
          'shelf x { b }',
          'at  3in',
          'x'.repeat(50),
          'a /* c */',
          'rod r',
          'at 3in +',
        ),
        fc.option(
          fc.tuple(
            fc.constantFrom('', ' ', '\n', '\n\n'),
            fc.constantFrom('', '\n', ' ', ' // c\n', ' /// c\n', ' /* c */', '/* c */\n', '\n\n'),
            fc.array(tie('statement'), { maxLength: 4 }),
            fc.constantFrom(';', '\n', ';\n\n\n', ' ; ', '\n;\n', '; /* c */ ', ' // c\n', '\n/// doc\n'),
            fc.constantFrom('', ' ', '\n', ' // c\n', ' /* c */', '\n\n', '\n/// doc\n'),
          ),
          { depthSize: 'small' },
        ),
        fc.constantFrom('', ' // c', ' /* c */', ';', ' /// c'),
      )
      .map(([lead, head, block, tail]) => {
        const inside = block ? `${block[0]}{${block[1]}${block[2].join(block[3])}${block[4]}}` : '';
        return lead + head + inside + tail;
      }),
  }));
  const file = fc
    .tuple(
      fc.constantFrom('', '\uFEFF', '\n', '// c\n\n', '\uFEFF/// doc\n'),
      fc.array(statement, { maxLength: 5 }),
      fc.constantFrom('\n', '\n\n\n', ';', '\r\n', '\r', ' // c\n', '\n  /// doc\n', '\n/// doc\n\n'),
      fc.constantFrom('', '\n', '\n\n', ' '),
    )
    .map(([before, statements, between, after]) => before + statements.join(between) + after);

  it.each([
    ['anything', anyText],
    ['pieces of the language', anySoup],
    ['pieces of files', soup],
    ['files', file],
  ] as const)('hold for %s', (_, texts) => {
    fc.assert(fc.property(texts, expectLaws), { numRuns: 1500 });
  });

  it('a declaration is not moved away from its documentation', () => {
    const text = '  /// doc\n\n  unit v t';
    expect(formattingOf(sourceOf(text), { start: 1, end: 13 }).edits).toEqual([]);
    expect(format(text)).toBe('/// doc\nunit v t\n');
  });

  it('hold for whatever part of the changes is made', () => {
    fc.assert(
      fc.property(file, fc.nat(), fc.nat(), (text, a, b) => {
        const source = sourceOf(text);
        const [start, end] = [a % (text.length + 1), b % (text.length + 1)].sort((x, y) => x - y) as [number, number];
        const after = withEdits(text, formattingOf(source, { start, end }).edits);
        expect(after.startsWith(text.slice(0, start))).toBe(true);
        expect(after.endsWith(text.slice(end))).toBe(true);
        expect(bare(after)).toBe(bare(text));
        expect(sayTheSame([...source.statements()], [...sourceOf(after).statements()])).toBe(true);
      }),
      { numRuns: 1000 },
    );
  });
});
