import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatted } from '../../grammar/format.ts';
import { Source } from '../../grammar/source.ts';
import { offsetOf, type Statement } from '../../grammar/tree.ts';

const topWords = new Set(['project', 'template', 'unit', 'stock', 'board']);

/** A tree as plain data with absolute offsets, for comparison. */
export function dump(source: Source): unknown {
  const one = (s: Statement): unknown => ({
    at: offsetOf(s),
    text: s.text,
    word: s.word,
    items: s.items,
    head: s.head,
    doc: s.doc,
    comments: s.comments,
    problems: s.problems,
    block: s.block && {
      open: s.block.open,
      close: s.block.close,
      comments: s.block.comments,
      children: s.block.children.map(one),
    },
  });
  return { statements: [...source.statements()].map(one), comments: source.comments() };
}

const text = `// A building
project "Quarry Lane" {
  show inches
}

/// The bedroom closet.
template reach-in {
  parameter width: length from 92in to 98in
  zone shirts on back {
    width 48in // fixed
    shelf high { at 84in; depth 12in }
    /* two
       lines */
    rod upper { under high by 3in }
  }
}
unit a reach-in { width 93-3/4in }
unit b reach-in { width 94in }
unit b reach-in { width 94in }
`;

/** What opens, closes and cuts, and anything else. */
const snippet = fc.oneof(
  fc.constantFrom(
    '{',
    '}',
    '/*',
    '*/',
    '\n',
    '"',
    '//',
    '///x\n',
    'unit z q { floor 2 }\n',
    '\nunit ',
    'template t {\n',
    '  ',
    ';',
    '\r\n',
    '\nstock s 3in\n',
  ),
  fc.string({ maxLength: 4 }),
);
/** Where, as a share of the text. */
const edit = fc.record({ at: fc.double({ min: 0, max: 1, noNaN: true }), cut: fc.nat(30), text: snippet });

/** Makes edits one after another, in a source of the text. Answers how it should read then. */
function make(
  edits: readonly { readonly at: number; readonly cut: number; readonly text: string }[],
  source: Source,
  after?: (current: string, start: number) => void,
): string {
  let current = text;
  for (const e of edits) {
    const start = Math.floor(e.at * current.length);
    const end = Math.min(current.length, start + e.cut);
    source.edit({ start, end, text: e.text });
    current = current.slice(0, start) + e.text + current.slice(end);
    after?.(current, start);
  }
  return current;
}

describe('a source', () => {
  it('finds positions and offsets', () => {
    const source = new Source('a', 'unit a\r\nunit b\rx\n', topWords);
    expect(source.positionAt(0)).toEqual({ line: 0, column: 0 });
    expect(source.positionAt(8)).toEqual({ line: 1, column: 0 });
    expect(source.positionAt(15)).toEqual({ line: 2, column: 0 });
    expect(source.offsetAt({ line: 1, column: 99 })).toBe(14);
    expect(source.offsetAt({ line: 99, column: 0 })).toBe(17);
  });

  it('keeps the identity of statements that an edit does not touch', () => {
    const source = new Source('a', text, topWords);
    const before = [...source.statements()];
    const at = text.indexOf('48in');
    const change = source.edit({ start: at, end: at + 2, text: '50' });
    const after = [...source.statements()];
    expect(change.removed).toEqual([before[1]]);
    expect(change.added).toEqual([after[1]]);
    expect(after[2]).toBe(before[2]);
    // and within the changed template, the parameter is the old one
    expect(after[1]?.block?.children[0]).toBe(before[1]?.block?.children[0]);
  });

  it('lets an unclosed block reach no further than the next top-level word in column 0', () => {
    const source = new Source('a', 'template x {\n  zone a {\nunit b x { floor 1 }\n', topWords);
    expect([...source.statements()].map((s) => s.word.text)).toEqual(['template', 'unit']);
  });

  it('lets a closed block hold a top-level word in column 0', () => {
    const source = new Source('a', 'template x {\nboard white\n}\nunit b x { floor 1 }\n', topWords);
    const [template] = [...source.statements()];
    expect(template?.block?.children.map((s) => s.word.text)).toEqual(['board']);
    expect(template?.problems).toEqual([]);
  });

  it('ends an unclosed inner block where the indentation returns', () => {
    const source = new Source(
      'a',
      'template x {\n  zone a {\n    width 3in\n  zone b {\n    width 4in\n  }\n}\n',
      topWords,
    );
    const [template] = [...source.statements()];
    expect(template?.block?.children.map((s) => s.head && s.text.split('\n')[0])).toEqual(['zone a {', 'zone b {']);
    expect(template?.problems).toEqual([]);
    expect(template?.block?.children[0]?.problems.map((p) => p.code)).toEqual(['block-not-closed']);
  });

  it('gives the same tree after any edits as when read afresh', () => {
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 12 }), (edits) => {
        const source = new Source('a', text, topWords);
        make(edits, source, (current, start) => {
          expect(source.text).toBe(current);
          expect(dump(source)).toEqual(dump(new Source('a', current, topWords)));
          for (const at of [0, start, current.length]) {
            expect(source.offsetAt(source.positionAt(at))).toBeLessThanOrEqual(at);
          }
        });
      }),
      { numRuns: 400 },
    );
  });

  it('gives a stretch of its text, and the segments that it touches, after any edits', () => {
    const ends = fc.tuple(fc.integer({ min: -5, max: 700 }), fc.nat(200));
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 6 }), fc.array(ends, { minLength: 1 }), (edits, stretches) => {
        const source = new Source('a', text, topWords);
        const current = make(edits, source);
        const check = (): void => {
          for (const [start, length] of stretches) {
            const end = start + length;
            expect(source.slice(start, end)).toBe(current.slice(Math.max(0, start), Math.max(0, end)));
            const touched = source.segments.filter((s) => s.offset <= end && s.offset + s.text.length >= start);
            expect([...source.segmentsIn({ start, end })]).toEqual(touched);
            expect(source.segmentAt(Math.max(0, end))).toBe(
              source.segments.findLast((s) => s.offset <= Math.max(0, end)),
            );
          }
        };
        check();
        // The same once the text has been put together.
        expect(source.text).toBe(current);
        check();
      }),
      { numRuns: 300 },
    );
  });

  it('gives the same tree when the whole text is replaced, however alike the texts are', () => {
    const replaced = (before: string, after: string): void => {
      const source = new Source('a', before, topWords);
      source.edit({ start: 0, end: before.length, text: after });
      expect(dump(source)).toEqual(dump(new Source('a', after, topWords)));
    };
    // Two that are new, both like the first of before: its width can be in one of them only.
    replaced(
      'unit a t {\n  width 9in\n}\nunit b t {\n  width 9in\n}\n',
      'unit c t {\n  width 9in\n}\nunit d t {\n   width 9in\n}\n',
    );
    const unit = fc
      .record({
        name: fc.constantFrom('a', 'b', 'c'),
        indent: fc.constantFrom('  ', '   '),
        lines: fc.array(fc.constantFrom('width 9in', 'floor 1', 'flat A { x }', '}'), { maxLength: 3 }),
      })
      .map(({ name, indent, lines }) => `unit ${name} t {\n${lines.map((l) => `${indent}${l}\n`).join('')}}\n`);
    const whole = fc.array(unit, { maxLength: 6 }).map((units) => units.join(''));
    fc.assert(fc.property(whole, whole, replaced), { numRuns: 500 });
  });

  it('takes no statement into two places, and leaves what is in it where it is', () => {
    const before = 'template t {\n  unit b {\n    x 3in\n  }\n';
    for (const [at, piece] of [
      [before.length, '}\nunit c {\n  unit b {\n    x 3in\n'],
      [0, 'template t {\n  unit b {\n    x 3in\n\n'],
      [13, '\nunit b {\n    x 3in\n'],
    ] as const) {
      const source = new Source('a', before, topWords);
      source.edit({ start: at, end: at, text: piece });
      const afresh = new Source('a', before.slice(0, at) + piece + before.slice(at), topWords);
      expect(dump(source)).toEqual(dump(afresh));
    }
    // As it was found.
    const closed = '{{height 96in\nboard{{height 96in\n';
    const source = new Source('a', closed, topWords);
    source.edit({ start: 0, end: closed.length, text: '{{height 96in}' });
    source.edit({ start: 0, end: source.length, text: closed });
    expect(dump(source)).toEqual(dump(new Source('a', closed, topWords)));
  });

  it('reports exactly the top-level statements that changed', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.constantFrom('{', 'x', '}\n', '\nunit q r\n'),
        (at, piece) => {
          const source = new Source('a', text, topWords);
          const before = new Set(source.statements());
          const start = Math.floor(at * text.length);
          const { removed, added } = source.edit({ start, end: start, text: piece });
          for (const s of removed) before.delete(s);
          for (const s of added) before.add(s);
          expect(new Set(source.statements())).toEqual(before);
        },
      ),
    );
  });
});

describe('the formatter', () => {
  const shape = (source: Source): unknown => {
    const one = (s: Statement): unknown => [
      s.word.text,
      strip(s.items),
      s.doc,
      s.block?.children.map(one),
      s.block?.comments.length,
    ];
    return [...source.statements()].map(one);
  };
  const strip = (value: unknown): unknown =>
    JSON.parse(
      JSON.stringify(value, (key, v) =>
        key === 'start' || key === 'end' || key === 'raw' ? undefined : typeof v === 'bigint' ? String(v) : v,
      ),
    );

  it('leaves the canonical layout unchanged', () => {
    expect(formatted(new Source('a', text, topWords))).toBe(text);
  });

  it('lays out what is squeezed or spread', () => {
    const source = new Source(
      'a',
      'unit  a   reach-in{width   93-3/4in ;floor 1}\n\n\n\nstock x{\nlength 6ft  price 14.50 EUR}\n',
      topWords,
    );
    expect(formatted(source)).toBe(
      'unit a reach-in { width 93-3/4in; floor 1 }\n\nstock x {\n  length 6ft price 14.50 EUR\n}\n',
    );
  });

  it('is read back as the same tree, and is its own fixed point', () => {
    const word = fc.constantFrom('shelf', 'at', 'on', 'white-12', 'x');
    const item = fc.oneof(
      word,
      fc.constantFrom(
        '84in',
        '6ft 3-1/2in',
        `6'-3 1/2"`,
        '"a text"',
        'a.b',
        'a - 3in',
        '(a + b) * 2',
        'max(a, 3in)',
        '-3in',
        'x: y',
        'a, b',
        '15 lbf/ft2',
      ),
    );
    const spacing = fc.constantFrom(' ', '  ', '\t');
    const head = fc
      .tuple(word, fc.array(fc.tuple(spacing, item), { maxLength: 5 }))
      .map(([w, items]) => w + items.map((i) => i.join('')).join(''));
    const { statement } = fc.letrec<{ statement: string }>((tie) => ({
      statement: fc
        .tuple(
          fc.constantFrom('', '', '/// doc\n', '// note\n'),
          head,
          fc.option(
            fc.tuple(
              fc.constantFrom('', '\n', ' '),
              fc.array(tie('statement'), { maxLength: 3 }),
              fc.constantFrom('; ', '\n'),
              fc.constantFrom('', ' // why\n', ' /* c */ '),
            ),
            { depthSize: 'small' },
          ),
        )
        .map(([before, h, block]) =>
          block
            ? `${before}${h} {${before ? '\n' : block[0]}${block[1].map((s) => (s.startsWith('/') ? `\n${s}` : s)).join(block[2])}${block[3]}}`
            : before + h,
        ),
    }));
    fc.assert(
      fc.property(fc.array(statement, { maxLength: 5 }), (statements) => {
        const source = new Source('a', `${statements.join('\n')}\n`, topWords);
        const printed = formatted(source);
        const again = new Source('a', printed, topWords);
        expect(shape(again)).toEqual(shape(source));
        expect(formatted(again)).toBe(printed);
      }),
      { numRuns: 500 },
    );
  });
});

describe('what only looks like the beginning of a line, or like none', () => {
  const docs = (text: string): (string | undefined)[] =>
    [...new Source('a', text, topWords).statements()].map((s) => s.doc);

  it('a byte order mark is in front of the first line', () => {
    expect(docs('\uFEFF/// why\nunit a b\n')).toEqual(['why']);
    expect(docs('\uFEFFunit a b\n/// why\nunit c d\n')).toEqual([undefined, 'why']);
  });

  it('a lone carriage return ends a line, and with it a comment', () => {
    expect(docs('rod a\r/// why\runit a b\r')).toEqual([undefined, 'why']);
    expect(docs('unit a b { // {\r}\nunit c d\n')).toHaveLength(2);
  });
});
