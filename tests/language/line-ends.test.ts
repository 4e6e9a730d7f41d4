/** What is written into a file ends its lines as those around it do, where the file mixes them too. */
import { describe, expect, it } from 'vitest';
import { Source } from '../../grammar/source.ts';
import { isOfText, mended } from '../../server/checks/mending.ts';
import { added, declaredBehind, lineEndAt, lineEndNear } from '../../server/model/edits.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import { projectOf } from '../model/support.ts';

describe('how lines end', () => {
  it.each([
    ['a\r\nb\nc', 0, '\r\n'],
    ['a\r\nb\nc', 3, '\r\n'],
    ['a\r\nb\nc', 5, '\n'],
    ['a\nb\r\nc', 1, '\n'],
    ['a\nb\r\nc', 2, '\n'],
    ['\nb', 0, '\n'],
    ['abc', 1, undefined],
    ['', 0, undefined],
  ] as const)('%j at %i', (text, place, end) => expect(lineEndNear(text, place)).toBe(end));

  const mixed =
    'project "P" { show inches }\r\ntemplate t {\r\n  board a\r\n}\r\nunit u t {\n  floor 1\n}\nboard a {\r\n  depth 12in\r\n}\r\nboard b { depth 12in }\r\n';
  const statements = [...new Source('a.closet', mixed, topWords).statements()];

  it('is told of each declaration by what is around it', () => {
    expect(statements.map((one) => [one.word.text, lineEndAt(one, one.text.length)])).toEqual([
      ['project', '\r\n'],
      ['template', '\r\n'],
      ['unit', '\n'],
      ['board', '\r\n'],
      ['board', '\r\n'],
    ]);
  });

  it('is kept by what is added to a block and behind a declaration', () => {
    const written = statements.map((one) => [
      added(one, 'x 1in')?.text,
      declaredBehind(one, 'stock s', 'x')[0]?.edits[0]?.text,
    ]);
    expect(written).toEqual([
      ['; x 1in', '\r\nstock s'],
      ['\r\n  x 1in', '\r\nstock s'],
      ['\n  x 1in', '\nstock s'],
      ['\r\n  x 1in', '\r\nstock s'],
      ['; x 1in', '\r\nstock s'],
    ]);
  });
});

describe('blocks that are not closed', () => {
  it('are closed below what they belong to, with lines that end as the others', () => {
    const lines = [
      'board white-12 { depth 12in; thickness 3/4in }',
      'template t {',
      '  board white-12',
      '  wall back { length 60in; height 96in }',
      '  zone a on back {',
      '    width fill',
      '    shelf s {',
      '      at 40in',
      '',
    ];
    for (const ending of ['\n', '\r\n']) {
      const { texts } = mended(projectOf(lines.join(ending)), { which: isOfText });
      const after = [...lines.slice(0, -1), '    }', '  }', '}', ''].join(ending);
      expect(texts.get('/p/main.closet')).toBe(after);
    }
  });
});
