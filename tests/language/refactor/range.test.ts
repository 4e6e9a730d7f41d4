/** The range of a number that becomes a parameter: as far as the checks find nothing new. */
import { describe, expect, it } from 'vitest';
import { made } from './support.ts';

const declared = (text: string): string => {
  const after = made({ 'main.closet': text }, 'to-parameter')['main.closet'] ?? '';
  return /parameter [^;\n]*/.exec(after)?.[0] ?? '';
};

const template = (zones: string, wall = '94in'): string => `template t {
  board white-12
  wall back { length ${wall}; height 96in }
  ${zones}
}
unit u t
`;

describe('the range of a new parameter', () => {
  it('reaches a foot to either side where nothing is found there', () => {
    expect(declared(template('zone a on back { width fill; shelf s { at |60in } }'))).toBe(
      'parameter s-at: length = 60in from 48in to 72in',
    );
    expect(declared(template('zone a on back { width fill; shelf s { at |1500mm } }'))).toBe(
      'parameter s-at: length = 1500mm from 1200mm to 1800mm',
    );
  });

  it('ends where zones would no longer fit on their wall', () => {
    // 94 - 90 = 4: three more inches fit, six do not.
    expect(
      declared(
        template(
          'zone a on back { width |50in }\n  zone b on back after a { width 40in }\n  gap g on back after b { width fill }',
        ),
      ),
    ).toBe('parameter a-width: length = 50in from 38in to 53in');
  });

  it('is none where less and more would both be found fault with', () => {
    // 60 + 3/4 + 3: its height is said twice.
    expect(
      declared(
        template('zone a on back { width fill; shelf s { at |60in; under top by 3in }; shelf top { at 63-3/4in } }'),
      ),
    ).toBe('parameter s-at: length = 60in');
  });

  it('is to one side where only that is free', () => {
    expect(
      declared(template('zone a on back { width |50in }\n  zone b on back after a { width fill at least 44in }')),
    ).toBe('parameter a-width: length = 50in from 38in to 50in');
  });

  it('is of whole shelves where they are counted', () => {
    // 50 in between are 2 spaces of 25 in with one, which is too much, and 5 of 10 in with four.
    expect(
      declared(
        template(
          'zone a on back { width fill; shelf low { at 10in }; shelf top { at 60in }; shelves row between low and top { count |2; pitch from 10in to 24in } }',
        ),
      ),
    ).toBe('parameter row-count: count = 2 from 2 to 4');
  });

  it('is none where the template is not computed without its units', () => {
    expect(
      declared(`template t {
  parameter width: length
  board white-12
  wall back { length width; height 96in }
  zone a on back { width fill; shelf s { at |60in } }
}
unit u t { width 94in }
`),
    ).toBe('parameter s-at: length = 60in');
  });
});
