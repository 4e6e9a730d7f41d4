/**
 * Diagnostics that a client asks for, progress and cancelled questions.
 * source: Language Server Protocol 3.17, textDocument/diagnostic, workspace/diagnostic, window/workDoneProgress.
 */
import { join } from 'node:path';
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import {
  CancellationTokenSource,
  type Diagnostic,
  type DocumentDiagnosticReport,
  type WorkspaceDiagnosticReport,
  WorkspaceDiagnosticRequest,
} from 'vscode-languageserver-protocol/node';
import { type Client, endAll, folderWith, type MoreOptions, startClient, told, uriOf } from './client.ts';

const project = `project "Quarry Lane" { show inches }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft unlimited }
`;
const linen = `template linen {
  parameter width: length = 36in from 30in to 42in
  wall back { length width; height 96in }
  zone main on back { width fill; shelf top { at 72in; board white-12 } }
}
`;
const units = 'unit A-101 linen { width 36in }\nunit A-102 linen { width 50in }\n';

const folder = folderWith({ 'project.closet': project, 'linen.closet': linen, 'units.closet': units });
const [linenUri, unitsUri] = ['linen.closet', 'units.closet'].map((name) => uriOf(join(folder.path, name))) as [
  string,
  string,
];
afterEach(endAll);
afterAll(folder.remove);

const pulling = {
  workspace: { workspaceFolders: true, diagnostics: { refreshSupport: true } },
  textDocument: { diagnostic: {} },
};

/** A client that asks, and how often it has been told to ask again. */
async function asking(
  capabilities: object = {},
  more: MoreOptions = {},
): Promise<{ client: Client; refreshed: () => number }> {
  const client = await startClient(folder.path, { ...pulling, ...capabilities }, more);
  let refreshed = 0;
  client.connection.onRequest('workspace/diagnostic/refresh', () => {
    refreshed++;
    return null;
  });
  return { client, refreshed: () => refreshed };
}

function pull({ connection }: Client, uri: string, previousResultId?: string): Promise<DocumentDiagnosticReport> {
  return connection.sendRequest('textDocument/diagnostic', { textDocument: { uri }, previousResultId });
}

it('a client that asks is sent nothing, and told once that nothing has changed', async () => {
  const { client } = await asking();
  expect(client.initialized.capabilities.diagnosticProvider).toMatchObject({ workspaceDiagnostics: true });
  await client.open(unitsUri, units);
  const first = await pull(client, unitsUri);
  expect(first.kind).toBe('full');
  if (first.kind !== 'full') return;
  expect(told(first.items)).toEqual(['2:26-30 error argument-out-of-range']);
  expect(await pull(client, unitsUri, first.resultId)).toEqual({ kind: 'unchanged', resultId: first.resultId });
  await client.change(unitsUri, 2, [{ from: [1, 25], to: [1, 27], text: '40' }]);
  expect(await pull(client, unitsUri, first.resultId)).toMatchObject({ kind: 'full', items: [] });
  expect(client.published).toEqual([]);
  await client.shutDown();
});

it('is told to ask again when an edit reaches another file', async () => {
  const { client, refreshed } = await asking();
  await client.open(linenUri, linen);
  await client.open(unitsUri, units);
  await pull(client, unitsUri);
  const before = refreshed();
  const at = linen.split('\n')[1]?.indexOf('42in') ?? 0;
  await client.change(linenUri, 2, [{ from: [1, at], to: [1, at + 2], text: '52' }]);
  expect(await pull(client, unitsUri)).toMatchObject({ kind: 'full', items: [] });
  await expect.poll(refreshed).toBeGreaterThan(before);
  await client.shutDown();
});

it('answers for the whole workspace, with the files that are not open', async () => {
  const { client } = await asking();
  await client.open(linenUri, linen);
  await pull(client, linenUri);
  const ask = (previousResultIds: object[]): Promise<WorkspaceDiagnosticReport> =>
    client.connection.sendRequest('workspace/diagnostic', { previousResultIds });
  const { items } = await ask([]);
  const found = items.find(({ uri }) => uri === unitsUri);
  expect(found).toMatchObject({ kind: 'full', version: null });
  const again = await ask([{ uri: unitsUri, value: found?.resultId ?? '' }]);
  expect(again.items.find(({ uri }) => uri === unitsUri)?.kind).toBe('unchanged');
  await client.shutDown();
});

it('sends them to a client that cannot be told to ask again, or says that it wants them sent', async () => {
  for (const [capabilities, more] of [
    [{ textDocument: { diagnostic: {}, publishDiagnostics: {} } }, {}],
    [pulling, { initializationOptions: { diagnostics: 'push' } }],
  ] as const) {
    const client = await startClient(folder.path, capabilities, more);
    expect(client.initialized.capabilities.diagnosticProvider).toBeUndefined();
    await client.open(unitsUri, units);
    await client.until(() => client.diagnostics(unitsUri) !== undefined);
    await client.shutDown();
  }
});

it('a question about a file that is not there is answered with nothing', async () => {
  const { client } = await asking();
  for (const uri of [`${unitsUri}.gone`, 'untitled:Untitled-1', 'file:///']) {
    expect(await pull(client, uri)).toMatchObject({ kind: 'full', items: [] });
  }
  expect(client.errors).toEqual([]);
  await client.shutDown();
});

it('what is open is asked about under another spelling of its address too', async () => {
  const { client } = await asking();
  await client.open(unitsUri, units);
  const other = unitsUri.replace('units.closet', '%75nits%2Ecloset');
  const first = await pull(client, unitsUri);
  expect(first.kind).toBe('full');
  expect(await pull(client, other)).toMatchObject({ kind: 'full', items: first.kind === 'full' ? first.items : [] });
  const hover = (uri: string) =>
    client.connection.sendRequest('textDocument/hover', { textDocument: { uri }, position: { line: 0, character: 2 } });
  expect(await hover(other)).toEqual(await hover(unitsUri));
  expect(await hover(other)).not.toBeNull();
  await client.shutDown();
});

it('a question that is cancelled while everything is computed is answered at once', async () => {
  const many = Array.from({ length: 3000 }, (_, i) => `unit b-${i} linen { width ${30 + (i % 12)}in }\n`).join('');
  const { client } = await asking();
  await client.open(unitsUri, many);
  const controller = new CancellationTokenSource();
  const answer = client.connection.sendRequest(
    'textDocument/hover',
    { textDocument: { uri: unitsUri }, position: { line: 0, character: 6 } },
    controller.token,
  );
  controller.cancel();
  await expect(answer).rejects.toMatchObject({ code: -32800 });
  await client.shutDown();
});

it('tells how far it is where that takes long', async () => {
  const values: { kind: string; percentage?: number }[] = [];
  const begun: unknown[] = [];
  const { client } = await asking(
    { window: { workDoneProgress: true } },
    { onNotification: { '$/progress': (params) => values.push((params as { value: { kind: string } }).value) } },
  );
  client.connection.onRequest('window/workDoneProgress/create', (params) => {
    begun.push(params);
    return null;
  });
  // No two alike, so that each is resolved by itself.
  const many = Array.from({ length: 6000 }, (_, i) => `unit b-${i} linen { width ${30 + i / 1000}in }\n`).join('');
  await client.open(unitsUri, many);
  await pull(client, unitsUri);
  await expect.poll(() => values.at(-1)?.kind).toBe('end');
  expect(begun).toHaveLength(1);
  expect(values[0]?.kind).toBe('begin');
  const shares = values.flatMap(({ percentage }) => (percentage === undefined ? [] : [percentage]));
  expect(shares).toEqual(shares.toSorted((a, b) => a - b));
  expect(client.errors).toEqual([]);
  await client.shutDown();
});

describe('who types without a pause where a thousand units rest on it', () => {
  const shared = `${project}${linen}`;
  const column = shared.split('\n')[6]?.indexOf('2in') ?? -1;
  const unitsOf = (count: number): string =>
    Array.from({ length: count }, (_, i) => `unit b-${i} linen { width ${(780 + i / 5).toFixed(1)}mm }\n`).join('');
  const many = folderWith({
    'shared.closet': shared,
    'others.closet': unitsOf(1200),
  });
  const sharedUri = uriOf(join(many.path, 'shared.closet'));
  afterAll(many.remove);

  /** A wrong name, and then a digit that is typed and taken back so fast that the units are never done between two keys. */
  async function typing(client: Client, isEnough: () => boolean, onKey: () => void = () => undefined): Promise<number> {
    let version = 2;
    await client.change(sharedUri, version, [{ from: [6, 15], to: [6, 19], text: 'bakc' }]);
    for (let key = 0; key < 400 && !isEnough(); key++) {
      version++;
      const typed = key % 2 === 0;
      await client.change(sharedUri, version, [
        { from: [6, column], to: [6, typed ? column : column + 1], text: typed ? '1' : '' },
      ]);
      onKey();
      await new Promise((go) => setTimeout(go, 15));
    }
    return version;
  }

  async function started(
    capabilities: object = pulling,
    path = many.path,
    uri = sharedUri,
    text = shared,
  ): Promise<{ client: Client; refreshed: () => number }> {
    const client = await startClient(path, capabilities);
    let refreshed = 0;
    client.connection.onRequest('workspace/diagnostic/refresh', () => {
      refreshed++;
      return null;
    });
    await client.open(uri, text);
    expect(await pull(client, uri)).toMatchObject({ kind: 'full' });
    return { client, refreshed: () => refreshed };
  }

  it('is answered meanwhile as far as it is known', async () => {
    const { client } = await started();
    let report: DocumentDiagnosticReport | undefined;
    let keys = 0;
    const others = { isKnown: false };
    const isAnswered = (): boolean => report !== undefined;
    // Asks with the first keys and takes it back with the next, as editors do, and then leaves it at that.
    let controller = new CancellationTokenSource();
    const typed = typing(client, isAnswered, () => {
      if (++keys > 5) return;
      controller.cancel();
      controller = new CancellationTokenSource();
      client.connection
        .sendRequest<DocumentDiagnosticReport>(
          'textDocument/diagnostic',
          { textDocument: { uri: sharedUri } },
          controller.token,
        )
        .then(
          (answer) => {
            report = answer;
          },
          () => undefined,
        );
    });
    // Of any other document nothing is said before all of it is known.
    const ofOthers = pull(client, uriOf(join(many.path, 'others.closet'))).then((answer) => {
      others.isKnown = true;
      return answer;
    });
    await typed;
    expect(isAnswered()).toBe(true);
    expect(others.isKnown).toBe(false);
    expect(keys).toBeGreaterThan(3);
    const meanwhile = report as DocumentDiagnosticReport | undefined;
    if (meanwhile?.kind !== 'full') throw new Error('it is answered in full');
    expect(told(meanwhile.items)).toContain('7:16-20 error name-not-known');
    await ofOthers;
    expect(client.errors).toEqual([]);
    await client.shutDown();
  });

  it('is told to ask again where something else is to be told once all is known', async () => {
    // Each unit says that its template has no such parameter; then it has one, and each has to be computed to know.
    const text = `${shared.replace('width:', 'breadth:')}${unitsOf(4000)}`;
    const one = folderWith({ 'all.closet': text });
    const uri = uriOf(join(one.path, 'all.closet'));
    const { client, refreshed } = await started(pulling, one.path, uri, text);
    const before = refreshed();
    let answered: DocumentDiagnosticReport | undefined;
    await client.change(uri, 2, [{ from: [4, 12], to: [4, 19], text: 'width' }]);
    void pull(client, uri).then((report) => {
      answered = report;
    });
    for (let version = 3; !answered && version < 400; version++) {
      const typed = version % 2 === 1;
      await client.change(uri, version, [
        { from: [6, column], to: [6, typed ? column : column + 1], text: typed ? '1' : '' },
      ]);
      await new Promise((go) => setTimeout(go, 5));
    }
    const meanwhile = answered as DocumentDiagnosticReport | undefined;
    if (meanwhile?.kind !== 'full') throw new Error('it is answered in full');
    // Of units that have not been computed yet, what they said last.
    expect(meanwhile.items.length).toBeGreaterThan(0);
    await expect.poll(refreshed, { timeout: 60_000 }).toBeGreaterThan(before);
    const last = await pull(client, uri, meanwhile.resultId);
    if (last.kind !== 'full') throw new Error('there is something else to be told');
    const misnamed = (items: readonly Diagnostic[]): number =>
      items.filter(({ code }) => code === 'name-not-known').length;
    expect(misnamed(meanwhile.items)).toBeGreaterThan(0);
    expect(misnamed(last.items)).toBe(0);
    // And no more often than there is a reason.
    const times = refreshed();
    expect((await pull(client, uri, last.resultId)).kind).toBe('unchanged');
    expect(refreshed()).toBe(times);
    await client.shutDown();
    one.remove();
  });

  it('waits where it cannot be told to ask again: half an answer would stay the last', async () => {
    const { client } = await started({ textDocument: { diagnostic: {} } });
    let version = 0;
    let isAnswered = false;
    let during = false;
    const began = performance.now();
    let asked: Promise<DocumentDiagnosticReport> | undefined;
    version = await typing(
      client,
      () => {
        during ||= isAnswered;
        return performance.now() - began > 1500;
      },
      () => {
        asked ??= pull(client, sharedUri).then((report) => {
          isAnswered = true;
          return report;
        });
      },
    );
    expect(version).toBeGreaterThan(3);
    expect(during).toBe(false);
    const report = await asked;
    expect(report?.kind === 'full' && told(report.items)).toContain('7:16-20 error name-not-known');
    await client.shutDown();
  });

  it('is told the part that is known of the whole workspace, where it takes an answer in parts', async () => {
    const { client } = await started();
    const parts: WorkspaceDiagnosticReport[] = [];
    client.connection.onProgress(WorkspaceDiagnosticRequest.partialResult, 'parts', (part) => {
      parts.push(part as WorkspaceDiagnosticReport);
    });
    const first = await client.connection.sendRequest<WorkspaceDiagnosticReport>('workspace/diagnostic', {
      previousResultIds: [],
      partialResultToken: 'parts',
    });
    expect(parts).toEqual([]);
    let answer: Promise<WorkspaceDiagnosticReport> | undefined;
    await typing(
      client,
      () => parts.length > 0,
      () => {
        if (answer) return;
        const asked = client.connection.sendRequest<WorkspaceDiagnosticReport>('workspace/diagnostic', {
          previousResultIds: first.items.map(({ uri, resultId: value }) => ({ uri, value })),
          partialResultToken: 'parts',
        });
        answer = asked;
        // Where the keys came so slowly that all was known between two, it is asked once more.
        void asked.then(() => {
          if (parts.length === 0) answer = undefined;
        });
      },
    );
    const [part] = parts[0]?.items ?? [];
    expect(parts[0]?.items).toHaveLength(1);
    expect(part).toMatchObject({ uri: sharedUri, kind: 'full', version: null });
    expect(part?.kind === 'full' && told(part.items)).toContain('7:16-20 error name-not-known');
    expect(await answer).toEqual({ items: [] });
    const all = parts.at(-1)?.items ?? [];
    expect(parts.length).toBeGreaterThan(1);
    expect(all.map(({ uri }) => uri)).toContain(sharedUri);
    await client.shutDown();
  });
});
