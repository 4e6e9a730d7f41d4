/**
 * Every case of the corpus, and a few of the random ones of which `npm run fuzz` tries as many as there is time for. What
 * it finds is written to the corpus, made small, and stays there.
 */
import { describe, expect, it } from 'vitest';
import { readingLimits } from '../../grammar/limits.ts';
import { escaped, unescaped } from './case.ts';
import { corpusOf } from './corpus.ts';
import { explore, faultOf } from './explore.ts';
import { minimised } from './minimise.ts';
import { randomFrom } from './random.ts';
import { Fault, type Target } from './target.ts';
import { grammar } from './targets/grammar.ts';
import { targets } from './targets.ts';

/** So many cases of each; `npm run fuzz` has no such bound. */
const tries: Readonly<Record<string, number>> = {
  grammar: 400,
  formatter: 150,
  project: 10,
  incremental: 40,
  protocol: 20,
  survey: 60,
  readers: 60,
};
const asked = process.env.STORYPOLE_SEED ?? '20261128';
const seed = asked === 'random' ? Date.now() & 0x7fffffff : Number(asked);

describe.each(targets)('$name', { timeout: 300_000 }, (target) => {
  const corpus = corpusOf(target.name);
  it('holds in every case of the corpus', async () => {
    expect(corpus.length).toBeGreaterThan(0);
    for (const { name, text } of corpus) expect(await faultOf(target, text), name).toBeUndefined();
  });

  it(`holds in random ones, from seed ${seed}`, async () => {
    const cases = [...target.seeds().slice(0, 8), ...corpus.map(({ text }) => text)];
    const random = randomFrom(seed);
    const most = tries[target.name] ?? 20;
    let tried = 0;
    for (; tried < most; tried++) {
      const text = target.mutate(random.pick(cases), random, [random.pick(cases), random.pick(cases)]);
      const fault = await faultOf(target, text);
      if (fault !== undefined) throw new Error(`${String(fault)}\n\n${escaped(text)}`);
    }
    expect(tried).toBe(most);
  });
});

describe('grammar, where there is more than is read', () => {
  // A corpus is for small texts; these are long by what they are about.
  it.each([
    ['outside of any declaration', 'taken "15 March"\n'.repeat(readingLimits.mostStatements.most + 100)],
    ['in a block', `unit a b {${'taken "15 March"\n'.repeat(readingLimits.mostStatements.most + 100)}}`],
  ])('holds %s', async (_, text) => {
    expect(await faultOf(grammar, text)).toBeUndefined();
  });
});

describe('the fuzzer itself', () => {
  /** Something that does not hold: a text with a brace in it. */
  const wrong: Target = {
    name: 'wrong',
    seeds: () => ['abc'],
    mutate: (text, random) => text + random.pick(['x', '{', '\n']),
    run: (text) => {
      if (text.includes('{')) throw new Fault('no braces', text);
    },
  };

  it('finds what does not hold, once, and makes it small', async () => {
    const { found, tried } = await explore({
      target: wrong,
      random: randomFrom(1),
      corpus: wrong.seeds(),
      goOn: (n) => n < 50,
    });
    expect(found.map(({ signature, text }) => [signature, text])).toEqual([['no braces', '{']]);
    expect(tried).toBe(50);
  });

  it('makes small what needs several parts of a text', async () => {
    const text = Array.from({ length: 40 }, (_, i) => `line ${i} { a; b }\n`).join('');
    const small = await minimised(text, (t) => t.includes('7') && t.includes('{ a'));
    expect([...small].sort().join('')).toBe(' 7a{');
  });

  it('writes any text so that it can be read again', () => {
    for (const text of [
      '',
      'a\r\nb\u2028\ud800\0\\u{1}\ufeff \n',
      '\\\\u{41}',
      'é 🚪 \u202e',
      'a\uffffb',
      '\udeaa\ud83d',
    ])
      expect(unescaped(escaped(text))).toBe(text);
  });

  it('draws the same from the same seed', () => {
    const drawn = (of: number): number[] => {
      const random = randomFrom(of);
      return Array.from({ length: 5 }, () => random.int(1000));
    };
    expect(drawn(3)).toEqual(drawn(3));
    expect(drawn(3)).not.toEqual(drawn(4));
  });
});
