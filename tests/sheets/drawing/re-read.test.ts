/**
 * Drawings of closets at random, read again from their SVG and PDF (read-again.ts) and held against the layout that they
 * are of, through the scale that stands on the sheet: every part is drawn once, where the layout has it, and nothing
 * else as a part; what a dimension says is what lies between the points that it marks, to the tick where it says so.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { FittingLayout, Layout, WallLayout } from '../../../server/model/layout.ts';
import type { Drawing } from '../../../server/sheets/drawing/drawings.ts';
import { pageOf } from '../../../server/sheets/drawing/page.ts';
import { svgOf } from '../../../server/sheets/drawing/svg.ts';
import { createPdf } from '../../../server/sheets/pdf/document.ts';
import { type RandomProject, randomProjects } from '../../random-projects.ts';
import { longer, runs } from '../../runs.ts';
import { lettering } from '../pdf/fonts.ts';
import { type Sheet, type Spot, type Stroke, sheetOfSvg, sheetsOfPdf, type Written } from './read-again.ts';
import { drawn, projectWith } from './units.ts';

/** Of the drawings, said once more: widths of lines by what they are, and how long the strokes of a dimension are. */
const pen = { cut: 0.7, outline: 0.5, thin: 0.25, stroke: 0.35, leader: 0.18 };
const perMm = 40_000;
const perInch = 1_016_000;

type Polygon = readonly Spot[];

/** A drawing as the layout would have it, in ticks, x to the right and y up. */
interface Wanted {
  /** Outlines of parts and of what stands on walls. */
  readonly outlines: readonly { readonly of: string; readonly points: Polygon }[];
  readonly rounds: readonly { readonly of: string; readonly at: Spot; readonly radius: number }[];
  /** Upright lines from the floor to the ceiling: thin ones at the ends of zones, dashed ones at studs. */
  readonly upright: { readonly thin: readonly number[]; readonly dashed: readonly number[]; readonly top: number };
  /** Where something begins or ends that is measured, by the direction of the dimension. */
  readonly marked: { readonly x: readonly number[]; readonly y: readonly number[] };
  /** Rows of dimensions that there have to be: all of these are marked in one of them. */
  readonly rows: readonly { readonly along: 'x' | 'y'; readonly at: readonly number[] }[];
  /** The corner of all that is cut which lies at the left and at the bottom. */
  readonly corner: Spot;
}

const box = (x: readonly [number, number], y: readonly [number, number]): Polygon => [
  [x[0], y[0]],
  [x[1], y[0]],
  [x[1], y[1]],
  [x[0], y[1]],
];

function drawerBoxes(fitting: Extract<FittingLayout, { kind: 'drawers' }>, x: readonly [number, number]): Polygon[] {
  const [low, high] = fitting.box.z;
  return Array.from({ length: fitting.count }, (_, i) =>
    box(x, [low + i * fitting.each, Math.min(high, low + (i + 1) * fitting.each)]),
  );
}

function onWall(layout: Layout, wall: WallLayout): Wanted {
  const zones = layout.zones.filter((zone) => zone.wall === wall.name);
  const fittings = zones.flatMap((zone) => zone.fittings);
  const outer = zones.filter(({ path }) => !path.includes('.'));
  const top = wall.height as number;
  const heights = fittings.filter(({ kind }) => kind === 'shelf' || kind === 'rod').map(({ at }) => at.value);
  const ends = outer.flatMap(({ from, width }) => [from.value, from.value + width.value]);
  const levels = heights.filter((at) => at > 0 && at < top);
  return {
    outlines: [
      ...fittings.flatMap((fitting) =>
        (fitting.kind === 'drawers' ? drawerBoxes(fitting, fitting.box.x) : [box(fitting.box.x, fitting.box.z)]).map(
          (points) => ({ of: fitting.path, points }),
        ),
      ),
      ...layout.fixtures
        .filter((one) => one.wall === wall.name)
        .map(({ name, box: own }) => ({ of: name, points: box(own.x, own.z) })),
      ...layout.openings
        .filter((one) => one.wall === wall.name)
        .map(({ name, from, width, height }) => ({ of: name, points: box([from, from + width], [0, height]) })),
    ],
    rounds: [],
    upright: {
      thin: zones
        .filter(({ kind }) => kind === 'zone')
        .flatMap(({ from, width }) => [from.value, from.value + width.value]),
      dashed: wall.studs,
      top,
    },
    marked: {
      x: [0, wall.length, ...ends, ...wall.studs],
      y: [0, top, ...heights],
    },
    rows: [
      { along: 'x', at: [0, wall.length] },
      { along: 'x', at: [0, ...ends.filter((at) => at >= 0 && at <= wall.length), wall.length] },
      ...(wall.studs.length > 0 ? [{ along: 'x' as const, at: [0, ...wall.studs] }] : []),
      ...(levels.length > 0
        ? [
            { along: 'y' as const, at: [0, ...levels] },
            { along: 'y' as const, at: [0, top] },
          ]
        : []),
    ],
    corner: [0, 0],
  };
}

function through(layout: Layout, path: string): Wanted {
  const zones = layout.zones.filter((zone) => zone.path === path || zone.path.startsWith(`${path}.`));
  const wall = layout.walls.find(({ name }) => name === zones[0]?.wall) as WallLayout;
  const fittings = zones.flatMap((zone) => zone.fittings);
  const outlines = fittings.flatMap((fitting): { of: string; points: Polygon }[] => {
    const { y, z } = fitting.box;
    if (fitting.kind === 'rod' || fitting.kind === 'panel') return [];
    if (fitting.kind === 'drawers') return drawerBoxes(fitting, y).map((points) => ({ of: fitting.path, points }));
    const points: Polygon = fitting.tilted
      ? [
          [y[0], z[1] - fitting.thickness],
          [y[1], z[0]],
          [y[1], z[0] + fitting.thickness],
          [y[0], z[1]],
        ]
      : box(y, z);
    return [{ of: fitting.path, points }];
  });
  const rods = fittings.flatMap((one) => (one.kind === 'rod' ? [one] : []));
  const heights = fittings.filter(({ kind }) => kind === 'shelf' || kind === 'rod').map(({ at }) => at.value);
  const front = Math.max(0, ...fittings.filter(({ kind }) => kind !== 'rod').map((one) => one.box.y[1]));
  const top = wall.height as number;
  return {
    outlines,
    rounds: rods.map((rod) => ({ of: rod.path, at: [rod.fromWall, rod.at.value], radius: rod.diameter / 2 })),
    upright: { thin: [], dashed: [], top },
    marked: { x: [0, front, ...rods.map(({ fromWall }) => fromWall)], y: [0, top, ...heights] },
    rows: [
      ...(heights.some((at) => at > 0)
        ? [{ along: 'y' as const, at: [0, top, ...heights.filter((at) => at > 0)] }]
        : []),
      ...(front > 0 || rods.length > 0
        ? [{ along: 'x' as const, at: [0, front, ...rods.map(({ fromWall }) => fromWall)] }]
        : []),
    ],
    corner: [0, 0],
  };
}

/** Of rooms at right angles, by where each wall begins and the way that it runs: the frame of the layout, y turned over. */
function fromAbove(layout: Layout): Wanted {
  const toRoom = (wall: string, [x, y]: Spot): Spot => {
    const plan = layout.plan.find((one) => one.wall === wall);
    if (!plan) throw new Error(`wall ${wall} is not in the plan`);
    const [ax, ay] = plan.along;
    return [plan.from[0] + ax * x - ay * y, -(plan.from[1] + ay * x + ax * y)];
  };
  const corners = layout.plan.flatMap(({ wall }): Spot[] => {
    const { length } = layout.walls.find(({ name }) => name === wall) as WallLayout;
    return [toRoom(wall, [0, 0]), toRoom(wall, [length, 0])];
  });
  const fittings = layout.zones
    .flatMap((zone) => zone.fittings)
    .filter(({ wall }) => layout.plan.some((p) => p.wall === wall));
  const openings = layout.openings.filter(({ wall }) => layout.plan.some((p) => p.wall === wall));
  const ends = [
    ...corners,
    ...openings.flatMap(({ wall, from, width }) => [toRoom(wall, [from, 0]), toRoom(wall, [from + width, 0])]),
  ];
  return {
    outlines: [
      ...fittings
        .filter(({ kind }) => kind !== 'rod')
        .map(({ wall, path, box: own }) => ({ of: path, points: box(own.x, own.y).map((p) => toRoom(wall, p)) })),
      ...layout.fixtures.flatMap(({ name, wall, box: own }) =>
        wall === undefined
          ? []
          : [
              {
                of: name,
                points: box(own.x, [own.y[0], Math.max(own.y[1], own.y[0] + perInch)]).map((p) => toRoom(wall, p)),
              },
            ],
      ),
    ],
    rounds: [],
    upright: { thin: [], dashed: [], top: 0 },
    marked: { x: ends.map(([x]) => x), y: ends.map(([, y]) => y) },
    rows: layout.plan.map(({ wall }) => {
      const { length } = layout.walls.find(({ name }) => name === wall) as WallLayout;
      const [a, b] = [toRoom(wall, [0, 0]), toRoom(wall, [length, 0])];
      const along = Math.abs(a[0] - b[0]) > Math.abs(a[1] - b[1]) ? ('x' as const) : ('y' as const);
      return { along, at: along === 'x' ? [a[0], b[0]] : [a[1], b[1]] };
    }),
    corner: [Math.min(...corners.map(([x]) => x)), Math.min(...corners.map(([, y]) => y))],
  };
}

function wantedOf(layout: Layout, { kind, of }: Drawing): Wanted {
  if (kind === 'plan') return fromAbove(layout);
  if (kind === 'section') return through(layout, of);
  return onWall(layout, layout.walls.find(({ name }) => name === of) as WallLayout);
}

// Reading

/** `1:25`, `1:24 (1/2" = 1'-0")`: under its caption in the title block. */
function scaleOf({ texts }: Sheet): number {
  const found = texts.flatMap(({ text }) => /^1:([\d.]+)(?: \(.*\))?$/.exec(text)?.[1] ?? []);
  expect(found).toHaveLength(1);
  return Number(found[0]);
}

/** Back from paper to the room. */
function backTo(sheet: Sheet, { corner }: Wanted): { readonly to: (p: Spot) => Spot; readonly within: number } {
  const cuts = sheet.strokes.filter((one) => is(one.width, pen.cut) && !one.closed && !one.dashed);
  const points = cuts.flatMap((one) => one.points);
  const [left, bottom] = [Math.min(...points.map(([x]) => x)), Math.max(...points.map(([, y]) => y))];
  const scale = scaleOf(sheet);
  const k = scale * perMm;
  return {
    to: ([x, y]) => [corner[0] + (x - left) * k, corner[1] + (bottom - y) * k],
    // Each end is as exact as a number in the file, and so is the corner.
    within: sheet.finest * k * 1.01 + 1,
  };
}

const is = (width: number, wanted: number): boolean => Math.abs(width - wanted) < 0.006;

/** The same corners, in any order. */
function isSame(a: Polygon, b: Polygon, within: number): boolean {
  const near = ([x, y]: Spot, [u, v]: Spot): boolean => Math.abs(x - u) <= within && Math.abs(y - v) <= within;
  return (
    a.length === b.length && a.every((p) => b.some((q) => near(p, q))) && b.every((p) => a.some((q) => near(p, q)))
  );
}

/** Takes each of one list out of the other; gives what has no fellow in either. */
function unmatched<A, B>(
  wanted: readonly A[],
  found: readonly B[],
  same: (a: A, b: B) => boolean,
): { missing: A[]; extra: B[] } {
  const extra = [...found];
  const missing = wanted.filter((one) => {
    const at = extra.findIndex((other) => same(one, other));
    if (at >= 0) extra.splice(at, 1);
    return at < 0;
  });
  return { missing, extra };
}

interface Row {
  readonly along: 'x' | 'y';
  /** Points on paper that it marks, along it, rising. */
  readonly marks: readonly number[];
  /** What is said, and from which mark to which. */
  readonly said: readonly { readonly text: string; readonly from: number; readonly to: number }[];
}

/** Rows of dimensions: an upright or level thin line with an oblique stroke at each end, and numbers at it or led to it. */
function rowsIn(sheet: Sheet): { rows: Row[]; unread: string[] } {
  const e = sheet.finest * 1.5 + 0.005;
  const near = (a: number, b: number, by = e): boolean => Math.abs(a - b) <= by;
  const open = sheet.strokes.filter(({ points, closed, dashed }) => points.length === 2 && !closed && !dashed);
  const ends = ({ points: [a, b] }: Stroke): [Spot, Spot] => [a as Spot, b as Spot];
  const obliques = open
    .filter((one) => is(one.width, pen.stroke))
    .map((one): Spot => {
      const [a, b] = ends(one);
      // Two millimetres to the right and two up.
      expect([near(Math.abs(a[0] - b[0]), 2, 0.03), near((a[0] - b[0]) * (a[1] - b[1]), -4, 0.1)]).toEqual([
        true,
        true,
      ]);
      return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    });
  const leaders = open.filter((one) => is(one.width, pen.leader)).map(ends);
  const lines = open.filter((one) => is(one.width, pen.thin)).map(ends);
  const free = new Set(obliques);
  const usedTexts = new Set<Written>();
  const rows: Row[] = [];
  for (const [a, b] of lines) {
    const along = near(a[1], b[1]) && !near(a[0], b[0]) ? 'x' : near(a[0], b[0]) && !near(a[1], b[1]) ? 'y' : undefined;
    if (!along) continue;
    const [i, c] = along === 'x' ? ([0, 1] as const) : ([1, 0] as const);
    const [low, high] = [Math.min(a[i], b[i]), Math.max(a[i], b[i])];
    const own = obliques.filter((o) => near(o[c], a[c]) && o[i] >= low - e && o[i] <= high + e);
    if (!own.some((o) => near(o[i], low)) || !own.some((o) => near(o[i], high))) continue;
    for (const one of own) free.delete(one);
    const marks = own.map((o) => o[i]).sort((x, y) => x - y);
    const said: { text: string; from: number; to: number }[] = [];
    /** The first point that is measured from: the floor or the left corner. */
    const datum = along === 'x' ? low : high;
    const middle = (t: Written): Spot => [(t.from[0] + t.to[0]) / 2, (t.from[1] + t.to[1]) / 2];
    for (const [p, q] of leaders) {
      const beside = Math.abs(p[c] - a[c]);
      const target = sheet.texts.filter((t) => !usedTexts.has(t) && isAt(t, q));
      if (near(beside, 1.5) && marks.some((m) => near(m, p[i]))) {
        // From a mark: how far it is from the first one.
        const [text] = target;
        if (!text) throw new Error('a leader leads to no number');
        usedTexts.add(text);
        said.push({ text: text.text, from: datum, to: marks.find((m) => near(m, p[i])) as number });
      } else if (near(beside, 0)) {
        // From the middle of a part.
        const at = marks.findIndex((m, k) => near((m + (marks[k + 1] ?? Number.NaN)) / 2, p[i]));
        const [text] = target;
        if (at < 0) continue;
        if (!text) throw new Error('a leader leads to no number');
        usedTexts.add(text);
        said.push({ text: text.text, from: marks[at] as number, to: marks[at + 1] as number });
      }
    }
    // Those that stand at the line itself, over the middle of their part.
    for (const text of sheet.texts) {
      const [x, y] = middle(text);
      const [m, off] = along === 'x' ? [x, a[1] - y] : [y, a[0] - x];
      if (usedTexts.has(text) || text.turned !== (along === 'y') || !near(off, 1.3, 0.05)) continue;
      const at = marks.findIndex((from, k) => near((from + (marks[k + 1] ?? Number.NaN)) / 2, m, 0.05));
      if (at < 0) continue;
      usedTexts.add(text);
      said.push({ text: text.text, from: marks[at] as number, to: marks[at + 1] as number });
    }
    rows.push({ along, marks, said });
  }
  return { rows, unread: [...free].map(String) };
}

/** Where a leader ends, a number begins, ends, or has its middle above or below it. */
function isAt({ from, to, turned }: Written, [x, y]: Spot): boolean {
  // Between the baseline and the height of its letters, which is 2.5 mm.
  const along = turned ? [from[1], to[1]].map((v) => -v) : [from[0], to[0]];
  const [s, t] = turned ? [-y, x - from[0]] : [x, y - from[1]];
  const [low, high] = [Math.min(...along), Math.max(...along)];
  const beside = s >= low - 0.7 && s <= high + 0.7 && (Math.abs(s - low) < 0.7 || Math.abs(s - high) < 0.7);
  if (beside && t <= 0.9 && t >= -2.8) return true;
  return Math.abs(s - (low + high) / 2) < 0.1 && ((t > 0 && t < 1.2) || (t < -2.5 && t > -3.2));
}

/** What a dimension says, in ticks; with whether it says that it is not quite that. */
function lengthSaid(
  text: string,
  system: 'inches' | 'feet' | 'millimetres',
): { ticks: number; isAbout: boolean; within: number } {
  const isAbout = text.startsWith('~');
  const said = text.replace(/^~/, '');
  if (system === 'millimetres') {
    const [whole = '', part = ''] = said.split('.');
    return { ticks: Number(whole) * perMm + Number(part.padEnd(3, '0')) * (perMm / 1000), isAbout, within: perMm / 20 };
  }
  const read = /^(?:(\d+)'-)?(?:(\d+)(?:[- ](?=\d+\/)|"|$))?(?:(\d+)\/(\d+))?"?$/.exec(said);
  if (!read) throw new Error(`"${text}" is no length`);
  const [, feet = '0', whole = '0', over = '0', under = '1'] = read;
  return {
    ticks: (Number(feet) * 12 + Number(whole)) * perInch + (Number(over) * perInch) / Number(under),
    isAbout,
    within: perInch / 64,
  };
}

const met = { outlines: 0, dimensions: 0, rounds: 0, exact: 0, sheets: 0 };

function compare(sheet: Sheet, wanted: Wanted, style: 'inches' | 'feet' | 'millimetres', where: string): void {
  met.sheets++;
  const { to, within } = backTo(sheet, wanted);
  // Parts and what stands on walls.
  const outlines = sheet.strokes.filter(
    (one) => one.closed && is(one.width, pen.outline) && !one.dashed && one.layer !== 'sheet',
  );
  const found = outlines.map(({ points, part }) => ({ part, points: points.map(to) }));
  const compared = unmatched(
    wanted.outlines,
    found,
    (a, b) =>
      // A file that says which part it is of says the right one.
      (b.part === undefined || b.part === a.of) && isSame(a.points, b.points, within),
  );
  expect([where, compared]).toEqual([where, { missing: [], extra: [] }]);
  met.outlines += wanted.outlines.length;
  const rounds = sheet.rounds.filter(({ width }) => is(width, pen.outline));
  const round = unmatched(wanted.rounds, rounds, (a, b) => {
    const [x, y] = to(b.centre);
    const [zero, one] = [to([0, 0])[0], to([b.radius, 0])[0]];
    return (
      Math.abs(x - a.at[0]) <= within && Math.abs(y - a.at[1]) <= within && Math.abs(one - zero - a.radius) <= within
    );
  });
  expect([where, round]).toEqual([where, { missing: [], extra: [] }]);
  met.rounds += wanted.rounds.length;
  // Lines from the floor to the ceiling.
  for (const [isDashed, at] of [
    [false, wanted.upright.thin],
    [true, wanted.upright.dashed],
  ] as const) {
    const lines = sheet.strokes.filter(
      (one) => one.points.length === 2 && is(one.width, pen.thin) && one.dashed === isDashed && one.layer !== 'sheet',
    );
    const there = lines.flatMap(({ points }) => {
      const [a, b] = points.map(to) as [Spot, Spot];
      const isWhole =
        Math.abs(Math.min(a[1], b[1])) <= within && Math.abs(Math.max(a[1], b[1]) - wanted.upright.top) <= within;
      return isWhole && Math.abs(a[0] - b[0]) <= within ? [a[0]] : [];
    });
    const lost = unmatched(at, there, (a, b) => Math.abs(a - b) <= within).missing;
    expect([where, isDashed, lost]).toEqual([where, isDashed, []]);
  }
  // Dimensions.
  const { rows, unread } = rowsIn(sheet);
  expect([where, unread]).toEqual([where, []]);
  const inRoom = (along: 'x' | 'y', at: number): number => (along === 'x' ? to([at, 0])[0] : to([0, at])[1]);
  for (const { along, marks, said } of rows) {
    const known = wanted.marked[along];
    for (const { text, from, to: end } of said) {
      const { ticks, isAbout, within: step } = lengthSaid(text, style);
      const ends = [from, end].map((at) => {
        const back = inRoom(along, at);
        const near = known.filter((one) => Math.abs(one - back) <= within);
        if (near.length === 0)
          throw new Error(`${where}: "${text}" measures from or to ${back}, where there is nothing`);
        return near;
      }) as [number[], number[]];
      const lengths = ends[0].flatMap((a) => ends[1].map((b) => Math.abs(b - a)));
      const holds = lengths.some((length) =>
        isAbout ? Math.abs(length - ticks) <= step && length !== ticks : length === ticks,
      );
      expect([where, along, text, lengths, holds]).toEqual([where, along, text, lengths, true]);
      met.dimensions++;
      if (!isAbout) met.exact++;
    }
    // Each part of a row says how long it is, or each point of it where it is.
    expect([where, said.length]).toEqual([where, said.length === marks.length ? marks.length : marks.length - 1]);
  }
  for (const { along, at } of wanted.rows) {
    const is = rows.some(
      (row) =>
        row.along === along && at.every((one) => row.marks.some((m) => Math.abs(inRoom(along, m) - one) <= within)),
    );
    expect([where, along, at, is]).toEqual([where, along, at, true]);
  }
}

/** Every sheet of every unit, with what the layout would have on it. */
function sheetsOf({ text, system }: RandomProject) {
  const project = projectWith(text);
  const style = system === 'inches' ? ('inches' as const) : ('millimetres' as const);
  return [...project.units()].flatMap((unit) => {
    const { layout } = unit.resolved ?? {};
    if (!layout) return [];
    const { drawings, pages } = drawn({ project, unit }, style, { paper: 'a3' });
    return drawings.map((drawing, i) => {
      const page = pages[i];
      if (!page) throw new Error('a drawing has no page');
      return {
        where: `${text}\n${unit.name}: ${drawing.kind} ${drawing.of}`,
        style,
        wanted: wantedOf(layout, drawing),
        placed: pageOf(page),
      };
    });
  });
}

describe('drawings of closets at random, read again', () => {
  it('from SVG have every part once, where it stands, and true dimensions', () => {
    fc.assert(
      fc.property(randomProjects, (random) => {
        for (const { where, style, wanted, placed } of sheetsOf(random))
          compare(sheetOfSvg(svgOf(placed, { background: 'light' })), wanted, style, where);
      }),
      runs(10),
    );
    expect(met.outlines).toBeGreaterThan(200 * longer);
    expect(met.dimensions).toBeGreaterThan(200 * longer);
    expect(met.rounds).toBeGreaterThan(4 * longer);
    expect(met.exact * 2).toBeGreaterThan(met.dimensions);
  });

  it('from PDF have the same', async () => {
    const info = { title: 'Drawings', subject: 'Quarry Lane', creator: 'Storypole test', date: new Date(1e12) };
    await fc.assert(
      fc.asyncProperty(randomProjects, async (random) => {
        const wanted = sheetsOf(random);
        const pdf = createPdf(info, lettering);
        for (const { placed } of wanted)
          pdf.addPage({
            width: placed.width,
            height: placed.height,
            marks: placed.groups.flatMap(({ marks }) => marks),
            bookmarks: [],
          });
        const sheets = wanted.length === 0 ? [] : await sheetsOfPdf(Buffer.concat(pdf.end()));
        expect(sheets).toHaveLength(wanted.length);
        sheets.forEach((sheet, i) => {
          const one = wanted[i];
          if (one) compare(sheet, one.wanted, one.style, one.where);
        });
      }),
      runs(4),
    );
  });
});
