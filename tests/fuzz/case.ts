/**
 * A case of several files as one text, and any text as a file of the corpus that git and an editor leave alone.
 *
 *     == /p/project.closet
 *     project "Quarry Lane" {}
 *     == steps
 *     edit /p/project.closet 3 0 "x"
 */

export interface Part {
  readonly name: string;
  readonly text: string;
}

const heading = /^== ([^\n\r]+)\n/gm;

/** What stands before the first heading belongs to nothing. The line end before a heading is part of the heading. */
export function partsOf(text: string): Part[] {
  const heads = [...text.matchAll(heading)];
  return heads.map(({ 0: line, 1: name = '', index }, i) => ({
    name: name.trim(),
    text: text.slice(index + line.length, heads[i + 1]?.index).replace(/\n$/, ''),
  }));
}

export function joined(parts: readonly Part[]): string {
  return parts.map(({ name, text }) => `== ${name}\n${text}\n`).join('');
}

/** Names to texts; of two with one name the last. */
export function filesOf(
  parts: readonly Part[],
  isFile = (name: string): boolean => name.startsWith('/'),
): Map<string, string> {
  return new Map(parts.filter(({ name }) => isFile(name)).map(({ name, text }) => [name, text]));
}

/** Characters that an editor does not show, or git does not keep, as `\u{...}`. */
export function escaped(text: string): string {
  return text.replace(/\\|\r|[^\P{C}\n\t]|[\u00a0\u2028\u2029\u200e\u200f\u3000]|[ \t]+(?=\n|$)/gu, (found) =>
    found === '\\' ? '\\\\' : [...found].map((c) => `\\u{${(c.codePointAt(0) ?? 0).toString(16)}}`).join(''),
  );
}

export function unescaped(text: string): string {
  return text.replace(/\\\\|\\u\{([0-9a-f]{1,6})\}/g, (found, code: string | undefined) => {
    if (code === undefined) return '\\';
    const point = Number.parseInt(code, 16);
    return point > 0x10ffff ? found : String.fromCodePoint(point);
  });
}
