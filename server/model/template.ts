/** From a template's statements and arguments to its spec: evaluates every quantity, places nothing. */
import { headPlace, type Path, type Place, placeOf, type Statement } from '../../grammar/tree.ts';
import { type Blueprint, fixtureKind, headReading, headWith, prop, thingsOf } from './blueprint.ts';
import {
  type Context,
  countIn,
  declarationAt,
  lengthIn,
  namedIn,
  nameNotKnown,
  quantityIn,
  unknownName,
} from './context.ts';
import { boardOf, garmentOf, hardwareOf, rodOf, taken } from './declared.ts';
import { finding } from './finding.ts';
import type { Approached, Burns, Heats, Lamp, Leaf, Persons, Pull } from './layout.ts';
import type { EdgeStrip, Hardware, Load } from './materials.ts';
import type { Declared } from './names.ts';
import { nearest } from './nearest.ts';
import { dotted, pathIn, pathsIn, type Reading, says } from './reading.ts';
import * as rules from './rules.ts';
import type * as S from './spec.ts';
import { greatest, NONE, type Ticks, ticks } from './ticks.ts';
import type { Value } from './values.ts';

/** A row of more shelves than this is a slip. */
const mostShelves = 200;
/** More drawers in one stack, or garments of one kind on one rod, than anybody has. */
const mostDrawers = 50;
const mostGarments = 10_000;
const mostPersons = 1000;

/** Evaluation within a template: its parameters and dimensions have values. */
export interface TemplateContext extends Context {
  /** Parameters looked up since this was last emptied. */
  used: Set<string>;
  readonly parameters: ReadonlyMap<string, Value | undefined>;
}

export function specOf(blueprint: Blueprint, context: TemplateContext): S.TemplateSpec {
  const walls = thingsOf(blueprint, 'wall').map((b) => wallSpec(b, context));
  return {
    place: headPlace(headReading(blueprint).statement),
    walls,
    corners: thingsOf(blueprint, 'corner').flatMap((b) => cornerSpec(b, walls, context)),
    openings: thingsOf(blueprint, 'opening').flatMap((b) => openingSpec(b, walls, context)),
    fixtures: thingsOf(blueprint, 'fixture').flatMap((b) => fixtureSpec(b, walls, context)),
    zones: zoneSpecs(thingsOf(blueprint, 'zone', 'gap'), undefined, walls, context),
    defaults: defaultsOf(blueprint.props, context),
    ...defined({ persons: personsOf(prop(blueprint, 'persons'), context) }),
  };
}

function personsOf(reading: Reading | undefined, context: TemplateContext): Persons | undefined {
  const count = countIn(reading, 'value', context, 1, mostPersons);
  return reading && count !== undefined ? { count, place: headPlace(reading.statement) } : undefined;
}

/** A length with its place and the parameters it came from. */
export function dim(reading: Reading | undefined, slot: string, context: TemplateContext): S.Dim | undefined {
  if (!reading) return undefined;
  const { value, parameters } = traced(context, () => lengthIn(reading, slot, context));
  return value === undefined ? undefined : { value, place: headPlace(reading.statement), parameters };
}

function traced<T>(context: TemplateContext, compute: () => T): { value: T; parameters: string[] } {
  const outer = context.used;
  context.used = new Set();
  const value = compute();
  const parameters = [...context.used];
  context.used = outer;
  for (const p of parameters) outer.add(p);
  return { value, parameters };
}

type Props = ReadonlyMap<string, readonly Reading[]>;
const last = (props: Props, word: string): Reading | undefined => props.get(word)?.at(-1);

/** Leaves out what is undefined, so that laying one over another keeps what was there. */
export function defined<T extends object>(value: T): { [K in keyof T]?: Exclude<T[K], undefined> } {
  return Object.fromEntries(Object.entries(value).filter(([, v]) => v !== undefined)) as {
    [K in keyof T]?: Exclude<T[K], undefined>;
  };
}

// Walls, corners, openings, fixtures

function wallSpec(blueprint: Blueprint, context: TemplateContext): S.WallSpec {
  const head = headReading(blueprint);
  return {
    name: blueprint.name,
    place: headPlace(head.statement),
    studs: [],
    lengthSaid: blueprint.props.has('length'),
    ...wallProps(blueprint.props, context),
  };
}

const woods = ['spf', 'hem-fir', 'douglas-fir', 'southern-pine', 'spf-south'] as const;

export function wallProps(props: Props, context: TemplateContext): Partial<S.WallSpec> {
  const studs = props.get('studs');
  const turns = last(props, 'turns');
  const degrees = quantityIn(turns, 'value', 'angle', context);
  const framing = last(props, 'framing');
  return defined({
    lining: lengthIn(last(props, 'lining'), 'value', context),
    framing: framing && woods.find((wood) => says(framing, wood)),
    turns: turns && degrees !== undefined ? { degrees, place: headPlace(turns.statement) } : undefined,
    length: dim(last(props, 'length'), 'value', context),
    height: dim(last(props, 'height'), 'value', context),
    studs: studs?.flatMap((r) => studSpec(r, context)),
  });
}

export function studSpec(reading: Reading, context: Context): S.StudSpec[] {
  if (says(reading, 'every')) {
    const every = lengthIn(reading, 'every', context);
    const first = lengthIn(reading, 'first', context);
    if (every === undefined || first === undefined) return [];
    if (every === 0) {
      context.report(
        finding(rules.outOfBounds, headPlace(reading.statement), 'Studs every 0in.', {
          advice: 'Common spacings are 16in and 24in on centre.',
        }),
      );
      return [];
    }
    return [{ kind: 'every', every, first, side: 'left' }];
  }
  const list = (reading.slots.list ?? []).flatMap((item) => {
    const one = lengthIn({ ...reading, slots: { list: [item] } }, 'list', context);
    return one === undefined ? [] : [one];
  });
  return list.length > 0 ? [{ kind: 'list', at: list, side: 'left' }] : [];
}

function wallNamed(
  path: Path | undefined,
  walls: readonly S.WallSpec[],
  statement: Statement,
  context: Context,
): string | undefined {
  if (!path) return undefined;
  const name = dotted(path);
  if (walls.some((w) => w.name === name)) return name;
  context.report(
    unknownName(
      path,
      statement,
      'wall',
      nearest(
        name,
        walls.map((w) => w.name),
      ),
    ),
  );
  return undefined;
}

function cornerSpec(blueprint: Blueprint, walls: readonly S.WallSpec[], context: TemplateContext): S.CornerSpec[] {
  const head = headReading(blueprint);
  const a = wallNamed(pathIn(head, 'a'), walls, head.statement, context);
  const b = wallNamed(pathIn(head, 'b'), walls, head.statement, context);
  if (a === undefined || b === undefined) return [];
  const owner = prop(blueprint, 'owner');
  const owned = owner && wallNamed(pathIn(owner, 'wall'), walls, owner.statement, context);
  const angle = angleOf(prop(blueprint, 'angle'), context);
  return [
    {
      walls: [a, b],
      owner: owned ?? (a === 'back' || b === 'back' ? 'back' : a),
      place: headPlace(head.statement),
      ...(angle && { angle }),
    },
  ];
}

/** The angle of a corner, more than nothing and less than a whole turn. */
export function angleOf(reading: Reading | undefined, context: Context): S.CornerSpec['angle'] | undefined {
  const degrees = quantityIn(reading, 'value', 'angle', context);
  if (!reading || degrees === undefined) return undefined;
  const place = headPlace(reading.statement);
  if (degrees > 0 && degrees < 360) return { degrees, place };
  context.report(
    finding(rules.outOfBounds, place, `Two walls cannot meet at ${degrees} degrees.`, {
      advice: 'A square corner is 90deg; one that opens into the room is less than 180deg.',
    }),
  );
  return undefined;
}

function openingSpec(blueprint: Blueprint, walls: readonly S.WallSpec[], context: TemplateContext): S.OpeningSpec[] {
  const head = headReading(blueprint);
  const on = headWith(blueprint, 'wall');
  let wall: string | undefined = blueprint.name;
  if (on) wall = wallNamed(pathIn(on, 'wall'), walls, on.statement, context);
  else if (!walls.some((w) => w.name === wall) && !['left', 'back', 'right', 'front'].includes(wall)) {
    const path = pathIn(head, 'name') as Path;
    context.report(
      unknownName(
        path,
        head.statement,
        'wall',
        nearest(
          wall,
          walls.map((w) => w.name),
        ),
      ),
    );
    return [];
  }
  if (wall === undefined) return [];
  const missing = prop(blueprint, 'width') === undefined;
  if (missing)
    context.report(
      finding(rules.widthMissing, headPlace(head.statement), `Opening "${blueprint.name}" has no width.`, {
        advice: 'Write for example: width 60in',
      }),
    );
  return [{ name: blueprint.name, wall, place: headPlace(head.statement), ...openingProps(blueprint.props, context) }];
}

export function openingProps(props: Props, context: TemplateContext): Partial<S.OpeningSpec> {
  return defined({
    width: dim(last(props, 'width'), 'value', context),
    height: dim(last(props, 'height'), 'value', context),
    from: offsetOf(last(props, 'from'), context),
    leaf: leafOf(props),
    floor: floorOf(last(props, 'clear-floor'), context),
    approach: approachOf(last(props, 'approach')),
    pull: pullOf(last(props, 'pull'), context),
  });
}

/** A leaf that swings is said by `swing`, any other by `leaves`. */
function leafOf(props: Props): Leaf | undefined {
  const leaves = last(props, 'leaves');
  const swing = last(props, 'swing');
  if (swing) {
    return {
      kind: 'swing',
      way: says(swing, 'in') ? 'in' : 'out',
      hinge: says(swing, 'left') ? 'left' : says(swing, 'right') ? 'right' : undefined,
      place: headPlace(swing.statement),
    };
  }
  const kind = leaves && (['none', 'sliding', 'bifold'] as const).find((k) => says(leaves, k));
  return leaves && kind && { kind, place: headPlace(leaves.statement) };
}

function approachOf(reading: Reading | undefined): Approached | undefined {
  if (!reading) return undefined;
  const from = says(reading, 'hinge-side') ? 'hinge' : says(reading, 'latch-side') ? 'latch' : 'front';
  return { from, place: headPlace(reading.statement) };
}

function pullOf(reading: Reading | undefined, context: Context): Pull | undefined {
  const kind = reading && (['bar', 'knob', 'edge', 'loop'] as const).find((one) => says(reading, one));
  if (!reading || !kind) return undefined;
  const at = reading.slots.height ? lengthIn(reading, 'height', context) : undefined;
  return { kind, place: headPlace(reading.statement), ...(at !== undefined && { at }) };
}

function floorOf(reading: Reading | undefined, context: Context): S.OpeningSpec['floor'] | undefined {
  const width = lengthIn(reading, 'width', context);
  const depth = lengthIn(reading, 'depth', context);
  return reading && width !== undefined && depth !== undefined
    ? { width, depth, place: headPlace(reading.statement) }
    : undefined;
}

function offsetOf(reading: Reading | undefined, context: TemplateContext): S.Offset | undefined {
  const offset = dim(reading, 'offset', context);
  return offset && reading ? { side: says(reading, 'right') ? 'right' : 'left', offset } : undefined;
}

function fixtureSpec(blueprint: Blueprint, walls: readonly S.WallSpec[], context: TemplateContext): S.FixtureSpec[] {
  const head = headReading(blueprint);
  const kind = fixtureKind(head);
  const place = headPlace(head.statement);
  if (kind === undefined) return [];
  const on = headWith(blueprint, 'wall');
  const ceiling = blueprint.heads.some((h) => says(h, 'ceiling'));
  const wall = on ? wallNamed(pathIn(on, 'wall'), walls, on.statement, context) : undefined;
  if (on && wall === undefined) return [];
  if (!on && !ceiling) {
    context.report(
      finding(rules.phraseNotUnderstood, place, `Fixture "${blueprint.name}" does not say where it is.`, {
        advice: 'Write on and the name of a wall, or on ceiling.',
      }),
    );
    return [];
  }
  return [
    {
      kind: kind as S.FixtureSpec['kind'],
      name: blueprint.name,
      wall,
      place,
      ...fixtureProps(blueprint.props, context),
    },
  ];
}

export function fixtureProps(props: Props, context: TemplateContext): Partial<S.FixtureSpec> {
  const from = props.get('from') ?? [];
  const along = from.find((r) => says(r, 'left') || says(r, 'right'));
  const out = from.find((r) => says(r, 'back') || says(r, 'front'));
  const outDim = dim(out, 'offset', context);
  const size = last(props, 'size');
  const width = lengthIn(size, 'width', context);
  const height = lengthIn(size, 'height', context);
  return defined({
    along: offsetOf(along, context),
    out:
      outDim && out ? { side: says(out, 'front') ? ('front' as const) : ('back' as const), offset: outDim } : undefined,
    height: dim(last(props, 'height'), 'value', context),
    size: width !== undefined && height !== undefined ? { width, height } : undefined,
    clear: dim(last(props, 'clear'), 'value', context),
    lamp: lampOf(last(props, 'lamp')),
    depth: dim(last(props, 'depth'), 'value', context),
    burns: burnsOf(last(props, 'burns')),
    heats: heatsOf(last(props, 'heats')),
    run: dim(last(props, 'run'), 'value', context),
  });
}

function lampOf(reading: Reading | undefined): Lamp | undefined {
  if (!reading) return undefined;
  const mount = (['surface', 'recessed', 'pendant'] as const).find((m) => says(reading, m));
  const source = (['incandescent', 'led', 'fluorescent'] as const).find((s) => says(reading, s));
  if (!mount || !source) return undefined;
  const [enclosed, identified] = [says(reading, 'enclosed'), says(reading, 'identified')];
  return { mount, source, enclosed, identified, place: headPlace(reading.statement) };
}

function burnsOf(reading: Reading | undefined): Burns | undefined {
  const fuel = reading && (['gas', 'oil', 'nothing'] as const).find((one) => says(reading, one));
  if (!reading || !fuel) return undefined;
  const kept = (['direct-vent', 'enclosed'] as const).find((one) => says(reading, one));
  return { fuel, kept, place: headPlace(reading.statement) };
}

function heatsOf(reading: Reading | undefined): Heats | undefined {
  const what = reading && (['water', 'air'] as const).find((one) => says(reading, one));
  return reading && what && { what, place: headPlace(reading.statement) };
}

// Zones

function defaultsOf(props: Props, context: TemplateContext): S.Defaults {
  return defined({
    board: boardIn(last(props, 'board'), context),
    pole: poleIn(last(props, 'pole'), context),
    depth: dim(last(props, 'depth'), 'value', context),
    carried: carriedBy(props, context),
  });
}

const parameterOf =
  (context: TemplateContext) =>
  (path: Path): Value | 'unknown' | undefined => {
    const name = dotted(path);
    if (!context.parameters.has(name)) return undefined;
    context.used.add(name);
    return context.parameters.get(name) ?? 'unknown';
  };

function boardIn(reading: Reading | undefined, context: TemplateContext): S.Defaults['board'] {
  const declared = namedIn(reading, 'board', 'board', context, parameterOf(context));
  return declared && taken(boardOf(declared, context.names), context);
}

function poleIn(reading: Reading | undefined, context: TemplateContext): S.Defaults['pole'] {
  const declared = namedIn(reading, 'rod', 'rod', context, parameterOf(context));
  return declared && taken(rodOf(declared, context.names), context);
}

function zoneSpecs(
  blueprints: readonly Blueprint[],
  outer: S.ZoneSpec['path'] | undefined,
  walls: readonly S.WallSpec[],
  context: TemplateContext,
): S.ZoneSpec[] {
  const names = blueprints.map((b) => b.name);
  return blueprints.flatMap((b) => zoneSpec(b, outer, names, walls, context));
}

function zoneSpec(
  b: Blueprint,
  outer: string | undefined,
  siblings: readonly string[],
  walls: readonly S.WallSpec[],
  context: TemplateContext,
): S.ZoneSpec[] {
  const head = headReading(b);
  const place = headPlace(head.statement);
  const on = headWith(b, 'wall');
  let wall: string | undefined;
  if (outer === undefined) {
    if (!on) {
      context.report(
        finding(rules.phraseNotUnderstood, place, `Zone "${b.name}" does not say which wall it is on.`, {
          advice: 'Write for example: zone shirts on back',
        }),
      );
      return [];
    }
    wall = wallNamed(pathIn(on, 'wall'), walls, on.statement, context);
    if (wall === undefined) return [];
  }
  const path = outer === undefined ? b.name : `${outer}.${b.name}`;
  const kind = b.word === 'gap' ? 'gap' : 'zone';
  const inner = thingsOf(b, 'zone', 'gap');
  const width = widthSpec(prop(b, 'width'), context);
  if (!width && prop(b, 'width') === undefined) {
    context.report(
      finding(rules.widthMissing, place, `${kind === 'gap' ? 'Gap' : 'Zone'} "${b.name}" has no width.`, {
        advice: 'Write for example: width 48in, or width fill for what is left.',
      }),
    );
  }
  const zone: S.ZoneSpec = {
    kind,
    name: b.name,
    path,
    wall,
    place,
    start: startSpec(b, siblings, context),
    zones: zoneSpecs(inner, path, walls, context),
    fittings: thingsOf(b, 'panels', 'shelf', 'rod', 'drawers', 'shelves').flatMap((f) => fittingSpec(f, b, context)),
    defaults: defaultsOf(b.props, context),
    ...(width && { width }),
  };
  return [zone];
}

/** Changes that an override makes to a zone. */
export function zoneProps(
  props: Props,
  context: TemplateContext,
): Partial<S.ZoneSpec> & { readonly defaults?: S.Defaults } {
  return defined({ width: widthSpec(last(props, 'width'), context), defaults: defaultsOf(props, context) });
}

function startSpec(b: Blueprint, siblings: readonly string[], context: TemplateContext): S.StartSpec {
  const head = b.heads.findLast((h) => ['after', 'before', 'from', 'centred'].some((word) => says(h, word)));
  if (!head) return { kind: 'end', side: 'left' };
  const place = headPlace(head.statement);
  if (says(head, 'centred')) return { kind: 'centred', place };
  const beside = pathIn(head, 'after') ?? pathIn(head, 'before');
  if (beside) {
    const zone = dotted(beside);
    if (!siblings.includes(zone) || zone === b.name) {
      context.report(
        unknownName(
          beside,
          head.statement,
          zone === b.name ? 'other zone' : 'zone',
          nearest(
            zone,
            siblings.filter((s) => s !== b.name),
          ),
        ),
      );
      return { kind: 'end', side: 'left' };
    }
    const by = head.slots.by ? lengthIn(head, 'by', context) : undefined;
    return {
      kind: 'next',
      zone,
      side: pathIn(head, 'after') ? 'right' : 'left',
      by: by ?? NONE,
      place: placeOf(head.statement, beside),
    };
  }
  const offset = dim(head, 'offset', context);
  return {
    kind: 'from',
    side: says(head, 'right') ? 'right' : 'left',
    offset: offset ?? { value: NONE, place, parameters: [] },
    place,
  };
}

export function widthSpec(reading: Reading | undefined, context: TemplateContext): S.WidthSpec | undefined {
  if (!reading) return undefined;
  const { value, parameters } = traced(context, () => {
    const atLeast = lengthIn(reading, 'atLeast', context);
    const atMost = lengthIn(reading, 'atMost', context);
    const bounds = (least: Ticks, most: Ticks | undefined): { least: Ticks; most: Ticks | undefined } => ({
      least: greatest(least, atLeast ?? NONE),
      most: most === undefined ? atMost : atMost === undefined ? most : ticks(Math.min(most, atMost)),
    });
    if (says(reading, 'fill')) return { kind: 'fill' as const, weight: 1, ...bounds(NONE, undefined) };
    if (says(reading, 'share')) {
      const weight = reading.slots.weight ? countIn(reading, 'weight', context, 1, 100) : 1;
      return { kind: 'share' as const, weight: weight ?? 1, ...bounds(NONE, undefined) };
    }
    if (says(reading, 'from')) {
      const least = lengthIn(reading, 'least', context);
      const most = lengthIn(reading, 'most', context);
      if (least === undefined || most === undefined) return undefined;
      return { kind: 'range' as const, weight: 1, ...bounds(least, most) };
    }
    const fixed = lengthIn(reading, 'value', context);
    return fixed === undefined ? undefined : { kind: 'fixed' as const, weight: 1, ...bounds(fixed, fixed) };
  });
  return value && { ...value, place: headPlace(reading.statement), parameters };
}

// Fittings

function fittingSpec(b: Blueprint, zone: Blueprint, context: TemplateContext): S.FittingSpec[] {
  const head = headReading(b);
  const base = { name: b.name, place: headPlace(head.statement) };
  switch (b.word) {
    case 'shelf':
      needHeight(b, '84in', context);
      return [
        {
          kind: 'shelf',
          ...base,
          heights: [],
          tilted: false,
          tilt: 0,
          fixed: false,
          ...shelfProps(b.props, fittingNames(zone), context),
        },
      ];
    case 'rod':
      needHeight(b, '80in', context);
      return [{ kind: 'rod', ...base, heights: [], garments: [], ...rodProps(b.props, fittingNames(zone), context) }];
    case 'drawers':
      needHeight(b, '8in', context);
      if (!prop(b, 'height')) {
        context.report(
          finding(rules.heightMissing, base.place, `Nothing says how high each drawer of "${b.name}" is.`, {
            advice: 'Write for example: height 8in',
          }),
        );
      }
      return [
        { kind: 'drawers', ...base, heights: [], count: 1, ...drawersProps(b.props, fittingNames(zone), context) },
      ];
    case 'panels':
      return [{ kind: 'panels', ...base, sides: ['left', 'right'], ...panelsProps(b.props, context) }];
    default: {
      const names = fittingNames(zone);
      const upper = fittingNamed(pathIn(head, 'upper'), names, head.statement, context);
      const lowerPath = pathIn(head, 'lower');
      const lower = lowerPath ? fittingNamed(lowerPath, names, head.statement, context) : undefined;
      if (upper === undefined || (lowerPath && lower === undefined)) return [];
      if (!prop(b, 'count') && !prop(b, 'pitch')) {
        context.report(
          finding(rules.heightMissing, base.place, `Nothing says how many shelves row "${b.name}" has.`, {
            advice: 'Write for example: count 4, or pitch 12in',
          }),
        );
      }
      return [{ kind: 'row', ...base, lower, upper, ...rowProps(b.props, context) }];
    }
  }
}

function needHeight(b: Blueprint, example: string, context: TemplateContext): void {
  if (['at', 'under', 'above'].some((w) => prop(b, w))) return;
  context.report(
    finding(
      rules.heightMissing,
      headPlace(headReading(b).statement),
      `Nothing says how high ${b.word} "${b.name}" is.`,
      {
        advice: `Write for example: at ${example}`,
      },
    ),
  );
}

function fittingNames(zone: Blueprint): string[] {
  return thingsOf(zone, 'shelf', 'rod', 'drawers').map((t) => t.name);
}

function fittingNamed(
  path: Path | undefined,
  names: readonly string[],
  statement: Statement,
  context: Context,
): string | undefined {
  if (!path) return undefined;
  const name = dotted(path);
  if (names.includes(name)) return name;
  context.report(unknownName(path, statement, 'shelf or rod in this zone', nearest(name, names)));
  return undefined;
}

function commonProps(
  props: Props,
  context: TemplateContext,
): Partial<Pick<S.ShelfSpec, 'board' | 'depth' | 'fromWall' | 'held' | 'carried' | 'loads'>> {
  const held = namedIn(last(props, 'held'), 'hardware', 'hardware', context, parameterOf(context));
  return defined({
    board: boardIn(last(props, 'board'), context),
    depth: dim(last(props, 'depth'), 'value', context),
    fromWall: dim(last(props, 'from'), 'offset', context),
    held: held && taken(hardwareOf(held, context.names), context),
    carried: carriedBy(props, context),
    loads: loadsOf(props, context),
  });
}

/** The hardware named by `carried by`; undefined where nothing says. */
function carriedBy(props: Props, context: TemplateContext): Hardware[] | undefined {
  return props.get('carried')?.flatMap((r) =>
    pathsIn(r, 'hardware').flatMap((path) => {
      const declared = declarationAt(path, ['hardware'], r.statement, context);
      return declared ? [taken(hardwareOf(declared, context.names), context)] : [];
    }),
  );
}

function loadsOf(props: Props, context: TemplateContext): Load[] | undefined {
  const found = (['load', 'line-load', 'point-load'] as const).flatMap((word): Load[] => {
    const r = last(props, word);
    if (!r) return [];
    const place = headPlace(r.statement);
    if (word === 'point-load') {
      const amount = quantityIn(r, 'value', 'force', context);
      return amount === undefined ? [] : [{ kind: 'point', amount, place }];
    }
    const spread = word === 'load' && r.entry.places.includes('shelf');
    const amount = quantityIn(r, 'value', spread ? 'area-load' : 'line-load', context);
    return amount === undefined ? [] : [{ kind: spread ? 'area' : 'line', amount, place }];
  });
  return found.length > 0 ? found : undefined;
}

function edgeOf(reading: Reading | undefined, context: TemplateContext): EdgeStrip | undefined {
  const height = lengthIn(reading, 'height', context);
  const board = boardIn(reading, context);
  return reading && height !== undefined && board ? { height, board, place: headPlace(reading.statement) } : undefined;
}

export function shelfProps(props: Props, names: readonly string[], context: TemplateContext): Partial<S.ShelfSpec> {
  return {
    ...commonProps(props, context),
    ...defined({
      heights: heightsOf(props, names, context),
      tilted: props.has('tilted') ? true : undefined,
      tilt: quantityIn(last(props, 'tilted'), 'angle', 'angle', context),
      fixed: props.has('fixed') ? true : undefined,
      edge: edgeOf(last(props, 'edge'), context),
    }),
  };
}

function garmentNamed(path: Path, reading: Reading, context: TemplateContext): Declared | undefined {
  const value = parameterOf(context)(path);
  if (value === 'unknown') return undefined;
  if (value?.kind === 'name' && value.of === 'garment') return value.home.find('garment', value.name, context.trace);
  const declared = context.names.find('garment', dotted(path), context.trace);
  if (!declared) context.report(nameNotKnown(path, ['garment'], reading.statement, context.names));
  return declared;
}

export function rodProps(props: Props, names: readonly string[], context: TemplateContext): Partial<S.RodSpec> {
  const named = props.get('for')?.flatMap((r) => pathsIn(r, 'garments')).length ?? 0;
  const garments = props.get('for')?.flatMap((r) =>
    pathsIn(r, 'garments').flatMap((path) => {
      const declared = garmentNamed(path, r, context);
      return declared ? [taken(garmentOf(declared, context.names), context)] : [];
    }),
  );
  return {
    ...commonProps(props, context),
    ...defined({
      heights: heightsOf(props, names, context),
      pole: poleIn(last(props, 'pole'), context),
      garments,
      holds: props.get('holds')?.flatMap((r) => {
        const path = pathIn(r, 'garment');
        const declared = path && garmentNamed(path, r, context);
        const count = countIn(r, 'count', context, 0, mostGarments);
        const garment = declared && taken(garmentOf(declared, context.names), context);
        return garment && count !== undefined ? [{ garment, count, place: headPlace(r.statement) }] : [];
      }),
      misnamed: garments ? garments.length < named : undefined,
    }),
  };
}

export function drawersProps(props: Props, names: readonly string[], context: TemplateContext): Partial<S.DrawersSpec> {
  return {
    ...defined({
      depth: dim(last(props, 'depth'), 'value', context),
      fromWall: dim(last(props, 'from'), 'offset', context),
      heights: heightsOf(props, names, context),
      count: countIn(last(props, 'count'), 'value', context, 1, mostDrawers),
      each: dim(last(props, 'height'), 'value', context),
      pullOut: dim(last(props, 'pull-out'), 'value', context),
      weight: quantityIn(last(props, 'weight'), 'value', 'mass', context),
      pull: pullOf(last(props, 'pull'), context),
    }),
  };
}

export function panelsProps(props: Props, context: TemplateContext): Partial<S.PanelsSpec> {
  const side = last(props, 'side');
  const sides: S.SideName[] | undefined =
    side && (says(side, 'left') ? ['left'] : says(side, 'right') ? ['right'] : ['left', 'right']);
  return {
    ...commonProps(props, context),
    ...defined({
      height: dim(last(props, 'height'), 'value', context),
      foot: dim(last(props, 'foot'), 'value', context),
      sides,
      freeStanding: props.has('free-standing') ? (true as const) : undefined,
    }),
  };
}

export function rowProps(props: Props, context: TemplateContext): Partial<S.RowSpec> {
  const pitch = last(props, 'pitch');
  const { value, parameters } = traced(context, () => {
    const fixed = lengthIn(pitch, 'value', context);
    const least = fixed ?? lengthIn(pitch, 'least', context);
    const most = fixed ?? lengthIn(pitch, 'most', context);
    return pitch && least !== undefined && most !== undefined
      ? { least, most, place: headPlace(pitch.statement) }
      : undefined;
  });
  return {
    ...commonProps(props, context),
    ...defined({
      count: countIn(last(props, 'count'), 'value', context, 1, mostShelves),
      pitch: value && { ...value, parameters },
      edge: edgeOf(last(props, 'edge'), context),
    }),
  };
}

function heightsOf(props: Props, names: readonly string[], context: TemplateContext): S.HeightSpec[] | undefined {
  const readings = ['at', 'under', 'above'].flatMap((word) => props.get(word) ?? []);
  if (readings.length === 0) return undefined;
  return readings.flatMap((r): S.HeightSpec[] => {
    const place: Place = headPlace(r.statement);
    if (r.word === 'at') {
      const { value, parameters } = traced(context, () => {
        const fixed = lengthIn(r, 'value', context);
        return [fixed ?? lengthIn(r, 'least', context), fixed ?? lengthIn(r, 'most', context)] as const;
      });
      const [least, most] = value;
      return least === undefined || most === undefined ? [] : [{ kind: 'at', least, most, place, parameters }];
    }
    const of = fittingNamed(pathIn(r, 'of'), names, r.statement, context);
    const by = dim(r, 'value', context);
    return of === undefined || by === undefined
      ? []
      : [
          {
            kind: r.word as 'under' | 'above',
            of,
            by: by.value,
            orMore: says(r, 'least'),
            place,
            parameters: by.parameters,
          },
        ];
  });
}
