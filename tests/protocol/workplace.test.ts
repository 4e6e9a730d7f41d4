/** What the built server tells an editor beside the texts: the project as a tree, its units, the place of the cursor, a new project. */
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import type { NewProject } from '../../server/language/new-project.ts';
import type { ShownNode, ShownStatus } from '../../server/protocol/features/workplace.ts';
import { createNotice } from '../../server/protocol/notice.ts';
import { type Client, endAll, folderWith, startClient, uriOf } from './client.ts';

const made: { remove: () => void }[] = [];
afterEach(() => {
  endAll();
  for (const folder of made.splice(0)) folder.remove();
});

const project = `project "Quarry Lane" { currency EUR }
board oak { depth 12in; thickness 3/4in }
stock oak { length 12ft price 16 EUR unlimited }
`;
const units = `template linen {
  wall back { length 36in; height 96in }
  board oak
  zone main on back { width fill; shelf top { at 72in } }
}
unit A-101 linen { floor 1 }
unit A-201 linen { floor 2 }
`;

async function started(files: Record<string, string> = { 'project.closet': project, 'units.closet': units }) {
  const folder = folderWith(files);
  made.push(folder);
  let changes = 0;
  let wake = (): void => undefined;
  const client = await startClient(folder.path, undefined, {
    initializationOptions: { projectView: true },
    onNotification: {
      'storypole/projectChanged': () => {
        changes++;
        wake();
      },
    },
  });
  const view = (...path: string[]): Promise<ShownNode[] | null> =>
    client.connection.sendRequest('storypole/projectView', path.length === 0 ? {} : { path });
  /** Looks again whenever the server says that something changed, until it is so. */
  const until = async (holds: () => Promise<boolean>): Promise<void> => {
    for (;;) {
      const changed = new Promise<void>((go) => {
        wake = go;
      });
      if (await holds()) return;
      await changed;
    }
  };
  return { client, folder: folder.path, view, until, changes: () => changes };
}

const labels = (nodes: readonly ShownNode[] | null) => nodes?.map(({ label }) => label);

it('the project is a tree, had branch by branch, and each node leads to its statement', async () => {
  const { client, folder, view } = await started();
  const [root, ...more] = (await view()) ?? [];
  expect(more).toEqual([]);
  expect(root).toMatchObject({ label: 'Quarry Lane', kind: 'project', path: [folder], hasChildren: true });
  expect(root?.location).toEqual({
    uri: uriOf(join(folder, 'project.closet')),
    range: { start: { line: 0, character: 0 }, end: { line: 0, character: 21 } },
  });
  expect(labels(await view(folder))).toEqual(['Floors', 'Templates', 'Findings', 'Stock']);
  const [unit] = (await view(folder, 'floors', 'floor 2')) ?? [];
  expect(unit).toMatchObject({ label: 'A-201', path: [folder, 'floors', 'floor 2', 'unit A-201'] });
  expect(unit?.location?.range.start).toEqual({ line: 6, character: 0 });
  expect(unit?.template?.range.start).toEqual({ line: 0, character: 0 });
  expect(await view(folder, 'floors', 'floor 9')).toBeNull();
  expect(await view('/not/there')).toBeNull();
  expect(client.errors).toEqual([]);
  await client.shutDown();
});

it('each project of the workspace is a tree of its own', async () => {
  const { view } = await started({
    'north/project.closet': project.replace('Quarry Lane', 'Quarry Lane north'),
    'south/project.closet': project.replace('Quarry Lane', 'Quarry Lane south'),
  });
  expect(labels(await view())).toEqual(['Quarry Lane north', 'Quarry Lane south']);
  expect((await view())?.map(({ description }) => description)).toEqual(['0 units', '0 units']);
  const { view: twins } = await started({ 'north/project.closet': project, 'south/project.closet': project });
  expect((await twins())?.map(({ description }) => description)).toEqual(['north · 0 units', 'south · 0 units']);
});

it('an edit is told of, and so is the plan that follows; a burst of edits is told of twice at the most', async () => {
  const { client, folder, view, until, changes } = await started();
  const uri = uriOf(join(folder, 'units.closet'));
  await client.open(uri, units);
  // By hand: two shelves of 36 in come from one board of 12 ft.
  await until(async () => (await view(folder, 'stock'))?.[0]?.description === '1 board, 16.00 EUR');
  await new Promise((go) => setTimeout(go, 700));
  const before = changes();
  for (let version = 2; version < 22; version++)
    await client.change(uri, version, [{ from: [5, 0], to: [5, 0], text: '\n' }]);
  await client.change(uri, 22, [{ from: [25, 5], to: [25, 10], text: 'A-105' }]);
  await until(async () => labels(await view(folder, 'floors', 'floor 1'))?.[0] === 'A-105');
  expect(changes() - before).toBeLessThanOrEqual(2);
  const [unit] = (await view(folder, 'floors', 'floor 1')) ?? [];
  expect(unit?.location?.range.start).toEqual({ line: 25, character: 0 });
  await client.shutDown();
});

it('units can be had by name, and the place of the cursor says which one it is in', async () => {
  const { client, folder } = await started();
  const found = await client.connection.sendRequest<ShownNode[]>('storypole/units', {});
  expect(found.map(({ label, description }) => `${label} ${description}`)).toEqual(['A-101 linen', 'A-201 linen']);
  const uri = uriOf(join(folder, 'units.closet'));
  const status = (line: number): Promise<ShownStatus | null> =>
    client.connection.sendRequest('storypole/placeStatus', { textDocument: { uri }, position: { line, character: 6 } });
  expect(await status(5)).toMatchObject({ kind: 'unit', name: 'A-101', text: 'A-101 · linen' });
  expect((await status(5))?.template).toMatchObject({ uri, range: { start: { line: 0, character: 0 } } });
  expect((await status(5))?.survey).toBeUndefined();
  expect(await status(2)).toMatchObject({ kind: 'template', name: 'linen' });
  expect(await status(900)).toBeNull();
  expect(client.errors).toEqual([]);
});

it('the files of a new project are answered and not written', async () => {
  const { client } = await started({});
  const asked = { name: 'Quarry Lane', measure: 'inches' };
  const { files, main } = await client.connection.sendRequest<NewProject>('storypole/newProject', asked);
  expect(files.map(({ path }) => path)).toContain(main);
  expect(await client.connection.sendRequest('storypole/projectView', {})).toEqual([]);
});

it('a client that does not ask for notices is sent none', async () => {
  const folder = folderWith({ 'project.closet': project });
  made.push(folder);
  const told: unknown[] = [];
  const client: Client = await startClient(folder.path, undefined, {
    onNotification: { 'storypole/projectChanged': () => told.push(true) },
  });
  await client.open(uriOf(join(folder.path, 'project.closet')), project);
  await client.until(() => client.published.length > 0);
  await client.shutDown();
  expect(told).toEqual([]);
});

it('a notice is given at once, then not before its pause is over, and never after it was stopped', async () => {
  let count = 0;
  const notice = createNotice(() => count++, 30);
  notice.soon();
  expect(count).toBe(1);
  for (let i = 0; i < 10; i++) notice.soon();
  expect(count).toBe(1);
  await new Promise((go) => setTimeout(go, 80));
  expect(count).toBe(2);
  notice.soon();
  notice.soon();
  const atEnd = count;
  notice.stop();
  await new Promise((go) => setTimeout(go, 80));
  expect(count).toBe(atEnd);
});

it('the rows that lead to what the cursor is in can be had, those that the tree itself has', async () => {
  const { client, folder, view } = await started();
  const asked = (line: number) =>
    client.connection.sendRequest<ShownNode[] | null>('storypole/projectViewPath', {
      textDocument: { uri: uriOf(join(folder, 'units.closet')) },
      position: { line, character: 3 },
    });
  const path = await asked(6);
  expect(labels(path)).toEqual(['Quarry Lane', 'Floors', 'Floor 2', 'A-201']);
  expect(path?.at(-1)).toEqual((await view(folder, 'floors', 'floor 2'))?.[0]);
  expect(labels(await asked(0))).toEqual(['Quarry Lane', 'Templates', 'linen']);
  expect(labels(await asked(9_999))).toEqual(['Quarry Lane']);
  expect(client.errors).toEqual([]);
  await client.shutDown();
});
