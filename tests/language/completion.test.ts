import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Source } from '../../grammar/source.ts';
import { completionsAt, mostOffered, waitsForValues } from '../../server/language/completion.ts';
import type { Completion } from '../../server/language/offer.ts';
import { signatureAt } from '../../server/language/signature.ts';
import type { Project } from '../../server/model/project.ts';
import { workspaceOf } from '../model/support.ts';
import { cursor, file, snapshotOf } from './marked.ts';

/** Best first, as an editor sorts them. */
function offered(marked: string): (Completion & { readonly replaces: string })[] {
  const { snapshot, at, text } = cursor(marked);
  return completionsAt(snapshot, at)
    .map((c) => ({ ...c, replaces: text.slice(c.start, c.end) }))
    .sort((a, b) => a.rank - b.rank);
}

function labels(marked: string, ...kinds: Completion['kind'][]): string[] {
  return offered(marked)
    .filter((c) => kinds.length === 0 || kinds.includes(c.kind))
    .map((c) => c.label);
}

const closet = (inside: string, given = 'width 60in'): string => `template t {
  parameter width: length = 56in from 50in to 70in
  parameter shelf-board: board = white-12
  wall back { length width; height 96in }
  opening front on back { width 40in }
  board white-12
  pole chrome
  zone a on back { width fill
    shelf top { at 84in }
    ${inside}
  }
}
unit u t { ${given} }
`;

describe('values that hold', () => {
  it('are offered in place of one that is out of range', () => {
    const found = offered(closet('', 'width 4|5in'));
    expect(found.filter((c) => c.kind === 'value').map((c) => [c.label, c.replaces, c.detail])).toContainEqual([
      '50in',
      '45in',
      'mends argument-out-of-range',
    ]);
  });

  it('stand before the ends of the range', () => {
    expect(labels(closet('', 'width 4|5in'), 'value')).toEqual(['50in', '56in', '70in']);
  });

  it('are known once the project is up to date', () => {
    const { snapshot, at, text } = cursor(closet('', 'width 4|5in'));
    expect(waitsForValues(snapshot, at)).toBe(false);
    snapshot.project.editFile(file, [{ start: at + 1, end: at + 1, text: '0' }]);
    expect(waitsForValues(snapshot, text.indexOf('45in'))).toBe(true);
    expect(() => completionsAt(snapshot, at)).not.toThrow();
  });
});

describe('lengths that are written elsewhere in the template', () => {
  const beside = (inside: string): string =>
    `template t {
  wall back { length 60in; height 96in }
  board white-12
  pole chrome
  zone a on back {
    width 30in
    shelf top { at 84in }
    shelf low { at 42in }
    rod long { at 60in; for shirt }
  }
  zone b on back after a {
    width fill
    shelf high { at 84in }
    ${inside}
  }
}
unit u t
`;
  const values = (marked: string): unknown[] =>
    offered(marked)
      .filter((c) => c.kind === 'value')
      .map((c) => [c.label, c.detail, c.replaces]);

  it('are offered where they fit, of things of the same kind', () => {
    // At 84in there is a shelf already, and a rod is no shelf.
    expect(values(beside('shelf mid { at | }'))).toEqual([['42in', 'as a.low', '']]);
  });

  it('take the place of the number that is typed', () => {
    expect(values(beside('shelf mid { at 4| }'))).toEqual([['42in', 'as a.low', '4']]);
    expect(values(beside('shelf mid { at 50|in }'))).toEqual([['42in', 'as a.low', '50in']]);
  });

  it('are those of the template that this one is built on', () => {
    const heir = `${beside('')}template s extends t { zone b { shelf mid { at | } } }\n`;
    expect(values(heir)).toEqual([['42in', 'as a.low', '']]);
  });

  it('are those that fit into what is left', () => {
    expect(values(beside('zone c { width | }'))).toEqual([['30in', 'as a', '']]);
    expect(values(beside('zone c { width | }').replace('length 60in', 'length 50in'))).toEqual([]);
  });

  it('say of a few whose they are', () => {
    const more = ['c', 'd'].map((name) => `  zone ${name} on left { width fill; shelf low { at 42in } }\n`).join('');
    const three = beside('shelf mid { at | }').replace(
      '  board',
      `  wall left { length 24in; height 96in }\n${more}  board`,
    );
    expect(
      values(
        three
          .replace('zone d on left', 'zone d on right')
          .replace('  board', '  wall right { length 24in; height 96in }\n  board'),
      ),
    ).toEqual([['42in', 'as c.low, d.low and 1 more', '']]);
  });

  it('are known once the project is up to date', () => {
    const { snapshot, at } = cursor(beside('shelf mid { at | }'));
    snapshot.project.editFile(file, [{ start: at, end: at, text: ' ' }]);
    expect(completionsAt(snapshot, at).filter(({ kind }) => kind === 'value')).toEqual([]);
  });
});

describe('values of a parameter', () => {
  it('are its default and the ends of its range', () => {
    const found = offered(closet('', 'width |')).filter((c) => c.kind === 'value');
    expect(found.map((c) => [c.label, c.detail])).toEqual([
      ['56in', 'default of width'],
      ['50in', 'least of width'],
      ['70in', 'most of width'],
    ]);
  });

  it('are the names of a kind where it is a material', () => {
    expect(labels(closet('', 'shelf-board |'), 'name')).toEqual(['white-12', 'white-16']);
  });
});

describe('dimensions', () => {
  it('are those that are given as a length', () => {
    const found = offered(closet('shelf low { at | }')).filter((c) => c.kind === 'dimension');
    // Heights first, where a height is written.
    expect(found.map((c) => c.label)).toEqual(['back.height', 'back.length', 'front.width']);
    expect(found[0]?.detail).toBe('wall back { height 96in }');
    expect(labels(closet('zone c { width | }'), 'dimension')).toEqual(['back.length', 'front.width', 'back.height']);
  });

  it('go on behind a dot, which is replaced whole', () => {
    const found = offered(closet('shelf low { at back.| }')).find((c) => c.label === 'back.height');
    expect(found?.replaces).toBe('back.');
    expect(offered(closet('shelf low { at 3in + back.| }')).find((c) => c.label === 'back.height')?.replaces).toBe(
      'back.',
    );
    expect(labels(closet('', 'width 60in; override a.| { at 80in }'))).toContain('a.top');
  });

  it('are not offered to themselves', () => {
    expect(labels(closet('').replace('height 96in', 'height |'), 'dimension')).toEqual(['back.length', 'front.width']);
  });
});

describe('names', () => {
  it('include a parameter of the template that is one', () => {
    expect(labels(closet('shelf low { board | }'))).toEqual(['white-12', 'white-16', 'shelf-board']);
  });

  it('of hardware are in the order of the part that they play', () => {
    const hardware = `hardware a-tie { is tie }
hardware b-thing { pack 10 }
hardware c-cup { is cup; takes 3/8in }
`;
    expect(labels(`${hardware}${closet('rod r { under top by 3in; held by | }')}`)).toEqual([
      'c-cup',
      'b-thing',
      'a-tie',
    ]);
    expect(labels(`${hardware}hardware d { anchor | }`)[0]).toBe('b-thing');
    expect(offered(`${hardware}${closet('rod r { held by | }')}`)[0]?.detail).toBe('hardware c-cup: cup');
  });

  it('come with their declaration when somebody looks', () => {
    const found = offered(closet('shelf low { board wh| }'))[0];
    expect(found?.doc?.()).toContain('board white-12 { depth 12in; thickness 3/4in; ripping allowed }');
    expect(
      offered(closet('rod r { for | }'))
        .find((c) => c.label === 'shirt')
        ?.doc?.(),
    ).toContain('garment shirt');
  });

  it('are so many at most, those that go with what is typed', () => {
    const units = Array.from({ length: 900 }, (_, i) => `unit u-${i} t { }`).join('\n');
    expect(labels(`${units}\nsurvey | { }`)).toHaveLength(mostOffered);
    const some = labels(`${units}\nsurvey u-77| { }`);
    expect(some).toContain('u-77');
    expect(some).toContain('u-770');
    expect(some).not.toContain('u-100');
  });
});

describe('lengths from stock', () => {
  it('are what a board gives in equal pieces', () => {
    const found = offered('extra spare { board white-12; length | }').filter((c) => c.kind === 'value');
    // With a kerf of 1/8in and a saw step of 1/16in: (96in - 1/8in) / 2 = 47-15/16in.
    expect(found.map((c) => [c.label, c.detail]).slice(0, 4)).toEqual([
      ['96in', 'the whole of 96in'],
      ['72in', 'the whole of 72in'],
      ['47-15/16in', '2 from one of 96in'],
      ['35-15/16in', '2 from one of 72in'],
    ]);
  });

  it('are those of other stock where stock is declared', () => {
    expect(labels('board oak { depth 12in; thickness 3/4in }\nstock oak { length | }', 'value')).toEqual([
      '96in',
      '72in',
    ]);
  });
});

describe('the default and the range of a parameter', () => {
  const declared = (parameter: string): string =>
    `template t {
  parameter width: length = 60in
  parameter own: board = white-12
  ${parameter}
  wall back { length width; height 96in }
  zone z on back { width fill }
}
`;

  it.each(['length = |', 'length = w|', 'length = 60in from |', 'count = 2 from 1 to |', 'text = |'])(
    'offers nothing that is computed: %s',
    (typed) => {
      expect(labels(declared(`parameter l: ${typed}`), 'parameter', 'dimension', 'name')).toEqual([]);
    },
  );

  it('offers what is declared of the kind', () => {
    expect(labels(declared('parameter b: board = |'), 'parameter', 'name')).toEqual(['white-12', 'white-16']);
    expect(offered(declared('parameter b: board = wh|')).map((c) => c.replaces)).toEqual(['wh', 'wh']);
    expect(labels(declared('parameter r: rod = |'))).toEqual(['chrome']);
    expect(labels(declared('parameter g: garment = |'))).toContain('shirt');
    expect(labels(`hardware clip { is anchor }\n${declared('parameter h: hardware = |')}`)).toEqual(['clip']);
  });

  it('offers nothing of the template to its tests either', () => {
    expect(labels(declared('test "x" { width | }'), 'parameter', 'dimension')).toEqual([]);
    expect(labels(declared('test "x" { own | }'), 'parameter', 'name')).toEqual(['white-12', 'white-16']);
  });
});

describe('drawers', () => {
  const chest = (inside: string, more = '', given = ''): string =>
    `${closet(
      `drawers chest { count 2; at 8in; height 8in; depth 14in }\n    ${inside}`,
      `width 60in; ${given}`,
    ).replace('unit u', `template v extends t { ${more} }\nunit u`)}`;

  it('are offered where they may be named', () => {
    expect(labels(chest('', '', 'override a.ch|'))).toContain('a.chest');
    expect(labels(chest('', 'test "x" { expect | }'))).toContain('a.chest');
    expect(labels(chest('shelf z { above | by 3in }'), 'name')).toEqual(['top', 'chest']);
  });

  it('are offered where a row of shelves, which has no height of its own, is not', () => {
    expect(
      labels(chest('shelves row between floor and top { count 1 }\n    shelf z { above | by 3in }'), 'name'),
    ).toEqual(['top', 'chest']);
  });
});

describe('units of measure', () => {
  const measures = (marked: string): string[] => labels(marked, 'measure');

  it.each([
    ['board b { stiffness 330 | }', ['psi', 'ksi', 'MPa', 'GPa']],
    ['board b { weight 2.5 l| }', ['lb/ft2', 'kg/m2']],
    ['policy p { load shelf 15 | }', ['lbf/ft2', 'psf', 'kPa']],
    ['stock white-12 { lead 10 d| }', ['days', 'day', 'weeks', 'week']],
    ['hardware h { pack 10 price 18.90 E| }', ['EUR']],
    ['hardware h { pack 10 price 18.90| }', ['EUR']],
    ['hardware h { pack 10 | }', []],
    ['board b { stiffness 330 ksi | }', []],
  ])('are offered behind a number, with a space and without: %s', (marked, expected) => {
    expect(measures(marked)).toEqual(expected);
  });

  it('take the place of what is begun of them', () => {
    expect(offered('board b { stiffness 330 k| }').map((c) => [c.label, c.replaces])).toContainEqual(['ksi', 'k']);
    expect(offered('board b { stiffness 330 | }').map((c) => [c.label, c.replaces])).toContainEqual(['ksi', '']);
  });

  it('stand beside the words that may come next', () => {
    expect(labels('stock white-12 { length 8ft price 12 | }')).toEqual(['EUR', 'count', 'unlimited']);
  });

  it('are those of the parameter that is given', () => {
    const angle = 'template t { parameter tilt: angle = 10deg; parameter n: count = 2 }\n';
    expect(measures(`${angle}unit u t { tilt 12| }`)).toEqual(['deg']);
    expect(measures(`${angle}unit u t { n 12| }`)).toEqual([]);
    expect(measures(`${angle}unit u t { floor 1| }`)).toEqual([]);
  });
});

describe('words of a phrase', () => {
  it('are not those behind a value where a word that can stand there is no value', () => {
    expect(labels('policy p { deflection shelf | }', 'literal')).toEqual([]);
    expect(labels('policy p { deflection shelf 144 | }', 'literal')).toEqual(['at']);
  });
});

describe('what a finding is agreed to at', () => {
  it('goes on behind the name of a unit with its zones and what is in them', () => {
    const found = offered(`${closet('')}accept rod-near-wall at u.|`);
    expect(found.map((c) => [c.label, c.replaces])).toEqual([
      ['u.back', 'u.'],
      ['u.front', 'u.'],
      ['u.a', 'u.'],
      ['u.a.top', 'u.'],
    ]);
    const deeper = offered(`${closet('')}accept rod-near-wall at u.a.|`).find((c) => c.label === 'u.a.top');
    expect(deeper?.replaces).toBe('u.a.');
    expect(labels(`${closet('')}accept rod-near-wall at t.a|`)).toContain('t.a.top');
  });

  it('starts with a unit or a template', () => {
    const found = offered(`${closet('')}accept rod-near-wall at |`).map((c) => [c.label, c.detail]);
    expect(found).toContainEqual(['u', 'start of a path']);
    expect(found).toContainEqual(['t', 'start of a path']);
  });
});

describe('a survey', () => {
  it('is offered the walls and openings of the template', () => {
    expect(labels(`${closet('')}survey u { wall | }`)).toEqual(['back']);
    expect(labels(`${closet('')}survey u { opening | }`)).toEqual(['front']);
    expect(offered(`${closet('')}survey u { opening fr| { width 39in } }`).map((c) => c.replaces)).toEqual(['fr']);
  });
});

describe('names that cannot be right', () => {
  it('are not offered: those that ship with the tool as those of a library', () => {
    const text = 'project "P" { }\nuse "../trade" as trade\ntemplate t { zone a { rod r { for } } }\n';
    const path = '/repo/p/main.closet';
    const made = workspaceOf({ [path]: text, '/repo/trade/kilt.closet': 'garment kilt { hang 30in }\n' }, ['/repo']);
    const project = made.projectOf(path)?.project as Project;
    const snapshot = { project, source: project.sources.get(path) as Source, path };
    const found = completionsAt(snapshot, text.indexOf('for ') + 4).map((c) => c.label);
    expect(found).toContain('shirt');
    expect(found).toContain('trade.kilt');
    expect(found).not.toContain('trade.shirt');
  });

  it('are not offered: a thing for itself', () => {
    expect(labels('template v extends |\ntemplate w { }')).toEqual(['w']);
    expect(labels('policy low extends |')).not.toContain('low');
    expect(labels('hardware tie { is tie }\nhardware clip { anchor | }')).toEqual(['tie']);
  });

  it('are not offered: a thing that another template says again', () => {
    const heir = (inside: string): string => `${closet('zone in-a { width fill }')}template s extends t { ${inside} }`;
    expect(labels(heir('zone a on back after |'), 'name')).toEqual([]);
    expect(labels(heir('zone b on back after |'), 'name')).toEqual(['a']);
    expect(labels(heir('zone a { shelf top { under | } }'), 'name')).toEqual([]);
    expect(labels(heir('zone a { shelf low { under | } }'), 'name')).toEqual(['top']);
  });
});

/** A half-typed file is what an editor has most of the time. */
describe('at every boundary of every token of the examples', { timeout: 120_000 }, () => {
  const root = path.resolve(import.meta.dirname, '../../examples');
  const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.closet'));
  const breaks = ['{', '"', '= ', '. ', '3', '}'];

  it.each(files)('%s', (name) => {
    const whole = readFileSync(path.join(root, name), 'utf8');
    const text = whole.slice(0, 1500);
    const boundaries = [...text.matchAll(/[\p{L}\p{N}_-]+|[^\s\p{L}\p{N}]/gu)].flatMap((m) => [
      m.index,
      m.index + m[0].length,
    ]);
    const snapshot = snapshotOf(text);
    for (const [i, at] of boundaries.entries()) {
      // Something broken around every place, taken back afterwards.
      const broken = breaks[i % breaks.length] as string;
      snapshot.project.editFile(file, [{ start: at, end: at, text: broken }]);
      for (const offset of [at, at + broken.length]) {
        signatureAt(snapshot, offset);
        for (const { kind, start, end, text: inserted, label } of completionsAt(snapshot, offset)) {
          const line = snapshot.source.positionAt(start).line;
          if (start > offset || end < offset || snapshot.source.positionAt(end).line !== line)
            expect([name, at, label]).toBe('what is replaced is on one line, around the cursor');
          if (kind !== 'snippet' && inserted.includes('\n')) expect([name, at, label]).toBe('plain text of one line');
        }
      }
      snapshot.project.editFile(file, [{ start: at, end: at + broken.length, text: '' }]);
    }
  });
});
