/** Folders, libraries and documents that come and go, over the built server. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import { largestFile } from '../../server/model/workspace.ts';
import { type Client, command, endAll, folderWith, startClient, told, uriOf } from './client.ts';

const made: { remove: () => void }[] = [];
afterEach(() => {
  endAll();
  for (const folder of made.splice(0)) folder.remove();
});

function folder(files: Readonly<Record<string, string>>): string {
  const own = folderWith(files);
  made.push(own);
  return own.path;
}

const wrong = 'project "Quarry Lane" { show inches }\nboard white-12 { depth 12 }\n';
const house =
  'project "House" { show inches }\nuse "../trade" as trade\nextra spare { board trade.oak; length 24in }\nstock trade.oak { length 6ft }\n';
const oak = 'board oak { depth 12in; thickness 3/4in }\n';

const codes = (client: Client, uri: string): string[] =>
  told(client.diagnostics(uri)).map((t) => t.split(' ').slice(1).join(' '));

it('every project in every workspace folder is diagnosed without a file being opened', async () => {
  const one = folder({ 'north/project.closet': wrong, 'south/deep/project.closet': wrong });
  const two = folder({ 'project.closet': wrong });
  const files = [
    join(one, 'north/project.closet'),
    join(one, 'south/deep/project.closet'),
    join(two, 'project.closet'),
  ];
  const client = await startClient([one, two]);
  await client.until(() => files.every((f) => (client.diagnostics(uriOf(f))?.length ?? 0) > 0));
  for (const file of files) expect(codes(client, uriOf(file))).toContain('error unit-of-measure-missing');
  expect(await client.shutDown()).toBe(0);
});

it('workspace folders that are added are diagnosed, and those that are removed are told nothing of any more', async () => {
  const one = folder({ 'project.closet': wrong });
  const two = folder({ 'flats/project.closet': wrong });
  const [inOne, inTwo] = [uriOf(join(one, 'project.closet')), uriOf(join(two, 'flats/project.closet'))];
  const client = await startClient(one);
  // source: LSP 3.17, WorkspaceFoldersServerCapabilities: only who asks for changes is told of them.
  expect(client.initialized.capabilities.workspace?.workspaceFolders).toEqual({
    supported: true,
    changeNotifications: true,
  });
  await client.until(() => (client.diagnostics(inOne)?.length ?? 0) > 0);
  expect(client.diagnostics(inTwo)).toBeUndefined();
  const change = (event: { added: object[]; removed: object[] }) =>
    client.connection.sendNotification('workspace/didChangeWorkspaceFolders', { event });
  await change({ added: [{ uri: uriOf(two), name: 'two' }], removed: [{ uri: uriOf(one), name: 'one' }] });
  await client.until(() => (client.diagnostics(inTwo)?.length ?? 0) > 0 && client.diagnostics(inOne)?.length === 0);
  await change({ added: [{ uri: uriOf(one), name: 'one' }], removed: [] });
  await client.until(() => (client.diagnostics(inOne)?.length ?? 0) > 0);
  expect(client.errors).toEqual([]);
  await client.shutDown();
});

it('a library that is missing is told; it is found once it is made, and missed once it is deleted', async () => {
  const root = folder({ 'house/project.closet': house });
  const using = uriOf(join(root, 'house/project.closet'));
  const path = join(root, 'trade/boards.closet');
  const client = await startClient(root);
  await client.until(() => (client.diagnostics(using)?.length ?? 0) > 0);
  expect(told(client.diagnostics(using))).toEqual(['2:5-15 error use-not-found']);
  const tell = (type: number) =>
    client.connection.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri: uriOf(path), type }] });
  mkdirSync(join(root, 'trade'));
  writeFileSync(path, oak);
  await tell(1);
  await client.until(() => client.diagnostics(using)?.length === 0);
  rmSync(path);
  await tell(3);
  await client.until(() => (client.diagnostics(using)?.length ?? 0) > 0);
  expect(told(client.diagnostics(using))).toEqual(['2:5-15 error use-not-found']);
  // Never saved, it is there as long as it is open.
  await client.open(uriOf(path), oak);
  await client.until(() => client.diagnostics(using)?.length === 0);
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: uriOf(path) } });
  await client.until(() => (client.diagnostics(using)?.length ?? 0) > 0);
  expect(client.errors).toEqual([]);
  await client.shutDown();
});

it('a folder that comes or goes as a whole is followed with all that is in it', async () => {
  const root = folder({ 'north/project.closet': wrong, 'notes.txt': 'project "None"' });
  const files = ['south/project.closet', 'south/deep/boards.closet'].map((name) => join(root, name));
  const client = await startClient(root, {
    workspace: { workspaceFolders: true, didChangeWatchedFiles: { dynamicRegistration: true } },
  });
  await client.until(() => client.diagnostics(uriOf(join(root, 'north/project.closet'))) !== undefined);
  // source: LSP 3.17, FileSystemWatcher: 1 asks for what is made, 4 for what is deleted.
  expect(client.watched).toEqual([{ globPattern: '**/*.closet' }, { globPattern: '**', kind: 5 }]);
  const tell = (name: string, type: number) =>
    client.connection.sendNotification('workspace/didChangeWatchedFiles', {
      changes: [{ uri: uriOf(join(root, name)), type }],
    });
  const shown = (count: number) => () =>
    files.every((f) => (client.diagnostics(uriOf(f))?.length ?? 0) > 0 === count > 0);
  for (let i = 0; i < 2; i++) {
    mkdirSync(join(root, 'south/deep'), { recursive: true });
    for (const file of files)
      writeFileSync(file, wrong.replace('project', file.includes('deep') ? '// project' : 'project'));
    await tell('south', 1);
    await tell('notes.txt', 1);
    await client.until(shown(2));
    expect(codes(client, uriOf(files[1] ?? ''))).toEqual(['error unit-of-measure-missing']);
    rmSync(join(root, 'south'), { recursive: true });
    await tell('south', 3);
    await client.until(shown(0));
  }
  expect(client.diagnostics(uriOf(join(root, 'notes.txt')))).toBeUndefined();
  expect(client.errors).toEqual([]);
  await client.shutDown();
});

it('what is written into a folder that has just come is found, though nobody tells of it', async () => {
  const root = folder({ 'north/project.closet': wrong });
  const file = join(root, 'south/project.closet');
  const client = await startClient(root, {
    workspace: { workspaceFolders: true, didChangeWatchedFiles: { dynamicRegistration: true } },
  });
  await client.until(() => client.diagnostics(uriOf(join(root, 'north/project.closet'))) !== undefined);
  mkdirSync(join(root, 'south'));
  writeFileSync(file, wrong);
  await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: uriOf(join(root, 'south')), type: 1 }],
  });
  await client.until(() => (client.diagnostics(uriOf(file))?.length ?? 0) > 0);
  // As where a watcher comes into the folder later than what is written there.
  writeFileSync(file, 'project "South wing" { show inches }\n');
  await client.until(() => client.diagnostics(uriOf(file))?.length === 0);
  expect(client.errors).toEqual([]);
  await client.shutDown();
});

it('unsaved edits of a library are dropped when it is closed', async () => {
  const root = folder({ 'house/project.closet': house, 'trade/boards.closet': oak });
  const using = uriOf(join(root, 'house/project.closet'));
  const used = uriOf(join(root, 'trade/boards.closet'));
  const client = await startClient(root);
  await client.open(using, house);
  await client.open(used, oak);
  await client.until(() => client.diagnostics(using)?.length === 0);
  await client.change(used, 2, [{ from: [0, 6], to: [0, 9], text: 'elm' }]);
  await client.until(() => (client.diagnostics(using)?.length ?? 0) > 0);
  expect(codes(client, using)).toEqual(['error name-not-known', 'error name-not-known']);
  await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: used } });
  await client.until(() => client.diagnostics(using)?.length === 0);
  await client.shutDown();
});

it('a document over the size limit is followed through its edits, and read once it is small', async () => {
  const root = folder({ 'project.closet': 'project "Quarry Lane" { show inches }\n' });
  const file = uriOf(join(root, 'boards.closet'));
  const rows = Math.ceil(largestFile / 80) + 1;
  const client = await startClient(root);
  await client.open(file, `${`${'/'.repeat(79)}\n`.repeat(rows)}board oak { depth 12; thickness 3/4in }\n`);
  await client.until(() => (client.diagnostics(file)?.length ?? 0) > 0);
  expect(told(client.diagnostics(file))).toEqual(['1:1-1 error file-too-large']);
  await client.change(file, 2, [{ from: [rows, 20], to: [rows, 20], text: 'in; x' }]);
  await client.change(file, 3, [{ from: [1, 0], to: [rows, 0], text: '' }]);
  await client.until(() => client.published.some((p) => p.uri === file && p.version === 3));
  expect(told(client.diagnostics(file))).toEqual(['2:25-26 error word-not-known']);
  await client.change(file, 4, [{ from: [1, 22], to: [1, 25], text: '' }]);
  await client.until(() => client.diagnostics(file)?.length === 0);
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});

it('a workspace folder that lies within a project belongs to it, as in the terminal, beside another one', async () => {
  const root = folder({
    'lane/project.closet': 'project "Quarry Lane" { show inches }\nboard oak { depth 12in; thickness 3/4in }\n',
    'lane/flats/one.closet': 'extra spare { board oak; length 24 }\nstock oak { length 6ft }\n',
    'other/project.closet': wrong,
  });
  const [above, one] = [join(root, 'lane/project.closet'), join(root, 'lane/flats/one.closet')];
  const client = await startClient([join(root, 'lane/flats'), join(root, 'other')], {
    workspace: {
      workspaceFolders: true,
      didChangeWatchedFiles: { dynamicRegistration: true, relativePatternSupport: true },
    },
    textDocument: {},
  });
  await client.until(() => (client.diagnostics(uriOf(one))?.length ?? 0) > 0);
  expect(codes(client, uriOf(one))).toEqual(['error unit-of-measure-missing']);
  await client.until(() => (client.diagnostics(uriOf(join(root, 'other/project.closet')))?.length ?? 0) > 0);
  const inTerminal = spawnSync(process.execPath, [command, 'check', '.', '--format', 'json'], {
    cwd: join(root, 'lane/flats'),
    encoding: 'utf8',
  });
  const { projects } = JSON.parse(inTerminal.stdout) as { projects: { findings: { rule: string }[] }[] };
  expect(projects.map(({ findings }) => findings.map(({ rule }) => rule))).toEqual([['unit-of-measure-missing']]);
  // What lies above is watched, and what changes there is heard of; nothing is told of files that nobody has opened.
  await client.until(() => client.watched.length > 2);
  expect(client.watched.map(({ globPattern }) => globPattern)).toContainEqual({
    baseUri: uriOf(join(root, 'lane')),
    pattern: '**/*.closet',
  });
  expect(client.diagnostics(uriOf(above))).toBeUndefined();
  writeFileSync(above, 'project "Quarry Lane" { show millimetres }\n');
  await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: uriOf(above), type: 2 }],
  });
  await client.until(() => codes(client, uriOf(one)).includes('error name-not-known'));
  await client.shutDown();
});

it('the project of a single file that is opened beside the folders is followed on disk', async () => {
  const root = folder({
    'lane/project.closet': 'project "Quarry Lane" { show inches }\nboard oak { depth 12in; thickness 3/4in }\n',
    'lane/one.closet': 'extra spare { board oak; length 24in }\nstock oak { length 6ft }\n',
    'other/project.closet': 'project "Other" { show inches }\n',
  });
  const one = join(root, 'lane/one.closet');
  const client = await startClient([join(root, 'other')], {
    workspace: {
      workspaceFolders: true,
      didChangeWatchedFiles: { dynamicRegistration: true, relativePatternSupport: true },
    },
    textDocument: {},
  });
  await client.open(uriOf(one), readFileSync(one, 'utf8'));
  await client.until(() => client.watched.length > 2);
  expect(client.watched.map(({ globPattern }) => globPattern)).toContainEqual({
    baseUri: uriOf(join(root, 'lane')),
    pattern: '**/*.closet',
  });
  await client.until(() => client.diagnostics(uriOf(one)) !== undefined);
  expect(codes(client, uriOf(one))).not.toContain('error name-not-known');
  const above = join(root, 'lane/project.closet');
  writeFileSync(above, 'project "Quarry Lane" { show millimetres }\n');
  await client.connection.sendNotification('workspace/didChangeWatchedFiles', {
    changes: [{ uri: uriOf(above), type: 2 }],
  });
  await client.until(() => codes(client, uriOf(one)).includes('error name-not-known'));
  await client.shutDown();
});

it('a workspace that is not trusted reads nothing above its folders, and says so', async () => {
  const root = folder({
    'project.closet': 'project "Quarry Lane" { show inches }\n',
    'flats/one.closet': 'board oak { depth 12in; thickness 3/4in }\n',
  });
  const one = uriOf(join(root, 'flats/one.closet'));
  const client = await startClient(join(root, 'flats'), undefined, { initializationOptions: { withinFolders: true } });
  await client.until(() => (client.diagnostics(one)?.length ?? 0) > 0);
  expect(client.diagnostics(one)?.[0]?.message).toContain('is not read in a workspace that is not trusted');
  await client.shutDown();
});
