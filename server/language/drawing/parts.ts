/** What is told of each part of a drawing: where it is written, how long it is and how that came about. */
import { type Place, sliceOf, spanOf } from '../../../grammar/tree.ts';
import type { Finding } from '../../model/finding.ts';
import type {
  FittingLayout,
  FixtureLayout,
  Layout,
  OpeningLayout,
  Part,
  WallLayout,
  ZoneLayout,
} from '../../model/layout.ts';
import { stepText } from '../../model/parts.ts';
import { type Show, showLength } from '../../model/show.ts';
import { ticks } from '../../model/ticks.ts';
import type { Layer, Scene } from '../../sheets/drawing/scene.ts';
import { isLoose, type Slack, slackText } from '../../sheets/drawing/slack.ts';
import { sourceOf } from '../diagnostics.ts';
import type { Span } from '../snapshot.ts';

/** A line of how an amount came about. */
export interface AmountLine {
  readonly amount: string;
  readonly what: string;
}

export interface DrawnPart {
  /** Its layer and its path: walls and zones can have one name. */
  readonly key: string;
  readonly layer: Layer;
  readonly path: string;
  /** What somebody hears who cannot see it. */
  readonly label: string;
  /** Undefined where it is written in no file. */
  readonly span: Span | undefined;
  /** What there is to know at a glance: the finished length, the height, the size. */
  readonly facts: readonly string[];
  /** How its length came about; the amounts add up to the last line. Empty for what is not cut. */
  readonly steps: readonly AmountLine[];
  /** Numbers of the findings about it. */
  readonly findings: readonly number[];
}

/** A thing of a layout: what is told of it, and the places that say something of it, its own first. */
export interface Thing {
  readonly layer: Layer;
  readonly path: string;
  /** Undefined for what is on the ceiling. */
  readonly wall: string | undefined;
  readonly places: readonly Place[];
  readonly facts: readonly string[];
  /** How its length came about; absent for what is not cut. */
  readonly steps?: readonly AmountLine[];
}

export function keyOf(layer: Layer, path: string): string {
  return `${layer} ${path}`;
}

/** The parts that stand in a scene, in the order in which they are read: wall by wall, zone by zone from the left, each from the top down. */
export function partsIn(scene: Scene, things: readonly Thing[], findings: readonly Finding[]): DrawnPart[] {
  const labels = new Map<string, string>();
  for (const { layer, of, label } of scene.figures)
    if (of !== undefined && label !== undefined) labels.set(keyOf(layer, of), label);
  const numbers = new Map<string, number[]>();
  findings.forEach(({ about }, i) => {
    if (about !== undefined) numbers.set(about, [...(numbers.get(about) ?? []), i + 1]);
  });
  const parts: DrawnPart[] = [];
  for (const { layer, path, places, facts, steps = [] } of things) {
    const key = keyOf(layer, path);
    const label = labels.get(key);
    const [place] = places;
    if (label === undefined || !place) continue;
    parts.push({
      key,
      layer,
      path,
      label,
      span: spanOfPlace(place),
      facts,
      steps,
      findings: numbers.get(path) ?? [],
    });
  }
  return parts;
}

/** Where something is written now; what ships with the tool is in no file. */
export function spanOfPlace(place: Place): Span | undefined {
  const file = sourceOf(place).id;
  return file.includes('/') ? { file, ...spanOf(place) } : undefined;
}

/** Every thing that a statement may be about, with the places that say something of it. */
export function* thingsOf(layout: Layout, show: Show, slack: readonly Slack[]): Generator<Thing> {
  const cut = new Map<string, Part>();
  for (const part of layout.parts) if (!cut.has(part.path)) cut.set(part.path, part);
  const loose = Map.groupBy(slack, ({ of }) => of);
  const looseOf = (path: string): string[] => (loose.get(path) ?? []).map((one) => looseText(one, show));
  for (const wall of layout.walls) {
    yield wallThing(wall, show);
    for (const opening of layout.openings) if (opening.wall === wall.name) yield openingThing(opening, show);
    const zones = layout.zones.filter((zone) => zone.wall === wall.name);
    for (const zone of zones.toSorted((a, b) => a.from.value - b.from.value || a.path.length - b.path.length)) {
      yield zoneThing(zone, show, looseOf(zone.path));
      for (const fitting of zone.fittings.toSorted((a, b) => b.box.z[1] - a.box.z[1]))
        yield fittingThing(fitting, show, looseOf(fitting.path), cut.get(fitting.path));
    }
    for (const fixture of layout.fixtures) if (fixture.wall === wall.name) yield fixtureThing(fixture, show);
  }
  for (const fixture of layout.fixtures) if (fixture.wall === undefined) yield fixtureThing(fixture, show);
}

function wallThing(wall: WallLayout, show: Show): Thing {
  const { name, place, nominal, length, lengthPlace, readings, height, heightPlace } = wall;
  const measured = readings.length > 0 && length !== nominal ? `, drawn ${showLength(nominal, show)}` : '';
  const how = readings.length > 0 ? ' as measured' : '';
  return {
    layer: 'walls',
    path: name,
    wall: name,
    places: [place, lengthPlace, ...(heightPlace ? [heightPlace] : []), ...readings.map((reading) => reading.place)],
    facts: [
      `${showLength(length, show)} long${how}${measured}`,
      ...(height === undefined ? [] : [`${showLength(height, show)} high`]),
    ],
  };
}

function openingThing({ name, wall, place, width, height, from, leaf }: OpeningLayout, show: Show): Thing {
  return {
    layer: 'openings',
    path: name,
    wall,
    places: [place, leaf.place],
    facts: [
      `${showLength(width, show)} wide, ${showLength(height, show)} high`,
      `${showLength(from, show)} from the left end of its wall`,
    ],
  };
}

const settledTexts = {
  fixed: 'as it is written',
  range: 'within the range that is written',
  fill: 'what the others leave',
  share: 'a share of what the others leave',
} as const;

function zoneThing(zone: ZoneLayout, show: Show, loose: readonly string[]): Thing {
  const { path, wall, place, widthPlace, from, width, settled } = zone;
  return {
    layer: 'zones',
    path,
    wall,
    places: [place, widthPlace],
    facts: [
      `${showLength(width.value, show)} wide, ${settledTexts[settled]}`,
      `${showLength(from.value, show)} from the left end of its wall`,
      ...loose,
    ],
  };
}

function fixtureThing({ name, wall, place, box, clear }: FixtureLayout, show: Show): Thing {
  const wide = showLength(ticks(box.x[1] - box.x[0]), show);
  const high = showLength(ticks(box.z[1] - box.z[0]), show);
  return {
    layer: 'fixtures',
    path: name,
    wall,
    places: [place],
    facts: [
      `${wide} wide, ${high} high`,
      ...(clear > 0 ? [`${showLength(clear, show)} to be kept free around it`] : []),
    ],
  };
}

const data = { shelf: 'to its underside', rod: 'to its centre', drawers: 'to its underside', panel: '' } as const;

function fittingThing(fitting: FittingLayout, show: Show, loose: readonly string[], part: Part | undefined): Thing {
  const { kind, path, wall, place, at, atPlace, box } = fitting;
  const layers = { shelf: 'shelves', rod: 'rods', panel: 'panels', drawers: 'drawers' } as const;
  return {
    layer: layers[kind],
    path,
    wall,
    places: [place, atPlace],
    facts: [
      ...(part
        ? [`cut ${showLength(part.length, show)} of ${part.material}`]
        : [`${showLength(ticks(box.x[1] - box.x[0]), show)} long`]),
      ...(kind === 'panel' ? [] : [`at ${showLength(at.value, show)} ${data[kind]}${writtenAs(fitting)}`]),
      ...loose,
    ],
    ...(part && { steps: stepsOf(part, show) }),
  };
}

/** The statement that set a height, in its own words. */
function writtenAs({ atPlace: { statement }, place }: FittingLayout): string {
  const words = sliceOf(statement, statement.head).replace(/\s+/g, ' ').trim();
  return statement === place.statement || words === '' ? '' : `, by "${words}"`;
}

function looseText(slack: Slack, show: Show): string {
  const taken = slack.value === slack.least ? ', the least is taken' : '';
  return isLoose(slack) ? `${slackText(slack, { show })}${taken}` : '';
}

function stepsOf({ steps, length }: Part, show: Show): AmountLine[] {
  return [...steps.map((step) => stepText(step, show)), { amount: showLength(length, show), what: 'finished length' }];
}
