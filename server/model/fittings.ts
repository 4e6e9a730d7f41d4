/** The inside of a zone: heights, panels, clear openings, parts; and zones inside zones. */

import { shareAmongUnits } from './alike.ts';
import { addedFix } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { type PlacedFittings, placeInner } from './inner-zones.ts';
import type { Box, FittingLayout, PanelLayout, Part, Range, RodLayout, ShelfLayout, ZoneLayout } from './layout.ts';
import { limits } from './limits.ts';
import type { Board, Hardware, RodMaterial } from './materials.ts';
import { lately } from './memo.ts';
import { clearOpening, type InZone, type PlacedZone, panelsBeside } from './openings.ts';
import { finishedPart } from './parts.ts';
import { rowHeights } from './rows.ts';
import * as rules from './rules.ts';
import { showLength } from './show.ts';
import type {
  Defaults,
  DrawersSpec,
  FittingSpec,
  MatchedSpec,
  PanelsSpec,
  RodSpec,
  RowSpec,
  ShelfSpec,
  SideName,
  ZoneSpec,
} from './spec.ts';
import { greatest, inches, least, NONE, type Ticks, ticks } from './ticks.ts';
import { heightsIn, stackOf, tallness } from './zone-heights.ts';

/** A rod stands this far from the wall unless it says otherwise. source: clothes planning dimensions, 24 in deep closet with the rod at 12 in (T-01 of the published facts); a default, not a limit. */
const rodFromWall = inches(12);

const rodDiameter = inches(1.25);

export function placeFittings(zone: PlacedZone, env: InZone): PlacedFittings {
  return zone.isStill ? placedOnce(zone, env) : new Inside(zone, env).place();
}

interface Told<T> {
  readonly made: T;
  readonly findings: readonly Finding[];
}

/** The units of a building differ by a few widths and heights at a time. */
const mostKept = 4;
const stillZones = lately<ZoneSpec, Told<PlacedFittings>>(mostKept);
const heightsOfZones = lately<ZoneSpec, Told<ReadonlyMap<string, Range>>>(mostKept);

/** What no survey moves is placed once for all units that draw it alike. */
function placedOnce(zone: PlacedZone, env: InZone): PlacedFittings {
  const { from, width } = zone.main;
  const [left, right] = [from.value, ticks(from.value + width.value)];
  const under = [
    ...heightsRestOn(zone, env),
    env.sawStep,
    env.regardless,
    ...[from, width].flatMap(({ value, least, most }) => [value, least, most]),
    zone.ends(left),
    zone.ends(right),
    ...(['left', 'right'] as const).flatMap((side) => {
      const panels = panelsBeside(zone, side);
      return [panels !== undefined, panels?.foot?.value, panels?.height?.value];
    }),
  ];
  const make = () => {
    const once = told((report) => new Inside(zone, { ...env, report }).place());
    for (const { fittings } of once.made.zones) shareAmongUnits(fittings);
    return once;
  };
  return tellAgain(stillZones(zone.spec, under, make), env.report);
}

function told<T>(make: (report: (f: Finding) => void) => T): Told<T> {
  const findings: Finding[] = [];
  const made = make((f) => findings.push(f));
  return { made, findings };
}

function tellAgain<T>({ made, findings }: Told<T>, report: (f: Finding) => void): T {
  for (const f of findings) report(f);
  return made;
}

/** All of its wall that matters inside a zone that stands still: a wall of another length does as well. */
function heightsRestOn({ defaults }: PlacedZone, { wall, layout, show }: InZone): unknown[] {
  const { statement, start, end } = layout.heightPlace ?? wall.place;
  return [defaults, wall.name, layout.height, wall.height?.parameters.join(), statement, start, end, show];
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
    const make = () => told((report) => heightsIn(zone.spec, this.defaults, env, report));
    this.at = tellAgain(heightsOfZones(zone.spec, heightsRestOn(zone, env), make), env.report);
  }

  place(): PlacedFittings {
    for (const f of this.spec.fittings) if (f.kind === 'panels') this.placePanels(f);
    for (const f of this.spec.fittings) {
      // Whoever asked for the zone tells of it.
      if (this.parts.length > limits.mostParts.most) break;
      if (f.kind === 'shelf') this.placeShelf(f);
      else if (f.kind === 'rod') this.placeRod(f);
      else if (f.kind === 'row') this.placeRow(f);
      else if (f.kind === 'drawers') this.placeDrawers(f);
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
    const taken = (side: SideName): Ticks => this.panels.find((p) => p.side === side)?.thickness ?? NONE;
    const around = { zone, defaults: this.defaults, parts: this.parts.length };
    const inner = placeInner(
      { ...around, edge: { left: taken('left'), right: taken('right') } },
      this.env,
      placeFittings,
    );
    return { zones: [layout, ...inner.zones], parts: [...this.parts, ...inner.parts] };
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
    } else if (board.thickness === undefined && !board.thicknessUnread) {
      this.env.report(
        finding(
          rules.thicknessMissing,
          board.place,
          `Board "${board.name}" has no thickness, and ${kind} "${f.name}" ${kind === 'the shelf' ? 'needs' : 'need'} it.`,
          {
            advice: 'Write for example: thickness 3/4in',
            examples: true,
            fixes: addedFix(board.place.statement, 'thickness 3/4in', { byHand: true }),
          },
        ),
      );
    }
    return board;
  }

  private carriedBy(f: FittingSpec, material: Board | RodMaterial | undefined): readonly Hardware[] {
    return f.carried ?? this.defaults.carried ?? material?.carried ?? [];
  }

  private depthOf(f: ShelfSpec | RowSpec | PanelsSpec | DrawersSpec, board: Board | undefined): Ticks {
    return (f.depth ?? this.defaults.depth)?.value ?? board?.depth ?? NONE;
  }

  private depthPlace(f: ShelfSpec | RowSpec | PanelsSpec): Pick<ShelfLayout, 'depthPlace'> {
    const given = f.depth ? undefined : this.defaults.depth;
    return given ? { depthPlace: given.place } : {};
  }

  // Panels

  private placePanels(f: PanelsSpec): void {
    const board = this.boardFor(f);
    const thickness = board?.thickness ?? NONE;
    const foot = f.foot?.value ?? NONE;
    const end = f.height?.value ?? this.highest();
    // A height that cannot be read has been reported: the panels take their room, and are not cut to a length made up.
    const top = end ?? this.env.layout.height ?? NONE;
    const depth = this.depthOf(f, board);
    const y = f.fromWall?.value ?? NONE;
    const { from, width } = this.zone.main;
    if (top <= foot) {
      if (end === undefined) return;
      this.env.report(
        finding(
          rules.noRoom,
          f.place,
          `Panels "${this.spec.path}.${f.name}" end at ${showLength(top, this.env.show)}, not above their foot at ${showLength(foot, this.env.show)}.`,
          { advice: 'Write for example: height 84in', examples: true },
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
        ...this.depthPlace(f),
        carried: this.carriedBy(f, board),
        ...(f.freeStanding && { freeStanding: f.freeStanding }),
      };
      this.panels.push(panel);
      if (end === undefined) continue;
      this.fittings.push(panel);
      if (!board) continue;
      this.addPart(panel, board.name, f.matched ?? this.defaults.matched, {
        opening: [{ kind: 'height', amount: ticks(top - foot), place: f.height?.place ?? f.place }],
        ends: [],
        takes: [],
        held: undefined,
      });
    }
  }

  /** The upper face of the highest shelf; undefined where the height of one is not known. */
  private highest(): Ticks | undefined {
    const shelves = this.spec.fittings.filter((f) => f.kind === 'shelf');
    const faces = shelves.flatMap((f) => {
      const at = this.at.get(f.name)?.value;
      return at === undefined ? [] : [ticks(at + (this.boardOf(f)?.thickness ?? NONE))];
    });
    return faces.length < shelves.length ? undefined : greatest(NONE, ...faces);
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
    const clear = clearOpening(this.zone, this.env, this.panels, z);
    const path = `${this.spec.path}.${name}`;
    const y = f.fromWall?.value ?? NONE;
    const rise = ticks(Math.round(depth * Math.sin((how.tilt * Math.PI) / 180)));
    const box: Box = { x: clear.x, y: [y, ticks(y + depth)], z: [z[0], ticks(z[1] + rise)] };
    const { tilted, fixed, inRow, atPlace } = how;
    const shelf: ShelfLayout = {
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
      ...this.depthPlace(f),
      loads: f.loads ?? [],
      edge: f.edge,
      carried: this.carriedBy(f, board),
      tilted,
      fixed,
      inRow,
    };
    this.fittings.push(shelf);
    if (!board) return;
    this.addPart(shelf, board.name, f.matched ?? this.defaults.matched, {
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
    const clear = clearOpening(this.zone, this.env, this.panels, z);
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
      fromWallPlace: f.fromWall?.place ?? f.place,
      garments: f.garments,
      holds: f.holds ?? [],
      loads: f.loads ?? [],
      carried: this.carriedBy(f, material),
      ...(f.misnamed && { misnamed: true }),
    };
    this.fittings.push(rod);
    if (!material) return;
    this.addPart(rod, material.name, f.matched, {
      opening: clear.steps,
      ends: clear.ends,
      takes: material.ends,
      held: f.held,
    });
  }

  private placeDrawers(f: DrawersSpec): void {
    const at = this.at.get(f.name);
    const tall = stackOf(f);
    if (!at || tall === 0) return;
    const depth = this.depthOf(f, undefined);
    if (depth === 0) {
      this.env.report(
        finding(rules.widthMissing, f.place, `Drawers "${this.spec.path}.${f.name}" have no depth.`, {
          advice: 'Write for example: depth 14in',
          examples: true,
          fixes: addedFix(f.place.statement, 'depth 14in', { byHand: true }),
        }),
      );
      return;
    }
    const z: readonly [Ticks, Ticks] = [at.value, ticks(at.value + tall)];
    const y = f.fromWall?.value ?? NONE;
    this.fittings.push({
      kind: 'drawers',
      name: f.name,
      path: `${this.spec.path}.${f.name}`,
      zone: this.spec.path,
      wall: this.env.wall.name,
      place: f.place,
      at,
      atPlace: f.heights[0]?.place ?? f.place,
      box: { x: clearOpening(this.zone, this.env, this.panels, z).x, y: [y, ticks(y + depth)], z },
      count: f.count,
      each: f.each?.value ?? NONE,
      depth,
      pullOut: f.pullOut?.value ?? depth,
      ...(f.weight !== undefined && { weight: f.weight }),
      ...(f.pull && { pull: f.pull }),
    });
  }

  private placeRow(f: RowSpec): void {
    const board = this.boardFor(f);
    const ends = [f.lower === undefined ? NONE : this.at.get(f.lower)?.value, this.at.get(f.upper)?.value] as const;
    const [first, last] = ends;
    if (first === undefined || last === undefined) return;
    const [lower, upper] = [least(first, last), greatest(first, last)];
    const below = this.spec.fittings.find(({ name }) => name === (first <= last ? f.lower : f.upper));
    const { sawStep, show, report } = this.env;
    const heights = rowHeights(f, {
      zone: this.spec.path,
      lower,
      upper,
      below: below?.kind === 'shelf' || below?.kind === 'drawers' ? tallness(below, this.defaults) : NONE,
      thickness: board?.thickness ?? NONE,
      sawStep,
      show,
      report,
    });
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

  private addPart(
    f: ShelfLayout | RodLayout | PanelLayout,
    material: string,
    matched: MatchedSpec | undefined,
    cut: Pick<Parameters<typeof finishedPart>[0], 'opening' | 'ends' | 'takes' | 'held'>,
  ): void {
    const { path, kind, wall, zone, place } = f;
    const [depth, thickness] = f.kind === 'rod' ? [undefined, undefined] : [f.depth, f.thickness];
    const of = matched?.set === undefined ? {} : { matched: { set: matched.set, place: matched.place } };
    const part = { path, kind, material, depth, thickness, at: f.at.value, wall, zone, place, ...of };
    const made = finishedPart({ ...cut, part, sawStep: this.env.sawStep, show: this.env.show });
    if ('rule' in made) this.env.report(made);
    else this.parts.push(made);
  }
}
