/** What stands on the walls and the ceiling, placed: openings, fixtures, sloping ceilings. */
import { addedFix } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import type { FixtureLayout, OpeningLayout, SlopeLayout, WallLayout } from './layout.ts';
import * as rules from './rules.ts';
import type { FixtureSpec, Offset, OpeningSpec } from './spec.ts';
import type { Survey } from './survey.ts';
import { divide, greatest, inches, NONE, type Ticks, ticks } from './ticks.ts';

/** None where its place cannot be known. `sawStep`: what it is centred to. */
export function openingLayout(
  spec: OpeningSpec,
  walls: ReadonlyMap<string, WallLayout>,
  { survey, sawStep }: { readonly survey: Survey | undefined; readonly sawStep: Ticks },
): OpeningLayout[] {
  const measured = survey?.openings.find((o) => o.name === spec.name)?.props;
  const width = (measured?.width ?? spec.width)?.value;
  if (width === undefined) return [];
  const height = (measured?.height ?? spec.height)?.value ?? inches(80);
  const wall = walls.get(spec.wall);
  const length = wall?.length ?? openLength(spec.wall, walls);
  const from = measured?.from ?? spec.from;
  if (length === undefined && (!from || from.side === 'right')) return [];
  const centred = length === undefined ? NONE : (divide(ticks(Math.max(0, length - width)), 2, sawStep).at(-1) ?? NONE);
  const x = from ? alongWall(from, length ?? NONE, width) : centred;
  const leaf = spec.leaf ?? { kind: 'none', place: spec.place };
  const { name, place, floor, approach, pull } = spec;
  const said = { ...(approach && { approach }), ...(pull && { pull }) };
  return [{ name, wall: spec.wall, place, from: x, width, height, leaf, floor, ...said }];
}

/** A front that is not drawn is as long as the back it faces. */
function openLength(name: string, walls: ReadonlyMap<string, WallLayout>): Ticks | undefined {
  const opposite: Readonly<Record<string, string>> = { front: 'back', back: 'front', left: 'right', right: 'left' };
  return walls.get(opposite[name] ?? '')?.length;
}

function alongWall({ side, offset }: Offset, length: Ticks, width: Ticks): Ticks {
  return ticks(side === 'left' ? offset.value : length - offset.value - width);
}

/** Width and height in inches where none are said: common practice, no source. */
const faces: Readonly<Record<string, { width: number; height: number }>> = {
  outlet: { width: 3, height: 5 },
  switch: { width: 3, height: 5 },
  panel: { width: 15, height: 30 },
  vent: { width: 12, height: 6 },
  sprinkler: { width: 3, height: 3 },
  light: { width: 8, height: 8 },
  hatch: { width: 30, height: 22 },
  appliance: { width: 24, height: 60 },
  baseboard: { width: 0, height: 4 },
};

/** None of a slope, nor of one that does not say where it is, which is reported. */
export function fixtureLayout(
  spec: FixtureSpec,
  walls: ReadonlyMap<string, WallLayout>,
  report: (f: Finding) => void,
): FixtureLayout[] {
  if (spec.kind === 'slope') return [];
  const face = faces[spec.kind] ?? { width: 3, height: 3 };
  const { lamp, burns, heats } = spec;
  const depth = spec.depth?.value;
  const said = { ...(depth !== undefined && { depth }), ...(burns && { burns }), ...(heats && { heats }) };
  const out = depth ?? NONE;
  const size = spec.size ?? { width: inches(face.width), height: inches(face.height) };
  const clear = spec.clear?.value ?? NONE;
  const around = (centre: number, extent: Ticks): readonly [Ticks, Ticks] => {
    const low = ticks(Math.floor(centre - extent / 2));
    return [low, ticks(low + extent)];
  };
  const missing = (what: string, example: string): FixtureLayout[] => {
    report(
      finding(rules.phraseNotUnderstood, spec.place, `Fixture "${spec.name}" does not say ${what}.`, {
        advice: `Write for example: ${example}`,
        examples: true,
        fixes: addedFix(spec.place.statement, example, { byHand: true }),
      }),
    );
    return [];
  };
  if (spec.wall === undefined) {
    const back = walls.get('back')?.length;
    const side = (walls.get('left') ?? walls.get('right'))?.length;
    if (!spec.along || !spec.out) return missing('where it is on the ceiling', 'from left 30in; from back 12in');
    const x =
      spec.along.side === 'left'
        ? spec.along.offset.value
        : back === undefined
          ? undefined
          : back - spec.along.offset.value;
    const y =
      spec.out.side === 'back' ? spec.out.offset.value : side === undefined ? undefined : side - spec.out.offset.value;
    const ceiling = greatest(NONE, ...[...walls.values()].map((w) => w.height ?? NONE));
    if (x === undefined || y === undefined || ceiling === 0) return [];
    return [
      {
        kind: spec.kind,
        name: spec.name,
        wall: undefined,
        place: spec.place,
        clear,
        lamp,
        box: { x: around(x, size.width), y: around(y, size.height), z: [ticks(ceiling - out), ceiling] },
        ...said,
      },
    ];
  }
  const wall = walls.get(spec.wall);
  if (!wall) return [];
  if (spec.kind === 'baseboard') {
    const box = { x: [NONE, wall.length], y: [NONE, out], z: [NONE, spec.height?.value ?? size.height] } as const;
    return [{ kind: spec.kind, name: spec.name, wall: spec.wall, place: spec.place, clear, lamp, box, ...said }];
  }
  if (!spec.along) return missing('how far along the wall it is', 'from left 60in');
  if (!spec.height) return missing('how high it is', 'height 16in');
  const x = spec.along.side === 'left' ? spec.along.offset.value : wall.length - spec.along.offset.value;
  const box = { x: around(x, size.width), y: [NONE, out], z: around(spec.height.value, size.height) } as const;
  return [{ kind: spec.kind, name: spec.name, wall: spec.wall, place: spec.place, clear, lamp, box, ...said }];
}

/** A ceiling that rises from its own height at a wall to the full height. */
export function slopeLayout(
  spec: FixtureSpec,
  walls: ReadonlyMap<string, WallLayout>,
  report: (f: Finding) => void,
): SlopeLayout[] {
  if (spec.kind !== 'slope') return [];
  const missing = (what: string, example: string): SlopeLayout[] => {
    report(
      finding(rules.phraseNotUnderstood, spec.place, `Slope "${spec.name}" does not say ${what}.`, {
        advice: `Write for example: ${example}`,
        examples: true,
        fixes: example.startsWith('fixture') ? [] : addedFix(spec.place.statement, example, { byHand: true }),
      }),
    );
    return [];
  };
  if (spec.wall === undefined)
    return missing('at which wall it is low', 'fixture slope on back { height 60in; run 36in }');
  if (!spec.height) return missing('how high it is at its wall', 'height 60in');
  if (!spec.run) return missing('how far out it reaches the full height', 'run 36in');
  const high = greatest(NONE, ...[...walls.values()].map((w) => w.height ?? NONE));
  if (!walls.has(spec.wall) || high === 0) return [];
  if (spec.height.value > high) {
    report(
      finding(
        rules.outOfBounds,
        spec.height.place,
        `The ceiling slopes down to its wall, and here it would be higher there than the walls.`,
        { advice: 'Its height is that at the wall, where it is lowest.' },
      ),
    );
    return [];
  }
  return [{ name: spec.name, wall: spec.wall, place: spec.place, low: spec.height.value, high, run: spec.run.value }];
}
