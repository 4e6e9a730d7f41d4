/** A wall as somebody sees it who stands inside and faces it. */

import { roomOf } from '../../checks/room.ts';
import { capital } from '../../model/capital.ts';
import type { FittingLayout, FixtureLayout, WallLayout, ZoneLayout } from '../../model/layout.ts';
import { greatest, NONE, type Ticks, ticks } from '../../model/ticks.ts';
import { type Drawable, drawerHeights, drawnLength, findingMarks, layersOf, spokenFitting } from './drawable.ts';
import { type Chain, type Figure, type Label, type Point, rectanglePoints, type Scene, type Shape } from './scene.ts';
import { slopeLabels, slopesOnWall } from './slopes.ts';

/** Undefined where there is no such wall. */
export function elevationOf(drawable: Drawable, wallName: string): Scene | undefined {
  const { layout } = drawable;
  const wall = layout.walls.find(({ name }) => name === wallName);
  if (!wall) return undefined;
  const zones = layout.zones.filter((zone) => zone.wall === wallName);
  const outer = zones.filter(({ path }) => !path.includes('.'));
  const fittings = zones.flatMap((zone) => zone.fittings);
  const fixtures = layout.fixtures.filter((fixture) => fixture.wall === wallName);
  const top = topOf(wall, fittings);
  const slopes = slopesOnWall(drawable, wallName, wall.length, roomOf(layout));
  const figures = [
    outline(wall, top, slopes.length > 0),
    ...slopes,
    ...openings(drawable, wall),
    ...studs(wall, top),
    ...taken(wall, top),
    ...zones.map((zone) => zoneFigure(zone, top)),
    ...fittings.map((fitting) => fittingFigure(fitting, drawable)),
    ...hanging(fittings),
    ...fixtures.map(fixtureFigure),
    ...fixingFigures(drawable, wallName),
    ...findingFigures(drawable, wall, top, zones, fixtures),
  ];
  return {
    title: `${wallTitle(wallName)}, elevation`,
    view: 'elevation',
    figures,
    labels: [
      ...fixtures.map(fixtureLabel),
      // Panels find room where the others have left some.
      ...fittings
        .toSorted((a, b) => Number(a.kind === 'panel') - Number(b.kind === 'panel'))
        .flatMap((fitting) => fittingLabel(fitting, drawable)),
      ...slopeLabels(slopes, layout.slopes, drawable),
      ...outer.map((zone) => zoneLabel(zone, top)),
    ],
    chains: [
      ...zoneChains(wall, outer, drawable),
      ...heightChains(wall, fittings, top, drawable),
      ...studChain(wall, top, drawable),
    ],
  };
}

export function wallTitle(name: string): string {
  const standard = ['left', 'back', 'right', 'front'].includes(name);
  return standard ? `${capital(name)} wall` : `Wall ${name}`;
}

/** As high as is said, or a little higher than what stands on it. */
function topOf(wall: WallLayout, fittings: readonly FittingLayout[]): Ticks {
  if (wall.height !== undefined) return wall.height;
  const highest = greatest(NONE, ...fittings.map(({ box }) => box.z[1]));
  return ticks(Math.max(Math.round(highest * 1.08), Math.round(wall.length / 3)));
}

function outline(wall: WallLayout, top: Ticks, isSloped: boolean): Figure {
  const length = wall.length;
  const below = Math.round(Math.max(top, length) * 0.02);
  const floor: Point[] = [
    [0, 0],
    [length, 0],
    [length, -below],
    [0, -below],
  ];
  const frame: Point[] = [
    [0, top],
    [0, 0],
    [length, 0],
    [length, top],
  ];
  return {
    layer: 'walls',
    of: wall.name,
    label: wallTitle(wall.name),
    shapes: [
      { kind: 'area', points: floor, pen: 'none', fill: 'wall' },
      { kind: 'line', points: frame, pen: 'cut' },
      // The ceiling, where nothing says how high it is or another one is below it, is only hinted at.
      {
        kind: 'line',
        points: [frame[3] as Point, frame[0] as Point],
        pen: wall.height === undefined || isSloped ? 'hidden' : 'cut',
      },
    ],
  };
}

function openings({ layout }: Drawable, wall: WallLayout): Figure[] {
  return layout.openings
    .filter((opening) => opening.wall === wall.name)
    .map(({ name, from, width, height, leaf }) => {
      const x = [from, from + width] as const;
      const shapes: Shape[] = [
        { kind: 'area', points: rectanglePoints(x, [0, height]), pen: 'outline', fill: 'paper' },
      ];
      if (leaf.kind === 'swing' && leaf.hinge) {
        // The point of the lines is at the hinge; dashed where the leaf goes away from who looks.
        const [hinge, latch] = leaf.hinge === 'left' ? x : ([x[1], x[0]] as const);
        shapes.push({
          kind: 'line',
          points: [
            [latch, 0],
            [hinge, height / 2],
            [latch, height],
          ],
          pen: leaf.way === 'in' ? 'thin' : 'hidden',
        });
      } else if (leaf.kind === 'sliding' || leaf.kind === 'bifold') {
        const panes = leaf.kind === 'sliding' ? 2 : 4;
        for (let i = 1; i < panes; i++) {
          const at = from + (width * i) / panes;
          shapes.push({
            kind: 'line',
            points: [
              [at, 0],
              [at, height],
            ],
            pen: 'thin',
          });
        }
      }
      return { layer: 'openings', of: name, label: `opening ${name}`, shapes } satisfies Figure;
    });
}

function studs(wall: WallLayout, top: Ticks): Figure[] {
  return wall.studs.map((at) => ({
    layer: 'studs',
    shapes: [
      {
        kind: 'line',
        points: [
          [at, 0],
          [at, top],
        ],
        pen: 'centre',
      },
    ],
  }));
}

/** What the fittings of another wall take of this one at a corner. */
function taken(wall: WallLayout, top: Ticks): Figure[] {
  const { left, right } = wall.inset;
  const ends: [Ticks, Ticks][] = [
    [NONE, left],
    [ticks(wall.length - right), wall.length],
  ];
  return ends
    .filter(([from, to]) => to > from)
    .map((x) => ({
      layer: 'zones',
      label: 'taken by what stands on the next wall',
      shapes: [{ kind: 'area', points: rectanglePoints(x, [0, top]), pen: 'hidden', fill: 'taken' }],
    }));
}

function zoneFigure(zone: ZoneLayout, top: Ticks): Figure {
  const from = zone.from.value;
  const to = from + zone.width.value;
  const pen = zone.kind === 'gap' ? 'hidden' : 'thin';
  return {
    layer: 'zones',
    of: zone.path,
    label: `${zone.kind} ${zone.path}`,
    shapes: [from, to].map((x) => ({
      kind: 'line',
      points: [
        [x, 0],
        [x, top],
      ],
      pen,
    })),
  };
}

function fittingFigure(fitting: FittingLayout, drawable: Drawable): Figure {
  const { x, z } = fitting.box;
  const shapes: Shape[] = [];
  switch (fitting.kind) {
    case 'shelf':
      shapes.push({ kind: 'area', points: rectanglePoints(x, z), pen: 'outline', fill: 'board' });
      if (fitting.edge)
        shapes.push({
          kind: 'area',
          points: rectanglePoints(x, [z[1] - fitting.edge.height, z[1]]),
          pen: 'thin',
          fill: 'none',
        });
      break;
    case 'rod': {
      shapes.push({ kind: 'area', points: rectanglePoints(x, z), pen: 'outline', fill: 'paper' });
      const over = (x[1] - x[0]) * 0.02;
      shapes.push({
        kind: 'line',
        points: [
          [x[0] - over, fitting.at.value],
          [x[1] + over, fitting.at.value],
        ],
        pen: 'centre',
      });
      break;
    }
    case 'panel':
      shapes.push({ kind: 'area', points: rectanglePoints(x, z), pen: 'outline', fill: 'board' });
      break;
    case 'drawers':
      for (const front of drawerHeights(fitting)) {
        const [low] = front;
        shapes.push({ kind: 'area', points: rectanglePoints(x, front), pen: 'outline', fill: 'paper' });
        const middle = (x[0] + x[1]) / 2;
        const grip = Math.min((x[1] - x[0]) / 8, fitting.each);
        const at = low + fitting.each / 2;
        shapes.push({
          kind: 'line',
          points: [
            [middle - grip, at],
            [middle + grip, at],
          ],
          pen: 'thin',
        });
      }
      break;
  }
  return { layer: layersOf[fitting.kind], of: fitting.path, label: spokenFitting(fitting, drawable), shapes };
}

/** How far down the longest garment of each rod hangs. */
function hanging(fittings: readonly FittingLayout[]): Figure[] {
  return fittings.flatMap((rod): Figure[] => {
    if (rod.kind !== 'rod') return [];
    const longest = Math.max(0, ...rod.garments.map(({ hang }) => hang ?? 0));
    if (longest === 0) return [];
    const { x } = rod.box;
    const low = rod.at.value - longest;
    const inset = (x[1] - x[0]) * 0.06;
    const points: Point[] = [
      [x[0] + inset, rod.at.value],
      [x[0] + inset, low],
      [x[1] - inset, low],
      [x[1] - inset, rod.at.value],
    ];
    return [
      { layer: 'garments', label: `what hangs on ${rod.path}`, shapes: [{ kind: 'line', points, pen: 'hidden' }] },
    ];
  });
}

function fixtureFigure(fixture: FixtureLayout): Figure {
  const { x, z } = fixture.box;
  const shapes: Shape[] = [{ kind: 'area', points: rectanglePoints(x, z), pen: 'outline', fill: 'paper' }];
  if (fixture.kind !== 'baseboard')
    shapes.push(
      {
        kind: 'line',
        points: [
          [x[0], z[0]],
          [x[1], z[1]],
        ],
        pen: 'thin',
      },
      {
        kind: 'line',
        points: [
          [x[0], z[1]],
          [x[1], z[0]],
        ],
        pen: 'thin',
      },
    );
  if (fixture.clear > 0)
    shapes.push({
      kind: 'area',
      points: rectanglePoints(
        [x[0] - fixture.clear, x[1] + fixture.clear],
        [Math.max(0, z[0] - fixture.clear), z[1] + fixture.clear],
      ),
      pen: 'hidden',
      fill: 'none',
    });
  return { layer: 'fixtures', of: fixture.name, label: `${fixture.kind} ${fixture.name}`, shapes };
}

/** Each piece of hardware that stands on this wall, by what it holds in. */
function fixingFigures({ fixings }: Drawable, wall: string): Figure[] {
  return [...fixings.of].flatMap(([path, all]): Figure[] => {
    const shapes = all
      .filter((fixing) => fixing.wall === wall && fixing.hold.kind !== 'part')
      .map(({ at, height, hold }): Shape => {
        const symbol = hold.kind === 'stud' ? 'stud' : hold.kind === 'not-known' ? 'unknown' : 'anchor';
        return { kind: 'symbol', symbol, at: [at, height] };
      });
    return shapes.length > 0 ? [{ layer: 'fixings', of: path, shapes }] : [];
  });
}

/** Where each finding is about something that stands here; of one that several things bear the name of, at the first. */
function findingFigures(
  drawable: Drawable,
  wall: WallLayout,
  top: Ticks,
  zones: readonly ZoneLayout[],
  fixtures: readonly FixtureLayout[],
): Figure[] {
  const fittings = zones.flatMap((zone) => zone.fittings);
  const things: { readonly path: string; readonly at: Point }[] = [
    ...fittings.map(({ path, box }) => ({
      path,
      at: [box.x[0] + (box.x[1] - box.x[0]) * 0.3, (box.z[0] + box.z[1]) / 2] as const,
    })),
    // What is about both panels of a pair bears the name of the pair.
    ...fittings.flatMap(({ kind, path, box }) =>
      kind === 'panel'
        ? [
            {
              path: path.replace(/\.(left|right)$/, ''),
              at: [(box.x[0] + box.x[1]) / 2, box.z[0] + (box.z[1] - box.z[0]) * 0.2] as const,
            },
          ]
        : [],
    ),
    ...zones.map(({ path, from, width }) => ({ path, at: [from.value + width.value * 0.75, top * 0.02] as const })),
    ...fixtures.map(({ name, box }) => ({ path: name, at: [box.x[1], box.z[1]] as const })),
    ...drawable.layout.openings
      .filter((opening) => opening.wall === wall.name)
      .map(({ name, from, width, height }) => ({ path: name, at: [from + width / 2, height * 0.6] as const })),
    ...drawable.layout.slopes
      .filter((slope) => slope.wall === wall.name)
      .map(({ name, low }) => ({ path: name, at: [wall.length * 0.1, low] as const })),
    { path: wall.name, at: [wall.length * 0.5, top * 0.97] as const },
  ];
  return findingMarks(drawable, things);
}

// Texts

function fittingLabel(fitting: FittingLayout, drawable: Drawable): Label[] {
  const { x, z } = fitting.box;
  const within = x[1] - x[0];
  const high = drawnLength(fitting.at.value, drawable);
  const long = drawnLength(ticks(x[1] - x[0]), drawable);
  const middle = (x[0] + x[1]) / 2;
  const label = (text: string, places: Label['places']): Label => ({
    text,
    size: 'small',
    layer: 'texts',
    of: fitting.path,
    places,
  });
  switch (fitting.kind) {
    case 'shelf':
      return [
        label(`${fitting.name} ${long}`, [
          { at: [middle, z[1]], anchor: 'middle', stands: 'above', within },
          { at: [middle, z[0]], anchor: 'middle', stands: 'below', within },
        ]),
      ];
    case 'rod':
      return [
        label(`${fitting.name} ${long}, centre ${high}`, [
          { at: [middle, z[0]], anchor: 'middle', stands: 'below', within },
          { at: [middle, z[1]], anchor: 'middle', stands: 'above', within },
        ]),
      ];
    case 'drawers':
      return [
        label(`${fitting.count} drawers ${fitting.name}`, [
          { at: [middle, z[1]], anchor: 'middle', stands: 'above', within },
        ]),
      ];
    case 'panel': {
      const tall = drawnLength(ticks(z[1] - z[0]), drawable);
      // Inside its tower where there is room between two shelves, else on its other side.
      const faces =
        fitting.side === 'left' ? ([x[1], 'below', x[0], 'above'] as const) : ([x[0], 'above', x[1], 'below'] as const);
      const [inside, within, outside, beyond] = faces;
      const heights = [0.45, 0.55, 0.35, 0.65, 0.25, 0.75, 0.15, 0.85].map((part) => z[0] + (z[1] - z[0]) * part);
      const turned = { anchor: 'middle', turned: true } as const;
      return [
        label(`panel ${tall}`, [
          ...heights.map((at) => ({ at: [inside, at] as const, stands: within, ...turned })),
          ...heights.map((at) => ({ at: [outside, at] as const, stands: beyond, ...turned })),
        ]),
      ];
    }
  }
}

function zoneLabel(zone: ZoneLayout, top: Ticks): Label {
  const middle = zone.from.value + zone.width.value / 2;
  const within = zone.width.value;
  return {
    text: zone.kind === 'gap' ? `${zone.name} (left free)` : zone.name,
    size: 'normal',
    bold: true,
    of: zone.path,
    layer: 'texts',
    needed: true,
    places: [
      { at: [middle, 0], anchor: 'middle', stands: 'above', within },
      { at: [middle, top * 0.1], anchor: 'middle', stands: 'above', within },
      { at: [middle, top * 0.015], anchor: 'start', stands: 'on', turned: true },
      { at: [middle, top * 0.3], anchor: 'start', stands: 'on', turned: true },
    ],
  };
}

function fixtureLabel(fixture: FixtureLayout): Label {
  const { x, z } = fixture.box;
  return {
    text: fixture.name,
    size: 'small',
    layer: 'texts',
    of: fixture.name,
    needed: fixture.kind !== 'baseboard',
    places: [
      { at: [x[1], (z[0] + z[1]) / 2], anchor: 'start', stands: 'on', clear: 1.2 },
      { at: [x[0], (z[0] + z[1]) / 2], anchor: 'end', stands: 'on', clear: 1.2 },
      { at: [(x[0] + x[1]) / 2, z[1]], anchor: 'middle', stands: 'above' },
      { at: [(x[0] + x[1]) / 2, z[0]], anchor: 'middle', stands: 'below' },
    ],
  };
}

// Dimensions

/** Below: what the zones take, from corner to corner; then the whole wall. */
function zoneChains(wall: WallLayout, zones: readonly ZoneLayout[], drawable: Drawable): Chain[] {
  const ends = [
    NONE,
    ...zones.flatMap(({ from, width }) => [from.value, ticks(from.value + width.value)]),
    wall.length,
  ];
  const places = [...new Set(ends)].filter((at) => at >= 0 && at <= wall.length).sort((a, b) => a - b);
  const whole: Chain = chain(
    [NONE, wall.length],
    NONE,
    1,
    `length of ${wallTitle(wall.name)}`,
    drawable,
    'x',
    'before',
  );
  if (places.length < 3) return [{ ...whole, row: 0 }];
  return [chain(places, NONE, 0, `zones along ${wallTitle(wall.name)}`, drawable, 'x', 'before'), whole];
}

export function chain(
  places: readonly Ticks[],
  from: Ticks,
  row: number,
  label: string,
  drawable: Drawable,
  along: 'x' | 'y',
  side: 'before' | 'behind',
): Chain {
  return {
    along,
    side,
    row,
    style: 'chain',
    label,
    stations: places.map((at) => ({ at, from })),
    texts: places.slice(1).map((at, i) => drawnLength(ticks(at - (places[i] as Ticks)), drawable)),
  };
}

/**
 * At the left, as on a story pole: every height at which something is fixed, from the floor. At the right: from one
 * to the next, and the whole height.
 */
function heightChains(wall: WallLayout, fittings: readonly FittingLayout[], top: Ticks, drawable: Drawable): Chain[] {
  const marked = fittings.filter(({ kind }) => kind === 'shelf' || kind === 'rod');
  const inOrder = (all: readonly FittingLayout[]): Ticks[] =>
    [...new Set(all.map(({ at }) => at.value))].filter((at) => at > 0 && at < top).sort((a, b) => a - b);
  const levels = inOrder(marked);
  // Those of the zone at the right, which the chain stands beside.
  const shelves = marked.filter(({ kind }) => kind === 'shelf');
  const farthest = greatest(NONE, ...shelves.map(({ box }) => box.x[1]));
  const beside = inOrder(shelves.filter(({ box }) => box.x[1] === farthest));
  const ends = wall.height === undefined ? beside : [...beside, wall.height];
  const chains: Chain[] = [];
  if (levels.length > 0)
    chains.push({
      along: 'y',
      side: 'before',
      row: 0,
      style: 'running',
      label: 'heights from the floor',
      stations: [{ at: NONE, from: NONE }, ...levels.map((at) => ({ at, from: NONE }))],
      texts: ['0', ...levels.map((at) => drawnLength(at, drawable))],
    });
  if (ends.length > 0)
    chains.push(chain([NONE, ...ends], wall.length, 0, 'from height to height', drawable, 'y', 'behind'));
  if (wall.height !== undefined && levels.length > 0)
    chains.push(chain([NONE, wall.height], wall.length, 1, 'height of the ceiling', drawable, 'y', 'behind'));
  return chains;
}

/** Above: the middle of each stud, from the left corner. */
function studChain(wall: WallLayout, top: Ticks, drawable: Drawable): Chain[] {
  if (wall.studs.length === 0) return [];
  return [
    {
      along: 'x',
      side: 'behind',
      row: 0,
      style: 'running',
      label: 'middles of studs from the left corner',
      stations: [{ at: NONE, from: top }, ...wall.studs.map((at) => ({ at, from: top }))],
      texts: ['0', ...wall.studs.map((at) => drawnLength(at, drawable))],
    },
  ];
}
