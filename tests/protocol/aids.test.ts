/**
 * Semantic tokens, inlay hints, code lenses, signatures and completion of the built server.
 * source: Language Server Protocol 3.17 for the encoding of tokens, and for what may be asked when.
 */
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import type {
  CodeLens,
  CompletionItem,
  CompletionList,
  InlayHint,
  SemanticTokens,
  SemanticTokensDelta,
  SignatureHelp,
} from 'vscode-languageserver-protocol/node';
import { type Client, endAll, folderWith, startClient, uriOf } from './client.ts';

const materials = `project "Quarry Lane" { show inches; currency EUR; kerf 1/8in }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft price 18.00 EUR unlimited }
`;
const linen = `template linen {
  parameter width: length = 36in from 30in to 42in
  wall back { length width; height 96in }
  zone main on back {
    width fill
    shelf top { at 72in; board white-12 }
  }
}
unit A-101 linen { }
unit A-102 linen { width 40in }
`;
const folder = folderWith({ 'project.closet': materials, 'linen.closet': linen });
const uri = uriOf(join(folder.path, 'linen.closet'));
const textDocument = { uri };
const whole = { start: { line: 0, character: 0 }, end: { line: 9999, character: 0 } };
afterEach(endAll);
afterAll(folder.remove);

const capabilities = { workspace: { workspaceFolders: true }, textDocument: {} };

async function opened(more: Parameters<typeof startClient>[2] = {}, can: object = capabilities): Promise<Client> {
  const client = await startClient(folder.path, can, more);
  await client.open(uri, linen);
  await client.until(() => client.diagnostics(uri) !== undefined);
  return client;
}

const ask = <T>({ connection }: Client, method: string, params: object): Promise<T> =>
  connection.sendRequest(method, params);

function positionIn(text: string, at: number): { line: number; character: number } {
  const before = text.slice(0, at).split('\n');
  return { line: before.length - 1, character: before.at(-1)?.length ?? 0 };
}

describe('semantic tokens', () => {
  const full = (client: Client): Promise<SemanticTokens> =>
    ask(client, 'textDocument/semanticTokens/full', { textDocument });

  it('come for all of a file and for a stretch of it', async () => {
    const client = await opened();
    const { legend } = client.initialized.capabilities.semanticTokensProvider as {
      legend: { tokenTypes: string[] };
    };
    const { data } = await full(client);
    expect(data.slice(0, 10)).toEqual([
      ...[0, 0, 8, legend.tokenTypes.indexOf('keyword'), 0],
      ...[0, 9, 5, legend.tokenTypes.indexOf('class'), 2],
    ]);
    const range = { start: { line: 8, character: 0 }, end: { line: 8, character: 4 } };
    const part = await ask<SemanticTokens>(client, 'textDocument/semanticTokens/range', { textDocument, range });
    expect(part.data).toEqual([8, 0, 4, legend.tokenTypes.indexOf('keyword'), 0]);
    await client.shutDown();
  });

  it('sent as what has changed are those of the whole, after any edits', { timeout: 60_000 }, async () => {
    const client = await opened();
    let text = linen;
    let version = 1;
    let known = await full(client);
    const edits = fc.record({
      at: fc.nat(),
      length: fc.nat(12),
      put: fc.constantFrom(
        '',
        ' ',
        '\n',
        '{',
        '}',
        '"',
        '// ',
        '/*',
        '*/',
        'unit b linen { width 3in }\n',
        'shelf x { at 9in }',
        '🚪',
        'é',
        '\r\n',
        '3-1/2in',
      ),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(edits, { minLength: 1, maxLength: 4 }), async (list) => {
        for (const { at, length, put } of list) {
          const from = at % (text.length + 1);
          const to = Math.min(text.length, from + length);
          // No half of a surrogate pair is cut off, and no line end: the position of what is within one is moved.
          if (/[\udc00-\udfff\n]/.test(text.charAt(from)) || /[\udc00-\udfff\n]/.test(text.charAt(to))) continue;
          const [start, end] = [positionIn(text, from), positionIn(text, to)];
          await client.change(uri, ++version, [
            { from: [start.line, start.character], to: [end.line, end.character], text: put },
          ]);
          text = text.slice(0, from) + put + text.slice(to);
        }
        const answer = await ask<SemanticTokens | SemanticTokensDelta>(
          client,
          'textDocument/semanticTokens/full/delta',
          {
            textDocument,
            previousResultId: known.resultId,
          },
        );
        expect('edits' in answer).toBe(true);
        const data = [...known.data];
        for (const edit of 'edits' in answer ? answer.edits.toReversed() : [])
          data.splice(edit.start, edit.deleteCount, ...(edit.data ?? []));
        const now = await full(client);
        expect(data).toEqual(now.data);
        known = now;
      }),
      { numRuns: 60 },
    );
    expect(client.errors).toEqual([]);
    await client.shutDown();
  });

  it('are sent whole where the result before is not known, and few where one word was typed', async () => {
    const client = await opened();
    const { resultId, data } = await full(client);
    const delta = (previousResultId: string | undefined): Promise<SemanticTokens | SemanticTokensDelta> =>
      ask(client, 'textDocument/semanticTokens/full/delta', { textDocument, previousResultId });
    const at = positionIn(linen, linen.indexOf('zone main') + 9);
    await client.change(uri, 2, [{ from: [at.line, at.character], to: [at.line, at.character], text: 'ly' }]);
    const changed = (await delta(resultId)) as SemanticTokensDelta;
    expect(changed.edits).toHaveLength(1);
    expect(changed.edits[0]?.data?.length).toBeLessThanOrEqual(5);
    const unknown = (await delta('no such result')) as SemanticTokens;
    expect(unknown.data).toHaveLength(data.length);
    await client.shutDown();
  });

  it('are sent whole of a document that was closed and opened again', async () => {
    const client = await opened();
    const { resultId, data } = await full(client);
    await client.connection.sendNotification('textDocument/didClose', { textDocument });
    await client.open(uri, linen);
    const again = await ask<SemanticTokens>(client, 'textDocument/semanticTokens/full/delta', {
      textDocument,
      previousResultId: resultId,
    });
    expect(again.data).toEqual(data);
    await client.shutDown();
  });

  it('are never none: a document that is not there has no answer', async () => {
    const client = await opened();
    const gone = { textDocument: { uri: `${uri}.gone` } };
    // source: LSP 3.17, ErrorCodes: ContentModified is -32801.
    await expect(ask(client, 'textDocument/semanticTokens/full', gone)).rejects.toMatchObject({ code: -32801 });
    expect(client.errors).toEqual([]);
    await client.shutDown();
  });
});

describe('inlay hints', () => {
  const hints = (client: Client): Promise<InlayHint[]> =>
    ask(client, 'textDocument/inlayHint', { textDocument, range: whole });

  it('come with their reasons when they are looked at', async () => {
    const client = await opened();
    const found = await hints(client);
    expect(found.map((h) => h.label)).toEqual(['= 36in', '= 36in', 'cut 36in', 'width = 36in']);
    const asked = await ask<InlayHint>(client, 'inlayHint/resolve', found[2] as InlayHint);
    expect(JSON.stringify(asked.tooltip)).toContain('With the defaults (width 36in).');
    await client.shutDown();
  });

  it('are found again by what they bring along, in the text that they were made of and no other', async () => {
    const client = await opened();
    const found = (await hints(client))[2] as InlayHint;
    // Nothing is kept of what was told: another server knows it as well.
    const other = await opened();
    expect(JSON.stringify(await ask(other, 'inlayHint/resolve', found))).toContain('With the defaults (width 36in).');
    await other.shutDown();
    await client.change(uri, 2, [{ from: [1, 30], to: [1, 30], text: ' ' }]);
    expect(await ask(client, 'inlayHint/resolve', found)).toEqual(found);
    await client.shutDown();
  });

  it('can be turned off, and the client is asked to ask again', async () => {
    let said: object = { inlayHints: { values: false } };
    let refreshed: () => void = () => undefined;
    const refresh = (): Promise<void> => new Promise((resolve) => (refreshed = resolve));
    const first = refresh();
    const client = await opened(
      {
        onRequest: {
          'workspace/configuration': () => [said],
          'workspace/inlayHint/refresh': () => {
            refreshed();
            return null;
          },
        },
      },
      {
        ...capabilities,
        workspace: { workspaceFolders: true, configuration: true, inlayHint: { refreshSupport: true } },
      },
    );
    await first;
    expect((await hints(client)).map((h) => h.label)).toEqual(['= 36in', 'cut 36in', 'width = 36in']);
    said = { inlayHints: { values: false, cutLengths: false, widths: 'nonsense' } };
    const second = refresh();
    await client.connection.sendNotification('workspace/didChangeConfiguration', { settings: null });
    await second;
    expect((await hints(client)).map((h) => h.label)).toEqual(['= 36in', 'width = 36in']);
    await client.shutDown();
  });

  it('are turned off by a client that only tells its settings', async () => {
    const client = await opened({ initializationOptions: { settings: { inlayHints: { values: false } } } });
    expect(await hints(client)).toHaveLength(3);
    await client.connection.sendNotification('workspace/didChangeConfiguration', {
      settings: { storypole: { inlayHints: { defaults: false, cutLengths: false } } },
    });
    expect((await hints(client)).map((h) => h.label)).toEqual(['= 36in', '= 36in']);
    await client.shutDown();
  });
});

describe('code lenses', () => {
  const said = async (client: Client): Promise<CodeLens[]> => {
    const lenses = await ask<CodeLens[]>(client, 'textDocument/codeLens', { textDocument });
    return Promise.all(lenses.map((lens) => ask<CodeLens>(client, 'codeLens/resolve', lens)));
  };

  it('say who uses a template, and lead there where the client can', async () => {
    const client = await opened({ initializationOptions: { commands: true } });
    const [uses] = await said(client);
    expect(uses?.command).toMatchObject({ title: 'used by 2 units', command: 'storypole.showReferences' });
    expect(uses?.command?.arguments?.slice(0, 2)).toEqual([uri, { line: 0, character: 9 }]);
    expect(uses?.command?.arguments?.[2]).toMatchObject([
      { uri, range: { start: { line: 8 } } },
      { uri, range: { start: { line: 9 } } },
    ]);
    await client.shutDown();
    const plain = await opened();
    expect((await said(plain))[0]?.command).toEqual({ title: 'used by 2 units', command: '' });
    await plain.shutDown();
  });

  it('are found again by what they bring along, in the text that they were made of and no other', async () => {
    const client = await opened();
    const [uses] = (await ask<CodeLens[]>(client, 'textDocument/codeLens', { textDocument })) as [CodeLens];
    // Nothing is kept of what was told: another server knows it as well.
    const other = await opened();
    expect((await ask<CodeLens>(other, 'codeLens/resolve', uses)).command?.title).toBe('used by 2 units');
    await other.shutDown();
    await client.change(uri, 2, [{ from: [0, 0], to: [0, 0], text: '\n' }]);
    // source: LSP 3.17, ErrorCodes: ContentModified is -32801.
    await expect(ask(client, 'codeLens/resolve', uses)).rejects.toMatchObject({ code: -32801 });
    const moved = (await ask<CodeLens[]>(client, 'textDocument/codeLens', { textDocument }))[0] as CodeLens;
    expect(moved.range.start.line).toBe(1);
    // What changes elsewhere is seen in them.
    const more = uriOf(join(folder.path, 'more.closet'));
    await client.open(more, 'unit A-103 linen { }\n');
    expect((await ask<CodeLens>(client, 'codeLens/resolve', moved)).command?.title).toBe('used by 3 units');
    expect(client.errors).toEqual([]);
    await client.shutDown();
  });

  it('say what a unit takes of the plan once there is one, and that there is a new one', async () => {
    let refreshed: () => void = () => undefined;
    const told = new Promise<void>((resolve) => (refreshed = resolve));
    const client = await opened(
      {
        onRequest: {
          'workspace/codeLens/refresh': () => {
            refreshed();
            return null;
          },
        },
      },
      { ...capabilities, workspace: { workspaceFolders: true, codeLens: { refreshSupport: true } } },
    );
    await told;
    const boards = async (): Promise<string | undefined> => (await said(client))[1]?.command?.title;
    // Both shelves come from one board: 36in of 76in of it, and of its 18.00.
    while ((await boards()) !== '1 part: about 0.5 of white-12, 8.53 EUR') {
      expect(await boards()).toMatch(/not planned yet$|: about/);
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
    await client.shutDown();
  });

  it('say what a little less of a dimension would save, lead to it, and can be turned off', async () => {
    // Two shelves of 48 in and a kerf of 1/8 are 96-1/8 in, so that each takes a board of 8 ft.
    const text = `template t {
  wall back { length 100in; height 96in }
  board white-12
  zone main on back { width 48in; shelf low { at 20in } }
}
unit A-101 t
unit A-102 t
`;
    const own = folderWith({ 'project.closet': materials, 'a.closet': text });
    const document = { uri: uriOf(join(own.path, 'a.closet')) };
    const titles = async (client: Client): Promise<(CodeLens | undefined)[]> => {
      const lenses = await ask<CodeLens[]>(client, 'textDocument/codeLens', { textDocument: document });
      return Promise.all(lenses.map((lens) => ask<CodeLens>(client, 'codeLens/resolve', lens)));
    };
    const begun = async (settings: object): Promise<Client> => {
      const client = await startClient(own.path, capabilities, {
        initializationOptions: { commands: true, settings: { codeLens: settings } },
      });
      await client.open(document.uri, text);
      // The note about the stock comes with the plan that the lens is of.
      await client.until(
        () => client.diagnostics(document.uri)?.some(({ code }) => code === 'stock-nearly-saved') === true,
      );
      return client;
    };
    const client = await begun({ uses: false, boards: false, stockLengths: false });
    const found = await titles(client);
    expect(found.map((lens) => lens?.command?.title)).toEqual([
      'zone "main" 1/16in narrower: the plan takes 1 board fewer and costs 18.00 EUR less',
      'zone "main" 1/16in narrower: the plan takes 1 board fewer and costs 18.00 EUR less',
    ]);
    expect(found[0]?.command?.arguments?.[2]).toMatchObject([
      { uri: document.uri, range: { start: { line: 3, character: 22 }, end: { line: 3, character: 32 } } },
    ]);
    await client.shutDown();
    const without = await begun({ uses: false, boards: false, savings: false, stockLengths: false });
    expect(await titles(without)).toEqual([]);
    await without.shutDown();
    own.remove();
  });

  it('of before are answered with that they are old', async () => {
    const client = await opened();
    const lens = { range: whole, data: { list: 99, index: 0 } };
    await expect(ask(client, 'codeLens/resolve', lens)).rejects.toMatchObject({ code: -32801 });
    expect(client.errors).toEqual([]);
    await client.shutDown();
  });
});

describe('while typing', () => {
  it('a signature shows what a unit has to give', async () => {
    const client = await opened();
    const position = positionIn(linen, linen.indexOf('width 40in') + 6);
    const help = await ask<SignatureHelp>(client, 'textDocument/signatureHelp', { textDocument, position });
    expect(help.signatures[0]?.label).toBe('linen { width: length = 36in from 30in to 42in }');
    expect(help.activeParameter).toBe(0);
    await client.shutDown();
  });

  it('values are offered in their order, and documentation when it is looked at', async () => {
    const client = await opened();
    const complete = (at: number): Promise<CompletionList> =>
      ask(client, 'textDocument/completion', { textDocument, position: positionIn(linen, at) });
    const values = await complete(linen.indexOf('40in') + 1);
    const sorted = values.items.toSorted((a, b) => ((a.sortText ?? '') < (b.sortText ?? '') ? -1 : 1));
    expect(sorted.map((i) => [i.label, i.filterText])).toEqual([
      ['36in', '40in'],
      ['30in', '40in'],
      ['42in', '40in'],
    ]);
    const words = await complete(linen.indexOf('shelf top') + 2);
    const shelf = words.items.find((i) => i.label === 'shelf') as CompletionItem;
    expect(shelf.documentation).toBeUndefined();
    const looked = await ask<CompletionItem>(client, 'completionItem/resolve', shelf);
    expect(JSON.stringify(looked.documentation)).toContain('A shelf between the faces that hold it');
    expect(words.items.every((i) => i.textEdit !== undefined)).toBe(true);
    expect(client.errors).toEqual([]);
    await client.shutDown();
  });
});
