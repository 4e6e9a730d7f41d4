/** Texts brought into a width: on several lines, or shortened. */
import type { Lettering } from './lettering.ts';

export interface Face {
  /** Of a capital letter, in millimetres. */
  readonly height: number;
  readonly bold?: boolean | undefined;
}

/** Widths are sums of many: where two are the same, one may come out a trifle longer. */
const trifle = 0.01;

function fits(text: string, width: number, face: Face, lettering: Lettering): boolean {
  return measured(text, face, lettering) <= width + trifle;
}

export function measured(text: string, { height, bold = false }: Face, lettering: Lettering): number {
  return lettering.widthOf(text, bold) * height;
}

/**
 * Lines no wider than `width`. They end at spaces, or else behind a sign that joins (`A-101-bedroom`, `shirts.high`),
 * or where there is none within a word, which then goes on in the next line. No more than `most` lines: the last one
 * says that there is more.
 */
export function wrapped(text: string, width: number, face: Face, lettering: Lettering, most = Infinity): string[] {
  const lines: string[] = [];
  for (const paragraph of text.split('\n')) {
    let line = '';
    for (const word of lettering.clean(paragraph).split(' ')) {
      const longer = line === '' ? word : `${line} ${word}`;
      if (fits(longer, width, face, lettering)) {
        line = longer;
        continue;
      }
      if (line !== '') lines.push(line);
      const pieces = broken(word, width, face, lettering);
      line = pieces.pop() ?? '';
      lines.push(...pieces);
    }
    lines.push(line);
  }
  if (lines.length <= most) return lines;
  const kept = lines.slice(0, Math.max(1, most));
  return [...kept.slice(0, -1), shortened(`${kept.at(-1)} …`, width, face, lettering, true)];
}

/** A word in pieces that have room each. */
function broken(word: string, width: number, face: Face, lettering: Lettering): string[] {
  if (fits(word, width, face, lettering)) return [word];
  const pieces: string[] = [];
  let piece = '';
  // Behind signs first; a piece between two signs that has no room is taken letter by letter.
  for (const part of word.split(/(?<=[-./,_:;@])/)) {
    for (const bit of fits(part, width, face, lettering) ? [part] : part) {
      if (piece !== '' && !fits(piece + bit, width, face, lettering)) {
        pieces.push(piece);
        piece = '';
      }
      piece += bit;
    }
  }
  return [...pieces, piece];
}

/** On one line: as it is, or its beginning with `…` behind it. */
export function shortened(text: string, width: number, face: Face, lettering: Lettering, isMore = false): string {
  const clean = lettering.clean(text);
  if (fits(clean, width, face, lettering)) return clean;
  const letters = [...(isMore ? clean.replace(/ ?…$/, '') : clean)];
  let [low, high] = [0, letters.length];
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    if (measured(`${letters.slice(0, middle).join('').trimEnd()}…`, face, lettering) <= width) low = middle;
    else high = middle - 1;
  }
  return `${letters.slice(0, low).join('').trimEnd()}…`;
}

/** The longest piece of a text that is not broken where it can be helped. */
export function longestWord(text: string, face: Face, lettering: Lettering): number {
  let longest = 0;
  for (const word of lettering.clean(text).split(/[ \n]/)) longest = Math.max(longest, measured(word, face, lettering));
  return longest;
}
