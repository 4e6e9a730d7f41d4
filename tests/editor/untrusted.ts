/**
 * The extension in a folder that nobody has said to trust: what reads works, what writes is off and says so, and all of it
 * is on once the folder is trusted. A suite inside VS Code is always trusted, so this one looks from outside.
 *
 *   npm run test:editor-untrusted [-- PICTURES]
 */
import assert from 'node:assert/strict';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { where } from './keyboard.ts';
import { pageShows } from './page-shows.ts';
import { personAt } from './person.ts';
import { startWorkbench } from './workbench.ts';

const root = path.resolve(import.meta.dirname, '../..');
const work = mkdtempSync(path.join(tmpdir(), 'storypole-untrusted-'));
const pictures = process.argv[2] ?? path.join(work, 'pictures');
mkdirSync(pictures, { recursive: true });

/** The folder, with a package above it. */
const folder = path.join(work, 'job');
cpSync(path.join(root, 'examples/quarry-lane'), folder, { recursive: true });
mkdirSync(path.join(work, 'node_modules/trade'), { recursive: true });
writeFileSync(path.join(work, 'node_modules/trade/a.closet'), 'board oak { depth 12in; thickness 3/4in }\n');
const evil = 'A [link](command:workbench.action.quit), ![a picture](https://evil.test/a.png), <b>bold</b>';
writeFileSync(
  path.join(folder, 'other.closet'),
  `use "trade" as trade\n/// ${evil}\nboard mine { depth 12in; thickness 3/4in }\n`,
);

const workbench = await startWorkbench({ folder, extension: root, asksForTrust: true });
const asked: string[] = [];
try {
  const { page } = workbench;
  page.on('request', (request) => asked.push(request.url()));
  await page.goto(workbench.address, { timeout: 120_000 });
  const person = personAt(page, pictures);
  const shows = pageShows(page, pictures);
  // A page asks nothing when it opens a folder: it is not trusted until somebody says so.
  await shows(where.status, (texts) => texts.some((text) => text.includes('Restricted Mode')), 60_000);
  await page.locator('.explorer-folders-view .monaco-list-row').first().waitFor();

  await person.openFile('linen.closet');
  await shows(where.lenses, (texts) => texts.some((text) => /used by 24 units/.test(text)));
  await person.hover('shelf top');
  await shows(where.hover, (texts) => texts.some((text) => /Cut 35-5\/16in to 38in of white-16/.test(text)));
  await person.keys('Escape');
  process.stdout.write('ok      files are read, checked, and told of on hover\n');

  await person.command('Storypole: Show the drawing beside');
  await shows('#title', (texts) => texts.some((text) => text.includes('linen')));
  process.stdout.write('ok      the drawing is drawn\n');

  for (const [command, what] of [
    ['Storypole: New closet project…', 'Beginning a project'],
    ['Storypole: Import a survey table…', 'Importing a survey table'],
    ['Storypole: Save the drawing as SVG…', 'Saving a drawing'],
  ] as const) {
    await person.command(command);
    // Under test VS Code keeps its messages to itself until they are asked for.
    await person.command('Notifications: Show Notifications');
    await shows('.notification-list-item-message', (texts) =>
      texts.some((text) => text.startsWith(`${what} is off in Restricted Mode`)),
    );
    await person.picture(`off-${what.split(' ')[0]}`);
    await person.command('Notifications: Clear All Notifications');
    await shows('.quick-input-widget', (texts) => texts.length === 0);
    process.stdout.write(`ok      ${what.toLowerCase()} is off, and says so\n`);
  }
  await page.locator('#status\\.languageStatus').first().hover();
  await shows('.hover-language-status', (texts) => texts.some((text) => text.includes('Restricted Mode')));
  await person.picture('status');
  await person.keys('Escape');
  process.stdout.write('ok      the status bar says what is off\n');

  await person.openFile('other.closet');

  await page.locator('.squiggly-error').first().waitFor();
  await person.find('mine');
  await person.keys('Control+k', 'Control+i');
  const [told = ''] = await shows(where.hover, (texts) => texts.some((text) => text.includes('a picture')));
  assert.ok(told.includes('[link](command:workbench.action.quit)'), told);
  assert.equal(
    await page
      .locator('.monaco-hover a[data-href^="command:workbench.action.quit"], .monaco-hover img, .monaco-hover b')
      .count(),
    0,
  );
  assert.deepEqual(
    asked.filter((url) => url.includes('evil.test')),
    [],
  );
  await person.picture('hover');
  await person.keys('Escape');
  process.stdout.write('ok      a comment that would be a link, a picture and a page is words\n');

  // Trusted: it all comes without opening anything anew.
  await person.command('Workspaces: Manage Workspace Trust');
  await page.locator('.workspace-trust-editor').getByRole('button', { name: 'Trust', exact: true }).click();
  await person.openFile('other.closet');
  await page.locator('.squiggly-error').waitFor({ state: 'detached' });
  process.stdout.write('ok      once it is trusted, the package above the folder is read\n');
  await person.command('Storypole: New closet project…');
  await shows('.quick-input-widget', (texts) => texts.some((text) => text.includes('where is it to be')));
  process.stdout.write('ok      once it is trusted, a project can be begun\n');
  assert.equal(
    readFileSync(path.join(folder, 'project.closet'), 'utf8'),
    readFileSync(path.join(root, 'examples/quarry-lane/project.closet'), 'utf8'),
  );
} finally {
  await workbench.close();
  rmSync(work, { recursive: true, force: true });
}
