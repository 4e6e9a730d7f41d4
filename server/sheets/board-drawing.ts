/** One board drawn in a line of text: its pieces to scale, each with its length where there is room, and what is left. */

export interface DrawnPiece {
  readonly length: number;
  readonly label: string;
}

/**
 * `|22-1/2in     |22-1/2in     |....|`: `width` characters between the first bar and the last. `left` is what no piece
 * takes, drawn with dots where it is waste and open where it is kept. A piece too small for its scale takes one character.
 */
export function boardDrawing(
  pieces: readonly DrawnPiece[],
  left: { readonly length: number; readonly label: string; readonly keep: boolean },
  width: number,
): string {
  const all = pieces.reduce((sum, { length }) => sum + length, 0) + left.length;
  if (all <= 0) return `|${' '.repeat(width)}|`;
  // A bar stands between two pieces, so that a piece has one character less than its share.
  const at = (length: number): number => Math.round((length / all) * width);
  let [done, drawn] = [0, 0];
  let line = '|';
  const draw = (length: number, label: string, fill: string, last: boolean): void => {
    done += length;
    const end = Math.max(drawn + 1, at(done));
    const room = end - drawn - (last ? 0 : 1);
    const shown = label.length <= room ? label : '';
    line += `${shown}${fill.repeat(Math.max(0, room - shown.length))}${last ? '' : '|'}`;
    drawn = end;
  };
  pieces.forEach(({ length, label }, i) => {
    draw(length, label, ' ', i === pieces.length - 1 && left.length === 0);
  });
  if (left.length > 0) draw(left.length, left.keep ? left.label : '', left.keep ? ' ' : '.', true);
  return `${line}|`;
}
