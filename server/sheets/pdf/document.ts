/**
 * A PDF file from pages: pdfkit writes the file and embeds what is used of the fonts, here each page becomes its
 * drawing operators. Pages are handed out as bytes when they are made and not kept. The same pages give the same bytes.
 */
import PDFDocument from 'pdfkit';
import { heightToSize } from '../drawing/fonts.ts';
import type { At, Ground, Mark, PaperText } from '../drawing/paper.ts';
import { madeBy, producer } from '../mark.ts';
import { noMoreThan } from '../too-much.ts';
import { type FontFiles, type Lettering, runsOf } from './lettering.ts';
import type { PageContent } from './page.ts';

export interface DocumentInfo {
  readonly title: string;
  readonly subject: string;
  /** With its version. */
  readonly creator: string;
  /** Stands in the file as when it was made. */
  readonly date: Date;
}

export interface Pdf {
  readonly addPage: (page: PageContent) => void;
  /** What has been made since it was last asked for. */
  readonly taken: () => Uint8Array[];
  /** The rest. Nothing can be added any more. */
  readonly end: () => Uint8Array[];
}

/** A text that stands for how many pages there are in all, which is known when the last one has been made. */
export const allPages = '\u0001';

/** What pdfkit has and its types do not say. */
interface Reference {
  data: Record<string, unknown>;
  end: (text?: string) => void;
}
interface Embedded {
  readonly id: string;
  readonly ref: () => Reference;
  readonly encode: (text: string) => [hex: string[], positions: { readonly advanceWidth: number }[]];
}
interface Inside {
  readonly _write: (line: string) => void;
  readonly _font: Embedded;
  readonly ref: (data: Record<string, unknown>) => Reference;
  readonly page: { readonly fonts: Record<string, Reference>; readonly xobjects: Record<string, Reference> };
}

const pointsPerMm = 72 / 25.4;
/** With so many digits that the far side of a sheet stands where it should: a thousandth of a point here is 0.05 mm there. */
const millimetre = pointsPerMm.toFixed(9);

/** What one file may come to; a test has less. */
export interface PdfBounds {
  readonly pages?: number;
  readonly bytes?: number;
}

/** Adding a page, and what is taken of it, throws TooMuch where the file comes to more than one is to be. */
export function createPdf(info: DocumentInfo, lettering: Lettering, bounds: PdfBounds = {}): Pdf {
  const document = new PDFDocument({
    autoFirstPage: false,
    // Without one pdfkit would look for a font of its own.
    font: '',
    pdfVersion: '1.7',
    lang: 'en',
    displayTitle: true,
    info: {
      Title: lettering.clean(info.title),
      Subject: lettering.clean(info.subject),
      Creator: info.creator,
      Producer: producer,
      CreationDate: info.date,
      ModDate: info.date,
    },
  });
  const inside = document as unknown as Inside;
  // A comment, where whoever wants to know finds it without reading the whole file.
  inside._write(`% ${madeBy}`);
  const faces = { plain: faceOf('plain'), bold: faceOf('bold') };
  let count: Reference | undefined;
  let pages = 0;
  let size = 0;
  let group: PDFKit.PDFOutline | undefined;

  function faceOf(name: keyof FontFiles): Face {
    const file = lettering.files[name];
    document.registerFont(name, Buffer.from(file.buffer, file.byteOffset, file.byteLength));
    document.font(name);
    const font = inside._font;
    const codes = new Map<string, string>();
    return {
      id: font.id,
      ref: () => font.ref(),
      hexOf: (text) =>
        runsOf(text)
          .flatMap(({ text: own, isLeftwards }) =>
            isLeftwards
              ? font.encode(own)[0]
              : Array.from(own, (letter) => {
                  const known = codes.get(letter);
                  if (known !== undefined) return known;
                  const code = font.encode(letter)[0].join('');
                  codes.set(letter, code);
                  return code;
                }),
          )
          .join(''),
    };
  }

  /** A form that is drawn on every page, and filled when the last page is known. */
  function countForm(): Reference {
    count ??= inside.ref({
      Type: 'XObject',
      Subtype: 'Form',
      BBox: [0, -2, 40, 6],
      Resources: { Font: { [faces.plain.id]: faces.plain.ref() } },
    });
    return count;
  }

  function text(mark: PaperText): string {
    const face = mark.bold ? faces.bold : faces.plain;
    inside.page.fonts[face.id] ??= face.ref();
    const [x, y] = mark.at;
    if (mark.text === allPages) {
      inside.page.xobjects.Pages ??= countForm();
      const size = heightToSize(mark.height);
      return `q ${n(size)} 0 0 ${n(-size)} ${n(x)} ${n(y)} cm /Pages Do Q`;
    }
    const clean = lettering.clean(mark.text);
    if (clean.trim() === '') return '';
    const full = lettering.widthOf(clean, mark.bold) * mark.height;
    // Where its place was worked out with another font, it takes no more than that place.
    const squeeze = mark.width > 0 && full > mark.width * 1.001 ? mark.width / full : 1;
    const before = mark.anchor === 'start' ? 0 : (full * squeeze) / (mark.anchor === 'middle' ? 2 : 1);
    const matrix = mark.turned ? `0 -1 -1 0 ${n(x)} ${n(y + before)}` : `1 0 0 -1 ${n(x - before)} ${n(y)}`;
    const narrow = squeeze === 1 ? '' : `${n(squeeze * 100)} Tz `;
    const wide = squeeze === 1 ? '' : ' 100 Tz';
    return `BT ${mark.reversed ? '1' : '0'} g /${face.id} ${n(heightToSize(mark.height))} Tf ${narrow}${matrix} Tm <${face.hexOf(clean)}> Tj${wide} ET`;
  }

  const taken = (): Uint8Array[] => {
    const chunk: Uint8Array | null = document.read();
    size += chunk?.length ?? 0;
    noMoreThan(
      'largestPdf',
      size,
      (_, most) => ({ what: `This PDF takes more than ${most} bytes, the most that one file takes.` }),
      bounds.bytes,
    );
    return chunk === null ? [] : [chunk];
  };

  return {
    addPage: ({ width, height, marks, bookmarks }) => {
      document.addPage({ size: [width * pointsPerMm, height * pointsPerMm], margin: 0 });
      pages++;
      noMoreThan(
        'mostPages',
        pages,
        (_, most) => ({ what: `This PDF comes to more than ${most} pages, the most that one file takes.` }),
        bounds.pages,
      );
      const operators = [`q ${millimetre} 0 0 ${millimetre} 0 0 cm 1 J 1 j 0 G`];
      for (const mark of marks) operators.push(mark.kind === 'text' ? text(mark) : drawn(mark));
      operators.push('Q');
      (document as unknown as { addContent: (text: string) => void }).addContent(
        operators.filter((line) => line !== '').join('\n'),
      );
      for (const { title, level } of bookmarks) {
        const under = level === 1 && group ? group : document.outline;
        const item = under.addItem(lettering.clean(title), { fit: true } as object);
        if (level === 0) group = item;
      }
    },
    taken,
    end: () => {
      // In ems: what draws it says how large it is.
      count?.end(`BT 0 g /${faces.plain.id} 1 Tf <${faces.plain.hexOf(String(pages))}> Tj ET`);
      document.end();
      return taken();
    },
  };
}

interface Face {
  readonly id: string;
  readonly ref: () => Reference;
  readonly hexOf: (text: string) => string;
}

function drawn(mark: Exclude<Mark, PaperText>): string {
  const ground: Ground = mark.kind === 'arc' ? 'none' : mark.ground;
  const isDrawn = mark.width > 0;
  if (!isDrawn && ground === 'none') return '';
  const pen = isDrawn ? `${n(mark.width)} w [${(mark.dash ?? []).map(n).join(' ')}] 0 d ` : '';
  const fill = ground === 'none' ? '' : ground === 'ink' ? '0 g ' : '1 g ';
  const paint = isDrawn ? (ground === 'none' ? 'S' : 'B') : 'f';
  return `${pen}${fill}${outline(mark)} ${paint}`;
}

function outline(mark: Exclude<Mark, PaperText>): string {
  switch (mark.kind) {
    case 'path': {
      const points = mark.points.map(([x, y], i) => `${n(x)} ${n(y)} ${i === 0 ? 'm' : 'l'}`).join(' ');
      return mark.closed ? `${points} h` : points;
    }
    case 'circle':
      return `${curve(mark.centre, mark.radius, 0, 360)} h`;
    case 'arc':
      return curve(mark.centre, mark.radius, mark.from, mark.to);
  }
}

/** Bézier curves of a quarter turn at most each. */
function curve([x, y]: At, radius: number, from: number, to: number): string {
  const steps = Math.max(1, Math.ceil((to - from) / 90));
  const step = ((to - from) / steps) * (Math.PI / 180);
  const reach = (4 / 3) * Math.tan(step / 4) * radius;
  const at = (angle: number, out: number): string => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    return `${n(x + radius * c - out * s)} ${n(y + radius * s + out * c)}`;
  };
  let angle = from * (Math.PI / 180);
  let path = `${at(angle, 0)} m`;
  for (let i = 0; i < steps; i++, angle += step)
    path += ` ${at(angle, reach)} ${at(angle + step, -reach)} ${at(angle + step, 0)} c`;
  return path;
}

/** A thousandth of a millimetre is finer than any printer. */
function n(value: number): string {
  return String(Number(value.toFixed(3)));
}
