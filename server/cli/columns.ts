/** How many columns of a terminal a character takes. */

/** Of a grapheme, which is what a person takes for one character. */
export type ColumnsOf = (grapheme: string) => number;

/** What is outside ASCII, where each character takes one column. */
const elsewhere = /[^\t\n\r\x20-\x7e]/;

/** For these texts. The tables for other scripts take a while to load, so texts in ASCII do without them. */
export async function columnsFor(texts: Iterable<string>): Promise<ColumnsOf> {
  for (const text of texts) if (elsewhere.test(text)) return (await import('string-width')).default;
  return () => 1;
}
