/** A line of a file with carets under the place that is meant, as it comes out in columns of a terminal. */
import stringWidth from 'string-width';
import { printable } from './words.ts';

export interface Excerpt {
  readonly line: string;
  readonly carets: string;
}

const tabStop = 4;
const graphemes = new Intl.Segmenter('en', { granularity: 'grapheme' });

interface Cell {
  /** UTF-16 offset in the line. */
  readonly offset: number;
  readonly text: string;
  readonly width: number;
}

/**
 * `start` and `end` are UTF-16 offsets in the line. Tabs become spaces; a line wider than `width` columns is cut
 * around the start of the place, with `…` where something is left out.
 */
export function excerptOf(line: string, start: number, end: number, width: number): Excerpt {
  const cells = cellsOf(line);
  const [first, last] = windowOf(cells, start, Math.max(8, width));
  let text = first > 0 ? '…' : '';
  let carets = first > 0 ? ' ' : '';
  for (const cell of cells.slice(first, last)) {
    text += cell.text;
    const meant = cell.offset + 1 > start && cell.offset < end;
    carets += (meant ? '^' : ' ').repeat(cell.width);
  }
  if (last < cells.length) text += '…';
  // An empty place, or the end of the line, is pointed at all the same.
  if (!carets.includes('^')) {
    const before = cells.slice(first, last).filter((cell) => cell.offset < start);
    carets = `${' '.repeat((first > 0 ? 1 : 0) + before.reduce((sum, cell) => sum + cell.width, 0))}^`;
  }
  return { line: text.trimEnd(), carets: carets.trimEnd() };
}

function cellsOf(line: string): Cell[] {
  const cells: Cell[] = [];
  let column = 0;
  for (const { segment, index } of graphemes.segment(line)) {
    const text = segment === '\t' ? ' '.repeat(tabStop - (column % tabStop)) : printable(segment);
    const width = segment === '\t' ? text.length : stringWidth(text);
    cells.push({ offset: index, text, width });
    column += width;
  }
  return cells;
}

/** Indices of the cells that are shown: all, or as many as fit with a third of them before the place. */
function windowOf(cells: readonly Cell[], start: number, width: number): [number, number] {
  const total = cells.reduce((sum, cell) => sum + cell.width, 0);
  if (total <= width) return [0, cells.length];
  const room = width - 2;
  const found = cells.findIndex((cell) => cell.offset >= start);
  const at = found < 0 ? cells.length : found;
  let first = at;
  for (let used = 0; first > 0; first--) {
    used += cells[first - 1]?.width ?? 0;
    if (used > Math.floor(room / 3)) break;
  }
  // Near the end of the line there is more room before the place.
  let rest = cells.slice(first).reduce((sum, cell) => sum + cell.width, 0);
  while (first > 0 && rest + (cells[first - 1]?.width ?? 0) <= room) rest += cells[--first]?.width ?? 0;
  let last = first;
  for (let used = 0; last < cells.length; last++) {
    used += cells[last]?.width ?? 0;
    if (used > room) break;
  }
  return [first, last];
}
