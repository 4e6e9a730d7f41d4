/** The page for the site as text: one file, its policy, its colours, and nothing of a file that is not escaped. */
import { createHash } from 'node:crypto';
import { inflateRawSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { drawableOf } from '../../../server/sheets/drawing/drawings.ts';
import { type SitePage, sitePage } from '../../../server/sheets/site-page/page.ts';
import { colours } from '../../../server/sheets/site-page/style.ts';
import { laneExported } from '../export/exports.ts';

const { project } = laneExported();
const script = 'window.ran=1';

function page(names?: readonly string[], more: Partial<SitePage> = {}): Promise<string> {
  const units = [...project.units()].filter(({ name }) => !names || names.includes(name));
  return sitePage({
    title: 'Quarry Lane',
    part: undefined,
    revision: undefined,
    date: '2026-11-28',
    system: 'inches',
    hasErrors: false,
    units: units.map((unit) => ({ unit, drawable: drawableOf(project, unit, 'inches') })),
    script,
    ...more,
  });
}

const packed = (html: string): string[] =>
  [...html.matchAll(/<script type="text\/plain" id="sheet-\d+">([^<]*)</g)].map(([, text = '']) =>
    inflateRawSync(Buffer.from(text, 'base64')).toString('utf8'),
  );

describe('the page', () => {
  it('allows by its policy the one script and the one style that are in it, and nothing else', async () => {
    const html = await page();
    const policy = /Content-Security-Policy" content="([^"]*)"/.exec(html)?.[1] ?? '';
    const hash = (text: string): string => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
    const styles = [...html.matchAll(/<style>(.*?)<\/style>/gs)].map(([, text = '']) => text);
    const scripts = [...html.matchAll(/<script>(.*?)<\/script>/gs)].map(([, text = '']) => text);
    expect([styles.length, scripts]).toEqual([1, [script]]);
    expect(policy).toBe(
      `default-src 'none'; script-src ${hash(script)}; style-src ${hash(styles[0] ?? '')}; base-uri 'none'; form-action 'none'`,
    );
    // Nothing that would ask for anything, or be refused by the policy.
    for (const text of [html, ...packed(html)])
      expect(text.replace('http://www.w3.org/2000/svg', '')).not.toMatch(
        /\bsrc=|<link|<img|<style[^>]*>.*<style|url\(|@import|\bstyle="|\son[a-z]+="/s,
      );
    for (const sheet of packed(html)) expect(sheet).not.toMatch(/<script|<style|<!--/);
  });

  it('has each layout once', async () => {
    const html = await page();
    const sheets = packed(html);
    expect(new Set(sheets).size).toBe(sheets.length);
    const layouts = new Set([...project.units()].map(({ resolved }) => resolved?.layout));
    expect(sheets.length).toBe(layouts.size);
    expect(sheets.length).toBeLessThan(72);
    expect(html.length).toBeLessThan(1_000_000);
  });

  it('of one unit is there to be read without a script', async () => {
    const html = await page(['A-101-bedroom']);
    expect(packed(html)).toEqual([]);
    for (const part of [
      'Back wall, elevation',
      'Mark-out',
      'Cut list',
      'Order of work',
      'Final checks',
      'What was measured',
      'Before you begin',
    ])
      expect(html).toContain(part);
    const [unit] = [...project.units()].filter(({ name }) => name === 'A-101-bedroom');
    for (const { path } of unit?.resolved?.layout.parts ?? []) expect(html).toContain(path.replace(/\.\d+$/, ''));
  });

  it('says what ~ before a length means on each sheet that has one, and on no other', async () => {
    const sheets = packed(await page());
    const has = (sheet: string): boolean => /~\d/.test(sheet);
    expect(new Set(sheets.map(has)).size).toBe(2);
    for (const sheet of sheets)
      expect(sheet.includes('~ stands before a length that is finer than what is shown.')).toBe(has(sheet));
  });

  it('says that it is of errors where it is', async () => {
    expect(await page(undefined, { hasErrors: true })).toContain('Do not cut by this yet');
    expect(await page()).not.toContain('Do not cut by this yet');
  });

  it('escapes what files say', async () => {
    const evil = '</script><script>alert(1)</script><img src=x onerror=alert(1)>"\'&\u2028';
    const [unit] = [...project.units()];
    if (!unit) throw new Error('no unit');
    const named = { ...unit, name: evil, flat: evil, floor: evil };
    for (const units of [[named], [named, { ...named, name: `${evil}2` }]]) {
      const html = await page([], {
        title: evil,
        part: evil,
        revision: evil,
        units: units.map((one) => ({ unit: one, drawable: drawableOf(project, one, 'inches') })),
      });
      expect(html.match(/<script>/g)?.length).toBe(1);
      expect(html).not.toContain('<img');
      const data = JSON.parse(/id="data">([^<]*)</.exec(html)?.[1] ?? '');
      expect([data.title, data.units[0].name]).toEqual([evil, evil]);
    }
  });
});

/** WCAG 2.2, 1.4.3 and 1.4.11, with the definitions of relative luminance and contrast ratio there. */
function contrast(a: string, b: string): number {
  const luminance = (colour: string): number => {
    const [r = 0, g = 0, b_ = 0] = [1, 3, 5].map((at) => {
      const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
      return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b_;
  };
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

describe.each(Object.entries(colours))('colours in %s', (_, { paper, ink, soft, line, link, done, warn }) => {
  it('are told apart at arm’s length: 7 to 1 for text, 3 to 1 for lines', () => {
    expect(contrast('#ffffff', '#000000')).toBe(21);
    for (const ground of [paper, done])
      for (const text of [ink, soft, link, warn]) expect(contrast(ground, text)).toBeGreaterThan(7);
    expect(contrast(paper, line)).toBeGreaterThan(3);
  });
});
