/**
 * Uses the extension as a person would, with keys and the pointer, and photographs what is shown.
 *
 *   npm exec -c 'node tests/editor/screenshot.ts PICTURES [FOLDER FILE HOVERED UNIT]'
 *
 * FOLDER is opened, FILE opened by its name, the first HOVERED in it is looked for and hovered, and the cut list is
 * shown of what UNIT is first found in. The pictures go into PICTURES, for somebody to look at.
 */
import { mkdirSync } from 'node:fs';
import path from 'node:path';
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
try {
  await page.goto(workbench.address);
  await page.locator('.monaco-workbench .explorer-folders-view').waitFor();
  await openFile(file);
  await picture('1-file');
  await hover(hovered);
  await picture('2-hover');
  await showCutList(unit);
  await picture('3-cut-list');
} catch (error) {
  await picture('failed');
  process.stderr.write(workbench.serverLog());
  throw error;
} finally {
  await workbench.close();
}

async function picture(name: string): Promise<void> {
  const target = path.join(pictures ?? '.', `${name}.png`);
  await page.screenshot({ path: target });
  process.stdout.write(`${target}\n`);
}

async function choose(opener: string, text: string): Promise<void> {
  await page.keyboard.press(opener);
  const input = page.locator('.quick-input-widget input[type="text"]');
  await input.waitFor();
  await input.pressSequentially(text);
  await page.locator('.quick-input-list .monaco-list-row').first().waitFor();
  await page.keyboard.press('Enter');
}

/** Opens a file by its name and waits until the language server has answered for it. */
async function openFile(name: string): Promise<void> {
  await choose('Control+p', name);
  await page.locator('.tab.active', { hasText: path.basename(name) }).waitFor();
  await page.locator('.view-line').first().waitFor();
  // Inked semantic tokens, or a quiet few seconds where there are none: the server has had its time.
  await page.waitForTimeout(5_000);
}

/** Looks for a text in the file, which leaves the cursor there, and scrolls to it. */
async function find(text: string): Promise<void> {
  await page.keyboard.press('Control+Home');
  await page.keyboard.press('Control+f');
  const input = page.locator('.find-widget.visible textarea').first();
  await input.waitFor();
  await input.fill(text);
  await page.keyboard.press('Enter');
  await page.keyboard.press('Escape');
  await page.locator('.find-widget.visible').waitFor({ state: 'detached' });
}

async function hover(text: string): Promise<void> {
  await find(text);
  // What was found is selected, and the selection is drawn as a box of its own.
  const box = await page.locator('.selected-text').first().boundingBox();
  if (box === null) throw new Error(`${text} is not on the screen`);
  await page.mouse.move(box.x + 12, box.y + box.height / 2, { steps: 4 });
  await page.locator('.monaco-hover:not(.hidden) .hover-contents').first().waitFor();
  await page.waitForTimeout(500);
}

async function showCutList(of: string): Promise<void> {
  await find(of);
  await choose('F1', 'Storypole: Show the cut list');
  await page.locator('.editor-group-container').nth(1).locator('.view-line').first().waitFor();
  await page.waitForTimeout(1_000);
}
