/** A workspace that nobody has said to trust: the server reads what is in its folders, and nothing else. */
import { mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { endAll, folderWith, startClient, told, uriOf } from './client.ts';

afterAll(endAll);

const secret = 'board secret-board { depth 12in; thickness 3/4in }\n';
const main = `project "Quarry Lane" { currency EUR }
use "trade" as trade
use "linked" as linked
template t { board trade.secret-board; wall back { length 48in; height 96in } }
unit u-1 t
`;

async function opened(withinFolders: boolean): Promise<string[]> {
  const folder = folderWith({
    'node_modules/trade/a.closet': secret,
    'outside/b.closet': secret,
    'job/main.closet': main,
    'job/inside.closet': 'board own { depth 12in; thickness 3/4in }\n',
  });
  mkdirSync(join(folder.path, 'job', 'sub'));
  symlinkSync(join(folder.path, 'outside'), join(folder.path, 'job', 'linked'));
  const client = await startClient(join(folder.path, 'job'), undefined, { initializationOptions: { withinFolders } });
  const uri = uriOf(join(folder.path, 'job/main.closet'));
  await client.open(uri, main);
  await client.until(() => client.diagnostics(uri) !== undefined);
  const names = (await client.connection.sendRequest('workspace/symbol', { query: '' })) as { name: string }[];
  const said = client.diagnostics(uri) ?? [];
  await client.shutDown();
  folder.remove();
  return [
    ...told(said).filter((one) => one.includes('use-')),
    ...said.flatMap(({ code, message }) => (code === 'use-not-found' ? [String(message)] : [])),
    `inside: ${names.some(({ name }) => name === 'own')}`,
  ];
}

describe('a workspace', () => {
  it('that is trusted uses the packages that are installed above it', async () => {
    const said = await opened(false);
    expect(said.some((one) => one.startsWith('2:'))).toBe(false);
    expect(said).toContain('inside: true');
  });

  it('that is not reads no package above it and follows no link out of it, and says so', async () => {
    const said = await opened(true);
    expect(said.filter((one) => / error use-not-found$/.test(one)).map((one) => one.split(':')[0])).toEqual(['2', '3']);
    expect(said.some((one) => /"trade" in the folders that are open.*not trusted/.test(one))).toBe(true);
    expect(said).toContain('inside: true');
  });
});
