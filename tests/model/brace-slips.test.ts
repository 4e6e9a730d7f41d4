/** A block without any braces, its content on deeper lines: one finding, and both braces where they belong. */
import { describe, expect, it } from 'vitest';
import { isOfText, mended } from '../../server/checks/mending.ts';
import { saidOfFile } from './said.ts';
import { projectOf, told } from './support.ts';

const template = `template linen {
  board white-12
  parameter width: length = 60in
  wall back { length width; height 96in }
  zone main on back {
    width fill
    shelf top { at 72in }
  }
}
`;

function found(text: string): string[] {
  return saidOfFile(text)
    .map((one) => `${told(one.found).line} ${one.found.rule.id}`)
    .sort();
}

/** Without the braces that stand at the ends of lines or on lines of their own. */
const bare = (text: string): string => text.replace(/ \{$/gm, '').replace(/^ *\}\n/gm, '');

describe('a block without its braces', () => {
  const all = `${template}unit a linen {\n  width 40in\n}\n`;

  it.each([
    ['a template', template.replace('linen {\n', 'linen\n').replace(/\}\n$/, ''), template],
    [
      'a template with comments',
      `template t // here\n  board white-12 // and here\n\nextra e { board white-12; length 24in }\n`,
      undefined,
    ],
    ['a zone in it', template.replace('back {\n', 'back\n').replace('  }\n}', '}'), template],
    ['a template and all in it', bare(template), template],
    ['a board', 'board oak\n  depth 12in\n  thickness 3/4in\n', 'board oak {\n  depth 12in\n  thickness 3/4in\n}\n'],
    [
      'a board, at the end of the file',
      'board oak\n  depth 12in\n  thickness 3/4in',
      'board oak {\n  depth 12in\n  thickness 3/4in\n}',
    ],
    [
      'several on a line',
      'board oak\n  depth 12in; thickness 3/4in // as sold\n',
      'board oak {\n  depth 12in; thickness 3/4in // as sold\n}\n',
    ],
    ['a unit', `${template}unit a linen\n  width 40in\n`, all],
    ['by tabs', 'board oak\n\tdepth 12in\n\tthickness 3/4in\n', 'board oak {\n\tdepth 12in\n\tthickness 3/4in\n}\n'],
    ['with line ends of another kind', 'board oak\r\n  depth 12in\r\n', 'board oak {\r\n  depth 12in\r\n}\r\n'],
  ])('is told once, and offered with both: %s', (_, text, mended) => {
    const [only, ...others] = saidOfFile(text);
    expect(others.map((one) => one.found.message)).toEqual([]);
    expect(only?.found.message).toMatch(
      /^The lines below ".*" belong in its block, and both braces of that are missing\.$/,
    );
    if (mended !== undefined) expect(only?.mended).toBe(mended);
  });

  it('is told once each', () => {
    expect(found(`board oak\n  depth 12in\nboard ash\n  depth 12in\n${template}unit a linen\n  width 40in\n`)).toEqual([
      '1 braces-missing',
      '14 braces-missing',
      '3 braces-missing',
    ]);
  });

  it('is mended with all that is obvious', () => {
    const project = projectOf(`${bare(template)}unit a linen\n  width 40in\n`);
    expect(mended(project, { which: isOfText }).texts.get('/p/main.closet')).toBe(all);
  });

  it('hides nothing behind its lines, nor in other declarations', () => {
    expect(found(`board oak\n  depth 12in\n\nbord ash { depth 12in }\nunit u nothing\n`)).toEqual([
      '1 braces-missing',
      '4 word-not-known',
      '5 name-not-known',
    ]);
  });

  it('ends before what stands in no block, however deep', () => {
    const text = 'board oak\n  depth 12in\n  unit u nothing\n';
    expect(found(text)).toEqual(['1 braces-missing', '3 name-not-known']);
    expect(saidOfFile(text)[0]?.mended).toBe('board oak {\n  depth 12in\n}\n  unit u nothing\n');
  });

  it('is no matter of indentation alone', () => {
    expect(found(`${template}unit a linen\n  unit b linen\n`)).toEqual([]);
    expect(found('board oak\ndepth 12in\n')).toEqual(['1 block-missing', '2 word-not-known']);
    expect(found('board oak\n  board ash { depth 12in }\n')).toEqual(['1 block-missing']);
    expect(saidOfFile('board oak\n  board ash { depth 12in }\n')[0]?.found.message).toContain('needs its properties');
  });

  it('is none of a head in whose block the lines do not stand', () => {
    const text = 'board oak\n  wall back { length 60in; height 96in }\n';
    expect(found(text)).toEqual(['1 block-missing', '2 word-not-known']);
  });

  it('is offered no braces where one within its lines is missing', () => {
    expect(saidOfFile('template t\n  wall back { length 60in\n').flatMap((one) => one.found.fixes)).not.toContainEqual(
      expect.objectContaining({ title: 'Write { and } around the lines below' }),
    );
  });
});
