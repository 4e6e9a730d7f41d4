/** From a thing to what it is made of, a template to its users, a `use` to its file, a cursor to what is around it. */
import { describe, expect, it } from 'vitest';
import { librariesOf, linksOf } from '../../server/language/links.ts';
import { editsForMoves } from '../../server/language/moved-files.ts';
import { selectionsAt } from '../../server/language/selection.ts';
import { allUsedFrom, allUsersOf, templateOrUnitAt, usedFrom, usersOf } from '../../server/language/template-use.ts';
import { typeDefinitionsAt } from '../../server/language/type-definition.ts';
import { scoreOf, symbolsNamed } from '../../server/language/workspace-symbols.ts';
import { building } from '../bench/building.ts';
import { workspaceOf } from '../model/support.ts';
import { cursor, cursorIn, snapshotOf } from './marked.ts';

const text = `template base {
  parameter wood: board = white-16
  board white-12
  wall back { length 60in; height 96in }
  zone a on back { width fill
    shelf plain { at 30in }
    shelf own { at 40in; board white-16 }
    shelf asked { at 50in; board wood }
    rod r { at 80in; pole chrome }
    zone in { width fill; board white-16; shelf inner { at 20in } }
  }
}
template derived extends base { zone a { shelf plain { board white-16 } } }
unit u derived
survey u { wall back { length 59in } }
extra e { board white-12; length 3in }
hardware cup { takes 1in for "it" }
rod pole { diameter 1in; ends with cup }
`;

describe('what a thing is made of', () => {
  it.each([
    ['a shelf, by its template', 'shelf pl|ain { at', ['white-12']],
    ['a shelf, by its own word', 'shelf ow|n', ['white-16']],
    ['a shelf, by its first word', 'she|lf own', ['white-16']],
    ['a shelf whose board is asked for', 'shelf ask|ed', ['white-16']],
    ['a shelf, by the zone around it', 'shelf inn|er', ['white-16']],
    ['a shelf, by a template that extends another', 'shelf pl|ain { board', ['white-16']],
    ['a rod', 'rod |r', ['chrome']],
    ['a unit', 'unit |u', ['derived']],
    ['a template', 'template der|ived', ['base']],
    ['a survey', 'survey |u', ['derived']],
    ['loose parts', 'extra |e', ['white-12']],
    ['a rod of stock', 'rod po|le', ['cup']],
    ['a parameter', 'parameter wo|od', ['white-16']],
    ['a wall', 'wall ba|ck { length 60in', []],
    ['nothing', 'length |60in', []],
  ])('%s', (_, marked, expected) => {
    const { snapshot, at } = cursor(text.replace(marked.replace('|', ''), marked));
    const found = typeDefinitionsAt(snapshot, at);
    expect(found.map(({ source, start, end }) => source.text.slice(start, end))).toEqual(expected);
  });
});

describe('the users of a template', () => {
  const names = (marked: string, ask: typeof usedFrom): string[] => {
    const { snapshot, at } = cursor(text.replace(marked.replace('|', ''), marked));
    return ask(snapshot, at).map(({ of, at: place }) => `${of.name} at ${place.end - place.start}`);
  };

  it('are the units and the templates that name it', () => {
    expect(names('template |base', usersOf)).toEqual(['derived at 4']);
    expect(names('template |derived', usersOf)).toEqual(['u at 7']);
    expect(names('unit |u', usersOf)).toEqual([]);
  });

  it('lead back to what they use', () => {
    expect(names('unit |u', usedFrom)).toEqual(['derived at 7']);
    expect(names('template |derived', usedFrom)).toEqual(['base at 4']);
    expect(names('template |base', usedFrom)).toEqual([]);
  });

  it('are also those that use it through one that extends it, told with what is in between', () => {
    const { snapshot, at } = cursor(text.replace('template base', 'template |base'));
    const told = allUsersOf(snapshot, at).map(({ of, through }) => [of.name, ...through.map(({ name }) => name)]);
    expect(told).toEqual([['derived'], ['u', 'derived']]);
  });

  it('rest on all that their template is built on, the nearest first', () => {
    expect(names('unit |u', allUsedFrom)).toEqual(['derived at 7', 'base at 4']);
    expect(names('template |base', allUsedFrom)).toEqual([]);
  });

  it('are told once where templates extend each other in a ring, or themselves', () => {
    const ring = 'template a extends b { }\ntemplate b extends c { }\ntemplate |c extends a { }\nunit u a\n';
    const { snapshot, at } = cursor(ring);
    expect(allUsersOf(snapshot, at).map(({ of }) => of.name)).toEqual(['b', 'a', 'c', 'u']);
    expect(allUsedFrom(snapshot, at).map(({ of }) => of.name)).toEqual(['a', 'b', 'c']);
    const own = cursor('template |a extends a { }\n');
    expect(allUsersOf(own.snapshot, own.at).map(({ of }) => of.name)).toEqual(['a']);
  });

  it('are none past the end, and in a text of nothing but errors', () => {
    for (const broken of ['', 'template', '}}} unit |', 'template t extends { unit', 'unit u t\n\n\n']) {
      const { snapshot } = cursor(broken.includes('|') ? broken : `${broken}|`);
      for (const offset of [0, broken.length, broken.length + 99])
        expect([...allUsersOf(snapshot, offset), ...allUsedFrom(snapshot, offset)]).toEqual([]);
    }
  });

  it('are asked for by any place that names a template or a unit', () => {
    const told = (marked: string): string | undefined => {
      const { snapshot, at } = cursor(text.replace(marked.replace('|', ''), marked));
      return templateOrUnitAt(snapshot, at)?.name;
    };
    expect(told('extends ba|se')).toBe('base');
    expect(told('survey u|')).toBe('u');
    expect(told('uni|t u')).toBe('u');
    expect(told('shelf ow|n')).toBeUndefined();
  });
});

describe('the path of a library', () => {
  const files = {
    'main.closet':
      'use "lib/parts" as trade|\nuse "lib" as all\nuse "gone" as gone\nextra e { board trade.oak; length 3in }\n',
    'lib/parts.closet': 'board oak { depth 3in; thickness 1in }\n',
    'lib/project.closet': 'project "Parts"\n',
  };

  it('leads to its file, or to the one that declares its project', () => {
    const { snapshot, text: written } = cursorIn(files);
    expect(librariesOf(snapshot).map(({ written: path, main }) => [path, main])).toEqual(
      linksOf(snapshot).map((l) => [written.slice(l.start, l.end), l.file]),
    );
    expect(linksOf(snapshot).map((l) => [written.slice(l.start, l.end), l.file])).toEqual([
      ['lib/parts', '/p/lib/parts.closet'],
      ['lib', '/p/lib/project.closet'],
    ]);
  });

  it.each([
    ['a file', '/p/lib/parts.closet', '/p/lib/wood/boards.closet', ['lib/wood/boards']],
    ['a folder', '/p/lib', '/p/shared/lib', ['shared/lib/parts', 'shared/lib']],
    ['the file that names it', '/p/main.closet', '/p/job/main.closet', ['../lib/parts', '../lib']],
    ['the file that names it, within its folder', '/p/main.closet', '/p/other.closet', []],
    ['everything', '/p', '/q', []],
    ['what is no library any more', '/p/lib/parts.closet', '/p/lib/parts.txt', []],
    ['something else', '/p/prelude.closet', '/p/x.closet', []],
  ])('goes with %s', (_, from, to, expected) => {
    const { snapshot } = cursorIn(files);
    expect(editsForMoves([snapshot.project], [{ from, to }]).map((e) => e.text)).toEqual(expected);
  });
});

describe('a selection', () => {
  const grown = (marked: string): string[] => {
    const { snapshot, at, text: written } = cursor(marked);
    return selectionsAt(snapshot, at).map(({ start, end }) => written.slice(start, end));
  };

  it('grows from the word to the file', () => {
    expect(grown('/// A closet.\ntemplate t {\n  wall back { length max(a.w|idth, 3in) - 1in }\n}\n')).toEqual([
      'width',
      'a.width',
      'max(a.width, 3in)',
      'max(a.width, 3in) - 1in',
      'length max(a.width, 3in) - 1in',
      ' length max(a.width, 3in) - 1in ',
      '{ length max(a.width, 3in) - 1in }',
      'wall back { length max(a.width, 3in) - 1in }',
      '\n  wall back { length max(a.width, 3in) - 1in }\n',
      '{\n  wall back { length max(a.width, 3in) - 1in }\n}',
      'template t {\n  wall back { length max(a.width, 3in) - 1in }\n}',
      '/// A closet.\ntemplate t {\n  wall back { length max(a.width, 3in) - 1in }\n}',
      '/// A closet.\ntemplate t {\n  wall back { length max(a.width, 3in) - 1in }\n}\n',
    ]);
    expect(grown('unit u t { width 5|in; floor 1 }').slice(0, 4)).toEqual([
      '5',
      '5in',
      'width 5in',
      'width 5in; floor 1',
    ]);
    expect(grown('// a |comment\nunit u t')[0]).toBe('// a comment');
    expect(grown('|')).toEqual(['']);
  });

  it('grows strictly, wherever it begins', () => {
    const snapshot = snapshotOf(text);
    for (let at = 0; at <= text.length; at++) {
      const ranges = selectionsAt(snapshot, at);
      expect(ranges.at(-1)).toEqual({ start: 0, end: text.length });
      for (const [i, { start, end }] of ranges.entries()) {
        const inner = ranges[i - 1] ?? { start: at, end: at };
        expect(start <= inner.start && inner.end <= end && (i === 0 || end - start > inner.end - inner.start)).toBe(
          true,
        );
      }
    }
  });
});

describe('symbols by a part of their names', () => {
  const found = (query: string): string[] =>
    symbolsNamed([snapshotOf(text).project], query).map((s) => `${s.word} ${s.name} in ${s.container}`);

  it('are declarations and the things in templates, best first', () => {
    expect(found('own')).toEqual(['shelf own in base.a']);
    expect(found('white-12').slice(0, 2)).toEqual([
      'board white-12 in prelude.closet',
      'stock white-12 in prelude.closet',
    ]);
    expect(found('der')).toEqual(['template derived in main.closet']);
    expect(found('w16')).toEqual(['board white-16 in prelude.closet', 'stock white-16 in prelude.closet']);
    expect(found('61w')).toEqual([]);
  });

  it('rank what is whole over what begins so, what begins a word, what is in it and what is scattered', () => {
    const names = ['rod', 'rod-upper', 'upper-rod', 'xrod', 'r-o-d'];
    const scores = names.map((name) => scoreOf('rod', name) ?? Number.NaN);
    expect(scores).toEqual(scores.toSorted((a, b) => b - a));
    expect(scoreOf('dor', 'rod')).toBeUndefined();
  });

  it('are bounded, and found at once among ten thousand units', () => {
    const project = workspaceOf({ '/p/a.closet': 'project "Quarry Lane"' }).projects[0]?.project;
    if (!project) throw new Error('no project');
    project.setFile('/p/b.closet', building(10_000, 0));
    symbolsNamed([project], 'u');
    const start = performance.now();
    expect(symbolsNamed([project], 'u99')).toHaveLength(200);
    expect(symbolsNamed([project], 'u9999')[0]?.name).toBe('u9999');
    // Two searches; what is asked for is an answer while somebody types.
    expect(performance.now() - start).toBeLessThan(400);
  });
});
