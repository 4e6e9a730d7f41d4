/** Fittings of a template as specs: shelves, rods, drawers, panels and rows. */

import { headPlace, type Path, type Place, placeOf, type Statement } from '../../grammar/tree.ts';
import { type Blueprint, headReading, prop, thingsOf } from './blueprint.ts';
import { type Context, countIn, lengthIn, namedAt, namedIn, quantityIn, unknownName } from './context.ts';
import { garmentOf, hardwareOf, taken } from './declared.ts';
import { addedFix } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { lesserFirst } from './lesser-first.ts';
import { limits } from './limits.ts';
import type { EdgeStrip, Load } from './materials.ts';
import type { Declared } from './names.ts';
import { nearestOnes } from './nearest.ts';
import { dotted, pathIn, pathsIn, type Reading, says } from './reading.ts';
import * as rules from './rules.ts';
import type * as S from './spec.ts';
import { pullOf } from './template-room.ts';
import {
  boardIn,
  carriedBy,
  defined,
  dim,
  last,
  matchedIn,
  type Props,
  parameterOf,
  poleIn,
  type TemplateContext,
  traced,
} from './template-values.ts';

export function fittingSpec(b: Blueprint, zone: Blueprint, context: TemplateContext): S.FittingSpec[] {
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
            examples: true,
            fixes: addedFix(base.place.statement, 'height 8in', { byHand: true }),
          }),
        );
      }
      return [
        { kind: 'drawers', ...base, heights: [], count: 1, ...drawersProps(b.props, fittingNames(zone), context) },
      ];
    case 'panels':
      return [{ kind: 'panels', ...base, sides: ['left', 'right'], ...panelsProps(b.props, context) }];
    default:
      return rowSpec(b, base, fittingNames(zone), context);
  }
}

function rowSpec(
  b: Blueprint,
  base: Pick<S.RowSpec, 'name' | 'place'>,
  names: readonly string[],
  context: TemplateContext,
): S.RowSpec[] {
  const head = headReading(b);
  const written = [pathIn(head, 'lower'), pathIn(head, 'upper')] as const;
  const [first, last] = written;
  const isTurned = first && last && dotted(last) === 'floor' && !names.includes('floor');
  if (isTurned) context.report(floorFirst(b.name, first, last, head.statement));
  const [lowerPath, upperPath] = isTurned ? [undefined, first] : written;
  const upper = fittingNamed(upperPath, names, head.statement, context);
  const lower = fittingNamed(lowerPath, names, head.statement, context);
  if (upper === undefined || (lowerPath && lower === undefined)) return [];
  if (!prop(b, 'count') && !prop(b, 'pitch')) {
    context.report(
      finding(rules.heightMissing, base.place, `Nothing says how many shelves row "${b.name}" has.`, {
        advice: 'Write for example: count 4, or pitch 12in',
        examples: true,
        fixes: addedFix(base.place.statement, 'count 4', { byHand: true }),
      }),
    );
  }
  const ends = lowerPath &&
    upperPath && { lower: placeOf(head.statement, lowerPath), upper: placeOf(head.statement, upperPath) };
  return [{ kind: 'row', ...base, lower, upper, ...(ends && { ends }), ...rowProps(b.props, context) }];
}

function floorFirst(row: string, first: Path, last: Path, statement: Statement): Finding {
  const upper = dotted(first);
  return finding(
    rules.heightsConflict,
    placeOf(statement, { start: first.start, end: last.end }),
    `Row "${row}" goes from ${upper} up to the floor, and there is nothing below the floor.`,
    {
      advice: `Write the floor first: between floor and ${upper}.`,
      fixes: [
        {
          title: `Write between floor and ${upper}`,
          edits: [
            { place: placeOf(statement, first), text: 'floor' },
            { place: placeOf(statement, last), text: upper },
          ],
        },
      ],
    },
  );
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
        examples: true,
        fixes: addedFix(headReading(b).statement, `at ${example}`, { byHand: true }),
      },
    ),
  );
}

/** So many names are told to who looks for one. */
const mostNamed = 8;

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
  const named = names.filter((one) => one !== '');
  const otherwise =
    named.length > 0
      ? `It has ${named.slice(0, mostNamed).join(', ')}${named.length > mostNamed ? ' and others' : ''}.`
      : 'Nothing in it has a name yet: give one to what is meant.';
  context.report(
    unknownName(path, statement, 'shelf, rod or drawers in this zone', nearestOnes(name, names), otherwise),
  );
  return undefined;
}

function commonProps(
  props: Props,
  context: TemplateContext,
): Partial<Pick<S.ShelfSpec, 'board' | 'depth' | 'fromWall' | 'held' | 'carried' | 'loads' | 'matched'>> {
  const held = namedIn(last(props, 'held'), 'hardware', 'hardware', context, parameterOf(context));
  return defined({
    board: boardIn(last(props, 'board'), context),
    depth: dim(last(props, 'depth'), 'value', context),
    fromWall: dim(last(props, 'from'), 'offset', context),
    held: held && taken(hardwareOf(held, context.names), context),
    carried: carriedBy(props, context),
    loads: loadsOf(props, context),
    matched: matchedIn(last(props, 'matched')),
  });
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
  return namedAt(path, reading, 'garment', context, parameterOf(context));
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
        const count = countIn(r, 'count', context, 0, limits.mostGarments.most);
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
      count: countIn(last(props, 'count'), 'value', context, 1, limits.mostDrawers.most),
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
    if (!pitch || least === undefined || most === undefined) return undefined;
    const [lesser, greater] = lesserFirst([least, most], pitch, 'the range of the pitch', context.report);
    return { least: lesser, most: greater, place: headPlace(pitch.statement) };
  });
  const count = last(props, 'count');
  return {
    ...commonProps(props, context),
    ...defined({
      count: countIn(count, 'value', context, 1, limits.mostInRow.most),
      countPlace: count && headPlace(count.statement),
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
      if (value[0] === undefined || value[1] === undefined) return [];
      const [least, most] = lesserFirst([value[0], value[1]], r, 'the range of the height', context.report);
      return [{ kind: 'at', least, most, place, parameters }];
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
