/** A third editor speaks with the server as the terminal command starts it: Emacs, through eglot, set up as the README says. */
import { execFile } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { example, groundFor } from './as-readme-says.ts';
import { emacs } from './installed.ts';

/** As Emacs marks it: `text` is what is underlined. */
interface Underlined {
  readonly code: string;
  readonly severity: number;
  readonly text: string;
  readonly message: string;
}

/** What the script writes. */
interface Told {
  readonly failed?: string;
  readonly mode: string;
  readonly managed: boolean;
  readonly hover: string;
  readonly words: string[];
  readonly names: string[];
  readonly before: Underlined[];
  readonly broken: Underlined[];
  readonly wide: Underlined[];
  readonly formatted: boolean;
  readonly renamed: string[];
  readonly ended: boolean;
}

describe.skipIf(emacs.missing)(`a session in a third editor: ${emacs.title}`, () => {
  const ground = groundFor('emacs', 'elisp', 'eglot-server-programs');
  const { folder } = ground;
  let told: Told;

  beforeAll(async () => {
    // Emacs takes a repository for the project of a file.
    mkdirSync(join(folder, '.git'));
    writeFileSync(join(folder, '.git/HEAD'), 'ref: refs/heads/main\n');
    const script = join(import.meta.dirname, 'emacs.el');
    await promisify(execFile)(emacs.program, ['-q', '--batch', '-l', script], {
      timeout: 100_000,
      cwd: folder,
      env: ground.env,
    });
    told = ground.told() as Told;
    expect(told.failed).toBeUndefined();
  });
  afterAll(ground.remove);

  it('begins as the README says, and ends as the protocol asks', () => {
    expect(told).toMatchObject({ mode: 'closet-mode', managed: true, ended: true });
  });

  it('shows on hover the cut length of a shelf', () => {
    expect(told.hover).toMatch(/Cut (\*\*)?35-5\/16in to 38in/);
  });

  it('offers in a zone what may stand there, and behind a unit the templates there are', () => {
    expect(told.words).toEqual(expect.arrayContaining(['shelf', 'shelves', 'rod']));
    expect(told.names.toSorted()).toEqual(['accessible-reach-in', 'entry-coats', 'linen', 'reach-in']);
  });

  it('underlines a number without a unit of measure as it is typed', () => {
    expect(told.before).toEqual([]);
    expect(told.broken).toMatchObject([{ code: 'unit-of-measure-missing', severity: 1, text: '78' }]);
    expect(told.broken[0]?.message).toContain('78');
  });

  it('underlines the right place after a letter of four bytes', () => {
    expect(told.wide).toMatchObject([{ code: 'unit-of-measure-missing', text: '7' }]);
  });

  it('formats what was typed askew', () => {
    expect(told.formatted).toBe(true);
  });

  it('renames a template in all files, and nothing else', () => {
    const files = ['floors/floor-1', 'floors/floor-2', 'floors/floor-3', 'templates/linen'].map((f) => `${f}.closet`);
    expect(told.renamed).toEqual(files);
    const texts = (where: string): Map<string, string> =>
      new Map(
        readdirSync(where, { recursive: true, encoding: 'utf8' })
          .filter((name) => name.endsWith('.closet'))
          .map((name) => [name, readFileSync(join(where, name), 'utf8')]),
      );
    const expected = [...texts(example)].map(([name, text]) => [
      name,
      // A name of a unit ends in it too: only where it stands alone is it the template.
      text.replaceAll(/^(template |unit \S+ )linen(?=\s)/gm, '$1linen-hall'),
    ]);
    expect(Object.fromEntries(texts(folder))).toEqual(Object.fromEntries(expected));
    expect(texts(folder).get('floors/floor-2.closet')).toContain('unit A-201-linen linen-hall {');
  });
});
