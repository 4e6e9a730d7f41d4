/** Real keys and real eyes for a suite that runs in the extension host, where there is neither: it asks here, and the page is used for it. */
import { createServer, type IncomingMessage } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Page } from 'playwright-core';

/** What can be asked for, one thing at a time. */
export type Asked =
  /** A key or several at once, as Playwright names them: `Control+Period`. */
  | { readonly press: string }
  | { readonly type: string }
  /** The texts of all that is visible and matches a selector, in any frame of the page. */
  | { readonly seen: string }
  /** A file to put a photograph into. */
  | { readonly picture: string };

export interface Hands {
  /** Where the suite asks. */
  readonly address: string;
  /** From now on the page is used. */
  use(page: Page): void;
  close(): void;
}

export async function offerHands(): Promise<Hands> {
  let page: Page | undefined;
  const server = createServer(async (request, response) => {
    try {
      if (page === undefined) throw new Error('there is no page yet');
      const answer = await does(page, JSON.parse(await bodyOf(request)) as Asked);
      response.end(JSON.stringify(answer));
    } catch (error) {
      response.statusCode = 500;
      response.end(String(error));
    }
  });
  await new Promise<void>((go) => server.listen(0, '127.0.0.1', go));
  return {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    use: (used) => {
      page = used;
    },
    close: () => {
      server.close();
      server.closeAllConnections();
    },
  };
}

async function bodyOf(request: IncomingMessage): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of request) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString();
}

async function does(page: Page, asked: Asked): Promise<string[]> {
  if ('press' in asked) await page.keyboard.press(asked.press);
  else if ('type' in asked) await page.keyboard.type(asked.type, { delay: 15 });
  else if ('picture' in asked) await page.screenshot({ path: asked.picture });
  else return seen(page, asked.seen);
  return [];
}

export async function seen(page: Page, selector: string): Promise<string[]> {
  const texts = page.frames().map((frame) =>
    frame
      .locator(selector)
      .filter({ visible: true })
      .allInnerTexts()
      // A frame may go while it is looked at.
      .catch(() => []),
  );
  // The editor draws its spaces as ones that do not break.
  return (await Promise.all(texts)).flat().map((text) => text.replaceAll('\u00a0', ' '));
}
