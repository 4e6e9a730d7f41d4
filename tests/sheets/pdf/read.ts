/** A PDF as pdf.js reads it: another program than the one that wrote it. */
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

export interface ReadText {
  readonly text: string;
  /** In points from the lower left corner: where its baseline begins and ends, and how high its letters can be. */
  readonly at: readonly [x: number, y: number];
  readonly to: readonly [x: number, y: number];
  readonly size: number;
  readonly turned: boolean;
  readonly font: string;
}

export interface ReadPage {
  readonly box: readonly number[];
  readonly texts: readonly ReadText[];
}

export interface ReadPdf {
  readonly pages: readonly ReadPage[];
  readonly info: Readonly<Record<string, unknown>>;
  readonly outline: readonly { readonly title: string; readonly items: readonly { readonly title: string }[] }[];
  /** Names of the fonts that pages use, and whether each is in the file. */
  readonly fonts: ReadonlyMap<string, boolean>;
  readonly language: string | undefined;
}

export async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const task = getDocument({ data: Uint8Array.from(bytes), verbosity: 0, useSystemFonts: false });
  const document = await task.promise;
  const fonts = new Map<string, boolean>();
  const pages: ReadPage[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const page = await document.getPage(number);
    const { items } = await page.getTextContent();
    await page.getOperatorList();
    const texts = items.flatMap((item): ReadText[] => {
      if (!('str' in item) || item.str.trim() === '') return [];
      const [a = 0, b = 0, c = 0, d = 0, x = 0, y = 0] = item.transform as number[];
      const length = Math.hypot(a, b) || 1;
      const along = [a / length, b / length] as const;
      const font = page.commonObjs.has(item.fontName)
        ? (page.commonObjs.get(item.fontName) as { name: string; missingFile?: boolean })
        : undefined;
      if (font) fonts.set(font.name, !font.missingFile);
      return [
        {
          text: item.str,
          at: [x, y],
          to: [x + along[0] * item.width, y + along[1] * item.width],
          size: Math.hypot(c, d),
          turned: Math.abs(b) > Math.abs(a),
          font: font?.name ?? item.fontName,
        },
      ];
    });
    pages.push({ box: page.view, texts });
    page.cleanup();
  }
  const info = (await document.getMetadata()).info as Record<string, unknown>;
  const outline = ((await document.getOutline()) ?? []) as ReadPdf['outline'];
  const language = typeof info.Language === 'string' ? info.Language : undefined;
  await task.destroy();
  return { pages, info, outline, fonts, language };
}

/** All text of a page, its pieces a space apart. */
export function textOf({ texts }: ReadPage): string {
  return texts.map(({ text }) => text).join(' ');
}

/** What a text covers, in points: from the height of a capital letter (0.73 of the size) down to a little under its line. */
export function boxOf({ at, to, size, turned }: ReadText): readonly [number, number, number, number] {
  const [up, down] = [size * 0.73, size * 0.05];
  return turned ? [at[0] - up, at[1], at[0] + down, to[1]] : [at[0], at[1] - down, to[0], at[1] + up];
}

/** Pairs of texts of a page that cover one another. */
export function overlapping(page: ReadPage): string[] {
  const found: string[] = [];
  const boxes = page.texts.map((text) => ({ text: text.text, box: boxOf(text) }));
  for (const [i, { text, box: a }] of boxes.entries())
    for (const { text: other, box: b } of boxes.slice(i + 1))
      if (a[0] < b[2] - 0.3 && b[0] < a[2] - 0.3 && a[1] < b[3] - 0.3 && b[1] < a[3] - 0.3)
        found.push(`"${text}" and "${other}"`);
  return found;
}

/** Texts that reach over the edge of their page. */
export function outside(page: ReadPage): string[] {
  const [left = 0, bottom = 0, right = 0, top = 0] = page.box;
  return page.texts.flatMap((text) => {
    const box = boxOf(text);
    return box[0] < left || box[1] < bottom || box[2] > right || box[3] > top ? [text.text] : [];
  });
}
