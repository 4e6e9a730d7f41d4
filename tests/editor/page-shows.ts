/** Waiting at a page from outside, for the suites that drive one. */
import path from 'node:path';
import type { Page } from 'playwright-core';
import { seen } from './hands.ts';

export type Shows = (selector: string, holds: (texts: string[]) => boolean, limit?: number) => Promise<string[]>;

/** Looks until what is shown is as expected. Fails with what was shown last, and photographs it into the folder where one is given. */
export function pageShows(page: Page, pictures?: string): Shows {
  return async (selector, holds, limit = 30_000) => {
    const end = Date.now() + limit;
    for (;;) {
      const texts = await seen(page, selector);
      if (holds(texts)) return texts;
      if (Date.now() > end) {
        if (pictures !== undefined) await page.screenshot({ path: path.join(pictures, 'failed.png') });
        throw new Error(`${selector} is not as expected: ${JSON.stringify(texts)}`);
      }
      await new Promise((go) => setTimeout(go, 100));
    }
  };
}
