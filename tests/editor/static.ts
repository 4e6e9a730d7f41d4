/**
 * The extension in a VS Code that is served as plain files and runs in a page alone: used with keys, looked at, compared.
 *
 *   npm run test:editor-static [-- PICTURES]
 */
import assert from 'node:assert/strict';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { chromium, type Page } from 'playwright-core';
import { seen } from './hands.ts';
import { ensureChromium, ensureWebBuild } from './install-host.ts';
import { where } from './keyboard.ts';
import { pageShows, type Shows } from './page-shows.ts';
import { type Person, personAt } from './person.ts';
import { startStaticHost } from './static-host.ts';
import { browserArguments, quiet } from './workbench.ts';

const root = path.resolve(import.meta.dirname, '../..');
const [pictures] = process.argv.slice(2);
const work = mkdtempSync(path.join(tmpdir(), 'storypole-static-'));
if (pictures !== undefined) mkdirSync(pictures, { recursive: true });

/** Opens a file by its rows in the explorer: what is on no disk cannot be searched for by name. */
async function openFile(page: Page, file: string): Promise<void> {
  await page.keyboard.press('Control+Shift+e');
  const row = (name: string) => page.locator('.explorer-folders-view .monaco-list-row', { hasText: name }).first();
  const [name = '', ...folders] = file.split('/').toReversed();
  for (const folder of folders.toReversed()) {
    await row(folder).waitFor();
    if ((await row(folder).getAttribute('aria-expanded')) !== 'true') await row(folder).click();
  }
  await row(name).dblclick();
  await page.locator('.tab.active', { hasText: name }).waitFor();
  await page.locator('.view-line').first().waitFor();
}

const shows = (page: Page, ...what: Parameters<Shows>): Promise<string[]> => pageShows(page)(...what);

type Check = readonly [name: string, body: (person: Person, page: Page) => Promise<void>];

const checks: readonly Check[] = [
  [
    'a template is read with the files that it names, which are on no disk',
    async (_, page) => {
      await openFile(page, 'templates/linen.closet');
      await shows(page, where.lenses, (texts) => texts.some((text) => /used by 24 units/.test(text)));
      assert.deepEqual(await seen(page, '.squiggly-error'), []);
    },
  ],
  [
    'hovering a shelf tells its cut length',
    async (person, page) => {
      await openFile(page, 'templates/linen.closet');
      await person.hover('shelf top');
      await shows(page, where.hover, (texts) => texts.some((text) => /Cut 35-5\/16in to 38in of white-16/.test(text)));
      await person.keys('Escape');
    },
  ],
  [
    'a mistake is told of, and its fix mends it',
    async (person, page) => {
      await openFile(page, 'templates/linen.closet');
      await person.find('at 78in');
      await page.keyboard.type('at 78');
      await shows(page, where.status, (texts) => texts.some((text) => /^linen · 24 units · 1 error/.test(text.trim())));
      await person.keys('ArrowLeft', 'Control+Period');
      await shows(page, where.actions, (texts) => texts.some((text) => text.includes('Write 78in')));
      await person.keys('Enter');
      await shows(page, where.status, (texts) =>
        texts.some((text) => /^linen · 24 units(?!.*error)/.test(text.trim())),
      );
      assert.ok((await seen(page, where.lines)).some((line) => line.includes('78in }')));
      await person.keys('Control+s');
      await shows(page, '.tab.active.dirty', (tabs) => tabs.length === 0);
    },
  ],
  [
    'a unit is gone to by a part of its name, in the whole building',
    async (person, page) => {
      await person.keys('Shift+Alt+U');
      await shows(page, where.choices, (rows) => rows.length > 5);
      await page.keyboard.type('A-203-bed');
      await shows(page, where.choices, (rows) => rows.length === 1);
      await person.keys('Enter');
      await shows(page, '.tab.active', (tabs) => tabs.some((tab) => tab.includes('floor-2.closet')));
    },
  ],
  [
    'the cutting plan is made in a worker of the page',
    async (_, page) => {
      await shows(page, where.lenses, (texts) => texts.some((text) => /^15 parts: about .* EUR/.test(text)));
    },
  ],
  [
    'the cut list stands beside the text',
    async (person, page) => {
      await person.keys('Shift+Alt+L');
      await shows(page, '.tab', (tabs) => tabs.some((tab) => tab.includes('Cut list of A-203-bedroom')));
      await shows(page, where.lines, (lines) => lines.some((line) => /22-1\/2in/.test(line)));
      await person.command('View: Close All Editors');
    },
  ],
  [
    'the project view shows the building',
    async (person, page) => {
      await person.command('Storypole: Focus on Project View');
      await shows(page, where.tree, (rows) => rows.some((row) => /Stock.*EUR/s.test(row)));
    },
  ],
  [
    'a finding is explained on the page of its rule',
    async (person, page) => {
      await openFile(page, 'templates/accessible-reach-in.closet');
      await person.find('width 48in');
      await person.keys('ArrowLeft');
      await shows(page, where.status, (texts) => texts.some((text) => /accessible-reach-in ·.*note/.test(text)));
      await person.keys('Shift+Alt+W');
      await shows(page, '.tab', (tabs) => tabs.some((tab) => /Preview .+\.md/.test(tab)));
    },
  ],
];

const host = await startStaticHost({ vscode: ensureWebBuild(), root, work, settings: quiet });
const browser = await chromium.launch({ executablePath: ensureChromium(), args: browserArguments });
let failed = 0;
try {
  const page = await browser.newPage({ viewport: { width: 1400, height: 900 } });
  const printed: string[] = [];
  page.on('console', (message) => printed.push(message.text()));
  page.setDefaultTimeout(30_000);
  const person = personAt(page, pictures ?? work, 'static-');
  await page.goto(host.address, { timeout: 120_000 });
  await page.locator('.monaco-workbench .explorer-folders-view .monaco-list-row').first().waitFor({ timeout: 120_000 });
  for (const [index, [name, check]] of checks.entries()) {
    try {
      await check(person, page);
      process.stdout.write(`ok      ${name}\n`);
    } catch (error) {
      failed += 1;
      await person.keys('Escape', 'Escape');
      process.stdout.write(`FAILED  ${name}\n${error instanceof Error ? error.message : String(error)}\n`);
    }
    if (pictures !== undefined) await person.picture(String(index + 1));
  }
  if (failed > 0) process.stdout.write(`The page printed:\n${printed.join('\n')}\n`);
} finally {
  await browser.close();
  host.close();
  rmSync(work, { recursive: true, force: true });
}
process.stdout.write(`${checks.length - failed} passed, ${failed} failed\n`);
process.exitCode = failed === 0 ? 0 : 1;
