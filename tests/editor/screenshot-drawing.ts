/**
 * Shows the drawing beside a text in several colour themes, as a person would, and photographs it.
 *
 *   npm exec -c 'node tests/editor/screenshot-drawing.ts PICTURES [FOLDER FILE AT [VIEW] [THEME...]]'
 *
 * FOLDER is opened, FILE by its name, and the cursor put where AT is first found. The pictures go into PICTURES, for
 * somebody to look at: as the panel opens, with the keyboard on a part, the view named VIEW, magnified.
 */
import { mkdirSync } from 'node:fs';
import path from 'node:path';
import type { Frame, Page } from 'playwright-core';
import { personAt } from './person.ts';
import { startWorkbench } from './workbench.ts';

const root = path.resolve(import.meta.dirname, '../..');
const [
  pictures,
  folder = path.join(root, 'examples/quarry-lane'),
  file = 'reach-in.closet',
  at = 'shelf low',
  view = 'plan',
  ...themes
] = process.argv.slice(2);
if (pictures === undefined) {
  process.stderr.write('screenshot-drawing: PICTURES [FOLDER FILE AT [VIEW] [THEME...]]\n');
  process.exit(2);
}
mkdirSync(pictures, { recursive: true });
const usual = ['Default Light Modern', 'Default Dark Modern', 'Default High Contrast'];
for (const theme of themes.length > 0 ? themes : usual) await photograph(theme);

async function photograph(theme: string): Promise<void> {
  const workbench = await startWorkbench({
    folder: path.resolve(folder),
    extension: root,
    settings: { 'workbench.colorTheme': theme, 'window.autoDetectHighContrast': false },
  });
  const { page } = workbench;
  page.setDefaultTimeout(30_000);
  const person = personAt(page, pictures ?? '.', `${theme.replaceAll(' ', '-').toLowerCase()}-`);
  try {
    await page.goto(workbench.address, { timeout: 120_000 });
    await page.locator('.monaco-workbench .explorer-folders-view').waitFor();
    await person.openFile(file);
    await page.keyboard.press('Control+b');
    await person.find(at);
    await person.command('Storypole: Show the drawing beside');
    const frame = await drawingIn(page);
    await frame.locator('#sheet svg').waitFor();
    await person.picture('1-opened');
    await frame.locator('#sheet').focus();
    for (let i = 0; i < 4; i++) await page.keyboard.press('Tab');
    await person.picture('2-key');
    await frame.locator('#view').selectOption(view);
    await person.picture('3-view');
    await frame.locator('#view').selectOption('');
    await frame.locator('#sheet').focus();
    for (let i = 0; i < 4; i++) await page.keyboard.press('+');
    await person.picture('4-near');
    // VS Code keeps what a page has told it a few seconds later, and says nothing of it.
    await page.waitForTimeout(6_000);
    // A window that is loaded again has the drawing again, as near as it was.
    await page.reload();
    const again = await drawingIn(page);
    await again.locator('#sheet svg').waitFor({ timeout: 60_000 });
    await person.picture('5-reloaded');
  } catch (error) {
    await person.picture('failed');
    process.stderr.write(workbench.serverLog());
    throw error;
  } finally {
    await workbench.close();
  }
}

/** The page of the drawing stands in a frame within a frame. */
async function drawingIn(page: Page): Promise<Frame> {
  for (const until = Date.now() + 30_000; Date.now() < until; ) {
    for (const frame of page.frames())
      if (
        (await frame
          .locator('#sheet')
          .count()
          .catch(() => 0)) > 0
      )
        return frame;
    await page.waitForTimeout(100);
  }
  throw new Error('no drawing was shown');
}
