/** Whether brackets, screws and anchors hold; forces worked out beside each case. */
import { describe, expect, it } from 'vitest';
import { structureCheck } from '../../../server/checks/structure/check.ts';
import type { FittingLayout, WallLayout } from '../../../server/model/layout.ts';
import type { Demands, Hardware } from '../../../server/model/materials.ts';
import { inches, ticks } from '../../../server/model/ticks.ts';
import { ids, layout, only, place, standsOn, wall } from '../layouts.ts';
import { asking, hardware, line, loadedRod, loadedShelf } from './layouts.ts';

const POUND = 0.45359237;

const studs = (given: Partial<WallLayout> = {}): WallLayout => ({
  ...wall('back', 96),
  studs: [inches(6), inches(42)],
  studsFrom: 'drawn',
  framing: 'spf',
  lining: inches(1 / 2),
  ...given,
});

const screws = (size: string) => [{ size, count: 2, into: 'wall' as const, place: place('screws') }];

/** Two brackets, 6 in from the ends, with a leg of 9 in and two screws. */
function bracket(given: Partial<Hardware> = {}): Hardware {
  return hardware('bracket', {
    name: 'angle',
    inset: inches(6),
    least: 2,
    leg: inches(9),
    reach: inches(12),
    screws: screws('#8 x 3 in'),
    ...given,
  });
}

function look(fittings: readonly FittingLayout[], back = studs(), demands: Partial<Demands> = {}) {
  const plain = asking(fittings, demands);
  const input = { ...plain, layout: layout(fittings, { walls: [wall('left', 25), back, wall('right', 25)] }) };
  const found = structureCheck.run(input).filter(({ rule }) => rule.family === 'fixing');
  return { found, gaps: plain.gaps, looks: plain.looks };
}

// 40 lbf/ft on 48 in and two brackets: 80 lbf on each, 6 in from the wall (half of 12 in): 480 lbf in, over a leg of
// 9 in 53.33 lbf on the one upper screw of two.
const shelfOn = (hardwareGiven: Hardware) => loadedShelf(48, { carried: [hardwareGiven] });

describe('screws of a bracket in studs', () => {
  // NDS 12.2-2, #8 in spruce-pine-fir: 82.45 lb an inch of thread.
  it('hold with 2 in of thread in the wood', () => {
    const { found, looks } = look([shelfOn(bracket())]);
    expect(found).toEqual([]);
    const [first] = looks.filter(({ rule }) => rule.id === 'screws-pulled');
    expect(first?.comparison).toMatchObject({
      measured: { amount: expect.closeTo(53.333, 3), unit: 'lbf' },
      limit: { amount: expect.closeTo(164.9, 1), unit: 'lbf' },
    });
    expect(first?.holds).toBe(true);
  });

  it('are pulled too hard where little of them gets past the lining', () => {
    // 1 in through 1/2 in of lining: 1/2 in, 41.2 lb.
    const { found } = look([shelfOn(bracket({ screws: screws('#8 x 1 in') }))]);
    expect(ids(found)).toEqual(['screws-pulled']);
    expect(found[0]?.message).toBe(
      '"angle" at 6in pulls each of its upper screws with 53.33 lbf; a screw "#8 x 1 in" in spf behind 1/2in of lining is allowed 41.22 lbf. It carries shelf "tower.top" under 40 lbf/ft2. That at 42in is past it too.',
    );
    // 53.33 / 82.45 = 0.647 in of thread: 1.147 in long with the lining, up to 1-3/16; leg 9 x 53.33 / 41.22 = 11.64 in.
    expect(found[0]?.advice).toContain(
      'Take screws at least 1-3/16in long, a bracket with a leg of at least 11-11/16in,',
    );
    expect(found[0]?.advice).toContain('ask a licensed engineer');
    expect(look([shelfOn(bracket({ screws: screws('#8 x 1-3/16 in') }))]).found).toEqual([]);
    expect(look([shelfOn(bracket({ screws: screws('#8 x 1 in'), leg: inches(11 + 11 / 16) }))]).found).toEqual([]);
  });

  it('that do not reach the stud hold nothing', () => {
    const { found } = look([shelfOn(bracket({ screws: screws('#8 x 1/2 in') }))]);
    expect(found[0]?.message).toContain('is allowed 0 lbf.');
    expect(found[0]?.advice).not.toContain('leg of');
  });

  it('are not compared where the wall does not say what its studs are', () => {
    const { found, gaps } = look([shelfOn(bracket())], studs({ framing: undefined }));
    expect(found).toEqual([]);
    expect(gaps.map(({ rule, needs }) => `${rule.id}: ${needs}`)).toContain(
      'screws-pulled: the framing of the back wall',
    );
    const unsaid = look([shelfOn(bracket())], studs({ studsFrom: undefined }));
    expect(unsaid.gaps.map(({ needs }) => needs)).toContain('the studs of the back wall');
  });
});

describe('a rod that hangs from brackets', () => {
  it('pulls at them with its own distance from the wall', () => {
    // 30 lbf/ft on 48 in: 60 lbf on each hook, 9 in from the wall: 540 lbf in more, (480 + 540) / 9 = 113.33 lbf.
    const hook = hardware('hook', { setBack: inches(3) });
    const plain = loadedRod(48, { carried: [hook], fromWall: inches(9) });
    const rod = { ...plain, at: { value: inches(57), least: inches(57), most: inches(57) } };
    const { looks } = look([shelfOn(bracket()), rod]);
    const pulled = looks.filter(({ rule }) => rule.id === 'screws-pulled');
    expect(pulled.length).toBe(2);
    for (const { comparison } of pulled) {
      expect(comparison.measured).toEqual({ amount: expect.closeTo(113.333, 3), unit: 'lbf' });
    }
  });
});

describe('anchors', () => {
  const nowhere = studs({ studs: [] });
  const plug = (pounds: number | undefined) =>
    hardware('anchor', { name: 'plug', rated: pounds === undefined ? undefined : pounds * POUND });

  it('carry pull and push together, up to their rating', () => {
    // Pull 53.33 and push 80 / 2 = 40: sqrt(53.33^2 + 40^2) = 66.67 lbf.
    expect(look([shelfOn(bracket({ anchor: plug(67) }))], nowhere).found).toEqual([]);
    const { found } = look([shelfOn(bracket({ anchor: plug(66) }))], nowhere);
    expect(ids(found)).toEqual(['anchor-past-rating']);
    expect(found[0]?.message).toContain(
      '"angle" at 6in puts 66.67 lbf on each "plug", which its maker rates for 66 lbf.',
    );
    expect(found[0]?.advice).toContain('rated for at least 67 lb.');
  });

  it('are rated less by the factor of a policy', () => {
    const anchorFactor = { value: 4, place: place('anchor-factor'), policy: 'everyday' };
    expect(look([shelfOn(bracket({ anchor: plug(267) }))], nowhere, { anchorFactor }).found).toEqual([]);
    const { found } = look([shelfOn(bracket({ anchor: plug(266) }))], nowhere, { anchorFactor });
    expect(found[0]?.message).toContain('which its maker rates for 66.5 lbf, divided by 4.');
    expect(found[0]?.advice).toContain('rated for at least 267 lb.');
    expect(found[0]?.related.map((r) => standsOn(r.place))).toContain('anchor-factor');
  });

  it('without a rating are never computed', () => {
    const { found, gaps } = look([shelfOn(bracket({ anchor: plug(undefined) }))], nowhere);
    expect(found).toEqual([]);
    expect(gaps.map(({ needs }) => needs)).toContain('the rating of anchor "plug"');
  });

  it('of an end cup carry its share of the rod', () => {
    // 30 lbf/ft on 96 in: 120 lbf on each cup, 60 on each of two anchors. The side walls have no studs there.
    const cup = hardware('cup', { anchor: plug(59), screws: screws('#8 x 1-1/2 in') });
    const rod = loadedRod(96, { loads: [line(30)], carried: [cup] });
    const bare = (name: string) => ({ ...wall(name, 25), studsFrom: 'drawn' as const });
    const plain = asking([rod]);
    const walls = [bare('left'), studs(), bare('right')];
    const right = (a: string, b: string) => ({
      walls: [a, b] as const,
      angle: 90,
      measured: false,
      place: place('corner'),
    });
    const corners = [right('left', 'back'), right('back', 'right')];
    const found = structureCheck.run({ ...plain, layout: { ...layout([rod], { walls }), corners } });
    expect(only(found, 'anchor-past-rating').message).toMatch(
      /^"cup" at \S+ puts 60 lbf on each "plug", .* That at \S+ is past it too\.$/,
    );
  });
});

describe('hardware with a rating', () => {
  it('carries no more than that', () => {
    expect(look([shelfOn(bracket({ rated: 81 * POUND }))]).found).toEqual([]);
    const told = look([shelfOn(bracket({ rated: 79 * POUND }))]).found;
    expect(only(told, 'hardware-past-rating').message).toContain(
      '"angle" at 6in carries 80 lbf, and its maker rates it for 79 lbf.',
    );
    expect(told[0]?.advice).toContain('rated for at least 80 lb.');
  });

  it('is told once for all of a kind, by the piece that carries most', () => {
    // Of three brackets the middle one carries the most: half of 160 lbf by their shares of the shelf.
    const shelf = loadedShelf(48, { carried: [bracket({ rated: 30 * POUND, least: 3 })] });
    const { message, comparison } = only(look([shelf]).found, 'hardware-past-rating');
    expect(message).toMatch(/^"angle" at (\S+) carries .* Those at (\S+) and (\S+) are past it too\.$/);
    const loads = look([shelf]).looks.filter(({ rule }) => rule.id === 'hardware-past-rating');
    const amounts = loads.map(({ comparison: { measured } }) => (measured as { amount: number }).amount);
    expect(amounts.length).toBe(3);
    expect(comparison).toMatchObject({ measured: { amount: Math.max(...amounts) } });
  });

  it('is not compared where nothing says what it carries', () => {
    const { found, gaps } = look([loadedShelf(48, { loads: [], carried: [bracket({ rated: 10 })] })]);
    expect(found).toEqual([]);
    expect(gaps.filter(({ rule }) => rule.id === 'hardware-past-rating').map(({ needs }) => needs)).toEqual([
      'what shelf tower.top carries',
    ]);
  });
});

it('absurd numbers are shown, and nothing is thrown', () => {
  const soft = loadedShelf(96, { loads: [{ kind: 'line', amount: 1e30, place: place('line-load') }] });
  const board = soft.board && { ...soft.board, stiffness: 1e-9, strength: 1 };
  const { found } = look([
    { ...soft, board, carried: [bracket({ rated: 1 })], at: { value: ticks(1), least: ticks(1), most: ticks(1) } },
  ]);
  expect(found.length).toBeGreaterThan(0);
});
