/**
 * Texts of a file in what an editor shows as Markdown. A file may be anybody's, and the Markdown of an editor can load
 * pictures from anywhere and lead anywhere: what stands in a file is shown there as words, whatever it looks like.
 */
import { printable } from '../model/printable.ts';
import { docOf } from './doc-text.ts';

/** Lines in letters of one width, coloured as the language says. */
export function fenced(text: string, language: 'closet' | 'text'): string {
  const fence = marksAround(text, 3);
  return `${fence}${language}\n${printable(text.replaceAll(/\r\n?/g, '\n'))}\n${fence}`;
}

/** A name or a few words of the language, within a sentence. */
export function spanned(text: string): string {
  const mark = marksAround(text, 1);
  const words = printable(text).replaceAll(/\s+/g, ' ');
  // What begins or ends with such a mark is kept apart from ours; the spaces are not shown.
  const space = words.startsWith('`') || words.endsWith('`') ? ' ' : '';
  return `${mark}${space}${words}${space}${mark}`;
}

/** Longer than any run of backticks in the text. */
function marksAround(text: string, least: number): string {
  const longest = Math.max(0, ...[...text.matchAll(/`+/g)].map(([run]) => run.length));
  return '`'.repeat(Math.max(least, longest + 1));
}

/**
 * What somebody wrote in a comment. What would lead somewhere, load something or swallow what follows is shown as it was
 * written: no link, no picture, no page within the page, no block of code. All else is left as it is, as not every editor
 * reads Markdown.
 */
export function commented(text: string): string {
  return docOf(text)
    .split(/\r\n?|\n/)
    .map((line) =>
      line
        .trim()
        .split(/(`[^`]+`)/)
        .map((piece, at) => (at % 2 === 1 ? spanned(piece.slice(1, -1)) : asWords(piece)))
        .join('')
        .replace(/^~~~/, '\\~~~'),
    )
    .join('\n');
}

/**
 * sources: CommonMark 0.31, sections 2.4 (what may be escaped), 6.3 to 6.6 (links, pictures, autolinks, HTML); GitHub
 * Flavored Markdown 0.29, section 6.9 (addresses that are links without any mark).
 */
function asWords(text: string): string {
  return printable(text)
    .replaceAll(/[\\[\]<`]/g, '\\$&')
    .replaceAll(/:(?=\/\/)/g, '\\:')
    .replaceAll(/\b(www)\./gi, '$1\\.')
    .replaceAll(/(?<=\S)@(?=\S)/g, '\\@');
}
