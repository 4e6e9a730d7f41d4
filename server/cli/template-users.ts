/** `storypole users` and `bases`: who uses a template, and what a unit or a template is built on. */
import {
  allUsedFrom,
  allUsersOf,
  type TemplateOrUnit,
  templateOrUnitAt,
  type Use,
  usersOf,
} from '../language/template-use.ts';
import type { Answer } from './answer.ts';
import { type AtPlace, atPlace, spotIn } from './at-place.ts';
import { at } from './finding-text.ts';
import { documentOf, rangeJson } from './json.ts';
import { type Common, type Session, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { counted, listed, printable } from './words.ts';

export interface UsersOptions extends Common {
  readonly through?: boolean;
}

/** Throws Stop where no template stands. That nobody uses it is an answer, and said beside it. */
export function users(written: string, options: UsersOptions): Answer {
  const session = sessionFor(options);
  const place = atPlace(written, session.current);
  const asked = askedAt(written, place);
  if (asked.kind === 'unit')
    throw new Stop(`"${asked.name}" is a unit, and nothing is built on a unit. Ask at the name of its template.`);
  const { snapshot, projects } = place;
  const here = { project: snapshot.project, source: asked.source, path: asked.source.id };
  const start = asked.selection.start;
  const found = options.through
    ? allUsersOf(here, start, projects)
    : usersOf(here, start, projects).map((use) => ({ ...use, through: [] }));
  const shown = found
    .map(({ of, at: naming, through }) => ({
      of,
      // The one that uses names the one that is used in its own file.
      naming: spotIn(of.source, naming),
      through: through.map(({ name }) => name),
    }))
    .sort((a, b) =>
      a.of.source.id === b.of.source.id ? a.of.start - b.of.start : a.of.source.id < b.of.source.id ? -1 : 1,
    );
  if (options.format === 'json') {
    const list = shown.map(({ of, naming, through }) => ({
      ...toldJson(of, session),
      names: rangeJson(naming, session.pathOf),
      through,
    }));
    return { status: 0, result: documentOf('users', { template: toldJson(asked, session), users: list }) };
  }
  const lines = shown.map(({ of, through }) => {
    const by = through.length === 0 ? '' : session.paint('dim', ` (through ${printable(through.join(', '))})`);
    return `${toldText(of, session)}${by}\n`;
  });
  return {
    status: 0,
    result: lines,
    remark: usersRemark(
      asked,
      shown.map(({ of }) => of),
    ),
  };
}

/** `reach-in is used by 22 units and extended by 1 template, in 4 files.` */
function usersRemark({ name }: TemplateOrUnit, found: readonly TemplateOrUnit[]): string {
  if (found.length === 0) return `No unit uses "${name}", and no template extends it.`;
  const [units, templates] = (['unit', 'template'] as const).map(
    (kind) => found.filter((one) => one.kind === kind).length,
  );
  const parts = [
    ...(units ? [`used by ${counted(units, 'unit')}`] : []),
    ...(templates ? [`extended by ${counted(templates, 'template')}`] : []),
  ];
  const files = new Set(found.map(({ source }) => source.id)).size;
  return `"${name}" is ${listed(parts)}, in ${counted(files, 'file')}.`;
}

/** The nearest first. Throws Stop where neither a unit nor a template stands. */
export function bases(written: string, options: Common): Answer {
  const session = sessionFor(options);
  const place = atPlace(written, session.current);
  const asked = askedAt(written, place);
  const { snapshot } = place;
  const found = allUsedFrom(
    { project: snapshot.project, source: asked.source, path: asked.source.id },
    asked.selection.start,
  );
  if (options.format === 'json') {
    const list = found.map(({ of }) => toldJson(of, session));
    return { status: 0, result: documentOf('bases', { of: toldJson(asked, session), bases: list }) };
  }
  return {
    status: 0,
    result: found.map(({ of }: Use) => `${toldText(of, session)}\n`),
    remark: basesRemark(asked, found),
  };
}

function basesRemark({ kind, name }: TemplateOrUnit, found: readonly Use[]): string | undefined {
  if (found.length > 0) return undefined;
  return kind === 'unit' ? `The template of "${name}" is not known.` : `"${name}" is built on no other template.`;
}

function askedAt(written: string, { snapshot, offset }: AtPlace): TemplateOrUnit {
  const asked = templateOrUnitAt(snapshot, offset);
  if (!asked) throw new Stop(`No template or unit is named at ${written}. Ask at the name of one.`);
  return asked;
}

/** `floors/floor-1.closet:5:6 unit A-101-bedroom reach-in mirrored`. */
function toldText({ kind, name, detail, source, selection }: TemplateOrUnit, session: Session): string {
  const head = detail === '' ? name : `${name} ${detail}`;
  return `${session.paint('bold', at(spotIn(source, selection), session))} ${kind} ${printable(head)}`;
}

function toldJson({ kind, name, detail, source, selection }: TemplateOrUnit, { pathOf }: Session): object {
  return { kind, name, detail, range: rangeJson(spotIn(source, selection), pathOf) };
}
