/** Which numbers can become a parameter of their template. */
import { describe, expect, it } from 'vitest';
import { titleOf } from './support.ts';

const template = (test: string): Record<string, string> => ({
  'main.closet': `template t {
  parameter width: length = 94in
  board white-12
  wall back { length width; height 96in }
  zone a on back { width fill; shelf s { at 80in } }
  test "as drawn" { ${test} }
}
`,
});

describe('a number in a test of a template', () => {
  it('is what is expected or given, and makes no parameter', () => {
    const why = 'What stands here is no value that could be given by a unit.';
    for (const test of ['expect a.s at |80in', 'width |93in', 'expect a width |93in'])
      expect(titleOf(template(test), 'to-parameter'), test).toMatch(new RegExp(`^Make .* \\(${why}\\)$`));
  });
});
