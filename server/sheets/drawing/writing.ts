/** Texts on paper: as wide as measured, shortened or broken into lines where there is less room. */
import { cleaned, widthOf } from './letters.ts';
import type { At, PaperText } from './paper.ts';

export interface Writing {
  readonly bold?: boolean;
  readonly anchor?: PaperText['anchor'];
  readonly turned?: boolean;
}

/** Letters so high, from, around or up to a point of their baseline. */
export function writtenAt(
  written: string,
  at: At,
  height: number,
  { bold = false, anchor = 'start', turned = false }: Writing = {},
): PaperText {
  const text = cleaned(written);
  return { kind: 'text', text, at, height, bold, anchor, turned, width: widthOf(text, bold) * height };
}

const characters = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** What people take for one character each: a letter with its accents is never cut apart. */
function charactersOf(text: string): string[] {
  return [...characters.segment(text)].map(({ segment }) => segment);
}

/** As much of a text as has room, with an ellipsis where that is not all. */
export function fitted(written: string, room: number, height: number, bold = false): string {
  const text = cleaned(written);
  if (widthOf(text, bold) * height <= room) return text;
  const ellipsis = widthOf('…', bold) * height;
  let [kept, width] = ['', ellipsis];
  for (const character of charactersOf(text)) {
    width += widthOf(character, bold) * height;
    if (width > room) break;
    kept += character;
  }
  return `${kept.trimEnd()}…`;
}

/** Lines of words, none wider than the room; a word that is wider than a line is broken. No more than `most`, if so said. */
export function linesOf(written: string, room: number, height: number, bold = false, most = Infinity): string[] {
  const width = (text: string): number => widthOf(text, bold) * height;
  const lines: string[] = [];
  let line = '';
  for (const word of cleaned(written)
    .split(/\s+/)
    .filter((w) => w !== '')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (width(longer) <= room) {
      line = longer;
      continue;
    }
    if (line !== '') lines.push(line);
    line = '';
    for (const character of width(word) > room ? charactersOf(word) : [word]) {
      if (line !== '' && width(line + character) > room) {
        lines.push(line);
        line = '';
      }
      line += character;
    }
  }
  if (line !== '') lines.push(line);
  if (lines.length <= most) return lines;
  return [...lines.slice(0, most - 1), fitted(lines.slice(most - 1).join(' '), room, height, bold)];
}
