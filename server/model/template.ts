/** From a template's statements and arguments to its spec: evaluates every quantity, places nothing. */

import { headPlace, placeOf, sliceOf } from '../../grammar/tree.ts';
import { asWritten } from './as-written.ts';
import { type Blueprint, headReading, headWith, prop, thingsOf } from './blueprint.ts';
import { countIn, lengthIn, unknownName } from './context.ts';
import { addedFix } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import type { Persons } from './layout.ts';
import { lesserFirst } from './lesser-first.ts';
import { limits } from './limits.ts';
import { nearestOnes } from './nearest.ts';
import { dotted, pathIn, type Reading, says } from './reading.ts';
import * as rules from './rules.ts';
import type * as S from './spec.ts';
import { fittingSpec } from './template-fittings.ts';
import { cornerSpec, fixtureSpec, openingSpec, standing, wallNamed, wallSpec } from './template-room.ts';
import {
  boardIn,
  carriedBy,
  defined,
  dim,
  last,
  matchedIn,
  type Props,
  poleIn,
  type TemplateContext,
  traced,
} from './template-values.ts';
import { greatest, NONE, type Ticks, ticks } from './ticks.ts';
import { wallName } from './wall-name.ts';

export function specOf(blueprint: Blueprint, context: TemplateContext): S.TemplateSpec {
  const walls = thingsOf(blueprint, 'wall').map((b) => wallSpec(b, context));
  return {
    place: headPlace(headReading(blueprint).statement),
    walls,
    corners: thingsOf(blueprint, 'corner').flatMap((b) => cornerSpec(b, walls, context)),
    openings: thingsOf(blueprint, 'opening').flatMap((b) => openingSpec(b, walls, context)),
    fixtures: thingsOf(blueprint, 'fixture').flatMap((b) => fixtureSpec(b, walls, context)),
    zones: zoneSpecs(thingsOf(blueprint, 'zone', 'gap'), undefined, walls, context),
    defaults: templateDefaults(blueprint.props, context),
    ...defined({ persons: personsOf(prop(blueprint, 'persons'), context) }),
  };
}

function personsOf(reading: Reading | undefined, context: TemplateContext): Persons | undefined {
  const count = countIn(reading, 'value', context, 1, limits.mostPersons.most);
  return reading && count !== undefined ? { count, place: headPlace(reading.statement) } : undefined;
}

const defaultsWritten = asWritten<S.Defaults>();
const zonesWritten = asWritten<S.ZoneSpec[]>();

const defaultWords: ReadonlySet<string> = new Set(['board', 'pole', 'depth', 'carried', 'matched']);
const nothingSaid: S.Defaults = Object.freeze({});

/** Made of the statements that are looked at for whether it still stands, and of no other. */
function templateDefaults(props: Props, context: TemplateContext): S.Defaults {
  const said: Props = new Map([...props].filter(([word]) => defaultWords.has(word)));
  const statements = [...said.values()].flat();
  return statements.length === 0
    ? nothingSaid
    : defaultsWritten(statements, [], context, (own) => defaultsOf(said, own));
}

// Zones

function defaultsOf(props: Props, context: TemplateContext): S.Defaults {
  return defined({
    board: boardIn(last(props, 'board'), context),
    pole: poleIn(last(props, 'pole'), context),
    depth: dim(last(props, 'depth'), 'value', context),
    carried: carriedBy(props, context),
    matched: matchedIn(last(props, 'matched')),
  });
}

/** The zone around others. */
interface Outer {
  readonly path: string;
  /** The wall that it stands on. */
  readonly wall: string;
}

function zoneSpecs(
  blueprints: readonly Blueprint[],
  outer: Outer | undefined,
  walls: readonly S.WallSpec[],
  context: TemplateContext,
): S.ZoneSpec[] {
  const names = blueprints.map((b) => b.name);
  const besides = [outer?.path, outer?.wall, names.join(), walls.map((wall) => wall.name).join()];
  return blueprints.flatMap((b) =>
    zonesWritten(b.heads, besides, context, (own) => zoneSpec(b, outer, names, walls, own)),
  );
}

function zoneSpec(
  b: Blueprint,
  outer: Outer | undefined,
  siblings: readonly string[],
  walls: readonly S.WallSpec[],
  context: TemplateContext,
): S.ZoneSpec[] {
  const head = headReading(b);
  const place = headPlace(head.statement);
  const on = headWith(b, 'wall');
  if (!outer && !on) {
    context.report(
      finding(rules.phraseNotUnderstood, place, `Zone "${b.name}" does not say which wall it is on.`, {
        advice: `Write for example: ${b.word} ${b.name} on ${walls[0]?.name ?? 'back'}`,
        fixes: standing(head, walls),
      }),
    );
    return [];
  }
  const wall = on && wallNamed(pathIn(on, 'wall'), walls, on.statement, context);
  if (outer && on && wall !== undefined && wall !== outer.wall) context.report(onAnotherWall(b.name, outer, on));
  const stands = outer?.wall ?? wall;
  if (stands === undefined) return [];
  const path = outer ? `${outer.path}.${b.name}` : b.name;
  const kind = b.word === 'gap' ? 'gap' : 'zone';
  const inner = thingsOf(b, 'zone', 'gap');
  const width = widthSpec(prop(b, 'width'), context);
  if (!width && prop(b, 'width') === undefined) {
    context.report(
      finding(rules.widthMissing, place, `${kind === 'gap' ? 'Gap' : 'Zone'} "${b.name}" has no width.`, {
        advice: 'Write for example: width 48in, or width fill for what is left.',
        examples: true,
        fixes: addedFix(place.statement, 'width fill'),
      }),
    );
  }
  const zone: S.ZoneSpec = {
    kind,
    name: b.name,
    path,
    wall: outer ? undefined : stands,
    place,
    start: startSpec(b, siblings, context),
    zones: zoneSpecs(inner, { path, wall: stands }, walls, context),
    fittings: thingsOf(b, 'panels', 'shelf', 'rod', 'drawers', 'shelves').flatMap((f) => fittingSpec(f, b, context)),
    defaults: defaultsOf(b.props, context),
    ...(width && { width }),
  };
  return [zone];
}

/** `on left` in a zone that is inside one on the back wall. */
function onAnotherWall(name: string, { path, wall }: Outer, { statement, slots: { wall: written } }: Reading): Finding {
  const [item] = written ?? [];
  const start = item ? statement.text.lastIndexOf('on', item.start - 1) : statement.head.start;
  const place = placeOf(statement, { start, end: item?.end ?? statement.head.end });
  return finding(
    rules.phraseNotUnderstood,
    item ? placeOf(statement, item) : place,
    `Zone "${name}" is inside zone "${path}", and so on ${wallName(wall)}.`,
    {
      advice: `Leave out where it stands, or write it outside of zone "${path}".`,
      fixes: item
        ? [
            {
              title: `Remove "${sliceOf(statement, place)}"`,
              edits: [{ place: { ...place, start: start - 1 }, text: '' }],
            },
          ]
        : [],
    },
  );
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
          nearestOnes(
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
  const side = says(head, 'right') ? 'right' : 'left';
  if (!head.slots.offset) return { kind: 'end', side };
  const offset = dim(head, 'offset', context);
  return {
    kind: 'from',
    side,
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
      const [lesser, greater] = lesserFirst([least, most], reading, 'the range of the width', context.report);
      return { kind: 'range' as const, weight: 1, ...bounds(lesser, greater) };
    }
    const fixed = lengthIn(reading, 'value', context);
    return fixed === undefined ? undefined : { kind: 'fixed' as const, weight: 1, ...bounds(fixed, fixed) };
  });
  return value && { ...value, place: headPlace(reading.statement), parameters };
}
