/** The room of a template: walls, corners, openings and fixtures as specs. */

import { headPlace, type Path, placeOf, type Statement, sliceOf } from '../../grammar/tree.ts';
import { type Blueprint, fixtureKind, headReading, headWith, prop } from './blueprint.ts';
import { capital } from './capital.ts';
import { type Context, lengthIn, quantityIn, unknownName } from './context.ts';
import { addedFix, written } from './edits.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import type { Approached, Burns, Heats, Lamp, Leaf, Pull } from './layout.ts';
import { nearestOnes } from './nearest.ts';
import { dotted, nameIn, pathIn, type Reading, says } from './reading.ts';
import * as rules from './rules.ts';
import { saidAgain } from './said-again.ts';
import type * as S from './spec.ts';
import { defined, dim, last, type Props, type TemplateContext } from './template-values.ts';
import { wallName } from './wall-name.ts';

export function wallSpec(blueprint: Blueprint, context: TemplateContext): S.WallSpec {
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
  const side = says(reading, 'right') ? 'right' : 'left';
  if (says(reading, 'every')) {
    const every = lengthIn(reading, 'every', context);
    const first = lengthIn(reading, 'first', context);
    if (every === undefined || first === undefined) return [];
    if (every === 0) {
      context.report(
        finding(rules.outOfBounds, headPlace(reading.statement), 'Studs cannot stand every 0in.', {
          advice: 'Common spacings are 16in and 24in on centre.',
          examples: true,
        }),
      );
      return [];
    }
    return [{ kind: 'every', every, first, side }];
  }
  const list = (reading.slots.list ?? []).flatMap((item) => {
    const one = lengthIn({ ...reading, slots: { list: [item] } }, 'list', context);
    return one === undefined ? [] : [one];
  });
  return list.length > 0 ? [{ kind: 'list', at: list, side }] : [];
}

export function wallNamed(
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
      nearestOnes(
        name,
        walls.map((w) => w.name),
      ),
    ),
  );
  return undefined;
}

export function cornerSpec(
  blueprint: Blueprint,
  walls: readonly S.WallSpec[],
  context: TemplateContext,
): S.CornerSpec[] {
  const head = headReading(blueprint);
  const a = wallNamed(pathIn(head, 'a'), walls, head.statement, context);
  const b = wallNamed(pathIn(head, 'b'), walls, head.statement, context);
  if (a === undefined || b === undefined) return [];
  const owner = prop(blueprint, 'owner');
  const named = owner && wallNamed(pathIn(owner, 'wall'), walls, owner.statement, context);
  const owned = named === a || named === b ? named : undefined;
  if (owner && named !== undefined && owned === undefined) context.report(noOwner(owner, named, [a, b]));
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

function noOwner({ statement, slots }: Reading, named: string, walls: readonly [string, string]): Finding {
  const [item] = slots.wall ?? [];
  const place = item ? placeOf(statement, item) : headPlace(statement);
  const name = wallName(named);
  return finding(rules.nameNotKnown, place, `${capital(name)} is none of the two that meet in this corner.`, {
    advice: `Write ${walls.map((wall) => `"${wall}"`).join(' or ')}.`,
    fixes: walls.map((wall) => ({ ...written(place, wall), title: `Write "${wall}"`, byHand: true })),
  });
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

export function openingSpec(
  blueprint: Blueprint,
  walls: readonly S.WallSpec[],
  context: TemplateContext,
): S.OpeningSpec[] {
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
        nearestOnes(
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
        examples: true,
        fixes: addedFix(head.statement, 'width 60in', { byHand: true }),
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

export function pullOf(reading: Reading | undefined, context: Context): Pull | undefined {
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

export function offsetOf(reading: Reading | undefined, context: TemplateContext): S.Offset | undefined {
  const offset = dim(reading, 'offset', context);
  return offset && reading ? { side: says(reading, 'right') ? 'right' : 'left', offset } : undefined;
}

export function fixtureSpec(
  blueprint: Blueprint,
  walls: readonly S.WallSpec[],
  context: TemplateContext,
): S.FixtureSpec[] {
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
        fixes: standing(head, walls, ['ceiling']),
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
      ...fixtureProps(blueprint.props, context, blueprint.name),
    },
  ];
}

/** `name`: what it is called where something is told of it. */
export function fixtureProps(props: Props, context: TemplateContext, name: string): Partial<S.FixtureSpec> {
  const from = props.get('from') ?? [];
  const only = (sides: readonly string[], far: string): Reading | undefined => {
    const [first, ...others] = from.filter((reading) => sides.some((side) => says(reading, side)));
    for (const other of first ? others : []) context.report(farAgain(other, first as Reading, `${far} the ${name}`));
    return first;
  };
  const along = only(['left', 'right'], 'how far along its wall');
  const out = only(['back', 'front'], 'how far from the back or front');
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

/** A distance from the other end says the same place again, and as a rule another one. */
function farAgain({ statement }: Reading, { statement: first }: Reading, what: string): Finding {
  const message = `"${statement.word.text}" says again ${what} is, and only one of them can hold.`;
  return saidAgain(statement, first, headPlace(statement), message);
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

/** Of so many walls none is the obvious one. */
const mostWalls = 4;

/** Which wall it stands on, where that is not said: written behind its name. */
export function standing(head: Reading, walls: readonly S.WallSpec[], others: readonly string[] = []): Fix[] {
  if (walls.length > mostWalls) return [];
  const { statement } = head;
  const name = nameIn(head) ?? statement.items.findLast((item) => item.kind === 'path') ?? statement.word;
  const place = { statement, start: name.end, end: name.end };
  // `fixture sprinkler on {`: what is read as its name is the word itself.
  const lead = sliceOf(statement, name) === 'on' ? '' : 'on ';
  return [...walls.map((wall) => wall.name), ...others].map((wall) => ({
    title: `Write on ${wall}`,
    edits: [{ place, text: ` ${lead}${wall}` }],
  }));
}
