/** What the number format of a cell says of its value: that it is a date, or which unit of measure stands behind it. */

export interface CellFormat {
  readonly isDate: boolean;
  /** Written behind the number, such as `mm`; empty where nothing is. */
  readonly suffix: string;
}

/** Formats that are dates or times without saying so (ECMA-376, part 1, 18.8.30, with those of East Asian languages). */
const dateIds: readonly (readonly [number, number])[] = [
  [14, 22],
  [27, 36],
  [45, 47],
  [50, 58],
];

export function formatOf(id: number, code: string | undefined): CellFormat {
  if (code === undefined) return { isDate: dateIds.some(([from, to]) => id >= from && id <= to), suffix: '' };
  // The first of up to four sections is that of positive numbers.
  const [positive = ''] = code.split(';');
  const suffix = /(?:"([^"]*)"|((?:\\.)+))\s*$/.exec(positive);
  const elapsed = /\[(h+|m+|s+)\]/i.test(positive);
  const bare = positive.replaceAll(/"[^"]*"|\\.|_.|\*.|\[[^\]]*\]/g, '');
  const isGeneral = /general|standard/i.test(bare);
  return {
    isDate: elapsed || (!isGeneral && /[ymdhs]/i.test(bare)),
    suffix: (suffix?.[1] ?? suffix?.[2]?.replaceAll('\\', '') ?? '').trim(),
  };
}

const dayMs = 86_400_000;

/** `2026-03-14` of a serial number: days from 30 December 1899, as all dates after February 1900 are counted, or from 1904. */
export function dateText(serial: number, from1904: boolean): string {
  const start = from1904 ? Date.UTC(1904, 0, 1) : Date.UTC(1899, 11, 30);
  const date = new Date(start + Math.floor(serial) * dayMs);
  return Number.isNaN(date.getTime()) ? String(serial) : date.toISOString().slice(0, 10);
}
