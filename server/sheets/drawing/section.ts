/** A cut through a zone, seen from its right end: the wall at the left, the room at the right. */
import { roomOf } from '../../checks/room.ts';
import type { FittingLayout, ZoneLayout } from '../../model/layout.ts';
import { greatest, NONE, type Ticks, ticks } from '../../model/ticks.ts';
import { type Drawable, drawerHeights, drawnLength, findingMarks, layersOf, spokenFitting } from './drawable.ts';
import { chain } from './elevation.ts';
import { type Chain, type Figure, type Label, type Point, rectanglePoints, type Scene, type Shape } from './scene.ts';
import { slopeLabels, slopesInSection } from './slopes.ts';

/** By the path of the zone; undefined where there is none. */
export function sectionOf(drawable: Drawable, path: string): Scene | undefined {
  const { layout } = drawable;
  const zone = layout.zones.find((one) => one.path === path);
  const wall = zone && layout.walls.find(({ name }) => name === zone.wall);
  if (!zone || !wall) return undefined;
  const fittings = layout.zones
    .filter((one) => one.path === path || one.path.startsWith(`${path}.`))
    .flatMap((one) => one.fittings);
  const top = wall.height ?? greatest(NONE, ...fittings.map(({ box }) => box.z[1]));
  const deepest = greatest(NONE, ...fittings.map(reachOf));
  const middle = zone.from.value + zone.width.value / 2;
  const slopes = slopesInSection(drawable, zone.wall, middle, outOf(top, deepest), roomOf(layout));
  return {
    title: `Section through ${zone.path}, ${zone.wall} wall`,
    view: 'section',
    figures: [
      room(top, deepest, wall.height !== undefined && slopes.length === 0),
      ...slopes,
      ...fittings.flatMap((fitting) => hanging(fitting)),
      ...fittings.map((fitting) => cut(fitting, drawable)),
      ...carriers(drawable, fittings),
      ...findings(drawable, fittings, zone),
    ],
    labels: [
      ...fittings.flatMap((fitting) => labelOf(fitting, drawable)),
      ...slopeLabels(slopes, layout.slopes, drawable),
    ],
    chains: [...depths(fittings, drawable), ...heights(fittings, wall.height, drawable)],
  };
}

/** How far out something comes, with what hangs on it. */
function reachOf(fitting: FittingLayout): Ticks {
  if (fitting.kind !== 'rod') return fitting.box.y[1];
  const half = Math.max(0, ...fitting.garments.map(({ hanger, depth }) => Math.max(hanger ?? 0, depth ?? 0))) / 2;
  return ticks(Math.round(fitting.fromWall + half));
}

/** How far out of the wall a section shows the room. */
function outOf(top: Ticks, deepest: Ticks): number {
  return Math.round(Math.max(deepest * 1.25, top * 0.2));
}

function room(top: Ticks, deepest: Ticks, isCeilingKnown: boolean): Figure {
  const out = outOf(top, deepest);
  const thick = Math.round(top * 0.025);
  const shapes: Shape[] = [
    { kind: 'area', points: rectanglePoints([-thick, 0], [-thick, top]), pen: 'none', fill: 'wall' },
    { kind: 'area', points: rectanglePoints([0, out], [-thick, 0]), pen: 'none', fill: 'wall' },
    {
      kind: 'line',
      points: [
        [0, top],
        [0, 0],
        [out, 0],
      ],
      pen: 'cut',
    },
    {
      kind: 'line',
      points: [
        [0, top],
        [out, top],
      ],
      pen: isCeilingKnown ? 'cut' : 'hidden',
    },
  ];
  return { layer: 'walls', label: 'wall, floor and ceiling', shapes };
}

function cut(fitting: FittingLayout, drawable: Drawable): Figure {
  const { y, z } = fitting.box;
  const shapes: Shape[] = [];
  switch (fitting.kind) {
    case 'shelf': {
      if (fitting.tilted) {
        // Its front edge is the lower one, and stands at its height; the box holds it whole.
        const points: Point[] = [
          [y[0], z[1] - fitting.thickness],
          [y[1], z[0]],
          [y[1], z[0] + fitting.thickness],
          [y[0], z[1]],
        ];
        shapes.push({ kind: 'area', points, pen: 'outline', fill: 'board' });
      } else shapes.push({ kind: 'area', points: rectanglePoints(y, z), pen: 'outline', fill: 'board' });
      if (fitting.edge) {
        const thick = fitting.edge.board.thickness ?? fitting.thickness;
        shapes.push({
          kind: 'area',
          points: rectanglePoints([y[1] - thick, y[1]], [z[1] - fitting.edge.height, z[1]]),
          pen: 'outline',
          fill: 'board',
        });
      }
      break;
    }
    case 'rod': {
      const centre: Point = [fitting.fromWall, fitting.at.value];
      const radius = fitting.diameter / 2;
      const arm = fitting.diameter * 1.3;
      shapes.push(
        { kind: 'circle', centre, radius, pen: 'outline', fill: 'paper' },
        {
          kind: 'line',
          points: [
            [centre[0] - arm, centre[1]],
            [centre[0] + arm, centre[1]],
          ],
          pen: 'centre',
        },
        {
          kind: 'line',
          points: [
            [centre[0], centre[1] - arm],
            [centre[0], centre[1] + arm],
          ],
          pen: 'centre',
        },
      );
      break;
    }
    case 'panel':
      shapes.push({ kind: 'area', points: rectanglePoints(y, z), pen: 'thin', fill: 'none' });
      break;
    case 'drawers':
      for (const side of drawerHeights(fitting))
        shapes.push({ kind: 'area', points: rectanglePoints(y, side), pen: 'outline', fill: 'paper' });
      if (fitting.pullOut > 0)
        shapes.push({
          kind: 'area',
          points: rectanglePoints([y[1], y[1] + fitting.pullOut], z),
          pen: 'hidden',
          fill: 'none',
        });
      break;
  }
  return { layer: layersOf[fitting.kind], of: fitting.path, label: spokenFitting(fitting, drawable), shapes };
}

/** A hanger on the rod, and the room that the longest and the widest garment take. */
function hanging(rod: FittingLayout): Figure[] {
  if (rod.kind !== 'rod') return [];
  const longest = Math.max(0, ...rod.garments.map(({ hang }) => hang ?? 0));
  const wide = Math.max(0, ...rod.garments.map(({ hanger, depth }) => Math.max(hanger ?? 0, depth ?? 0)));
  if (longest === 0 || wide === 0) return [];
  const [x, z] = [rod.fromWall, rod.at.value];
  const shoulder = wide * 0.28;
  return [
    {
      layer: 'garments',
      label: `what hangs on ${rod.path}`,
      shapes: [
        {
          kind: 'line',
          points: [
            [x, z],
            [x - wide / 2, z - Math.min(shoulder, longest)],
            [x - wide / 2, z - longest],
            [x + wide / 2, z - longest],
            [x + wide / 2, z - Math.min(shoulder, longest)],
            [x, z],
          ],
          pen: 'hidden',
        },
      ],
    },
  ];
}

/** Brackets in outline: as far out and as far down as their hardware says. */
function carriers({ fixings }: Drawable, fittings: readonly FittingLayout[]): Figure[] {
  return fittings.flatMap((fitting): Figure[] => {
    if (fitting.kind !== 'shelf') return [];
    const bracket = (fixings.of.get(fitting.path) ?? []).find(
      ({ role, hardware }) => role === 'bracket' && hardware.reach !== undefined && hardware.leg !== undefined,
    );
    if (!bracket) return [];
    const under = fitting.at.value;
    const { reach = NONE, leg = NONE } = bracket.hardware;
    return [
      {
        layer: 'fixings',
        of: fitting.path,
        label: `bracket ${bracket.hardware.name}`,
        shapes: [
          {
            kind: 'line',
            points: [
              [0, under - leg],
              [0, under],
              [reach, under],
              [0, under - leg],
            ],
            pen: 'thin',
          },
        ],
      },
    ];
  });
}

function findings(drawable: Drawable, fittings: readonly FittingLayout[], zone: ZoneLayout): Figure[] {
  return findingMarks(drawable, [
    ...fittings.map(({ path, box }) => ({ path, at: [box.y[1], (box.z[0] + box.z[1]) / 2] as const })),
    ...fittings.flatMap(({ kind, path, box }) =>
      kind === 'panel' ? [{ path: path.replace(/\.(left|right)$/, ''), at: [box.y[1], box.z[0]] as const }] : [],
    ),
    { path: zone.path, at: [NONE, NONE] as const },
  ]);
}

function labelOf(fitting: FittingLayout, drawable: Drawable): Label[] {
  const { y, z } = fitting.box;
  const label = (text: string, places: Label['places']): Label => ({
    text,
    size: 'small',
    layer: 'texts',
    of: fitting.path,
    places,
  });
  switch (fitting.kind) {
    case 'shelf': {
      const tilt = fitting.tilted ? ', tilted' : '';
      return [
        label(`${fitting.name}${tilt}`, [
          { at: [y[1], (z[0] + z[1]) / 2], anchor: 'start', stands: 'on', clear: 1.2 },
          { at: [(y[0] + y[1]) / 2, z[1]], anchor: 'middle', stands: 'above' },
        ]),
      ];
    }
    case 'rod': {
      const names = [...new Set(fitting.garments.map(({ name }) => name))];
      const longest = fitting.garments.reduce(
        (low, { hang }) => Math.min(low, fitting.at.value - (hang ?? 0)),
        fitting.at.value as number,
      );
      return [
        label(`${fitting.name} ${drawnLength(fitting.diameter, drawable)} dia.`, [
          { at: [fitting.fromWall + fitting.diameter * 1.6, fitting.at.value], anchor: 'start', stands: 'below' },
          { at: [fitting.fromWall + fitting.diameter * 1.6, fitting.at.value], anchor: 'start', stands: 'above' },
        ]),
        ...(names.length > 0
          ? [
              label(names.join(', '), [
                { at: [fitting.fromWall, longest], anchor: 'middle', stands: 'above' },
                { at: [fitting.fromWall, longest], anchor: 'middle', stands: 'below' },
              ]),
            ]
          : []),
      ];
    }
    case 'drawers':
      return [
        label(`${fitting.count} drawers`, [
          { at: [(y[0] + y[1]) / 2, (z[0] + z[1]) / 2], anchor: 'middle', stands: 'on' },
        ]),
      ];
    case 'panel':
      return [];
  }
}

/** Below: how deep the deepest board is. Above: from the wall to each rod. */
function depths(fittings: readonly FittingLayout[], drawable: Drawable): Chain[] {
  const boards = fittings.filter(({ kind }) => kind !== 'rod');
  const front = greatest(NONE, ...boards.map(({ box }) => box.y[1]));
  const rods = [...new Set(fittings.flatMap((f) => (f.kind === 'rod' ? [f.fromWall] : [])))].sort((a, b) => a - b);
  const places = [...new Set([NONE, ...rods, front])].sort((a, b) => a - b);
  if (places.length < 2) return [];
  const whole = places.at(-1) as Ticks;
  const parts = chain(places, NONE, 0, 'depth', drawable, 'x', 'before');
  return places.length > 2 ? [parts, chain([NONE, whole], NONE, 1, 'whole depth', drawable, 'x', 'before')] : [parts];
}

function heights(fittings: readonly FittingLayout[], height: Ticks | undefined, drawable: Drawable): Chain[] {
  const marked = fittings.filter(({ kind }) => kind === 'shelf' || kind === 'rod');
  const levels = [...new Set(marked.map(({ at }) => at.value))].filter((at) => at > 0).sort((a, b) => a - b);
  if (levels.length === 0) return [];
  const ends = height === undefined ? levels : [...levels, height];
  return [
    {
      along: 'y',
      side: 'before',
      row: 0,
      style: 'running',
      label: 'heights from the floor',
      stations: [NONE, ...ends].map((at) => ({ at, from: NONE })),
      texts: ['0', ...ends.map((at) => drawnLength(at, drawable))],
    },
  ];
}
