/**
 * Documents of a client that counts wrongly: the text is afterwards what can be made of it, and told of as such.
 * source: Language Server Protocol 3.17, text document synchronisation.
 */
import { afterAll, afterEach, describe, expect, it } from 'vitest';
import { endRaw, folder, type Raw, startedRaw, stillWorks } from './raw.ts';

afterEach(endRaw);
afterAll(folder.remove);

const at = (line: unknown, character: unknown) => ({ line, character });
const own = { uri: 'untitled:own' };
const text = 'board oak { depth 12in; thickness 3/4in }\n';
const open = (raw: Raw, version: unknown = 1, given = text): void =>
  raw.tell('textDocument/didOpen', { textDocument: { ...own, languageId: 'closet', version, text: given } });
const change = (raw: Raw, version: unknown, ...contentChanges: unknown[]): void =>
  raw.tell('textDocument/didChange', { textDocument: { ...own, version }, contentChanges });

/** The text as the server has it: the names of what stands in it. */
async function names(raw: Raw): Promise<string[]> {
  const { result } = await raw.ask('textDocument/documentSymbol', { textDocument: own });
  return ((result ?? []) as { name: string }[]).map(({ name }) => name);
}

describe('edits', () => {
  it.each([
    ['past the end', at(900, 4), at(901, 0), ['oak', 'elm']],
    ['that run past the end', at(1, 0), at(900, 0), ['oak', 'elm']],
    ['past the end of a line', at(0, 4000), at(0, 5000), ['oak', 'elm']],
    ['that begin before the text', at(-3, -7), at(0, 0), ['elm', 'oak']],
    ['the wrong way round', at(1, 0), at(0, 0), ['elm']],
    ['with enormous numbers', at(0, 0), at(1e300, 1e300), ['elm']],
  ])('%s are taken as far as they go', async (_, start, end, left) => {
    const raw = await startedRaw();
    open(raw);
    change(raw, 2, { range: { start, end }, text: 'board elm { depth 12in; thickness 3/4in }\n' });
    expect(await names(raw)).toEqual(left);
    await stillWorks(raw);
  });

  it('that are none are left out, and told on standard error; those that follow are taken', async () => {
    const raw = await startedRaw();
    open(raw);
    const wrong = [
      { range: { start: at('0', 0), end: at(0, 0) }, text: 'x' },
      { range: { start: at(null, 0), end: at(0, 0) }, text: 'x' },
      { range: { start: at(0.5, 0), end: at(0, 0) }, text: 'x' },
      { range: { start: at(0, 0) }, text: 'x' },
      { range: 'all', text: 'x' },
      { range: null },
      { text: 5 },
      5,
      null,
    ];
    for (const one of wrong) change(raw, 2, one);
    expect(await names(raw)).toEqual(['oak']);
    expect(raw.stderr().match(/didChange was left out/g)).toHaveLength(wrong.length);
    change(raw, 3, { text: 'board ash { depth 12in; thickness 3/4in }\n' });
    expect(await names(raw)).toEqual(['ash']);
    await stillWorks(raw);
  });

  it('with versions that fall, stay or are none are taken in the order in which they come', async () => {
    const raw = await startedRaw();
    open(raw, 9);
    for (const [name, version] of Object.entries({ a: 3, b: 3, c: -1, d: undefined, e: null, f: 2 ** 31, g: 1 })) {
      change(raw, version, { text: `board ${name} { depth 12in; thickness 3/4in }\n` });
      expect(await names(raw)).toEqual([name]);
    }
    await stillWorks(raw);
  });

  it('of documents that were never opened, or have been closed, are nothing', async () => {
    const raw = await startedRaw();
    change(raw, 1, { text });
    raw.tell('textDocument/didClose', { textDocument: own });
    raw.tell('textDocument/didSave', { textDocument: own });
    expect(await names(raw)).toEqual([]);
    open(raw);
    raw.tell('textDocument/didClose', { textDocument: own });
    raw.tell('textDocument/didClose', { textDocument: own });
    change(raw, 2, { text });
    expect(await names(raw)).toEqual([]);
    await stillWorks(raw);
  });

  it('of a document that is opened twice go to the text that was opened last', async () => {
    const raw = await startedRaw();
    open(raw, 5);
    open(raw, 1, text.replace('oak', 'elm'));
    expect(await names(raw)).toEqual(['elm']);
    change(raw, 2, { range: { start: at(0, 6), end: at(0, 9) }, text: 'ash' });
    expect(await names(raw)).toEqual(['ash']);
    await stillWorks(raw);
  });

  it('of documents with addresses that are none change nothing', async () => {
    const raw = await startedRaw();
    for (const uri of [
      '',
      'x',
      ':',
      '://',
      'file://',
      'file:///',
      'file:///%',
      'http://',
      '%00',
      'file:///a\u0000b.closet',
      `file:///${'a'.repeat(100_000)}.closet`,
    ]) {
      raw.tell('textDocument/didOpen', { textDocument: { uri, languageId: 'closet', version: 1, text } });
      raw.tell('textDocument/didChange', { textDocument: { uri, version: 2 }, contentChanges: [{ text: '' }] });
      const { error } = await raw.ask('textDocument/hover', { textDocument: { uri }, position: at(0, 7) });
      expect(error?.code === undefined || error.code === -32801, `${uri.slice(0, 20)} ${error?.message}`).toBe(true);
      raw.tell('textDocument/didClose', { textDocument: { uri } });
    }
    await stillWorks(raw);
  });
});
