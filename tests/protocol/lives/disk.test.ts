/** Files and folders that change under the server, told or not, and a clock that jumps. */
import { chmodSync, mkdirSync, renameSync, rmSync, symlinkSync, unlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, expect, it } from 'vitest';
import { folderWith, uriOf } from '../client.ts';
import { endRaw, folder, good, initializing, type Raw, startedRaw, startRaw, stillWorks } from './raw.ts';

const made: { remove: () => void }[] = [folder];
afterEach(endRaw);
afterAll(() => {
  for (const { remove } of made) remove();
});

interface Own {
  readonly raw: Raw;
  readonly path: (name: string) => string;
  readonly told: (name: string, type: 1 | 2 | 3) => void;
  /** The rules that are told of a file now, when everything is up to date. */
  readonly rules: (name: string) => Promise<string[]>;
}

async function started(): Promise<Own> {
  const own = folderWith({ 'project.closet': 'project "Quarry Lane" { show inches }\n', 'good.closet': good });
  made.push(own);
  const raw = startRaw();
  const folders = { workspaceFolders: [{ uri: uriOf(own.path), name: 'own' }] };
  await raw.ask('initialize', {
    ...initializing(folders),
    capabilities: { textDocument: {}, workspace: { workspaceFolders: true } },
  });
  raw.tell('initialized', {});
  const path = (name: string): string => join(own.path, name);
  return {
    raw,
    path,
    told: (name, type) => raw.tell('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(path(name)), type }] }),
    async rules(name) {
      await raw.ask('storypole/units', {});
      const last = raw.got.findLast(
        ({ params }) => (params as { uri?: string } | undefined)?.uri === uriOf(path(name)),
      );
      const { diagnostics = [] } = (last?.params ?? {}) as { diagnostics?: { code: string }[] };
      return diagnostics.map(({ code }) => code);
    },
  };
}

it('files that are replaced, emptied, taken away, or become folders, links or nothing that can be read', async () => {
  const { raw, path, told, rules } = await started();
  const file = 'good.closet';
  expect(await rules(file)).toEqual([]);
  // Gone before anybody says so: what was read stays true until then.
  unlinkSync(path(file));
  await stillWorks(raw);
  told(file, 2);
  expect(await rules(file)).toEqual([]);
  mkdirSync(path(file));
  told(file, 1);
  await stillWorks(raw);
  rmSync(path(file), { recursive: true });
  told(file, 3);
  // A link to itself, to nothing, to the file of another name, and to a folder.
  for (const to of [file, 'nowhere.closet', '.']) {
    symlinkSync(path(to), path(file));
    told(file, 1);
    await rules(file);
    await stillWorks(raw);
    unlinkSync(path(file));
    told(file, 3);
  }
  writeFileSync(path('elsewhere.txt'), good.replace('72in', '72ix'));
  symlinkSync(path('elsewhere.txt'), path(file));
  told(file, 1);
  expect((await rules(file)).length).toBeGreaterThan(0);
  // The link turns to what is right.
  writeFileSync(path('right.txt'), good);
  unlinkSync(path(file));
  symlinkSync(path('right.txt'), path(file));
  told(file, 2);
  expect(await rules(file)).toEqual([]);
  unlinkSync(path(file));
  writeFileSync(path(file), Buffer.from([0xff, 0xfe, 0x00, 0xd8]));
  told(file, 2);
  await stillWorks(raw);
  writeFileSync(path(file), good);
  chmodSync(path(file), 0);
  told(file, 2);
  await stillWorks(raw);
  chmodSync(path(file), 0o600);
  told(file, 2);
  expect(await rules(file)).toEqual([]);
});

it('a file that was no text, and is empty now', async () => {
  const { raw, path, told, rules } = await started();
  writeFileSync(path('bad.closet'), Buffer.from([0xff, 0xfe, 0x00, 0xd8]));
  told('bad.closet', 1);
  expect(await rules('bad.closet')).toEqual(['file-not-text']);
  writeFileSync(path('bad.closet'), '');
  told('bad.closet', 2);
  expect(await rules('bad.closet')).toEqual([]);
  await stillWorks(raw);
});

it('many changes that contradict each other, told at once', async () => {
  const { raw, path, told, rules } = await started();
  for (let i = 0; i < 200; i++) {
    const name = `more-${i % 7}.closet`;
    if (i % 3 === 0) rmSync(path(name), { force: true });
    else writeFileSync(path(name), good.replace('A-101', `A-${i}`));
    told(name, (((i * 5) % 3) + 1) as 1 | 2 | 3);
  }
  for (let i = 0; i < 7; i++) {
    rmSync(path(`more-${i}.closet`), { force: true });
    told(`more-${i}.closet`, 3);
  }
  expect(await rules('good.closet')).toEqual([]);
  await stillWorks(raw);
});

it('folders that come, go, are moved, and are gone before they are closed', async () => {
  const { raw, path, rules } = await started();
  const other = folderWith({ 'project.closet': 'project "Other" { show inches }\n', 'bad.closet': 'unit u nothing\n' });
  made.push(other);
  const folders = (added: string[], removed: string[]): void =>
    raw.tell('workspace/didChangeWorkspaceFolders', {
      event: {
        added: added.map((p) => ({ uri: uriOf(p), name: 'x' })),
        removed: removed.map((p) => ({ uri: uriOf(p), name: 'x' })),
      },
    });
  const projects = async (): Promise<number> =>
    ((await raw.ask('storypole/projectView', {})).result as unknown[]).length;
  expect(await projects()).toBe(1);
  folders([other.path], []);
  expect(await projects()).toBe(2);
  folders([other.path, other.path, '/nowhere/at/all', path('good.closet')], []);
  expect(await projects()).toBe(2);
  renameSync(other.path, `${other.path}-moved`);
  made.push({ remove: () => rmSync(`${other.path}-moved`, { recursive: true, force: true }) });
  await stillWorks(raw);
  folders([], [other.path, '/never/there']);
  folders([], [other.path]);
  expect(await projects()).toBe(1);
  // The one that is looked at, from under the feet.
  rmSync(path('.'), { recursive: true });
  raw.tell('workspace/didDeleteFiles', { files: [{ uri: uriOf(path('.')) }] });
  expect(await projects()).toBe(0);
  expect(await rules('good.closet')).toEqual([]);
  await stillWorks(raw);
});

it('a clock that jumps by years, both ways, at every look', async () => {
  const jumps = join(folder.path, 'jumps.cjs');
  writeFileSync(
    jumps,
    `const real = Date.now; let turn = 0;
const jumped = () => real() + (turn++ % 2 === 0 ? 1 : -1) * 3e11;
const Real = Date;
globalThis.Date = class extends Real { constructor(...given) { super(...(given.length > 0 ? given : [jumped()])); } static now() { return jumped(); } };
`,
  );
  const raw = await startedRaw({ args: ['-r', jumps] }, { initializationOptions: { planStatus: true } });
  for (let i = 0; i < 5; i++) await stillWorks(raw);
  const plan = (): string | undefined =>
    (raw.got.findLast(({ method }) => method === 'storypole/planStatus')?.params as { state?: string } | undefined)
      ?.state;
  await raw.until(() => plan() === 'current' || plan() === 'none');
});
