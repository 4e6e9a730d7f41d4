/**
 * What the files of examples/mistakes expect to be told about themselves.
 *
 * On the line below the place, with carets under its exact columns:
 *
 *     shelf top { at 72 }
 *     //             ^^ error unit-of-measure-missing: 72 has no unit of measure
 *
 * Carets right behind the `//` take it in: `//^^^` stands under five characters. Several such lines in
 * a row all mean the line above the first of them. Where a comment would disturb, `expected.txt` beside
 * the files says the same, columns counted from 1 and the second one not included:
 *
 *     closet.closet:17:18-19 error block-not-closed: The block of "shelf middle" is not closed
 *
 * The text behind the colon is part of the message.
 */

/** A finding as the two sides of a comparison see it: lines and columns from 1, the end not included. */
export interface Told {
  readonly file: string;
  readonly line: number;
  readonly from: number;
  readonly to: number;
  readonly severity: string;
  readonly rule: string;
  /** The whole message, or the part of it that is expected. */
  readonly text: string;
}

const marker = /^(\s*\/\/\s*)(\^+) (error|warning|note) ([a-z-]+): (\S.*)$/;
const listed = /^([^:]+):(\d+):(\d+)-(\d+) (error|warning|note) ([a-z-]+): (\S.*)$/;

/** The expectations that stand in the text of a file. */
export function expectedIn(file: string, text: string): Told[] {
  const told: Told[] = [];
  let line = 0;
  text.split(/\r\n|\n|\r/).forEach((content, index) => {
    const match = marker.exec(content);
    if (!match) {
      line = index + 1;
      return;
    }
    const [, before = '', carets = '', severity = '', rule = '', part = ''] = match;
    const from = before.endsWith('/') ? before.length - 1 : before.length + 1;
    told.push({ file, line, from, to: before.length + carets.length + 1, severity, rule, text: part });
  });
  return told;
}

/** The expectations of an `expected.txt`. Empty lines and lines that begin with `#` say nothing. Throws where a line cannot be read. */
export function expectedList(text: string): Told[] {
  return text
    .split('\n')
    .filter((line) => line.trim() !== '' && !line.startsWith('#'))
    .map((line) => {
      const match = listed.exec(line);
      if (!match) throw new Error(`no expectation can be read from: ${line}`);
      const [, file = '', at = '', from = '', to = '', severity = '', rule = '', part = ''] = match;
      return { file, line: Number(at), from: Number(from), to: Number(to), severity, rule, text: part };
    });
}

/**
 * Pairs what was expected with what was found, each with one of the other side at most, and answers
 * with what is left on both sides, as lines to be read. Both are empty where the two agree.
 */
export function differences(
  expected: readonly Told[],
  found: readonly Told[],
): { readonly missing: string[]; readonly tooMany: string[] } {
  const left = [...found];
  const missing: string[] = [];
  // Those that say most go first, so that a vague one does not take the finding of an exact one.
  for (const wanted of [...expected].sort((a, b) => b.text.length - a.text.length)) {
    const at = left.findIndex((f) => placeOf(f) === placeOf(wanted) && f.text.includes(wanted.text));
    if (at < 0) missing.push(`${placeOf(wanted)}: ${wanted.text}`);
    else left.splice(at, 1);
  }
  return { missing: missing.sort(), tooMany: left.map((f) => `${placeOf(f)}: ${f.text}`).sort() };
}

function placeOf(told: Told): string {
  return `${told.file}:${told.line}:${told.from}-${told.to} ${told.severity} ${told.rule}`;
}
