/** Stock findings of the built server: they come from a plan that is made beside the typing. */
import { join } from 'node:path';
import { afterEach, expect, it } from 'vitest';
import type { CodeAction, Hover } from 'vscode-languageserver-protocol/node';
import { type Client, endAll, folderWith, startClient, told, uriOf } from './client.ts';

const made: { remove: () => void }[] = [];
afterEach(() => {
  endAll();
  for (const folder of made.splice(0)) folder.remove();
});

/** Three shelves of 50 in, and boards of 96 in that hold one each: two are too few, three are enough. */
const closet = `project "Quarry Lane" { show inches }
board oak { depth 12in; thickness 3/4in }
stock oak { length 8ft count 2 }
template linen {
  wall back { length 50in; height 96in }
  board oak
  zone main on back {
    width fill
    shelf low { at 20in }
    shelf mid { at 40in }
    shelf top { at 72in }
  }
}
unit A-101 linen
`;

async function opened(text: string): Promise<{ client: Client; uri: string }> {
  const folder = folderWith({ 'project.closet': text });
  made.push(folder);
  const uri = uriOf(join(folder.path, 'project.closet'));
  const client = await startClient(folder.path);
  await client.open(uri, text);
  return { client, uri };
}

const place = (part: string, text = closet): [number, number] => {
  const before = text.slice(0, text.indexOf(part)).split('\n');
  return [before.length - 1, before.at(-1)?.length ?? 0];
};

it('come by themselves, stay through edits that change nothing to cut, and go with the shortage', async () => {
  const { client, uri } = await opened(closet);
  const short = (diagnostics = client.diagnostics(uri)): boolean =>
    told(diagnostics).some((t) => t.endsWith('stock-short'));
  await client.until(short);
  const before = client.published.length;
  // One keystroke after the other: heights, a comment within the stock, lines above it.
  const edits: [[number, number], [number, number], string][] = [
    [place('40in'), [place('40in')[0], place('40in')[1] + 2], '41'],
    [place('41in', closet.replace('40in', '41in')), [place('40in')[0], place('40in')[1] + 2], '42'],
    [place('count 2'), place('count 2'), '/* too few */ '],
    [[0, 0], [0, 0], '// a line more\n'],
  ];
  let version = 1;
  for (const [from, to, text] of edits) {
    version++;
    await client.change(uri, version, [{ from, to, text }]);
    await client.until(() => client.published.some((p) => p.version === version));
    await new Promise((go) => setTimeout(go, version % 2 === 0 ? 10 : 450));
  }
  const since = client.published.slice(before).filter((p) => p.uri === uri);
  expect(since.length).toBeGreaterThanOrEqual(edits.length);
  for (const p of since) expect(short(p.diagnostics), JSON.stringify(p)).toBe(true);
  expect(told(client.diagnostics(uri))).toContain('4:1-10 error stock-short');
  const [line, column] = place('2 }', closet.replace('count', '/* too few */ count'));
  await client.change(uri, 6, [{ from: [line + 1, column], to: [line + 1, column + 1], text: '3' }]);
  await client.until(() => client.diagnostics(uri)?.length === 0);
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});

it('come from the planner where adding up does not show them', async () => {
  // Boards of 100 in, two of them. 60 + 3 x 45 = 195 in with four kerfs is less than 200 in, and two of
  // 45 in go into each board; but 60 in goes with none of 45 in, so one piece waits in any plan.
  const text = `project "Quarry Lane" { show inches; kerf 1/8in }
board oak { depth 12in; thickness 3/4in }
stock oak { length 100in count 2 }
extra long { board oak; length 60in }
extra short { board oak; length 45in; count 3 }
`;
  const { client, uri } = await opened(text);
  const codes = (): unknown[] => (client.diagnostics(uri) ?? []).map((d) => d.code);
  // First that the plan leaves a piece, then, once it was looked into, that every plan does.
  await client.until(() => codes().length > 0 && codes()[0] !== 'stock-plan-does-not-fit');
  expect(codes()).toEqual(['stock-short']);
  await client.change(uri, 2, [{ from: [2, 32], to: [2, 33], text: '3' }]);
  await client.until(() => codes().length === 0);
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});

it('keep nobody waiting: while a large plan is made, edits and questions are answered', async () => {
  // Four hundred lengths to cut from ten kinds of boards, which takes a while to plan.
  const units = Array.from(
    { length: 3000 },
    (_, i) => `unit U${i} linen { width ${20 + (i % 60)}-${((i * 7) % 63) + 1}/64in }\n`,
  );
  const kinds = Array.from({ length: 10 }, (_, i) => `length ${84 + i * 3}in count 30`).join('; ');
  const text = closet
    .replace('length 8ft count 2', kinds)
    .replace('template linen {', 'template linen {\n  parameter width: length = 50in from 20in to 90in')
    .replace('length 50in', 'length width')
    .concat(...units);
  const began = performance.now();
  const { client, uri } = await opened(text);
  await client.until(() => told(client.diagnostics(uri)).some((t) => / stock-/.test(t)));
  const first = performance.now() - began;
  const [line, column] = place('72in', text);
  const waits: number[] = [];
  for (let version = 2; version < 22; version++) {
    // Each changes what is to be cut, so that the plan being made is given up and another begun.
    const [stockLine, at] = place('count 30', text);
    await client.change(uri, version, [
      { from: [stockLine, at + 6], to: [stockLine, at + 8], text: String(10 + version) },
    ]);
    await new Promise((go) => setTimeout(go, 290 + version * 3));
    const from = performance.now();
    const hover = await client.connection.sendRequest<Hover>('textDocument/hover', {
      textDocument: { uri },
      position: { line, character: column + 1 },
    });
    waits.push(performance.now() - from);
    expect(JSON.stringify(hover.contents)).toContain('1828.8mm');
  }
  // Whoever had to wait for a plan would wait for some such part of the first one.
  expect(waits.sort((a, b) => a - b)[10]).toBeLessThan(first / 4);
  await client.until(() => client.published.some((p) => p.version === 21));
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});

it('say what to buy and what nearly saves a board, are marked while a new plan is made, and tell how far it is', async () => {
  const text = `project "Quarry Lane" { show inches; kerf 1/8in; saw-step 1/16in; currency EUR }
board oak { depth 12in; thickness 3/4in }
stock oak { length 8ft price 20.00 EUR count 9 }
board elm { depth 12in; thickness 3/4in }
stock elm { length 100in count 2 }
extra rail { board oak; length 48in; count 2 }
extra long { board elm; length 60in }
extra short { board elm; length 45in; count 3 }
`;
  const folder = folderWith({ 'project.closet': text });
  made.push(folder);
  const uri = uriOf(join(folder.path, 'project.closet'));
  const states: { state: string; text: string }[] = [];
  const client = await startClient(folder.path, undefined, {
    initializationOptions: { planStatus: true },
    onNotification: { 'storypole/planStatus': (status) => states.push(status as (typeof states)[number]) },
  });
  await client.open(uri, text);
  const messages = (): string[] => (client.diagnostics(uri) ?? []).map((d) => `${d.code}: ${d.message}`);
  await client.until(() => messages().some((m) => m.includes('Buy 1 of 100in beyond the counts')));
  expect(messages().map((m) => m.split(/[:.,]/)[0])).toEqual(['stock-short', 'stock-nearly-saved']);
  expect(messages()[1]).toContain('the plan takes 1 board fewer and costs 20.00 EUR less');
  await expect.poll(() => states.at(-1)).toEqual({ state: 'current', text: '4 lengths, 1 without stock' });

  // Four rails: the plan of before is told as such, then the new one says the same of its own.
  const [line, column] = place('count 2 }', text.slice(text.indexOf('extra rail')));
  const at = place('extra rail', text)[0] + line;
  await client.change(uri, 2, [{ from: [at, column + 6], to: [at, column + 7], text: '4' }]);
  await client.until(() => messages().some((m) => m.includes('the plan takes 2 boards fewer')));
  expect(messages().some((m) => m.includes('Of the plan before'))).toBe(false);
  const between = client.published.flatMap(({ version, diagnostics }) => (version === 2 ? diagnostics : []));
  expect(between.map(({ message }) => message)).toContainEqual(
    expect.stringMatching(
      /^Of the plan before the last edit, a new one is being made: The loose part "rail" is 1\/16in/,
    ),
  );
  await expect.poll(() => states.slice(-2).map(({ state }) => state)).toEqual(['planning', 'current']);
  expect(client.errors).toEqual([]);
  expect(await client.shutDown()).toBe(0);
});

it('are told to be none once the folder that they were of is taken out', async () => {
  const folder = folderWith({ 'project.closet': closet });
  made.push(folder);
  const states: { state: string; text: string }[] = [];
  const client = await startClient(
    folder.path,
    { workspace: { workspaceFolders: true } },
    {
      initializationOptions: { planStatus: true },
      onNotification: { 'storypole/planStatus': (status) => states.push(status as (typeof states)[number]) },
    },
  );
  await expect.poll(() => states.at(-1)?.state, { timeout: 10_000 }).toBe('current');
  await client.connection.sendNotification('workspace/didChangeWorkspaceFolders', {
    event: { added: [], removed: [{ uri: uriOf(folder.path), name: 'own' }] },
  });
  await expect.poll(() => states.at(-1), { timeout: 10_000 }).toEqual({ state: 'none', text: '' });
  await client.shutDown();
});

it('offer the count that would do, once the plan is known', async () => {
  const { client, uri } = await opened(closet);
  await client.until(() => told(client.diagnostics(uri)).some((t) => t.endsWith('stock-short')));
  const [line, character] = place('stock oak');
  const at = { line, character };
  const asked = () =>
    client.connection.sendRequest<CodeAction[]>('textDocument/codeAction', {
      textDocument: { uri },
      range: { start: at, end: at },
      context: { diagnostics: [], only: ['quickfix'] },
    });
  // Offered for what the current plan finds; while another is made, nothing is.
  let actions = await asked();
  for (let tries = 0; actions.length === 0 && tries < 50; tries++) {
    await new Promise((resolve) => setTimeout(resolve, 100));
    actions = await asked();
  }
  expect(actions.map(({ title, isPreferred }) => [title, isPreferred])).toEqual([
    ['Write count 3 of 96in instead of 2, if they can be had', false],
  ]);
  expect(actions[0]?.edit?.changes?.[uri]?.map(({ newText }) => newText)).toEqual(['3']);
  await client.shutDown();
});
