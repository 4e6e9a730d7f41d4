/** A line of a file with carets under the place that is meant, as it comes out in columns of a terminal. */
import type { ColumnsOf } from './columns.ts';
import { printable } from './words.ts';

export interface Excerpt {
  readonly line: string;
  readonly carets: string;
}

export interface ExcerptOptions {
  /** Columns that either line may take; no excerpt is cut below `narrowest`. */
  readonly width: number;
  readonly columnsOf: ColumnsOf;
}

/** Room for `…`, a wide character and `…`, and for some of what stands around it. */
export const narrowest = 8;

const tabStop = 4;
const longestLine = 4000;
const more = '…';

/** What one grapheme of the line comes to. The last cell of a line stands for its end, where a caret may go. */
interface Cell {
  /** UTF-16 offset in the line. */
  readonly offset: number;
  readonly text: string;
  readonly width: number;
}

/**
 * `start` and `end` are UTF-16 offsets in the line. Tabs become spaces; a line wider than the width is cut around
 * the start of the place, with `…` where something is left out. There is a caret under each column of the place
 * that is shown, and one where it starts if it has no columns.
 */
export function excerptOf(whole: string, from: number, to: number, options: ExcerptOptions): Excerpt {
  // Of a line of megabytes only what stands around the place is looked at: more than any terminal is wide.
  const cut = whole.length > longestLine ? Math.max(0, from - longestLine / 4) : 0;
  const line = whole.slice(cut, cut + longestLine);
  const [start, end] = [from - cut, to - cut];
  const cells = cellsOf(line, options.columnsOf);
  const at = cellAt(cells, start);
  const [first, last] = windowOf(cells, at, Math.max(narrowest, options.width));
  const shown = cells.slice(first, last);
  const before = first > 0 ? more : '';
  const after = last < cells.length - 1 ? more : '';
  const meant = end > start ? cells.slice(at, last).filter(({ offset }) => offset < end) : [];
  const blank = before.length + widthOf(cells.slice(first, at));
  return {
    line: `${before}${shown.map(({ text }) => text).join('')}${after}`.trimEnd(),
    carets: ' '.repeat(blank) + '^'.repeat(Math.max(1, widthOf(meant))),
  };
}

function cellsOf(line: string, columnsOf: ColumnsOf): Cell[] {
  const cells: Cell[] = [];
  let column = 0;
  for (const { segment, index } of new Intl.Segmenter('en', { granularity: 'grapheme' }).segment(line)) {
    const text = segment === '\t' ? ' '.repeat(tabStop - (column % tabStop)) : printable(segment);
    const width = segment === '\t' ? text.length : columnsOf(text);
    cells.push({ offset: index, text, width });
    column += width;
  }
  cells.push({ offset: line.length, text: '', width: 0 });
  return cells;
}

/** The cell that an offset lies in. What has no column of its own is pointed at where it stands. */
function cellAt(cells: readonly Cell[], offset: number): number {
  const next = cells.findIndex((cell) => cell.offset > offset);
  return next < 0 ? cells.length - 1 : Math.max(0, next - 1);
}

function widthOf(cells: readonly Cell[]): number {
  return cells.reduce((sum, { width }) => sum + width, 0);
}

/**
 * Which cells are shown, as a half-open range: all, or as many as fit beside a `…` at either end with about a third
 * of them before `at`. `at` is among them, with a column to spare for its caret.
 */
function windowOf(cells: readonly Cell[], at: number, width: number): [number, number] {
  const end = cells.length - 1;
  // The end of the line takes a column where the caret goes there.
  const columns = (index: number): number =>
    index === at ? Math.max(1, cells[index]?.width ?? 0) : (cells[index]?.width ?? 0);
  let total = 0;
  for (let index = 0; index < cells.length; index++) total += columns(index);
  if (total <= width) return [0, cells.length];
  const room = width - 2 * more.length;
  let [first, last, used] = [at, at + 1, columns(at)];
  const before = (most: number): void => {
    while (first > 0 && used + columns(first - 1) <= most) used += columns(--first);
  };
  before(Math.floor(room / 3) + used);
  while (last <= end && used + columns(last) <= room) used += columns(last++);
  // Near the end of the line there is more room before the place.
  before(room);
  return [first, last];
}
