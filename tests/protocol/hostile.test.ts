/**
 * Files of anybody's, in an editor that shows Markdown: whatever stands in them is shown as words. Each answer of the built
 * server is read as the editor reads it (with the same library), and must lead nowhere and load nothing.
 */
import { lexer, type Token, walkTokens } from 'marked';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { limits } from '../../server/model/limits.ts';
import { elsewhere, type Hostile, hostileComments, hostileProject, steering } from '../hostile.ts';
import { type Client, endAll, folderWith, startClient, uriOf } from './client.ts';

/** What of a text in Markdown would do more than be read, in words. */
function activeIn(markdown: string): string[] {
  const found: string[] = [];
  walkTokens(lexer(markdown, { gfm: true }), (token: Token) => {
    if (token.type === 'image' || token.type === 'html' || token.type === 'def')
      found.push(`${token.type}: ${token.raw}`);
    else if (token.type === 'link') {
      // Where a rule comes from may be told with its address; what a file says leads nowhere.
      const { href } = token as { href: string };
      if (href.includes(elsewhere) || !/^https:/.test(href)) found.push(`link: ${token.raw}`);
    }
  });
  if (steering.test(markdown)) found.push(`steers: ${JSON.stringify(markdown)}`);
  return found;
}

/** All words that are shown for it. */
function wordsIn(markdown: string): string {
  const words: string[] = [];
  walkTokens(lexer(markdown, { gfm: true }), (token: Token) => {
    if (!('tokens' in token && token.tokens) && 'text' in token) words.push(String(token.text));
  });
  return words.join('');
}

describe('what is taken for active', () => {
  it.each([
    `![a](https://${elsewhere}/a.png)`,
    '[a](command:workbench.action.quit)',
    `https://${elsewhere}/a`,
    `www.${elsewhere}`,
    `a@${elsewhere}`,
    '<img src=x>',
    `[b]: https://${elsewhere}`,
    '\u202e',
  ])('is %j', (text) => {
    expect(activeIn(text)).not.toEqual([]);
  });
});

/** Every Markdown that is somewhere in an answer, and every text that is shown with `$(icon)` in it. */
function markdownIn(answer: unknown): string[] {
  if (typeof answer !== 'object' || answer === null) return [];
  if ('kind' in answer && answer.kind === 'markdown' && 'value' in answer) return [String(answer.value)];
  return Object.values(answer).flatMap(markdownIn);
}

const everywhere: object = {
  textDocument: {
    hover: { contentFormat: ['markdown'] },
    completion: { completionItem: { documentationFormat: ['markdown'], snippetSupport: true } },
    signatureHelp: { signatureInformation: { documentationFormat: ['markdown'] } },
    inlayHint: { resolveSupport: { properties: ['tooltip'] } },
  },
};

describe('a file of anybody’s', () => {
  /** One project a text, in folders of their own, as each has a title. */
  const folder = folderWith(
    Object.fromEntries(hostileComments.map(({ text }, at) => [`p${at}/main.closet`, hostileProject(text)])),
  );
  let client: Client;
  beforeAll(async () => {
    client = await startClient(folder.path, everywhere, { initializationOptions: { commands: true } });
  });
  afterAll(async () => {
    await client.shutDown();
    endAll();
    folder.remove();
  });

  async function shownOf(at: number, text: string): Promise<{ markdown: string[]; hovers: string[] }> {
    const uri = uriOf(`${folder.path}/p${at}/main.closet`);
    const textDocument = { uri };
    const lines = text.split('\n');
    await client.open(uri, text);
    const ask = (method: string, params: object): Promise<unknown> => client.connection.sendRequest(method, params);
    const shown: string[] = [];
    const hovers: string[] = [];
    // Wherever a word begins, outside of comments.
    for (const [line, words] of lines.entries()) {
      if (words.trimStart().startsWith('///')) continue;
      const starts = [...words.matchAll(/(?<![\w-])[a-z]/g)].slice(0, 5).map(({ index }) => index);
      for (const character of starts) {
        const hover = markdownIn(await ask('textDocument/hover', { textDocument, position: { line, character } }));
        hovers.push(...hover);
      }
      const end = { line, character: Math.max(0, words.trimEnd().length - 2) };
      shown.push(...markdownIn(await ask('textDocument/signatureHelp', { textDocument, position: end })));
    }
    const places = [
      '  board |',
      'unit u-1 |',
      '  zone a on |',
      '  parameter w: length = |',
      'unit u-2 t { |',
      'length |',
    ];
    for (const place of places) {
      const before = place.slice(0, -1);
      const line = lines.findIndex((one) => one.includes(before));
      const position = { line, character: (lines[line] ?? '').indexOf(before) + before.length };
      const list = (await ask('textDocument/completion', { textDocument, position })) as { items: object[] } | null;
      for (const item of list?.items.slice(0, 8) ?? [])
        shown.push(...markdownIn(await ask('completionItem/resolve', item)));
    }
    const range = { start: { line: 0, character: 0 }, end: { line: lines.length, character: 0 } };
    for (const hint of (await ask('textDocument/inlayHint', { textDocument, range })) as object[])
      shown.push(...markdownIn(await ask('inlayHint/resolve', hint)));
    await client.connection.sendNotification('textDocument/didClose', { textDocument });
    return { markdown: shown, hovers };
  }

  it.each(
    hostileComments.map((one, at): [string, string, Hostile, number] => [
      one.kind,
      JSON.stringify(one.text).slice(0, 60),
      one,
      at,
    ]),
  )('%s: %s is shown as words', async (_, __, { text }, at) => {
    const { markdown, hovers } = await shownOf(at, hostileProject(text));
    expect(hovers.length).toBeGreaterThan(20);
    expect(markdown.length).toBeGreaterThan(20);
    for (const one of [...markdown, ...hovers]) expect(activeIn(one), one).toEqual([]);
  });

  it('shows what a comment says, word for word', async () => {
    for (const [at, { text }] of hostileComments.entries()) {
      if (steering.test(text) || !text.isWellFormed() || /^\s|\n|`|~~~|&|\||#|^[+=-]/.test(text)) continue;
      const uri = uriOf(`${folder.path}/p${at}/main.closet`);
      const lines = hostileProject(text).split('\n');
      const line = lines.findIndex((one) => one.startsWith('unit u-1 t'));
      const params = { textDocument: { uri }, position: { line, character: 9 } };
      const [hover = ''] = markdownIn(await client.connection.sendRequest('textDocument/hover', params));
      const plain = (all: string): string => all.replaceAll(/[\s*_]+/g, '');
      // Of one that is longer than an editor shows, the beginning.
      expect(plain(wordsIn(hover))).toContain(plain(text.slice(0, limits.longestDoc.most - 100)));
    }
  });
});
