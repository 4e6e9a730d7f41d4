/** Folders that no disk holds, over the built server in Node: their files are asked of the client. */
import { afterEach, describe, expect, it } from 'vitest';
import { type Client, endAll, folderWith, startClient, told, uriOf } from './client.ts';

afterEach(endAll);

const root = 'vscode-vfs://github/quarry-lane';
const house =
  'project "House" { show inches }\nuse "../trade" as trade\nextra spare { board trade.oak; length 24in }\nstock trade.oak { length 6ft }\n';
const oak = 'board oak { depth 12in; thickness 3/4in }\n';
const wrong = 'board oak { depth 12; thickness 3/4in }\n';

/** The file system of an editor, over messages that hold no bytes; what it was asked is kept. */
function fileSystem(texts: Record<string, string>) {
  const asked: string[] = [];
  return {
    texts,
    asked,
    onRequest: {
      'storypole/listFolders': ({ uris }: { uris: string[] }) =>
        uris.map((folder) => {
          asked.push(folder);
          const names = Object.keys(texts).filter((uri) => uri.startsWith(`${folder}/`));
          if (names.length === 0) return null;
          const parts = names.map((uri) => uri.slice(folder.length + 1).split('/'));
          const kinds = new Map(parts.map(([name = '', ...more]) => [name, more.length > 0 ? 'folder' : 'file']));
          return [...kinds].map(([name, kind]) => ({ name, kind }));
        }),
      'storypole/readFiles': ({ uris }: { uris: string[] }) =>
        uris.map((uri) => {
          asked.push(uri);
          const text = texts[uri];
          return text === undefined ? null : { kind: 'read', bytes: Array.from(Buffer.from(text)) };
        }),
    },
  };
}

const start = (files: ReturnType<typeof fileSystem>, folder = root): Promise<Client> =>
  startClient(folder, undefined, { initializationOptions: { files: true }, onRequest: files.onRequest });

const changed = (client: Client, uri: string, type: number) =>
  client.connection.sendNotification('workspace/didChangeWatchedFiles', { changes: [{ uri, type }] });

describe('a folder that no disk holds', () => {
  it('is read through the client, with the libraries in it, and nothing is told before all is there', async () => {
    const texts = { [`${root}/house/project.closet`]: house, [`${root}/trade/oak.closet`]: wrong };
    const files = fileSystem({ ...texts, [`${root}/.git/x.closet`]: 'no', [`${root}/node_modules/a/x.closet`]: 'no' });
    const client = await start(files);
    const [using, library] = [`${root}/house/project.closet`, `${root}/trade/oak.closet`];
    await client.open(using, house);
    await client.until(() => (client.diagnostics(library)?.length ?? 0) > 0);
    // The first that was told of the document is what holds with the library there.
    expect(client.published.filter(({ uri }) => uri === using).map(({ diagnostics }) => told(diagnostics))[0]).toEqual(
      told(client.diagnostics(using)),
    );
    expect(told(client.diagnostics(using)).join()).not.toContain('use-not-found');
    expect(told(client.diagnostics(library)).join()).toContain('unit-of-measure-missing');
    expect(files.asked.filter((uri) => /[.]git\/|node_modules/.test(uri))).toEqual([]);

    files.texts[library] = oak;
    await changed(client, library, 2);
    await client.until(() => !told(client.diagnostics(library)).join().includes('unit-of-measure-missing'));
    delete files.texts[library];
    await changed(client, `${root}/trade`, 3);
    await client.until(() => told(client.diagnostics(using)).join().includes('use-not-found'));
    expect(client.errors).toEqual([]);
    expect(await client.shutDown()).toBe(0);
  });

  it('that is added and taken out again before it has been read does not come in late', async () => {
    const [first, late] = [`${root}/a.closet`, 'vscode-vfs://github/late'];
    const files = fileSystem({ [first]: oak, [`${late}/b.closet`]: wrong });
    const list = files.onRequest['storypole/listFolders'];
    const held = Promise.withResolvers<void>();
    const client = await startClient(root, undefined, {
      initializationOptions: { files: true, projectView: true },
      onRequest: {
        ...files.onRequest,
        'storypole/listFolders': async (params: { uris: string[] }) => {
          if (params.uris.includes(late)) await held.promise;
          return list(params);
        },
      },
    });
    const change = (event: object) =>
      client.connection.sendNotification('workspace/didChangeWorkspaceFolders', { event });
    const folder = { uri: late, name: 'late' };
    await change({ added: [folder], removed: [] });
    await change({ added: [], removed: [folder] });
    held.resolve();
    await expect.poll(() => files.asked.includes(`${late}/b.closet`), { timeout: 10_000 }).toBe(true);
    const units = await client.connection.sendRequest<{ file?: string; label?: string }[]>('storypole/projectView', {});
    expect(JSON.stringify(units)).not.toContain('late');
    expect(client.diagnostics(`${late}/b.closet`)?.length ?? 0).toBe(0);
    expect(client.errors).toEqual([]);
    await client.shutDown();
  });

  it('what was saved while a document was open holds once it is closed, told or not', async () => {
    const uri = `${root}/a.closet`;
    const files = fileSystem({ [uri]: wrong });
    const client = await start(files);
    await client.open(uri, wrong);
    await client.until(() => told(client.diagnostics(uri)).join().includes('unit-of-measure-missing'));
    files.texts[uri] = oak;
    await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    await client.until(() => !told(client.diagnostics(uri)).join().includes('unit-of-measure-missing'));
    expect(client.errors).toEqual([]);
    await client.shutDown();
  });

  it('beside one that a disk holds, each is read where it is', async () => {
    const own = folderWith({ 'project.closet': `project "House" { show inches }\n${wrong}` });
    try {
      const files = fileSystem({ [`${root}/a.closet`]: wrong });
      const client = await startClient([own.path, root], undefined, {
        initializationOptions: { files: true },
        onRequest: files.onRequest,
      });
      const both = [`${root}/a.closet`, uriOf(`${own.path}/project.closet`)];
      const shown = (): boolean => both.every((uri) => (client.diagnostics(uri)?.length ?? 0) > 0);
      await client.until(shown);
      expect(files.asked.every((uri) => uri.startsWith(root))).toBe(true);
      await client.shutDown();
    } finally {
      own.remove();
    }
  });

  it('of a client that cannot read it is what is open in it', async () => {
    const client = await startClient(root);
    await client.open(`${root}/a.closet`, wrong);
    await client.until(() =>
      told(client.diagnostics(`${root}/a.closet`))
        .join()
        .includes('unit-of-measure-missing'),
    );
    expect(client.errors).toEqual([]);
    await client.shutDown();
  });

  it('of a client that promises to read it and does not, the log says why', async () => {
    const client = await startClient(root, undefined, { initializationOptions: { files: true } });
    await client.open(`${root}/a.closet`, wrong);
    await client.until(() =>
      told(client.diagnostics(`${root}/a.closet`))
        .join()
        .includes('unit-of-measure-missing'),
    );
    expect(client.errors.join()).toContain('storypole/listFolders');
    expect(await client.shutDown()).toBe(0);
  });

  it('a view of a file, as a comparison opens it, is told nothing of', async () => {
    const client = await startClient(undefined);
    const view = `git:/quarry-lane/a.closet?${encodeURIComponent('{"ref":"HEAD"}')}`;
    await client.open(view, wrong);
    await client.open('untitled:Untitled-1', wrong);
    await client.until(() => client.diagnostics('untitled:Untitled-1') !== undefined);
    expect(client.diagnostics(view)).toBeUndefined();
    const asked = { textDocument: { uri: view }, position: { line: 0, character: 7 } };
    expect(await client.connection.sendRequest('textDocument/hover', asked)).toBeNull();
    await client.shutDown();
  });
});
