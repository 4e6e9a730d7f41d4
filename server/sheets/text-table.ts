/** Plain text tables for people: columns as wide as what is in them, two spaces between. */
import { printable } from '../model/printable.ts';

export interface Column {
  readonly title: string;
  /** Numbers and lengths stand at the right, so that they can be compared; the rest at the left. */
  readonly align: 'left' | 'right';
}

/**
 * Lines of a table, the titles first; no line ends in a space. Columns that are empty in every row are left out.
 * With `most`, a last column at the left that would make a line longer goes on below itself: then what is answered
 * for a row holds line ends. A cell may hold what anybody wrote, and steers no terminal.
 */
export function tableLines(
  columns: readonly Column[],
  said: readonly (readonly string[])[],
  most = Infinity,
): string[] {
  const rows = said.map((row) => row.map(printable));
  const used = columns.map((_, c) => rows.some((row) => (row[c] ?? '') !== ''));
  const widths = columns.map(({ title }, c) => Math.max(lengthOf(title), ...rows.map((row) => lengthOf(row[c] ?? ''))));
  const line = (cells: readonly string[]): string =>
    columns
      .flatMap(({ align }, c) => (used[c] ? [padded(cells[c] ?? '', widths[c] ?? 0, align)] : []))
      .join('  ')
      .trimEnd();
  const last = columns.length - 1;
  const indent = columns.reduce((sum, _, c) => (used[c] && c < last ? sum + (widths[c] ?? 0) + 2 : sum), 0);
  const folded = (cells: readonly string[]): string => {
    const [first = '', ...more] = foldedText(cells[last] ?? '', Math.max(narrowest, most - indent));
    return [line([...cells.slice(0, last), first]), ...more.map((text) => ' '.repeat(indent) + text)].join('\n');
  };
  const fold = most < Infinity && columns[last]?.align === 'left';
  return [line(columns.map((c) => c.title)), ...rows.map(fold ? folded : line)];
}

/** A column is not made narrower than this. */
const narrowest = 30;

/** Where a line may end: before `in` and `and`, and after a comma. What a semicolon ends is a line of its own. */
function foldedText(text: string, most: number): string[] {
  if (lengthOf(text) <= most) return [text];
  return text.split(/(?<=;) /).flatMap((sense) => {
    const lines: string[] = [];
    let current = '';
    for (const item of sense.split(/(?<=,) | (?=in |and )/)) {
      if (current !== '' && lengthOf(current) + 1 + lengthOf(item) > most) {
        lines.push(current);
        current = '';
      }
      current = current === '' ? item : `${current} ${item}`;
    }
    return [...lines, current];
  });
}

function padded(text: string, width: number, align: Column['align']): string {
  const space = ' '.repeat(Math.max(0, width - lengthOf(text)));
  return align === 'left' ? text + space : space + text;
}

/** In characters as seen, not in UTF-16 units. */
function lengthOf(text: string): number {
  return [...text].length;
}
