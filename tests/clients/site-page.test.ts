/** The page for the site in a browser without a network: boxes, notes, what is handed back, and that names run nothing. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parse } from 'csv-parse/sync';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { building } from '../bench/building.ts';
import { root, storypole } from '../cli/command.ts';
import { projectOf } from '../sheets/export/exports.ts';
import { browser } from './installed.ts';

const folder = mkdtempSync(join(tmpdir(), 'storypole-site-'));
const lane = 'examples/quarry-lane';

function made(name: string, ...words: string[]): string {
  const out = join(folder, name);
  const run = storypole(['export', ...words, '--out', out, '--replace'], root);
  expect([run.status === 2, run.out]).toEqual([false, `Made 1 file: ${out}.\n`]);
  return pathToFileURL(out).href;
}

/** What a page asked for beside its own file, what it complained of, and dialogs that it opened. */
interface Watched {
  readonly page: Page;
  readonly told: string[];
}

describe.skipIf(browser.missing)(`the page for the site: ${browser.title}`, () => {
  let running: Browser;
  let context: BrowserContext;
  beforeAll(async () => {
    running = await chromium.launch({ executablePath: browser.program, args: ['--no-sandbox', '--disable-gpu'] });
    context = await running.newContext({ viewport: { width: 390, height: 844 }, acceptDownloads: true });
  });
  afterAll(async () => {
    await running?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  async function opened(address: string, within = context): Promise<Watched> {
    const page = await within.newPage();
    const told: string[] = [];
    const own = address.split('#')[0];
    page.on('request', (request) => {
      if (request.url().split('#')[0] !== own && !request.url().startsWith('blob:'))
        told.push(`asked for ${request.url()}`);
    });
    page.on('console', (message) => told.push(`said ${message.text()}`));
    page.on('pageerror', (error) => told.push(`failed ${error.message}`));
    page.on('dialog', (dialog) => {
      told.push(`opened ${dialog.message()}`);
      void dialog.accept();
    });
    await page.goto(address);
    return { page, told };
  }

  async function saved(page: Page, button: string): Promise<Record<string, string>[]> {
    const [download] = await Promise.all([page.waitForEvent('download'), page.click(button)]);
    return parse(readFileSync(await download.path(), 'utf8'), { columns: true });
  }

  it('keeps what is ticked and noted, by unit, and hands it back', async () => {
    const address = made('lane.html', lane);
    const { page, told } = await opened(`${address}#A-101-bedroom`);
    await page.waitForSelector('#sheet svg');
    const box = page.locator('#cuts input').first();
    await box.check();
    await page.fill('[data-note="length back 1"]', '96 3/16');
    await page.fill('[data-note="length back 3"]', '95.9 x');
    await page.locator('[data-note="length back 3"]').blur();
    expect(await page.locator('.wrong:visible').textContent()).toContain('"95.9 x" is no length.');
    await page.locator('#checks input[type=text]').first().fill('=84in, out by 1/8');
    await page.locator('#checks input[type=text]').first().blur();
    await page.reload();
    await page.waitForSelector('#sheet svg');
    expect(await page.locator('#cuts input').first().isChecked()).toBe(true);
    expect(await page.locator('#cuts input').nth(1).isChecked()).toBe(false);
    expect(await page.inputValue('[data-note="length back 1"]')).toBe('96 3/16');
    // Another unit knows nothing of it.
    await page.click('#back');
    await page.fill('#search', 'a-102 bedroom');
    expect(await page.locator('#floors li:visible').count()).toBe(1);
    await page.click('#floors li:visible a');
    await page.waitForSelector('#sheet svg');
    expect(await page.textContent('h1#name')).toBe('A-102-bedroom');
    expect(await page.locator('#cuts input').first().isChecked()).toBe(false);
    // What is handed back is of all units; the heights that stood there count with the lengths.
    expect(await saved(page, '#save-survey')).toEqual([
      { unit: 'A-101-bedroom', wall: 'back', height: '6in', length: '96-3/16in' },
    ]);
    expect((await saved(page, '#save-checks')).map(({ unit, found }) => [unit, found])).toEqual([
      ['A-101-bedroom', "'=84in, out by 1/8"],
    ]);
    await page.click('#write-survey');
    const written = await page.inputValue('#surveys');
    const templates = ['project', 'materials', 'stock', 'garments', 'hardware', 'templates/reach-in'].map((name) =>
      readFileSync(join(root, lane, `${name}.closet`), 'utf8'),
    );
    const project = projectOf(`${templates.join('\n')}\nunit A-101-bedroom reach-in { width 96-1/4in }\n${written}`);
    const walls = [...project.units()][0]?.resolved?.layout.walls ?? [];
    // 96-3/16 in are 97726500 ticks.
    expect(walls.find(({ name }) => name === 'back')?.readings.map(({ length }) => length)).toEqual([97_726_500]);
    expect(told).toEqual([]);
    await page.goto(`${address}#A-101-bedroom`);
    await page.waitForSelector('#sheet svg');
    await page.click('#clear');
    await page.reload();
    await page.waitForSelector('#sheet svg');
    expect(await page.locator('#cuts input').first().isChecked()).toBe(false);
    expect(told).toEqual(['opened Forget what was ticked and noted of A-101-bedroom?']);
    await page.close();
  });

  it('is read at arm’s length, with a thumb, and with keys alone', async () => {
    const { page, told } = await opened(made('one.html', lane, '--unit', 'A-101-bedroom'));
    const small = await page.evaluate(`(() => {
      const seen = [];
      for (const of of document.querySelectorAll('body *')) {
        if (!of.checkVisibility() || of.closest('svg, script, noscript')) continue;
        if ([...of.childNodes].some((n) => n.nodeType === 3 && n.data.trim()) && parseFloat(getComputedStyle(of).fontSize) < 17)
          seen.push('letters of ' + of.tagName + ' ' + of.textContent.slice(0, 20));
        if (of.matches('button, a, input:not([type=checkbox]), textarea, label.row') && of.getBoundingClientRect().height < 44)
          seen.push('height of ' + of.tagName + ' ' + of.textContent.slice(0, 20));
      }
      for (const text of document.querySelectorAll('svg text')) {
        const scale = text.getScreenCTM().a || Math.abs(text.getScreenCTM().b);
        if (parseFloat(text.getAttribute('font-size')) * scale < 16) seen.push('letters of drawing ' + text.textContent);
      }
      if (document.documentElement.scrollWidth > innerWidth) seen.push('wider than the screen');
      return seen;
    })()`);
    expect(small).toEqual([]);
    const nameless = await page.evaluate(`[...document.querySelectorAll('input, button, textarea, [tabindex="0"]')]
      .filter((of) => !(of.labels?.length || of.getAttribute('aria-label') || of.textContent.trim())).length`);
    expect(nameless).toBe(0);
    // Headings go down a level at a time.
    const levels: number[] = await page.evaluate(
      `[...document.querySelectorAll('h1, h2, h3, h4')].filter((h) => h.checkVisibility()).map((h) => Number(h.tagName[1]))`,
    );
    expect(levels[0]).toBe(1);
    levels.slice(1).forEach((level, i) => {
      expect(level - (levels[i] ?? 0)).toBeLessThan(2);
    });
    await page.locator('#cuts input').first().focus();
    await page.keyboard.press('Space');
    expect(await page.locator('#cuts input').first().isChecked()).toBe(true);
    await page.keyboard.press('Tab');
    expect(await page.evaluate('getComputedStyle(document.activeElement).outlineStyle')).not.toBe('none');
    expect(told).toEqual([]);
    await page.close();
  });

  it('runs nothing that a name says, and works where storage is refused', async () => {
    const evil = '</script><script>alert(1)</script><img src=x onerror=alert(2)>';
    const texts = (more: string) => `project "${evil}" { currency EUR }
board white-12 { depth 12in; thickness 3/4in }
hardware h { is support; spacing at most 24in; screws "${evil}" count 2 into wall }
template t { board white-12; carried by h
  wall back { length 36in; height 96in }
  zone main on back { width fill; shelf top { at 72in } } }
unit a t { floor 1 }
${more}`;
    for (const more of ['', 'unit b t { floor 1 }\n']) {
      const file = join(folder, 'evil.closet');
      writeFileSync(file, texts(more));
      const refusing = await running.newContext();
      await refusing.addInitScript(
        `Object.defineProperty(window, 'localStorage', { get() { throw new Error('refused'); } })`,
      );
      const { page, told } = await opened(`${made('evil.html', file)}#a`, refusing);
      await page.waitForSelector('#sheet svg');
      expect(await page.textContent('body')).toContain(evil);
      expect(await page.locator('#no-storage').isVisible()).toBe(true);
      expect(await page.locator('img, #sheet script').count()).toBe(0);
      await page.locator('#cuts input').first().check();
      await page.locator('[data-note^="length back 1"]').fill('36');
      await page.locator('[data-note^="length back 1"]').blur();
      expect(await saved(page, '#save-survey')).toEqual([{ unit: 'a', wall: 'back', height: '6in', length: '36in' }]);
      expect(told).toEqual([]);
      await refusing.close();
    }
  });

  it('of 1,000 units opens, searches and draws in reasonable time', async () => {
    const file = join(folder, 'building.closet');
    writeFileSync(file, building(1000, 40));
    const address = made('building.html', file);
    const before = performance.now();
    const { page, told } = await opened(address);
    expect(await page.textContent('#count')).toBe('1000 of 1000 units');
    await page.fill('#search', 'u777');
    await page.click('#floors li:visible a');
    await page.waitForSelector('#sheet svg');
    // On a loaded machine; by itself a second or two.
    expect(performance.now() - before).toBeLessThan(20_000);
    // Only what is open is drawn.
    expect(await page.locator('svg').count()).toBeLessThan(10);
    expect(told).toEqual([]);
    await page.close();
  });
});
