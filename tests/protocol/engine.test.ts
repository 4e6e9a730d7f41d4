/** What was compiled once is not compiled at every start, however the server ends. */
import { existsSync, globSync, mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it, onTestFinished } from 'vitest';
import { endAll, startClient } from './client.ts';

afterAll(endAll);

it('keeps what was compiled once the first project has been told of, so that a server that is killed has kept it', async () => {
  const cache = mkdtempSync(join(tmpdir(), 'storypole-cache-'));
  onTestFinished(() => rmSync(cache, { recursive: true }));
  const bytes = (): number => globSync('**/*', { cwd: cache }).reduce((sum, f) => sum + sizeOf(join(cache, f)), 0);
  const client = await startClient(undefined, undefined, { env: { XDG_CACHE_HOME: cache } });
  const uri = 'file:///nowhere/a.closet';
  await client.open(uri, 'unit x nowhere {}\n');
  await client.until(() => (client.diagnostics(uri)?.length ?? 0) > 0);
  // Not while somebody waits for the first answers.
  expect(bytes()).toBe(0);
  await expect.poll(bytes, { timeout: 10_000 }).toBeGreaterThan(100_000);
  client.process.kill('SIGKILL');
});

function sizeOf(file: string): number {
  const found = existsSync(file) ? statSync(file) : undefined;
  return found?.isFile() ? found.size : 0;
}
