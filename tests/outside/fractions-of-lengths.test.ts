/**
 * What is written, computed, rounded, shared and shown of lengths, counts and money, against exact fractions.
 *
 * source: fraction.js (R. Eisele, MIT), fractions of whole numbers of any size. The inch is 25.4 mm exactly and a foot
 * 12 inches (NIST SP 811, appendix B). No arithmetic of ours is used on its side.
 */
import fc from 'fast-check';
import Fraction from 'fraction.js';
import { describe, expect, it } from 'vitest';
import { readLength } from '../../server/cli/length-text.ts';
import { money } from '../../server/model/money.ts';
import { type Show, showLength } from '../../server/model/show.ts';
import { divide, LONGEST, roundDown, roundUp, ticks } from '../../server/model/ticks.ts';
import { evaluated } from '../grammar/evaluated.ts';
import { longer, runs } from '../runs.ts';

/** Nanometres of each unit of measure; a tick is 25 of them. */
const nanometres: Readonly<Record<string, number>> = {
  in: 25_400_000,
  '"': 25_400_000,
  ft: 304_800_000,
  "'": 304_800_000,
  mm: 1_000_000,
  cm: 10_000_000,
  m: 1_000_000_000,
};
const kilometre = new Fraction(LONGEST);

/** A piece of text and what it means: a length in ticks, a count or hundredths of money, or that it means nothing. */
interface Written {
  readonly text: string;
  readonly meaning: Meaning | undefined;
  /** How many findings it gets. */
  readonly findings: number;
  /** Of its last operator, for parentheses: the higher binds closer. */
  readonly binds: number;
}

interface Meaning {
  readonly of: 'length' | 'count' | 'money';
  readonly value: Fraction;
}

const inTicks = (number: Fraction, unit: string): Fraction => number.mul(nanometres[unit] as number).div(25);

function literal(text: string, value: Fraction): Written {
  const isExact = value.d === 1n;
  const isShort = value.lte(kilometre);
  return isExact && isShort
    ? { text, meaning: { of: 'length', value }, findings: 0, binds: 9 }
    : { text, meaning: undefined, findings: 1, binds: 9 };
}

const whole = (most: number) => fc.integer({ min: 0, max: most });
const decimal = fc
  .record({ whole: whole(3000), digits: fc.array(whole(9), { maxLength: 5 }) })
  .map(({ whole, digits }) => (digits.length > 0 ? `${whole}.${digits.join('')}` : `${whole}`));
const vulgar = fc
  .record({ above: whole(200), below: fc.constantFrom(2, 4, 8, 16, 32, 64, 3, 5, 7, 10, 127, 1000) })
  .map(({ above, below }) => ({ text: `${above}/${below}`, value: new Fraction(above, below) }));
const mixed = fc
  .record({ before: whole(400), part: vulgar, joint: fc.constantFrom('-', ' ') })
  .map(({ before, part, joint }) => ({
    text: `${before}${joint}${part.text}`,
    value: new Fraction(before).add(part.value),
  }));
const number = fc.oneof(
  decimal.map((text) => ({ text, value: new Fraction(text) })),
  vulgar,
  mixed,
);

const lengths: fc.Arbitrary<Written> = fc.oneof(
  fc
    .record({ number, unit: fc.constantFrom('in', 'ft', 'mm', 'cm', 'm', '"', "'"), space: fc.constantFrom('', ' ') })
    .map(({ number: { text, value }, unit, space }) =>
      literal(`${text}${/["']/.test(unit) ? '' : space}${unit}`, inTicks(value, unit)),
    ),
  // Feet and inches.
  fc
    .record({
      feet: whole(40),
      inches: fc.oneof(
        mixed,
        vulgar,
        whole(11).map((n) => ({ text: `${n}`, value: new Fraction(n) })),
      ),
      how: fc.constantFrom(
        ['ft ', 'in'] as const,
        ["'-", '"'] as const,
        ["'", '"'] as const,
        ["' ", '"'] as const,
        ['ft ', '"'] as const,
      ),
    })
    .map(({ feet, inches, how: [between, end] }) =>
      literal(
        `${feet}${between}${inches.text}${end}`,
        inTicks(new Fraction(feet), 'ft').add(inTicks(inches.value, 'in')),
      ),
    ),
);

describe('a length as it is written', () => {
  it('is the fraction that it says, in whole ticks, or has a finding', () => {
    let kept = 0;
    fc.assert(
      fc.property(lengths, ({ text, meaning, findings }) => {
        const read = evaluated(text);
        expect([text, read.findings.length]).toEqual([text, findings]);
        expect(read.value).toEqual(meaning && { kind: 'length', ticks: Number(meaning.value.n * meaning.value.s) });
        if (meaning) kept++;
      }),
      runs(1500),
    );
    expect(kept).toBeGreaterThan(500);
  });

  it('that is too fine is offered the marks right below and right above it', () => {
    const fine = fc
      .record({ number, unit: fc.constantFrom('in', 'ft', 'mm', 'cm') })
      .map(({ number: { text, value }, unit }) => ({ text: `${text}${unit}`, exact: inTicks(value, unit) }))
      .filter(({ exact }) => exact.d !== 1n);
    fc.assert(
      fc.property(fine, ({ text, exact }) => {
        const [found] = evaluated(text).findings;
        expect(found?.rule.id).toBe('finer-than-a-tick');
        const [below, above] = (found?.fixes ?? []).map(({ edits }) => {
          const { value } = evaluated(edits[0]?.text as string);
          return new Fraction(value?.kind === 'length' ? value.ticks : Number.NaN);
        }) as [Fraction, Fraction];
        expect(below.lt(exact)).toBe(true);
        expect(above.gt(exact)).toBe(true);
        // A 64th or a thousandth of an inch, a thousandth of a millimetre.
        expect([15_875, 1_016, 40]).toContain(Number(above.sub(below).n));
      }),
      runs(500),
    );
  });

  it('reads the same on the command line', () => {
    fc.assert(
      fc.property(lengths, ({ text, meaning }) => {
        const read = readLength(text);
        if (!meaning || meaning.value.n === 0n) expect(read.kind).toBe('refused');
        // What no house has is refused there, as a slip of the unit of measure.
        else if (read.kind === 'read') expect(read.length).toBe(Number(meaning.value.n));
        else expect(Number(meaning.value.n)).toBeGreaterThan(40 * 1_016_000);
      }),
      runs(300),
    );
  });
});

describe('a computed value', () => {
  const counts: fc.Arbitrary<Written> = fc
    .oneof(
      number,
      whole(30).map((n) => ({ text: `${n}`, value: new Fraction(n) })),
    )
    .map(({ text, value }) => ({ text, meaning: { of: 'count', value }, findings: 0, binds: 9 }));
  const prices: fc.Arbitrary<Written> = decimal.map((text) => {
    // Read in whole hundredths, half up.
    const value = new Fraction(text).mul(100).add(new Fraction(1, 2)).floor();
    return { text: `${text} EUR`, meaning: { of: 'money', value }, findings: 0, binds: 9 };
  });
  const names = { 'back.length': 95_250_000, width: 48_768_000, odd: 33_333_333 };
  const named: fc.Arbitrary<Written> = fc
    .constantFrom(...Object.entries(names))
    .map(([text, value]) => ({ text, meaning: { of: 'length', value: new Fraction(value) }, findings: 0, binds: 9 }));

  const binding = { '+': 1, '-': 1, '*': 2, '/': 2 } as const;
  type Operator = keyof typeof binding;

  /** The meaning of two values computed, or that there is none: what the reference of the language says. */
  function combined(operator: Operator, a: Meaning, b: Meaning): Meaning | undefined {
    const value = (of: Meaning['of'], exact: Fraction): Meaning | undefined => {
      if (of !== 'length') return { of, value: exact };
      // Rounded down to a tick, towards less; and no more than a kilometre.
      const kept = exact.floor();
      return kept.abs().lte(kilometre) ? { of, value: kept } : undefined;
    };
    if (operator === '+' || operator === '-')
      return a.of === b.of ? value(a.of, operator === '+' ? a.value.add(b.value) : a.value.sub(b.value)) : undefined;
    if (operator === '*') {
      if (a.of !== 'count' && b.of !== 'count') return undefined;
      return value(a.of === 'count' ? b.of : a.of, a.value.mul(b.value));
    }
    if (b.value.n === 0n || b.of === 'money') return undefined;
    if (b.of === 'length') return a.of === 'length' ? value('count', a.value.div(b.value)) : undefined;
    return value(a.of, a.value.div(b.value));
  }

  const enclosed = ({ text, binds }: Written, least: number): string => (binds < least ? `(${text})` : text);

  function binary(operator: Operator, a: Written, b: Written): Written {
    const binds = binding[operator];
    const text = `${enclosed(a, binds)} ${operator} ${enclosed(b, binds + 1)}`;
    if (!a.meaning || !b.meaning) return { text, binds, meaning: undefined, findings: a.findings + b.findings };
    const meaning = combined(operator, a.meaning, b.meaning);
    return { text, binds, meaning, findings: meaning ? 0 : 1 };
  }

  function best(name: 'min' | 'max', args: readonly Written[]): Written {
    const text = `${name}(${args.map((arg) => arg.text).join(', ')})`;
    const unknown = args.reduce((sum, { findings }) => sum + findings, 0);
    const meanings = args.flatMap(({ meaning }) => meaning ?? []);
    if (meanings.length < args.length) {
      // Those before the first that is not known are compared with each other, and that may go wrong too.
      const before = args
        .slice(
          0,
          args.findIndex(({ meaning }) => !meaning),
        )
        .map(({ meaning }) => meaning?.of);
      return { text, binds: 9, meaning: undefined, findings: unknown + (new Set(before).size > 1 ? 1 : 0) };
    }
    if (new Set(meanings.map(({ of }) => of)).size > 1) return { text, binds: 9, meaning: undefined, findings: 1 };
    const meaning = meanings.reduce((a, b) => ((name === 'min' ? b.value.lt(a.value) : b.value.gt(a.value)) ? b : a));
    return { text, binds: 9, meaning, findings: 0 };
  }

  const { tree } = fc.letrec<{ tree: Written; leaf: Written; inner: Written }>((tie) => ({
    leaf: fc.oneof(
      { weight: 5, arbitrary: lengths },
      { weight: 4, arbitrary: counts },
      { weight: 2, arbitrary: named },
      prices,
    ),
    inner: fc.oneof(
      {
        weight: 6,
        arbitrary: fc
          .tuple(fc.constantFrom<Operator>('+', '-', '*', '/'), tie('tree'), tie('tree'))
          .map(([operator, a, b]) => binary(operator, a, b)),
      },
      tie('tree').map(({ text, meaning, findings, binds }) => ({
        text: `-${binds < 3 ? `(${text})` : text}`,
        meaning: meaning && { ...meaning, value: meaning.value.neg() },
        findings,
        binds: 3,
      })),
      tie('tree').map((inner) => ({ ...inner, text: `(${inner.text})`, binds: 9 })),
      fc
        .tuple(fc.constantFrom('min' as const, 'max' as const), fc.array(tie('tree'), { minLength: 1, maxLength: 3 }))
        .map(([name, args]) => best(name, args)),
    ),
    tree: fc.oneof({ maxDepth: 5, withCrossShrink: true }, tie('leaf'), tie('inner')),
  }));

  /** Only sums, multiples and parts of lengths, so that most of them mean something. */
  const sound = fc
    .tuple(
      lengths,
      fc.array(fc.tuple(fc.constantFrom<Operator>('+', '-', '*', '/'), lengths, counts), { maxLength: 6 }),
    )
    .map(([first, more]) =>
      more.reduce(
        (sum, [operator, length, count]) => binary(operator, sum, binding[operator] === 1 ? length : count),
        first,
      ),
    );

  function compare({ text, meaning, findings }: Written): 'known' | 'unknown' {
    const read = evaluated(text, names);
    expect([text, read.findings.map(({ message }) => message)]).toEqual([
      text,
      Array.from({ length: findings }, () => expect.any(String)),
    ]);
    if (!meaning) {
      expect([text, read.value]).toEqual([text, undefined]);
      return 'unknown';
    }
    const { value } = read;
    if (meaning.of === 'length')
      expect([text, value]).toEqual([text, { kind: 'length', ticks: Number(meaning.value.n * meaning.value.s) }]);
    else {
      expect([text, value?.kind === 'number' && value.dimension]).toEqual([text, meaning.of]);
      // The nearest number, which fraction.js gives within a few of its last digits.
      const amount = value?.kind === 'number' ? value.amount : Number.NaN;
      const exactly = meaning.value.valueOf();
      expect([text, Math.abs(amount - exactly) <= Math.abs(exactly) * 1e-15]).toEqual([text, true]);
      if (meaning.value.d === 1n && Number.isSafeInteger(exactly)) expect([text, amount]).toEqual([text, exactly]);
    }
    return 'known';
  }

  it.each([
    ['any tree', tree, 2000, 0.2],
    ['sums, multiples and parts', sound, 1000, 0.3],
  ] as const)('is what exact fractions come to, each length rounded down to a tick: %s', (_, written, many, share) => {
    let known = 0;
    fc.assert(
      fc.property(written, (one) => {
        if (compare(one) === 'known') known++;
      }),
      runs(many),
    );
    // Neither half of the comparison is empty.
    expect(known).toBeGreaterThan(many * longer * share);
  });

  it('that passes a kilometre has a finding, and one that just reaches it has none', () => {
    const step = fc.integer({ min: 0, max: 3 });
    fc.assert(
      fc.property(step, fc.constantFrom(1, -1), (over, sign) => {
        const { value, findings } = evaluated(`${sign < 0 ? '-' : ''}(999m + 1000mm + ${over} * 0.001mm)`);
        expect([value?.kind === 'length' ? value.ticks : undefined, findings.length]).toEqual(
          over === 0 ? [sign * LONGEST, 0] : [undefined, 1],
        );
      }),
      runs(20),
    );
  });

  it('has as many digits as it needs, and a finding where nobody could need them', () => {
    const long = Array.from({ length: 60 }, (_, i) => `1/${1000 + i}`);
    const sum = (terms: number) => long.slice(0, terms).join(' + ');
    const { value } = evaluated(sum(20));
    const exact = long.slice(0, 20).reduce((a, b) => a.add(b), new Fraction(0));
    expect(value?.kind === 'number' && value.amount).toBe(exact.valueOf());
    expect(evaluated(long.join(' * ')).findings.map(({ message }) => message)).toEqual([
      'This has more digits than can be computed with.',
    ]);
  });
});

describe('rounding', () => {
  const length = fc.integer({ min: -LONGEST, max: LONGEST }).map(ticks);
  const step = fc.oneof(
    fc.constantFrom(63_500, 127_000, 15_875, 40_000, 20_000, 1_016_000),
    fc.integer({ min: 1, max: 2_000_000 }),
  );

  it('to steps of the saw is the nearest step in its direction, and less than a step away', () => {
    fc.assert(
      fc.property(length, step, (of, by) => {
        const exact = new Fraction(of).div(by);
        expect(new Fraction(roundDown(of, ticks(by))).equals(exact.floor().mul(by))).toBe(true);
        expect(new Fraction(roundUp(of, ticks(by))).equals(exact.ceil().mul(by))).toBe(true);
      }),
      runs(1000),
    );
  });

  it('of shares leaves nothing over: whole steps, the first ones larger by one, the rest of a step to the last', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: LONGEST }), fc.integer({ min: 1, max: 60 }), step, (of, shares, by) => {
        const parts = divide(ticks(of), shares, ticks(by)).map((part) => new Fraction(part));
        expect(parts).toHaveLength(shares);
        expect(parts.reduce((a, b) => a.add(b)).equals(of)).toBe(true);
        const steps = new Fraction(of).div(by).floor();
        const each = steps.div(shares).floor();
        const over = Number(steps.sub(each.mul(shares)).n);
        for (const [i, part] of parts.entries()) {
          const expected = each.add(i < over ? 1 : 0).mul(by);
          const rest = i === shares - 1 ? new Fraction(of).sub(steps.mul(by)) : new Fraction(0);
          expect(part.equals(expected.add(rest))).toBe(true);
        }
      }),
      runs(500),
    );
  });
});

describe('a length that is shown', () => {
  const length = fc.oneof(
    fc.integer({ min: -LONGEST, max: LONGEST }),
    fc.integer({ min: -100_000_000, max: 100_000_000 }),
    fc.integer({ min: -600 * 64, max: 600 * 64 }).map((n) => n * 15_875),
    fc.integer({ min: -1e7, max: 1e7 }).map((n) => n * 40),
  );
  /** Any step that a project may ask for: nths of an inch, whole thousandths of a millimetre. */
  const show: fc.Arbitrary<Show> = fc.oneof(
    fc
      .constantFrom(1, 2, 4, 8, 16, 32, 64, 5, 10, 20, 25, 40, 100, 127, 1000)
      .map((nth) => ({ system: 'inches' as const, step: ticks(1_016_000 / nth) })),
    fc
      .oneof(
        fc.constantFrom(1, 10, 100, 500, 1000, 5000, 10_000),
        whole(3000).map((n) => n + 1),
      )
      .map((thousandths) => ({ system: 'millimetres' as const, step: ticks(thousandths * 40) })),
  );

  /** What a text says, without the language: a sign, a whole number, a fraction or decimals, a unit of measure. */
  function said(text: string): { readonly ticks: Fraction; readonly isAbout: boolean } {
    const [, about, sign, before = '0', above = '0', below = '1', decimals = '', unit = ''] =
      /^(~?)(-?)(\d+(?!\d*\/))?(?:-?(\d+)\/(\d+))?(\.\d+)?(in|mm)$/.exec(text) ?? [];
    if (unit === '') throw new Error(`not a length: ${text}`);
    const size = new Fraction(`${before}${decimals}`).add(new Fraction(above).div(below));
    return { ticks: inTicks(sign === '-' ? size.neg() : size, unit), isAbout: about === '~' };
  }

  it('tells with ~ that it is rounded, exactly where it is', () => {
    fc.assert(
      fc.property(length, show, (of, how: Show) => {
        const text = showLength(ticks(of), how);
        const { ticks: told, isAbout } = said(text);
        expect([text, isAbout]).toEqual([text, !told.equals(of)]);
      }),
      runs(1500),
    );
  });

  it('is the nearest that its step has, never half a step away or more', () => {
    fc.assert(
      fc.property(length, show, (of, how: Show) => {
        const text = showLength(ticks(of), how);
        const { ticks: told } = said(text);
        const off = told.sub(of).abs();
        expect([text, off.lte(new Fraction(how.step, 2))]).toEqual([text, true]);
        // A fraction of an inch is in its lowest terms.
        const [, above, below] = /(\d+)\/(\d+)/.exec(text) ?? [];
        if (above && below) expect(new Fraction(`${above}/${below}`).d).toBe(BigInt(below));
      }),
      runs(1500),
    );
  });

  it('exactly is read again as the same ticks, by the language itself', () => {
    fc.assert(
      fc.property(length, show, (of, how: Show) => {
        const text = showLength(ticks(of), how);
        fc.pre(!text.startsWith('~') && Math.abs(of) <= LONGEST);
        const { value, findings } = evaluated(text);
        expect([text, findings.map(({ message }) => message), value]).toEqual([
          text,
          [],
          { kind: 'length', ticks: of },
        ]);
      }),
      runs(1000),
    );
  });

  it('orders as the lengths do', () => {
    fc.assert(
      fc.property(length, length, show, (a, b, how: Show) => {
        const [one, other] = [said(showLength(ticks(a), how)).ticks, said(showLength(ticks(b), how)).ticks];
        if (a <= b) expect(one.lte(other)).toBe(true);
        else expect(one.gte(other)).toBe(true);
      }),
      runs(500),
    );
  });
});

describe('money', () => {
  it('is shown to the hundredth, and reads back as what it was', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e12 }), (hundredths) => {
        const text = money(hundredths, 'EUR').replaceAll(',', '');
        expect(new Fraction(text.replace(' EUR', '')).mul(100).equals(hundredths)).toBe(true);
        expect(evaluated(text).value).toMatchObject({ dimension: 'money', amount: hundredths });
      }),
      runs(500),
    );
  });
});
