/** Small pieces of text that several commands share. */
import { grouped } from '../model/money.ts';

export { capital } from '../model/capital.ts';
export { counted, grouped, money } from '../model/money.ts';
export { printable } from '../model/printable.ts';

/** `a`, `a and b`, `a, b and c`; or `a, b or c`. */
export function listed(words: readonly string[], between: 'and' | 'or' = 'and'): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} ${between} ${words.at(-1)}`;
}

/** The first of many names, and how many there are besides. */
export function someOf(names: readonly string[], most: number): string {
  const more = names.length - most;
  return more <= 0 ? names.join(', ') : `${names.slice(0, most).join(', ')} and ${grouped(more)} more`;
}

/** Lines of words, each with the indent before it and no wider than `width` where words allow. */
export function wrapped(text: string, width: number, indent: string): string[] {
  const lines: string[] = [];
  let line = indent;
  for (const word of text.split(' ')) {
    if (line.length > indent.length && line.length + 1 + word.length > width) {
      lines.push(line);
      line = indent;
    }
    line += line.length > indent.length ? ` ${word}` : word;
  }
  return [...lines, line];
}
