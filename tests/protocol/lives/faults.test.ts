/** A fault of ours that nobody caught: told with what was asked, survived once, and not survived for ever. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, expect, it } from 'vitest';
import { endRaw, folder, type Raw, startedRaw, stillWorks, textDocument, uri } from './raw.ts';

afterEach(endRaw);
afterAll(folder.remove);

/** A server with a fault in it that comes when it is sent a signal. */
function faulty(fault: string): Promise<Raw> {
  const file = join(folder.path, 'fault.cjs');
  writeFileSync(file, `process.on('SIGUSR2', () => { ${fault} });\n`);
  return startedRaw({ args: ['-r', file] });
}

it.each([
  ['thrown', "setImmediate(() => { throw new Error('a shelf too many'); });"],
  ['rejected', "void Promise.reject(new Error('a shelf too many'));"],
  ['without words', 'void Promise.reject(undefined);'],
])('%s: it says what was asked, and goes on', async (name, fault) => {
  const raw = await faulty(fault);
  await raw.ask('textDocument/hover', { textDocument, position: { line: 0, character: 7 } });
  raw.process.kill('SIGUSR2');
  await raw.until(() => raw.stderr().includes('A fault that nobody caught'));
  expect(raw.stderr()).toContain(`after textDocument/hover of ${uri}`);
  if (name !== 'without words') expect(raw.stderr()).toContain('a shelf too many');
  await raw.until(() => raw.got.some(({ method }) => method === 'window/logMessage'));
  await stillWorks(raw);
});

it('again and again: it ends, says so, and with a status that is not 0', async () => {
  const raw = await faulty("setInterval(() => { throw new Error('a shelf too many'); }, 1);");
  raw.process.kill('SIGUSR2');
  expect(await raw.status).toBe(1);
  expect(raw.stderr()).toContain('the server ends');
});
