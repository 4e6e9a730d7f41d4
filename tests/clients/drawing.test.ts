/**
 * The page of the drawing in headless Chromium, with the policy that it has in VS Code: what names in a file can do to it,
 * which is nothing, and what keys and the pointer do.
 */
import { readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join, resolve } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pageHtml } from '../../client/drawing/html.ts';
import type { DrawingShown, FromPage, ToPage } from '../../client/drawing/messages.ts';
import { drawingAt } from '../../server/language/drawing/drawing.ts';
import { slackText } from '../../server/sheets/drawing/slack.ts';
import { hostileTexts } from '../hostile.ts';
import { cursor } from '../language/marked.ts';
import { browser as found } from './installed.ts';

const dist = resolve(import.meta.dirname, '../../dist');

const template = `template t {
  board white-12
  pole chrome
  wall back { length 90in; height 96in; studs every 16in from 10in }
  zone left on back { width 40in; shelf high { at from 80in to 84in }; shelf low { at 40in }; rod r { at 38in; for long-coat } }
  zone right on back after left { width 50in; shelf top { at 72in } }
}
unit |a t
`;

/** What the extension would send for the unit at the cursor. */
function shown(marked: string, more: Partial<DrawingShown> = {}): DrawingShown {
  const { snapshot, at } = cursor(marked);
  const drawn = drawingAt(snapshot, at);
  if (!drawn) throw new Error('nothing is drawn');
  const { show } = snapshot.project.settings;
  const { sheet, slack, problem, banner, view, ...rest } = drawn;
  const plain = {
    ...rest,
    ...(sheet && { sheet: { ...sheet, revision: 1 } }),
    ...(problem !== undefined && { problem }),
    ...(banner !== undefined && { banner }),
    ...(view !== undefined && { view }),
    slack: slack.map((one) => slackText(one, { show })),
    follows: true,
    ...more,
  };
  return JSON.parse(JSON.stringify(plain)) as DrawingShown;
}

/** A message between two processes holds whole letters. */
const words = hostileTexts.map(({ text }) => text).filter((text) => text.isWellFormed());

describe.skipIf(found.missing)(`the page of the drawing: ${found.title}`, () => {
  let server: Server;
  let running: Browser;
  let origin = '';
  const asked: string[] = [];
  const ours = ['/', '/drawing.js', '/drawing.css', '/favicon.ico'];

  beforeAll(async () => {
    server = createServer(({ url = '' }, response) => {
      asked.push(url);
      const file = { '/drawing.js': 'text/javascript', '/drawing.css': 'text/css' }[url];
      if (file) {
        response.writeHead(200, { 'content-type': file });
        response.end(readFileSync(join(dist, url)));
      } else if (url === '/') {
        response.writeHead(200, { 'content-type': 'text/html' });
        response.end(
          pageHtml({ script: `${origin}/drawing.js`, style: `${origin}/drawing.css`, cspSource: origin, nonce: 'n1' }),
        );
      } else response.writeHead(404).end();
    });
    await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
    origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    running = await chromium.launch({ executablePath: found.program, args: ['--no-sandbox', '--disable-gpu'] });
  });
  afterAll(async () => {
    await running?.close();
    await new Promise((done) => server.close(done));
  });

  interface Opened {
    readonly page: Page;
    readonly send: (message: ToPage) => Promise<void>;
    readonly said: () => Promise<FromPage[]>;
    readonly state: () => Promise<unknown>;
    readonly dialogs: string[];
    /** What the policy kept out. */
    readonly refused: () => Promise<string[]>;
  }

  async function opened(state: unknown = undefined, colours: object = {}): Promise<Opened> {
    const page = await running.newPage({ viewport: { width: 700, height: 800 }, ...colours });
    const dialogs: string[] = [];
    page.on('dialog', (dialog) => {
      dialogs.push(dialog.message());
      void dialog.dismiss();
    });
    await page.addInitScript((kept) => {
      const all = globalThis as unknown as Record<string, unknown>;
      const [messages, refused]: [unknown[], string[]] = [[], []];
      let last = kept;
      Object.assign(all, { messages, refused, kept: () => last });
      (all.addEventListener as (name: string, heard: (event: { blockedURI: string }) => void) => void)(
        'securitypolicyviolation',
        ({ blockedURI }) => refused.push(blockedURI),
      );
      all.acquireVsCodeApi = () => ({
        postMessage: (message: unknown) => messages.push(message),
        getState: () => last,
        setState: (next: unknown) => {
          last = next;
        },
      });
    }, state);
    await page.goto(origin);
    await page.waitForFunction('messages.some((message) => message.kind === "ready")');
    return {
      page,
      dialogs,
      send: (message) =>
        page.evaluate(
          (one) => (globalThis as unknown as Page & { postMessage: (m: unknown) => void }).postMessage(one),
          message,
        ),
      said: () => page.evaluate('messages') as Promise<FromPage[]>,
      state: () => page.evaluate('kept()'),
      refused: () => page.evaluate('refused') as Promise<string[]>,
    };
  }

  const kept = { source: 'file:///p/main.closet', line: 7, character: 5 };
  async function drawn(marked = template, more: Partial<DrawingShown> = {}, state?: unknown): Promise<Opened> {
    const page = await opened(state);
    await page.send({ kind: 'drawing', drawing: shown(marked, more), kept });
    await page.page.waitForFunction('messages.some((message) => message.kind === "shown")');
    return page;
  }
  const last = async ({ said }: Opened, kind: FromPage['kind']): Promise<FromPage | undefined> =>
    (await said()).findLast((message) => message.kind === kind);
  const focused = ({ page }: Opened): Promise<string | null> =>
    page.evaluate('document.activeElement.getAttribute("aria-label")');

  it('shows whatever it is given as words, and nothing of it runs', async () => {
    const more = shown(template);
    const one = await drawn();
    const { page, dialogs } = one;
    let count = 1;
    for (const text of words) {
      const part = {
        ...(more.parts[1] as DrawingShown['parts'][number]),
        label: text,
        facts: [text],
        steps: [{ amount: text, what: text }],
      };
      const { svg = '', ...sheet } = more.sheet as NonNullable<DrawingShown['sheet']>;
      // The picture as it comes when a name is that text, and as it would come from somebody who escapes nothing.
      const careless = svg.replace('</svg>', () => `<g data-layer="texts" data-part="x">${text}</g></svg>`);
      for (const picture of [svg, careless]) {
        const before = (await one.refused()).length;
        count += 1;
        const drawing = {
          ...more,
          unit: { kind: 'unit' as const, name: text, where: text, isHere: false },
          views: [{ id: text, kind: 'section' as const, title: text }],
          view: text,
          banner: text,
          problem: text,
          parts: [part],
          current: [part.key],
          findings: [{ number: 1, severity: 'error' as const, message: text }],
          slack: [text],
          sheet: { ...sheet, title: text, key: [{ number: '1', text }], svg: picture, revision: count },
        };
        await one.send({ kind: 'drawing', drawing, kept });
        await page.waitForFunction(`messages.filter((message) => message.kind === 'shown').length === ${count}`);
        const seen = await page.evaluate(`({
          title: document.querySelector('#title').textContent,
          part: document.querySelector('#details h2').textContent,
          finding: document.querySelector('#findings button').textContent,
          ran: window.ran,
          strange: document.querySelectorAll('#sheet :is(script, iframe, style, img, foreignObject, a, use, animate)').length
            + document.querySelectorAll('body > script').length - 1,
          orders: [...document.querySelectorAll('*')].flatMap((one) => one.getAttributeNames()).filter((name) => /^on|^style$|href$/.test(name)),
        })`);
        const told = { title: text, part: text, finding: `1error${text}` };
        expect(seen, text).toEqual({ ...told, strange: 0, orders: expect.any(Array) });
        // The one style sheet of the page is named by an address.
        expect((seen as { orders: string[] }).orders, text).toEqual(['href']);
        // A browser that reads a broken picture says so with a style, which the policy keeps out with all the others.
        if (picture === svg) expect((await one.refused()).length, text).toBe(before);
      }
    }
    expect(dialogs).toEqual([]);
    expect(asked.filter((url) => !ours.includes(url))).toEqual([]);
    await page.close();
  });

  it('leaves out of a picture whatever we do not draw', async () => {
    const evil = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 10 10" onload="window.ran=1">
      <script>window.ran = 1</script><style>#sheet{display:none}</style>
      <foreignObject><body xmlns="http://www.w3.org/1999/xhtml"><iframe src="javascript:parent.ran=1"/></body></foreignObject>
      <a href="javascript:window.ran=1"><text>link</text></a><image href="http://127.0.0.1/x.png"/><use href="#g"/>
      <animate onbegin="window.ran=1" attributeName="x" dur="1s"/><set attributeName="onload" to="window.ran=1"/>
      <g id="g" onclick="window.ran=1" style="fill:url(http://127.0.0.1/)" data-part="p" role="button"><path d="M0 0L9 9Z" class="d"/></g></svg>`;
    const one = await drawn();
    const drawing = shown(template);
    const sheet = { ...(drawing.sheet as NonNullable<DrawingShown['sheet']>), revision: 2, svg: evil };
    await one.send({ kind: 'drawing', drawing: { ...drawing, sheet }, kept });
    await one.page.waitForFunction('messages.filter((message) => message.kind === "shown").length === 2');
    const left = await one.page.locator('#sheet svg').evaluate((svg) => svg.outerHTML);
    expect(left).toMatch(/<path d="M0 0L9 9Z" class="d"/);
    expect(left).not.toMatch(/script|style|foreign|iframe|href|image|use|animate|<set|onload|onclick|url/);
    await one.page.locator('#sheet [data-part="p"]').dispatchEvent('click');
    expect(await one.page.evaluate('window.ran')).toBeUndefined();
    expect(asked.filter((url) => !ours.includes(url))).toEqual([]);
    // What is no picture is not shown, and breaks nothing.
    for (const svg of ['', '<html/>', '<svg', '<svg xmlns="http://www.w3.org/2000/svg"><g></svg>'])
      await one.send({ kind: 'drawing', drawing: { ...drawing, sheet: { ...sheet, svg } }, kept });
    await one.page.waitForFunction('messages.filter((message) => message.kind === "shown").length === 6');
    await one.page.close();
  });

  it('keeps a script out that somebody puts into the page itself', async () => {
    const one = await drawn();
    await one.page.evaluate(
      `document.body.insertAdjacentHTML('beforeend', '<img src="/x.png" onerror="window.ran = 1"><p style="color: red">')`,
    );
    await one.page.evaluate(
      `{ const s = document.createElement('script'); s.textContent = 'window.ran = 1'; document.body.append(s); }`,
    );
    await one.page.waitForFunction('refused.length >= 3');
    expect(await one.page.evaluate('window.ran')).toBeUndefined();
    expect(await one.page.evaluate('fetch("/x.json").then(() => "had", () => "refused")')).toBe('refused');
    await one.page.close();
  });

  it('frames the part at the cursor by a wide dashed line, and tells what it framed', async () => {
    const one = await drawn(template.replace('unit |a', 'unit a').replace('shelf low', 'shelf |low'));
    expect(await last(one, 'shown')).toEqual({ kind: 'shown', revision: 1, outlined: ['shelves left.low'] });
    const frame = one.page.locator('.around-current');
    expect(await frame.count()).toBe(1);
    expect(await one.page.locator('#sheet [aria-current]').getAttribute('data-part')).toBe('left.low');
    const dashes = `getComputedStyle(document.querySelector('.around-current')).strokeDasharray`;
    expect(await one.page.evaluate(dashes)).toMatch(/\d/);
    expect(await one.page.locator('#details h2').textContent()).toMatch(/^shelf left.low, 40in long/);
    await one.page.close();
  });

  it('is used by keys alone: from part to part, to the statement, and back', async () => {
    const one = await drawn();
    const { page } = one;
    await page.locator('#sheet').focus();
    const heard: (string | null)[] = [];
    for (;;) {
      await page.keyboard.press('Tab');
      if (await page.evaluate('!document.activeElement.closest("#sheet")')) break;
      heard.push(await focused(one));
      expect(heard.length).toBeLessThan(50);
    }
    expect(heard.filter((label) => !label?.startsWith('finding'))).toEqual(
      shown(template).parts.map(({ label }) => label),
    );
    expect(heard.some((label) => label?.startsWith('finding'))).toBe(true);
    // Backwards it begins where it was left.
    await page.keyboard.press('Shift+Tab');
    expect(await focused(one)).toBe(heard.at(-1));
    await page.keyboard.press('Home');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    expect(await focused(one)).toMatch(/^shelf left.high/);
    expect(await page.locator('.around-focus').count()).toBe(1);
    expect(await page.evaluate('document.activeElement.getAttribute("aria-describedby")')).toBe('details');
    await page.keyboard.press('Enter');
    expect(await last(one, 'part')).toEqual({ kind: 'part', key: 'shelves left.high' });
    await page.keyboard.press('Escape');
    expect((await one.said()).filter(({ kind }) => kind === 'back')).toHaveLength(1);
    await page.close();
  });

  it('stays on the part that the keyboard is on when it is drawn anew', async () => {
    const one = await drawn();
    await one.page.locator('#sheet').focus();
    for (let i = 0; i < 3; i++) await one.page.keyboard.press('Tab');
    const before = await focused(one);
    const next = shown(template);
    await one.send({
      kind: 'drawing',
      drawing: { ...next, sheet: { ...(next.sheet as NonNullable<DrawingShown['sheet']>), revision: 2 } },
      kept,
    });
    await one.page.waitForFunction('messages.filter((message) => message.kind === "shown").length === 2');
    expect(await focused(one)).toBe(before);
    await one.page.close();
  });

  it('zooms and pans by keys, keeps that, and has it again after a reload', async () => {
    const one = await drawn();
    const box = (of: Opened): Promise<string | null> => of.page.locator('#sheet svg').getAttribute('viewBox');
    const at = await box(one);
    await one.page.locator('#sheet').focus();
    for (const key of ['+', '+', 'ArrowRight', 'ArrowDown']) await one.page.keyboard.press(key);
    const near = await box(one);
    expect(near).not.toBe(at);
    const again = await drawn(template, {}, await one.state());
    expect(await box(again)).toBe(near);
    await again.page.locator('#sheet').focus();
    await again.page.keyboard.press('0');
    expect(await box(again)).toBe(at);
    await one.page.close();
    await again.page.close();
  });

  it('tells of a part under the pointer, goes to one that is clicked, and not where the drawing was only moved', async () => {
    const one = await drawn();
    const shelf = one.page.locator('[data-layer="shelves"][data-part="right.top"]');
    await shelf.hover();
    expect(await one.page.locator('#details h2').textContent()).toMatch(/^shelf right.top/);
    expect(await one.page.locator('#details table tr').last().textContent()).toMatch(/^50infinished length$/);
    await shelf.click();
    expect(await last(one, 'part')).toEqual({ kind: 'part', key: 'shelves right.top' });
    const box = await shelf.boundingBox();
    if (!box) throw new Error('the shelf is not on the screen');
    await one.page.keyboard.press('+');
    await one.page.mouse.move(box.x + 10, box.y + 2);
    await one.page.mouse.down();
    await one.page.mouse.move(box.x + 60, box.y + 40, { steps: 4 });
    await one.page.mouse.up();
    expect((await one.said()).filter(({ kind }) => kind === 'part')).toHaveLength(1);
    await one.page.close();
  });

  it('leads from a finding, in the list and at its mark, to where it is', async () => {
    const one = await drawn();
    const { findings, parts } = shown(template);
    const number = parts.find(({ path }) => path === 'left.r')?.findings[0];
    expect(findings.length).toBeGreaterThan(0);
    await one.page.locator('#findings button').first().click();
    expect(await last(one, 'finding')).toEqual({ kind: 'finding', number: 1 });
    await one.page.locator('[data-layer="findings"][data-part="left.r"]').click();
    const marks = await last(one, 'finding');
    const isOne = parts.find(({ path }) => path === 'left.r')?.findings.length === 1;
    if (isOne) expect(marks).toEqual({ kind: 'finding', number });
    else expect(await one.page.evaluate('document.activeElement.id')).toBe(`finding-${number}`);
    await one.page.close();
  });

  it('chooses a view, and asks for the paper', async () => {
    const one = await drawn();
    await one.page.locator('#view').selectOption('plan');
    expect(await last(one, 'view')).toEqual({ kind: 'view', view: 'plan' });
    await one.page.locator('#view').selectOption('');
    expect(await last(one, 'view')).toEqual({ kind: 'view' });
    await one.page.locator('#save').click();
    await one.page.locator('#print').click();
    const said = await one.said();
    expect(said.map(({ kind }) => kind).slice(-2)).toEqual(['save', 'print']);
    expect(said.find(({ kind }) => kind === 'room')).toMatchObject({ width: expect.any(Number) });
    await one.page.close();
  });

  it('shows in forced colours what the system says, frames and all', async () => {
    const page = await opened(undefined, { forcedColors: 'active', colorScheme: 'dark' });
    await page.send({
      kind: 'drawing',
      drawing: shown(template.replace('unit |a', 'unit a').replace('shelf low', 'shelf |low')),
      kept,
    });
    await page.page.locator('.around-current').waitFor();
    const colours = (await page.page.evaluate(`(() => {
      const of = (selector, name) => getComputedStyle(document.querySelector(selector))[name];
      return { ink: of('#sheet .d', 'stroke'), paper: of('body', 'backgroundColor'), frame: of('.around-current', 'stroke') };
    })()`)) as Record<'ink' | 'paper' | 'frame', string>;
    expect(colours.ink).not.toBe(colours.paper);
    expect(colours.frame).not.toBe(colours.paper);
    await page.page.close();
  });
});
