/** `A` of 0, `AA` of 26: what a spreadsheet calls a column. */
export function lettersOf(column: number): string {
  const before = Math.floor(column / 26);
  return `${before > 0 ? lettersOf(before - 1) : ''}${String.fromCharCode(65 + (column % 26))}`;
}
