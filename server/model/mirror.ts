/** Mirroring a template left to right. Doing it twice gives the template back. */
import type { Leaf } from './layout.ts';
import { memo } from './memo.ts';
import type {
  FittingSpec,
  FixtureSpec,
  Offset,
  OpeningSpec,
  SideName,
  StartSpec,
  StudSpec,
  TemplateSpec,
  WallSpec,
  ZoneSpec,
} from './spec.ts';

export function mirror(spec: TemplateSpec): TemplateSpec {
  return {
    ...spec,
    walls: walls(spec.walls),
    corners: spec.corners.map((c) => ({
      ...c,
      walls: [otherWall(c.walls[0]), otherWall(c.walls[1])],
      owner: otherWall(c.owner),
    })),
    openings: spec.openings.map(opening),
    fixtures: spec.fixtures.map(fixture),
    zones: spec.zones.map(zone),
  };
}

/** The walls of a room come round the other way, so that each turns by what the one after it turned. */
function walls(before: readonly WallSpec[]): WallSpec[] {
  return before
    .map((wall, i): WallSpec => {
      const { turns: _, ...rest } = wall;
      const named = { ...rest, name: otherWall(wall.name), studs: wall.studs.map(studs) };
      const turns = before[(i + 1) % before.length]?.turns;
      return turns ? { ...named, turns } : named;
    })
    .reverse();
}

/** What is one and the same before is so behind the mirror. */
const mirroredZones = new WeakMap<ZoneSpec, ZoneSpec>();

export function otherSide(side: SideName): SideName {
  return side === 'left' ? 'right' : 'left';
}

export function otherWall(name: string): string {
  return name === 'left' ? 'right' : name === 'right' ? 'left' : name;
}

function offset(from: Offset): Offset {
  return { ...from, side: otherSide(from.side) };
}

function studs(spec: StudSpec): StudSpec {
  return { ...spec, side: otherSide(spec.side) };
}

function opening(spec: OpeningSpec): OpeningSpec {
  return {
    ...spec,
    wall: otherWall(spec.wall),
    name: otherWall(spec.name),
    ...(spec.from && { from: offset(spec.from) }),
    ...(spec.leaf && { leaf: leaf(spec.leaf) }),
  };
}

function leaf(spec: Leaf): Leaf {
  return spec.kind === 'swing' && spec.hinge ? { ...spec, hinge: otherSide(spec.hinge) } : spec;
}

function fixture(spec: FixtureSpec): FixtureSpec {
  return {
    ...spec,
    wall: spec.wall === undefined ? undefined : otherWall(spec.wall),
    ...(spec.along && { along: offset(spec.along) }),
  };
}

function zone(spec: ZoneSpec): ZoneSpec {
  return memo(mirroredZones, spec, () => ({
    ...spec,
    wall: spec.wall === undefined ? undefined : otherWall(spec.wall),
    start: start(spec.start),
    zones: spec.zones.map(zone),
    fittings: spec.fittings.map(fitting),
  }));
}

function start(spec: StartSpec): StartSpec {
  return spec.kind === 'centred' ? spec : { ...spec, side: otherSide(spec.side) };
}

function fitting(spec: FittingSpec): FittingSpec {
  // Sides stand in the order left, right, so that mirroring twice gives the very same list.
  return spec.kind === 'panels' ? { ...spec, sides: [...spec.sides].map(otherSide).reverse() } : spec;
}
