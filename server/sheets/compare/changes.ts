/** What differs between two layouts of one unit, in the words of somebody who builds it. Names alone make no difference. */
import type { FittingLayout, Layout, OpeningLayout, Part, ZoneLayout } from '../../model/layout.ts';
import type { Ticks } from '../../model/ticks.ts';
import { paired, pairedFittings, pairedFixtures, pairedOpenings, pairedWalls, pairedZones } from './pairs.ts';

export type Value = { readonly ticks: Ticks } | { readonly count: number } | { readonly text: string };

export type ChangeKind =
  | 'part'
  | 'height'
  | 'zone'
  | 'wall'
  | 'opening'
  | 'fixture'
  | 'drawers'
  | 'fitting'
  | 'unit'
  | 'finding'
  | 'other';

/** Without `before` something is new, without `after` it is gone. */
export interface Change {
  readonly kind: ChangeKind;
  /** Path or name of the thing, as it is called afterwards where it still is. */
  readonly of: string;
  /** What of it: `length`, `underside above the floor`. */
  readonly what: string;
  readonly before?: Value;
  readonly after?: Value;
}

/** In the order in which people build: walls, openings, fixtures, zones, heights, parts. */
export function changesOf(
  before: Layout,
  after: Layout,
  sameMaterial: (before: string, after: string) => boolean,
): Change[] {
  if (before === after) return [];
  const changes = [
    ...wallChanges(before, after),
    ...openingChanges(before, after),
    ...fixtureChanges(before, after),
    ...zoneChanges(before, after),
    ...fittingChanges(before, after),
    ...partChanges(before.parts, after.parts, sameMaterial),
  ];
  // What is built may differ in what has no words of its own here: it is never passed over.
  if (changes.length === 0 && builtAs(before, renamedWalls(before, after)) !== builtAs(after))
    changes.push({ kind: 'other', of: '', what: 'hardware, loads or other details that no part shows' });
  return changes;
}

function lengthChange(
  kind: ChangeKind,
  of: string,
  what: string,
  before: Ticks | undefined,
  after: Ticks | undefined,
): Change[] {
  if (before === after) return [];
  return [
    {
      kind,
      of,
      what,
      ...(before !== undefined && { before: { ticks: before } }),
      ...(after !== undefined && { after: { ticks: after } }),
    },
  ];
}

function textChange(kind: ChangeKind, of: string, what: string, before: string, after: string): Change[] {
  return before === after ? [] : [{ kind, of, what, before: { text: before }, after: { text: after } }];
}

function wallChanges(before: Layout, after: Layout): Change[] {
  const { both, gone, added } = pairedWalls(before, after);
  return [
    ...gone.map(({ name, length }): Change => ({ kind: 'wall', of: name, what: 'length', before: { ticks: length } })),
    ...added.map(({ name, length }): Change => ({ kind: 'wall', of: name, what: 'length', after: { ticks: length } })),
    ...both.flatMap(([a, b]) => [
      ...lengthChange('wall', b.name, 'length', a.length, b.length),
      ...lengthChange('wall', b.name, 'height', a.height, b.height),
      ...(a.studs.join() === b.studs.join() && a.studsFrom === b.studsFrom
        ? []
        : [
            {
              kind: 'wall',
              of: b.name,
              what: 'studs',
              before: { count: a.studs.length },
              after: { count: b.studs.length },
            } as const,
          ]),
    ]),
    ...textChange('wall', 'corners', 'angles', anglesOf(before), anglesOf(after)),
  ];
}

/** Without the names of the walls, which may be others. */
function anglesOf({ corners }: Layout): string {
  return corners.map(({ angle }) => `${Number(angle.toFixed(3))}`).join(', ');
}

function leafOf({ leaf }: OpeningLayout): string {
  return leaf.kind === 'swing' ? `swings ${leaf.way}, hinges ${leaf.hinge ?? 'not stated'}` : leaf.kind;
}

/** What each wall is called afterwards. */
function renamedWalls(before: Layout, after: Layout): ReadonlyMap<string, string> {
  return new Map(pairedWalls(before, after).both.map(([a, b]) => [a.name, b.name]));
}

function openingChanges(before: Layout, after: Layout): Change[] {
  const { both, gone, added } = pairedOpenings(before, after);
  return [
    ...gone.map(({ name, width }): Change => ({ kind: 'opening', of: name, what: 'width', before: { ticks: width } })),
    ...added.map(({ name, width }): Change => ({ kind: 'opening', of: name, what: 'width', after: { ticks: width } })),
    ...both.flatMap(([a, b]) => [
      ...lengthChange('opening', b.name, 'from the left corner', a.from, b.from),
      ...lengthChange('opening', b.name, 'width', a.width, b.width),
      ...lengthChange('opening', b.name, 'height', a.height, b.height),
      ...textChange('opening', b.name, 'leaf', leafOf(a), leafOf(b)),
    ]),
  ];
}

function fixtureChanges(before: Layout, after: Layout): Change[] {
  const { both, gone, added } = pairedFixtures(before, after);
  return [
    ...gone.map(({ name, kind }): Change => ({ kind: 'fixture', of: name, what: 'is', before: { text: kind } })),
    ...added.map(({ name, kind }): Change => ({ kind: 'fixture', of: name, what: 'is', after: { text: kind } })),
    ...both.flatMap(([a, b]) => [
      ...textChange('fixture', b.name, 'is', a.kind, b.kind),
      ...lengthChange('fixture', b.name, 'from the left corner', a.box.x[0], b.box.x[0]),
      ...lengthChange('fixture', b.name, 'height', a.box.z[0], b.box.z[0]),
      ...lengthChange('fixture', b.name, 'room to be kept free', a.clear, b.clear),
    ]),
  ];
}

function zoneChanges(before: Layout, after: Layout): Change[] {
  const { both, gone, added } = pairedZones(before, after);
  const walls = renamedWalls(before, after);
  return [
    ...gone.map(
      ({ path, width }): Change => ({ kind: 'zone', of: path, what: 'width', before: { ticks: width.value } }),
    ),
    ...added.map(
      ({ path, width }): Change => ({ kind: 'zone', of: path, what: 'width', after: { ticks: width.value } }),
    ),
    ...both.flatMap(([a, b]) => [
      ...(walls.get(a.wall) === b.wall ? [] : textChange('zone', b.path, 'wall', a.wall, b.wall)),
      ...lengthChange('zone', b.path, 'from the left corner', a.from.value, b.from.value),
      ...lengthChange('zone', b.path, 'width', a.width.value, b.width.value),
    ]),
  ];
}

/** Heights, depths and places of fittings; what is cut for them is told of the parts. */
function fittingChanges(before: Layout, after: Layout): Change[] {
  const { both } = pairedFittings(before, after);
  return both.flatMap(([a, b]) => {
    if (a.kind !== b.kind) return textChange('fitting', b.path, 'is', a.kind, b.kind);
    const datum =
      b.kind === 'rod'
        ? 'centre above the floor'
        : b.kind === 'shelf'
          ? 'underside above the floor'
          : 'above the floor';
    const changes = lengthChange('height', b.path, datum, a.at.value, b.at.value);
    if (a.kind === 'rod' && b.kind === 'rod') {
      changes.push(...lengthChange('fitting', b.path, 'centre from the wall', a.fromWall, b.fromWall));
      // What hangs there is told by its name, but is the same where its measures are.
      if (builtAs(a.garments) !== builtAs(b.garments)) changes.push(...hangingChanges(b.path, a.garments, b.garments));
    }
    if (a.kind === 'drawers' && b.kind === 'drawers') {
      if (a.count !== b.count)
        changes.push({
          kind: 'drawers',
          of: b.path,
          what: 'drawers',
          before: { count: a.count },
          after: { count: b.count },
        });
      changes.push(...lengthChange('drawers', b.path, 'height of each', a.each, b.each));
    }
    if (a.kind === 'shelf' && b.kind === 'shelf') {
      changes.push(
        ...textChange('fitting', b.path, 'stands', a.tilted ? 'tilted' : 'level', b.tilted ? 'tilted' : 'level'),
      );
    }
    const carried = (f: FittingLayout): string => ('carried' in f ? f.carried.map(({ name }) => name).join(', ') : '');
    if (carried(a) !== carried(b) && builtAs(a) !== builtAs(b))
      changes.push(...textChange('fitting', b.path, 'carried by', carried(a), carried(b)));
    return changes;
  });
}

type Garments = Extract<FittingLayout, { kind: 'rod' }>['garments'];

function hangingChanges(of: string, before: Garments, after: Garments): Change[] {
  const named = (garments: Garments): string => garments.map(({ name }) => name).join(', ');
  if (named(before) !== named(after)) return textChange('fitting', of, 'hangs', named(before), named(after));
  return before.flatMap((a, i) => {
    const b = after[i];
    return b === undefined
      ? []
      : [
          ...lengthChange('fitting', of, `${b.name} hangs down`, a.hang, b.hang),
          ...lengthChange('fitting', of, `hanger of ${b.name}`, a.hanger, b.hanger),
          ...lengthChange('fitting', of, `depth of ${b.name}`, a.depth, b.depth),
          ...lengthChange('fitting', of, `rod that ${b.name} takes`, a.takes, b.takes),
        ];
  });
}

function partChanges(
  before: readonly Part[],
  after: readonly Part[],
  sameMaterial: (before: string, after: string) => boolean,
): Change[] {
  const { both, gone, added } = paired(
    before,
    after,
    ({ path }) => path,
    ({ kind, wall, at, length, depth }) => [kind, wall, at, length, depth].join(),
  );
  const what = ({ kind, material }: Part): string => `${kind} of ${material}`;
  return [
    ...gone.map((part): Change => ({ kind: 'part', of: part.path, what: what(part), before: { ticks: part.length } })),
    ...added.map((part): Change => ({ kind: 'part', of: part.path, what: what(part), after: { ticks: part.length } })),
    ...both.flatMap(([a, b]) => [
      ...(sameMaterial(a.material, b.material) ? [] : textChange('part', b.path, 'material', a.material, b.material)),
      ...lengthChange('part', b.path, 'cut length', a.length, b.length),
      ...lengthChange('part', b.path, 'depth', a.depth, b.depth),
      ...lengthChange('part', b.path, 'thickness', a.thickness, b.thickness),
    ]),
  ];
}

/** Keys that say how something is called or where it is written, and not what it is. */
const unbuilt: ReadonlySet<string> = new Set([
  ...[
    'name',
    'path',
    'zone',
    'material',
    'set',
    'shelves',
    'zones',
    'findings',
    'steps',
    'why',
    'source',
    'settled',
    'statement',
  ],
]);

/** What is written one after another, and stands where it stands whatever comes first: a mirror comes round the other way. */
const unordered: ReadonlySet<string> = new Set(['walls', 'openings', 'plan', 'corners']);

/**
 * A text that is the same for what is built the same. Zones are left out but for what stands in them. `walls` that are
 * called otherwise elsewhere are called so here.
 */
export function builtAs(thing: object, walls: ReadonlyMap<string, string> = new Map()): string {
  const nameOf = (wall: string): string => walls.get(wall) ?? wall;
  return JSON.stringify(thing, (key, value: unknown) => {
    if (unordered.has(key) && Array.isArray(value))
      return value.map((one: object | string) => (typeof one === 'string' ? nameOf(one) : builtAs(one, walls))).sort();
    if (key === 'wall' && typeof value === 'string') return nameOf(value);
    if (key === 'zones' && Array.isArray(value))
      return value.map((zone: ZoneLayout) => ({
        wall: nameOf(zone.wall),
        from: zone.from.value,
        width: zone.width.value,
        fittings: zone.fittings,
      }));
    return unbuilt.has(key) || /place$/i.test(key) ? undefined : value;
  });
}
