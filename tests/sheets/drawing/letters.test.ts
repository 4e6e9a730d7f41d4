/** The widths of letters, against the font itself as fontkit reads it. */
import { join } from 'node:path';
import { openSync } from 'fontkit';
import { expect, it } from 'vitest';
import { fontFiles } from '../../../server/sheets/drawing/fonts.ts';
import { capital, widthOf } from '../../../server/sheets/drawing/letters.ts';

const folder = join(import.meta.dirname, '../../../node_modules/dejavu-fonts-ttf/ttf');

it.each([
  ['plain', false],
  ['bold', true],
] as const)('of the %s font are its advance widths', (style, isBold) => {
  const font = openSync(join(folder, fontFiles[style]));
  if (!('glyphForCodePoint' in font)) throw new Error('not one font');
  const known = [...Array.from({ length: 0x160 }, (_, i) => i + 32), 0x2014, 0x2019, 0x2026, 0x2033, 0x20ac, 0x2192];
  for (const code of known) {
    if (!font.hasGlyphForCodePoint(code)) continue;
    const width = font.glyphForCodePoint(code).advanceWidth / font.unitsPerEm / capital;
    expect([code, widthOf(String.fromCodePoint(code), isBold)]).toEqual([code, expect.closeTo(width, 6)]);
  }
  expect(font.glyphForCodePoint(72).bbox.height / font.unitsPerEm).toBeCloseTo(capital, 6);
});

it('of letters that are not listed are taken for more than they have', () => {
  expect(widthOf('漢')).toBeCloseTo(1 / capital);
});
