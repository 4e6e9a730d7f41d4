/** What the page of the drawing is made of, as far as no browser is needed: which stretch is seen, what is let in, what was kept. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { pageHtml } from '../../client/drawing/html.ts';
import { bounded, boxOf, type Look, lookFrom, panned, showing, whole, zoomed } from '../../client/drawing/look.ts';
import { fromPage, keptFrom } from '../../client/drawing/messages.ts';
import { svgRules } from '../../server/sheets/drawing/svg.ts';

const root = resolve(import.meta.dirname, '../..');

describe('what the page says', () => {
  it.each([
    { kind: 'ready' },
    { kind: 'part', key: 'shelves left.low' },
    { kind: 'finding', number: 2 },
    { kind: 'view' },
    { kind: 'view', view: 'plan' },
    { kind: 'room', width: 120.5, height: 80 },
    { kind: 'shown', revision: 3, outlined: ['shelves left.low'] },
    { kind: 'shown', outlined: [] },
    { kind: 'save' },
  ])('is taken as it is: %j', (said) => {
    expect(fromPage(said)).toEqual(said);
  });

  it.each([
    [undefined],
    [null],
    ['save'],
    [{}],
    [{ kind: 'open', uri: 'file:///etc/passwd' }],
    [{ kind: 'command', command: 'workbench.action.quit' }],
    [{ kind: 'part' }],
    [{ kind: 'part', key: { toString: 1 } }],
    [{ kind: 'finding', number: '1' }],
    [{ kind: 'finding', number: -1 }],
    [{ kind: 'view', view: ['plan'] }],
    [{ kind: 'room', width: Number.NaN, height: 1 }],
    [{ kind: 'room', width: 1e9, height: 1 }],
    [{ kind: 'shown', outlined: 'all' }],
    [{ kind: 'shown', outlined: [1] }],
    [{ kind: 'constructor' }],
    [{ kind: '__proto__' }],
  ])('is nothing where no page of ours says it: %j', (said) => {
    expect(fromPage(said)).toBeUndefined();
  });

  it('never takes more along than it knows, whatever is said', () => {
    const known = new Set(['kind', 'key', 'number', 'view', 'width', 'height', 'revision', 'outlined']);
    const kind = fc.constantFrom('ready', 'part', 'finding', 'view', 'room', 'back', 'save', 'print', 'shown', 'other');
    fc.assert(
      fc.property(
        fc.anything(),
        fc.record({ kind, key: fc.anything(), view: fc.anything(), uri: fc.string() }),
        (any, one) => {
          fromPage(any);
          for (const name of Object.keys(fromPage(one) ?? {})) expect(known).toContain(name);
        },
      ),
    );
  });
});

describe('which stretch of a drawing is seen', () => {
  const look = fc
    .record({ zoom: fc.double({ min: 1, max: 20, noNaN: true }), x: unit(), y: unit() })
    .map((one) => bounded(one));
  const size = { width: 300, height: 200 };

  function unit() {
    return fc.double({ min: 0, max: 1, noNaN: true });
  }

  const isWithin = (one: Look): void => {
    const [left, top, width, height] = boxOf(one, size);
    for (const side of [left, top]) expect(side).toBeGreaterThan(-1e-6);
    expect(left + width).toBeLessThan(size.width + 1e-6);
    expect(top + height).toBeLessThan(size.height + 1e-6);
  };

  it('is the whole of it at first, and a quarter of it magnified twice', () => {
    expect(boxOf(whole, size)).toEqual([0, 0, 300, 200]);
    expect(boxOf(zoomed(whole, 2), size)).toEqual([75, 50, 150, 100]);
    expect(boxOf(zoomed(whole, 2, [0, 0]), size)).toEqual([0, 0, 150, 100]);
  });

  it('is never beside it, however it is moved and magnified', () => {
    const amount = fc.double({ min: -3, max: 3, noNaN: true });
    fc.assert(
      fc.property(look, amount, amount, fc.double({ min: 0.01, max: 50, noNaN: true }), (from, right, down, times) => {
        isWithin(panned(from, right, down));
        isWithin(zoomed(from, times));
        isWithin(zoomed(panned(from, right, down), times, [right, down]));
      }),
    );
  });

  it('keeps the point where it is that it is magnified around', () => {
    fc.assert(
      fc.property(look, unit(), unit(), fc.double({ min: 1, max: 5, noNaN: true }), (from, x, y, times) => {
        const to = zoomed(from, times, [x, y]);
        // Where it is on the screen, as a part of what is seen.
        const on = ({ zoom, x: middle }: Look): number => (x - middle) * zoom;
        expect(on(to)).toBeCloseTo(on(from), 6);
      }),
    );
  });

  it('shows all of a part that has room in it, moved no more than that takes', () => {
    const near = zoomed(whole, 4);
    expect(showing(near, size, [140, 95, 10, 10])).toEqual(near);
    const [left, top, width, height] = boxOf(showing(near, size, [10, 150, 20, 20]), size);
    expect([left, top + height]).toEqual([10, 170]);
    expect([width, height]).toEqual([75, 50]);
  });

  it.each([undefined, null, 'all', {}, { zoom: 2, x: Number.NaN, y: 0 }, { zoom: '2', x: 0, y: 0 }])(
    'is the whole where what was kept is %j',
    (kept) => expect(lookFrom(kept)).toEqual(whole),
  );
});

describe('what was kept of a panel', () => {
  const kept = {
    source: 'file:///p/a.closet',
    line: 3,
    character: 4,
    before: { kind: 'unit' as const, name: 'a' },
    view: 'plan',
  };

  it('is taken as it was, without what does not belong to it', () => {
    expect(keptFrom({ ...kept, look: whole, more: 1 })).toEqual(kept);
    expect(keptFrom({ ...kept, before: { kind: 'wall', name: 'a' }, view: 3 })).toEqual({
      source: kept.source,
      line: 3,
      character: 4,
    });
  });

  it.each([undefined, null, 7, [], {}, { ...kept, line: -1 }, { ...kept, character: 0.5 }, { ...kept, source: 1 }])(
    'is nothing where it is %j',
    (state) => expect(keptFrom(state)).toBeUndefined(),
  );
});

describe('the page', () => {
  const html = pageHtml({ script: 'x:/drawing.js', style: 'x:/drawing.css', cspSource: 'x:', nonce: 'abc' });
  const css = readFileSync(join(root, 'client/drawing/page.css'), 'utf8');

  it('lets in its own script and style, and nothing else', () => {
    const [, policy] = /http-equiv="Content-Security-Policy" content="([^"]+)"/.exec(html) ?? [];
    expect(policy).toBe(
      "default-src 'none'; script-src 'nonce-abc'; style-src x:; base-uri 'none'; form-action 'none'",
    );
    expect(html).not.toMatch(/<style|style=|\son\w+=|javascript:/);
    expect([...html.matchAll(/<script[^>]*>/g)].map(([tag]) => tag)).toEqual([
      '<script nonce="abc" src="x:/drawing.js">',
    ]);
  });

  it('has a name for everything that can be used', () => {
    for (const [, attributes = '', text = ''] of html.matchAll(/<button([^>]*)>([^<]*)</g))
      expect(attributes.includes('aria-label') || /[A-Z]/.test(text), attributes).toBe(true);
    expect(html).toContain('<label for="view">');
    expect(html).toMatch(/<html lang="en">/);
  });

  it('draws by the rules that a drawing of its own carries in it', () => {
    const plain = (text: string): string =>
      text
        .replaceAll(/\s+/g, ' ')
        .replaceAll(/\s*([{};:,])\s*/g, '$1')
        .replaceAll(';}', '}');
    const rules = plain(css);
    const wanted = plain(svgRules('page')).match(/[^{}]+\{[^}]*\}/g) ?? [];
    expect(wanted.length).toBeGreaterThan(5);
    for (const rule of wanted) expect(rules).toContain(rule);
  });

  it('asks for no file and no address in its style, and follows the theme and forced colours', () => {
    expect(css).not.toMatch(/url\(|@import/);
    expect(css).toContain('--vscode-editor-foreground');
    expect(css).toContain('forced-colors: active');
  });
});
