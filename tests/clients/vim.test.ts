/** A fourth editor speaks with the server as the terminal command starts it: Vim, through ALE, set up as the README says. */
import { execFile } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { example, groundFor } from './as-readme-says.ts';
import { vim } from './installed.ts';

/** Lines and columns count from 1, and columns are bytes, the last one in. */
interface Underlined {
  readonly code: string;
  readonly line: number;
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** What the script writes. */
interface Told {
  readonly failed?: string;
  readonly filetype: string;
  readonly hover: string;
  readonly words: string[];
  readonly before: Underlined[];
  readonly broken: Underlined[];
  readonly wide: Underlined[];
  /** Vim counts what is so as 1. */
  readonly formatted: number;
  readonly definition: string;
  readonly references: number;
}

describe.skipIf(vim.missing)(`a session in a fourth editor: ${vim.title}`, () => {
  const ground = groundFor('vim', 'vim', 'ale#linter#Define');
  const { folder } = ground;
  const lines = readFileSync(join(example, 'templates/linen.closet'), 'utf8').split('\n');
  let told: Told;

  beforeAll(async () => {
    const script = join(import.meta.dirname, 'vim.vim');
    const words = ['-N', '-u', 'NONE', '-i', 'NONE', '-n', '-T', 'dumb', '--not-a-term', '-S', script];
    const session = promisify(execFile)(vim.program, words, {
      timeout: 100_000,
      cwd: folder,
      env: ground.env,
    });
    session.child.stdin?.end();
    await session;
    told = ground.told() as Told;
    expect(told.failed).toBeUndefined();
  });
  afterAll(ground.remove);

  it('shows on hover the cut length of a shelf, in plain words, as it asks for them', () => {
    expect(told.filetype).toBe('closet');
    expect(told.hover).toMatch(/Cut 35-5\/16in to 38in of white-16/);
    expect(told.hover).not.toMatch(/\*\*|```/);
  });

  it('offers in a zone what may stand there', () => {
    expect(told.words).toEqual(expect.arrayContaining(['shelf', 'shelves']));
  });

  it('underlines a number without a unit of measure, and no more once it has one', () => {
    expect(told.before).toEqual([]);
    const at = lines.findIndex((text) => text.includes('78in'));
    const from = (lines[at]?.indexOf('78in') ?? 0) + 1;
    expect(told.broken).toMatchObject([{ code: 'unit-of-measure-missing', line: at + 1, from, to: from + 1 }]);
    expect(told.broken[0]?.text).toContain('78');
  });

  it('is told of the place after a letter of four bytes in UTF-16, which it takes for letters', () => {
    const before = '    /* \u{1F6AA} */ shelf extra { at '.length;
    expect(told.wide).toMatchObject([{ code: 'unit-of-measure-missing', from: before + 1, to: before + 1 }]);
  });

  it('formats what was typed askew', () => {
    expect(told.formatted).toBe(1);
  });

  it('leads from a unit to its template, and from there to all that use it', () => {
    expect(told.definition).toMatch(/^template linen/);
    expect(told.references).toBe(24);
  });
});
