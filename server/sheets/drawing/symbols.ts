/** Symbols, as large on any paper. Told apart in black and white, and by their outline alone. */
import type { At, Mark } from './paper.ts';
import { heights, pens } from './pens.ts';
import type { SymbolKind } from './scene.ts';
import { writtenAt } from './writing.ts';

const r = 1.1;

/** Around its middle. `text` is the number of a finding, `towards` where an arrow points, in degrees counter-clockwise. */
export function symbolMarks(at: At, kind: SymbolKind, text?: string, towards = 0): Mark[] {
  const [x, y] = at;
  const { width } = pens.thin;
  const circle = (ground: 'ink' | 'paper', radius = r): Mark => ({ kind: 'circle', centre: at, radius, width, ground });
  const line = (...points: At[]): Mark => ({ kind: 'path', points, closed: false, width, ground: 'none' });
  switch (kind) {
    case 'stud':
      return [circle('ink')];
    case 'anchor':
      return [circle('paper'), line([x - r, y], [x + r, y]), line([x, y - r], [x, y + r])];
    case 'loose':
      return [circle('paper', 0.7)];
    case 'unknown': {
      const corners: At[] = [
        [x - r, y + r],
        [x + r, y + r],
        [x, y - r],
      ];
      return [{ kind: 'path', points: corners, closed: true, width, ground: 'paper' }];
    }
    case 'arrow': {
      // On paper y goes down, so that what turns counter-clockwise is taken off.
      const barb = (turn: number): At => {
        const angle = ((180 - towards + turn) * Math.PI) / 180;
        return [x + 2 * Math.cos(angle), y + 2 * Math.sin(angle)];
      };
      return [line(barb(22), at, barb(-22))];
    }
    case 'finding': {
      const number = findingNumber(at, text);
      const half = findingHalf(text);
      const corners: At[] = [
        [x - half, y],
        [x, y - 3],
        [x + half, y],
        [x, y + 3],
      ];
      return [{ kind: 'path', points: corners, closed: true, width, ground: 'ink' }, number];
    }
  }
}

function findingNumber([x, y]: At, text = '!') {
  return {
    ...writtenAt(text, [x, y + heights.small / 2], heights.small, { bold: true, anchor: 'middle' }),
    reversed: true,
  };
}

/** Half of how wide the mark of a finding is: its number stands within it. */
export function findingHalf(text = '!'): number {
  return Math.max(3, findingNumber([0, 0], text).width + 0.8);
}
