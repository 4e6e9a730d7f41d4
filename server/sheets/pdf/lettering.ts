/** The fonts of sheets, opened: how wide texts come out, which letters there are, and how what runs to the left is set. */
import bidiFactory, { type Bidi } from 'bidi-js';
import * as fontkit from 'fontkit';
import { capital } from '../drawing/letters.ts';

/** The files of the two fonts. */
export interface FontFiles {
  readonly plain: Uint8Array;
  readonly bold: Uint8Array;
}

/** A part of a line that is set in one direction, with the letters in the order in which they are written. */
export interface Run {
  readonly text: string;
  /** To the left: its letters are joined and turned round when it is set. */
  readonly isLeftwards: boolean;
}

export interface Lettering {
  readonly files: FontFiles;
  /** Width of a text in heights of its capital letters. It must be clean. */
  readonly widthOf: (text: string, bold: boolean) => number;
  /** The text with what the fonts lack shown as a box, and without what steers and does not show. */
  readonly clean: (text: string) => string;
}

/** Stands for what the fonts have no letter for. */
const box = '\u25a1';

const leftwards = /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]|[\u{10800}-\u{10fff}\u{1e800}-\u{1efff}]/u;
// Its types are those of an ES module, and Node takes the CommonJS one, whose whole is the function.
const bidi = (bidiFactory as unknown as () => Bidi)();
const clusters = new Intl.Segmenter('en', { granularity: 'grapheme' });

export function openLettering(files: FontFiles): Lettering {
  const [plain, bold] = [fontOf(files.plain), fontOf(files.bold)];
  const widths = [new Map<number, number>(), new Map<number, number>()] as const;
  const advance = (code: number, isBold: boolean): number => {
    const known = widths[isBold ? 1 : 0].get(code);
    if (known !== undefined) return known;
    const font = isBold ? bold : plain;
    const width = font.glyphForCodePoint(code).advanceWidth / font.unitsPerEm / capital;
    widths[isBold ? 1 : 0].set(code, width);
    return width;
  };
  const has = (code: number): boolean => plain.hasGlyphForCodePoint(code) && bold.hasGlyphForCodePoint(code);
  return {
    files,
    widthOf: (text, isBold) => {
      let width = 0;
      for (const { text: own, isLeftwards } of runsOf(text)) {
        if (isLeftwards) {
          const font = isBold ? bold : plain;
          for (const { advanceWidth } of font.layout(own).glyphs) width += advanceWidth / font.unitsPerEm / capital;
        } else for (const letter of own) width += advance(letter.codePointAt(0) as number, isBold);
      }
      return width;
    },
    clean: (text) => (/^[ -~]*$/.test(text) ? text : cleaned(text, has)),
  };
}

function fontOf(file: Uint8Array): fontkit.Font {
  const font = fontkit.create(Buffer.from(file.buffer, file.byteOffset, file.byteLength));
  if ('fonts' in font) throw new Error('a font file holds several fonts');
  return font;
}

function cleaned(text: string, has: (code: number) => boolean): string {
  let out = '';
  for (const { segment } of clusters.segment(text.normalize('NFC'))) {
    if (/^\s+$/.test(segment)) {
      out += ' ';
      continue;
    }
    // Marks that join, choose a look or turn the direction of writing do not show by themselves.
    const seen = segment.replaceAll(/\p{Cf}|[\ufe00-\ufe0f]/gu, '');
    if (seen === '') continue;
    out += [...seen].every((letter) => has(letter.codePointAt(0) as number) && !/\p{Cc}/u.test(letter)) ? seen : box;
  }
  return out;
}

/** A line in the order in which it is seen, from the left. */
export function runsOf(text: string): Run[] {
  if (!leftwards.test(text)) return [{ text, isLeftwards: false }];
  const embedding = bidi.getEmbeddingLevels(text, 'ltr');
  const mirrored = bidi.getMirroredCharactersMap(text, embedding.levels);
  const parts: { text: string; level: number }[] = [];
  for (let i = 0; i < text.length; i++) {
    const level = embedding.levels[i] as number;
    const letter = mirrored.get(i) ?? (text[i] as string);
    const last = parts.at(-1);
    if (last?.level === level) last.text += letter;
    else parts.push({ text: letter, level });
  }
  // Rule L2 of Unicode Standard Annex 9, on whole runs: from the highest level to the lowest odd one, each stretch of
  // what is at least as high is turned round.
  const levels = parts.map(({ level }) => level);
  for (let level = Math.max(...levels); level >= 1; level--) {
    for (let from = 0; from < parts.length; from++) {
      if ((parts[from] as { level: number }).level < level) continue;
      let to = from;
      while (to + 1 < parts.length && (parts[to + 1] as { level: number }).level >= level) to++;
      parts.splice(from, to - from + 1, ...parts.slice(from, to + 1).reverse());
      from = to;
    }
  }
  return parts.flatMap(({ text: own, level }) =>
    level % 2 === 0 ? [{ text: own, isLeftwards: false }] : turnedWords(own),
  );
}

/** Words of what runs to the left, the last one first; each is turned round by whoever sets it, where it has letters. */
function turnedWords(text: string): Run[] {
  return text
    .split(/(\s+)/)
    .filter((word) => word !== '')
    .reverse()
    .map((word) =>
      leftwards.test(word)
        ? { text: word, isLeftwards: true }
        : { text: [...word].reverse().join(''), isLeftwards: false },
    );
}
