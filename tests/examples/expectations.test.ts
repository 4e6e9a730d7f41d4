import { describe, expect, it } from 'vitest';
import { differences, expectedIn, expectedList, type Told } from './expectations.ts';

const one: Told = { file: 'a', line: 1, from: 8, to: 10, severity: 'error', rule: 'too-long', text: '36in' };

describe('the expectations of the examples', () => {
  it('are read from the carets below a line', () => {
    const text = 'width  36\n//     ^^ error too-long: 36in\n//^^^ note too-wide: 5in\n\n  //^^ note x: y\n';
    expect(expectedIn('a', text)).toEqual([
      one,
      { file: 'a', line: 1, from: 1, to: 6, severity: 'note', rule: 'too-wide', text: '5in' },
      { file: 'a', line: 4, from: 3, to: 7, severity: 'note', rule: 'x', text: 'y' },
    ]);
  });

  it('are read from a list', () => {
    expect(expectedList('# why\n\na:1:8-10 error too-long: 36in\n')).toEqual([one]);
    expect(() => expectedList('a:1 error')).toThrow('no expectation can be read');
  });

  it('miss a finding that is not there, and one that is there too often', () => {
    const found = { ...one, text: 'The board is 36in long.' };
    expect(differences([one], [found])).toEqual({ missing: [], tooMany: [] });
    expect(differences([one, one], [found]).missing).toHaveLength(1);
    expect(differences([one], [found, found]).tooMany).toHaveLength(1);
    for (const other of [
      { ...found, line: 2 },
      { ...found, from: 7 },
      { ...found, to: 11 },
      { ...found, severity: 'warning' },
      { ...found, rule: 'too-wide' },
      { ...found, text: 'The board is 35in long.' },
      { ...found, file: 'b' },
    ]) {
      const result = differences([one], [other]);
      expect(result.missing).toHaveLength(1);
      expect(result.tooMany).toHaveLength(1);
    }
  });
});
