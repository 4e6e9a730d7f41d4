/** Sheets of labels of any size: how many stand on one and where, checked before anything is printed. */

export interface LabelSheet {
  /** In millimetres, all of them. */
  readonly sheet: { readonly width: number; readonly height: number };
  readonly label: { readonly width: number; readonly height: number };
  /** Of the first label from the left and upper edge. */
  readonly margin: { readonly left: number; readonly top: number };
  readonly gap: { readonly across: number; readonly down: number };
  readonly columns: number;
  readonly rows: number;
}

export interface LabelSheetAsked {
  readonly sheet: LabelSheet['sheet'];
  readonly label: LabelSheet['label'];
  /** In the middle of the sheet where it is not said. */
  readonly margin?: LabelSheet['margin'] | undefined;
  readonly gap?: LabelSheet['gap'] | undefined;
}

export type LabelSheetMade =
  | { readonly kind: 'fits'; readonly sheet: LabelSheet }
  /** Whole sentences: the numbers, and what to do. */
  | { readonly kind: 'refused'; readonly why: string };

/** Smaller than this nobody reads or scans. */
const leastLabel = { width: 24, height: 10 };
/** For sums that come out a trifle long. */
const trifle = 1e-6;

export function labelSheet({ sheet, label, margin, gap = { across: 0, down: 0 } }: LabelSheetAsked): LabelSheetMade {
  const size = `${mm(label.width)} x ${mm(label.height)}`;
  if (label.width < leastLabel.width || label.height < leastLabel.height)
    return refused(
      `A label of ${size} is too small to read: it takes at least ${mm(leastLabel.width)} x ${mm(leastLabel.height)}.`,
    );
  const [columns, rows] = [
    many(sheet.width - (margin?.left ?? 0), label.width, gap.across),
    many(sheet.height - (margin?.top ?? 0), label.height, gap.down),
  ];
  if (columns < 1 || rows < 1) {
    const edge = margin ? ` with a margin of ${mm(margin.left)} at the left and ${mm(margin.top)} at the top` : '';
    return refused(
      `A label of ${size} has no room on a sheet of ${mm(sheet.width)} x ${mm(sheet.height)}${edge}: ${columns < 1 ? `it is ${mm(label.width - sheet.width + (margin?.left ?? 0))} too wide` : `it is ${mm(label.height - sheet.height + (margin?.top ?? 0))} too high`}.`,
    );
  }
  const middle = {
    left: (sheet.width - columns * label.width - (columns - 1) * gap.across) / 2,
    top: (sheet.height - rows * label.height - (rows - 1) * gap.down) / 2,
  };
  return { kind: 'fits', sheet: { sheet, label, margin: margin ?? middle, gap, columns, rows } };
}

function many(room: number, size: number, gap: number): number {
  return Math.max(0, Math.floor((room + gap + trifle) / (size + gap)));
}

function refused(why: string): LabelSheetMade {
  return { kind: 'refused', why };
}

function mm(value: number): string {
  return `${Number(value.toFixed(1))}mm`;
}

/** Upper left corner of the label at this place of its sheet, from 0, row by row. */
export function cornerOf({ margin, label, gap, columns }: LabelSheet, place: number): readonly [number, number] {
  const [column, row] = [place % columns, Math.floor(place / columns)];
  return [margin.left + column * (label.width + gap.across), margin.top + row * (label.height + gap.down)];
}
