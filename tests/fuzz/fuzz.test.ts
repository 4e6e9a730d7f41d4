/** What was found before holds from then on, and a short walk with one seed goes a little beyond it. `npm run fuzz` goes far. */
import { describe, expect, it } from 'vitest';
import { corpusOf } from './corpus.ts';
import { explore, faultOf } from './explore.ts';
import { randomFrom } from './random.ts';
import { targets } from './targets.ts';

/** Milliseconds of processor time for each target; a machine that is busy tries as many cases, not fewer. */
const share = 2500;

/** As the other random input of the tests has it. */
const asked = process.env.STORYPOLE_SEED ?? '20261128';
const seed = asked === 'random' ? Date.now() & 0x7fffffff : Number(asked);

describe.each(targets.map((target) => [target.name, target] as const))('%s', (name, target) => {
  it('holds for every case that is kept', async () => {
    for (const { name: file, text } of corpusOf(name)) expect(await faultOf(target, text), file).toBeUndefined();
  });

  it('holds for what a short walk comes to', async () => {
    const began = process.threadCpuUsage();
    const { found, tried } = await explore({
      target,
      random: randomFrom(seed),
      corpus: target.seeds().slice(0, 12),
      goOn: () => {
        const { user, system } = process.threadCpuUsage(began);
        return (user + system) / 1000 < share;
      },
    });
    expect(found.map(({ signature, message, text }) => `${signature}\n${message}\n${text}`)).toEqual([]);
    expect(tried).toBeGreaterThan(3);
  });
});
