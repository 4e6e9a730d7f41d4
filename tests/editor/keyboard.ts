/** The suite's side of hands.ts: keys that are really pressed, and texts that are really shown. */
import type { Asked } from './hands.ts';
import { it } from './harness.ts';

const hands = process.env.STORYPOLE_SUITE_HANDS ?? '';

/** A test that needs a keyboard. In a downloaded desktop VS Code nobody presses keys, and it is left out. */
export const itTypes = hands === '' ? () => undefined : it;

async function ask(asked: Asked): Promise<string[]> {
  const response = await fetch(hands, { method: 'POST', body: JSON.stringify(asked) });
  if (!response.ok) throw new Error(`${JSON.stringify(asked)}: ${await response.text()}`);
  return (await response.json()) as string[];
}

/** Presses keys one after the other, each as Playwright names them. */
export async function press(...keys: string[]): Promise<void> {
  for (const key of keys) await ask({ press: key });
}

export async function typed(text: string): Promise<void> {
  await ask({ type: text });
}

/** The texts of all that is visible and matches a selector, in any frame. */
export const seen = (selector: string): Promise<string[]> => ask({ seen: selector });

/** Looks until what is shown is as expected. Fails with what was shown last, and photographs it where somebody named a folder for that. */
export async function shows(selector: string, holds: (texts: string[]) => boolean, limit = 15_000): Promise<string[]> {
  const end = Date.now() + limit;
  for (;;) {
    const texts = await seen(selector);
    if (holds(texts)) return texts;
    if (Date.now() > end) {
      const pictures = process.env.STORYPOLE_SUITE_PICTURES ?? '';
      if (pictures !== '') await ask({ picture: `${pictures}/${Date.now()}.png` });
      throw new Error(`${selector} did not come to what was expected: ${JSON.stringify(texts)}`);
    }
    await new Promise((go) => setTimeout(go, 60));
  }
}

/** Where things are in the workbench. */
export const where = {
  /** That which takes the keys. */
  editor: '.editor-instance .monaco-editor.focused',
  choices: '.quick-input-widget .quick-input-list .monaco-list-row',
  title: '.quick-input-widget .quick-input-title',
  message: '.quick-input-widget .quick-input-message',
  completions: '.suggest-widget .monaco-list-row .label-name',
  hover: '.monaco-hover .hover-contents',
  actions: '.action-widget .monaco-list-row',
  rename: '.rename-box input:focus',
  lenses: '.codelens-decoration',
  status: '.statusbar-item',
  tree: '.monaco-list[aria-label="Project"] .monaco-list-row, .pane-body .monaco-list-row',
  treeFocus: '.monaco-list[aria-label="Project"] .monaco-list-row.focused',
  treeWithKeys: '.monaco-list[aria-label="Project"]:focus',
  tabs: '.tab',
  bulb: '.lightBulbWidget, [class*="gutter-lightbulb"]',
  errors: '.squiggly-error',
  lines: '.view-line',
} as const;
