/**
 * Uses the extension as a person would, with keys and the pointer, and photographs what is shown.
 *
 *   npm exec -c 'node tests/editor/screenshot.ts PICTURES [FOLDER FILE HOVERED UNIT]'
 *
 * FOLDER is opened, FILE opened by its name, the first HOVERED in it is looked for and hovered, and the cut list is
 * shown of what UNIT is first found in. The pictures go into PICTURES, for somebody to look at.
 * tests/editor/tour.ts photographs all there is, in several themes.
 */
import { mkdirSync } from 'node:fs';
import path from 'node:path';
import { personAt } from './person.ts';
import { startWorkbench } from './workbench.ts';

const root = path.resolve(import.meta.dirname, '../..');
const [pictures, folder = path.join(root, 'examples/quarry-lane'), file, hovered = 'shelf', unit = 'unit'] =
  process.argv.slice(2);
if (pictures === undefined || file === undefined) {
  process.stderr.write('screenshot: PICTURES FOLDER FILE HOVERED UNIT\n');
  process.exit(2);
}
mkdirSync(pictures, { recursive: true });

const workbench = await startWorkbench({ folder: path.resolve(folder), extension: root });
const { page } = workbench;
page.setDefaultTimeout(30_000);
const person = personAt(page, pictures);
try {
  await page.goto(workbench.address, { timeout: 120_000 });
  await page.locator('.monaco-workbench .explorer-folders-view').waitFor();
  await person.openFile(file);
  await person.picture('1-file');
  await person.hover(hovered);
  await person.picture('2-hover');
  await person.find(unit);
  await person.command('Storypole: Show the cut list');
  await page.locator('.editor-group-container').nth(1).locator('.view-line').first().waitFor();
  await person.picture('3-cut-list');
} catch (error) {
  await person.picture('failed');
  process.stderr.write(workbench.serverLog());
  throw error;
} finally {
  await workbench.close();
}
