/** Names of files made from names that people gave: readable, fit for any system, and never out of their folder. */

import { deviceName } from '../model/use-path.ts';

/** UTF-8 bytes, so that an ending has room too: file systems take 255. */
const longest = 120;

const encoder = new TextEncoder();
const characters = new Intl.Segmenter('en', { granularity: 'grapheme' });

/**
 * A part of a name. Letters and digits of every script stay, and `-`, `_` and dots between them; everything else
 * becomes a hyphen. Never empty, never `.` or `..`, no dot or space at an end.
 */
export function fileName(text: string): string {
  const plain = text
    .normalize('NFC')
    .replace(/[^\p{L}\p{M}\p{N}._-]+/gu, '-')
    .replace(/\.{2,}/g, '.')
    .replace(/-{2,}/g, '-')
    .replace(/^[-.\p{M}]+|[-.]+$/gu, '');
  const short = shortened(deviceName.test(plain) ? `_${plain}` : plain).replace(/[-.]+$/, '');
  return short === '' ? 'unnamed' : short;
}

function shortened(text: string): string {
  if (encoder.encode(text).length <= longest) return text;
  let [kept, size] = ['', 0];
  for (const { segment } of characters.segment(text)) {
    size += encoder.encode(segment).length;
    if (size > longest) break;
    kept += segment;
  }
  return kept;
}

/** One for each, in order, with this ending. Those that would be one file where case counts for nothing get numbers. */
export function fileNames(texts: readonly string[], ending: string): string[] {
  const taken = new Set<string>();
  return texts.map((text) => {
    const name = fileName(text);
    let free = name;
    for (let i = 2; taken.has(keyOf(free)); i++) free = `${name}-${i}`;
    taken.add(keyOf(free));
    return `${free}${ending}`;
  });
}

/** Alike for systems that fold case or compose accents their own way. */
export function keyOf(name: string): string {
  return name.normalize('NFKC').toUpperCase().toLowerCase().normalize('NFKC');
}
