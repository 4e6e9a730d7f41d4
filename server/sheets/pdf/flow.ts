/**
 * Texts, tables and drawings one under the other over as many pages as they take. A row is never cut, the head of a
 * table stands on each of its pages, and nothing is wider than the page.
 */
import { type At, ascent, type Mark, type Placed } from '../drawing/paper.ts';
import { noMoreThan } from '../too-much.ts';
import type { Lettering } from './lettering.ts';
import { type Area, type Bookmark, type PageContent, type Paper, turned } from './page.ts';
import { type Column, columnWidths, type Row, rowMarks } from './table.ts';
import { type Face, measured, wrapped } from './wrap.ts';

export interface Margins {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Capital letters of running text, of headings and of titles, in millimetres. */
export const sizes = { small: 1.9, text: 2.3, heading: 3.2, title: 6 } as const;

/** From one baseline to the next, in heights of a capital letter. */
const leading = 1.75;

export interface TableOptions {
  /** Of a capital letter. */
  readonly height?: number;
  readonly hasHead?: boolean;
  /** Said again where it goes on on another page. */
  readonly about?: string;
}

interface Page {
  readonly paper: Paper;
  readonly marks: Mark[];
  readonly bookmarks: Bookmark[];
}

export class Flow {
  readonly lettering: Lettering;
  private readonly paper: Paper;
  private readonly margins: Margins;
  private readonly pages: Page[] = [];
  private y = 0;

  constructor(paper: Paper, margins: Margins, lettering: Lettering) {
    this.paper = paper;
    this.margins = margins;
    this.lettering = lettering;
  }

  /** Pages so far, as they are without what stands around them. */
  get made(): readonly PageContent[] {
    return this.pages.map(({ paper, marks, bookmarks }) => ({ ...paper, marks, bookmarks }));
  }

  /** Of the page that is being filled. */
  get area(): Area {
    const { width, height } = this.current.paper;
    const { left, top, right, bottom } = this.margins;
    return { left, top, right: width - right, bottom: height - bottom };
  }

  get width(): number {
    return this.area.right - this.area.left;
  }

  /** How much is left on the page. */
  get left(): number {
    return this.area.bottom - this.y;
  }

  private get current(): Page {
    return this.pages.at(-1) ?? this.start(this.paper);
  }

  private start(paper: Paper): Page {
    const page: Page = { paper, marks: [], bookmarks: [] };
    this.pages.push(page);
    noMoreThan('mostPagesOfOne', this.pages.length, (_, most) => ({
      what: `The sheets come to more than ${most} pages, the most that are made of one unit, or of the boards of one project.`,
      mend: 'Give it fewer parts and fixings, or divide it into several.',
    }));
    this.y = this.margins.top;
    return page;
  }

  newPage(): void {
    this.start(this.paper);
  }

  /** Goes to a new page where less than this is left. */
  keep(height: number): void {
    if (this.pages.length === 0) this.start(this.paper);
    else if (this.left < height) this.start(this.current.paper);
  }

  bookmark(title: string, level: 0 | 1): void {
    this.current.bookmarks.push({ title, level });
  }

  space(height: number): void {
    if (this.pages.length > 0) this.y += height;
  }

  add(...marks: readonly Mark[]): void {
    this.current.marks.push(...marks);
  }

  /** Stays with what follows: `with` is how much of it must be on the same page. */
  heading(text: string, { size = sizes.heading, with: following = 25 }: { size?: number; with?: number } = {}): void {
    const face: Face = { height: size, bold: true };
    const lines = wrapped(text, this.pages.length > 0 ? this.width : this.widthOf(this.paper), face, this.lettering, 6);
    this.keep(lines.length * size * leading + following);
    if (this.y > this.margins.top) this.y += size;
    this.lines(lines, face, 0);
    this.y += size * 0.3;
  }

  text(
    text: string,
    { height = sizes.text, bold = false, indent = 0 }: Partial<Face> & { indent?: number } = {},
  ): void {
    const face: Face = { height, bold };
    this.keep(height * leading);
    this.lines(wrapped(text, this.width - indent, face, this.lettering), face, indent);
    this.y += height * 0.5;
  }

  private widthOf(paper: Paper): number {
    return paper.width - this.margins.left - this.margins.right;
  }

  private lines(lines: readonly string[], face: Face, indent: number): void {
    const { height, bold = false } = face;
    for (const text of lines) {
      this.keep(height * leading);
      this.y += height * leading;
      const at: At = [this.area.left + indent, this.y - height * (leading - ascent) * 0.5];
      const width = measured(text, face, this.lettering);
      this.add({ kind: 'text', text, at, height, bold, anchor: 'start', turned: false, width });
    }
  }

  /** A row that is higher than a page is shortened. */
  table(
    columns: readonly Column[],
    rows: readonly Row[],
    { height = sizes.text, hasHead = true, about }: TableOptions = {},
  ): void {
    if (rows.length === 0) return;
    if (this.pages.length === 0) this.start(this.paper);
    const { left, top, bottom } = this.area;
    const widths = columnWidths(columns, rows, this.width, height, this.lettering);
    const most = bottom - top;
    const titles = columns.map(({ title }) => ({ text: title, bold: true }));
    const head = hasHead
      ? rowMarks(columns, titles, widths, height, this.lettering, most / 2)
      : { marks: [], height: 0 };
    const line = (y: number, width: number): Mark => ({
      kind: 'path',
      points: [
        [left, y],
        [left + widths.reduce((sum, one) => sum + one, 0), y],
      ],
      closed: false,
      width,
      ground: 'none',
    });
    const put = (row: { readonly marks: readonly Mark[]; readonly height: number }): void => {
      this.add(...row.marks.map((mark) => movedBy(mark, left, this.y)));
      this.y += row.height;
    };
    const withHead = (isMore: boolean): void => {
      if (isMore && about !== undefined) this.text(`${about}, continued`, { bold: true });
      put(head);
      this.add(line(this.y, 0.35));
    };
    const made = rows.map((row) => {
      const { marks, height: own } = rowMarks(
        columns,
        row.cells,
        widths,
        height,
        this.lettering,
        most - head.height - 10,
      );
      return { marks, height: Math.max(own, row.atLeast ?? 0) };
    });
    const [first] = made;
    this.keep(head.height + (first?.height ?? 0));
    withHead(false);
    for (const [i, row] of made.entries()) {
      // The last row does not stand alone on a page.
      const last = i === made.length - 2 && i > 0 ? (made[i + 1]?.height ?? 0) : 0;
      if (this.left < row.height + last) {
        this.start(this.current.paper);
        withHead(true);
      }
      put(row);
      this.add(line(this.y, 0.13));
    }
    this.y += height;
  }

  /** Marks that begin at 0, 0 of a strip as wide as the page. */
  strip(marks: readonly Mark[], height: number): void {
    this.keep(height);
    this.add(...marks.map((mark) => movedBy(mark, this.area.left, this.y)));
    this.y += height;
  }

  /** On a page of its own that lies as it is wanted. */
  pageFor(isTurned: boolean): void {
    this.start(isTurned ? turned(this.paper) : this.paper);
  }

  /** Where the page lies as `isTurned` says, this much is free for a drawing. */
  roomFor(isTurned: boolean): { readonly width: number; readonly height: number } {
    const { width, height } = isTurned ? turned(this.paper) : this.paper;
    const { left, top, right, bottom } = this.margins;
    return { width: width - left - right, height: height - top - bottom };
  }

  /** A drawing in the middle of what is left and right, and what is below goes on below it. */
  drawing(placed: Placed): void {
    const x = this.area.left + Math.max(0, (this.width - placed.width) / 2);
    for (const { marks } of placed.groups) this.add(...marks.map((mark) => movedBy(mark, x, this.y)));
    this.y += placed.height;
  }
}

export function movedBy<T extends Mark>(mark: T, dx: number, dy: number): T {
  const to = ([x, y]: At): At => [x + dx, y + dy];
  switch (mark.kind) {
    case 'path':
      return { ...mark, points: mark.points.map(to) };
    case 'text':
      return { ...mark, at: to(mark.at) };
    default:
      return { ...mark, centre: to(mark.centre) };
  }
}

/** A line of text by itself. */
export function lineOf(
  text: string,
  at: At,
  face: Face,
  lettering: Lettering,
  anchor: 'start' | 'middle' | 'end' = 'start',
): Mark {
  const { height, bold = false } = face;
  return { kind: 'text', text, at, height, bold, anchor, turned: false, width: measured(text, face, lettering) };
}
