/** The symbols and lines that stand in drawings, each beside what it means. */

import { hatching } from './hatch.ts';
import type { At, Mark } from './paper.ts';
import { hatches, pens } from './pens.ts';
import type { Figure, Fill, Layer, Pen, Scene, SymbolKind } from './scene.ts';
import { symbolMarks } from './symbols.ts';

export interface Meaning {
  readonly text: string;
  /** About 8 mm wide, around this point. */
  readonly sample: (at: At) => Mark[];
}

const symbols: readonly (readonly [kind: SymbolKind, text: string])[] = [
  ['stud', 'fixing in a stud'],
  ['anchor', 'fixing in an anchor: no stud there'],
  ['unknown', 'fixing; where studs are is not known'],
  ['loose', 'fixing in a part'],
  ['finding', 'finding, by its number'],
];

const lines: readonly {
  readonly layer: Layer;
  readonly pen: Pen;
  readonly view?: Scene['view'];
  readonly text: string;
}[] = [
  { layer: 'studs', pen: 'centre', text: 'middle of a stud' },
  { layer: 'garments', pen: 'hidden', text: 'room that hanging clothes take' },
  { layer: 'openings', pen: 'hidden', view: 'elevation', text: 'leaf that opens away; it hinges at the point' },
  { layer: 'openings', pen: 'thin', view: 'elevation', text: 'leaf that opens towards you; it hinges at the point' },
  { layer: 'fixtures', pen: 'hidden', view: 'elevation', text: 'to be kept free' },
  { layer: 'fixtures', pen: 'hidden', view: 'plan', text: 'on the ceiling' },
  { layer: 'drawers', pen: 'hidden', text: 'drawers pulled out' },
  { layer: 'rods', pen: 'centre', view: 'plan', text: 'middle of a rod' },
  { layer: 'ceiling', pen: 'hidden', view: 'plan', text: 'ceiling begins to slope' },
];

const fills: readonly (readonly [fill: Fill, text: string])[] = [
  ['board', 'board seen on its edge or cut'],
  ['taken', 'taken: by the next wall, or above a sloped ceiling'],
];

/** What stands in these drawings, in a fixed order. */
export function legendOf(scenes: readonly Scene[]): Meaning[] {
  const figures = scenes.flatMap(({ figures, view }) => figures.map((figure) => ({ figure, view })));
  const has = (test: (shape: Figure['shapes'][number]) => boolean, where = figures): boolean =>
    where.some(({ figure }) => figure.shapes.some(test));
  return [
    ...symbols.flatMap(([kind, text]): Meaning[] =>
      has((s) => s.kind === 'symbol' && s.symbol === kind)
        ? [{ text, sample: (at) => symbolMarks(at, kind, kind === 'finding' ? '1' : undefined) }]
        : [],
    ),
    ...lines.flatMap(({ layer, pen, view, text }): Meaning[] =>
      has(
        (s) => s.kind !== 'symbol' && s.pen === pen,
        figures.filter((f) => f.figure.layer === layer && (view === undefined || f.view === view)),
      )
        ? [{ text, sample: (at) => sampleLine(at, pen) }]
        : [],
    ),
    ...fills.flatMap(([fill, text]): Meaning[] =>
      has((s) => s.kind === 'area' && s.fill === fill) ? [{ text, sample: (at) => sampleFill(at, fill) }] : [],
    ),
  ];
}

function sampleLine([x, y]: At, pen: Pen): Mark[] {
  const points: At[] = [
    [x - 4, y],
    [x + 4, y],
  ];
  return [{ kind: 'path', points, closed: false, ground: 'none', ...pens[pen] }];
}

function sampleFill([x, y]: At, fill: Fill): Mark[] {
  const points: At[] = [
    [x - 4, y - 1.2],
    [x + 4, y - 1.2],
    [x + 4, y + 1.2],
    [x - 4, y + 1.2],
  ];
  const hatch = hatches[fill];
  const hatched = hatch ? hatching(points, hatch.angle, hatch.apart) : [];
  return [
    ...hatched.map((ends): Mark => ({ kind: 'path', points: ends, closed: false, width: 0.13, ground: 'none' })),
    { kind: 'path', points, closed: true, width: pens.thin.width, ground: 'none' },
  ];
}
