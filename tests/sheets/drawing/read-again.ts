/**
 * What stands on a drawn sheet, taken back from the file by readers that are none of ours: SVG by a parser of XML, PDF by
 * pdf.js. Millimetres on paper, x to the right and y down. Nothing here knows what drew it.
 */
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { type Element, parsed } from './xml.ts';

export type Spot = readonly [x: number, y: number];

export interface Stroke {
  readonly points: readonly Spot[];
  readonly closed: boolean;
  /** 0: it is only filled. */
  readonly width: number;
  readonly dashed: boolean;
  /** The layer and the part that the file says it is of, where the format can. */
  readonly layer?: string | undefined;
  readonly part?: string | undefined;
}

export interface Round {
  readonly centre: Spot;
  readonly radius: number;
  readonly width: number;
}

/** Along its baseline, in the direction in which it is read. */
export interface Written {
  readonly text: string;
  readonly from: Spot;
  readonly to: Spot;
  readonly turned: boolean;
}

export interface Sheet {
  readonly width: number;
  readonly height: number;
  readonly strokes: readonly Stroke[];
  readonly rounds: readonly Round[];
  readonly texts: readonly Written[];
  /** To how much a number in the file is exact, in millimetres. */
  readonly finest: number;
}

// SVG

export function sheetOfSvg(text: string): Sheet {
  const root = parsed(text);
  const strokes: Stroke[] = [];
  const rounds: Round[] = [];
  const texts: Written[] = [];
  const walk = (element: Element, layer?: string, part?: string): void => {
    const { name, attributes: has, children } = element;
    const number = (key: string): number => Number(has[key]);
    const own = name === 'g' ? { layer: has['data-layer'], part: has['data-part'] } : { layer, part };
    if (name === 'path') strokes.push({ ...pathOf(has), ...own });
    if (name === 'circle')
      rounds.push({
        centre: [number('cx'), number('cy')],
        radius: number('r'),
        width: Number(has['stroke-width'] ?? 0),
      });
    if (name === 'text') texts.push(writtenOf(element));
    for (const child of children) walk(child, own.layer, own.part);
  };
  walk(root);
  const [, , width = 0, height = 0] = (root.attributes.viewBox ?? '').split(' ').map(Number);
  if (root.attributes.width !== `${width}mm` || root.attributes.height !== `${height}mm`)
    throw new Error('a millimetre of the drawing is none on paper');
  return { width, height, strokes, rounds, texts, finest: 0.01 };
}

function pathOf(has: Readonly<Record<string, string>>): Stroke {
  const d = has.d ?? '';
  // Of an arc its ends: M x y A rx ry turn large sweep x y.
  const points = d
    .replace(/A\S+ \S+ \S+ \S+ \S+ /, 'L')
    .split(/[MLZ]/)
    .filter((pair) => pair !== '')
    .map((pair) => pair.split(' ').map(Number) as [number, number]);
  return {
    points,
    closed: d.endsWith('Z'),
    width: Number(has['stroke-width'] ?? 0),
    dashed: has['stroke-dasharray'] !== undefined,
  };
}

function writtenOf({ attributes: has, text }: Element): Written {
  const [x, y] = [Number(has.x), Number(has.y)];
  const long = Number(has.textLength ?? 0);
  const before = has['text-anchor'] === 'start' ? 0 : has['text-anchor'] === 'middle' ? long / 2 : long;
  const turned = has.transform !== undefined;
  if (turned && has.transform !== `rotate(-90 ${has.x} ${has.y})`) throw new Error(`turned by ${has.transform}`);
  const on = (along: number): Spot => (turned ? [x, y - along] : [x + along, y]);
  return { text, from: on(-before), to: on(long - before), turned };
}

// PDF

type Matrix = readonly [number, number, number, number, number, number];

const times = ([a, b, c, d, e, f]: Matrix, m: Matrix): Matrix => [
  a * m[0] + c * m[1],
  b * m[0] + d * m[1],
  a * m[2] + c * m[3],
  b * m[2] + d * m[3],
  a * m[4] + c * m[5] + e,
  b * m[4] + d * m[5] + f,
];

const MM = 25.4 / 72;

/** Codes in the buffer of a path, as pdf.js has them (its `DrawOPS`). */
const draw = { moveTo: 0, lineTo: 1, curveTo: 2, closePath: 4 } as const;

/** A letter as pdf.js shows it; its width in thousandths of its size. */
interface Shown {
  readonly unicode: string;
  readonly width: number;
}

/** Each page of a document. */
export async function sheetsOfPdf(bytes: Uint8Array): Promise<Sheet[]> {
  const task = getDocument({ data: Uint8Array.from(bytes), verbosity: 0, useSystemFonts: false });
  const document = await task.promise;
  const sheets: Sheet[] = [];
  for (let at = 1; at <= document.numPages; at++) {
    const page = await document.getPage(at);
    const [left = 0, bottom = 0, right = 0, top = 0] = page.view;
    const onPaper = ([x, y]: Spot): Spot => [(x - left) * MM, (top - y) * MM];
    const { fnArray, argsArray } = await page.getOperatorList();
    const strokes: Stroke[] = [];
    const rounds: Round[] = [];
    const texts: Written[] = [];
    let state = { ctm: [1, 0, 0, 1, 0, 0] as Matrix, width: 1, dashed: false };
    let letters = { matrix: [1, 0, 0, 1, 0, 0] as Matrix, size: 1, narrow: 1 };
    const kept: (typeof state)[] = [];
    fnArray.forEach((op, i) => {
      const args = argsArray[i] as unknown[];
      if (op === OPS.save) kept.push(state);
      else if (op === OPS.restore) state = kept.pop() ?? state;
      else if (op === OPS.transform) state = { ...state, ctm: times(state.ctm, args as unknown as Matrix) };
      else if (op === OPS.setLineWidth) state = { ...state, width: Number(args[0]) };
      else if (op === OPS.setDash) state = { ...state, dashed: (args[0] as number[]).length > 0 };
      else if (op === OPS.setFont) letters = { ...letters, size: Number(args[1]) };
      else if (op === OPS.setHScale) letters = { ...letters, narrow: Number(args[0]) / 100 };
      else if (op === OPS.setTextMatrix)
        letters = { ...letters, matrix: [...(args[0] as number[])] as unknown as Matrix };
      else if (op === OPS.showText) {
        const shown = (args[0] as unknown[]).filter((one): one is Shown => typeof one === 'object' && one !== null);
        const long = shown.reduce((sum, { width }) => sum + width, 0) * (letters.size / 1000) * letters.narrow;
        const m = times(state.ctm, letters.matrix);
        const [, , , , x, y] = times(m, [1, 0, 0, 1, long, 0]);
        const text = shown.map(({ unicode }) => unicode).join('');
        texts.push({ text, from: onPaper([m[4], m[5]]), to: onPaper([x, y]), turned: Math.abs(m[1]) > Math.abs(m[0]) });
      } else if (op === OPS.constructPath) {
        const [how, [buffer]] = args as [number, [ArrayLike<number> | null]];
        const isDrawn = how === OPS.stroke || how === OPS.fillStroke || how === OPS.closeStroke;
        const long = Math.hypot(state.ctm[0], state.ctm[1]) * MM;
        const drawn = pathsIn(buffer ?? [], (p) => {
          const [, , , , e, f] = times(state.ctm, [1, 0, 0, 1, p[0], p[1]]);
          return onPaper([e, f]);
        });
        for (const { points, closed, curves } of drawn) {
          const width = isDrawn ? state.width * long : 0;
          if (curves === 4 && closed) rounds.push({ ...circleIn(points), width });
          else strokes.push({ points, closed, width, dashed: state.dashed });
        }
      }
    });
    sheets.push({ width: (right - left) * MM, height: (top - bottom) * MM, strokes, rounds, texts, finest: 0.002 });
    page.cleanup();
  }
  await task.destroy();
  return sheets;
}

interface PathIn {
  readonly points: Spot[];
  closed: boolean;
  curves: number;
}

/** Of curves their ends. */
function pathsIn(buffer: ArrayLike<number>, to: (p: Spot) => Spot): PathIn[] {
  const paths: PathIn[] = [];
  for (let i = 0; i < buffer.length; ) {
    const code = buffer[i++];
    const pair = (): Spot => to([buffer[i++] as number, buffer[i++] as number]);
    const last = paths.at(-1);
    if (code === draw.moveTo) paths.push({ points: [pair()], closed: false, curves: 0 });
    else if (code === draw.lineTo) last?.points.push(pair());
    else if (code === draw.curveTo) {
      i += 4;
      last?.points.push(pair());
      if (last) last.curves++;
    } else if (code === draw.closePath && last) last.closed = true;
    else throw new Error(`a path with ${code}`);
  }
  return paths;
}

function circleIn(points: readonly Spot[]): Pick<Round, 'centre' | 'radius'> {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  return { centre: [(left + right) / 2, (Math.min(...ys) + Math.max(...ys)) / 2], radius: (right - left) / 2 };
}
