/**
 * The part of a project that a change touches, as texts to be computed by themselves: the declarations
 * that are edited, the units and templates that rest on them, and all that those name in turn.
 */
import {
  expressionsWithin,
  offsetOf,
  type Path,
  type Place,
  type Statement,
  segmentOf,
  spanOf,
  statementsWithin,
  topOf,
} from '../../grammar/tree.ts';
import type { Fix } from '../model/finding.ts';
import { lineage } from '../model/lineage.ts';
import { type Declared, type DeclaredKind, keyOf } from '../model/names.ts';
import type { Project, Unit } from '../model/project.ts';
import { dotted, pathIn, readingAt } from '../model/reading.ts';

/** Units and templates are looked at up to these numbers; units that share their geometry and policies count once. */
export const mostUnits = 12;
export const mostTemplates = 8;
/** Longer texts are not computed while somebody waits. UTF-16 code units. */
export const mostText = 100_000;

export interface Scratch {
  /** Text of each file: the declarations that count, in their order. */
  readonly texts: ReadonlyMap<string, string>;
  /** Where a place of the project stands in the texts; undefined where its declaration is not among them. */
  readonly startOf: (place: Place) => { readonly file: string; readonly start: number } | undefined;
  /** Units, and templates without any, that are looked at, and how many rest on what is edited. */
  readonly looked: number;
  readonly of: number;
}

/** What a statement at the top of a file may name, so that it has to be there. */
const named: readonly DeclaredKind[] = ['board', 'rod', 'hardware', 'garment', 'policy', 'template', 'stock'];

/**
 * `places` are those of the finding and of the edits, `reach` the units that the finding names, `texts` what
 * is to be written. Undefined where a declaration is in no file of the project, or there is too much text.
 */
export function scratchOf(
  project: Project,
  places: readonly Place[],
  reach: readonly string[],
  fixes: readonly Fix[],
): Scratch | undefined {
  const edited = new Set(places.map(({ statement }) => topOf(statement)));
  for (const top of edited) if (!project.sources.has(segmentOf(top).source.id)) return undefined;
  const { units, templates, of } = restingOn(project, edited, reach);
  const chosen = new Set<Statement>();
  const open: Statement[] = [...edited, ...templates, ...units.map(({ declared }) => declared.statement)];
  for (const kind of ['project', 'use'] as const)
    for (const { statement } of project.names.all(kind)) open.push(statement);
  const lookUp = (name: string, kinds = named): void => {
    for (const kind of kinds)
      for (const { statement } of project.names.declarations(kind, name))
        if (!chosen.has(statement)) open.push(statement);
  };
  for (const { name } of units) lookUp(name, ['survey']);
  for (const { edits } of fixes)
    for (const { text } of edits) for (const word of text.match(/[\w.-]+/g) ?? []) lookUp(word, [...named, 'unit']);
  let size = 0;
  for (let top = open.pop(); top; top = open.pop()) {
    if (chosen.has(top)) continue;
    chosen.add(top);
    size += top.text.length;
    if (size > mostText) return undefined;
    for (const path of pathsIn(top)) {
      lookUp(dotted(path));
      if (path.words.length > 1) lookUp(path.words[0]?.text ?? '');
    }
  }
  agreements(project, chosen);
  return { ...written(chosen), looked: units.length + templates.length, of };
}

interface Resting {
  readonly units: readonly Unit[];
  readonly templates: readonly Statement[];
  readonly of: number;
}

/** The units whose result an edit can change, those that the finding is about first; templates that no unit would show. */
function restingOn(project: Project, edited: ReadonlySet<Statement>, reach: readonly string[]): Resting {
  const declared = [...edited].flatMap((top) => declaredOf(project, top));
  const near = new Set(reach);
  for (const { kind, name, reading } of declared) {
    if (kind === 'unit' || kind === 'survey') near.add(name);
    const head = kind === 'accept' ? pathIn(reading, 'place')?.words[0]?.text : undefined;
    if (head !== undefined) near.add(head);
  }
  const seen = new Map<object, Set<object>>();
  const isNew = ({ resolved, policy }: Unit): boolean => {
    if (!resolved) return true;
    const policies = seen.get(resolved) ?? new Set();
    seen.set(resolved, policies);
    return policies.size < policies.add(policy).size;
  };
  const first = [...near].flatMap((name) => {
    const [counts] = project.names.declarations('unit', name);
    return (counts && project.unitAt(counts.statement)) ?? [];
  });
  // What a unit or survey says is about that unit alone, and it is not asked of ten thousand others.
  const wide = declared.filter(({ kind }) => !['unit', 'survey', 'accept', 'extra'].includes(kind));
  const others =
    wide.length === 0 ? [] : [...project.units()].filter((u) => !near.has(u.name) && wide.some((d) => restsOn(u, d)));
  const alike = [...first, ...others].filter(isNew);
  const templates = declared.some(({ kind }) => kind === 'template') ? heirs(project, edited) : [];
  return {
    units: alike.slice(0, mostUnits),
    templates: templates.slice(0, mostTemplates),
    of: alike.length + templates.length,
  };
}

function restsOn({ info, resolved, policy }: Unit, { kind, name, statement }: Declared): boolean {
  switch (kind) {
    case 'template':
      return info?.blueprint.heads.some((head) => head.statement === statement) ?? false;
    case 'policy':
      return policy.names.length > 0;
    case 'project':
    case 'use':
      return true;
    default:
      return resolved?.trace.has(keyOf(kind, name)) ?? false;
  }
}

/** Templates that extend one that is edited, by any number of steps; itself is there already. */
function heirs(project: Project, edited: ReadonlySet<Statement>): Statement[] {
  return [...project.names.all('template')].flatMap((template) => {
    const [, ...bases] = lineage(template);
    return bases.some(({ statement }) => edited.has(statement)) ? [template.statement] : [];
  });
}

/** What was agreed to about the units and templates that are looked at. */
function agreements(project: Project, chosen: Set<Statement>): void {
  const heads = new Set<string>();
  for (const top of chosen)
    if (top.word.text === 'unit' || top.word.text === 'template') heads.add(firstPath(top)?.words[0]?.text ?? '');
  for (const { statement, reading } of project.names.all('accept'))
    if (heads.has(pathIn(reading, 'place')?.words[0]?.text ?? '')) chosen.add(statement);
}

function written(chosen: ReadonlySet<Statement>): Pick<Scratch, 'texts' | 'startOf'> {
  const starts = new Map<Statement, number>();
  const texts = new Map<string, string>();
  for (const top of [...chosen].sort((a, b) => offsetOf(a) - offsetOf(b))) {
    const file = segmentOf(top).source.id;
    const before = texts.get(file) ?? '';
    starts.set(top, before.length);
    texts.set(file, `${before}${top.text}\n`);
  }
  return {
    texts,
    startOf: (place) => {
      const top = topOf(place.statement);
      const start = starts.get(top);
      if (start === undefined) return undefined;
      return { file: segmentOf(top).source.id, start: start + spanOf(place).start - offsetOf(top) };
    },
  };
}

function declaredOf(project: Project, top: Statement): Declared[] {
  const kind = readingAt(top, 'file')?.word as DeclaredKind | undefined;
  if (!kind) return [];
  return [...project.names.all(kind)].filter(({ statement }) => statement === top);
}

function firstPath({ items }: Statement): Path | undefined {
  const [first] = items;
  return first?.kind === 'path' ? first : undefined;
}

function* pathsIn(top: Statement): Generator<Path> {
  for (const { items } of statementsWithin(top))
    for (const item of items) for (const part of expressionsWithin(item)) if (part.kind === 'path') yield part;
}
