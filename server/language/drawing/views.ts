/** From where a unit can be looked at, and what is seen from there. */
import type { Layout } from '../../model/layout.ts';
import type { Drawable } from '../../sheets/drawing/drawable.ts';
import { elevationOf, wallTitle } from '../../sheets/drawing/elevation.ts';
import { roomPlanOf } from '../../sheets/drawing/room-plan.ts';
import type { Scene } from '../../sheets/drawing/scene.ts';
import { sectionOf } from '../../sheets/drawing/section.ts';
import { type SlackView, withSlack } from '../../sheets/drawing/slack.ts';

/** `elevation back`, `plan`, `section shirts`. */
export type ViewId = string;

export interface View {
  readonly id: ViewId;
  readonly kind: SlackView['kind'];
  /** For a list of them: `Back wall`, `Plan of the room`, `Section through shirts`. */
  readonly title: string;
  readonly of: SlackView;
}

/** Walls that something stands on or in first, in the order in which they are written; then the plan; then a section of each zone. */
export function viewsOf({ walls, zones, openings, fixtures, plan }: Layout): View[] {
  const rank = (wall: string): number => {
    if (zones.some((zone) => zone.wall === wall)) return 0;
    return [...openings, ...fixtures].some((thing) => thing.wall === wall) ? 1 : 2;
  };
  return [
    ...walls
      .toSorted((a, b) => rank(a.name) - rank(b.name))
      .map(({ name }) => view({ kind: 'elevation', wall: name }, wallTitle(name))),
    ...(plan.length > 0 ? [view({ kind: 'plan' }, 'Plan of the room')] : []),
    ...zones
      .filter(({ kind, path }) => kind === 'zone' && !path.includes('.'))
      .map(({ path }) => view({ kind: 'section', zone: path }, `Section through ${path}`)),
  ];
}

function view(of: SlackView, title: string): View {
  const id = of.kind === 'elevation' ? `elevation ${of.wall}` : of.kind === 'section' ? `section ${of.zone}` : 'plan';
  return { id, kind: of.kind, title, of };
}

export function sceneOf(drawable: Drawable, { of }: View, isSlackShown: boolean): Scene | undefined {
  const scene =
    of.kind === 'elevation'
      ? elevationOf(drawable, of.wall)
      : of.kind === 'plan'
        ? roomPlanOf(drawable)
        : sectionOf(drawable, of.zone);
  return scene && isSlackShown ? withSlack(scene, drawable, of) : scene;
}
