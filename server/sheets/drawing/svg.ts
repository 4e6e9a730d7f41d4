/**
 * SVG of what was placed. Millimetres are user units, the size is stated in millimetres, and every text keeps its width
 * whatever font there is. Colours are two custom properties, so that a page or an editor can set them.
 */

import { madeBy } from '../mark.ts';
import { joined } from '../too-much.ts';
import { heightToSize } from './fonts.ts';
import { isMeasured } from './letters.ts';
import { type At, boxOf, type Group, type Mark, type PaperText, type Placed, type Rectangle } from './paper.ts';

export interface SvgOptions {
  /** `light` and `dark` are themselves; `page` takes the colours of the page it stands in, and ink on nothing without. */
  readonly background: 'light' | 'dark' | 'page';
  /** Parts can be reached by keyboard and are announced. */
  readonly interactive?: boolean;
  /** Without its rules, for a page that has them (`svgRules`) and takes no others. */
  readonly isBare?: boolean;
}

const grounds = {
  light: ['#ffffff', '#101010'],
  dark: ['#14171a', '#f2f2f2'],
  page: ['var(--paper, #ffffff)', 'var(--ink, #101010)'],
} as const;

/** The rules of a drawing, for a style sheet that does not stand in it. */
export function svgRules(background: SvgOptions['background']): string {
  const [paper, ink] = grounds[background];
  return `.d{fill:none;stroke:${ink};stroke-linecap:round;stroke-linejoin:round}.p{fill:${paper}}.i{fill:${ink}}.n{stroke:none}.t{fill:${ink};stroke:none;font-family:"DejaVu Sans Condensed","DejaVu Sans",sans-serif}.r{fill:${paper}}.b{font-weight:bold}`;
}

/** Throws TooMuch where it would be larger than the file of one drawing is to be. */
export function svgOf(placed: Placed, { background, interactive = false, isBare = false }: SvgOptions): string {
  const [width, height] = [number(placed.width), number(placed.height)];
  const body = joined(placed.groups, (group) => groupOf(group, interactive), '\n');
  const style = isBare
    ? ''
    : `<style>${svgRules(background)}</style>
`;
  const ground = background === 'page' ? '' : `<rect width="${width}" height="${height}" class="d p n"/>\n`;
  return `<!-- ${madeBy} -->\n<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}" role="${interactive ? 'group' : 'img'}" aria-label="${escaped(placed.title)}">
<title>${escaped(placed.title)}</title>
${style}${ground}${body}
</svg>
`;
}

function groupOf({ layer, of, label, marks }: Group, interactive: boolean): string {
  const attributes = [
    `data-layer="${layer}"`,
    ...(of === undefined ? [] : [`data-part="${escaped(of)}"`]),
    ...(interactive && of !== undefined && label !== undefined
      ? ['tabindex="0"', 'role="button"', `aria-label="${escaped(label)}"`]
      : []),
  ].join(' ');
  const title = label === undefined ? '' : `<title>${escaped(label)}</title>`;
  return `<g ${attributes}>${title}${marks.map(markOf).join('')}</g>`;
}

function markOf(mark: Mark): string {
  switch (mark.kind) {
    case 'text':
      return textOf(mark);
    case 'path': {
      const points = mark.points.map(([x, y]) => `${number(x)} ${number(y)}`).join('L');
      return `<path d="M${points}${mark.closed ? 'Z' : ''}"${drawn(mark)}/>`;
    }
    case 'circle':
      return `<circle cx="${number(mark.centre[0])}" cy="${number(mark.centre[1])}" r="${number(mark.radius)}"${drawn(mark)}/>`;
    case 'arc': {
      const [from, to] = [onCircle(mark.centre, mark.radius, mark.from), onCircle(mark.centre, mark.radius, mark.to)];
      const large = mark.to - mark.from > 180 ? 1 : 0;
      const r = number(mark.radius);
      return `<path d="M${number(from[0])} ${number(from[1])}A${r} ${r} 0 ${large} 1 ${number(to[0])} ${number(to[1])}"${drawn({ ...mark, ground: 'none' })}/>`;
    }
  }
}

function drawn({
  width,
  dash,
  ground,
}: {
  width: number;
  dash?: readonly number[];
  ground: 'none' | 'paper' | 'ink';
}): string {
  const classes = ['d', ...(ground === 'paper' ? ['p'] : ground === 'ink' ? ['i'] : []), ...(width === 0 ? ['n'] : [])];
  const line = width === 0 ? '' : ` stroke-width="${number(width)}"`;
  return ` class="${classes.join(' ')}"${line}${dash ? ` stroke-dasharray="${dash.join(' ')}"` : ''}`;
}

function textOf(mark: PaperText): string {
  const { text, at, height, bold, anchor, turned, width, reversed } = mark;
  const [x, y] = at.map(number) as [string, string];
  const isKnown = isMeasured(text, bold);
  const turn = turned ? ` transform="rotate(-90 ${x} ${y})"` : '';
  const fit = width > 0 && isKnown ? ` textLength="${number(width)}" lengthAdjust="spacingAndGlyphs"` : '';
  const classes = ['t', ...(reversed ? ['r'] : []), ...(bold ? ['b'] : [])].join(' ');
  const size = number(heightToSize(height));
  const element = `<text x="${x}" y="${y}" class="${classes}" font-size="${size}" text-anchor="${anchor}"${fit}${turn}>${escaped(text)}</text>`;
  return isKnown ? element : cutTo(boxOf(mark), element);
}

/** Letters of other scripts are no wider than taken for in any font we know of; in another one they are cut off. */
function cutTo([left, top, right, bottom]: Rectangle, element: string): string {
  const [x, y, w, h] = [left, top, right - left, bottom - top].map(number);
  return `<svg x="${x}" y="${y}" width="${w}" height="${h}" viewBox="${x} ${y} ${w} ${h}" overflow="hidden">${element}</svg>`;
}

export function onCircle([x, y]: At, radius: number, degrees: number): At {
  const angle = (degrees * Math.PI) / 180;
  return [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
}

/** Hundredths of a millimetre are finer than any printer. */
function number(value: number): string {
  return String(Number(value.toFixed(2)));
}

/** What is not a `Char` of XML 1.0, section 2.2. */
const notAllowed = /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu;

/** For text and attributes; what XML does not allow at all is left out. */
export function escaped(text: string): string {
  return text.replace(notAllowed, '').replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);
}
