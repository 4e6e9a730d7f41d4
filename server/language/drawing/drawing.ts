/**
 * The drawing of the unit at a place of the text, for a panel beside it: the elevation, the plan or a section, what is
 * told of each part, which of them the cursor is in, what was found and what is loose. Geometry is that of the layout.
 */
import { fixingsFor } from '../../checks/structure/needed.ts';
import { examplesIn } from '../../model/examples.ts';
import type { PolicyInForce } from '../../model/materials.ts';
import { recentBy } from '../../model/memo.ts';
import { counted } from '../../model/money.ts';
import { dotted, pathIn } from '../../model/reading.ts';
import type { Severity } from '../../model/rule.ts';
import type { Drawable } from '../../sheets/drawing/drawable.ts';
import { placeFilling, placeWithin } from '../../sheets/drawing/place.ts';
import type { Scene } from '../../sheets/drawing/scene.ts';
import { type Slack, slackOf } from '../../sheets/drawing/slack.ts';
import { svgOf } from '../../sheets/drawing/svg.ts';
import { TooMuch } from '../../sheets/too-much.ts';
import { messageOf } from '../diagnostics.ts';
import { located } from '../locate.ts';
import type { Snapshot, Span } from '../snapshot.ts';
import { type DrawnBefore, type DrawnUnit, drawnUnitAt } from './drawn-unit.ts';
import { type DrawnPart, keyOf, partsIn, spanOfPlace, type Thing, thingsOf } from './parts.ts';
import { sceneOf, type View, type ViewId, viewsOf } from './views.ts';

export interface DrawingAsked {
  /** That of the wall of the part under the cursor, or as before, where none is given. */
  readonly view?: ViewId | undefined;
  /** The one that was last drawn. */
  readonly lastView?: ViewId | undefined;
  readonly before?: DrawnBefore | undefined;
  /** Room for it in millimetres. */
  readonly width?: number | undefined;
  readonly height?: number | undefined;
  /** Lengths of a foot and more in feet and inches, where the project shows inches. */
  readonly isInFeet?: boolean | undefined;
  /** What is loose is not drawn. */
  readonly isSlackHidden?: boolean | undefined;
  /** For paper: a file of its own, that no one clicks on. */
  readonly isForPaper?: boolean | undefined;
}

export interface DrawnFinding {
  readonly number: number;
  readonly severity: Severity;
  readonly rule: string;
  readonly message: string;
  readonly span: Span | undefined;
  /** Path of what it is about. */
  readonly about: string | undefined;
}

/** The drawing itself: the same object as long as it is the same drawing. */
export interface Sheet {
  readonly svg: string;
  readonly title: string;
  /** So many millimetres are one on it; 0 where nothing is to scale. */
  readonly scale: number;
  /** In millimetres. */
  readonly width: number;
  readonly height: number;
  /** Numbers that stand in it for a text that had no room. */
  readonly key: readonly { readonly number: string; readonly text: string }[];
}

export interface Drawing {
  readonly unit: Pick<DrawnUnit, 'kind' | 'name' | 'where' | 'isHere'>;
  readonly views: readonly Pick<View, 'id' | 'kind' | 'title'>[];
  readonly view: ViewId | undefined;
  /** Undefined where nothing of it can be drawn; `problem` says why. */
  readonly sheet: Sheet | undefined;
  readonly problem: string | undefined;
  /** What is to be seen before anything else: errors, which make a drawing of what will not be built. */
  readonly banner: string | undefined;
  /** In the order in which they are read. */
  readonly parts: readonly DrawnPart[];
  /** Keys of the parts that the cursor is in: several for a row of shelves. */
  readonly current: readonly string[];
  readonly findings: readonly DrawnFinding[];
  readonly slack: readonly Slack[];
}

/** Undefined where there is no unit at the place, and none was drawn before that is still there. */
export function drawingAt(snapshot: Snapshot, offset: number, asked: DrawingAsked = {}): Drawing | undefined {
  const unit = drawnUnitAt(snapshot, offset, asked.before);
  if (!unit) return undefined;
  const { kind, name, where, isHere, layout } = unit;
  const findings = unit.findings.map((finding, i): DrawnFinding => {
    const { rule, severity, place, about } = finding;
    return { number: i + 1, severity, rule: rule.id, message: messageOf(finding), span: spanOfPlace(place), about };
  });
  const common = { unit: { kind, name, where, isHere }, banner: bannerOf(unit), findings };
  if (!layout)
    return { ...common, ...empty, problem: `${name} cannot be drawn: its template is not known, or has errors.` };
  const { show } = snapshot.project.settings;
  const slack = slackOf(layout);
  const things = [...thingsOf(layout, show, slack)];
  const here = unit.isHere ? thingsAt(snapshot, offset, things) : [];
  const views = viewsOf(layout);
  const view = chosen(views, here, asked);
  if (!view)
    return {
      ...common,
      ...empty,
      slack,
      problem: `${name} has no wall with a length that could be drawn. Give one: ${examplesIn('wall back { length 94in }', show.system)}`,
    };
  const { scene, sheet, tooMuch } = drawn({ layout, policy: unit.policy, show, findings: unit.findings }, view, asked);
  const parts = scene ? partsIn(scene, things, unit.findings) : [];
  return {
    ...common,
    views: views.map(({ id, kind, title }) => ({ id, kind, title })),
    view: view.id,
    sheet,
    problem: sheet ? undefined : (tooMuch ?? `${view.title} of ${name} cannot be drawn.`),
    parts,
    current: here.map(({ layer, path }) => keyOf(layer, path)).filter((key) => parts.some((part) => part.key === key)),
    slack,
  };
}

const empty = { views: [], view: undefined, sheet: undefined, parts: [], current: [], slack: [] } as const;

function bannerOf({ name, findings }: DrawnUnit): string | undefined {
  const errors = findings.filter(({ severity }) => severity === 'error').length;
  return errors === 0
    ? undefined
    : `${counted(errors, 'error')} in ${name}: what is drawn may not be what can be built.`;
}

interface Drawn {
  readonly scene: Scene | undefined;
  readonly sheet: Sheet | undefined;
  /** Why there is no sheet, where it is more than is drawn. */
  readonly tooMuch?: string;
}

/** The last few drawings: a cursor that moves in one unit draws nothing anew. */
const lately = recentBy<Drawn>(6);
const usual = { width: 270, height: 170 };

interface ToDraw extends Pick<Drawable, 'layout' | 'show' | 'findings'> {
  readonly policy: PolicyInForce;
}

function drawn({ layout, policy, show, findings }: ToDraw, view: View, asked: DrawingAsked): Drawn {
  const { width, height, isInFeet, isSlackHidden, isForPaper } = asked;
  const room = [within(width, usual.width), within(height, usual.height)] as const;
  const style = show.system === 'millimetres' ? 'millimetres' : isInFeet ? 'feet' : 'inches';
  const keys = [layout, policy, findings, show.system, show.step, style, view.id, ...room, isSlackHidden, isForPaper];
  return lately(keys, () =>
    orTooMuch(() => {
      const drawable: Drawable = { layout, fixings: fixingsFor({ layout, policy, show }), show, style, findings };
      const scene = sceneOf(drawable, view, isSlackHidden !== true);
      if (!scene) return { scene, sheet: undefined };
      const placed = isForPaper ? placeWithin(scene, ...room) : placeFilling(scene, ...room);
      const svg = isForPaper
        ? svgOf(placed, { background: 'light' })
        : svgOf(placed, { background: 'page', interactive: true, isBare: true });
      const { title, scale, key } = placed;
      return { scene, sheet: { svg, title, scale, width: placed.width, height: placed.height, key } };
    }),
  );
}

function orTooMuch(make: () => Drawn): Drawn {
  try {
    return make();
  } catch (error) {
    if (error instanceof TooMuch) return { scene: undefined, sheet: undefined, tooMuch: error.message };
    throw error;
  }
}

/** A size that was asked for, so that a panel that is moved a little is not drawn anew. */
function within(size: number | undefined, otherwise: number): number {
  if (size === undefined || !Number.isFinite(size)) return otherwise;
  return Math.min(600, Math.max(100, Math.round(size / 10) * 10));
}

/** What the statement under the cursor is about, or the nearest around it that is about anything. */
function thingsAt(snapshot: Snapshot, offset: number, things: readonly Thing[]): readonly Thing[] {
  const statement = snapshot.source.statementAt(offset);
  if (!statement) return [];
  const { trail, reading } = located(statement, offset);
  for (const said of trail.toReversed()) {
    const about = things.filter(({ places }) => places.some((place) => place.statement === said));
    // A statement that puts something up is about that, whatever else it says.
    const own = about.filter(({ places }) => places[0]?.statement === said);
    if (about.length > 0) return own.length > 0 ? own : about;
  }
  const path = reading?.word === 'override' ? pathIn(reading, 'thing') : undefined;
  return path ? things.filter((thing) => thing.path === dotted(path)) : [];
}

function chosen(views: readonly View[], [first]: readonly Thing[], { view, lastView }: DrawingAsked): View | undefined {
  const find = (wanted: ViewId | undefined): View | undefined => views.find(({ id }) => id === wanted);
  const chosenView = find(view);
  if (chosenView) return chosenView;
  const last = find(lastView);
  return find(first?.wall && `elevation ${first.wall}`) ?? (last?.kind === 'elevation' ? last : views[0]);
}
