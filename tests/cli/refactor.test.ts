/** Refactorings in the terminal: listed with their ids, shown as a diff, or written. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderWith, storypole } from './command.ts';
import { clean } from './texts.ts';

const units = 'unit A-102-linen linen { override main.top { at 70in } }\r\nunit A-103-linen linen mirrored\r\n';
const project = (): string => folderWith({ 'a.closet': clean, 'more/b.closet': `\ufeff${units}` });
const read = (folder: string, file: string): string => readFileSync(join(folder, file), 'utf8');

describe('refactorings in the terminal', () => {
  it('are listed with their ids, and the reason where one cannot be made', () => {
    const { out, status } = storypole(['refactor', 'more/b.closet:1:18'], project());
    expect(status).toBe(0);
    expect(out).toBe(
      [
        'extract-template  Make the changes of unit "A-102-linen" a template "linen-2"',
        'inline-template   Write what "linen" says into unit "A-102-linen" (not here: A unit says what is different from a template, and this one extends none that would be left.)',
        'mirror            Build "A-102-linen" mirrored (not here: Its overrides are stated as on site, and would stay where they are.)',
        '',
      ].join('\n'),
    );
  });

  it('are listed for programs too', () => {
    const { out } = storypole(['refactor', 'a.closet:4', '--format', 'json'], project());
    const document = JSON.parse(out);
    expect(document.command).toBe('refactorings');
    expect(document.refactorings[0]).toEqual({
      id: 'mirror-template',
      title: 'Write template "linen" the other way round; its 3 units stay built as they are',
      notHere: null,
    });
  });

  it('change all files that they have to, bytes around left as they are', () => {
    const folder = project();
    expect(storypole(['refactor', 'a.closet:4', 'mirror-template'], folder)).toEqual({
      status: 0,
      out: 'Write template "linen" the other way round; its 3 units stay built as they are: done in 4 places of 2 files:\n  a.closet: 2\n  more/b.closet: 2\n',
      err: '',
    });
    expect(read(folder, 'more/b.closet')).toBe(
      '\ufeffunit A-102-linen linen mirrored { override main.top { at 70in } }\r\nunit A-103-linen linen\r\n',
    );
    expect(read(folder, 'a.closet')).toContain('zone main on back from right {');
    const cuts = (of: string): string => storypole(['cuts'], of).out.replace(/\d of them mirrored/, '');
    expect(cuts(folder)).toBe(cuts(project()));
  });

  it('are shown as a diff where nothing is to be written', () => {
    const folder = project();
    const { out } = storypole(['refactor', 'more/b.closet:1', 'extract-template', '--dry-run'], folder);
    expect(out.split('\n').filter((line) => /^[-+]/.test(line))).toEqual([
      '--- a.closet',
      '+++ a.closet',
      '+',
      '+template linen-2 extends linen {',
      '+  zone main { shelf top { at 70in } }',
      '+}',
      '--- more/b.closet',
      '+++ more/b.closet',
      '-unit A-102-linen linen { override main.top { at 70in } }\r',
      '+unit A-102-linen linen-2\r',
    ]);
    expect(read(folder, 'a.closet')).toBe(clean);
  });

  it.each([
    [
      ['a.closet:4', 'mirror-templat'],
      '"mirror-templat" is not offered at a.closet:4. Did you mean "mirror-template"?',
    ],
    [['a.closet:2:1', 'x'], '"x" is not offered at a.closet:2:1. There is convert-statement-to-millimetres.'],
    [
      ['more/b.closet:3'],
      'Nothing is offered at more/b.closet:3. Ask at the name of a unit or template, at a number, or at a length.',
    ],
    [['more/b.closet:1', 'mirror'], 'Its overrides are stated as on site, and would stay where they are.'],
    [
      ['a.closet:4', '--dry-run'],
      '--dry-run goes with the id of a refactoring; without it, storypole refactor a.closet:4 lists them.',
    ],
    [['a.closet:99'], 'a.closet has no line 99: its last line is 10.'],
  ])('that are not there say so: %s', (words, why) => {
    const folder = project();
    const run = storypole(['refactor', ...words], folder);
    expect(run).toEqual({ status: 2, out: '', err: `storypole: ${why}\n` });
    expect(read(folder, 'a.closet')).toBe(clean);
  });
});
