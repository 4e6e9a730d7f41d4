#!/usr/bin/env node
/**
 * Stands where a downloaded VS Code would: takes the command line that @vscode/test-electron gives one,
 * runs the suite in the VS Code server shown in headless Chromium, and ends with the suite's status.
 */
import { parseArgs } from 'node:util';
import { offerHands } from './hands.ts';
import { startWorkbench } from './workbench.ts';

/** Seconds for the whole run, start included. */
const limit = Number(process.env.STORYPOLE_EDITOR_LIMIT ?? 600);

const { values, positionals } = parseArgs({
  strict: false,
  allowPositionals: true,
  options: { extensionDevelopmentPath: { type: 'string' }, extensionTestsPath: { type: 'string' } },
});
const { extensionDevelopmentPath: extension, extensionTestsPath: suite } = values;
const [folder] = positionals;
if (typeof extension !== 'string' || typeof suite !== 'string' || folder === undefined) {
  throw new Error('host: FOLDER, --extensionDevelopmentPath= and --extensionTestsPath= are needed');
}

const hands = await offerHands();
// The suite finds it in its surroundings, which it has from the server, which has them from here.
process.env.STORYPOLE_SUITE_HANDS = hands.address;
const workbench = await startWorkbench({ folder, extension, suite });
try {
  hands.use(workbench.page);
  process.exitCode = await suiteStatus();
} finally {
  hands.close();
  await workbench.close();
}

/** Opens VS Code and waits for the suite: 0 when it passed, 1 when it failed, 2 when it did not end in time. */
async function suiteStatus(): Promise<number> {
  const { page, address, serverLog } = workbench;
  const ended = Promise.withResolvers<number>();
  await page.exposeFunction('codeAutomationLog', (type: string, args: unknown[]) => {
    const stream = type === 'error' ? process.stderr : process.stdout;
    stream.write(`${args.map(String).join(' ')}\n`);
  });
  await page.exposeFunction('codeAutomationExit', (code: number) => ended.resolve(code));
  page.on('crash', () => ended.reject(new Error('the page with VS Code crashed')));
  const timer = setTimeout(() => {
    process.stderr.write(`The suite did not end within ${limit} s. The server printed:\n${serverLog()}`);
    ended.resolve(2);
  }, limit * 1000);
  try {
    await page.goto(address, { timeout: 120_000 });
    return await ended.promise;
  } finally {
    clearTimeout(timer);
  }
}
