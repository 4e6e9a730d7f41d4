/** Icons can be told from what is behind them, in themes of high contrast as well. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

/** source: WCAG 2.2, definition of relative luminance and of contrast ratio. */
function luminance(colour: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const part = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrast(a: string, b: string): number {
  const [darker = 0, lighter = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (lighter + 0.05) / (darker + 0.05);
}

it('black on white has the contrast that the source gives: 21 to 1', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
});

// White and black are the grounds of the themes of high contrast. In the light one of these VS Code shows the icon
// for dark themes (seen in its own window), so that one has to do for both.
it.each([
  ['light', ['#ffffff', '#f8f8f8'], 4.5],
  ['dark', ['#000000', '#1f1f1f', '#181818', '#ffffff'], 3],
])('the file icon for %s themes stands out from all of its grounds', (theme, grounds, least) => {
  const svg = readFileSync(join(import.meta.dirname, `../../client/icons/closet-${theme}.svg`), 'utf8');
  const colours = [...svg.matchAll(/(?:stroke|fill)="(#[0-9a-f]{6})"/g)].map(([, colour = '']) => colour);
  expect(new Set(colours).size).toBe(2);
  // source: WCAG 2.2, 1.4.11 asks 3 to 1 of graphical objects, 1.4.3 asks 4.5 of text.
  for (const colour of colours)
    for (const ground of grounds)
      expect(contrast(colour, ground), `${colour} on ${ground}`).toBeGreaterThanOrEqual(least);
});
