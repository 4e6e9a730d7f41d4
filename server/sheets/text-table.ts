/** Plain text tables for people: columns as wide as what is in them, two spaces between. */

export interface Column {
  readonly title: string;
  /** Numbers and lengths stand at the right, so that they can be compared; the rest at the left. */
  readonly align: 'left' | 'right';
}

/** Lines of a table, the titles first; no line ends in a space. Columns that are empty in every row are left out. */
export function tableLines(columns: readonly Column[], rows: readonly (readonly string[])[]): string[] {
  const used = columns.map((_, c) => rows.some((row) => (row[c] ?? '') !== ''));
  const widths = columns.map(({ title }, c) => Math.max(lengthOf(title), ...rows.map((row) => lengthOf(row[c] ?? ''))));
  const line = (cells: readonly string[]): string =>
    columns
      .flatMap(({ align }, c) => (used[c] ? [padded(cells[c] ?? '', widths[c] ?? 0, align)] : []))
      .join('  ')
      .trimEnd();
  return [line(columns.map((c) => c.title)), ...rows.map(line)];
}

function padded(text: string, width: number, align: Column['align']): string {
  const space = ' '.repeat(Math.max(0, width - lengthOf(text)));
  return align === 'left' ? text + space : space + text;
}

/** In characters as seen, not in UTF-16 units. */
function lengthOf(text: string): number {
  return [...text].length;
}
