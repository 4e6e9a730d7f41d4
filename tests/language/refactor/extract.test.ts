/** A template out of what a unit says over its own. What is built stays, or it is not offered. */
import { describe, expect, it } from 'vitest';
import type { Source } from '../../../grammar/source.ts';
import { refactorings } from '../../../server/language/refactor/refactor.ts';
import { exampleTexts } from '../../examples/load.ts';
import { applied, built, errors, made, projectFrom, titleOf } from './support.ts';

const id = 'extract-template';
const all = 'extract-template-all';

const base = `template t {
  parameter width: length = 94in
  board white-12
  pole chrome
  wall left { length 25in; height 96in }
  wall back { length width; height 96in; studs every 16in from 14in }
  wall right { length 25in; height 96in }
  opening front { width 60in; height 80in; from left 10in }
  fixture sprinkler on ceiling { from left 40in; from back 6in }
  zone a on back {
    width 48in
    panels { side left; height 90in }
    shelf high { at 84in }
    shelf low { at 42in; load 40 lbf/ft2 }
    shelves row between low and high { count 2 }
    rod r { under high by 3in; for shirt }
  }
  zone b on back after a { width fill; shelf s { at 72in } }
}
`;

describe('a template out of a unit', () => {
  it('says what the unit overrode, next to the one it extends, and the unit keeps its arguments and its comments', () => {
    const after = made(
      {
        'templates.closet': `${base}\n// The end.\n`,
        'units.closet': `// Flat one.
|unit u t {
  floor 1 // ground
  width 92in
  // The duct hangs at 76 in.
  override a.high { at 74in } // under it
  override b { width fill at least 20in }
  override a.row { count 1 }
  phase 2
}
`,
      },
      id,
    );
    expect(after['units.closet']).toBe(`// Flat one.
unit u t-2 {
  floor 1 // ground
  width 92in
  phase 2
}
`);
    expect(after['templates.closet']).toBe(`${base}
template t-2 extends t {
  zone a {
    // The duct hangs at 76 in.
    shelf high { at 74in } // under it
    shelves row between low and high { count 1 }
  }
  zone b { width fill at least 20in }
}

// The end.
`);
  });

  it('stands behind its template in one file too, and leaves no empty block', () => {
    const after = made({ 'main.closet': `${base}\nunit |u t { override back { length 95in } }\n` }, id);
    expect(after['main.closet']).toBe(`${base}
template t-2 extends t {
  wall back { length 95in }
}

unit u t-2
`);
  });

  it('is turned round where the unit is mirrored, since what it overrides is stated as on site', () => {
    const after = made(
      {
        'main.closet': `${base}
|unit u t mirrored {
  override left { length 26in; studs 4in }
  override front { from left 12in }
  override a.panels { side left }
  override sprinkler { from right 30in }
}
`,
      },
      id,
    )['main.closet'];
    expect(after).toContain(`template t-2 extends t {
  wall right { length 26in; studs from right 4in }
  opening front { from right 12in }
  zone a { panels { side right } }
  fixture sprinkler { from left 30in; from back 6in }
}

unit u t-2 mirrored
`);
  });

  it('is used by all units that say the same, whichever way round they are built, and by no others', () => {
    const texts = {
      'main.closet': `${base}
|unit u t { override a.high { at 80in } }
`,
      'more.closet': `unit v t { floor 2; width 96in; override a.high { at 80in } /* as in u */ }
unit w t mirrored {
  override a.high {
    at 80in
  }
}
unit x t { override a.high { at 81in } }
`,
    };
    expect(titleOf(texts, all)).toBe(
      'Make the changes of unit "u" a template "t-2", and in 2 more units with the same',
    );
    expect(made(texts, all)['more.closet']).toBe(`unit v t-2 {
  floor 2
  width 96in
  /* as in u */
}
unit w t-2 mirrored
unit x t { override a.high { at 81in } }
`);
    expect(made(texts, id)['more.closet']).toBe(texts['more.closet']);
  });

  it('has a name that is free', () => {
    const texts = { 'main.closet': `${base}template t-2 extends t { }\n|unit u t { override b { width 20in } }\n` };
    expect(titleOf(texts, id)).toBe('Make the changes of unit "u" a template "t-3"');
  });

  it('keeps the line ends of a file', () => {
    const text = `${base}\n|unit u t {\n  floor 1\n  override b { width 20in }\n}\n`.replaceAll('\n', '\r\n');
    const after = made({ 'main.closet': text }, id)['main.closet'] ?? '';
    expect(after.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(after).toContain(
      'template t-2 extends t {\r\n  zone b { width 20in }\r\n}\r\n\r\nunit u t-2 {\r\n  floor 1\r\n}',
    );
  });

  it('cannot take back what it extends, and says so', () => {
    expect(titleOf({ 'main.closet': `${base}\n|unit u t { override a.r { at 60in } }\n` }, id)).toBe(
      'Make the changes of unit "u" a template "t-2" ("under high by 3in" of rod "r" would still hold beside what the unit says instead, since a template cannot take back what it extends.)',
    );
    expect(titleOf({ 'main.closet': `${base}\n|unit u t { override a.low { point-load 40 lbf } }\n` }, id)).toContain(
      '"load 40 lbf/ft2" of shelf "low" would still hold',
    );
  });

  it('is not spoken of where a unit says nothing over its template, or is half typed', () => {
    expect(titleOf({ 'main.closet': `${base}\n|unit u t { floor 1 }\n` }, id)).toBeUndefined();
    expect(titleOf({ 'main.closet': `${base}\n|unit u nothing { override b { width 20in } }\n` }, id)).toBeUndefined();
    expect(titleOf({ 'main.closet': `${base}\n|unit u t { override c { width 20in } }\n` }, id)).toContain(
      'is not in the template',
    );
    expect(() => titleOf({ 'main.closet': `${base}\nunit u t { override| ` }, id)).not.toThrow();
  });
});

it('the one unit of the example building that says more than its template is built the same', () => {
  const texts = exampleTexts('quarry-lane');
  const project = projectFrom(texts);
  const path = '/p/floors/floor-3.closet';
  const at = texts[path]?.indexOf('unit A-307-linen') ?? 0;
  const source = project.sources.get(path) as Source;
  const found = refactorings({ project, source, path }, { start: at, end: at }).find((one) => one.id === id);
  expect(found?.disabled).toBeUndefined();
  const after = projectFrom(applied(texts, found?.edits ?? []));
  expect(built(after)).toEqual(built(project));
  expect(errors(after)).toEqual(errors(project));
  expect(applied(texts, found?.edits ?? [])['/p/templates/linen.closet']).toContain('template linen-2 extends linen {');
});

describe('comments beside what becomes a template', () => {
  const alike = (of: string) => `${base}unit |u t { override b { width 22in } }\nunit v t ${of}\n`;

  it('stay in another unit that says the same, wherever they stood in it', () => {
    const other = `{
  // measured by hand on the second visit
  override b /* the deep one */ {
    width 22in // from the jamb
  } // the pipe
}`;
    const after = made({ 'main.closet': alike(other) }, all)['main.closet'] ?? '';
    expect(after).toContain('unit v t-2 {');
    for (const comment of [
      '// measured by hand on the second visit',
      '/* the deep one */',
      '// from the jamb',
      '// the pipe',
    ])
      expect(after.split(comment), comment).toHaveLength(2);
    // What they are about is no longer there.
    expect(after.slice(after.indexOf('unit v'))).not.toContain('override');
  });

  it('go with it out of the heads of a unit and of its overrides', () => {
    const text = `${base}unit |u t mirrored /* three */ { override /* seven */ b /* eight */ { width 22in } }\n`;
    const after = made({ 'main.closet': text }, id)['main.closet'] ?? '';
    expect(after).toContain('unit u t-2 mirrored /* three */');
    expect(after.slice(0, after.indexOf('unit u'))).toMatch(/\/\* seven \*\/[\s\S]*\/\* eight \*\//);
  });
});

describe('what is agreed to of a template', () => {
  const told = '; a finding that is agreed to of its template will be told again';
  const strict = 'policy strict { limit rod-height at most 60in }\n';
  const accept = (at: string) => `accept rod-height-limit at ${at} because "agreed"\n`;

  it('does not hold for a unit on another one, which the title says', () => {
    const text = `${strict}${base}unit |u t { policy strict; override b { width 22in } }\n`;
    expect(titleOf({ 'main.closet': text + accept('t.a.r') }, id)).toBe(
      `Make the changes of unit "u" a template "t-2"${told}`,
    );
    expect(titleOf({ 'main.closet': text + accept('u.a.r') }, id)).not.toContain('agreed');
  });

  it('nor for one that is built on what its template extends', () => {
    const heir = 'template heir extends t { zone b { width 22in } }\nunit |u heir { policy strict }\n';
    const text = `${strict}${base}${heir}`;
    expect(titleOf({ 'main.closet': text + accept('heir.a.r') }, 'inline-template')).toContain(told);
    expect(titleOf({ 'main.closet': text + accept('t.a.r') }, 'inline-template')).not.toContain('agreed');
  });
});
