/** What is looked at is told of before the rest of the project has been gone through. */
import { join } from 'node:path';
import { afterAll, afterEach, expect, it } from 'vitest';
import { limits } from '../../server/model/limits.ts';
import { endAll, folderWith, startClient, told, uriOf } from './client.ts';

const shared = `project "Quarry Lane" { show inches }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft unlimited }
template linen {
  parameter width: length from 30in to 60in
  wall back { length width; height 96in }
  zone main on back { width fill; shelf top { at 72in; board white-12 } }
}
`;
const units = (name: string, count: number): string =>
  Array.from({ length: count }, (_, i) => `unit ${name}-${i} linen { width ${31 + i / 64}in }\n`).join('');

const folder = folderWith({
  'shared.closet': shared,
  'looked-at.closet': units('a', 1),
  'others.closet': units('b', 1200),
});
const [sharedUri, lookedAt, others] = ['shared', 'looked-at', 'others'].map((name) =>
  uriOf(join(folder.path, `${name}.closet`)),
) as [string, string, string];
afterEach(endAll);
afterAll(folder.remove);

it('an open file of units shows what an edit of their template makes of them first', async () => {
  const client = await startClient(folder.path);
  await client.open(sharedUri, shared);
  await client.open(lookedAt, units('a', 1));
  await client.until(() => client.published.some(({ uri, version }) => uri === sharedUri && version === 1));
  const before = client.published.length;
  await client.change(sharedUri, 2, [{ from: [4, 12], to: [4, 17], text: 'breadth' }]);
  await client.until(() => (client.diagnostics(others)?.length ?? 0) >= limits.mostShown.most);
  const since = client.published.slice(before);
  const order = since.map(({ uri }) => uri);
  expect(order[0]).toBe(lookedAt);
  expect(told(since[0]?.diagnostics)).toEqual(['1:18-23 error name-not-known']);
  expect(order.indexOf(sharedUri)).toBeGreaterThan(0);
  // It is the last word on it, too.
  expect(told(client.diagnostics(lookedAt))).toEqual(told(since[0]?.diagnostics));
  expect(client.errors).toEqual([]);
  await client.shutDown();
});

it('who types without a pause where a thousand units rest on it is told meanwhile of what he types', async () => {
  const client = await startClient(folder.path);
  await client.open(sharedUri, shared);
  await client.until(() => client.published.some(({ uri, version }) => uri === sharedUri && version === 1));
  let version = 2;
  await client.change(sharedUri, version, [{ from: [6, 15], to: [6, 19], text: 'bakc' }]);
  // A digit is typed and taken back, so fast that the units are never done between two keys.
  const column = shared.split('\n')[6]?.indexOf('2in') ?? -1;
  for (let key = 0; key < 400 && !client.diagnostics(sharedUri)?.length; key++) {
    version++;
    const typed = key % 2 === 0;
    await client.change(sharedUri, version, [
      { from: [6, column], to: [6, typed ? column : column + 1], text: typed ? '1' : '' },
    ]);
    await new Promise((go) => setTimeout(go, 15));
  }
  const meanwhile = client.published.findLast(({ uri }) => uri === sharedUri);
  expect(told(meanwhile?.diagnostics)).toContain('7:16-20 error name-not-known');
  // Units may say another thing now, so it is not what is to be said of this version.
  expect(meanwhile?.version).toBeUndefined();
  // Then he stops.
  await client.until(() => client.published.some((one) => one.uri === sharedUri && one.version === version));
  expect(told(client.diagnostics(sharedUri))).toContain('7:16-20 error name-not-known');
  expect(client.errors).toEqual([]);
  await client.shutDown();
});
