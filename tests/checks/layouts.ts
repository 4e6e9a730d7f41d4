/** Layouts as plain data, built piece by piece. Lengths are given in inches; what is not given does not matter. */

import { Source } from '../../grammar/source.ts';
import { headPlace, type Place } from '../../grammar/tree.ts';
import type { Check, CheckInput, Lacked, Looked } from '../../server/checks/check.ts';
import type { Finding } from '../../server/model/finding.ts';
import type {
  Box,
  FittingLayout,
  FixtureKind,
  FixtureLayout,
  Layout,
  OpeningLayout,
  PanelLayout,
  Range,
  Reading,
  RodLayout,
  ShelfLayout,
  WallLayout,
} from '../../server/model/layout.ts';
import type { Board, Garment, Limit, PolicyInForce } from '../../server/model/materials.ts';
import { noDemands } from '../../server/model/materials.ts';
import type { Severity } from '../../server/model/rule.ts';
import { showInches } from '../../server/model/show.ts';
import { add, inches, subtract, type Ticks, ticks } from '../../server/model/ticks.ts';

/** A tick is 25 nm, the least length there is: the step by which a limit is just missed. */
export const TICK = ticks(1);

/** A statement of its own, to sit on. */
export function place(text: string): Place {
  const source = new Source('test.closet', `thing "${text}"`, new Set(['thing']));
  for (const statement of source.statements()) return headPlace(statement);
  throw new Error('a statement was expected');
}

export function fixed(value: Ticks): Range {
  return { value, least: value, most: value };
}

export type Pair = readonly [number, number];

export function box(x: Pair, y: Pair, z: Pair): Box {
  const both = ([from, to]: Pair) => [inches(from), inches(to)] as const;
  return { x: both(x), y: both(y), z: both(z) };
}

export interface WallGiven {
  readonly nominal?: number;
  readonly height?: number | undefined;
  readonly readings?: readonly Reading[];
}

export function wall(name: string, length: number, given: WallGiven = {}): WallLayout {
  const height = 'height' in given ? given.height : 96;
  return {
    name,
    place: place(`wall ${name}`),
    nominal: inches(given.nominal ?? length),
    nominalPlace: place(`length of ${name}`),
    length: inches(length),
    lengthPlace: place(`length of ${name}`),
    readings: given.readings ?? [],
    height: height === undefined ? undefined : inches(height),
    heightPlace: place(`height of ${name}`),
    studs: [],
    studsFrom: undefined,
    lining: undefined,
    framing: undefined,
    inset: { left: inches(0), right: inches(0) },
    left: [],
  };
}

export function reading(length: number, at?: number): Reading {
  return {
    length: inches(length),
    at: at === undefined ? undefined : inches(at),
    place: place(`reading ${length}`),
  };
}

/** Where a fitting stands; along its wall from 0 to 48 in unless said. */
export interface Where {
  readonly wall?: string;
  readonly x?: Pair;
  readonly zone?: string;
}

export interface ShelfGiven extends Where {
  readonly depth?: number;
  readonly thickness?: number;
  readonly board?: Board;
  readonly tilted?: boolean;
  /** How much higher the back edge of a tilted shelf is. */
  readonly rise?: number;
  readonly inRow?: number;
  readonly place?: Place;
}

/** A shelf against the wall, its underside at `at` inches. */
export function shelf(path: string, at: number, given: ShelfGiven = {}): ShelfLayout {
  const { depth = 12, thickness = 0.75, x = [0, 48], rise = 0 } = given;
  const stands = given.place ?? place(`shelf ${path}`);
  return {
    kind: 'shelf',
    name: path.split('.').at(-1) ?? path,
    path,
    zone: given.zone ?? path.split('.')[0] ?? path,
    wall: given.wall ?? 'back',
    place: stands,
    at: fixed(inches(at)),
    atPlace: place(`height of ${path}`),
    box: box(x, [0, depth], [at, at + rise + thickness]),
    board: given.board,
    thickness: inches(thickness),
    depth: inches(depth),
    loads: [],
    edge: undefined,
    carried: [],
    tilted: given.tilted ?? false,
    fixed: false,
    inRow: given.inRow,
  };
}

export interface RodGiven extends Where {
  readonly fromWall?: number;
  readonly diameter?: number;
}

/** A rod whose centre is at `at` inches, 12 in from the wall and 1 in thick unless said. */
export function rod(path: string, at: number, garments: readonly Garment[], given: RodGiven = {}): RodLayout {
  const { fromWall = 12, diameter = 1, x = [0, 48] } = given;
  const r = diameter / 2;
  return {
    kind: 'rod',
    name: path.split('.').at(-1) ?? path,
    path,
    zone: given.zone ?? path.split('.')[0] ?? path,
    wall: given.wall ?? 'back',
    place: place(`rod ${path}`),
    at: fixed(inches(at)),
    atPlace: place(`height of ${path}`),
    box: box(x, [fromWall - r, fromWall + r], [at - r, at + r]),
    material: undefined,
    diameter: inches(diameter),
    fromWall: inches(fromWall),
    holds: [],
    loads: [],
    carried: [],
    fromWallPlace: place(`distance from the wall of ${path}`),
    garments,
  };
}

export interface PanelGiven extends Where {
  readonly depth?: number;
  readonly from?: number;
  readonly height?: number;
  readonly board?: Board;
  readonly place?: Place;
}

/** A panel 3/4 in thick whose left face is `left` inches along the wall. */
export function panel(path: string, left: number, given: PanelGiven = {}): PanelLayout {
  const { depth = 12, from = 0, height = 84 } = given;
  return {
    kind: 'panel',
    name: path.split('.').at(-1) ?? path,
    path,
    zone: given.zone ?? path.split('.')[0] ?? path,
    wall: given.wall ?? 'back',
    place: given.place ?? place(`panel ${path}`),
    at: fixed(inches(from)),
    atPlace: place(`height of ${path}`),
    box: box([left, left + 0.75], [0, depth], [from, height]),
    board: given.board,
    side: 'left',
    thickness: inches(0.75),
    depth: inches(depth),
    carried: [],
  };
}

export interface GarmentGiven {
  readonly hang?: number | undefined;
  readonly hanger?: number | undefined;
  readonly depth?: number | undefined;
}

export function garment(name: string, { hang, hanger, depth }: GarmentGiven): Garment {
  const length = (value: number | undefined) => (value === undefined ? undefined : inches(value));
  return {
    kind: 'garment',
    name,
    place: place(`garment ${name}`),
    hang: length(hang),
    hanger: length(hanger),
    depth: length(depth),
    takes: undefined,
    weight: undefined,
    source: undefined,
  };
}

export function board(name: string, depth: number, ripping = false): Board {
  return {
    kind: 'board',
    name,
    place: place(`board ${name}`),
    depth: inches(depth),
    thickness: inches(0.75),
    ripping,
    ends: [],
    stiffness: undefined,
    shearStiffness: undefined,
    strength: undefined,
    carried: [],
    weight: undefined,
    finish: undefined,
  };
}

/** On a wall: its extent along it and in height. On the ceiling (`undefined`): from the left and the back wall. */
export function fixture(kind: FixtureKind, on: string | undefined, x: Pair, zOrY: Pair, clear = 0): FixtureLayout {
  return {
    kind,
    name: kind,
    wall: on,
    place: place(`fixture ${kind}`),
    box: on === undefined ? box(x, zOrY, [96, 96]) : box(x, [0, 0], zOrY),
    clear: inches(clear),
    lamp: undefined,
  };
}

export function opening(name: string, on: string, from: number, width: number, height: number): OpeningLayout {
  return {
    name,
    wall: on,
    place: place(`opening ${name}`),
    from: inches(from),
    width: inches(width),
    height: inches(height),
    leaf: { kind: 'none', place: place(`opening ${name}`) },
    floor: undefined,
  };
}

export interface Given {
  readonly walls?: readonly WallLayout[];
  readonly openings?: readonly OpeningLayout[];
  readonly fixtures?: readonly FixtureLayout[];
}

/** A reach-in closet 96 in wide, 96 in high and 25 in deep, without a front wall. */
export const reachIn: readonly WallLayout[] = [wall('left', 25), wall('back', 96), wall('right', 25)];

/** A walk-in closet 96 in wide and 60 in deep. */
export const walkIn: readonly WallLayout[] = [wall('left', 60), wall('back', 96), wall('right', 60), wall('front', 96)];

/** The fittings stand in zones named by the first word of their paths, as wide as what is in them. */
export function layout(fittings: readonly FittingLayout[], given: Given = {}): Layout {
  const zones = [...Map.groupBy(fittings, ({ zone }) => zone)].map(([name, own]) => {
    const from = ticks(Math.min(...own.map((fitting) => fitting.box.x[0])));
    const to = ticks(Math.max(...own.map((fitting) => fitting.box.x[1])));
    return {
      name,
      path: name,
      kind: 'zone' as const,
      wall: own[0]?.wall ?? 'back',
      place: place(`zone ${name}`),
      widthPlace: place(`width of ${name}`),
      from: fixed(from),
      width: fixed(subtract(to, from)),
      settled: 'fixed' as const,
      fittings: own,
    };
  });
  return {
    walls: given.walls ?? reachIn,
    openings: given.openings ?? [],
    fixtures: given.fixtures ?? [],
    slopes: [],
    corners: [],
    plan: [],
    zones,
    parts: [],
    lines: [],
    findings: [],
  };
}

export interface LimitGiven {
  readonly least?: number;
  readonly most?: number;
}

export function policy(
  limits: Readonly<Record<string, LimitGiven>> = {},
  severities: Readonly<Record<string, Severity | 'off'>> = {},
): PolicyInForce {
  const set = Object.entries(limits).map(([name, { least, most }]): [string, Limit] => [
    name,
    {
      least: least === undefined ? undefined : inches(least),
      most: most === undefined ? undefined : inches(most),
      place: place(`limit ${name}`),
      policy: 'everyday',
    },
  ]);
  return {
    names: ['everyday'],
    limits: new Map(set),
    severities: new Map(Object.entries(severities)),
    demands: noDemands,
  };
}

export function input(given: Layout, inForce: PolicyInForce = policy()): CheckInput {
  return { layout: given, policy: inForce, show: showInches };
}

export function ids(findings: readonly Finding[]): string[] {
  return findings.map(({ rule }) => rule.id);
}

export function only(findings: readonly Finding[], id: string): Finding {
  const [first, ...rest] = findings.filter(({ rule }) => rule.id === id);
  if (!first || rest.length > 0) throw new Error(`one ${id} was expected, found: ${ids(findings).join(', ')}`);
  return first;
}

/** What a place stands on, by the text it was built with. */
export function standsOn(at: Place): string {
  return at.statement.text.replace(/^thing "|"$/g, '');
}

/** Moves a box by one tick along an axis. */
export function nudged<F extends FittingLayout>(fitting: F, axis: 'x' | 'y' | 'z', by: Ticks): F {
  const [from, to] = fitting.box[axis];
  return { ...fitting, box: { ...fitting.box, [axis]: [add(from, by), add(to, by)] } };
}

/** What a check tells of its comparisons, and of what it had nothing to work on. */
export function recorded(check: Check, given: CheckInput): { looked: Looked[]; lacked: Lacked[] } {
  const looked: Looked[] = [];
  const lacked: Lacked[] = [];
  check.run({ ...given, record: { looked: (l) => void looked.push(l), lacks: (l) => void lacked.push(l) } });
  return { looked, lacked };
}
