/** Hatching: the lines in a direction that lie within a closed outline. */
import type { At } from './paper.ts';

/**
 * Lines `apart` from one another under an angle (degrees, from the direction of x), each from where it enters the
 * outline to where it leaves it. They lie on one grid for the whole drawing, so that areas side by side look like one.
 */
export function hatching(outline: readonly At[], angle: number, apart: number): [At, At][] {
  const turn = (angle * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  // Turned so that the lines run along u.
  const points = outline.map(([x, y]): At => [x * c + y * s, y * c - x * s]);
  const rows = points.map(([, v]) => v);
  const lines: [At, At][] = [];
  const first = Math.ceil(Math.min(...rows) / apart);
  const last = Math.floor(Math.max(...rows) / apart);
  for (let i = first; i <= last; i++) {
    const v = i * apart;
    const crossings: number[] = [];
    for (const [k, [u0, v0]] of points.entries()) {
      const [u1, v1] = points[(k + 1) % points.length] as At;
      if (v0 <= v === v1 <= v) continue;
      crossings.push(u0 + ((v - v0) / (v1 - v0)) * (u1 - u0));
    }
    crossings.sort((a, b) => a - b);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      const [from, to] = [crossings[k] as number, crossings[k + 1] as number];
      if (to - from < 0.05) continue;
      lines.push([
        [from * c - v * s, v * c + from * s],
        [to * c - v * s, v * c + to * s],
      ]);
    }
  }
  return lines;
}
