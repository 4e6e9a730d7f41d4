/** A board as it is cut, drawn to scale along its length: its pieces from the left in the order of cutting, cuts, trims and offcut. */
import type { Ticks } from '../../model/ticks.ts';
import { type Drawable, drawnLength } from '../drawing/drawable.ts';
import {
  type Figure,
  type Fill,
  type Label,
  type Point,
  rectanglePoints,
  type Scene,
  type Shape,
} from '../drawing/scene.ts';
import { type CutBoard, kerfsOf, offcutOf } from './boards.ts';

/** How high a board is drawn, of its length: the same for all, as only lengths are cut. */
const heightShare = 1 / 14;

/** `length` is that of the longest board beside it, so that all are drawn alike. */
export function boardScene(
  board: CutBoard,
  said: Pick<Drawable, 'show' | 'style'>,
  length = board.stock.length,
): Scene {
  const whole = board.stock.length;
  const high = Math.round(length * heightShare);
  const figures: Figure[] = [];
  const labels: Label[] = [];
  const strip = (from: number, to: number, fill: Fill, label: string, of?: string): void => {
    if (to <= from) return;
    const shapes: Shape[] = [{ kind: 'area', points: rectanglePoints([from, to], [0, high]), pen: 'thin', fill }];
    figures.push({ layer: 'shelves', label, shapes, ...(of !== undefined && { of }) });
  };
  const { trim, pieces } = board;
  strip(0, trim, 'taken', `trim, ${drawnLength(trim, said)}`);
  const kerfs = kerfsOf(board);
  let end: number = trim;
  for (const [i, { number, from, length: own }] of pieces.entries()) {
    const shown = drawnLength(own, said);
    strip(from, from + own, 'paper', `piece ${number}, ${shown}`, String(number));
    end = from + own;
    strip(end, end + (kerfs[i] ?? 0), 'ink', `cut, ${drawnLength(kerfs[i] as Ticks, said)}`);
    end += kerfs[i] ?? 0;
    const middle: Point = [from + own / 2, high / 2];
    labels.push({
      text: shown,
      size: 'normal',
      layer: 'texts',
      needed: false,
      places: [
        { at: middle, anchor: 'middle', stands: 'on', within: own },
        { at: middle, anchor: 'middle', stands: 'on', within: high, turned: true },
      ],
    });
    // A length that has no room stands in the list, by this number.
    labels.push({
      text: String(number),
      size: 'small',
      bold: true,
      layer: 'texts',
      places: [{ at: [from + own / 2, high], anchor: 'middle', stands: 'above' }],
    });
  }
  const { length: offcut, keep } = offcutOf(board);
  strip(end, end + offcut, keep ? 'none' : 'taken', keep ? 'offcut to keep' : 'waste');
  if (offcut > 0)
    labels.push({
      text: keep ? `keep ${drawnLength(offcut, said)}` : drawnLength(offcut, said),
      size: 'normal',
      bold: keep,
      layer: 'texts',
      places: [
        { at: [end + offcut / 2, high / 2], anchor: 'middle', stands: 'on', within: offcut },
        { at: [end + offcut / 2, high], anchor: 'middle', stands: 'above' },
      ],
    });
  strip(whole - trim, whole, 'taken', `trim, ${drawnLength(trim, said)}`);
  figures.push({
    layer: 'shelves',
    label: `${board.kind}, ${drawnLength(whole, said)} long`,
    shapes: [{ kind: 'area', points: rectanglePoints([0, whole], [0, high]), pen: 'outline', fill: 'none' }],
  });
  return { title: `${board.kind} ${board.number}`, view: 'board', figures, labels, chains: [] };
}
