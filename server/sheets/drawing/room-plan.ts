/** The room seen from above, the back wall at the top: where its walls, doors, fixtures and fittings stand. */
import { frameOf, type Room, roomOf } from '../../checks/room.ts';
import { type Frame, inwards, toPlan } from '../../checks/swings/plane.ts';
import type { FittingLayout, FixtureLayout, OpeningLayout } from '../../model/layout.ts';
import { NONE, TICKS_PER_INCH, type Ticks, ticks } from '../../model/ticks.ts';
import { type Drawable, drawnLength, findingMarks, layersOf, spokenFitting } from './drawable.ts';
import { chain, wallTitle } from './elevation.ts';
import { type Chain, type Figure, type Label, type Point, rectanglePoints, type Scene, type Shape } from './scene.ts';
import { slopesInPlan } from './slopes.ts';

/** Drawn only to show that there is a wall: nothing says how thick it is. */
const drawnThickness = 4 * TICKS_PER_INCH;

/** Undefined where no wall has a place in the plan. */
export function roomPlanOf(drawable: Drawable): Scene | undefined {
  const { layout } = drawable;
  const room = roomOf(layout);
  if (layout.plan.length === 0) return undefined;
  const fittings = layout.zones.flatMap((zone) => zone.fittings);
  const slopes = slopesInPlan(drawable, room, at);
  return {
    title: 'Plan',
    view: 'plan',
    figures: [
      ...walls(drawable, room),
      ...layout.openings.flatMap((opening) => openingFigure(opening, room)),
      // What stands higher is seen first: the highest are drawn last.
      ...fittings
        .toSorted((a, b) => a.box.z[1] - b.box.z[1])
        .flatMap((fitting) => fittingFigure(fitting, room, drawable)),
      ...layout.fixtures.flatMap((fixture) => fixtureFigure(fixture, room)),
      ...slopes.figures,
      ...findingFigures(drawable, fittings, room),
    ],
    labels: [
      ...zoneLabels(drawable, room),
      ...wallLabels(drawable, room),
      ...layout.fixtures.flatMap((f) => fixtureLabel(f, room)),
      ...openingLabels(layout.openings, room),
      ...slopes.labels,
    ],
    chains: chains(drawable, room),
  };
}

/** From a frame of the plan, whose Y points towards the viewer, to the drawing, where y points up. */
function at(frame: Frame, x: number, y: number): Point {
  const [X, Y] = toPlan(frame, [x, y]);
  return [X, -Y];
}

function area(frame: Frame, x: readonly [number, number], y: readonly [number, number]): Point[] {
  return rectanglePoints(x, y).map(([px, py]) => at(frame, px, py));
}

function walls({ layout }: Drawable, room: Room): Figure[] {
  return layout.plan.flatMap(({ wall: name }): Figure[] => {
    const frame = frameOf(name, room);
    const wall = room.walls.get(name);
    if (!frame || !wall) return [];
    const shapes: Shape[] = [];
    // The wall stands on both sides of its openings.
    const open = layout.openings.filter((o) => o.wall === name).sort((a, b) => a.from - b.from);
    let from: number = 0;
    for (const [start, end] of [
      ...open.map((o) => [o.from, o.from + o.width] as const),
      [wall.length, wall.length] as const,
    ]) {
      if (start > from)
        shapes.push(
          { kind: 'area', points: area(frame, [from, start], [-drawnThickness, 0]), pen: 'none', fill: 'wall' },
          { kind: 'line', points: [at(frame, from, 0), at(frame, start, 0)], pen: 'cut' },
        );
      from = Math.max(from, end);
    }
    for (const stud of wall.studs)
      shapes.push({ kind: 'line', points: [at(frame, stud, 0), at(frame, stud, -drawnThickness)], pen: 'thin' });
    return [{ layer: 'walls', of: name, label: wallTitle(name), shapes }];
  });
}

function openingFigure(opening: OpeningLayout, room: Room): Figure[] {
  const frame = frameOf(opening.wall, room);
  if (!frame) return [];
  const { from, width, leaf } = opening;
  const to = from + width;
  const shapes: Shape[] = [
    { kind: 'line', points: [at(frame, from, 0), at(frame, from, -drawnThickness)], pen: 'outline' },
    { kind: 'line', points: [at(frame, to, 0), at(frame, to, -drawnThickness)], pen: 'outline' },
  ];
  if (leaf.kind === 'swing' && leaf.hinge) {
    const [hinge, latch] = leaf.hinge === 'left' ? [from, to] : [to, from];
    const out = leaf.way === 'in' ? width : -width;
    const centre = at(frame, hinge, 0);
    const [closed, open] = [at(frame, latch, 0), at(frame, hinge, out)];
    shapes.push({ kind: 'line', points: [centre, open], pen: 'outline' });
    const angles = [closed, open].map(([x, y]) => (Math.atan2(y - centre[1], x - centre[0]) * 180) / Math.PI) as [
      number,
      number,
    ];
    // The quarter turn from one to the other, counter-clockwise.
    const [first, second] = (angles[1] - angles[0] + 720) % 360 < 180 ? angles : ([angles[1], angles[0]] as const);
    const turn = (second - first + 720) % 360;
    shapes.push({ kind: 'arc', centre, radius: width, from: first, to: first + turn, pen: 'thin' });
  } else if (leaf.kind === 'sliding') {
    const half = (from + to) / 2;
    const lap = width * 0.03;
    const third = drawnThickness / 3;
    shapes.push(
      {
        kind: 'area',
        points: area(frame, [from, half + lap], [-third * 1.4, -third * 0.9]),
        pen: 'thin',
        fill: 'paper',
      },
      { kind: 'area', points: area(frame, [half - lap, to], [-third * 2.1, -third * 1.6]), pen: 'thin', fill: 'paper' },
    );
  } else if (leaf.kind === 'bifold') {
    const quarter = width / 4;
    const fold = quarter * 0.9;
    shapes.push(
      {
        kind: 'line',
        points: [at(frame, from, 0), at(frame, from + quarter * 0.5, -fold), at(frame, from + quarter, 0)],
        pen: 'outline',
      },
      {
        kind: 'line',
        points: [at(frame, to, 0), at(frame, to - quarter * 0.5, -fold), at(frame, to - quarter, 0)],
        pen: 'outline',
      },
      { kind: 'line', points: [at(frame, from, 0), at(frame, to, 0)], pen: 'hidden' },
    );
  } else shapes.push({ kind: 'line', points: [at(frame, from, 0), at(frame, to, 0)], pen: 'hidden' });
  return [{ layer: 'openings', of: opening.name, label: `opening ${opening.name}`, shapes }];
}

function fittingFigure(fitting: FittingLayout, room: Room, drawable: Drawable): Figure[] {
  const frame = frameOf(fitting.wall, room);
  if (!frame) return [];
  const { x, y } = fitting.box;
  const shapes: Shape[] = [];
  switch (fitting.kind) {
    case 'rod':
      shapes.push({
        kind: 'line',
        points: [at(frame, x[0], fitting.fromWall), at(frame, x[1], fitting.fromWall)],
        pen: 'centre',
      });
      break;
    case 'panel':
      shapes.push({ kind: 'area', points: area(frame, x, y), pen: 'outline', fill: 'board' });
      break;
    case 'shelf':
      shapes.push({ kind: 'area', points: area(frame, x, y), pen: 'outline', fill: 'none' });
      break;
    case 'drawers':
      shapes.push({ kind: 'area', points: area(frame, x, y), pen: 'outline', fill: 'none' });
      if (fitting.pullOut > 0)
        shapes.push({
          kind: 'area',
          points: area(frame, x, [y[1], y[1] + fitting.pullOut]),
          pen: 'hidden',
          fill: 'none',
        });
      break;
  }
  return [{ layer: layersOf[fitting.kind], of: fitting.path, label: spokenFitting(fitting, drawable), shapes }];
}

/** On the ceiling dashed, as it is above the cut; on a wall in front of its face. */
function fixtureFigure(fixture: FixtureLayout, room: Room): Figure[] {
  const frame = frameOf(fixture.wall, room);
  if (!frame || fixture.kind === 'baseboard') return [];
  const { x, y } = fixture.box;
  const isCeiling = fixture.wall === undefined;
  const out: readonly [number, number] = isCeiling ? y : [y[0], Math.max(y[1], y[0] + TICKS_PER_INCH)];
  const isFlat = out[1] - out[0] <= 2 * TICKS_PER_INCH;
  const pen = isCeiling ? 'hidden' : 'thin';
  const shapes: Shape[] = [
    {
      kind: 'area',
      points: area(frame, x, out),
      pen: isCeiling ? 'hidden' : 'outline',
      fill: isCeiling ? 'none' : isFlat ? 'ink' : 'paper',
    },
  ];
  if (isCeiling || !isFlat)
    shapes.push(
      { kind: 'line', points: [at(frame, x[0], out[0]), at(frame, x[1], out[1])], pen },
      { kind: 'line', points: [at(frame, x[0], out[1]), at(frame, x[1], out[0])], pen },
    );
  return [{ layer: 'fixtures', of: fixture.name, label: `${fixture.kind} ${fixture.name}`, shapes }];
}

function findingFigures(drawable: Drawable, fittings: readonly FittingLayout[], room: Room): Figure[] {
  const things: { path: string; at: Point }[] = [];
  for (const fitting of fittings) {
    const frame = frameOf(fitting.wall, room);
    const { x, y } = fitting.box;
    if (frame) things.push({ path: fitting.path, at: at(frame, x[0] + (x[1] - x[0]) * 0.3, y[1]) });
  }
  const on = (wall: string | undefined, path: string, x: number, y: number): void => {
    const frame = frameOf(wall, room);
    if (frame) things.push({ path, at: at(frame, x, y) });
  };
  const { layout } = drawable;
  for (const { wall, path, box } of fittings)
    if (/\.(left|right)$/.test(path))
      on(wall, path.replace(/\.(left|right)$/, ''), (box.x[0] + box.x[1]) / 2, box.y[1]);
  for (const { wall, path, from, width } of layout.zones)
    on(wall, path, from.value + width.value * 0.8, TICKS_PER_INCH * 6);
  for (const { wall, name, box } of layout.fixtures) on(wall, name, box.x[0], box.y[1]);
  for (const { wall, name, from, width } of layout.openings) on(wall, name, from + width / 2, 0);
  for (const { wall, name, run } of layout.slopes) on(wall, name, (room.walls.get(wall)?.length ?? 0) * 0.1, run);
  for (const { name, length } of layout.walls) on(name, name, length * 0.35, -drawnThickness / 2);
  return findingMarks(drawable, things);
}

// Texts

function zoneLabels({ layout }: Drawable, room: Room): Label[] {
  return layout.zones
    .filter(({ path }) => !path.includes('.'))
    .flatMap((zone): Label[] => {
      const frame = frameOf(zone.wall, room);
      if (!frame) return [];
      const deep = Math.max(8 * TICKS_PER_INCH, ...zone.fittings.map(({ box }) => box.y[1]));
      const middle = zone.from.value + zone.width.value / 2;
      const upright = Math.abs(frame.along[1]) > Math.abs(frame.along[0]);
      const places = [0.5, 0.3, 0.75].map((part) => ({
        at: at(frame, middle, deep * part),
        anchor: 'middle' as const,
        stands: 'on' as const,
        turned: upright,
        within: zone.width.value,
      }));
      return [{ text: zone.name, size: 'normal', bold: true, of: zone.path, layer: 'texts', needed: true, places }];
    });
}

function wallLabels(drawable: Drawable, room: Room): Label[] {
  return drawable.layout.plan.flatMap(({ wall: name }): Label[] => {
    const frame = frameOf(name, room);
    const wall = room.walls.get(name);
    if (!frame || !wall) return [];
    const upright = Math.abs(frame.along[1]) > Math.abs(frame.along[0]);
    const free = [0.5, 0.2, 0.8].map((part) => ({
      at: at(frame, wall.length * part, -drawnThickness),
      anchor: 'middle' as const,
      stands: outside(frame),
      turned: upright,
    }));
    const title = wallTitle(name).toLowerCase();
    // Beside a wall that stands askew there is no chain.
    const isAskew = frame.along.every((part) => Math.abs(part) > 1e-9);
    const text = isAskew ? `${title} ${drawnLength(wall.length, drawable)}` : title;
    return [{ text, size: 'small', layer: 'texts', of: name, needed: isAskew, places: free }];
  });
}

/** Where a text stands that is outside of a wall: between it and its dimensions, however large the drawing is. */
function outside(frame: Frame): 'above' | 'below' {
  const [out, face] = [at(frame, 0, -1), at(frame, 0, 0)];
  const [dx, dy] = [out[0] - face[0], out[1] - face[1]];
  // Of a text that is read from the right, what is above it is to the left.
  return Math.abs(dx) > Math.abs(dy) ? (dx < 0 ? 'above' : 'below') : dy > 0 ? 'above' : 'below';
}

function fixtureLabel(fixture: FixtureLayout, room: Room): Label[] {
  const frame = frameOf(fixture.wall, room);
  if (!frame || fixture.kind === 'baseboard') return [];
  const { x, y } = fixture.box;
  const middle = (x[0] + x[1]) / 2;
  const out = fixture.wall === undefined ? y[1] : Math.max(y[1], y[0] + TICKS_PER_INCH);
  const place = (px: number, py: number, stands: 'above' | 'below' | 'on', anchor: 'start' | 'middle' | 'end') => ({
    at: at(frame, px, py),
    anchor,
    stands,
  });
  return [
    {
      text: fixture.name,
      size: 'small',
      layer: 'texts',
      of: fixture.name,
      places: [
        place(middle, out + TICKS_PER_INCH * 2, 'on', 'middle'),
        place(x[1] + TICKS_PER_INCH, (y[0] + out) / 2, 'on', 'start'),
        place(x[0] - TICKS_PER_INCH, (y[0] + out) / 2, 'on', 'end'),
        place(middle, out + TICKS_PER_INCH * 5, 'on', 'middle'),
      ],
    },
  ];
}

function openingLabels(openings: readonly OpeningLayout[], room: Room): Label[] {
  return openings.flatMap((opening): Label[] => {
    const frame = frameOf(opening.wall, room);
    if (!frame) return [];
    const { leaf } = opening;
    const how = leaf.kind === 'swing' ? `swings ${leaf.way}` : leaf.kind === 'none' ? 'open' : leaf.kind;
    const upright = Math.abs(frame.along[1]) > Math.abs(frame.along[0]);
    const middle = opening.from + opening.width / 2;
    const shared = { anchor: 'middle' as const, turned: upright };
    const places = [
      ...[1.2, 2.4].map((times) => ({
        ...shared,
        at: at(frame, middle, drawnThickness * times),
        stands: 'on' as const,
      })),
      { ...shared, at: at(frame, middle, -drawnThickness), stands: outside(frame) },
    ];
    return [{ text: how, size: 'small', layer: 'texts', of: opening.name, places }];
  });
}

// Dimensions

/** Of walls that stand square in the drawing: their lengths, and of the one with an opening what is beside it. */
function chains(drawable: Drawable, room: Room): Chain[] {
  const result: Chain[] = [];
  const rows = new Map<string, number>();
  for (const { wall: name } of drawable.layout.plan) {
    const frame = frameOf(name, room);
    const wall = room.walls.get(name);
    if (!frame || !wall) continue;
    const [ax, ay] = frame.along;
    const isX = Math.abs(ay) < 1e-9;
    if (!isX && Math.abs(ax) > 1e-9) continue;
    const out = inwards(frame.along);
    // Towards the outside: where the chain stands. In the drawing y is turned over.
    const side = isX ? (out[1] > 0 ? 'behind' : 'before') : out[0] > 0 ? 'before' : 'behind';
    const along = (x: number): Ticks => ticks(Math.round(isX ? at(frame, x, 0)[0] : at(frame, x, 0)[1]));
    const face = at(frame, 0, -drawnThickness);
    const from = ticks(Math.round(isX ? face[1] : face[0]));
    const open = drawable.layout.openings.filter((o) => o.wall === name);
    const places = [...new Set([NONE, ...open.flatMap((o) => [o.from, ticks(o.from + o.width)]), wall.length])].sort(
      (a, b) => a - b,
    );
    const key = `${isX} ${side}`;
    const add = (list: readonly Ticks[], label: string): void => {
      const row = rows.get(key) ?? 0;
      rows.set(key, row + 1);
      const stations = list.map(along).sort((a, b) => a - b);
      result.push(chain(stations, from, row, label, drawable, isX ? 'x' : 'y', side));
    };
    if (places.length > 2) add(places, `openings in ${wallTitle(name)}`);
    add([NONE, wall.length], `length of ${wallTitle(name)}`);
  }
  return result;
}

export function planNote(drawable: Drawable): string | undefined {
  const odd = drawable.layout.corners.filter(({ angle }) => angle !== 90);
  if (odd.length === 0) return undefined;
  return odd
    .map(
      ({ walls: [a, b], angle, measured }) =>
        `Corner of ${a} and ${b}: ${Number(angle.toFixed(2))} degrees${measured ? ', measured' : ''}.`,
    )
    .join(' ');
}
