/**
 * What is loose in a unit, and where it could go: limits as thin dashed lines, and arrows to them from where it stands.
 * Where nothing bounds it, there is only the arrow. Nothing is worked out here: the ranges are those of the layout.
 */
import { frameOf, type Room, roomOf } from '../../checks/room.ts';
import { toPlan } from '../../checks/swings/plane.ts';
import type { FittingLayout, Layout, Range, ZoneLayout } from '../../model/layout.ts';
import { showRange } from '../../model/show.ts';
import { TICKS_PER_INCH, type Ticks, ticks } from '../../model/ticks.ts';
import type { Drawable } from './drawable.ts';
import type { Figure, Label, Point, Scene, Shape } from './scene.ts';

/** A dimension that may be another within its range, all others as they have to follow. */
export interface Slack extends Range {
  /** Path of the fitting or zone. */
  readonly of: string;
  readonly what: 'height' | 'width' | 'left end';
}

interface Loose {
  readonly slack: Slack;
  /** Along the drawing's own axis: where it stands, and its limits. */
  readonly stands: number;
  readonly least: number;
  readonly most: number | undefined;
  /** Across it: how far a limit is drawn, and where along that the arrows stand. */
  readonly limit: readonly [number, number];
  readonly arrows: readonly number[];
}

/** From a place along an axis and one across it to the drawing. */
type To = (along: number, across: number) => Point;

export function isLoose({ value, least, most }: Range): boolean {
  return least !== value || most !== value;
}

/** Everything in a unit that is loose: zones along their walls, then what stands in them from the floor up. */
export function slackOf({ zones }: Layout): Slack[] {
  return zones.flatMap((zone) => [...ofZone(zone), ...zone.fittings.flatMap(ofFitting)]);
}

function ofZone({ path, from, width }: ZoneLayout): Slack[] {
  const of = (what: Slack['what'], range: Range): Slack[] => (isLoose(range) ? [{ of: path, what, ...range }] : []);
  return [...of('left end', from), ...of('width', width)];
}

/** A panel stands on the floor or as high as what it carries; what is loose of it is loose there. */
function ofFitting({ path, kind, at }: FittingLayout): Slack[] {
  return kind !== 'panel' && isLoose(at) ? [{ of: path, what: 'height', ...at }] : [];
}

/** A scene with what is loose in it drawn into it. */
export function withSlack(scene: Scene, drawable: Drawable, view: SlackView): Scene {
  const drawn = drawnIn(drawable, view);
  return {
    ...scene,
    figures: [...scene.figures, ...drawn.map(({ loose, to }) => figureOf(loose, to, drawable))],
    labels: [...scene.labels, ...drawn.map(({ loose, to }) => labelOf(loose, to, drawable))],
  };
}

/** What is looked at: a wall, the room from above, or a cut through a zone. */
export type SlackView =
  | { readonly kind: 'elevation'; readonly wall: string }
  | { readonly kind: 'plan' }
  | { readonly kind: 'section'; readonly zone: string };

interface Drawn {
  readonly loose: Loose;
  readonly to: To;
}

function drawnIn({ layout }: Drawable, view: SlackView): Drawn[] {
  switch (view.kind) {
    case 'elevation': {
      const zones = layout.zones.filter(({ wall }) => wall === view.wall);
      const top = layout.walls.find(({ name }) => name === view.wall)?.height ?? topOf(zones);
      const sideways: To = (along, across) => [along, across];
      const upwards: To = (along, across) => [across, along];
      return [
        ...alongWall(zones, [0, top], [0.06]).map((loose) => ({ loose, to: sideways })),
        ...zones.flatMap(({ fittings }) =>
          fittings.flatMap((f) => heightOf(f, f.box.x)).map((loose) => ({ loose, to: upwards })),
        ),
      ];
    }
    case 'plan': {
      const room = roomOf(layout);
      return layout.walls.flatMap(({ name }) => {
        const to = ontoPlan(name, room);
        const zones = layout.zones.filter(({ wall }) => wall === name);
        const deep = Math.max(8 * TICKS_PER_INCH, ...zones.flatMap((z) => z.fittings.map(({ box }) => box.y[1])));
        return to ? alongWall(zones, [0, deep * 1.4], [0.92]).map((loose) => ({ loose, to })) : [];
      });
    }
    case 'section': {
      const inside = layout.zones.filter(({ path }) => path === view.zone || path.startsWith(`${view.zone}.`));
      return inside.flatMap(({ fittings }) =>
        fittings
          .flatMap((f) => heightOf(f, f.box.y))
          .map((loose) => ({ loose, to: (along: number, across: number): Point => [across, along] })),
      );
    }
  }
}

function ontoPlan(wall: string, room: Room): To | undefined {
  const frame = frameOf(wall, room);
  if (!frame) return undefined;
  return (along, across) => {
    const [x, y] = toPlan(frame, [along, across]);
    return [x, -y];
  };
}

function topOf(zones: readonly ZoneLayout[]): number {
  return Math.max(0, ...zones.flatMap(({ fittings }) => fittings.map(({ box }) => box.z[1])));
}

/** The end of one zone is the beginning of the next: what is loose there is drawn once. */
function alongWall(zones: readonly ZoneLayout[], limit: Loose['limit'], parts: readonly number[]): Loose[] {
  const arrows = parts.map((part) => limit[0] + (limit[1] - limit[0]) * part);
  const found = new Map<string, Loose>();
  for (const slack of zones.flatMap(ofZone)) {
    const zone = zones.find(({ path }) => path === slack.of) as ZoneLayout;
    const begins = slack.what === 'width' ? zone.from.value : 0;
    const [stands, least] = [begins + slack.value, begins + slack.least];
    const most = slack.most === undefined ? undefined : begins + slack.most;
    const loose: Loose = { slack, stands, least, most, limit, arrows };
    const key = [stands, least, most].join(' ');
    // A width says more than the place where its end is.
    if (slack.what === 'width' || !found.has(key)) found.set(key, loose);
  }
  return [...found.values()];
}

function heightOf(fitting: FittingLayout, across: readonly [Ticks, Ticks]): Loose[] {
  return ofFitting(fitting).map((slack) => ({
    slack,
    stands: slack.value,
    least: slack.least,
    most: slack.most,
    limit: across,
    arrows: [0.2, 0.8].map((part) => across[0] + (across[1] - across[0]) * part),
  }));
}

/** How far an arrow goes where nothing bounds it. */
const unbounded = 6 * TICKS_PER_INCH;

function figureOf({ slack, stands, least, most, limit, arrows }: Loose, to: To, drawable: Drawable): Figure {
  const shapes: Shape[] = [];
  const ends: readonly (readonly [end: number, isLimit: boolean])[] = [
    [least, true],
    [most ?? stands + unbounded, most !== undefined],
  ];
  for (const [end, isLimit] of ends) {
    if (end === stands) continue;
    if (isLimit) shapes.push({ kind: 'line', points: limit.map((across) => to(end, across)), pen: 'hidden' });
    for (const across of arrows) {
      const [tail, point] = [to(stands, across), to(end, across)];
      const towards = (Math.atan2(point[1] - tail[1], point[0] - tail[0]) * 180) / Math.PI;
      shapes.push(
        { kind: 'line', points: [tail, point], pen: 'thin' },
        { kind: 'symbol', symbol: 'arrow', at: point, towards },
      );
    }
  }
  return { layer: 'slack', of: slack.of, label: slackText(slack, drawable), shapes };
}

/** Between its arrows where there is room, else beyond one of its limits. */
function labelOf({ slack, stands, least, most, limit, arrows }: Loose, to: To, { show }: Drawable): Label {
  const ends = [...(most === stands ? [] : [most ?? stands + unbounded]), ...(least === stands ? [] : [least])];
  const isHeight = slack.what === 'height';
  const middle = (limit[0] + limit[1]) / 2;
  const places = ends.flatMap((end): Label['places'] => {
    const between = to((end + stands) / 2, isHeight ? middle : (arrows[0] ?? middle));
    const beyond = to(end, isHeight ? middle : (arrows[0] ?? middle));
    const within = isHeight ? (limit[1] - limit[0]) * 0.6 : Math.abs(end - stands);
    return isHeight
      ? [
          { at: between, anchor: 'middle', stands: 'on', within },
          { at: beyond, anchor: 'middle', stands: 'above', within },
          { at: beyond, anchor: 'middle', stands: 'below', within },
        ]
      : [
          { at: between, anchor: 'middle', stands: 'above', within },
          { at: between, anchor: 'middle', stands: 'below', within },
          { at: beyond, anchor: 'start', stands: 'on' },
          { at: beyond, anchor: 'end', stands: 'above' },
          { at: beyond, anchor: 'middle', stands: 'below' },
          { at: beyond, anchor: 'middle', stands: 'above' },
        ];
  });
  return { text: showRange(slack.least, slack.most, show), size: 'small', layer: 'slack', of: slack.of, places };
}

/** `height of tower.top: anywhere from 70in to 74in`. */
export function slackText({ of, what, least, most }: Slack, { show }: Pick<Drawable, 'show'>): string {
  return `${what} of ${of}: anywhere from ${showRange(ticks(least), most, show)}`;
}
