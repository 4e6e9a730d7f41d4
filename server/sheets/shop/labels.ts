/** Labels of parts: what each is, where it goes and which board it comes from, in words and as a QR code of the same words. */
import qrcode from 'qrcode-generator';
import type { Extra } from '../../model/extras.ts';
import type { Part } from '../../model/layout.ts';
import type { Unit } from '../../model/project.ts';
import type { At, Mark } from '../drawing/paper.ts';
import { type Job, said } from '../packet/job.ts';
import { createPdf } from '../pdf/document.ts';
import { lineOf, movedBy } from '../pdf/flow.ts';
import type { Lettering } from '../pdf/lettering.ts';
import type { PageContent } from '../pdf/page.ts';
import { type Face, measured, shortened } from '../pdf/wrap.ts';
import { unitText } from './board-pages.ts';
import { cornerOf, type LabelSheet } from './label-sheet.ts';

export interface Label {
  /** Path of the part, or name of the loose part. */
  readonly part: string;
  /** Of the unit, with which of several it is. */
  readonly unit: string;
  readonly length: string;
  readonly depth: string | undefined;
  readonly material: string;
  /** `board 27, piece 3`; undefined where it is not planned. */
  readonly from: string | undefined;
}

export interface Labelled {
  readonly units: readonly Unit[];
  readonly extras: readonly Extra[];
  /** What is cut from what is left over gets labels as well. */
  readonly spares: boolean;
}

/** In the order in which they come off the saw, those that are not planned last. */
export function labelsOf({ units, extras, spares }: Labelled, job: Job): Label[] {
  const all = [
    ...units.flatMap(({ name, count, resolved }) =>
      (resolved?.layout.parts ?? []).map((part): Asked => ({ of: name, part, count, isLoose: false })),
    ),
    ...extras.map(({ name, count, part }): Asked => ({ of: name, part, count, isLoose: true })),
  ];
  const byKey = new Map(all.map((asked) => [keyOf(asked.of, asked.part.path, asked.isLoose), asked]));
  const labels: Label[] = [];
  for (const board of job.boards.boards)
    for (const piece of board.pieces) {
      const { use, spare } = piece;
      const asked = use && byKey.get(keyOf(use.unit, use.path, use.isLoose));
      if (use ? !asked : !spares) continue;
      labels.push({
        part: use?.path ?? (spare === undefined ? 'part' : `spare ${spare}`),
        unit: unitText(piece),
        length: said(piece.length, job),
        depth: depthOf(asked?.part, job),
        material: board.material,
        from: `${board.kind} ${board.number}, piece ${piece.number}`,
      });
    }
  for (const { of, part, count, isLoose } of all) {
    const planned = job.boards.slotsOf(of, part.path).length;
    for (let copy = planned + 1; copy <= count; copy++)
      labels.push({
        part: part.path,
        unit: unitText({ use: { unit: of, path: part.path, copy, of: count, isLoose } }),
        length: said(part.length, job),
        depth: depthOf(part, job),
        material: part.material,
        from: undefined,
      });
  }
  return labels;
}

/** A part that is to be cut: so many of it, for a unit or loose. */
interface Asked {
  /** Name of the unit, or of the loose part. */
  readonly of: string;
  readonly part: Part;
  readonly count: number;
  readonly isLoose: boolean;
}

/** A loose part may be called like a unit. */
function keyOf(of: string, path: string, isLoose: boolean): string {
  return [isLoose ? 'loose' : 'unit', of, path].join('\n');
}

function depthOf(part: Part | undefined, job: Job): string | undefined {
  return part?.depth === undefined ? undefined : said(part.depth, job);
}

/** What the code says, and the label as well. */
export function labelText(
  { part, unit, length, depth, material, from }: Label,
  job: Pick<Job, 'title' | 'style'>,
): string {
  const measure = job.style === 'millimetres' ? ' mm' : '';
  const size = depth === undefined ? `${length}${measure}` : `${length} x ${depth}${measure}`;
  return [part, unit, `${size} ${material}`, from ?? 'not planned', job.title].filter((line) => line !== '').join('\n');
}

/** Dark modules by row; undefined where the text is more than a code can hold. */
export function codeOf(text: string): boolean[][] | undefined {
  const code = qrcode(0, 'M');
  try {
    // The library takes one byte a letter: it is given those of UTF-8.
    code.addData(String.fromCharCode(...new TextEncoder().encode(text)), 'Byte');
    code.make();
  } catch {
    return undefined;
  }
  const size = code.getModuleCount();
  return Array.from({ length: size }, (_, row) =>
    Array.from({ length: size }, (_, column) => code.isDark(row, column)),
  );
}

/** A printer of 300 dots an inch makes four dots of this; what is finer is not read (common practice, no source). */
const leastModule = 0.33;
/** Around a code, in modules: ISO/IEC 18004 wants four (from memory). */
const quiet = 4;
const leading = 1.75;
const lines = 5;

/** Printers leave the edge of a sheet white, which may be the edge of a label. */
function paddingOf(size: number): number {
  return Math.min(4.5, Math.max(1.2, size * 0.07));
}

export interface LabelsMade {
  readonly pages: readonly PageContent[];
  /** Labels that have no code, as it would be too fine to be read. */
  readonly withoutCode: number;
}

/** `start` is the place of the first label on the first sheet, from 1. */
export function* labelPages(
  labels: readonly Label[],
  sheet: LabelSheet,
  start: number,
  job: Pick<Job, 'title' | 'style'>,
  lettering: Lettering,
  onBare: () => void = () => undefined,
): Generator<PageContent> {
  const { columns, rows, sheet: paper } = sheet;
  const each = columns * rows;
  let marks: Mark[] = [];
  let page = 1;
  for (const [i, label] of labels.entries()) {
    const place = start - 1 + i;
    if (i > 0 && place % each === 0) {
      yield { ...paper, marks, bookmarks: [{ title: `Sheet ${page++}`, level: 0 }] };
      marks = [];
    }
    const [left, top] = cornerOf(sheet, place % each);
    const made = labelMarks(label, sheet, job, lettering);
    if (!made.hasCode) onBare();
    marks.push(...made.marks.map((mark) => movedBy(mark, left, top)));
  }
  if (labels.length > 0) yield { ...paper, marks, bookmarks: [{ title: `Sheet ${page}`, level: 0 }] };
}

function labelMarks(
  label: Label,
  { label: { width, height } }: LabelSheet,
  job: Pick<Job, 'title' | 'style'>,
  lettering: Lettering,
): { readonly marks: Mark[]; readonly hasCode: boolean } {
  const text = labelText(label, job);
  const modules = codeOf(text);
  const room = Math.min(height, width * 0.45);
  const module = modules ? room / (modules.length + 2 * quiet) : 0;
  const hasCode = modules !== undefined && module >= leastModule;
  // Larger than this is only ink.
  const side = hasCode ? Math.min(room, modules.length + 2 * quiet) : 0;
  const marks: Mark[] = [];
  if (hasCode) {
    const own = side / (modules.length + 2 * quiet);
    marks.push(...codeMarks(modules, own, [width - side + quiet * own, (height - side) / 2 + quiet * own]));
  }
  const [across, down] = [paddingOf(width), paddingOf(height)];
  const free = width - across - (hasCode ? side : across);
  const letter = Math.min(2.8, (height - 2 * down) / (lines * leading));
  const measure = job.style === 'millimetres' ? ' mm' : '';
  const size = `${label.length}${label.depth === undefined ? '' : ` x ${label.depth}`}${measure}`;
  const written: [string, Face][] = [
    [label.part, { height: letter, bold: true }],
    [label.unit, { height: letter * 0.85 }],
    [size, { height: letter, bold: true }],
    [label.material, { height: letter * 0.85 }],
    [label.from ?? 'not planned', { height: letter, bold: true }],
  ];
  const step = (height - 2 * down) / lines;
  for (const [i, [line, face]] of written.entries()) {
    const at: At = [across, down + step * (i + 0.5) + face.height / 2];
    // A little smaller rather than cut off, as long as it can be read.
    const full = measured(lettering.clean(line), face, lettering);
    const smaller = full > free ? Math.max(0.6, free / full) : 1;
    const fitting: Face = { ...face, height: face.height * smaller };
    marks.push(lineOf(shortened(line, free, fitting, lettering), at, fitting, lettering));
  }
  return { marks: marks.filter((mark) => mark.kind !== 'text' || mark.text !== ''), hasCode };
}

/** Dark modules of a row that touch are one rectangle. */
function codeMarks(modules: readonly (readonly boolean[])[], size: number, [left, top]: At): Mark[] {
  const marks: Mark[] = [];
  for (const [row, cells] of modules.entries())
    for (let from = 0; from < cells.length; from++) {
      if (!cells[from]) continue;
      let to = from;
      while (cells[to + 1]) to++;
      const [x0, x1, y0, y1] = [left + from * size, left + (to + 1) * size, top + row * size, top + (row + 1) * size];
      const points: At[] = [
        [x0, y0],
        [x1, y0],
        [x1, y1],
        [x0, y1],
      ];
      marks.push({ kind: 'path', points, closed: true, width: 0, ground: 'ink' });
      from = to;
    }
  return marks;
}

export function* labelFile(
  labels: readonly Label[],
  sheet: LabelSheet,
  start: number,
  job: Job,
  lettering: Lettering,
  onBare?: () => void,
): Generator<Uint8Array> {
  const title = `Part labels, ${job.title}`;
  const pdf = createPdf({ title, subject: job.title, creator: job.creator, date: job.date }, lettering);
  for (const page of labelPages(labels, sheet, start, job, lettering, onBare)) {
    pdf.addPage(page);
    yield* pdf.taken();
  }
  yield* pdf.end();
}
