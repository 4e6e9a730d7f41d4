/** The ground for an editor that is set up as the README says: the example, those lines, and the command they name. */
import { chmodSync, cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join, resolve } from 'node:path';
import { expect } from 'vitest';
import { command } from '../protocol/client.ts';

const root = resolve(import.meta.dirname, '../..');
export const example = join(root, 'examples/quarry-lane');

export interface Ground {
  /** A copy of the example, to be edited. */
  readonly folder: string;
  /** What the editor's script is told by. */
  readonly env: NodeJS.ProcessEnv;
  /** What the script has written. */
  readonly told: () => unknown;
  readonly remove: () => void;
}

/** `block` is the language of the README's lines, of which one holds `word`. */
export function groundFor(name: string, block: string, word: string): Ground {
  const work = mkdtempSync(join(tmpdir(), `storypole-${name}-`));
  const folder = join(work, 'quarry-lane');
  cpSync(example, folder, { recursive: true });
  const lines = new RegExp(`^\`\`\`${block}\\n(.*?)^\`\`\`$`, 'ms');
  const [, setup = ''] = lines.exec(readFileSync(join(root, 'README.md'), 'utf8')) ?? [];
  expect(setup).toContain(word);
  writeFileSync(join(work, 'setup'), setup);
  // The README starts `storypole`, as it is called once it is installed.
  const bin = join(work, 'bin');
  mkdirSync(bin);
  writeFileSync(join(bin, 'storypole'), `#!/bin/sh\nexec '${process.execPath}' '${command}' "$@"\n`);
  chmodSync(join(bin, 'storypole'), 0o755);
  return {
    folder,
    env: {
      ...process.env,
      PATH: [bin, process.env.PATH].join(delimiter),
      LC_ALL: 'C.UTF-8',
      // What it remembers goes with the folder.
      HOME: work,
      STORYPOLE_SETUP: join(work, 'setup'),
      STORYPOLE_FOLDER: folder,
      STORYPOLE_RESULT: join(work, 'told.json'),
    },
    told: () => JSON.parse(readFileSync(join(work, 'told.json'), 'utf8')),
    remove: () => rmSync(work, { recursive: true, force: true }),
  };
}
