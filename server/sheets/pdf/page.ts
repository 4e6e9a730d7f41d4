/** Pages before they are a file: sizes, and what stands on each, in millimetres from the upper left corner. */
import type { Mark } from '../drawing/paper.ts';

export type PaperName = 'a4' | 'letter';

/** Upright. */
export interface Paper {
  readonly width: number;
  readonly height: number;
}

/** A4: ISO 216. Letter: 8-1/2 by 11 inches. */
export const papers: Readonly<Record<PaperName, Paper>> = {
  a4: { width: 210, height: 297 },
  letter: { width: 215.9, height: 279.4 },
};

export function turned({ width, height }: Paper): Paper {
  return { width: height, height: width };
}

export interface Bookmark {
  readonly title: string;
  /** 0 for what stands at the left; 1 under the last of those. */
  readonly level: 0 | 1;
}

export interface PageContent extends Paper {
  readonly marks: readonly Mark[];
  readonly bookmarks: readonly Bookmark[];
}

/** What is left and right, above and below what is read on a page. */
export interface Area {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}
