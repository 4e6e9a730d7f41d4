/** The inside of a zone: heights, panels, clear openings, parts; and zones inside zones. */

import { shareAmongUnits } from './alike.ts';
import { capital } from './capital.ts';
import { closingFixes } from './closing.ts';
import { cannotHold, comesRound, failure, heightThatIsOut, moved, writtenLast } from './conflicts.ts';
import { addedFix, settled } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { type HeightsResult, placeHeights } from './heights.ts';
import type { Box, FittingLayout, PanelLayout, Part, Range, RodLayout, ShelfLayout, ZoneLayout } from './layout.ts';
import { gapsFor, sumOf } from './left-over.ts';
import { limits } from './limits.ts';
import type { Board, Hardware, RodMaterial } from './materials.ts';
import { lately } from './memo.ts';
import { clearOpening, type InZone, meets, type PlacedZone, panelsBeside, runOfZones } from './openings.ts';
import { finishedPart } from './parts.ts';
import { rowHeights, turnedFinding, turnedRows } from './rows.ts';
import * as rules from './rules.ts';
import type { Label } from './run-labels.ts';
import { type Inside as InsideRun, placeRun, type RunResult, type Stretch, unsaid } from './runs.ts';
import { showLength, showRange } from './show.ts';
import type {
  Defaults,
  Dim,
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

/** A rod stands this far from the wall unless it says otherwise. source: clothes planning dimensions, 24 in deep closet with the rod at 12 in (T-01 of the published facts); a default, not a limit. */
const rodFromWall = inches(12);

const rodDiameter = inches(1.25);

/** A zone, those inside it, and the parts of them all. */
export interface PlacedFittings {
  readonly zones: readonly ZoneLayout[];
  readonly parts: readonly Part[];
}

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

/** Height of a stack of drawers. */
function stackOf(f: DrawersSpec): Ticks {
  return ticks(f.count * (f.each?.value ?? NONE));
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
    const make = () => told((report) => this.heights(report));
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
    const inner = this.placeInner();
    return { zones: [layout, ...inner.zones], parts: [...this.parts, ...inner.parts] };
  }

  // Heights

  private heights(report: (f: Finding) => void): ReadonlyMap<string, Range> {
    const { layout, wall, show } = this.env;
    const ceiling =
      layout.height === undefined
        ? undefined
        : { value: layout.height, place: layout.heightPlace ?? wall.place, parameters: wall.height?.parameters ?? [] };
    const result = this.placedUp(ceiling, report);
    if (result.kind === 'conflict') {
      const said = result.labels.filter((l) => l.role !== 'start');
      const shown = said.length > 0 ? said : result.labels;
      const at = writtenLast(shown) ?? shown[0];
      const round = at && comesRound(shown, at);
      if (round) {
        report(round);
        return new Map();
      }
      report(
        finding(
          rules.heightsConflict,
          at?.place ?? this.spec.place,
          cannotHold(shown, result, show, ` in zone ${this.spec.path}`),
          {
            advice: moved(result.labels, result, show),
            related: result.labels
              .filter((l) => l !== at)
              .map((l) => ({ place: l.place, message: `${capital(l.text)}.` })),
            fixes: closingFixes(result.weights, result.excess, 'at', show),
            about: this.spec.path,
            causes: { parameters: [...new Set(result.labels.flatMap((l) => l.parameters))], survey: false },
            comparison: {
              what: `${heightThatIsOut(result.labels, result.weights)} in zone ${this.spec.path}`,
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
          `${f.kind === 'rod' ? 'Rod' : f.kind === 'drawers' ? 'Drawers' : 'Shelf'} "${this.spec.path}.${f.name}" can be at ${showRange(range.least, range.most, show)}; ${showLength(range.value, show)} is taken.`,
          {
            about: `${this.spec.path}.${f.name}`,
            advice: `Write \`at ${showLength(range.value, show)}\`, or leave it open for a survey to settle.`,
            fixes: settled(place, `at ${showLength(range.value, show)}`),
          },
        ),
      );
    }
    return result.at;
  }

  /** Where everything stands; rows with their ends the wrong way round are told of, and turned. */
  private placedUp(ceiling: Dim | undefined, report: (f: Finding) => void): HeightsResult {
    const { spec, env } = this;
    const place = (fittings: readonly FittingSpec[]) =>
      placeHeights(fittings, ceiling, (standing) => this.tallness(standing), env.show);
    const result = place(spec.fittings);
    if (result.kind === 'placed') return result;
    const turned = turnedRows(spec.fittings, result.labels);
    if (turned.rows.length === 0) return result;
    const instead = place(turned.fittings);
    if (instead.kind === 'conflict') return result;
    for (const row of turned.rows) report(turnedFinding(row, instead.at, spec.path, env.show));
    return instead;
  }

  /** From the datum of what stands there to its upper face. */
  private tallness(f: ShelfSpec | DrawersSpec): Ticks {
    return f.kind === 'drawers' ? stackOf(f) : (this.boardOf(f)?.thickness ?? NONE);
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
      below: below?.kind === 'shelf' || below?.kind === 'drawers' ? this.tallness(below) : NONE,
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

  // Zones inside

  private placeInner(): PlacedFittings {
    const { spec, env } = this;
    const { inside } = this.zone;
    if (!inside) return { zones: [], parts: [] };
    const taken = (side: SideName): Ticks => this.panels.find((p) => p.side === side)?.thickness ?? NONE;
    const edge = { left: taken('left'), right: taken('right') };
    const stretchOf = (width: Ticks): Stretch => {
      const length = ticks(Math.max(0, width - edge.left - edge.right));
      const label = {
        place: spec.width?.place ?? spec.place,
        get text() {
          return `zone ${spec.path} ${extreme(spec, width, inside)} ${showLength(length, env.show)} wide inside`;
        },
        parameters: spec.width?.parameters ?? [],
        role: 'length' as const,
        ...(hasOwnWidth(spec) && { around: `${spec.kind} ${spec.path}` }),
      };
      return { length, inset: { left: NONE, right: NONE }, label };
    };
    const run = (width: Ticks, regardless = env.regardless !== undefined): RunResult =>
      placeRun(inside.run, stretchOf(width), env.sawStep, regardless);
    /** What is lacking whatever the width is; or on the width nearest to what is needed, of those the zone can have. */
    const refused = (main: Refusal): Refusal => {
      if (main.kind !== 'conflict') return main;
      const { never, nearest } = inside;
      const { label } = stretchOf(this.zone.main.width.value);
      if (never) {
        const said = (one: Label): Label => (one === unsaid ? label : one);
        const weights = new Map([...never.weights].map(([one, weight]) => [said(one as Label), weight]));
        return { ...never, labels: never.labels.map(said), weights };
      }
      const there = nearest === undefined ? main : run(nearest, false);
      return there.kind === 'placed' ? main : there;
    };
    const tell = (result: Refusal): void =>
      env.report(
        failure(
          refused(result),
          { name: spec.path, said: `zone ${spec.path}`, place: spec.place, zones: spec.zones },
          undefined,
          false,
          env.show,
        ),
      );
    let main = run(this.zone.main.width.value);
    let told = env.regardless;
    if (main.kind === 'conflict' && main.inside.size > 0) {
      const without = run(this.zone.main.width.value, true);
      if (without.kind === 'placed') {
        // Told once, here, and drawn all the same.
        tell(main);
        told = main.inside;
        main = without;
      }
    }
    if (main.kind !== 'placed') {
      const isTold = main.kind === 'conflict' && env.regardless?.has(spec) === true;
      if (!isTold) tell(main);
      return { zones: [], parts: [] };
    }
    if (main.left.length > 0) {
      env.report(
        finding(
          rules.leftOver,
          spec.place,
          `${showLength(sumOf(main.left), env.show)} is left over inside zone ${spec.path}.`,
          {
            advice: 'Write a gap there, give an inner zone "width fill", or change a width.',
            about: spec.path,
            fixes: gapsFor(main, { siblings: spec.zones, mirrored: env.mirrored }),
          },
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
    const siblings = runOfZones(
      placed.map(({ inner, from, width }) => ({ spec: inner, from: from.value, to: from.value + width.value })),
    );
    const innerEnv = told === env.regardless ? env : { ...env, regardless: told };
    let parts = this.parts.length;
    const place = ({ inner, from, width }: (typeof placed)[number]): PlacedFittings => {
      if (parts > limits.mostParts.most) return { zones: [], parts: [] };
      const made = placeFittings(
        {
          spec: inner,
          main: { from, width },
          isStill: this.zone.isStill,
          atHeight: (height) => {
            const outer = this.zone.atHeight(height);
            const there = run(outer.width, told !== undefined);
            const z = there.kind === 'placed' ? there.zones.get(inner) : undefined;
            return z
              ? { from: ticks(z.from.value + outer.from + edge.left), width: z.width.value, wall: outer.wall }
              : { from: from.value, width: width.value, wall: outer.wall };
          },
          ends: (x) => {
            const left = this.zone.main.from.value + edge.left;
            const right = this.zone.main.from.value + this.zone.main.width.value - edge.right;
            if (x <= left) return edge.left > 0 ? 'panel' : meets(this.zone, 'left', [NONE, ticks(1)]);
            if (x >= right) return edge.right > 0 ? 'panel' : meets(this.zone, 'right', [NONE, ticks(1)]);
            return 'open';
          },
          run: siblings,
          defaults: this.defaults,
          inside: inside.run.inside.get(inner),
        },
        innerEnv,
      );
      parts += made.parts.length;
      return made;
    };
    const results = placed.map(place);
    return { zones: results.flatMap((r) => r.zones), parts: results.flatMap((r) => r.parts) };
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

/** The zone says itself how wide it is; else that follows from what stands beside it. */
function hasOwnWidth({ width }: ZoneSpec): boolean {
  return width?.kind === 'fixed' || width?.kind === 'range';
}

type Refusal = Exclude<RunResult, { kind: 'placed' }>;

/** `is`, or which end of its range a width of a zone is. */
function extreme({ width }: ZoneSpec, is: Ticks, { nearest }: InsideRun): string {
  if (!width || is !== nearest || width.least === width.most) return 'is';
  return is === width.most ? 'is at most' : 'is at least';
}
