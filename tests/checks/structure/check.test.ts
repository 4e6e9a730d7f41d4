/** Sag and stress of shelves and rods in a layout: just passing, just failing, and what is missing. */
import { describe, expect, it } from 'vitest';
import { structureCheck } from '../../../server/checks/structure/check.ts';
import { PSI } from '../../../server/checks/structure/units.ts';
import { add, inches, type Ticks, ticks } from '../../../server/model/ticks.ts';
import { garment, ids, layout, only, opening, place, standsOn, TICK } from '../layouts.ts';
import { area, asking, between, force, hardware, limit, line, loadedRod, loadedShelf, pine, tube } from './layouts.ts';

const run = structureCheck.run;

/** A shelf between the wall and a panel at this place. */
function ending(at: Ticks) {
  const plain = loadedShelf(40);
  return between({ ...plain, box: { ...plain.box, x: [inches(0), at] } });
}

describe('a shelf between a wall and a panel', () => {
  // Architectural Woodwork Standards, edition 1, 10-4.4.14.10: 950,000 psi, 3/4 in, 40 psf: 40 in. In full
  // (384 E I / (5 x 144 w))^(1/3) = (384 x 950e3 x 0.421875 / (720 x 3.3333))^(1/3) = 40.026 in.
  const greatest = Math.cbrt((384 * 950e3 * ((12 * 0.75 ** 3) / 12)) / (720 * (40 / 12)));
  const last = ticks(Math.floor(greatest * inches(1)));
  const asked = { deflection: { shelf: limit(144) } };

  it('passes at the greatest span, and fails a thousandth of an inch further', () => {
    expect(greatest).toBeCloseTo(40.026, 3);
    expect(ids(run(asking(ending(last), asked)))).toEqual([]);
    expect(ids(run(asking(ending(add(last, ticks(1016))), asked)))).toEqual(['shelf-sags']);
  });

  it('passes one tick below what it fails at one tick above', () => {
    expect(ids(run(asking(ending(add(last, ticks(-1))), asked)))).toEqual([]);
    expect(ids(run(asking(ending(add(last, ticks(2))), asked)))).toEqual(['shelf-sags']);
    expect(TICK).toBe(1);
  });

  it('tells how far it sags, what is allowed, and each way to mend it', () => {
    // 48 in: 5 w L4 / (384 E I) = 5 x 3.3333 x 48^4 / (384 x 950e3 x 0.421875) = 0.575 in; 48 / 144 = 0.333 in.
    const told = only(run(asking(between(loadedShelf(48)), asked)), 'shelf-sags');
    expect(told.severity).toBe('warning');
    expect(told.message).toBe(
      'Shelf "tower.top" sags 0.575in between its two ends, 48in apart under 40 lbf/ft2; policy "everyday" allows 0.333in, its span / 144.',
    );
    // 40.026 in down to 1/8; half-way 24 in; t = 3/4 x (0.5749 / 0.3333)^(1/3) = 0.8994 in, up to 1/16: 15/16; 40 lbf/ft on
    // 12 in of depth, x 0.3333 / 0.5749 = 23.19 lbf/ft.
    expect(told.advice).toContain('Hold it every 40in or nearer, hold it once more, 24in from its left end, ');
    expect(told.advice).toContain('take a board of the same material at least 15/16in thick, ');
    expect(told.advice).toContain('glue an upright front edge of the same board along it, at least ');
    expect(told.advice).toMatch(/or put no more than 23 lbf\/ft on it\.$/);
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['deflection', 'load']);
    expect(told.working?.map(({ what, value }) => `${what}: ${value}`)).toEqual([
      'stiffness E: 950 ksi',
      'section of the board: 12in x 3/4in',
      'second moment of area I: 0.4219 in4',
      'section modulus S: 1.125 in3',
      'load: 40 lbf/ft',
      'held by: its two ends',
      'span: 48in',
      'deflection at once: 0.575in',
      'allowed: 0.333in',
    ]);
  });

  it('passes with each of the ways that it is told', () => {
    const passes = (given: Parameters<typeof loadedShelf>[1]) =>
      ids(run(asking(between(loadedShelf(48, given)), asked))).length === 0;
    expect(passes({ thickness: inches(15 / 16) })).toBe(true);
    expect(passes({ thickness: inches(14 / 16) })).toBe(false);
    expect(passes({ loads: [area(23)] })).toBe(true);
    expect(passes({ loads: [area(24)] })).toBe(false);
    const told = only(run(asking(between(loadedShelf(48)), asked)), 'shelf-sags').advice ?? '';
    const height = /at least ([\d/-]+)in high/.exec(told)?.[1] ?? '';
    const [whole = 0, above = 0, below = 1] = height.split(/[-/]/).map(Number);
    const edge = (high: number) => ({ height: inches(high), board: pine(), place: place('edge') });
    expect(passes({ edge: edge(whole + above / below) })).toBe(true);
    expect(passes({ edge: edge(whole + above / below - 1 / 8) })).toBe(false);
  });

  it('sags more in the long run, by the creep of the policy', () => {
    const creep = { value: 1.5, place: place('creep'), policy: 'everyday' };
    // 40.026 / 1.5^(1/3) = 34.97 in.
    expect(ids(run(asking(between(loadedShelf(34.9)), { ...asked, creep })))).toEqual([]);
    const told = only(run(asking(between(loadedShelf(35.1)), { ...asked, creep })), 'shelf-sags');
    expect(told.working?.some(({ how }) => how === 'x creep 1.5')).toBe(true);
  });

  it('carries its own weight where the board states it', () => {
    // 12 lb/ft2 more, 52 psf in all: 40.026 x (40 / 52)^(1/3) = 36.68 in.
    const heavy = pine({ weight: (12 * 0.45359237) / 0.09290304 });
    expect(ids(run(asking(between(loadedShelf(36.6, { board: heavy })), asked)))).toEqual([]);
    const told = only(run(asking(between(loadedShelf(36.8, { board: heavy })), asked)), 'shelf-sags');
    expect(told.message).toContain('under 40 lbf/ft2 and its own weight;');
  });

  it('may sag no further than the greatest sag of the policy, whatever its span', () => {
    // 0.1 in: (384 x 950e3 x 0.421875 x 0.1 / (5 x 3.3333))^(1/4) = 30.998 in.
    const most = { deflection: { shelf: limit(144, 0.1) } };
    expect(ids(run(asking(between(loadedShelf(30.9)), most)))).toEqual([]);
    const told = only(run(asking(between(loadedShelf(31.1)), most)), 'shelf-sags');
    expect(told.message).toMatch(/allows 0\.100in\.$/);
  });

  it('is counted with no more than the total that a policy gives for one shelf', () => {
    // Architectural Woodwork Standards, edition 1, 10-1.2.21: 48 x 15 in at 50 psf is 250 lb, counted as 200.
    const deep = loadedShelf(48, { depth: inches(15), loads: [] });
    const total = { kind: 'point', amount: force(200).amount, place: place('load total') } as const;
    const told = only(run(asking(between(deep), { ...asked, loads: { shelf: area(50), total } })), 'shelf-sags');
    expect(told.working?.find(({ what }) => what === 'load')).toEqual({
      what: 'load',
      value: '50 lbf/ft',
      how: '50 lbf/ft2, 200 lbf in all',
    });
  });

  it('adds a load in its middle', () => {
    // P L3 / (48 E I) with 30 lbf and 36 in: 30 x 46656 / (48 x 950e3 x 0.421875) = 0.0728 in.
    const told = asking(between(loadedShelf(36, { loads: [force(30)] })), asked);
    expect(run(told)).toEqual([]);
    const sag = told.looks.find(({ rule }) => rule.id === 'shelf-sags')?.comparison.measured;
    expect(sag && 'ticks' in sag ? sag.ticks / inches(1) : 0).toBeCloseTo(0.0728, 4);
  });
});

describe('a shelf on brackets', () => {
  const bracket = hardware('bracket', { inset: inches(6), spacing: inches(36) });
  const asked = { deflection: { shelf: limit(144) } };

  it('is a beam over them, whose ends hang over', () => {
    const told = asking([loadedShelf(48, { carried: [bracket] })], asked);
    expect(run(told)).toEqual([]);
    const look = told.looks.find(({ rule }) => rule.id === 'shelf-sags');
    expect(look?.working?.find(({ what }) => what === 'held by')?.value).toBe('brackets at 6in and 42in');
    // 36 in between, 6 in past each, in the middle w L2 (5 L2 - 24 a2) / (384 E I) (handbook, from memory):
    // 3.3333 x 1296 x (6480 - 864) / (384 x 950e3 x 0.421875) = 0.15764 in; 36 / 144 = 0.25. The ends rise, and do not sag.
    const measured = look?.comparison.measured;
    expect(measured && 'ticks' in measured ? measured.ticks / inches(1) : 0).toBeCloseTo(0.15764, 5);
    expect(look?.holds).toBe(true);
  });

  it('leans on its ends too, where only one thing else holds it', () => {
    const tie = hardware('tie', { screws: [{ size: '#8 x 1/2 in', count: 2, into: 'part', place: place('screws') }] });
    const told = asking(between(loadedShelf(40, { carried: [tie] })), asked);
    expect(run(told)).toEqual([]);
    const look = told.looks.find(({ rule }) => rule.id === 'shelf-sags');
    expect(look?.working?.find(({ what }) => what === 'held by')?.value).toBe('an end and a tie at 0in and 40in');
  });

  it('does not lean on supports along its back edge alone', () => {
    const told = asking([loadedShelf(48, { carried: [hardware('support', { spacing: inches(12) })] })], asked);
    expect(ids(run(told))).toEqual(['sag-not-known']);
    expect(told.gaps.map(({ needs }) => needs)).toContain('two places that hold shelf tower.top');
    const { message, advice } = only(run(told), 'sag-not-known');
    expect(message).toContain('that cannot be computed: nothing says what holds shelf tower.top in two places.');
    expect(advice).toBe(
      'Say what carries the shelf (`carried by`), or let it reach from wall or panel to wall or panel.',
    );
  });
});

describe('a front edge', () => {
  it('stiffens a shelf, and the edge that just does is offered where one is written', () => {
    const asked = { deflection: { shelf: limit(144) } };
    const edge = { height: inches(1), board: pine(), place: place('edge') };
    const weak = only(run(asking(between(loadedShelf(48, { edge })), asked)), 'shelf-sags');
    expect(weak.advice).toContain('make its front edge at least ');
    expect(weak.working?.find(({ what }) => what === 'second moment of area I')?.how).toBe('transformed section');
    // An edge whose board states no stiffness is not guessed.
    const vague = asking(between(loadedShelf(48, { edge: { ...edge, board: pine({ stiffness: undefined }) } })), asked);
    expect(ids(run(vague))).toEqual(['sag-not-known']);
  });
});

describe('what is missing', () => {
  const asked = { deflection: { shelf: limit(144), rod: limit(144) } };

  it('is told where a policy asks for it, and recorded in any case', () => {
    const blank = between(loadedShelf(48, { loads: [], board: pine({ stiffness: undefined }) }));
    const quiet = asking(blank);
    expect(run(quiet)).toEqual([]);
    expect(quiet.gaps.map(({ rule, needs }) => `${rule.id}: ${needs}`)).toEqual([
      'shelf-sags-past-advice: what shelf tower.top carries',
      'shelf-sags-past-advice: the stiffness of board pine-12',
      'shelf-overstressed: what shelf tower.top carries',
      'shelf-overstressed: the stiffness of board pine-12',
    ]);
    const told = only(run(asking(blank, asked)), 'sag-not-known');
    expect(told.severity).toBe('note');
    expect(told.message).toBe(
      'Policy "everyday" asks how far shelf "tower.top" sags, and that cannot be computed: nothing says what shelf tower.top carries or the stiffness of board pine-12.',
    );
  });

  it('of a rod is the weight of what hangs there', () => {
    const coat = garment('coat', {});
    const holds = [{ garment: coat, count: 10, place: place('holds') }];
    const told = asking(between(loadedRod(40, { loads: [], holds })), asked);
    expect(ids(run(told))).toEqual(['sag-not-known']);
    expect(told.gaps[0]?.needs).toBe('the weight of garment coat');
  });
});

describe('published advice on sag', () => {
  it('is a note where no policy asks', () => {
    const told = only(run(asking(between(loadedShelf(41)))), 'shelf-sags-past-advice');
    expect(told.severity).toBe('note');
    expect(told.rule.source).toMatchObject({ kind: 'published', seen: true, edition: 'edition 1, 2009' });
    expect(run(asking(between(loadedShelf(40))))).toEqual([]);
  });
});

describe('a rod', () => {
  it('under 30 lb a foot over 48 in holds with the thicker wall and fails with the thinner', () => {
    // Worked out by hand: 0.297 in and 0.399 in against 48 / 144 = 0.333 in.
    const asked = { deflection: { rod: limit(144) } };
    expect(run(asking(between(loadedRod(48)), asked))).toEqual([]);
    const thin = only(
      run(asking(between(loadedRod(48, { material: tube({ tube: inches(0.035) }) })), asked)),
      'rod-sags',
    );
    expect(thin.message).toContain('sags 0.399in between its two ends, 48in apart under 30 lbf/ft;');
    expect(thin.advice).toMatch(/^Hold it every 45-1\/8in or nearer or hang no more than 25 lbf\/ft on it\.$/);
  });

  it('carries what its garments weigh, or what a policy says, whichever is more', () => {
    const coat = { ...garment('coat', {}), weight: 2 };
    const holds = [{ garment: coat, count: 30, place: place('holds') }];
    // 30 x 2 kg x 9.80665 / 1.016 m = 579.1 N/m = 39.68 lbf/ft.
    const asked = { deflection: { rod: limit(1000) } };
    const rod = loadedRod(40, { loads: [], holds });
    const weighed = only(run(asking(between(rod), { ...asked, loads: { hanging: line(30) } })), 'rod-sags');
    expect(weighed.message).toContain('under 30 coat, 39.68 lbf/ft;');
    const usual = only(run(asking(between(rod), { ...asked, loads: { hanging: line(50) } })), 'rod-sags');
    expect(usual.message).toContain('under 50 lbf/ft;');
  });

  it('is held by its hooks, and by cups at its ends', () => {
    const cups = asking(between(loadedRod(40, { carried: [hardware('cup')] })), { deflection: { rod: limit(144) } });
    expect(run(cups)).toEqual([]);
    const held = cups.looks.find(({ rule }) => rule.id === 'rod-sags')?.working?.find(({ what }) => what === 'held by');
    expect(held?.value).toBe('cups at 0in and 40in');
  });

  it('spans 48 in and not more, by published advice', () => {
    expect(ids(run(asking(between(loadedRod(48, { loads: [] })))))).toEqual([]);
    const long = loadedRod(48, { loads: [] });
    const longer = { ...long, box: { ...long.box, x: [inches(0), add(inches(48), TICK)] as const } };
    const told = only(run(asking(between(longer))), 'rod-span-long');
    expect(told.severity).toBe('note');
    expect(told.comparison).toMatchObject({ measured: { ticks: inches(48) + 1 }, limit: { ticks: inches(48) } });
    expect(only(run(asking(between(loadedRod(90, { loads: [] })))), 'rod-span-long').advice).toBe(
      'Hold it once more, at 45in from its left end.',
    );
    expect(only(run(asking(between({ ...loadedRod(95.25, { loads: [] }) }))), 'rod-span-long').advice).toContain(
      'once more',
    );
  });

  it('is 1-1/16 in thick of metal and 1-1/4 in of wood, by published advice', () => {
    const thick = (diameter: number, material = tube()) =>
      ids(run(asking(between(loadedRod(40, { loads: [], diameter: inches(diameter), material })))));
    const wood = tube({ tube: undefined, stiffness: 1.6e6 * PSI });
    expect(thick(1.0625)).toEqual([]);
    expect(thick(1)).toEqual(['rod-thin']);
    expect(thick(1.25, wood)).toEqual([]);
    expect(thick(1.25 - 1 / 64, wood)).toEqual(['rod-thin']);
    const vague = asking(between(loadedRod(40, { material: tube({ tube: undefined, stiffness: undefined }) })));
    run(vague);
    expect(vague.gaps.some(({ rule }) => rule.id === 'rod-thin')).toBe(true);
  });
});

describe('strength', () => {
  // w L2 / 8 / (b t2 / 6): 3.3333 x 36^2 / 8 / 1.125 = 480 psi.
  it('holds at the stress it is bent to, and not a psi below', () => {
    const strong = (psi: number) => between(loadedShelf(36, { board: pine({ strength: psi * PSI }) }));
    expect(run(asking(strong(480.01)))).toEqual([]);
    const told = only(run(asking(strong(479.9))), 'shelf-overstressed');
    expect(told.message).toBe(
      'Under 40 lbf/ft2 shelf "tower.top" is bent to 480 psi; board "pine-12" states a strength of 479.9 psi.',
    );
    expect(told.comparison).toMatchObject({ measured: { unit: 'psi' }, relation: 'at most' });
    expect(told.advice).toContain('ask a licensed engineer');
  });

  it('of a rod counts as well', () => {
    // 2.5 lbf/in x 40^2 / 8 / S, S = 2 I / D = 2 x 0.02008 / 1.0625 = 0.0378: 13,228 psi.
    const rod = (psi: number) => between(loadedRod(40, { material: tube({ strength: psi * PSI }) }));
    expect(run(asking(rod(13300)))).toEqual([]);
    expect(ids(run(asking(rod(13100))))).toEqual(['rod-overstressed']);
  });
});

describe('wardrobes', () => {
  const sliding = (width: Ticks) => ({
    ...opening('door', 'front', 0, 60, 80),
    width,
    leaf: { kind: 'sliding' as const, place: place('leaf') },
  });
  const look = (width: Ticks, severities: Record<string, 'note'>) => {
    const input = asking([], {}, severities);
    return ids(run({ ...input, layout: { ...layout([]), openings: [sliding(width)] } }));
  };

  it('60 in wide and wider want an upright, where a policy asks', () => {
    expect(look(inches(60), {})).toEqual([]);
    expect(look(inches(60), { 'wide-wardrobe': 'note' })).toEqual(['wide-wardrobe']);
    expect(look(add(inches(60), ticks(-1)), { 'wide-wardrobe': 'note' })).toEqual([]);
  });

  it('higher than 60 in want one more strip, where a policy asks', () => {
    const tall = between(loadedShelf(30));
    expect(ids(run(asking(tall)))).toEqual([]);
    expect(ids(run(asking(tall, {}, { 'tall-panel-strip': 'note' })))).toEqual(['tall-panel-strip']);
  });
});
