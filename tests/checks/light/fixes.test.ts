/** From text to findings and back: lights as they are written, and the places that are offered. */
import { describe, expect, it } from 'vitest';
import { lightCheck } from '../../../server/checks/light/light.ts';
import { lightLimits } from '../../../server/checks/light/limits.ts';
import type { Fix } from '../../../server/model/finding.ts';
import { ids, only } from '../layouts.ts';
import { applied, foundBy } from '../one-check.ts';

/** Other rules are left aside. */
const found = (text: string) => foundBy(lightCheck, lightLimits, text);

const closet = (fixtures: string, policy = '') => `template walk-in {
  board white-12
  pole chrome
  wall left { length 60in; height 96in }
  wall back { length 96in; height 96in }
  wall right { length 60in; height 96in }
  opening front { width 36in; height 80in; centred }
  ${fixtures}
  zone hang on back {
    width 96in
    shelf top { at 84in }
    rod pole { at 66in }
  }
}
policy asked { ${policy} }
unit A-101 walk-in { policy asked }
`;

describe('a light in a text', () => {
  it('is moved out to where it is far enough from what is stored', () => {
    // 8 by 8 in: its near edge is at 16 in, 4 in from the space that is 12 in deep; 24 + 4 = 28 in to its centre.
    const text = closet('fixture light on ceiling { from left 48in; from back 20in; lamp surface led enclosed }');
    const told = only(found(text), 'light-near-storage');
    expect(told.message).toContain('The light on the ceiling is 4in from the storage space along the back wall');
    expect(told.fixes.map(({ title }) => title)).toEqual(['Write 28in instead of 20in for light: 8in further off']);
    expect(found(applied(text, told.fixes[0] as Fix))).toEqual([]);
  });

  it('is moved along the wall over the door, or up it', () => {
    // On the front wall 20 in from its left: the right wall's space above 72 in is 12 in deep, so 16 - 12 = 4 in.
    const text = closet(
      'wall front { length 96in; height 96in }\n  fixture light on front { from left 20in; height 88in; lamp surface led enclosed }',
    );
    const told = only(found(text), 'light-near-storage');
    expect(told.fixes.map(({ title }) => title)).toEqual(['Write 28in instead of 20in for light: 8in further off']);
    expect(found(applied(text, told.fixes[0] as Fix))).toEqual([]);
  });

  it('keeps the distance that a policy asks for, and a kind that is barred only where it says so', () => {
    const at = 'fixture light on ceiling { from left 48in; from back 28in; lamp surface led enclosed }';
    expect(found(closet(at))).toEqual([]);
    expect(ids(found(closet(at, 'limit clear-of-surface-light at least 18in')))).toEqual(['light-near-storage']);
    const pendant = 'fixture light on ceiling { from left 48in; from back 30in; lamp pendant led }';
    expect(ids(found(closet(pendant)))).toEqual(['light-without-distance']);
    expect(ids(found(closet(pendant, 'treat light-kind-barred as warning')))).toEqual([
      'light-without-distance',
      'light-kind-barred',
    ]);
  });
});

describe('other things in a text', () => {
  it('has a shelf told that is too near a head', () => {
    const told = only(
      found(closet('fixture sprinkler on ceiling { from left 48in; from back 6in }')),
      'storage-near-sprinkler',
    );
    expect(told.message).toContain('ends 11-1/4in below');
    expect(found(closet('fixture sprinkler on ceiling { from left 48in; from back 30in }'))).toEqual([]);
  });

  it('has a panel told, and what stands before it', () => {
    expect(ids(found(closet('fixture panel on back { from left 48in; height 60in }')))).toEqual([
      'panel-in-clothes-closet',
      'panel-working-space',
    ]);
  });

  it('has a hatch told that is covered', () => {
    const told = found(closet('fixture hatch on ceiling { from left 48in; from back 20in }'));
    // 22 in from 9 to 31 in off the back wall; the rod reaches 12-5/8 in out, and 31 - 12-5/8 = 18-3/8 in are left.
    expect(only(told, 'hatch-covered').message).toContain('leaves 18-3/8in by 30in of it free');
  });
});
