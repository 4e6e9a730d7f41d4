/** Every drawing of a unit, and the page that each stands on. */
import { segmentOf, spanOf } from '../../../grammar/tree.ts';
import { fixingsFor } from '../../checks/structure/needed.ts';
import { agreedBy, agreementOf } from '../../model/agreements.ts';
import type { Finding } from '../../model/finding.ts';
import { calledInProject } from '../../model/names.ts';
import type { Project, Unit } from '../../model/project.ts';
import { type Show, showInches, showMillimetres } from '../../model/show.ts';
import { TICKS_PER_INCH, TICKS_PER_MM, ticks } from '../../model/ticks.ts';
import { unreadIn } from '../../model/unread-units.ts';
import type { Drawable, LengthStyle } from './drawable.ts';
import { elevationOf } from './elevation.ts';
import type { Page, PaperName, TitleBlock } from './page.ts';
import { planNote, roomPlanOf } from './room-plan.ts';
import type { Scene } from './scene.ts';
import { sectionOf } from './section.ts';

export interface Drawing {
  readonly kind: 'plan' | 'wall' | 'section';
  /** The wall, or the path of the zone. */
  readonly of: string;
  readonly scene: Scene;
}

/** Which of a unit's drawings; without anything, all of them. */
export interface Wanted {
  readonly plan?: boolean;
  readonly walls?: readonly string[];
  readonly sections?: readonly string[];
}

/** A unit ready to be drawn; undefined where nothing says what it looks like. */
export function drawableOf(project: Project, unit: Unit, style: LengthStyle): Drawable | undefined {
  const layout = unit.resolved?.layout;
  if (!layout) return undefined;
  const show = shownAs(project.settings.show, style);
  return {
    layout,
    fixings: fixingsFor({ layout, policy: unit.policy, show }),
    show,
    style,
    findings: openFindings(project, unit),
  };
}

/**
 * As the project shows lengths, or in the other system: then to a tenth of a millimetre and to a thirty-second of an
 * inch, which is what a tape tells, with ~ before what is finer.
 */
export function shownAs(show: Show, style: LengthStyle): Show {
  const system = style === 'millimetres' ? 'millimetres' : 'inches';
  if (show.system === system) return show;
  return system === 'millimetres'
    ? { ...showMillimetres, step: ticks(TICKS_PER_MM / 10) }
    : { ...showInches, step: ticks(TICKS_PER_INCH / 32) };
}

const rank = { error: 0, warning: 1, note: 2 } as const;

/** What was found in a unit, or in what it rests on, and nobody has agreed to; the gravest first. */
export function openFindings(project: Project, unit: Unit): Finding[] {
  const agreements = project.names.written('accept').flatMap(agreementOf);
  const template = unit.info?.declared;
  const own = [...unit.findings, ...unit.checked];
  const known = new Set(own.map(keyOf));
  return [...unreadIn(project)(unit).filter((found) => !known.has(keyOf(found))), ...own]
    .filter((finding) => agreedBy(finding, unit.name, template, agreements) === undefined)
    .sort((a, b) => rank[a.severity] - rank[b.severity]);
}

function keyOf({ rule, place }: Finding): string {
  return `${rule.id} ${segmentOf(place.statement).source.id} ${spanOf(place).start}`;
}

/** The plan, each wall with fittings, a section through each zone with fittings; those of them that are wanted. */
export function drawingsOf(drawable: Drawable, { plan, walls, sections }: Wanted = {}): Drawing[] {
  const { layout } = drawable;
  const all = !plan && walls === undefined && sections === undefined;
  const drawings: Drawing[] = [];
  const add = (kind: Drawing['kind'], of: string, scene: Scene | undefined): void => {
    if (scene) drawings.push({ kind, of, scene });
  };
  if (all || plan) add('plan', 'plan', roomPlanOf(drawable));
  const carrying = layout.zones.flatMap(({ fittings, wall }) => (fittings.length > 0 ? [wall] : []));
  // Where nothing could be placed on any, all are shown.
  const fitted = new Set(carrying.length > 0 ? carrying : layout.walls.map(({ name }) => name));
  for (const { name } of layout.walls)
    if (walls ? walls.includes(name) : all && fitted.has(name)) add('wall', name, elevationOf(drawable, name));
  const outer = layout.zones.filter(({ path }) => !path.includes('.'));
  const filledZones = new Set(
    layout.zones.flatMap(({ path, fittings }) => (fittings.length > 0 ? [path.split('.')[0]] : [])),
  );
  const cuts = sections ?? (all ? outer.filter(({ path }) => filledZones.has(path)).map(({ path }) => path) : []);
  for (const path of cuts) add('section', path, sectionOf(drawable, path));
  return drawings;
}

/** Of the tool, or of the project, what a page says and no drawing knows. */
export interface Issue extends Pick<TitleBlock, 'project' | 'unit' | 'template' | 'revision' | 'date'> {
  readonly paper: PaperName;
  /** There are errors in the project, in this unit or elsewhere. */
  readonly hasErrors: boolean;
}

/** One page each. What was found and has no place in any of them is listed on the first. */
export function pagesOf(drawable: Drawable, drawings: readonly Drawing[], issue: Issue): Page[] {
  const { project, unit, template, revision, date, paper } = issue;
  const drawn = drawings.map(({ scene }) => numbersIn(scene));
  const anywhere = new Set(drawn.flatMap((numbers) => [...numbers]));
  return drawings.map(({ kind, scene }, i): Page => {
    const numbers = drawn[i] as Set<string>;
    const listed = drawable.findings.flatMap(({ severity, message }, k) => {
      const number = String(k + 1);
      const isHere = numbers.has(number) || (i === 0 && !anywhere.has(number));
      return isHere ? [{ number, severity, text: message }] : [];
    });
    const note = kind === 'plan' ? planNote(drawable) : undefined;
    return {
      paper,
      scenes: [scene],
      style: drawable.style,
      title: {
        project,
        unit,
        template,
        drawing: scene.title,
        revision,
        date,
        sheet: { number: i + 1, of: drawings.length },
      },
      findings: listed,
      banner: bannerFor(drawable, issue),
      notes: note === undefined ? [] : [note],
    };
  });
}

export function bannerFor(
  { findings }: Pick<Drawable, 'findings'>,
  { hasErrors }: Pick<Issue, 'hasErrors'>,
): string | undefined {
  if (findings.some(({ severity }) => severity === 'error')) return 'Errors in this unit: do not cut by this drawing';
  return hasErrors ? 'Errors in this project: look at them before you cut by this drawing' : undefined;
}

/** `reach-in, mirrored, measured`. */
export function builtFrom({ info, mirrored, survey }: Unit): string {
  return [
    info ? calledInProject(info.declared) : 'template not known',
    ...(mirrored ? ['mirrored'] : []),
    ...(survey ? ['measured'] : []),
  ].join(', ');
}

function numbersIn({ figures }: Scene): Set<string> {
  return new Set(
    figures.flatMap(({ shapes }) =>
      shapes.flatMap((shape) =>
        shape.kind === 'symbol' && shape.symbol === 'finding' ? (shape.text ?? '').split(',') : [],
      ),
    ),
  );
}
