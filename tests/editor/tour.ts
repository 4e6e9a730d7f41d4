/**
 * Photographs all that the extension shows, in one theme after the other, for somebody to look at.
 *
 *   npm exec -c 'node tests/editor/tour.ts PICTURES [light dark contrast contrast-light] [-- STOP...]'
 *
 * Without themes all of them are shown; with stops only those.
 */
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { Page } from 'playwright-core';
import { type Person, personAt } from './person.ts';
import { startWorkbench } from './workbench.ts';

const root = path.resolve(import.meta.dirname, '../..');
const themes: Readonly<Record<string, string>> = {
  light: 'Light Modern',
  dark: 'Dark Modern',
  contrast: 'Default High Contrast',
  'contrast-light': 'Default High Contrast Light',
};
const given = process.argv.slice(2);
const [pictures, ...rest] = given;
const dashes = rest.indexOf('--');
const chosen = dashes < 0 ? rest : rest.slice(0, dashes);
const only = dashes < 0 ? [] : rest.slice(dashes + 1);
if (pictures === undefined || chosen.some((name) => themes[name] === undefined)) {
  process.stderr.write(`tour: PICTURES [${Object.keys(themes).join(' ')}] [-- STOP...]\n`);
  process.exit(2);
}
mkdirSync(pictures, { recursive: true });

/** A template with much to say: a number without a unit, a shelf among clothes, a name that nothing has. */
const wrong = `// With mistakes, to see what is said of them.
template small {
  parameter tower: length = 18in from 12in to 24in
  wall back { length 60in; height 96in }
  board white-12
  zone hang on back {
    width fill
    shelf top { at 84in }
    rod low { under top by 3in; for shirt }
    shelf lower { at 60 }
  }
  zone stack on back {
    width tower
    shelves row { count 5; from 12in to 72in }
    shelf extra { above rwo by 12in }
  }
}

unit A-901 small { floor 9 }
`;

type Stop = readonly [name: string, visit: (person: Person, page: Page) => Promise<void>];

/** Behind the last line, once there is room above all others for what is told of them: it moves the end out of sight. */
async function toEnd(person: Person, page: Page): Promise<void> {
  await page.locator('.codelens-decoration:visible').first().waitFor();
  await person.keys('Control+End');
}

const stops: readonly Stop[] = [
  [
    'problems',
    async (person, page) => {
      await person.openFile('wrong.closet');
      await person.keys('Control+Shift+m');
      await page.locator('.markers-panel .monaco-list-row').first().waitFor();
      await person.picture('problems');
      await person.keys('Control+j', 'Control+1');
    },
  ],
  [
    'hover-finding',
    async (person) => {
      await person.openFile('wrong.closet');
      await person.hover('60 }');
      await person.picture('hover-finding');
      await person.keys('Escape');
      await person.hover('rwo');
      await person.picture('hover-finding-2');
      await person.keys('Escape');
    },
  ],
  [
    'quick-fix',
    async (person) => {
      await person.openFile('wrong.closet');
      await person.find('60 }');
      await person.keys('ArrowLeft');
      await person.actions('Control+Period');
      await person.picture('quick-fix');
      await person.keys('Escape');
      await person.openFile('floor-1.closet');
      await person.find('unit A-102-bedroom');
      await person.keys('ArrowLeft');
      await person.actions('Control+Shift+r');
      await person.picture('refactor');
      await person.keys('Escape');
    },
  ],
  [
    'explain',
    async (person, page) => {
      await person.openFile('wrong.closet');
      await person.find('60 }');
      await person.keys('ArrowLeft', 'Shift+Alt+w');
      await page.locator('.tab', { hasText: 'Preview' }).waitFor();
      await person.picture('explain');
      await person.command('View: Close All Editors');
    },
  ],
  [
    'hover',
    async (person) => {
      await person.openFile('templates/reach-in.closet');
      await person.hover('shelf top');
      await person.picture('hover-shelf');
      await person.keys('Escape');
      await person.hover('width fill');
      await person.picture('hover-fill');
      await person.keys('Escape');
      await person.hover('white-12');
      await person.picture('hover-material');
      await person.keys('Escape');
      await person.openFile('floor-1.closet');
      await person.hover('reach-in');
      await person.picture('hover-template');
      await person.keys('Escape');
      await person.openFile('wrong.closet');
      await person.hover('A-901');
      await person.picture('hover-unread');
      await person.keys('Escape');
    },
  ],
  [
    'template',
    async (person) => {
      await person.openFile('templates/reach-in.closet');
      await person.picture('template');
      await person.openFile('floor-1.closet');
      await person.picture('units');
    },
  ],
  [
    'completion',
    async (person, page) => {
      const offered = async (name: string) => {
        await page.locator('.suggest-widget.visible .monaco-list-row').first().waitFor();
        await person.keys('Control+Space');
        await person.picture(name);
        await person.keys('Escape', 'Escape');
      };
      await person.openFile('templates/linen.closet');
      await person.find('// A laundry basket goes under it.');
      await page.keyboard.type('sh');
      await person.keys('Control+Space');
      await offered('completion-words');
      await person.command('File: Revert File');
      await person.find('shelf top { at 78in');
      await person.keys('ArrowRight', ...Array<string>(4).fill('Backspace'), 'Control+Space');
      await offered('completion-values');
      await person.command('File: Revert File');
      await person.find('width back.length');
      await person.command('View: Close All Editors');
      await person.openFile('floor-1.closet');
      await toEnd(person, page);
      await page.keyboard.type('\nunit A-190 reach-in { ');
      await person.keys('Control+Space');
      await offered('completion-unit');
      await person.command('File: Revert File');
    },
  ],
  [
    'signature',
    async (person, page) => {
      await person.openFile('floor-1.closet');
      await toEnd(person, page);
      await page.keyboard.type('\nunit A-190 reach-in { width ');
      await person.keys('Escape', 'Control+Shift+Space');
      await page.locator('.parameter-hints-widget.visible').waitFor();
      await person.picture('signature');
      await person.keys('Escape', 'Escape');
      await person.command('File: Revert File');
    },
  ],
  [
    'rename',
    async (person, page) => {
      await person.openFile('templates/linen.closet');
      await person.find('linen {');
      await person.keys('ArrowLeft', 'F2');
      await page.locator('.rename-box input').waitFor();
      await person.picture('rename-box');
      await page.keyboard.type('airing');
      await person.keys('Control+Enter');
      await page.getByRole('button', { name: 'Discard' }).first().waitFor();
      await person.picture('rename-preview');
      await page.getByRole('button', { name: 'Discard' }).first().click();
      await page.getByRole('button', { name: 'Discard' }).first().waitFor({ state: 'detached' });
      await person.keys('Control+j', 'Control+1');
    },
  ],
  [
    'tree',
    async (person, page) => {
      await person.openFile('floor-1.closet');
      await person.find('unit A-102-bedroom');
      await person.command('Storypole: Focus on Project View');
      await page.locator('.monaco-list-row.selected', { hasText: 'A-102-bedroom' }).waitFor();
      await person.picture('tree');
      await person.keys(
        'Home',
        'ArrowRight',
        'ArrowDown',
        'ArrowRight',
        'ArrowDown',
        'ArrowRight',
        'ArrowDown',
        'ArrowDown',
      );
      await person.picture('tree-units');
      // A long floor would hide what follows.
      await page.locator('.monaco-list-row', { hasText: /^Floors/ }).click();
      for (const row of [/^Findings/, /^Errors/, /^A statement/, /^Notes/])
        await page.locator('.monaco-list-row', { hasText: row }).click();
      await page.mouse.move(700, 300);
      await person.picture('tree-findings');
      await person.keys('Control+Shift+e');
    },
  ],
  [
    'status',
    async (person, page) => {
      await person.openFile('floor-1.closet');
      await person.find('unit A-102-linen');
      const item = page.locator('.statusbar-item', { hasText: 'A-102-linen' });
      await item.hover();
      await page.locator('.monaco-hover:not(.hidden)').first().waitFor();
      await person.picture('status');
      await page
        .locator('.statusbar-item[id="status.languageStatus"], .statusbar-item[id*="languageStatus"]')
        .first()
        .hover();
      await page.locator('.hover-language-status').first().waitFor();
      await person.picture('status-language');
      await page.mouse.move(700, 300);
    },
  ],
  [
    'go-to-unit',
    async (person, page) => {
      await person.openFile('floor-1.closet');
      await person.keys('Shift+Alt+u');
      await page.locator('.quick-input-list .monaco-list-row').first().waitFor();
      await person.picture('go-to-unit');
      await page.keyboard.type('203');
      await person.picture('go-to-unit-typed');
      await person.keys('Escape');
    },
  ],
  [
    'cut-list',
    async (person, page) => {
      await person.openFile('floor-1.closet');
      await person.find('unit A-102-bedroom');
      await person.keys('Shift+Alt+l');
      await page.locator('.editor-group-container').nth(1).locator('.view-line').first().waitFor();
      await person.picture('cut-list');
      await person.command('View: Close All Editors');
    },
  ],
  [
    'new-project',
    async (person, page) => {
      const title = (text: string) => page.locator('.quick-input-title', { hasText: text }).waitFor();
      await person.openFile('floor-1.closet');
      await person.command('Storypole: New closet project');
      await title('where is it to be?');
      await person.picture('new-project-1-folder');
      await person.keys('Enter');
      await title('what is it called?');
      await person.picture('new-project-2-name');
      await person.keys('Control+a', 'Backspace');
      await person.picture('new-project-2-no-name');
      await page.keyboard.type('North wing');
      await person.keys('Enter');
      await title('how is it measured?');
      await person.picture('new-project-3-measure');
      await person.keys('Enter');
      // In a page that is driven, what is told waits behind the bell.
      await page.locator('.codicon-bell-dot').waitFor();
      await person.command('Notifications: Show Notifications');
      await page.locator('.notifications-center .notification-list-item').first().waitFor();
      await person.picture('new-project-4-refused');
      await person.command('Notifications: Clear All Notifications');
    },
  ],
  [
    'walkthrough',
    async (person, page) => {
      await person.command('Welcome: Open Walkthrough');
      const choices = page.locator('.quick-input-list .monaco-list-row');
      await choices.first().waitFor();
      await page.keyboard.type('Storypole');
      await page.locator('.quick-input-list .monaco-list-row.focused', { hasText: 'Storypole' }).waitFor();
      await person.keys('Enter');
      const steps = page.locator('.getting-started-step');
      await steps.first().waitFor();
      const count = await steps.count();
      for (let i = 0; i < count; i++) {
        await steps.nth(i).click();
        await person.picture(`walkthrough-${i + 1}`);
      }
      await person.command('View: Close All Editors');
    },
  ],
  [
    'palette',
    async (person, page) => {
      await person.openFile('floor-1.closet');
      await person.keys('F1');
      await page.keyboard.type('Storypole');
      await person.picture('palette');
      await person.keys('Escape');
      await person.find('unit A-102-bedroom');
      await person.keys('Shift+F10');
      await page.locator('.monaco-menu').first().waitFor();
      await person.picture('context-menu');
      await person.keys('Escape');
    },
  ],
];

for (const [name, theme] of Object.entries(themes)) {
  if (chosen.length > 0 && !chosen.includes(name)) continue;
  const work = mkdtempSync(path.join(tmpdir(), 'storypole-tour-'));
  const folder = path.join(work, 'quarry-lane');
  cpSync(path.join(root, 'examples/quarry-lane'), folder, { recursive: true });
  writeFileSync(path.join(folder, 'wrong.closet'), wrong);
  const settings = { 'workbench.colorTheme': theme };
  const workbench = await startWorkbench({ folder, extension: root, settings });
  const { page } = workbench;
  page.setDefaultTimeout(15_000);
  const person = personAt(page, pictures, `${name}-`);
  try {
    await page.goto(workbench.address, { timeout: 120_000 });
    await page.locator('.monaco-workbench .explorer-folders-view').waitFor({ timeout: 60_000 });
    for (const [stop, visit] of stops) {
      if (only.length > 0 && !only.includes(stop)) continue;
      try {
        await visit(person, page);
      } catch (error) {
        process.exitCode = 1;
        process.stderr.write(`${stop}: ${error instanceof Error ? error.message : String(error)}\n`);
        await person.picture(`${stop}-failed`);
        await person.keys('Escape', 'Escape', 'Escape');
      }
    }
  } finally {
    await workbench.close();
    rmSync(work, { recursive: true, force: true });
  }
}
