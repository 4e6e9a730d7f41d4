/** Fixes of what is short, not carried, not tied, in the same place, or not known before somebody has looked. */
import { describe, expect, it } from 'vitest';
import { mended } from '../../server/checks/mending.ts';
import { projectOf } from '../model/support.ts';
import { offers } from './offers.ts';

describe('stock that is short', () => {
  const loose = (stock: string, parts: string): string => `board oak { }\nstock oak { ${stock} }\n${parts}\n`;

  it('is counted up to what a plan takes, by hand, as nobody knows here whether they can be had', () => {
    // Three of 50 in: two do not go into 96 in, so each takes a board.
    const [only, ...others] = offers(
      loose('length 8ft price 20.00 EUR count 1', 'extra one { board oak; length 50in; count 3 }'),
      'stock-short',
    );
    expect(others).toEqual([]);
    expect(only).toMatchObject({ title: 'Write count 3 of 96in instead of 1, if they can be had', byHand: true });
    expect(only?.after).toContain('length 8ft price 20.00 EUR count 3 }');
    expect(only?.left).toEqual([]);
  });

  it('offers nothing where no count would help: what is short is an offcut of the rack', () => {
    const text = loose('length 30in count 1; offcut 50in count 1', 'extra one { board oak; length 50in; count 2 }');
    expect(offers(text, 'stock-short')).toEqual([]);
  });

  it('is counted over all units, not only over those that wait', () => {
    // 20 shelves of 60 in less what their ends lose, one a board: 20 boards.
    const units = Array.from({ length: 20 }, (_, i) => `unit u${i} t`).join('\n');
    const text = `board oak { depth 12in; thickness 3/4in }
stock oak { length 8ft count 15 }
template t {
  board oak
  wall back { length 60in; height 96in }
  zone a on back { width fill; shelf s { at 40in } }
}
${units}
`;
    expect(offers(text, 'stock-short').map(({ title, left }) => [title, left.includes('stock-short')])).toEqual([
      ['Write count 20 of 96in instead of 15, if they can be had', false],
    ]);
  });
});

const tower = (carried: string, tie = 'hardware tie { is tie; screws "#8 x 2 in" }'): string => `${tie}
hardware rear { is support }
template t {
  board white-12
  wall back { length 24in; height 96in; studs 3/8in, 12in, 23-5/8in }
  zone a on back { width fill; ${carried}panels sides; shelf top { at 84in; fixed; carried by rear } }
}
unit u t
`;

describe('a tower that nothing ties', () => {
  it('is tied by the tie that the project has, beside what carries it already', () => {
    const [only, ...others] = offers(tower(''), 'tower-not-tied');
    expect(others).toEqual([]);
    expect(only?.title).toBe('Write carried by tie');
    expect(only?.left).not.toContain('tower-not-tied');
    expect(offers(tower('carried by rear; '), 'tower-not-tied').map(({ title }) => title)).toEqual([
      'Write carried by rear, tie',
    ]);
  });

  it('is not, by a tie that holds it to a part alone, or where there is none', () => {
    expect(offers(tower('', 'hardware tie { is tie; screws "#8 x 1/2 in" into part }'), 'tower-not-tied')).toEqual([]);
    expect(offers(tower('', ''), 'tower-not-tied')).toEqual([]);
  });
});

describe('a shelf that nothing carries', () => {
  const closet = (own: string): string => `hardware rear { is support; anchor plug }
hardware plug { is anchor }
hardware hook { is hook }
template t {
  board white-12
  wall back { length 48in; height 96in; studs every 16in from 8in }
  zone a on back { width fill; shelf s { at 72in; carried by rear }; shelf t { ${own} } }
}
unit u t
`;

  it('names the support that the project has', () => {
    const [only, ...others] = offers(closet('at 40in'), 'part-not-carried');
    expect(others).toEqual([]);
    expect(only?.title).toBe('Write carried by rear');
    expect(only?.after).toContain('shelf t { at 40in; carried by rear }');
    expect(only?.left).not.toContain('part-not-carried');
    expect(offers(closet('at 40in; carried by hook'), 'part-not-carried').map(({ title }) => title)).toEqual([
      'Write carried by hook, rear',
    ]);
  });
});

describe('two shelves in the same place', () => {
  it('are moved apart by either, up or down, as somebody chooses', () => {
    // 3/4 in thick: the upper one up to 41-3/4 in or down to 40-1/4 in, and the lower one the other way round.
    const text = `template t {
  board white-12
  wall back { length 48in; height 96in }
  zone a on back { width fill; shelf s { at 41in }; shelf t { at 41-1/2in } }
}
unit u t
`;
    const made = offers(text, 'parts-overlap');
    expect(made.map(({ title }) => title)).toEqual([
      'Write 41-3/4in instead of 41-1/2in for t',
      'Write 40-1/4in instead of 41-1/2in for t',
      'Write 42-1/4in instead of 41in for s',
      'Write 40-3/4in instead of 41in for s',
    ]);
    for (const { left, byHand } of made) expect([left.includes('parts-overlap'), byHand]).toEqual([false, true]);
  });
});

describe('studs that nobody has stated', () => {
  const text = `hardware rear { is support }
template t {
  board white-12
  wall back { length 48in; height 96in }
  zone a on back { width fill; shelf s { at 72in; carried by rear } }
}
unit u t
`;

  it('get a statement that asks for them, and no number that nobody has measured', () => {
    const [only, ...others] = offers(text, 'studs-not-stated');
    expect(others).toEqual([]);
    expect(only).toMatchObject({ title: 'Write studs, where they are to be filled in', byHand: true });
    expect(only?.after).toContain('wall back { length 48in; height 96in; studs }');
    expect(only?.left).toContain('phrase-not-understood');
  });

  it('are left alone by what makes fixes without asking', () => {
    expect(mended(projectOf(text), { which: () => true }).made).toEqual([]);
  });
});

describe('fixes that do not all go together', () => {
  it('are made as far as they do, however many there are', () => {
    // Each unit of measure is written as it is. Of 45, no round may get stuck behind one that does not go.
    const units = Array.from({ length: 45 }, (_, i) => `unit u${i} t { width 62inx }`).join('\n');
    const text = `template t {
  parameter width: length from 50in to 70in
  board white-12
  wall back { length width; height 96in }
  zone a on back { width fill; shelf s { at 40in } }
}
${units}
`;
    const { made, texts } = mended(projectOf(text), { which: () => true });
    expect(made).toHaveLength(45);
    expect([...texts.values()][0]).not.toContain('inx');
  });
});
