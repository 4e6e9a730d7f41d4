/** The inside of a zone: heights, panels, clear openings, parts; and zones inside zones. */

import { closingFixes } from './closing.ts';
import { failure, writtenLast } from './conflicts.ts';
import { type Finding, finding } from './finding.ts';
import { placeHeights } from './heights.ts';
import type {
  Box,
  FittingLayout,
  PanelLayout,
  Part,
  Range,
  RodLayout,
  ShelfLayout,
  Step,
  WallLayout,
  ZoneLayout,
} from './layout.ts';
import type { Board, EndKind } from './materials.ts';
import { type End, finishedPart } from './parts.ts';
import * as rules from './rules.ts';
import { placeRun } from './runs.ts';
import { type Show, showLength, showRange } from './show.ts';
import type { Defaults, PanelsSpec, RodSpec, RowSpec, ShelfSpec, SideName, WallSpec, ZoneSpec } from './spec.ts';
import { divide, greatest, inches, NONE, type Ticks, ticks } from './ticks.ts';

/** A zone that has been placed in its run, and how it stands at a height where the wall is longer or shorter. */
export interface PlacedZone {
  readonly spec: ZoneSpec;
  readonly main: { readonly from: Range; readonly width: Range };
  readonly atHeight: (height: Ticks) => { readonly from: Ticks; readonly width: Ticks; readonly wall: Ticks };
  /** What there is at a point of the run outside the zone's own panels. */
  readonly ends: (x: number) => EndKind;
  /** The other zones of the run, with what they take on the shortest length. */
  readonly siblings: readonly { readonly spec: ZoneSpec; readonly from: number; readonly to: number }[];
  readonly defaults: Defaults;
}

export interface InZone {
  readonly wall: WallSpec;
  readonly layout: WallLayout;
  readonly surveyed: boolean;
  readonly sawStep: Ticks;
  readonly show: Show;
  readonly report: (f: Finding) => void;
}

/** A rod stands this far from the wall unless it says otherwise. source: clothes planning dimensions, 24 in deep closet with the rod at 12 in (T-01 of the published facts); a default, not a limit. */
const rodFromWall = inches(12);

const rodDiameter = inches(1.25);

export function placeFittings(zone: PlacedZone, env: InZone): { zones: ZoneLayout[]; parts: Part[] } {
  return new Inside(zone, env).place();
}

class Inside {
  private readonly zone: PlacedZone;
  private readonly env: InZone;
  private readonly spec: ZoneSpec;
  private readonly defaults: Defaults;
  private readonly fittings: FittingLayout[] = [];
  private readonly parts: Part[] = [];
  private readonly at: ReadonlyMap<string, Range>;
  private readonly panels: PanelLayout[] = [];

  constructor(zone: PlacedZone, env: InZone) {
    this.zone = zone;
    this.env = env;
    this.spec = zone.spec;
    this.defaults = { ...zone.defaults, ...zone.spec.defaults };
    this.at = this.heights();
  }

  place(): { zones: ZoneLayout[]; parts: Part[] } {
    for (const f of this.spec.fittings) if (f.kind === 'panels') this.placePanels(f);
    for (const f of this.spec.fittings) {
      if (f.kind === 'shelf') this.placeShelf(f);
      else if (f.kind === 'rod') this.placeRod(f);
      else if (f.kind === 'row') this.placeRow(f);
    }
    const { spec, zone } = this;
    const layout: ZoneLayout = {
      name: spec.name,
      path: spec.path,
      kind: spec.kind,
      wall: this.env.wall.name,
      place: spec.place,
      widthPlace: spec.width?.place ?? spec.place,
      from: zone.main.from,
      width: zone.main.width,
      settled: spec.width?.kind ?? 'fixed',
      fittings: this.fittings,
    };
    const inner = this.placeInner();
    return { zones: [layout, ...inner.zones], parts: [...this.parts, ...inner.parts] };
  }

  // Heights

  private heights(): ReadonlyMap<string, Range> {
    const { layout, wall, show, report } = this.env;
    const ceiling =
      layout.height === undefined
        ? undefined
        : { value: layout.height, place: layout.heightPlace ?? wall.place, parameters: wall.height?.parameters ?? [] };
    const result = placeHeights(this.spec.fittings, ceiling, (s) => this.boardOf(s)?.thickness ?? NONE, show);
    if (result.kind === 'conflict') {
      const said = result.labels.filter((l) => l.role !== 'start');
      const shown = said.length > 0 ? said : result.labels;
      const at = writtenLast(shown) ?? shown[0];
      report(
        finding(
          rules.heightsConflict,
          at?.place ?? this.spec.place,
          `${shown.length > 1 ? 'These cannot all hold' : 'This cannot hold'} in zone ${this.spec.path}: ${shown.map((l) => l.text).join('; ')}: ${showLength(result.excess, show)} too much.`,
          {
            advice: `Move one of them by ${showLength(result.excess, show)}.`,
            related: result.labels
              .filter((l) => l !== at)
              .map((l) => ({ place: l.place, message: `${l.text.charAt(0).toUpperCase()}${l.text.slice(1)}.` })),
            fixes: closingFixes(result.weights, result.excess, 'at', show),
            about: this.spec.path,
            causes: { parameters: [...new Set(result.labels.flatMap((l) => l.parameters))], survey: false },
            comparison: {
              what: 'height, too much by',
              measured: { ticks: result.excess },
              relation: 'at most',
              limit: { ticks: NONE },
            },
          },
        ),
      );
      return new Map();
    }
    for (const f of this.spec.fittings) {
      const range = result.at.get(f.name);
      if (!range || range.least === range.most) continue;
      const place = 'heights' in f ? (f.heights[0]?.place ?? f.place) : f.place;
      report(
        finding(
          rules.heightLoose,
          place,
          `${f.kind === 'rod' ? 'Rod' : 'Shelf'} ${this.spec.path}.${f.name} can be at ${showRange(range.least, range.most, show)}; ${showLength(range.value, show)} is taken.`,
          { about: `${this.spec.path}.${f.name}` },
        ),
      );
    }
    return result.at;
  }

  private boardOf(f: ShelfSpec | RowSpec | PanelsSpec): Board | undefined {
    return f.board ?? this.defaults.board;
  }

  /** The board of a part, reported where there is none or it lacks what is needed. */
  private boardFor(f: ShelfSpec | RowSpec | PanelsSpec): Board | undefined {
    const board = this.boardOf(f);
    const kind = f.kind === 'row' ? 'the shelves' : f.kind === 'panels' ? 'the panels' : 'the shelf';
    if (!board) {
      this.env.report(
        finding(rules.materialMissing, f.place, `Nothing says which board ${kind} "${f.name}" is cut from.`, {
          advice: 'Write "board" and the name of a board here, in its zone, or in the template.',
        }),
      );
    } else if (board.thickness === undefined) {
      this.env.report(
        finding(
          rules.thicknessMissing,
          board.place,
          `Board ${board.name} has no thickness, and ${kind} "${f.name}" needs it.`,
          { advice: 'Write for example: thickness 3/4in' },
        ),
      );
    }
    return board;
  }

  private depthOf(f: ShelfSpec | RowSpec | PanelsSpec, board: Board | undefined): Ticks {
    return (f.depth ?? this.defaults.depth)?.value ?? board?.depth ?? NONE;
  }

  // Panels

  private placePanels(f: PanelsSpec): void {
    const board = this.boardFor(f);
    const thickness = board?.thickness ?? NONE;
    const foot = f.foot?.value ?? NONE;
    const top = f.height?.value ?? this.highest();
    const depth = this.depthOf(f, board);
    const y = f.fromWall?.value ?? NONE;
    const { from, width } = this.zone.main;
    if (top <= foot) {
      this.env.report(
        finding(
          rules.noRoom,
          f.place,
          `Panels ${this.spec.path}.${f.name} end at ${showLength(top, this.env.show)}, not above their foot at ${showLength(foot, this.env.show)}.`,
          { advice: 'Write for example: height 84in' },
        ),
      );
      return;
    }
    for (const side of f.sides) {
      const x = side === 'left' ? from.value : ticks(from.value + width.value - thickness);
      const path = `${this.spec.path}.${f.name}.${side}`;
      const box: Box = { x: [x, ticks(x + thickness)], y: [y, ticks(y + depth)], z: [foot, top] };
      const at: Range = { value: foot, least: foot, most: foot };
      const panel: PanelLayout = {
        kind: 'panel',
        name: f.name,
        path,
        zone: this.spec.path,
        wall: this.env.wall.name,
        place: f.place,
        at,
        atPlace: f.height?.place ?? f.place,
        box,
        board,
        side,
        thickness,
        depth,
      };
      this.panels.push(panel);
      this.fittings.push(panel);
      if (!board) continue;
      this.addPart({
        part: {
          path,
          kind: 'panel',
          material: board.name,
          depth,
          thickness,
          at: foot,
          wall: this.env.wall.name,
          zone: this.spec.path,
          place: f.place,
        },
        opening: [{ kind: 'height', amount: ticks(top - foot), place: f.height?.place ?? f.place }],
        ends: [],
        takes: [],
        held: undefined,
      });
    }
  }

  /** The upper face of the highest shelf. */
  private highest(): Ticks {
    return greatest(
      NONE,
      ...this.spec.fittings.flatMap((f) => {
        const at = this.at.get(f.name)?.value;
        return f.kind === 'shelf' && at !== undefined ? [ticks(at + (this.boardOf(f)?.thickness ?? NONE))] : [];
      }),
    );
  }

  // Shelves and rods

  private placeShelf(f: ShelfSpec): void {
    const board = this.boardFor(f);
    const at = this.at.get(f.name);
    if (at)
      this.addShelf(f, f.name, at, board, {
        tilted: f.tilted,
        tilt: f.tilt,
        fixed: f.fixed,
        inRow: undefined,
        atPlace: f.heights[0]?.place ?? f.place,
      });
  }

  private addShelf(
    f: ShelfSpec | RowSpec,
    name: string,
    at: Range,
    board: Board | undefined,
    how: { tilted: boolean; tilt: number; fixed: boolean; inRow: number | undefined; atPlace: ShelfLayout['atPlace'] },
  ): void {
    const thickness = board?.thickness ?? NONE;
    const depth = this.depthOf(f, board);
    const z: readonly [Ticks, Ticks] = [at.value, ticks(at.value + thickness)];
    const clear = this.clearOpening(z);
    const path = `${this.spec.path}.${name}`;
    const y = f.fromWall?.value ?? NONE;
    const rise = ticks(Math.round(depth * Math.sin((how.tilt * Math.PI) / 180)));
    const box: Box = { x: clear.x, y: [y, ticks(y + depth)], z: [z[0], ticks(z[1] + rise)] };
    const { tilted, fixed, inRow, atPlace } = how;
    this.fittings.push({
      kind: 'shelf',
      name,
      path,
      zone: this.spec.path,
      wall: this.env.wall.name,
      place: f.place,
      at,
      atPlace,
      box,
      board,
      thickness,
      depth,
      tilted,
      fixed,
      inRow,
    });
    if (!board) return;
    this.addPart({
      part: {
        path,
        kind: 'shelf',
        material: board.name,
        depth,
        thickness,
        at: at.value,
        wall: this.env.wall.name,
        zone: this.spec.path,
        place: f.place,
      },
      opening: clear.steps,
      ends: clear.ends,
      takes: board.ends,
      held: f.held,
    });
  }

  private placeRod(f: RodSpec): void {
    const at = this.at.get(f.name);
    const material = f.pole ?? this.defaults.pole;
    if (!material) {
      this.env.report(
        finding(rules.materialMissing, f.place, `Nothing says which rod "${f.name}" is cut from.`, {
          advice: 'Write "pole" and the name of a rod here, in its zone, or in the template.',
        }),
      );
    }
    if (!at) return;
    const diameter = material?.diameter ?? rodDiameter;
    const half = Math.floor(diameter / 2);
    const fromWall = f.fromWall?.value ?? rodFromWall;
    const z: readonly [Ticks, Ticks] = [ticks(at.value - half), ticks(at.value - half + diameter)];
    const clear = this.clearOpening(z);
    const path = `${this.spec.path}.${f.name}`;
    const box: Box = { x: clear.x, y: [ticks(fromWall - half), ticks(fromWall - half + diameter)], z };
    const rod: RodLayout = {
      kind: 'rod',
      name: f.name,
      path,
      zone: this.spec.path,
      wall: this.env.wall.name,
      place: f.place,
      at,
      atPlace: f.heights[0]?.place ?? f.place,
      box,
      material,
      diameter,
      fromWall,
      garments: f.garments,
      ...(f.misnamed && { misnamed: true }),
    };
    this.fittings.push(rod);
    if (!material) return;
    this.addPart({
      part: {
        path,
        kind: 'rod',
        material: material.name,
        depth: undefined,
        thickness: undefined,
        at: at.value,
        wall: this.env.wall.name,
        zone: this.spec.path,
        place: f.place,
      },
      opening: clear.steps,
      ends: clear.ends,
      takes: material.ends,
      held: f.held,
    });
  }

  private placeRow(f: RowSpec): void {
    const board = this.boardFor(f);
    const upper = this.at.get(f.upper)?.value;
    const lower = f.lower === undefined ? NONE : this.at.get(f.lower)?.value;
    if (upper === undefined || lower === undefined) return;
    const heights = this.rowHeights(f, lower, upper, board?.thickness ?? NONE);
    heights.forEach((value, i) => {
      const at: Range = { value, least: value, most: value };
      this.addShelf(f, `${f.name}.${i + 1}`, at, board, {
        tilted: false,
        tilt: 0,
        fixed: false,
        inRow: i + 1,
        atPlace: f.pitch?.place ?? f.place,
      });
    });
  }

  private rowHeights(f: RowSpec, lower: Ticks, upper: Ticks, thickness: Ticks): Ticks[] {
    const { show, report, sawStep } = this.env;
    const stretch = ticks(upper - lower);
    let count = f.count;
    if (count === undefined && f.pitch) {
      const { least, most, place } = f.pitch;
      if (most <= thickness) {
        report(
          finding(
            rules.heightsConflict,
            place,
            `A pitch of ${showLength(most, show)} leaves no room above shelves ${showLength(thickness, show)} thick.`,
            { about: `${this.spec.path}.${f.name}` },
          ),
        );
        return [];
      }
      if (least === most) {
        // At just this pitch from below; what is left over is above the highest.
        const heights: Ticks[] = [];
        for (let at = lower + least; at + thickness <= upper && heights.length < 200; at += least)
          heights.push(ticks(at));
        return heights;
      }
      count = Math.ceil(stretch / most) - 1;
      if (count < 1 || stretch < (count + 1) * least) {
        report(
          finding(
            rules.heightsConflict,
            place,
            `Between ${f.lower ?? 'the floor'} and ${f.upper} there are ${showLength(stretch, show)}: no number of shelves divides that at a pitch of ${showRange(least, most, show)}.`,
            {
              about: `${this.spec.path}.${f.name}`,
              advice: 'Widen the range of the pitch.',
            },
          ),
        );
        return [];
      }
    }
    if (count === undefined) return [];
    const spaces = divide(stretch, count + 1, sawStep);
    const heights: Ticks[] = [];
    let at: number = lower;
    for (const space of spaces.slice(0, count)) {
      at += space;
      heights.push(ticks(at));
    }
    return heights;
  }

  // Clear openings

  /** What a fitting that reaches over these heights can fill: between the faces that hold it. */
  private clearOpening(z: readonly [Ticks, Ticks]): { x: readonly [Ticks, Ticks]; steps: Step[]; ends: End[] } {
    const there = this.zone.atHeight(z[0]);
    const steps = this.widthSteps(there.width, there.wall, z[0]);
    const x: [number, number] = [there.from, there.from + there.width];
    const end = (side: SideName): End => {
      const panel = this.panels.find((p) => p.side === side && p.box.z[0] < z[1] && z[0] < p.box.z[1]);
      if (panel) {
        steps.push({
          kind: 'panel',
          amount: ticks(-panel.thickness),
          name: `${side} panel of ${this.spec.path}, ${panel.board?.name ?? ''}`.replace(/, $/, ''),
          place: panel.place,
        });
        if (side === 'left') x[0] += panel.thickness;
        else x[1] -= panel.thickness;
        return { side, meets: 'panel' };
      }
      return { side, meets: this.meets(side, z) };
    };
    const ends = [end('left'), end('right')];
    return { x: [ticks(x[0]), ticks(Math.max(x[0], x[1]))], steps, ends };
  }

  /** What is beyond the zone at this side: a neighbour's panel, the wall, or nothing. */
  private meets(side: SideName, z: readonly [Ticks, Ticks]): EndKind {
    const { from, width } = this.zone.main;
    const at = side === 'left' ? from.value : from.value + width.value;
    const beside = this.zone.siblings.find((s) => (side === 'left' ? s.to === at : s.from === at) && s.from !== s.to);
    const facing = side === 'left' ? 'right' : 'left';
    const panels = beside?.spec.fittings.find((f): f is PanelsSpec => f.kind === 'panels' && f.sides.includes(facing));
    if (panels && (panels.foot?.value ?? 0) < z[1] && z[0] < (panels.height?.value ?? Number.POSITIVE_INFINITY))
      return 'panel';
    return this.zone.ends(at);
  }

  /** How the zone's width came about: as stated, or from the wall where it takes what is left. */
  private widthSteps(width: Ticks, wall: Ticks, at: Ticks): Step[] {
    const { spec } = this;
    const { layout, surveyed, wall: wallSpec } = this.env;
    if (spec.width?.kind !== 'fill' || spec.wall === undefined) {
      return [{ kind: 'zone', amount: width, name: spec.path, place: spec.width?.place ?? spec.place }];
    }
    const inset = layout.inset;
    const others = this.zone.siblings.filter((s) => s.to > s.from);
    const taken = wall - inset.left - inset.right - width;
    const steps: Step[] = [
      {
        kind: 'wall',
        amount: wall,
        name: wallSpec.name,
        nominal: layout.nominal,
        surveyed,
        at: surveyed ? at : undefined,
        place: surveyed ? layout.lengthPlace : (wallSpec.length?.place ?? wallSpec.place),
      },
    ];
    if (inset.left > 0)
      steps.push({ kind: 'inset', amount: ticks(-inset.left), name: 'to its left', place: wallSpec.place });
    if (inset.right > 0)
      steps.push({ kind: 'inset', amount: ticks(-inset.right), name: 'to its right', place: wallSpec.place });
    if (taken !== 0)
      steps.push({
        kind: 'other-zones',
        amount: ticks(-taken),
        names: others.map((s) => `${s.spec.kind} ${s.spec.path}`),
        place: spec.width.place,
      });
    return steps;
  }

  // Zones inside

  private placeInner(): { zones: ZoneLayout[]; parts: Part[] } {
    const { spec, env } = this;
    if (spec.zones.length === 0) return { zones: [], parts: [] };
    const taken = (side: SideName): Ticks => this.panels.find((p) => p.side === side)?.thickness ?? NONE;
    const edge = { left: taken('left'), right: taken('right') };
    const run = (width: Ticks): ReturnType<typeof placeRun> =>
      placeRun(
        {
          zones: spec.zones,
          length: ticks(Math.max(0, width - edge.left - edge.right)),
          inset: { left: NONE, right: NONE },
          lengthLabel: {
            place: spec.width?.place ?? spec.place,
            text: `zone ${spec.path} is ${showLength(ticks(Math.max(0, width - edge.left - edge.right)), env.show)} wide inside`,
            parameters: spec.width?.parameters ?? [],
            role: 'length',
          },
        },
        env.sawStep,
        env.show,
      );
    const main = run(this.zone.main.width.value);
    if (main.kind !== 'placed') {
      env.report(failure(main, { name: spec.path, place: spec.place }, undefined, false, env.show));
      return { zones: [], parts: [] };
    }
    for (const hole of main.left) {
      env.report(
        finding(
          rules.leftOver,
          spec.place,
          `${showLength(hole.width, env.show)} is left over inside zone ${spec.path}.`,
          { advice: 'Write a gap there, give an inner zone "width fill", or change a width.', about: spec.path },
        ),
      );
    }
    const shift = (from: number, by: number): Range => ({
      value: ticks(from + by),
      least: ticks(from + by),
      most: ticks(from + by),
    });
    const placed = spec.zones.map((inner) => {
      const z = main.zones.get(inner) as { from: Range; width: Range };
      return { inner, from: shift(z.from.value, this.zone.main.from.value + edge.left), width: z.width };
    });
    const results = placed.map(({ inner, from, width }) =>
      placeFittings(
        {
          spec: inner,
          main: { from, width },
          atHeight: (height) => {
            const outer = this.zone.atHeight(height);
            const there = run(outer.width);
            const z = there.kind === 'placed' ? there.zones.get(inner) : undefined;
            return z
              ? { from: ticks(z.from.value + outer.from + edge.left), width: z.width.value, wall: outer.wall }
              : { from: from.value, width: width.value, wall: outer.wall };
          },
          ends: (x) => {
            const left = this.zone.main.from.value + edge.left;
            const right = this.zone.main.from.value + this.zone.main.width.value - edge.right;
            if (x <= left) return edge.left > 0 ? 'panel' : this.meets('left', [NONE, ticks(1)]);
            if (x >= right) return edge.right > 0 ? 'panel' : this.meets('right', [NONE, ticks(1)]);
            return 'open';
          },
          siblings: placed
            .filter((p) => p.inner !== inner)
            .map((p) => ({ spec: p.inner, from: p.from.value, to: p.from.value + p.width.value })),
          defaults: this.defaults,
        },
        env,
      ),
    );
    return { zones: results.flatMap((r) => r.zones), parts: results.flatMap((r) => r.parts) };
  }

  private addPart(input: Omit<Parameters<typeof finishedPart>[0], 'sawStep' | 'show'>): void {
    const made = finishedPart({ ...input, sawStep: this.env.sawStep, show: this.env.show });
    if ('rule' in made) this.env.report(made);
    else this.parts.push(made);
  }
}
