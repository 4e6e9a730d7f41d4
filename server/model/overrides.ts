/** Overrides: single statements changed for one unit, stated as on site, so they are laid over the spec after mirroring. */
import { type Place, placeOf, type Statement } from '../../grammar/tree.ts';
import { unknownName } from './context.ts';
import { type Finding, finding } from './finding.ts';
import { memo } from './memo.ts';
import { nearestOnes } from './nearest.ts';
import { dotted, nameIn, pathIn, type Reading, read, saidAgainIn } from './reading.ts';
import * as rules from './rules.ts';
import type { FittingSpec, TemplateSpec, ZoneSpec } from './spec.ts';
import { zoneProps } from './template.ts';
import { drawersProps, panelsProps, rodProps, rowProps, shelfProps } from './template-fittings.ts';
import { fixtureProps, openingProps, wallProps } from './template-room.ts';
import type { TemplateContext } from './template-values.ts';
import type { BlockPlace } from './words/entry.ts';

export function applyOverrides(
  spec: TemplateSpec,
  overrides: readonly Reading[],
  context: TemplateContext,
): TemplateSpec {
  const said = new Map<string, Map<string, Statement>>();
  return overrides.reduce((current, override) => applyOne(current, override, said, context), spec);
}

/** `said` is what other overrides of the unit have said of each thing. */
function applyOne(
  spec: TemplateSpec,
  override: Reading,
  said: Map<string, Map<string, Statement>>,
  context: TemplateContext,
): TemplateSpec {
  const path = pathIn(override, 'thing');
  if (!path) return spec;
  const name = dotted(path);
  const ofThing = memo(said, name, () => new Map<string, Statement>());
  const props = (place: BlockPlace): ReadonlyMap<string, readonly Reading[]> =>
    readAs(override, place, ofThing, pathsOf(spec), context);
  const zone = findZone(spec.zones, name);
  if (zone) return { ...spec, zones: replaceZone(spec.zones, zone, layOverZone(zone, props(zone.kind), context)) };
  const fitting = findFitting(spec.zones, name);
  if (fitting) {
    const changed = layOverFitting(fitting.fitting, fitting.zone, props, context);
    const fittings = fitting.zone.fittings.map((f) => (f === fitting.fitting ? changed : f));
    return { ...spec, zones: replaceZone(spec.zones, fitting.zone, { ...fitting.zone, fittings }) };
  }
  const wall = spec.walls.find((w) => w.name === name);
  if (wall)
    return { ...spec, walls: spec.walls.map((w) => (w === wall ? { ...w, ...wallProps(props('wall'), context) } : w)) };
  const opening = spec.openings.find((o) => o.name === name);
  if (opening) {
    const own = props('opening');
    const { from, ...centred } = opening;
    const changed = { ...(own.has('centred') ? centred : opening), ...openingProps(own, context) };
    return { ...spec, openings: spec.openings.map((o) => (o === opening ? changed : o)) };
  }
  const fixture = spec.fixtures.find((f) => f.name === name);
  if (fixture) {
    return {
      ...spec,
      fixtures: spec.fixtures.map((f) =>
        f === fixture ? { ...f, ...fixtureProps(props('fixture'), context, f.name) } : f,
      ),
    };
  }
  const paths = pathsOf(spec);
  // `high` of `shirts.high`: its zone was left out.
  const within = paths.filter((one) => one.endsWith(`.${name}`));
  const near = within.length > 0 ? within : nearestOnes(name, paths);
  context.report(unknownName(path, override.statement, 'thing in this template', near));
  return spec;
}

/** The statements of an override, read as those of the thing it changes. */
function readAs(
  override: Reading,
  place: BlockPlace,
  said: Map<string, Statement>,
  paths: readonly string[],
  context: TemplateContext,
): ReadonlyMap<string, readonly Reading[]> {
  const { statement } = override;
  const props = new Map<string, Reading[]>();
  for (const child of statement.block?.children ?? []) {
    const { reading, findings } = read(child, place);
    for (const f of findings) if (!isProblem(child, f.place)) context.report(f);
    if (!reading) continue;
    if (reading.entry.block) {
      context.report(thingInside(override, reading, paths));
      continue;
    }
    const again = saidAgainIn(said, reading, place);
    if (again) context.report(again);
    else memo(props, reading.word, () => []).push(reading);
  }
  return props;
}

/** `override a { shelf s { … } }`: one that is there has an override of its own, by its whole path. */
function thingInside(override: Reading, inner: Reading, paths: readonly string[]): Finding {
  const { statement } = inner;
  const place = placeOf(statement, statement.word);
  const [outer, own] = [pathIn(override, 'thing'), nameIn(inner)];
  const path = outer && own && `${dotted(outer)}.${own.text}`;
  if (path === undefined || !paths.includes(path))
    return finding(
      rules.wordNotKnown,
      place,
      `An override changes statements; "${statement.word.text}" would add a thing.`,
      { advice: 'Put it in a template that extends this one.' },
    );
  const { block, text } = statement;
  const all = override.statement;
  const isOnly = all.block?.children.length === 1 && all.block.comments.length === 0;
  const written = `override ${path} ${block ? text.slice(block.open).trimEnd() : '{ }'}`;
  return finding(rules.wordNotKnown, place, `An override names what it changes by its whole path: "${path}".`, {
    advice: `Write override ${path} { … }`,
    fixes: isOnly
      ? [
          {
            title: `Write override ${path} { … }`,
            edits: [{ place: placeOf(all, { start: all.word.start, end: all.text.trimEnd().length }), text: written }],
          },
        ]
      : [],
  });
}

/** What the text itself has wrong is reported where the unit is read. */
function isProblem(statement: Statement, place: Place): boolean {
  return (
    place.statement === statement && statement.problems.some((p) => p.start === place.start && p.end === place.end)
  );
}

function layOverZone(
  zone: ZoneSpec,
  props: ReadonlyMap<string, readonly Reading[]>,
  context: TemplateContext,
): ZoneSpec {
  const changed = zoneProps(props, context);
  return { ...zone, ...changed, defaults: { ...zone.defaults, ...changed.defaults } };
}

function layOverFitting(
  fitting: FittingSpec,
  zone: ZoneSpec,
  props: (place: BlockPlace) => ReadonlyMap<string, readonly Reading[]>,
  context: TemplateContext,
): FittingSpec {
  const names = zone.fittings
    .filter((f) => f.kind === 'shelf' || f.kind === 'rod' || f.kind === 'drawers')
    .map((f) => f.name);
  switch (fitting.kind) {
    case 'shelf':
      return { ...fitting, ...shelfProps(props('shelf'), names, context) };
    case 'rod':
      return { ...fitting, ...rodProps(props('hanging-rod'), names, context) };
    case 'row':
      return { ...fitting, ...rowProps(props('shelves'), context) };
    case 'drawers':
      return { ...fitting, ...drawersProps(props('drawers'), names, context) };
    case 'panels':
      return { ...fitting, ...panelsProps(props('panels'), context) };
  }
}

function findZone(zones: readonly ZoneSpec[], path: string): ZoneSpec | undefined {
  for (const zone of zones) {
    const found = zone.path === path ? zone : findZone(zone.zones, path);
    if (found) return found;
  }
  return undefined;
}

function findFitting(zones: readonly ZoneSpec[], path: string): { zone: ZoneSpec; fitting: FittingSpec } | undefined {
  for (const zone of zones) {
    const fitting = zone.fittings.find((f) => `${zone.path}.${f.name}` === path);
    const found = fitting ? { zone, fitting } : findFitting(zone.zones, path);
    if (found) return found;
  }
  return undefined;
}

function replaceZone(zones: readonly ZoneSpec[], old: ZoneSpec, next: ZoneSpec): ZoneSpec[] {
  return zones.map((z) => (z === old ? next : { ...z, zones: replaceZone(z.zones, old, next) }));
}

/** Everything that has a path, for the nearest name and for completion. */
export function pathsOf(spec: TemplateSpec): string[] {
  const inZones = (zones: readonly ZoneSpec[]): string[] =>
    zones.flatMap((z) => [z.path, ...z.fittings.map((f) => `${z.path}.${f.name}`), ...inZones(z.zones)]);
  return [
    ...spec.walls.map((w) => w.name),
    ...spec.openings.map((o) => o.name),
    ...spec.fixtures.map((f) => f.name),
    ...inZones(spec.zones),
  ];
}
