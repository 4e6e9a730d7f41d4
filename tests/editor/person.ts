/** What a person does in VS Code, in a page: open, look for, point at, choose, photograph. */
import { writeFileSync } from 'node:fs';
import path from 'node:path';
import type { Page } from 'playwright-core';

export interface Person {
  /** Opens a file by its name and waits until the language server has answered for it. */
  openFile(name: string): Promise<void>;
  /** Looks for a text in the file, which leaves it selected, and scrolls to it. */
  find(text: string): Promise<void>;
  /** Points at a text that `find` would find, and waits for what is told. */
  hover(text: string): Promise<void>;
  /** Types into a quick pick that a key opens, and takes the first choice. */
  choose(opener: string, text: string): Promise<void>;
  command(title: string): Promise<void>;
  /** Opens the menu of what can be done at the cursor by its key. */
  actions(key: string): Promise<void>;
  keys(...keys: string[]): Promise<void>;
  /** A photograph of the page once it stands still. */
  picture(name: string): Promise<void>;
}

/** Somebody at a page. Pictures go into a folder, and their names are printed. */
export function personAt(page: Page, pictures: string, prefix = ''): Person {
  async function choose(opener: string, text: string): Promise<void> {
    const input = page.locator('.quick-input-widget input[type="text"]');
    const sought = page.locator('.quick-input-list .monaco-list-row.focused', { hasText: path.basename(text) });
    // What takes the keys meanwhile, as an editor that is being closed does, closes it. And what is there to be chosen
    // is asked for once, as it is opened: an extension that VS Code comes to read afterwards is not in that list.
    await again(
      async () => {
        await page.keyboard.press(opener);
        await input.waitFor({ timeout: 3_000 });
        await input.pressSequentially(text);
        // The list comes after the typing, and its first row is then another one.
        await sought.waitFor({ timeout: 10_000 });
      },
      async () => {
        await page.keyboard.press('Escape');
        await input.waitFor({ state: 'hidden' });
      },
    );
    await page.keyboard.press('Enter');
  }

  async function find(text: string): Promise<void> {
    // Whatever took the keys before, what is looked through is the text.
    await page.keyboard.press('Control+1');
    await page.keyboard.press('Control+Home');
    await page.keyboard.press('Control+f');
    const input = page.locator('.find-widget.visible textarea').first();
    await input.waitFor();
    await input.fill(text);
    await page.keyboard.press('Enter');
    await page.keyboard.press('Escape');
    await page.locator('.find-widget.visible').waitFor({ state: 'detached' });
  }

  return {
    choose,
    find,
    command: (title) => choose('F1', title),
    async openFile(name) {
      await choose('Control+p', name);
      await page.locator('.tab.active', { hasText: path.basename(name) }).waitFor();
      await page.locator('.view-line').first().waitFor();
      // What the file holds is told above it as soon as the server has answered for it.
      await page
        .locator(
          '.editor-group-container.active .breadcrumbs-control .monaco-breadcrumb-item:not(.file, .folder, .root_folder)',
        )
        .first()
        .waitFor({ timeout: longestStart });
    },
    async hover(text) {
      await find(text);
      const told = page.locator('.monaco-hover:not(.hidden) .hover-contents').first();
      // Lenses and hints that come meanwhile move the text away from under the mouse, which is then moved after it.
      await again(async () => {
        await page.mouse.move(0, 0);
        const box = await placeOfSelection(page, text);
        await page.mouse.move(box.x + 12, box.y + box.height / 2, { steps: 4 });
        await told.waitFor({ timeout: 3_000 });
      });
    },
    async actions(key) {
      const row = page.locator('.action-widget .monaco-list-row').first();
      // Findings that come meanwhile close the menu, or have it opened before there is anything in it.
      await again(async () => {
        await page.keyboard.press(key);
        await row.waitFor({ timeout: 3_000 });
      });
    },
    async keys(...keys) {
      for (const key of keys) await page.keyboard.press(key);
    },
    async picture(name) {
      const target = path.join(pictures, `${prefix}${name}.png`);
      writeFileSync(target, await still(page, name));
      process.stdout.write(`${target}\n`);
    },
  };
}

/** Does something until it has come to its end, a few times. What was left halfway is put back between two tries. */
async function again(work: () => Promise<void>, back?: () => Promise<void>): Promise<void> {
  for (let left = 4; left > 0; left--) {
    try {
      return await work();
    } catch {
      await back?.();
    }
  }
  return work();
}

/** The first file is answered for once the server has started, and has read the project. */
const longestStart = 60_000;

/** What was found is selected, and the selection is drawn as a box of its own: where that stays, once all has scrolled. */
async function placeOfSelection(page: Page, text: string): Promise<{ x: number; y: number; height: number }> {
  const selection = page.locator('.selected-text').first();
  await selection.waitFor();
  for (let last = '', tries = 0; tries < 100; tries++) {
    const box = await selection.boundingBox();
    if (box === null) throw new Error(`${text} is not on the screen`);
    const now = JSON.stringify(box);
    if (now === last) return box;
    last = now;
    await page.waitForTimeout(150);
  }
  throw new Error(`${text} does not stand still`);
}

/** So many photographs one after the other show the same. */
const alike = 5;
/** Something on a page may move for ever. */
const longestWait = 20_000;

/** What a page shows once it changes no more: whatever was on its way is there. */
async function still(page: Page, name: string): Promise<Buffer> {
  const end = Date.now() + longestWait;
  let last = await page.screenshot();
  for (let same = 1; same < alike; ) {
    await page.waitForTimeout(150);
    const next = await page.screenshot();
    same = next.equals(last) ? same + 1 : 1;
    last = next;
    if (Date.now() > end) {
      process.stdout.write(`${name} does not stand still\n`);
      break;
    }
  }
  return last;
}
