/** Names out of files make names of files that every system takes, each its own, none of them out of its folder. */
import { existsSync, readdirSync } from 'node:fs';
import { basename, join, win32 } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fileName, fileNames } from '../../server/cli/file-names.ts';
import { folderWith, storypole } from './command.ts';

/** From memory: what Linux, macOS and Windows take, and what Windows leaves out or takes for a device. */
function staysInside(name: string): boolean {
  return (
    name !== '' &&
    name === basename(name) &&
    name === win32.basename(name) &&
    !/[\p{Cc}\p{Zl}\p{Zp}\\/:*?"<>|]/u.test(name) &&
    !/^[-.~ ]/.test(name) &&
    !/[. ]$/.test(name) &&
    !/^(con|prn|aux|nul|com\d|lpt\d|conin\$|conout\$)(\.|$)/i.test(name) &&
    Buffer.byteLength(name) <= 255 &&
    name.isWellFormed()
  );
}

const corpus = [
  ...[
    '',
    '.',
    '..',
    '...',
    '../../x',
    '..\\..\\x',
    '/etc/passwd',
    'C:\\x',
    'C:x',
    '\\\\server\\share',
    '\\\\?\\C:\\x',
    '//x',
  ],
  ...['CON', 'con', 'nul.pdf', 'COM1', 'com¹', 'LPT9.closet', 'CONIN$', 'AUX.tar.gz', 'clock$', 'con .x', ' CON'],
  ...[
    'a/b',
    'a:b',
    'a.closet:stream',
    '-rf',
    '--out',
    '- -',
    '~',
    '~root',
    '$(id)',
    '`id`',
    '%2e%2e%2f',
    'file:///x',
    '|id',
    'a;b',
    'a&b',
  ],
  ...[
    'trailing.',
    'trailing ',
    'trailing. . ',
    ' leading',
    '.hidden',
    'a\nb',
    'a\r\nb',
    'a\0b',
    'a\tb',
    '\u007f',
    '\u202egpj.exe',
    'a\u2028b',
  ],
  ...[
    'x'.repeat(300),
    'é'.repeat(300),
    '漢'.repeat(300),
    '👩‍👩‍👧‍👦'.repeat(60),
    '\u0301'.repeat(50),
    'e\u0301',
    '\ud800',
    'a\udc00b',
    '\ufeffx',
    '⁄etc⁄passwd',
    '．．／x',
  ],
] as const;

describe('a name', () => {
  it.each(corpus)('%j', (name) => {
    expect({ made: fileName(name), staysInside: staysInside(fileName(name)) }).toEqual({
      made: fileName(name),
      staysInside: true,
    });
  });

  it('of any letters stands inside its folder, is itself when it is plain, and stays as it is made', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string({ unit: 'binary' }),
          fc.string(),
          fc.array(fc.constantFrom(...corpus)).map((all) => all.join('')),
        ),
        (text) => {
          const made = fileName(text);
          expect(staysInside(made)).toBe(true);
          expect(staysInside(`${made}.pdf`)).toBe(true);
          expect(fileName(made)).toBe(made);
        },
      ),
      { numRuns: 600 },
    );
    for (const plain of ['A-101-linen', 'Löwe.2', '漢字', 'a_b']) expect(fileName(plain)).toBe(plain);
  });

  it('is another one for each, also where case and the way of composing letters count for nothing', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.oneof(
            fc.constantFrom(...corpus, 'a', 'A', 'a-2', 'e\u0301', '\u00e9', 'É', 'ß', 'SS', 'ﬁ', 'fi'),
            fc.string(),
          ),
        ),
        (texts) => {
          const names = fileNames(texts, '.pdf');
          expect(names).toHaveLength(texts.length);
          const folded = names.map((name) => name.normalize('NFKC').toLowerCase());
          expect(new Set(folded).size).toBe(names.length);
          const upper = names.map((name) => name.normalize('NFD').toUpperCase());
          expect(new Set(upper).size).toBe(names.length);
          for (const name of names) expect(staysInside(name)).toBe(true);
        },
      ),
      { numRuns: 300 },
    );
  });
});

it('names of units, floors and projects make no path out of the folder that is written into', () => {
  const folder = folderWith({
    'job/a.closet': `project "../../../escaped/CON" { show inches }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft }
template t { board white-12; wall back { length 60in; height 96in }; zone a on back { width fill; shelf s { at 40in } } }
unit nul t { floor 1 }
unit u-2 t { floor 2 }
`,
  });
  const job = join(folder, 'job');
  for (const words of [
    ['export', '--out', 'out', '--csv', '--json', '--html'],
    ['draw', '--out', 'out'],
    ['packet', '--out', 'out', '--each'],
    ['boards', '--out', 'out'],
  ])
    expect(storypole([...words, '--date', '2026-11-28'], job)).toMatchObject({ status: 0 });
  expect(readdirSync(folder)).toEqual(['job']);
  expect(readdirSync(job).sort()).toEqual(['a.closet', 'out']);
  const made = readdirSync(join(job, 'out'));
  expect(made.length).toBeGreaterThan(8);
  expect(made.filter((name) => !staysInside(name))).toEqual([]);
  expect(existsSync(join(job, 'out/_nul.pdf'))).toBe(true);
});
