/** What stands around each page of a document: what it is about at the top, its number and how old it is at the bottom. */
import type { Mark } from '../drawing/paper.ts';
import { allPages } from './document.ts';
import { lineOf, type Margins } from './flow.ts';
import type { Lettering } from './lettering.ts';
import type { PageContent } from './page.ts';
import { type Face, measured, shortened } from './wrap.ts';

export interface Frame {
  /** Small, above the title: the project. */
  readonly above: string;
  readonly title: string;
  /** At the right of the title: what the sheets are. */
  readonly kind: string;
  /** At the left of the foot: revision, date, measure. */
  readonly foot: string;
  /** White on black under the head of every page. */
  readonly banner?: string | undefined;
  /** What counts its own pages is part of a longer file, of which the pages are counted as well. */
  readonly inFile?: { readonly first: number } | undefined;
}

const small: Face = { height: 1.9 };
const large: Face = { height: 3.4, bold: true };
const bannerHeight = 7;

/** With a banner there is less room. Left is wider: sheets are filed. */
export function marginsFor(hasBanner: boolean): Margins {
  return { left: 18, right: 12, top: hasBanner ? 33 : 25, bottom: 17 };
}

/** All pages of a part, numbered together. */
export function framed(pages: readonly PageContent[], frame: Frame, lettering: Lettering): PageContent[] {
  return pages.map((page, i) => ({
    ...page,
    marks: [...around(page, i + 1, pages.length, frame, lettering), ...page.marks],
  }));
}

function around(
  { width, height }: PageContent,
  number: number,
  of: number,
  frame: Frame,
  lettering: Lettering,
): Mark[] {
  const { left, right } = marginsFor(frame.banner !== undefined);
  const end = width - right;
  const rule = (y: number, line: number): Mark => ({
    kind: 'path',
    points: [
      [left, y],
      [end, y],
    ],
    closed: false,
    width: line,
    ground: 'none',
  });
  const kindWidth = measured(lettering.clean(frame.kind), small, lettering);
  const marks: Mark[] = [
    lineOf(shortened(frame.above, end - left - kindWidth - 6, small, lettering), [left, 13], small, lettering),
    lineOf(lettering.clean(frame.kind), [end, 13], small, lettering, 'end'),
    lineOf(shortened(frame.title, end - left, large, lettering), [left, 18.8], large, lettering),
    rule(21, 0.5),
    rule(height - 13.5, 0.25),
  ];
  if (frame.banner !== undefined) marks.push(...bannerMarks(frame.banner, left, end, lettering));
  const foot = height - 9.5;
  const page = `page ${number} of ${of}`;
  const pageWidth = measured(page, { ...small, bold: true }, lettering);
  marks.push(lineOf(page, [end, foot], { ...small, bold: true }, lettering, 'end'));
  let taken = pageWidth;
  if (frame.inFile) {
    const before = `of the file ${frame.inFile.first + number - 1} / `;
    const beforeWidth = measured(before, small, lettering);
    // Room for as many digits as a file can have.
    const start = end - pageWidth - 6 - beforeWidth - measured('000000', small, lettering);
    marks.push(lineOf(before, [start, foot], small, lettering));
    marks.push({ ...lineOf('', [start + beforeWidth, foot], small, lettering), text: allPages } as Mark);
    taken = end - start;
  }
  marks.push(lineOf(shortened(frame.foot, end - left - taken - 6, small, lettering), [left, foot], small, lettering));
  return marks;
}

function bannerMarks(text: string, left: number, end: number, lettering: Lettering): Mark[] {
  const face: Face = { height: 2.6, bold: true };
  const top = 23;
  const line = shortened(text, end - left - 6, face, lettering);
  return [
    {
      kind: 'path',
      points: [
        [left, top],
        [end, top],
        [end, top + bannerHeight],
        [left, top + bannerHeight],
      ],
      closed: true,
      width: 0,
      ground: 'ink',
    },
    { ...lineOf(line, [left + 3, top + 4.8], face, lettering), reversed: true } as Mark,
  ];
}
