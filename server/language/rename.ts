/**
 * A new name for a thing, wherever it is named. It is refused, in one sentence, where the new name would mean
 * something else anywhere, or where what is named lies outside the project.
 */
import { Source } from '../../grammar/source.ts';
import { type Range, type Statement, topOf } from '../../grammar/tree.ts';
import { atOnce, type Steps } from '../checks/steps.ts';
import { groupOf } from '../model/blueprint.ts';
import { nameOf } from '../model/files.ts';
import type { DeclaredKind, Names } from '../model/names.ts';
import type { Project } from '../model/project.ts';
import { nameIn, type Reading, readingAt } from '../model/reading.ts';
import { starterSource } from '../model/starter.ts';
import { wordIn } from '../model/vocabulary.ts';
import { sourceOf } from './diagnostics.ts';
import { itemAt, type Located, locate, slotOf, touches } from './locate.ts';
import { identityOf, isAfterItsWall, type Meaning, meantAt } from './meaning.ts';
import { type Occurrence, occurrencesIn } from './occurrences.ts';
import { clashOf } from './rename-check.ts';
import type { Snapshot, TextEdit } from './snapshot.ts';
import { capital, placeText, spoken, thereIs } from './spoken.ts';
import { contentsOf, lineageFrom, thingAt } from './things.ts';

export interface Refused {
  readonly kind: 'refused';
  /** One sentence. */
  readonly why: string;
}

export interface Renameable extends Range {
  readonly kind: 'renameable';
  readonly name: string;
}

export interface Renamed {
  readonly kind: 'renamed';
  /** In the order of the files and of the text. */
  readonly edits: readonly TextEdit[];
}

const refused = (why: string): Refused => ({ kind: 'refused', why });

/** The name under the cursor, if it can be changed. */
export function renameableAt(snapshot: Snapshot, offset: number): Renameable | Refused {
  const found = nameAt(snapshot, offset);
  return found.kind === 'refused'
    ? found
    : { kind: 'renameable', name: found.name, start: found.start, end: found.end };
}

/** The edits that give the thing under the cursor a new name, in its project and in others that use it as a library. */
export function renameAt(
  snapshot: Snapshot,
  offset: number,
  name: string,
  projects: readonly Project[] = [],
): Renamed | Refused {
  return atOnce(renaming(snapshot, offset, name, projects));
}

/** The same, a place at a time: one name may stand in all units of a building. */
export function* renaming(
  snapshot: Snapshot,
  offset: number,
  typed: string,
  projects: readonly Project[] = [],
): Steps<Renamed | Refused> {
  const name = typed.trim();
  const found = nameAt(snapshot, offset);
  if (found.kind === 'refused') return found;
  if (name === found.name) return { kind: 'renamed', edits: [] };
  const reason = noName(name, found.meanings);
  if (reason !== undefined) return refused(reason);
  const all = [...new Set([snapshot.project, ...projects])];
  const { occurrences, meanings } = yield* together(found.meanings, found.name, all);
  for (const meaning of meanings) {
    const why = beyondReach(snapshot, meaning) ?? noName(name, [meaning]);
    if (why !== undefined) return refused(why);
  }
  for (const one of occurrences) {
    const why = taken(snapshot.project.names, one, name);
    if (why !== undefined) return refused(why);
    yield;
  }
  const edits = distinct(occurrences.map(({ source, start, end }) => ({ file: source.id, start, end, text: name })));
  const why = yield* clashOf(all, edits, { from: found.name, to: name, meanings });
  return why === undefined ? { kind: 'renamed', edits } : refused(why);
}

/** All places that a rename of what is under the cursor would change; none where it cannot be renamed. */
export function* namedTogether(
  snapshot: Snapshot,
  offset: number,
  projects: readonly Project[] = [],
): Steps<readonly Pick<Occurrence, 'source' | 'start' | 'end'>[]> {
  const found = nameAt(snapshot, offset);
  if (found.kind === 'refused') return [];
  const all = [...new Set([snapshot.project, ...projects])];
  const { occurrences, meanings } = yield* together(found.meanings, found.name, all);
  return meanings.some((meaning) => beyondReach(snapshot, meaning) !== undefined) ? [] : occurrences;
}

interface Found extends Range {
  readonly kind: 'found';
  readonly name: string;
  readonly meanings: readonly Meaning[];
}

function nameAt(snapshot: Snapshot, offset: number): Found | Refused {
  const located = locate(snapshot, offset);
  const meant = located && meantAt(snapshot.project.names, located);
  if (!located || !meant) return refused(located ? whyNoName(located) : nothingNamed);
  const { word, meanings } = meant;
  const [meaning] = meanings;
  if (!meaning)
    return refused(
      `Nothing that could be meant here is called "${word.text}"; declare it, or correct the name, first.`,
    );
  for (const one of meanings) {
    const why = beyondReach(snapshot, one);
    if (why !== undefined) return refused(why);
  }
  return {
    kind: 'found',
    name: word.text,
    meanings,
    start: located.base + word.start,
    end: located.base + word.end,
  };
}

const nothingNamed = 'There is no name here; point at one, such as that behind "template" or "zone".';

function whyNoName(located: Located): string {
  const { statement, within, entry, reading } = located;
  if (entry && touches(statement.word, within)) return `"${statement.word.text}" is a word of the language.`;
  const item = itemAt(located);
  if (item?.kind !== 'path') return nothingNamed;
  const written = statement.text.slice(item.start, item.end);
  const slot = reading && slotOf(reading, item);
  if (slot?.type.kind === 'label')
    return `"${written}" is a label to group units by, and names nothing; write another one where it stands.`;
  if (slot?.type.kind === 'ref') return `"${written}" is the name of a ${slot.type.to}, which comes with the tool.`;
  if (slot || reading?.literals.includes(item)) return `"${written}" is a word of the language.`;
  return `What "${written}" stands for is not understood here; mend the statement first.`;
}

const standardWalls: ReadonlySet<string> = new Set(['left', 'back', 'right', 'front']);

/** Why a thing cannot be given another name here, whatever the name. */
function beyondReach({ project }: Snapshot, meaning: Meaning): string | undefined {
  const { sort, name, statement, root } = meaning;
  if (sort === 'property') return `"${name}" is a word of the language.`;
  const at = root ?? statement;
  const source = sourceOf({ statement: at, start: 0, end: 0 });
  const what = spoken(meaning);
  if (source === starterSource) return `${capital(what)} comes with the tool; declare one of your own to have another.`;
  if (project.sources.get(source.id) !== source)
    return `${capital(what)} comes from a library outside this project (${nameOf(source.id)}); give it another name there.`;
  if (sort === 'set') return undefined;
  if (at.parent.kind === 'statement' && nameIn(readThing(at)) === undefined)
    return `${capital(what)} has no name of its own but that of its kind; give it one first.`;
  if (sort === 'wall of a template' && standardWalls.has(name))
    return `"${name}" is a word of the language: where a wall of that name stands in the room follows from it.`;
  if (sort === 'opening of a template' && standardWalls.has(name)) {
    const thing = thingAt(lineageFrom(project.names, topOf(statement)), [name], 'opening');
    if (thing && isAfterItsWall(thing))
      return `Opening "${name}" is in the wall that it is named after; write "on ${name}" behind its name, and it can have another.`;
  }
  return undefined;
}

/** Why a text cannot be the name of such things at all. */
function noName(name: string, meanings: readonly Meaning[]): string | undefined {
  const [statement, ...more] = new Source('', `name ${name}`, new Set()).statements();
  const item = statement?.items[0];
  const isWord =
    more.length === 0 &&
    statement?.items.length === 1 &&
    statement.problems.length === 0 &&
    item?.kind === 'path' &&
    item.words.length === 1 &&
    item.words[0]?.text === name;
  if (!isWord)
    return `"${name}" cannot be a name: names are letters, digits and underscores with single hyphens between them, and the first is no digit.`;
  for (const { sort } of meanings) {
    if ((sort === 'wall of a template' || sort === 'opening of a template') && standardWalls.has(name))
      return `"${name}" is a word of the language: where a wall of that name stands in the room follows from it.`;
    for (const place of ['unit', 'template-test'] as const)
      if (sort === 'parameter of a template' && wordIn(place, name)) {
        const giver = place === 'unit' ? 'unit' : 'test';
        return `"${name}" is a word of the language that stands in a ${giver}, so no ${giver} could give it.`;
      }
  }
  return undefined;
}

/** All places of one name that have to change together: what is meant, and what has its name from it. */
function* together(
  meanings: readonly Meaning[],
  name: string,
  projects: readonly Project[],
): Steps<{ readonly occurrences: Occurrence[]; readonly meanings: Meaning[] }> {
  const places: Occurrence[] = [];
  for (const project of projects) {
    for (const one of occurrencesIn(project, name)) {
      places.push(one);
      yield;
    }
  }
  const known = new Map(meanings.map((meaning) => [identityOf(meaning), meaning]));
  const occurrences = new Set<Occurrence>();
  for (let size = -1; size !== occurrences.size; ) {
    size = occurrences.size;
    for (const place of places) {
      if (occurrences.has(place) || !place.meanings.some((m) => known.has(identityOf(m)))) continue;
      occurrences.add(place);
      for (const meaning of place.meanings) {
        const identity = identityOf(meaning);
        if (!known.has(identity)) known.set(identity, meaning);
      }
      yield;
    }
  }
  return { occurrences: places.filter((place) => occurrences.has(place)), meanings: [...known.values()] };
}

function distinct(edits: readonly TextEdit[]): TextEdit[] {
  return [...new Map(edits.map((edit) => [`${edit.file} ${edit.start}`, edit])).values()];
}

/** The name is given already to another thing that stands beside the one that is declared here. */
function taken(names: Names, one: Occurrence, name: string): string | undefined {
  if (one.role !== 'declares') return undefined;
  const { statement } = one;
  const outer = statement.parent;
  let other: { readonly kind: string; readonly statement: Statement } | undefined;
  if (outer.kind === 'segment') {
    const kind = statement.word.text as DeclaredKind;
    // Stock is of a board or a rod, so that these have their names together.
    const kinds: readonly DeclaredKind[] = kind === 'board' || kind === 'rod' ? ['board', 'rod'] : [kind];
    [other] = kinds.flatMap((each) => names.declarations(each, name));
  } else {
    const beside = contentsOf(readThing(outer)).first.get(`${groupOf(statement.word.text)} ${name}`);
    other = beside && { kind: beside.word, statement: beside.statement };
  }
  if (!other) return undefined;
  return `${thereIs(other.kind)} "${name}" already, ${placeText(other.statement)}; choose another name, or give that one another first.`;
}

/** A template or a thing in one, which has been found by its name. */
function readThing(statement: Statement): Reading {
  const { parent } = statement;
  const place = parent.kind === 'segment' ? 'file' : parent.word.text === 'template' ? 'template' : 'zone';
  return readingAt(statement, place) as Reading;
}
