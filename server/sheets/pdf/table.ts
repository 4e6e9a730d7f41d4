/** Tables on paper: how wide columns are, and a row as marks. */
import type { Mark } from '../drawing/paper.ts';
import { ascent } from '../drawing/paper.ts';
import type { Lettering } from './lettering.ts';
import { type Face, longestWord, measured, wrapped } from './wrap.ts';

export interface Column {
  readonly title: string;
  /** Numbers and lengths stand at the right; the rest at the left. */
  readonly align: 'left' | 'right';
  /** Takes what the others leave, in shares of so much. Columns without are as wide as what is in them. */
  readonly grows?: number;
  /** Never narrower than this, in millimetres: room to write. */
  readonly atLeast?: number;
}

export type Cell = string | { readonly text: string; readonly bold?: boolean } | { readonly tick: true };

export interface Row {
  readonly cells: readonly Cell[];
  /** In millimetres: room to write. */
  readonly atLeast?: number;
}

/** Left and right of what is in a cell, above and below it. */
const padding = { across: 1.2, down: 0.8 };
const leading = 1.6;
const tickSize = 3.4;

function textOf(cell: Cell): { readonly text: string; readonly bold: boolean } {
  if (typeof cell === 'string') return { text: cell, bold: false };
  return 'tick' in cell ? { text: '', bold: false } : { text: cell.text, bold: cell.bold ?? false };
}

/**
 * As wide as what is in them where that has room; else the widest are narrowed, none below its longest word as long as
 * that can be had. What is left over goes to those that grow.
 */
export function columnWidths(
  columns: readonly Column[],
  rows: readonly Row[],
  width: number,
  height: number,
  lettering: Lettering,
): number[] {
  const across = 2 * padding.across;
  const wanted = columns.map(({ title, atLeast = 0 }, c) => {
    const head: Face = { height, bold: true };
    let [full, least] = [measured(lettering.clean(title), head, lettering), longestWord(title, head, lettering)];
    for (const { cells } of rows) {
      const cell = cells[c] ?? '';
      if (typeof cell !== 'string' && 'tick' in cell) {
        full = Math.max(full, tickSize);
        least = Math.max(least, tickSize);
        continue;
      }
      const { text, bold } = textOf(cell);
      const face: Face = { height, bold };
      for (const line of text.split('\n')) full = Math.max(full, measured(lettering.clean(line), face, lettering));
      least = Math.max(least, longestWord(text, face, lettering));
    }
    return { full: Math.max(full + across, atLeast), least: Math.max(least + across, atLeast) };
  });
  const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
  const full = wanted.map((one) => one.full);
  const left = width - sum(full);
  if (left >= 0) {
    const shares = sum(columns.map(({ grows = 0 }) => grows));
    return full.map((own, c) => own + (shares > 0 ? (left * (columns[c]?.grows ?? 0)) / shares : 0));
  }
  const least = wanted.map((one) => one.least);
  if (sum(least) <= width) return levelled(full, least, width);
  // Not even the longest words have room: they are broken, those of the widest columns first.
  const narrow = columns.map(({ atLeast = 0 }) => Math.max(atLeast, 4 * height + across));
  return levelled(
    least,
    least.map((own, c) => Math.min(own, narrow[c] as number)),
    width,
  );
}

/** The widest made narrower until all have room, none below its least. */
function levelled(full: readonly number[], least: readonly number[], width: number): number[] {
  const at = (level: number): number[] => full.map((own, c) => Math.max(least[c] as number, Math.min(own, level)));
  const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
  let [low, high] = [0, Math.max(...full)];
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (sum(at(middle)) <= width) low = middle;
    else high = middle;
  }
  const levelledWidths = at(low);
  const over = sum(levelledWidths) / width;
  return over > 1 ? levelledWidths.map((own) => own / over) : levelledWidths;
}

/** From its upper left corner. */
export function rowMarks(
  columns: readonly Column[],
  cells: readonly Cell[],
  widths: readonly number[],
  height: number,
  lettering: Lettering,
  highest: number,
): { readonly marks: Mark[]; readonly height: number } {
  const marks: Mark[] = [];
  const most = Math.max(1, Math.floor((highest - 2 * padding.down) / (height * leading)));
  let lines = 1;
  let x = 0;
  for (const [c, { align }] of columns.entries()) {
    const width = widths[c] as number;
    const cell = cells[c] ?? '';
    const [left, right] = [x + padding.across, x + width - padding.across];
    x += width;
    if (typeof cell !== 'string' && 'tick' in cell) {
      const top = padding.down + (height * leading - tickSize) / 2;
      marks.push(tickBox(left, top));
      continue;
    }
    const { text, bold } = textOf(cell);
    if (text === '') continue;
    const face: Face = { height, bold };
    const own = wrapped(text, right - left, face, lettering, most);
    lines = Math.max(lines, own.length);
    for (const [i, line] of own.entries()) {
      const baseline = padding.down + i * height * leading + height * (leading + ascent - 0.32) * 0.5;
      marks.push({
        kind: 'text',
        text: line,
        at: [align === 'left' ? left : right, baseline],
        height,
        bold,
        anchor: align === 'left' ? 'start' : 'end',
        turned: false,
        width: measured(line, face, lettering),
      });
    }
  }
  return { marks, height: Math.max(lines * height * leading, tickSize) + 2 * padding.down };
}

export function tickBox(left: number, top: number, size = tickSize): Mark {
  return {
    kind: 'path',
    points: [
      [left, top],
      [left + size, top],
      [left + size, top + size],
      [left, top + size],
    ],
    closed: true,
    width: 0.3,
    ground: 'paper',
  };
}
