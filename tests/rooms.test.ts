/** The rooms of the project and who may import whom: held over the real tree, and proven on trees that break each rule. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { cruise, type ICruiseResult } from 'dependency-cruiser';
import extractConfig from 'dependency-cruiser/config-utl/extract-depcruise-config';
import { afterAll, describe, expect, it } from 'vitest';

const root = path.resolve(import.meta.dirname, '..');
const { options, ...ruleSet } = await extractConfig(path.join(root, '.dependency-cruiser.js'));
const made: string[] = [];

afterAll(() => Promise.all(made.map((folder) => rm(folder, { recursive: true, force: true }))));

/** Every broken rule of a tree as `rule: from -> to`, sorted. */
async function violations(folder: string, rooms: readonly string[]): Promise<string[]> {
  const { output } = await cruise([...rooms], { ...options, ruleSet, validate: true, baseDir: folder });
  const { summary } = output as ICruiseResult;
  expect(summary.totalCruised).toBeGreaterThan(0);
  return summary.violations.map(({ rule, from, to }) => `${rule.name}: ${from} -> ${to}`).sort();
}

/** Writes a tree of files, with stand-ins for the three libraries that have a rule of their own. */
async function tree(files: Readonly<Record<string, string>>): Promise<string> {
  const folder = await mkdtemp(path.join(tmpdir(), 'storypole-rooms-'));
  made.push(folder);
  const libraries = ['chevrotain', 'vscode-languageserver', 'vscode-languageclient'].flatMap((name) => [
    [`node_modules/${name}/package.json`, JSON.stringify({ name, version: '1.0.0', main: 'index.js' })],
    [`node_modules/${name}/index.js`, 'module.exports = {};'],
  ]);
  const manifest = JSON.stringify({ dependencies: { chevrotain: '*', 'vscode-languageserver': '*' } });
  for (const [name, text] of [...libraries, ['package.json', manifest], ...Object.entries(files)]) {
    const file = path.join(folder, name ?? '');
    await mkdir(path.dirname(file), { recursive: true });
    await writeFile(file, text ?? '');
  }
  return folder;
}

/** One file a room, each importing what it may, so that any single new edge is what breaks the rule. */
const sound = {
  'grammar/tree.ts': 'import { Lexer } from "chevrotain";\nexport type Tree = Lexer;\nexport const tree = 1;\n',
  'server/model/ticks.ts': 'import { tree } from "../../grammar/tree.ts";\nexport const ticks = tree;\n',
  'server/cutting/plan.ts': 'import { ticks } from "../model/ticks.ts";\nexport const plan = ticks;\n',
  'server/checks/rule.ts': 'import { plan } from "../cutting/plan.ts";\nexport const rule = plan;\n',
  'server/sheets/sheet.ts': 'import { rule } from "../checks/rule.ts";\nexport const sheet = rule;\n',
  'server/language/hover.ts': 'import { sheet } from "../sheets/sheet.ts";\nexport const hover = sheet;\n',
  'server/writing/write.ts': 'import { ticks } from "../model/ticks.ts";\nexport const write = ticks;\n',
  'server/protocol/node.ts':
    'import "vscode-languageserver";\nimport { hover } from "../language/hover.ts";\nexport const node = hover;\n',
  'server/cli/main.ts': 'import { node } from "../protocol/node.ts";\nexport const main = node;\n',
  'client/extension.ts':
    'import * as vscode from "vscode";\nimport "vscode-languageclient";\nimport "../server/writing/write.ts";\nexport const active = vscode;\n',
};

const rooms = ['client', 'grammar', 'server'];

/** The sound tree with one import added to one file. */
const withImport = (file: keyof typeof sound, line: string) => tree({ ...sound, [file]: `${line}\n${sound[file]}` });

describe('rooms', () => {
  it('holds over the project', async () => {
    expect(await violations(root, ['client', 'grammar', 'server', 'tests'])).toEqual([]);
  }, 60_000);

  it('holds over a tree in which every room imports what it may', async () => {
    expect(await violations(await tree(sound), rooms)).toEqual([]);
  });

  // Upward imports also close a circle, because each room of the sound tree imports the one below it.
  it.each([
    [
      'server/model/ticks.ts',
      '../cutting/plan.ts',
      'room-server-model: server/model/ticks.ts -> server/cutting/plan.ts',
    ],
    [
      'server/cutting/plan.ts',
      '../checks/rule.ts',
      'room-server-cutting: server/cutting/plan.ts -> server/checks/rule.ts',
    ],
    [
      'server/checks/rule.ts',
      '../sheets/sheet.ts',
      'room-server-checks: server/checks/rule.ts -> server/sheets/sheet.ts',
    ],
    [
      'server/sheets/sheet.ts',
      '../language/hover.ts',
      'room-server-sheets: server/sheets/sheet.ts -> server/language/hover.ts',
    ],
    [
      'server/language/hover.ts',
      '../protocol/node.ts',
      'room-server-language: server/language/hover.ts -> server/protocol/node.ts',
    ],
    ['grammar/tree.ts', '../server/model/ticks.ts', 'room-grammar: grammar/tree.ts -> server/model/ticks.ts'],
  ] as const)('refuses %s importing %s', async (file, target, expected) => {
    const found = await violations(await withImport(file, `import "${target}";`), rooms);
    expect(found).toContain(expected);
    expect(found.filter((line) => line.startsWith('no-cycle:'))).not.toEqual([]);
  });

  it.each([
    ['client/extension.ts', '../server/model/ticks.ts', 'room-client: client/extension.ts -> server/model/ticks.ts'],
    ['client/extension.ts', '../grammar/tree.ts', 'room-client: client/extension.ts -> grammar/tree.ts'],
    [
      'server/writing/write.ts',
      '../language/hover.ts',
      'room-server-writing: server/writing/write.ts -> server/language/hover.ts',
    ],
    [
      'server/language/hover.ts',
      '../writing/write.ts',
      'room-server-language: server/language/hover.ts -> server/writing/write.ts',
    ],
    [
      'server/model/ticks.ts',
      'chevrotain',
      'parser-library: server/model/ticks.ts -> node_modules/chevrotain/index.js',
    ],
    [
      'server/language/hover.ts',
      'vscode-languageserver',
      'protocol-libraries: server/language/hover.ts -> node_modules/vscode-languageserver/index.js',
    ],
    [
      'server/cli/main.ts',
      'vscode-languageclient',
      'protocol-libraries: server/cli/main.ts -> node_modules/vscode-languageclient/index.js',
    ],
    ['server/model/ticks.ts', './absent.ts', 'found: server/model/ticks.ts -> ./absent.ts'],
  ] as const)('refuses %s importing %s, and nothing else', async (file, target, expected) => {
    expect(await violations(await withImport(file, `import "${target}";`), rooms)).toEqual([expected]);
  });

  it('refuses a verifier that shares code with a planner', async () => {
    const folder = await tree({
      ...sound,
      'server/cutting/types.ts': 'export const version = 1;\n',
      'server/cutting/verify-totals.ts': 'import { version } from "./types.ts";\nexport const totals = version;\n',
      'server/cutting/verify.ts':
        'import { totals } from "./verify-totals.ts";\nimport { plan } from "./plan.ts";\nexport const verify = totals + plan;\n',
    });
    expect(await violations(folder, rooms)).toEqual([
      'verifier-alone: server/cutting/verify.ts -> server/cutting/plan.ts',
    ]);
  });

  it('counts an import of a type', async () => {
    const folder = await withImport('client/extension.ts', 'import type { Tree } from "../grammar/tree.ts";');
    expect(await violations(folder, rooms)).toEqual(['room-client: client/extension.ts -> grammar/tree.ts']);
  });

  it('refuses a circle inside one room', async () => {
    const folder = await tree({
      'grammar/a.ts': 'import "./b.ts";\n',
      'grammar/b.ts': 'import "./a.ts";\n',
    });
    expect(await violations(folder, ['grammar'])).toEqual(['no-cycle: grammar/a.ts -> grammar/b.ts']);
  });
});
