import { describe, expect, it } from 'vitest';
import { check, projectOf } from './support.ts';

describe('findings of one rule at one statement', () => {
  const fixtures = (length: string) => `template t {
  parameter width: length = 92in from 90in to 92in
  board white-12
  wall back { length ${length}; height 96in }
  fixture outlet one on back { from left 20in; height 84in }
  fixture outlet two on back { from left 60in; height 84in }
  zone a on back {
    width fill
    shelf mid { at 84in }
//  ^^^^^^^^^ warning fitting-before-fixture: in front of outlet "one"
//  ^^^^^^^^^ warning fitting-before-fixture: in front of outlet "two"
  }
}
unit u t
`;

  it.each(['92in', 'width'])('are told of each thing that it meets, in a wall that is %s long', (length) => {
    const project = check(fixtures(length));
    expect(project.findings().map(({ reach }) => reach)).toEqual([['u'], ['u']]);
  });

  it('are agreed to together, as they are told', () => {
    for (const place of ['t.a.mid', 'u.a.mid']) {
      const project = projectOf(
        `${fixtures('92in')}accept fitting-before-fixture at ${place} because "both are dead"\n`,
      );
      expect(project.findings().map(({ rule, message }) => `${rule.id}: ${message}`)).toEqual([]);
    }
  });

  it('of garments on one rod are told of each', () => {
    const project = projectOf(`garment gown { hang 70in; hanger 17in }
garment cape { hang 68in; hanger 17in }
template t {
  pole chrome
  wall back { length 40in; height 96in }
  zone a on back { width fill; rod r { at 60in; for gown, cape } }
}
unit u t
unit v t
`);
    const found = project.findings().filter(({ rule }) => rule.id.startsWith('garment-'));
    expect(found.map(({ message, reach }) => [/"(gown|cape)"/.exec(message)?.[1], reach])).toEqual([
      ['gown', ['u', 'v']],
      ['cape', ['u', 'v']],
    ]);
  });
});
