/** A second editor speaks with the server as the terminal command starts it: Neovim, through the client that it has built in. */
import { execFile } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type {
  CompletionList,
  Hover,
  Location,
  ServerCapabilities,
  TextEdit,
} from 'vscode-languageserver-protocol/node';
import { command } from '../protocol/client.ts';
import { neovim } from './installed.ts';

const root = resolve(import.meta.dirname, '../..');

/** Columns are Neovim's: bytes. */
interface Underlined {
  readonly code: string;
  readonly severity: number;
  readonly line: number;
  readonly from: number;
  readonly to: number;
}

/** What the script writes. */
interface Told {
  readonly failed?: string;
  readonly capabilities: ServerCapabilities;
  readonly hover: Hover;
  readonly completion: CompletionList;
  readonly before: Underlined[];
  readonly broken: Underlined[];
  readonly mended: Underlined[];
  readonly wide: Underlined[];
  readonly formatting?: TextEdit[];
  readonly definition: Location | Location[];
  readonly ended: boolean;
}

describe.skipIf(neovim.missing)(`a session in another editor: ${neovim.title}`, () => {
  const work = mkdtempSync(join(tmpdir(), 'storypole-neovim-'));
  const folder = join(work, 'quarry-lane');
  const linen = join(folder, 'templates/linen.closet');
  const isError = ({ severity }: Underlined): boolean => severity === 1;
  let told: Told;

  beforeAll(async () => {
    cpSync(join(root, 'examples/quarry-lane'), folder, { recursive: true });
    const script = join(import.meta.dirname, 'neovim.lua');
    await promisify(execFile)(neovim.program, ['--headless', '--clean', '-c', `luafile ${script}`], {
      timeout: 100_000,
      env: {
        ...process.env,
        STORYPOLE_FOLDER: folder,
        STORYPOLE_RESULT: join(work, 'told.json'),
        STORYPOLE_NODE: process.execPath,
        STORYPOLE_COMMAND: command,
        // Its log and its state go with the folder.
        ...{ XDG_STATE_HOME: work, XDG_CACHE_HOME: work, XDG_DATA_HOME: work, XDG_CONFIG_HOME: work },
      },
    });
    told = JSON.parse(readFileSync(join(work, 'told.json'), 'utf8')) as Told;
    expect(told.failed).toBeUndefined();
  });
  afterAll(() => rmSync(work, { recursive: true, force: true }));

  it('begins and ends as the protocol asks', () => {
    expect(told.capabilities.hoverProvider).toBe(true);
    expect(told.ended).toBe(true);
  });

  it('shows on hover the cut length of a shelf', () => {
    expect(JSON.stringify(told.hover)).toMatch(/Cut [*]{2}/);
  });

  it('offers in a zone what may stand there', () => {
    expect(told.completion.items.map(({ label }) => label)).toEqual(
      expect.arrayContaining(['shelf', 'shelves', 'rod']),
    );
  });

  it('leads from a unit to its template', () => {
    const [target] = [told.definition].flat();
    expect(decodeURIComponent(target?.uri ?? '')).toMatch(/templates\/linen[.]closet$/);
    const line = readFileSync(linen, 'utf8').split('\n')[target?.range.start.line ?? -1];
    expect(line).toContain('template linen');
  });

  it('underlines a number without a unit of measure as it is typed, and no more once it has one', () => {
    expect(told.before.filter(isError)).toEqual([]);
    const lines = readFileSync(linen, 'utf8').split('\n');
    const line = lines.findIndex((text) => text.includes('78in'));
    const from = lines[line]?.indexOf('78in') ?? 0;
    expect(told.broken.filter(isError)).toEqual([
      { code: 'unit-of-measure-missing', severity: 1, line, from, to: from + 2 },
    ]);
    expect(told.mended.filter(isError)).toEqual([]);
  });

  it('underlines the right place after a letter of four bytes', () => {
    const [error] = told.wide.filter(({ code }) => code === 'unit-of-measure-missing');
    const before = Buffer.byteLength('    /* \u{1F6AA} */ shelf extra { at ');
    expect([error?.from, error?.to]).toEqual([before, before + 1]);
  });

  it('formats where the server can, and leaves the example as it is', () => {
    expect(told.formatting ?? []).toEqual([]);
  });
});
