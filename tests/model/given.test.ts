/** What a unit gives its template: a value, and nothing else. */
import { describe, expect, it } from 'vitest';
import { check, inch } from './support.ts';

const template = `template linen {
  parameter width: length from 40in to 70in
  wall back { length width; height 96in }
  board white-12
  zone main on back { width fill; shelf top { at 78in } }
}
`;

describe('what a unit gives its template', () => {
  it.each([',', ':', '='])('is missing where only a "%s" stands', (mark) => {
    check(`${template}unit a linen { width ${mark} }
//             ^^^^^^^ error phrase-not-understood: "width" is given no value`);
  });

  it('takes no block, and what stands in one is not passed over', () => {
    const project = check(`${template}unit a linen { width 64in { count 3; floor 2 } }
//                        ^ error block-not-expected: "width" takes no block`);
    expect(project.findings()[0]?.fixes.map(({ title }) => title)).toEqual(['Remove the block']);
  });

  it('takes no block in a test of the template either', () => {
    check(`${template.replace(/}\n$/, '')}  test "as drawn" { width 64in { finds nothing } }
//                             ^ error block-not-expected: "width" takes no block
}
`);
  });
});

describe('what overrides of one unit say of one thing', () => {
  it('is told where they say it twice, and the first one counts', () => {
    const project = check(`${template}unit a linen {
  width 64in
  override main.top { at 70in }
  override main.top { at 71in }
//                    ^^ error word-repeated: "at" is said twice in a shelf
}
`);
    expect(project.findings()[0]?.advice).toBe('The first one counts. Remove one of them.');
  });

  it('is told within one override too', () => {
    check(`${template}unit a linen { width 64in; override main.top { at 70in; at 71in } }
//                                                      ^^ error word-repeated: "at" is said twice in a shelf`);
  });

  it('is all taken where each says something else', () => {
    const project = check(`${template}unit a linen {
  width 64in
  override main.top { at 70in }
  override main.top { depth 12in }
}
`);
    const [unit] = [...project.units()];
    const [part] = unit?.resolved?.layout.parts ?? [];
    expect(part && [inch(part.at), part.depth && inch(part.depth)]).toEqual(['70in', '12in']);
  });
});
