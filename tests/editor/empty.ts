/**
 * The first look: an empty folder, the project view opened with keys before anything of the extension has run, and a
 * project begun from there. A suite inside VS Code has woken the extension, so this one looks from outside.
 *
 *   npm run test:editor-empty [-- PICTURES]
 */
import { mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { where } from './keyboard.ts';
import { pageShows } from './page-shows.ts';
import { personAt } from './person.ts';
import { startWorkbench } from './workbench.ts';

const root = path.resolve(import.meta.dirname, '../..');
const work = mkdtempSync(path.join(tmpdir(), 'storypole-empty-'));
const pictures = process.argv[2] ?? path.join(work, 'pictures');
mkdirSync(pictures, { recursive: true });
const folder = path.join(work, 'north-wing');
mkdirSync(folder);

const workbench = await startWorkbench({ folder, extension: root });
try {
  const { page } = workbench;
  await page.goto(workbench.address, { timeout: 120_000 });
  const shows = pageShows(page, pictures);
  const person = personAt(page, pictures);

  await person.command('Storypole: Focus on Project View');
  await shows('.welcome-view-content', (texts) => texts.some((text) => text.startsWith('There is no closet project')));
  await person.picture('no-project');
  process.stdout.write('ok      a folder without a project says so, and what to do\n');

  await page.locator('.welcome-view-content').getByRole('button', { name: 'New Closet Project' }).press('Enter');
  await shows(where.title, ([title]) => title === 'New closet project: where is it to be?');
  // As long as the dialog still looks for the folder, it takes no answer.
  for (let isAsked = false; !isAsked; ) {
    await person.keys('Enter');
    isAsked = await shows(where.title, ([title]) => title === 'New closet project: what is it called?', 5_000).then(
      () => true,
      () => false,
    );
  }
  await person.keys('Enter');
  await shows(where.choices, (rows) => rows.length === 2);
  await person.keys('Enter');
  await shows('.tab.active', (tabs) => tabs.some((tab) => tab.includes('.closet')));
  await shows(where.tree, (rows) => rows.some((row) => row.startsWith('north wing')));
  await shows('.welcome-view-content', (texts) => texts.every((text) => text === ''));
  await person.picture('project');
  process.stdout.write(`ok      a project was begun with keys: ${readdirSync(folder).join(', ')}\n`);

  // As on the next day: nothing has run yet, and the view is there from the start.
  await page.goto(workbench.address, { timeout: 120_000 });
  await person.command('Storypole: Focus on Project View');
  await shows(where.tree, (rows) => rows.some((row) => /^Stock.*lengths/.test(row)));
  await shows(where.treeWithKeys, (lists) => lists.length === 1);
  await person.keys('Home');
  await shows(where.treeFocus, ([row = '']) => row.startsWith('north wing'));
  await person.keys('ArrowDown');
  await shows(where.treeFocus, ([row = '']) => row.startsWith('Floors'));
  await person.keys('ArrowRight');
  await shows(where.tree, (rows) => rows.some((row) => row.startsWith('Floor 1')));
  await person.picture('keys');
  process.stdout.write('ok      the tree takes the keys the first time it is gone to\n');
} finally {
  await workbench.close();
  rmSync(work, { recursive: true, force: true });
}
