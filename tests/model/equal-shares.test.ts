/** How many trials equal shares take to be settled, beside what is centred and in chains that stand on one another. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { failure } from '../../server/model/conflicts.ts';
import type { Bound } from '../../server/model/constraints.ts';
import { greatestShares, type Meter, mostTrials, type Share, type Stretches } from '../../server/model/equal-shares.ts';
import type { Finding } from '../../server/model/finding.ts';
import { showInches } from '../../server/model/show.ts';
import { type Ticks, ticks } from '../../server/model/ticks.ts';
import { runs } from '../runs.ts';
import { projectOf } from './support.ts';

interface Asked {
  readonly system: Stretches<string>;
  readonly groups: readonly (readonly Share<string>[])[];
}

/** Of all the trials that are made, how many it took. */
function partTaken({ system, groups }: Asked): { readonly part: number; readonly isSettled: boolean } {
  const meter: Meter = { trials: 0 };
  const found = greatestShares(system, groups, meter);
  expect(found.kind).not.toBe('undecided');
  return { part: meter.trials / mostTrials(groups.length), isSettled: found.kind === 'greatest' };
}

const length = fc.integer({ min: 0, max: 20_000_000 });
const optional = (of: fc.Arbitrary<number>) => fc.option(of, { nil: undefined });
const side = (n: number | undefined): Ticks | undefined => (n === undefined ? undefined : ticks(n));

/**
 * One behind the other from the left end, with shares in groups at random, and more statements between any two ends:
 * around lengths that hold, with as much to spare on either side as is drawn, and now and then too little.
 */
const chained = (zones: number, groups: number): fc.Arbitrary<Asked> => {
  const spare = fc.oneof(
    { weight: 6, arbitrary: optional(length) },
    fc.constant(0),
    { weight: 30, arbitrary: optional(length) },
    fc.integer({ min: -zones, max: 0 }),
  );
  return fc
    .record({
      each: fc.array(length, { minLength: groups, maxLength: groups }),
      isOpen: fc.boolean(),
      drawn: fc.array(
        fc.record({
          own: length,
          below: spare,
          above: spare,
          group: fc.integer({ min: -1, max: groups - 1 }),
          weight: fc.integer({ min: 1, max: 100 }),
        }),
        { minLength: 1, maxLength: zones },
      ),
      more: fc.array(fc.record({ a: fc.nat(999), b: fc.nat(999), below: spare, above: spare }), { maxLength: zones }),
    })
    .map(({ each, isOpen, drawn, more }): Asked => {
      const bounds: Bound<string>[] = [];
      const shares = each.map((): Share<string>[] => []);
      const at = [0];
      const say = (label: string, [from, to]: readonly [number, number], below?: number, above?: number): void => {
        const is = (at[to] as number) - (at[from] as number);
        const [least, most] = [
          below === undefined ? undefined : is - below,
          above === undefined ? undefined : is + above,
        ];
        bounds.push({ from, to, least: side(least), most: side(most), label });
      };
      drawn.forEach(({ own, below, above, group, weight }, i) => {
        const unit = each[group];
        const is = unit === undefined ? own : weight * unit;
        at.push((at[i] as number) + is);
        bounds.push({ from: i, to: i + 1, least: ticks(0), label: `zone ${i}` });
        say(`zone ${i}`, [i, i + 1], below, above);
        shares[group]?.push({ from: i, to: i + 1, weight, label: `zone ${i}` });
      });
      if (!isOpen) say('whole', [0, drawn.length], 0, 0);
      more.forEach(({ a, b, below, above }, i) => {
        const [from, to] = [a, b].map((n) => n % at.length).sort((one, other) => one - other) as [number, number];
        if (from !== to) say(`more ${i}`, [from, to], below, above);
      });
      const longest = ticks((at.at(-1) as number) + 1);
      return { system: { nodeCount: at.length, bounds, longest }, groups: shares.filter((of) => of.length > 0) };
    });
};

/** Something centred on a wall, as often as there are `chains`, each to be held off by those before it. */
function allCentred(chains: number, zones: number, whole: number): Asked {
  const bounds: Bound<string>[] = [{ from: 0, to: 1, least: ticks(whole), most: ticks(whole), label: 'wall' }];
  const groups: Share<string>[][] = [];
  let node = 2;
  for (let c = 0; c < chains; c++) {
    const [left, right] = [node, node + 1];
    node += 2;
    bounds.push({ from: left, to: right, least: ticks(c), most: ticks(1_000_003 * (c + 1)), label: `chain ${c}` });
    groups.push([
      { from: 0, to: left, weight: 1, label: `centred ${c}` },
      { from: right, to: 1, weight: 1, label: `centred ${c}` },
    ]);
    if (c > 0) bounds.push({ from: left - 1, to: left, least: ticks(0), label: `behind ${c}` });
  }
  const shares: Share<string>[] = [];
  for (let i = 0; i < zones; i++) {
    const from = i === 0 ? 0 : node - 1;
    bounds.push({ from, to: node, least: ticks((i * 7919) % 500_000), most: ticks(2_000_000 + i), label: `zone ${i}` });
    shares.push({ from, to: node, weight: 1 + ((i * 37) % 100), label: `zone ${i}` });
    node++;
  }
  if (shares.length > 0) bounds.push({ from: node - 1, to: 2, least: ticks(0), most: ticks(0), label: 'up to it' });
  return {
    system: { nodeCount: node, bounds, longest: ticks(whole + 1) },
    groups: [...groups, ...(shares.length > 0 ? [shares] : [])],
  };
}

describe('equal shares are settled', () => {
  it.each([
    [1, 40, 300],
    [2, 30, 200],
    [3, 20, 150],
    [5, 20, 60],
  ])('in far fewer trials than are made, %i groups of them', (groups, zones, times) => {
    let [worst, settled] = [0, 0];
    fc.assert(
      fc.property(chained(zones, groups), (asked) => {
        const { part, isSettled } = partTaken(asked);
        worst = Math.max(worst, part);
        if (isSettled) settled++;
      }),
      runs(times),
    );
    expect(worst).toBeLessThan(0.2);
    expect(settled).toBeGreaterThan(times / 10);
  });

  it.each([
    [1, 0],
    [1, 1000],
    [2, 100],
    [8, 30],
    [40, 0],
    [999, 0],
  ])('so too where %i chains are centred, beside %i that share', (chains, zones) => {
    const { part } = partTaken(allCentred(chains, zones, 900_000_000));
    expect(part).toBeLessThan(0.2);
  });

  it('or said not to be, where the trials do not suffice', () => {
    const { system, groups } = allCentred(2, 5, 900_000_000);
    expect(greatestShares(system, groups, { trials: 0, most: 2 })).toEqual({ kind: 'undecided' });
    expect(greatestShares(system, groups).kind).not.toBe('undecided');
  });

  it('which is told of the zones that share', () => {
    const [unit] = projectOf(
      'template t {\n  wall back { length 90in }\n  zone a on back { width share }\n  zone b on back centred { width 20in }\n}\nunit u t\n',
    ).units();
    const zones = unit?.resolved?.spec.zones ?? [];
    const place = zones[0]?.place as Finding['place'];
    const wall = { name: 'back', said: 'the back wall', place, zones };
    const found = failure({ kind: 'unsettled', zones }, wall, undefined, false, showInches);
    expect([found.rule.id, found.message, found.related.length]).toEqual([
      'width-undecided',
      'How zones "a" and "b" share the back wall could not be worked out: their shares hang together in more ways than are tried.',
      1,
    ]);
  });
});
