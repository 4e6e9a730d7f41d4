/** A template written the other way round is its exact mirror, and what is built on it stays. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Source } from '../../../grammar/source.ts';
import { refactorings } from '../../../server/language/refactor/refactor.ts';
import type { FittingLayout, Layout } from '../../../server/model/layout.ts';
import type { Project } from '../../../server/model/project.ts';
import { exampleTexts } from '../../examples/load.ts';
import { prelude, workspaceOf } from '../../model/support.ts';
import { applied, built, errors, made, projectFrom, titleOf } from './support.ts';

const id = 'mirror-template';

/** Everything in a template that has a left and a right. */
const everything = (first: string, second: string, a = 20, b = 20): string => `template t {
  parameter width: length = 94in from 92in to 98in
  board white-12
  pole chrome
  wall left { length 25in; height 96in; studs 1in, 16in }
  wall back { length width; height 96in; studs every 16in from 14-1/2in }
  wall right { length 26in; height 96in; studs from right 9in, 24in }
  corner back left { owner left }
  opening front { width 60in; height 80in; from left 10in }
  opening cupboard on left { width 20in; height 80in; swing in hinged left; approach latch-side }
  fixture outlet on back { from left left.length + 30in; height 16in }
  fixture switch on right { from right 4in; height 44in }
  fixture sprinkler on ceiling { from left 40in; from back 6in }
  zone side on left { width fill; shelf s { at 60in } }
  zone a on back${first} { width ${a}in; panels { side left; height 80in }; zone in { width 5in } }
  zone b on back${second} { width ${b}in; rod r { at 60in; for shirt } }
}

unit u t
unit v t mirrored { width 95in }
`;

const starts: readonly (readonly [string, string])[] = [
  ['', ' after a'],
  [' from left 13in', ' after a by 2in'],
  [' before b', ' from right 1in'],
  [' from right', ' before a'],
  [' centred', ' after a'],
];

const wallOf = (layout: Layout, name: string | undefined) => layout.walls.find((wall) => wall.name === name);
const other = (name: string): string => (name === 'left' ? 'right' : name === 'right' ? 'left' : name);

/** What a mirror shows of a layout, worked out from its numbers alone. */
function shown(layout: Layout, isMirror: boolean): string[] {
  const name = (wall: string): string => (isMirror ? other(wall) : wall);
  const along = (wall: string, [from, to]: readonly [number, number]): string => {
    const length = wallOf(layout, wall)?.length ?? wallOf(layout, 'back')?.length ?? 0;
    return isMirror ? `${length - to}..${length - from}` : `${from}..${to}`;
  };
  const fitting = (one: FittingLayout): string => {
    const path = one.kind === 'panel' ? one.path.replace(/\.(left|right)$/, '') : one.path;
    const side = one.kind === 'panel' ? name(one.side) : '';
    return `${path} ${side} ${name(one.wall)} ${along(one.wall, one.box.x)} ${one.box.y} ${one.box.z}`;
  };
  return [
    ...layout.walls.flatMap((wall) => [
      `${name(wall.name)} ${wall.length} ${wall.height}`,
      ...wall.studs.map((at) => `stud ${name(wall.name)} ${along(wall.name, [at, at])}`),
    ]),
    ...layout.openings.map(
      (o) =>
        `${o.name} ${name(o.wall)} ${along(o.wall, [o.from, o.from + o.width])} ${o.height} ${
          o.leaf.kind === 'swing' && o.leaf.hinge ? name(o.leaf.hinge) : o.leaf.kind
        }`,
    ),
    ...layout.fixtures.map(
      (f) => `${f.name} ${f.wall && name(f.wall)} ${along(f.wall ?? 'back', f.box.x)} ${f.box.y} ${f.box.z}`,
    ),
    ...layout.zones.flatMap((zone) => [
      `${zone.path} ${name(zone.wall)} ${along(zone.wall, [zone.from.value, zone.from.value + zone.width.value])}`,
      ...zone.fittings.map(fitting),
    ]),
    ...layout.parts.map((p) => `${p.path.replace(/\.(left|right)$/, '')} ${p.material} ${p.length}`),
  ].sort();
}

const layoutOf = (project: Project, name: string): Layout => {
  const layout = [...project.units()].find((unit) => unit.name === name)?.resolved?.layout;
  if (!layout) throw new Error(`unit ${name} was expected`);
  return layout;
};

describe('a template written the other way round', () => {
  const any = fc.record({
    a: fc.integer({ min: 6, max: 30 }),
    b: fc.integer({ min: 6, max: 30 }),
    start: fc.constantFrom(...starts),
  });

  it('stays what is built of it, and is its mirror by itself', () => {
    fc.assert(
      fc.property(any, ({ a, b, start }) => {
        const text = everything(start[0], start[1], a, b);
        const after = made({ 'main.closet': `|${text}` }, id)['main.closet'] ?? '';
        expect(after).toContain('unit u t mirrored\nunit v t { width 95in }');
        // The same units on the template that was turned are mirrors of what they were.
        const template = after.slice(0, after.indexOf('unit u'));
        const units = text.slice(text.indexOf('unit u'));
        const turned = layoutOf(projectFrom({ '/p/a.closet': prelude, '/p/b.closet': template + units }), 'u');
        const plain = layoutOf(projectFrom({ '/p/a.closet': prelude, '/p/b.closet': text }), 'u');
        // Of a zone in the middle, a saw step that cannot be halved is on the same side in both.
        if (start[0] !== ' centred') expect(shown(turned, false)).toEqual(shown(plain, true));
        expect(shown(turned, false)).not.toEqual(shown(plain, false));
      }),
      { numRuns: 25 },
    );
  });

  it('twice is the text as it was', () => {
    for (const [first, second] of starts) {
      const text = everything(first, second);
      const once = made({ 'main.closet': `|${text}` }, id)['main.closet'] ?? '';
      const twice = made({ 'main.closet': `|${once}` }, id)['main.closet'] ?? '';
      expect(twice).toBe(text);
    }
  });

  it('takes the templates with it that it is built together with, in all files, and leaves sites as they are', () => {
    const texts = {
      'base.closet': `template base {
  board white-12
  wall left { length 25in; height 96in }
  wall back { length 94in; height 96in }
  wall right { length 30in; height 96in }
  zone a on back { width 30in; shelf s { at 40in } }
  zone b on back after a { width 20in }
}
`,
      'heir.closet': `|template heir extends base {
  // On the far side.
  zone a from right 3in { }
  zone b before a { shelf t { at right.length } }
  zone c on left { width fill; shelf s { at 50in } }
}
`,
      'units.closet': `unit one base
unit two heir mirrored {
  override left { length 28in }
  override a { width left.length }
}
unit three heir
survey three { wall left { length 24in; studs 3in } }
`,
    };
    const after = made(texts, id);
    expect(after['base.closet']).toContain('wall right { length 25in; height 96in }');
    expect(after['base.closet']).toContain('zone a on back from right { width 30in');
    expect(after['heir.closet']).toContain('  zone a from left 3in { }\n');
    expect(after['heir.closet']).toContain('zone b after a { shelf t { at left.length } }');
    expect(after['heir.closet']).toContain('zone c on right from right { width fill');
    expect(after['units.closet']).toBe(`unit one base mirrored
unit two heir {
  override left { length 28in }
  override a { width right.length }
}
unit three heir mirrored
survey three { wall left { length 24in; studs 3in } }
`);
    expect(titleOf(texts, id)).toBe(
      'Write template "heir" with the template built together with it the other way round; its 3 units stay built as they are',
    );
  });

  it('of many sides has its walls the other way round', () => {
    const room = `|template t {
  wall a { length 40in; height 96in }
  wall b { length 60in; height 96in }
  wall c { length 20in; height 96in; turns 45deg }
  wall d { length 30in; height 96in; studs 4in; turns 45deg }
}

unit u t
`;
    const after = made({ 'main.closet': room }, id)['main.closet'];
    expect(after).toBe(`template t {
  wall d { length 30in; height 96in; studs from right 4in }
  wall c { length 20in; height 96in; turns 45deg }
  wall b { length 60in; height 96in; turns 45deg }
  wall a { length 40in; height 96in }
}

unit u t mirrored
`);
    expect(made({ 'main.closet': `|${after}` }, id)['main.closet']).toBe(room.slice(1));
  });

  it('keeps comments, and the line ends of the file', () => {
    const text = `|template t {\r
  // The wall at the left.\r
  wall left { length 25in } // short\r
  wall back { length 94in; height 96in }\r
  zone a on back { width 30in } /* first */\r
}\r
\r
unit u t // here\r
`;
    const after = made({ 'main.closet': text }, id)['main.closet'];
    expect(after).toBe(`template t {\r
  // The wall at the left.\r
  wall right { length 25in } // short\r
  wall back { length 94in; height 96in }\r
  zone a on back from right { width 30in } /* first */\r
}\r
\r
unit u t mirrored // here\r
`);
  });

  it('is not offered where a library would have to turn with it', () => {
    const workspace = workspaceOf(
      {
        '/p/main.closet': 'project "Quarry Lane"\nuse "../lib" as lib\ntemplate t extends lib.base { }\nunit u t\n',
        '/lib/base.closet': 'project "Shared"\ntemplate base { wall back { length 94in; height 96in } }\n',
      },
      ['/'],
    );
    const reasons = (path: string, word: string): (string | undefined)[] => {
      const project = workspace.projectOf(path)?.project as Project;
      const source = project.sources.get(path) as Source;
      const at = source.text.indexOf(word);
      const projects = workspace.projects.map((loaded) => loaded.project);
      return refactorings({ project, source, path }, { start: at, end: at }, projects)
        .filter((one) => one.id === id)
        .map(({ disabled }) => disabled);
    };
    expect(reasons('/p/main.closet', 'template')).toEqual([
      'It is built on a template outside this project, which would stay as it is.',
    ]);
    expect(reasons('/lib/base.closet', 'template')).toEqual([
      'Another project uses it as a library, and its units would be built the other way round.',
    ]);
  });
});

describe('the templates of the example building', () => {
  const texts = exampleTexts('quarry-lane');
  const project = projectFrom(texts);

  it('can all be written the other way round, and all that is built stays', () => {
    let count = 0;
    for (const [path, text] of Object.entries(texts)) {
      const at = text.search(/^template/m);
      if (at < 0) continue;
      const source = project.sources.get(path) as Source;
      const found = refactorings({ project, source, path }, { start: at, end: at }).find((one) => one.id === id);
      expect(found?.disabled, path).toBeUndefined();
      const after = projectFrom(applied(texts, found?.edits ?? []));
      expect(built(after)).toEqual(built(project));
      expect(errors(after)).toEqual(errors(project));
      count++;
    }
    expect(count).toBe(4);
  });
});

it('is not offered of a template in which nothing turns', () => {
  expect(titleOf({ 'main.closet': 'template |t { wall back { length 94in; height 96in } }\n' }, id)).toBeUndefined();
});
