/**
 * Clients differ in what they can and in what they send. The built server, driven by clients that can as little as the
 * protocol allows: each test is one way in which a real one is poorer than the one that the other tests use.
 */
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import type { CompletionList, Diagnostic, Hover, SignatureHelp } from 'vscode-languageserver-protocol/node';
import { type Client, endAll, folderWith, startClient, told, uriOf } from './client.ts';

const made: { remove: () => void }[] = [];
afterEach(() => {
  endAll();
  for (const folder of made.splice(0)) folder.remove();
});

const wrong = 'project "Quarry Lane" { show inches }\nboard white-12 { depth 12 }\n';
const right = wrong.replace('12 }', '12in }');
const missing = '2:24-26 error unit-of-measure-missing';

function folder(files: Readonly<Record<string, string>> = { 'project.closet': wrong }): string {
  const own = folderWith(files);
  made.push(own);
  return own.path;
}

const mentions = (client: Client, uri: string): boolean => told(client.diagnostics(uri)).includes(missing);

async function ended(client: Client): Promise<void> {
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
}

describe('a client', () => {
  it('that can nothing at all is told of what it opens', async () => {
    const root = folder();
    const uri = uriOf(join(root, 'project.closet'));
    const client = await startClient(undefined, {});
    expect(client.watched).toEqual([]);
    await client.open(uri, wrong);
    await client.until(() => mentions(client, uri));
    await ended(client);
  });

  it.each([
    ['a root address only', (path: string) => ({ rootUri: uriOf(path) })],
    ['a root path only', (path: string) => ({ rootUri: null, rootPath: path })],
    [
      'both, and folders that are null',
      (path: string) => ({ rootUri: uriOf(path), rootPath: path, workspaceFolders: null }),
    ],
    ['a root and no folders', (path: string) => ({ rootUri: uriOf(path), workspaceFolders: [] })],
  ])('that names its folder by %s is told of files that it has not opened', async (_, params) => {
    const root = folder();
    const client = await startClient(undefined, {}, { params: params(root) });
    await client.until(() => mentions(client, uriOf(join(root, 'project.closet'))));
    await ended(client);
  });

  it('that shows no Markdown is told the same in plain words, and one that knows no tree has a list', async () => {
    const text = `${right}\n/// For *coats*.\nboard oak { depth 12in; thickness 3/4in }\ntemplate t { wall back { length 60in; height 96in } }\n`;
    const root = folder({ 'project.closet': text });
    const uri = uriOf(join(root, 'project.closet'));
    const kinds = ['plaintext', 'markdown'];
    const client = await startClient(root, {
      textDocument: {
        hover: { contentFormat: ['plaintext'] },
        completion: { completionItem: { documentationFormat: kinds } },
        signatureHelp: { signatureInformation: { documentationFormat: kinds } },
        documentSymbol: { hierarchicalDocumentSymbolSupport: false },
      },
    });
    await client.open(uri, text);
    const textDocument = { uri };
    const hover: Hover = await client.connection.sendRequest('textDocument/hover', {
      textDocument,
      position: { line: 4, character: 7 },
    });
    expect(hover.contents).toMatchObject({ kind: 'plaintext', value: expect.stringContaining('For *coats*.') });
    expect(JSON.stringify(hover.contents)).not.toMatch(/```|\*\*/);
    const { items }: CompletionList = await client.connection.sendRequest('textDocument/completion', {
      textDocument,
      position: { line: 4, character: 12 },
    });
    const told = await Promise.all(
      items.map((item) => client.connection.sendRequest('completionItem/resolve', item) as Promise<typeof item>),
    );
    const docs = told.flatMap(({ documentation }) => documentation ?? []);
    expect(docs.length).toBeGreaterThan(0);
    for (const doc of docs) expect(doc).toMatchObject({ kind: 'plaintext' });
    const symbols = await client.connection.sendRequest('textDocument/documentSymbol', { textDocument });
    expect(symbols).toMatchObject([
      { name: '"Quarry Lane"', location: { uri } },
      { name: 'white-12' },
      { name: 'oak' },
      { name: 't' },
      { name: 'back', containerName: 't', location: { range: { start: { line: 5 } } } },
    ]);
    await ended(client);
  });

  it('that knows neither a preparation of a rename nor places in a label is offered what it knows', async () => {
    const text = `${right}template t { parameter wide: length; wall back { length wide; height 96in } }\nunit u t { wide 60in }\n`;
    const root = folder({ 'project.closet': text });
    const uri = uriOf(join(root, 'project.closet'));
    const capable = {
      rename: { prepareSupport: true },
      signatureHelp: { signatureInformation: { parameterInformation: { labelOffsetSupport: true } } },
    };
    for (const [textDocument, renameProvider, label] of [
      [{}, true, 'wide: length'],
      [capable, { prepareProvider: true }, [4, 16]],
    ] as const) {
      const client = await startClient(root, { textDocument });
      expect(client.initialized.capabilities.renameProvider).toEqual(renameProvider);
      await client.open(uri, text);
      const line = text.slice(0, text.indexOf('unit u')).split('\n').length - 1;
      const help: SignatureHelp = await client.connection.sendRequest('textDocument/signatureHelp', {
        textDocument: { uri },
        position: { line, character: 'unit u t { wide 6'.length },
      });
      expect(help.signatures[0]?.parameters?.[0]?.label).toEqual(label);
      await ended(client);
    }
  });

  it('that has set nothing, and says so when it is asked, keeps what it was given at the start', async () => {
    const text = `${right}template t { wall back { length 60in; height 96in } }\nunit u t\n`;
    const root = folder({ 'project.closet': text });
    const uri = uriOf(join(root, 'project.closet'));
    const lenses = async (answer: unknown): Promise<number> => {
      const client = await startClient(
        root,
        { workspace: { configuration: true }, textDocument: { codeLens: {} } },
        {
          initializationOptions: {
            settings: { codeLens: { uses: false, boards: false, savings: false, stockLengths: false } },
          },
          onRequest: { 'workspace/configuration': () => [answer] },
        },
      );
      await client.open(uri, text);
      await client.connection.sendRequest('storypole/units', {});
      const found: unknown[] = await client.connection.sendRequest('textDocument/codeLens', { textDocument: { uri } });
      await ended(client);
      return found.length;
    };
    expect(await lenses(null)).toBe(0);
    expect(await lenses({ codeLens: { uses: true, boards: false, savings: false, stockLengths: false } })).toBe(1);
  });

  it.each([
    ['utf-8 before utf-16', ['utf-8', 'utf-16']],
    ['utf-32 only, which the protocol does not allow', ['utf-32']],
    ['nothing', undefined],
  ])('that offers to count columns in %s is told that they are UTF-16', async (_, positionEncodings) => {
    const root = folder();
    const uri = uriOf(join(root, 'project.closet'));
    const client = await startClient(root, { general: { positionEncodings } });
    // source: LSP 3.17, PositionEncodingKind: UTF-16 must always be supported, and is what holds where nothing is said.
    expect(client.initialized.capabilities.positionEncoding ?? 'utf-16').toBe('utf-16');
    // A letter of four bytes in UTF-8 is two columns.
    await client.open(uri, wrong.replace('12 }', '12; /* \u{1F6AA} */ thickness 3 }'));
    await client.until(() => told(client.diagnostics(uri)).includes('2:47-48 error unit-of-measure-missing'));
    await ended(client);
  });

  it('that sends the whole text with each change is told the same', async () => {
    const root = folder();
    const uri = uriOf(join(root, 'project.closet'));
    const client = await startClient(root, {});
    await client.open(uri, right);
    const whole = (version: number, text: string) =>
      client.connection.sendNotification('textDocument/didChange', {
        textDocument: { uri, version },
        contentChanges: [{ text }],
      });
    await whole(2, wrong);
    await client.until(() => mentions(client, uri));
    await whole(3, right);
    await client.until(() => !mentions(client, uri));
    await whole(4, '');
    await whole(5, wrong);
    await client.until(() => mentions(client, uri));
    await ended(client);
  });

  it('that asks past the end of a line, of the file, and of a file that is not there, is answered', async () => {
    const root = folder();
    const uri = uriOf(join(root, 'project.closet'));
    const client = await startClient(root, {});
    await client.open(uri, wrong);
    const places = [
      { line: 1, character: 10_000 },
      { line: 10_000, character: 0 },
      { line: 2 ** 31 - 1, character: 2 ** 31 - 1 },
      { line: -1, character: -1 },
    ];
    for (const position of places) {
      for (const at of [uri, uriOf(join(root, 'nowhere.closet')), 'untitled:gone', 'nonsense']) {
        for (const method of ['hover', 'completion', 'definition', 'codeAction'] as const) {
          const params = {
            textDocument: { uri: at },
            ...(method === 'codeAction'
              ? { range: { start: position, end: position }, context: { diagnostics: [] } }
              : { position }),
          };
          const answer = client.connection.sendRequest(`textDocument/${method}`, params);
          await expect(answer, `${method} in ${at} at ${JSON.stringify(position)}`).resolves.not.toThrow();
        }
      }
    }
    // An edit past the end is at the end.
    await client.change(uri, 2, [{ from: [9_999, 9_999], to: [10_000, 3], text: 'board oak { depth 1 }\n' }]);
    await client.until(() => told(client.diagnostics(uri)).includes('3:19-20 error unit-of-measure-missing'));
    await ended(client);
  });

  it('without snippets is offered none, and one without Markdown reads its hover as text', async () => {
    const root = folder({ 'project.closet': right });
    const uri = uriOf(join(root, 'project.closet'));
    const client = await startClient(root, {});
    await client.open(uri, right);
    const position = { line: 2, character: 0 };
    const asked = { textDocument: { uri }, position };
    const { items } = await client.connection.sendRequest<CompletionList>('textDocument/completion', asked);
    expect(items.length).toBeGreaterThan(0);
    // source: LSP 3.17, InsertTextFormat: 2 is a snippet.
    expect(items.filter(({ insertTextFormat }) => insertTextFormat === 2)).toEqual([]);
    expect(items.filter(({ insertText }) => insertText?.includes('$'))).toEqual([]);
    expect(items.map(({ label }) => label)).not.toContain('new-unit');
    const at = { textDocument: { uri }, position: { line: 1, character: 8 } };
    const { contents } = await client.connection.sendRequest<Hover>('textDocument/hover', at);
    expect(JSON.stringify(contents)).toContain('white-12');
    await ended(client);
  });

  it('with snippets is offered whole statements to begin with, whatever editor it is', async () => {
    const root = folder({ 'project.closet': right });
    const uri = uriOf(join(root, 'project.closet'));
    const client = await startClient(root, {
      textDocument: { completion: { completionItem: { snippetSupport: true } } },
    });
    await client.open(uri, right);
    const asked = { textDocument: { uri }, position: { line: 2, character: 0 } };
    const { items } = await client.connection.sendRequest<CompletionList>('textDocument/completion', asked);
    const unit = items.find(({ label }) => label === 'new-unit');
    // source: LSP 3.17, InsertTextFormat: 2 is a snippet, CompletionItemKind: 15 is one.
    expect(unit).toMatchObject({ insertTextFormat: 2, kind: 15 });
    await ended(client);
  });

  it('that only asks for diagnostics is answered, and sent none', async () => {
    const root = folder();
    const uri = uriOf(join(root, 'project.closet'));
    const client = await startClient(root, { textDocument: { diagnostic: {} } });
    expect(client.initialized.capabilities.diagnosticProvider).toBeDefined();
    const pull = (): Promise<{ items: Diagnostic[] }> =>
      client.connection.sendRequest('textDocument/diagnostic', { textDocument: { uri } });
    await client.open(uri, wrong);
    expect(told((await pull()).items)).toContain(missing);
    await client.change(uri, 2, [{ from: [1, 25], to: [1, 25], text: 'in' }]);
    expect(told((await pull()).items)).not.toContain(missing);
    expect(client.published).toEqual([]);
    await ended(client);
  });

  it('that only takes diagnostics is sent them, and offered no questions', async () => {
    const root = folder();
    const uri = uriOf(join(root, 'project.closet'));
    const client = await startClient(root, { textDocument: { publishDiagnostics: {}, diagnostic: {} } });
    expect(client.initialized.capabilities.diagnosticProvider).toBeUndefined();
    await client.open(uri, wrong);
    await client.until(() => mentions(client, uri));
    await ended(client);
  });

  it('that closes a document twice, edits one that it never opened, or opens one again is put up with', async () => {
    const root = folder();
    const uri = uriOf(join(root, 'project.closet'));
    const client = await startClient(root, {});
    const close = () => client.connection.sendNotification('textDocument/didClose', { textDocument: { uri } });
    await close();
    await client.change(uri, 7, [{ from: [0, 0], to: [0, 3], text: 'x' }]);
    await client.open(uri, right);
    await client.open(uri, wrong);
    await client.until(() => mentions(client, uri));
    await close();
    await close();
    await client.open(uri, right);
    await client.until(() => !mentions(client, uri));
    await ended(client);
  });

  it('that watches nothing and says what it saved is told what other files say now', async () => {
    const root = folder({ 'project.closet': right, 'more.closet': 'stock white-12 { length 8ft }\n' });
    const [uri, more] = [uriOf(join(root, 'project.closet')), uriOf(join(root, 'more.closet'))];
    const client = await startClient(root, {});
    await client.open(uri, right);
    await client.open(more, 'stock white-12 { length 8 }\n');
    await client.until(() => told(client.diagnostics(more)).join().includes('unit-of-measure-missing'));
    await client.connection.sendNotification('textDocument/didSave', { textDocument: { uri: more } });
    await client.connection.sendNotification('textDocument/didClose', { textDocument: { uri: more } });
    // What was not saved after all is forgotten with the document.
    await client.until(() => !told(client.diagnostics(more)).join().includes('unit-of-measure-missing'));
    await ended(client);
  });

  it('that asks for what the server has not is told so, and goes on', async () => {
    const client = await startClient(folder(), {});
    const request = client.connection.sendRequest('textDocument/notThere', {});
    // source: JSON-RPC 2.0, 5.1: -32601, method not found.
    await expect(request).rejects.toMatchObject({ code: -32601 });
    await client.connection.sendNotification('$/notThere', {});
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    await client.connection.sendNotification('$/setTrace', { value: 'verbose' });
    await ended(client);
  });

  it('that asks once it has ended the conversation is refused', async () => {
    const client = await startClient(folder(), {});
    await client.connection.sendRequest('shutdown');
    const position = { line: 0, character: 0 };
    const asked = client.connection.sendRequest('textDocument/hover', {
      textDocument: { uri: 'file:///a.closet' },
      position,
    });
    // source: LSP 3.17, shutdown: requests that come after it are answered with InvalidRequest, which is -32600.
    await expect(asked).rejects.toMatchObject({ code: -32600 });
    const status = new Promise((resolve) => client.process.once('exit', resolve));
    await client.connection.sendNotification('exit');
    expect(await status).toBe(0);
  });

  it('that goes away without a word ends the server', async () => {
    const client = await startClient(folder(), {});
    const status = new Promise((resolve) => client.process.once('exit', (code, signal) => resolve(code ?? signal)));
    client.connection.dispose();
    client.process.stdin?.end();
    expect([0, 1]).toContain(await status);
  });
});
