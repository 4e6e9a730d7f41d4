/** Several units in one statement: told once, and written out where it can be told which they are. */
import { describe, expect, it } from 'vitest';
import { saidOfFile } from './said.ts';

const template = `template linen { board white-12; wall back { length 60in; height 96in }; zone a on back { width fill; shelf s { at 60in } } }
`;

const said = (line: string): string[] =>
  saidOfFile(template + line).map(({ found: { message, advice }, mended }) =>
    `${message} ${advice} => ${mended?.slice(template.length) ?? ''}`.trim(),
  );

const list = 'A unit has one name, and here stand several. Write a statement for each:';
const row = 'A unit has one name, and here stand those of a row of units. Write a statement for each:';

describe('several units in one statement', () => {
  it.each([
    ['unit A-101, A-102 linen', 'unit A-101 linen; unit A-102 linen'],
    ['unit A-101 and A-102 linen', 'unit A-101 linen; unit A-102 linen'],
    ['unit A-101&A-102 linen', 'unit A-101 linen; unit A-102 linen'],
    ['unit A-101/B-102 linen', 'unit A-101 linen; unit B-102 linen'],
    ['unit A-101, B-7 linen mirrored', 'unit A-101 linen mirrored; unit B-7 linen mirrored'],
    ['units A-101, A-102 linen { floor 1 }', 'unit A-101 linen { floor 1 }; unit A-102 linen { floor 1 }'],
  ])('are written each by itself: %s', (line, mended) => {
    const short = mended.replaceAll(' { floor 1 }', '');
    expect(said(`${line}\n`)).toEqual([`${list} ${short} => ${mended.replaceAll('; ', '\n')}`]);
  });

  it.each([
    'A-101..A-103',
    'A-101 .. A-103',
    'A-101...A-103',
    'A-101…A-103',
    'A-101–A-103',
    'A-101 - A-103',
    'A-101 to A-103',
    'A-101..103',
  ])('and so a row of them, beside others too: %s', (names) => {
    const each = (all: readonly string[]): string => all.map((one) => `unit ${one} linen`).join('\n');
    const short = 'unit A-101 linen; unit A-102 linen; and so on';
    for (const word of ['unit', 'units'])
      expect(said(`${word} ${names} linen\n`)).toEqual([`${row} ${short} => ${each(['A-101', 'A-102', 'A-103'])}`]);
    expect(said(`unit A-099, ${names}, B-1 linen\n`)).toEqual([
      `${row} unit A-099 linen; unit A-101 linen; and so on => ${each(['A-099', 'A-101', 'A-102', 'A-103', 'B-1'])}`,
    ]);
  });

  it('are one where what stands around a / is not numbered alike', () => {
    for (const name of ['kitchen/bath', 'A-101/bath', 'A-101/7'])
      expect(said(`unit ${name} linen\n`)[0]).not.toContain('A unit has one name, and');
  });

  it('are written out by somebody who knows which of a row there are', () => {
    const fixes = (line: string) => saidOfFile(template + line).flatMap(({ found }) => found.fixes);
    expect(fixes('unit A-101..A-103 linen\n').map(({ byHand }) => byHand)).toEqual([true]);
    expect(fixes('unit A-101, A-102 linen\n').map(({ byHand }) => byHand)).toEqual([undefined]);
    expect(fixes('unit A-1..A-900 linen\n')).toEqual([]);
  });

  it('are there for the surveys of each of them', () => {
    const surveys = (names: readonly string[]): string =>
      names.map((one) => `survey ${one} { wall back { length 59-3/4in } }\n`).join('');
    expect(said(`unit A-101..A-103 linen\n${surveys(['A-101', 'A-102', 'A-103'])}`)).toHaveLength(1);
    expect(said(`unit A-101..A-103 linen\n${surveys(['A-104'])}`)[1]).toContain('There is no unit "A-104"');
  });

  it('are none where one name is written with a strange sign', () => {
    expect(said('unit A–101 linen\n')[0]).toContain('=> unit A-101 linen');
    expect(said('unit A-101 linen mirored\n')[0]).not.toContain('several');
    expect(said('unit A-101 linen, mirrored\n')[0]).not.toContain('several');
  });
});

describe('dots between names of another kind', () => {
  it.each(['..', '...', '…'])('are not taken out so that the two names are one: %s', (dots) => {
    const [found] = saidOfFile(`${template}extra e { board white-12${dots}white-16; length 24in }\n`);
    expect(found?.found.fixes.flatMap(({ edits }) => edits.map(({ text }) => text))).toEqual([' ']);
  });
});
