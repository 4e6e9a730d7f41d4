/**
 * A page with one drawing or several: border, title block, scale bar, legend, what was found, and a word of caution.
 * A page is placed like any drawing, so what draws those draws it.
 */
import type { Severity } from '../../model/rule.ts';
import { TICKS_PER_MM } from '../../model/ticks.ts';
import type { LengthStyle } from './drawable.ts';
import { legendOf, type Meaning } from './legend.ts';
import { widthOf } from './letters.ts';
import { type At, ascent, descent, type Group, type Mark, type Placed } from './paper.ts';
import { heights, inchScales, metricScales, pens, scaleText } from './pens.ts';
import { place } from './place.ts';
import { boundsOf, type Scene } from './scene.ts';
import { fitted, linesOf, writtenAt } from './writing.ts';

export type PaperName = 'a4' | 'a3' | 'letter';
export type Orientation = 'landscape' | 'portrait';

/** Short side and long side in millimetres: ISO 216, and 8-1/2 in by 11 in. */
export const papers: Readonly<Record<PaperName, readonly [number, number]>> = {
  a4: [210, 297],
  a3: [297, 420],
  letter: [215.9, 279.4],
};

export interface TitleBlock {
  readonly project: string;
  readonly unit: string;
  /** `reach-in, mirrored, measured`. */
  readonly template: string;
  readonly drawing: string;
  /** A commit, where there is one. */
  readonly revision?: string | undefined;
  /** As it is written: `2026-11-28`. */
  readonly date: string;
  readonly sheet?: { readonly number: number; readonly of: number } | undefined;
}

export interface ListedFinding {
  readonly number: string;
  readonly severity: Severity;
  readonly text: string;
}

export interface Page {
  readonly paper: PaperName;
  /** Without it, the one on which the drawing is larger. */
  readonly orientation?: Orientation | undefined;
  /** Side by side as far as there is room, at one scale. */
  readonly scenes: readonly Scene[];
  readonly style: LengthStyle;
  readonly title: TitleBlock;
  /** Those that are drawn here, by their numbers. */
  readonly findings: readonly ListedFinding[];
  /** Across the page: `Errors in this unit: do not cut by this drawing`. */
  readonly banner?: string | undefined;
  readonly notes?: readonly string[];
}

/** By the practice of ISO 5457 (common practice as noted): wider at the left, where sheets are filed. */
const border = { left: 20, other: 10 };
/** Of a row of the title block. */
const rowHeight = 11;
const bannerHeight = 8;
/** Of the column beside the drawing, or of the strip below it. */
const column = 64;
const strip = 58;
const pad = 2.5;
const small = heights.small;
const line = small * 1.7;

const caution =
  "Figures hold, not what is measured on this sheet. Look for wires and pipes before drilling; fasten into studs where they are marked. Local codes, licensed trades and the instructions of the hardware's maker come first.";

export const units: Readonly<Record<LengthStyle, string>> = {
  inches: 'inches',
  feet: 'feet and inches',
  millimetres: 'millimetres',
};

type Area = readonly [left: number, top: number, right: number, bottom: number];

interface Arranged {
  readonly drawings: readonly { readonly placed: Placed; readonly at: At }[];
  readonly scale: number;
}

interface Form {
  readonly orientation: Orientation;
  /** Of the title block. */
  readonly titleTop: number;
  readonly width: number;
  readonly height: number;
  readonly drawing: Area;
  readonly reading: Area;
  readonly fixed: Area;
}

export function pageOf(page: Page): Placed {
  const legend = legendOf(page.scenes);
  const orientations: readonly Orientation[] = page.orientation ? [page.orientation] : ['landscape', 'portrait'];
  const tried = orientations.map((orientation) => {
    const form = formOf(page, orientation, legend);
    return { form, arranged: arrange(page, form.drawing) };
  });
  const best = tried.reduce((a, b) => (b.arranged.scale < a.arranged.scale * 0.99 ? b : a));
  return filled(page, best.form, best.arranged, legend);
}

// The parts of a page

function formOf({ paper, banner, scenes }: Page, orientation: Orientation, legend: readonly Meaning[]): Form {
  const [short, long] = papers[paper];
  const [width, height] = orientation === 'landscape' ? [long, short] : [short, long];
  const inner: Area = [border.left, border.other, width - border.other, height - border.other];
  const top = inner[1] + (banner === undefined ? 0 : bannerHeight);
  const bottom = inner[3] - (orientation === 'landscape' ? 2 : 3) * rowHeight;
  const common = { orientation, titleTop: bottom, width, height };
  const scaleBar = scenes.length > 0 ? 9 : 0;
  if (orientation === 'landscape') {
    const side = inner[2] - column;
    const fixedTop = bottom - fixedHeight(legend, column - 2 * pad);
    return {
      ...common,
      drawing: [inner[0] + pad, top + pad, side - pad, bottom - pad - scaleBar],
      reading: [side + pad, top + pad, inner[2] - pad, fixedTop - pad],
      fixed: [side + pad, fixedTop, inner[2] - pad, bottom - pad],
    };
  }
  const middle = inner[0] + (inner[2] - inner[0]) * 0.45;
  const below = bottom - Math.max(strip, fixedHeight(legend, middle - inner[0] - 2 * pad) + pad);
  return {
    ...common,
    drawing: [inner[0] + pad, top + pad, inner[2] - pad, below - pad - scaleBar],
    fixed: [inner[0] + pad, below + pad, middle - pad, bottom - pad],
    reading: [middle + pad, below + pad, inner[2] - pad, bottom - pad],
  };
}

/** Of the legend and the caution. */
function fixedHeight(legend: readonly Meaning[], room: number): number {
  const rows = legend.reduce((sum, { text }) => sum + linesOf(text, room - 12, small).length, 0);
  const said = linesOf(caution, room, small).length;
  return (rows > 0 ? line * 1.5 : 0) + rows * line + legend.length * 1.2 + line * 0.8 + said * line + pad;
}

/** The largest scale at which all have room, in rows; where none has, drawn smaller still, letters and all. */
function arrange({ scenes, style }: Page, [left, top, right, bottom]: Area): Arranged {
  const [width, height] = [right - left, bottom - top];
  const scales = style === 'millimetres' ? metricScales : inchScales;
  let nearest: { readonly rows: Rows; readonly factor: number; readonly scale: number } | undefined;
  const bounds = scenes.map(boundsOf);
  for (const scale of scales) {
    // What is far too large is not worth placing; twice as large may be the best there is, where numbers take the room.
    const [w, h] = [width, height].map((size) => size * 2 * TICKS_PER_MM * scale) as [number, number];
    if (scale !== scales.at(-1) && bounds.some(({ x, y }) => x[1] - x[0] > w || y[1] - y[0] > h)) continue;
    const rows = rowsOf(
      scenes.map((scene) => place(scene, scale)),
      width,
    );
    const factor = Math.min(width / rows.width, height / rows.height);
    if (factor >= 1) return { drawings: middled(rows, [left, top, right, bottom], 1), scale };
    if (!nearest || factor > nearest.factor) nearest = { rows, factor, scale };
    else if (factor < nearest.factor) break;
  }
  if (!nearest) return { drawings: [], scale: 0 };
  return {
    drawings: middled(nearest.rows, [left, top, right, bottom], nearest.factor),
    scale: nearest.scale / nearest.factor,
  };
}

interface Rows {
  readonly width: number;
  readonly height: number;
  readonly all: readonly { readonly placed: Placed; readonly at: At }[];
}

const between = 6;

function rowsOf(drawings: readonly Placed[], width: number): Rows {
  const all: { placed: Placed; at: At }[] = [];
  let [x, y, high, wide] = [0, 0, 0, 0];
  for (const placed of drawings) {
    if (x > 0 && x + placed.width > width) {
      [x, y, high] = [0, y + high + between, 0];
    }
    all.push({ placed, at: [x, y] });
    x += placed.width + between;
    high = Math.max(high, placed.height);
    wide = Math.max(wide, x - between);
  }
  return { width: wide, height: y + high, all };
}

function middled({ all, width, height }: Rows, [left, top, right, bottom]: Area, factor: number): Arranged['drawings'] {
  const dx = left + (right - left - width * factor) / 2;
  const dy = top + (bottom - top - height * factor) / 2;
  return all.map(({ placed, at }) => ({
    placed: factor === 1 ? placed : shrunk(placed, factor),
    at: [dx + at[0] * factor, dy + at[1] * factor],
  }));
}

function filled(page: Page, form: Form, { drawings, scale }: Arranged, legend: readonly Meaning[]): Placed {
  const { width, height } = form;
  const inner: Area = [border.left, border.other, width - border.other, height - border.other];
  const key = drawings.flatMap(({ placed }) => placed.key);
  const notes = [...(page.notes ?? []), ...drawings.flatMap(({ placed }) => placed.notes ?? [])];
  const sheet: Mark[] = [
    outline(inner, pens.cut.width),
    ...dividers(form, inner),
    ...bannerOf(page, inner),
    ...titleBlock(page, form, inner, scale),
    ...(scale > 0 ? scaleBar(page.style, scale, form.drawing) : []),
    ...reading(page, key, notes, form.reading),
    ...fixedOf(legend, form.fixed),
  ];
  return {
    title: `${page.title.unit}: ${page.title.drawing}`,
    width,
    height,
    scale,
    groups: [...drawings.flatMap(({ placed, at }) => movedBy(placed.groups, at)), { layer: 'sheet', marks: sheet }],
    key,
    notes,
  };
}

function outline([left, top, right, bottom]: Area, width: number): Mark {
  const points: At[] = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
  return { kind: 'path', points, closed: true, width, ground: 'none' };
}

function stroke(from: At, to: At, width = pens.thin.width): Mark {
  return { kind: 'path', points: [from, to], closed: false, width, ground: 'none' };
}

function dividers({ reading, fixed, titleTop: bottom }: Form, inner: Area): Mark[] {
  const top = Math.min(reading[1], fixed[1]) - pad;
  // Beside the drawing there is a column; below it, a strip of two.
  if (reading[0] === fixed[0])
    return [
      stroke([reading[0] - pad, top], [reading[0] - pad, bottom]),
      stroke([reading[0] - pad, fixed[1]], [inner[2], fixed[1]]),
    ];
  return [stroke([inner[0], top], [inner[2], top]), stroke([reading[0] - pad, top], [reading[0] - pad, bottom])];
}

function bannerOf({ banner }: Page, [left, top, right]: Area): Mark[] {
  if (banner === undefined) return [];
  const height = 3.5;
  const points: At[] = [
    [left, top],
    [right, top],
    [right, top + bannerHeight],
    [left, top + bannerHeight],
  ];
  const text = fitted(banner, right - left - 4, height, true);
  const at: At = [(left + right) / 2, top + (bannerHeight + height) / 2];
  return [
    { kind: 'path', points, closed: true, width: 0, ground: 'ink' },
    { ...writtenAt(text, at, height, { bold: true, anchor: 'middle' }), reversed: true },
  ];
}

type Cell = readonly [caption: string, value: string, share: number, bold?: boolean];

/** What it is of, and what it is. */
function titleBlock({ title, style }: Page, { orientation, titleTop: top }: Form, inner: Area, scale: number): Mark[] {
  const [left, , right] = inner;
  const { project, unit, template, drawing, revision, date, sheet } = title;
  const named = (share: number): Cell => ['Drawing', drawing, share, true];
  const first: Cell[] = [
    ['Project', project, 32],
    ['Unit', unit, 36, true],
  ];
  const built: Cell = ['Template', template, 32];
  const rest: Cell[] = [
    ['Scale', scale > 0 ? scaleText(scale, style === 'millimetres') : 'none', 21],
    ['Lengths in', units[style], 15],
    ['Revision', revision ?? 'none', 13],
    ['Date', date, 12],
    ['Sheet', sheet ? `${sheet.number} of ${sheet.of}` : '1 of 1', 9],
  ];
  const rows =
    orientation === 'landscape'
      ? [
          [...first, built],
          [named(30), ...rest],
        ]
      : [first, [built, named(36)], rest];
  const marks: Mark[] = [stroke([left, top], [right, top], pens.outline.width)];
  for (const [i, row] of rows.entries()) {
    const y = top + i * rowHeight;
    if (i > 0) marks.push(stroke([left, y], [right, y]));
    const shares = row.reduce((sum, [, , share]) => sum + share, 0);
    let x = left;
    for (const [caption, value, share, isBold = false] of row) {
      const room = ((right - left) * share) / shares;
      if (x > left) marks.push(stroke([x, y], [x, y + rowHeight]));
      const height = 2.8;
      marks.push(
        writtenAt(fitted(caption, room - 2.4, 1.6), [x + 1.2, y + 3.1], 1.6),
        writtenAt(fitted(value, room - 2.4, height, isBold), [x + 1.2, y + rowHeight - 2.3], height, { bold: isBold }),
      );
      x += room;
    }
  }
  return marks;
}

/** Steps of a scale bar that people count in, in millimetres, and how they are said. */
const barSteps: Readonly<Record<LengthStyle, readonly (readonly [mm: number, text: (n: number) => string])[]>> = {
  millimetres: [10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000, 50000].map((mm) => [
    mm,
    (n) => String(mm * n),
  ]),
  inches: [0.25, 0.5, 1, 2, 3, 6, 12, 24, 48, 96, 240, 480, 1200, 2400].map((inches) => [
    inches * 25.4,
    (n) => `${inches * n}"`,
  ]),
  feet: [1 / 12, 0.25, 0.5, 1, 2, 4, 8, 10, 20, 50, 100, 200].map((feet) => [
    feet * 304.8,
    (n) => (feet < 1 ? `${Math.round(feet * n * 12)}"` : `${feet * n}'`),
  ]),
};

/** Four steps, at the lower left of the drawing. */
function scaleBar(style: LengthStyle, scale: number, [left, , , bottom]: Area): Mark[] {
  const steps = barSteps[style];
  const [mm, text] = steps.find(([step]) => step / scale >= 9) ?? (steps.at(-1) as (typeof steps)[number]);
  const each = mm / scale;
  const [y, high] = [bottom + 6.5, 1.2];
  const marks: Mark[] = [];
  for (let i = 0; i < 4; i++) {
    const points: At[] = [
      [left + 2 + i * each, y],
      [left + 2 + (i + 1) * each, y],
      [left + 2 + (i + 1) * each, y + high],
      [left + 2 + i * each, y + high],
    ];
    marks.push({ kind: 'path', points, closed: true, width: pens.thin.width, ground: i % 2 === 0 ? 'ink' : 'paper' });
  }
  let free = -Infinity;
  for (let i = 0; i <= 4; i++) {
    const label = writtenAt(text(i), [left + 2 + i * each, y - 1], small * 0.9, {
      anchor: i === 0 ? 'start' : 'middle',
    });
    const from = i === 0 ? label.at[0] : label.at[0] - label.width / 2;
    if (from < free) continue;
    marks.push(label);
    free = from + label.width + 1;
  }
  return marks;
}

function heading(text: string, [x, y]: At): Mark {
  return writtenAt(text, [x, y], small * 1.05, { bold: true });
}

/** What stands in the drawing by a letter, what was found, and what is to be noted; as much of it as has room. */
function reading(
  { findings }: Page,
  key: Placed['key'],
  notes: readonly string[],
  [left, top, right, bottom]: Area,
): Mark[] {
  const marks: Mark[] = [];
  let y = top + small * ascent;
  const last = bottom - small * descent;
  const indent = 9;
  const section = (
    title: string,
    entries: readonly { readonly number?: string; readonly text: string; readonly isFinding?: boolean }[],
    rest: (count: number) => string,
  ): void => {
    if (entries.length === 0 || y > last) return;
    marks.push(heading(title, [left, y]));
    y += line * 1.4;
    for (const [i, { number, text, isFinding }] of entries.entries()) {
      const numberWidth = number === undefined ? 0 : widthOf(number, true) * small;
      const from = number === undefined ? left : left + Math.max(indent, numberWidth + 5);
      const lines = linesOf(text, right - from, small, false, 6);
      const isLast = i === entries.length - 1;
      // A line is kept for telling how many more there are.
      if (y + (lines.length - (isLast ? 1 : 0)) * line > last) {
        if (y <= last) marks.push(writtenAt(fitted(rest(entries.length - i), right - left, small), [left, y], small));
        y = last + 1;
        return;
      }
      if (number !== undefined) {
        const at: At = [left + Math.max(3.5, numberWidth / 2 + 1), y - small / 2];
        if (isFinding) {
          marks.push(...diamond(at, numberWidth), {
            ...writtenAt(number, [at[0], y], small, { bold: true, anchor: 'middle' }),
            reversed: true,
          });
        } else marks.push(writtenAt(number, [left, y], small, { bold: true }));
      }
      for (const words of lines) {
        marks.push(writtenAt(words, [from, y], small));
        y += line;
      }
      y += 1.4;
    }
    y += line * 0.6;
  };
  section(
    'Found here',
    findings.map(({ number, severity, text }) => ({ number, text: `${severity}: ${text}`, isFinding: true })),
    (count) => `${count} more: storypole check lists all.`,
  );
  section('Stands in the drawing by a letter', key, (count) => `${count} more have no room.`);
  section(
    'Note',
    notes.map((text) => ({ text })),
    (count) => `${count} more notes have no room.`,
  );
  return marks;
}

function diamond([x, y]: At, numberWidth: number): Mark[] {
  const half = Math.max(3, numberWidth / 2 + 0.8);
  const points: At[] = [
    [x - half, y],
    [x, y - 2],
    [x + half, y],
    [x, y + 2],
  ];
  return [{ kind: 'path', points, closed: true, width: pens.thin.width, ground: 'ink' }];
}

function fixedOf(legend: readonly Meaning[], [left, top, right]: Area): Mark[] {
  const marks: Mark[] = [];
  let y = top + pad + small * ascent;
  if (legend.length > 0) {
    marks.push(heading('What is drawn how', [left, y]));
    y += line * 1.5;
  }
  for (const { text, sample } of legend) {
    marks.push(...sample([left + 4.5, y - small / 2]));
    for (const words of linesOf(text, right - left - 12, small)) {
      marks.push(writtenAt(words, [left + 12, y], small));
      y += line;
    }
    y += 1.2;
  }
  y += line * 0.3;
  for (const words of linesOf(caution, right - left, small)) {
    marks.push(writtenAt(words, [left, y], small));
    y += line;
  }
  return marks;
}

// Moving and shrinking what was placed

function mapped(groups: readonly Group[], to: (at: At) => At, factor = 1): Group[] {
  const dashed = (mark: { readonly dash?: readonly number[] }) =>
    mark.dash && factor !== 1 ? { dash: mark.dash.map((d) => d * factor) } : {};
  const one = (mark: Mark): Mark => {
    switch (mark.kind) {
      case 'path':
        return { ...mark, ...dashed(mark), points: mark.points.map(to), width: mark.width * factor };
      case 'text':
        return { ...mark, at: to(mark.at), height: mark.height * factor, width: mark.width * factor };
      default:
        return {
          ...mark,
          ...dashed(mark),
          centre: to(mark.centre),
          radius: mark.radius * factor,
          width: mark.width * factor,
        };
    }
  };
  return groups.map((group) => ({ ...group, marks: group.marks.map(one) }));
}

function movedBy(groups: readonly Group[], [dx, dy]: At): Group[] {
  return mapped(groups, ([x, y]) => [x + dx, y + dy]);
}

/** Smaller as a whole. */
export function shrunk(placed: Placed, factor: number): Placed {
  return {
    ...placed,
    width: placed.width * factor,
    height: placed.height * factor,
    scale: placed.scale / factor,
    groups: mapped(placed.groups, ([x, y]) => [x * factor, y * factor], factor),
  };
}
