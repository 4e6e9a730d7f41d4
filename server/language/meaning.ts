/**
 * What a name means where it stands: the one truth that definition, references and rename share. It rests on
 * the names of the project and on the text around, not on anything computed.
 */
import type { Item, Path, Statement, Word } from '../../grammar/tree.ts';
import { offsetOf, segmentOf } from '../../grammar/tree.ts';
import { groupOf, type NameGroup } from '../model/blueprint.ts';
import { otherWall } from '../model/mirror.ts';
import type { Declared, DeclaredKind, Names } from '../model/names.ts';
import type { RefKind } from '../model/phrase.ts';
import { dotted, nameIn, pathIn, type Reading, readingAt, says } from '../model/reading.ts';
import type { BlockPlace } from '../model/vocabulary.ts';
import { giverOf, itemAt, type Located, pathAt, slotOf, touches } from './locate.ts';
import { contentsOf, lineageFrom, surveyedUnit, type Thing, thingAt } from './things.ts';

/** What sort of name it is: names of one sort must differ where they stand together. */
export type Sort = DeclaredKind | `${NameGroup} of a template` | 'set' | 'property';

export interface Meaning {
  readonly sort: Sort;
  readonly name: string;
  /** The declaration that counts where the name stands. */
  readonly statement: Statement;
  /**
   * The declaration that makes it one thing wherever it is named: the farthest template that has it. Of a matched
   * set, which nothing declares, the template at the root of those that share it; undefined for loose parts.
   */
  readonly root: Statement | undefined;
}

/** What a word does to what it names: it declares it, changes it (an argument, an override), or only names it. */
export type Role = 'declares' | 'changes' | 'names';

export interface Meant {
  /** The name itself, within the statement. */
  readonly word: Word;
  readonly role: Role;
  /** The first one is what is meant; a name can stand for more than one thing: an opening named after its wall. */
  readonly meanings: readonly Meaning[];
}

/** The same for the same thing, in every project that reads the same files. `at` is where its root stands. */
export function identityOf({ sort, name, root }: Meaning, at = root && offsetOf(root) + root.word.start): string {
  const place = root ? `${segmentOf(root).source.id}:${at}` : 'loose parts';
  return sort === 'set' ? `${sort} ${place} ${name}` : `${sort} ${place}`;
}

/** As equal identities are, told without spelling them out where both are of one project. */
export function isSame(a: Meaning, b: Meaning): boolean {
  if (a.sort !== b.sort || (a.sort === 'set' && a.name !== b.name)) return false;
  if (a.root === b.root) return true;
  if (!a.root || !b.root || segmentOf(a.root).source === segmentOf(b.root).source) return false;
  return identityOf(a) === identityOf(b);
}

const declaredAs: Partial<Record<RefKind, readonly DeclaredKind[]>> = {
  board: ['board'],
  rod: ['rod'],
  'board-or-rod': ['board', 'rod'],
  hardware: ['hardware'],
  garment: ['garment'],
  policy: ['policy'],
  template: ['template'],
  unit: ['unit'],
};

/** The kinds of declaration that a reference of some kind can mean; empty for things inside a template. */
export function kindsOf(to: RefKind): readonly DeclaredKind[] {
  return declaredAs[to] ?? [];
}

/** What the value of a parameter can name. */
export const namedByParameters: readonly DeclaredKind[] = ['board', 'rod', 'garment', 'hardware'];

/**
 * What the name under a cursor means. Undefined where no name stands; without meanings where it means nothing known.
 * `lineage` is that of the template which reads it: its own, or of another that extends it.
 */
export function meantAt(
  names: Names,
  at: Located,
  lineage: readonly Declared[] = lineageFrom(names, at.trail[0]),
): Meant | undefined {
  const { statement, within, trail } = at;
  const found = pathAt(at);
  if (!found) {
    const isArgument = argumentIn(trail) === statement && !at.reading;
    if (!isArgument || statement.word.text === '' || !touches(statement.word, within)) return undefined;
    const parameter = thingAt(lineage, [statement.word.text], 'parameter');
    return { word: statement.word, role: 'changes', meanings: parameter ? [thingMeaning(parameter)] : [] };
  }
  const { path, word, index } = found;
  const item = itemAt(at) as Item;
  const scope: Scope = { names, trail, lineage };
  const reading = at.reading ?? overriding(scope);
  if (!reading) return { word, role: 'names', meanings: given(scope, path, index) };
  const slot = slotOf(reading, item);
  if (!slot) return undefined;
  const { type } = slot;
  switch (type.kind) {
    case 'name':
      return ownName(scope, reading, slot.name, word);
    case 'quantity':
    case 'value':
      return { word, role: 'names', meanings: inExpression(scope, reading, path, index) };
    case 'ref': {
      const isChange =
        type.to === 'opening' ||
        (type.to === 'thing' && reading.word === 'override' && index === path.words.length - 1);
      const meanings = referred(scope, reading, type.to, path, index);
      return meanings && { word, role: isChange ? 'changes' : 'names', meanings };
    }
    default:
      return undefined;
  }
}

/** What a unit, or a test of a template, gives for a parameter: a statement that begins with the name of it. */
function argumentIn(trail: readonly Statement[]): Statement | undefined {
  return giverOf(trail.slice(0, -1)) && trail.at(-1);
}

interface Scope {
  readonly names: Names;
  readonly trail: readonly Statement[];
  readonly lineage: readonly Declared[];
}

function thingMeaning({ group, name, heads, root }: Thing): Meaning {
  return { sort: `${group} of a template`, name, statement: heads[0].statement, root: root.statement };
}

function declaredMeaning({ kind, name, statement }: Declared): Meaning {
  return { sort: kind, name, statement, root: statement };
}

function itself(sort: Sort, name: string, statement: Statement): Meaning {
  return { sort, name, statement, root: statement };
}

function all(...found: readonly (Thing | undefined)[]): Meaning[] {
  return found.flatMap((thing) => (thing ? [thingMeaning(thing)] : []));
}

/** The first of several that is there. */
function firstOf(...found: readonly (Thing | undefined)[]): Meaning[] {
  return all(found.find((thing) => thing !== undefined));
}

// Names that a statement gives

function ownName(scope: Scope, reading: Reading, slot: string, word: Word): Meant | undefined {
  const { names, trail, lineage } = scope;
  const { statement } = reading;
  const meant = (...meanings: readonly Meaning[]): Meant => ({ word, role: 'declares', meanings });
  if (slot === 'set') {
    // Every statement that names a set is as good as any other.
    const own = lineage.filter(({ home }) => home === names);
    const root = (own.at(-1) ?? lineage.at(-1))?.statement;
    return { word, role: 'names', meanings: [{ sort: 'set', name: word.text, statement, root }] };
  }
  if (statement === trail[0]) return meant(itself(reading.word as DeclaredKind, word.text, statement));
  const group = groupOf(reading.word);
  if (trail[0]?.word.text !== 'template' || !group) return undefined;
  const path = [...zonesAround(trail), word.text];
  const thing = counts(trail, reading) ? thingAt(lineage, path, group) : undefined;
  const own: Meaning = thing
    ? { ...thingMeaning(thing), statement }
    : itself(`${group} of a template`, word.text, statement);
  const wall =
    group === 'opening' && thing && isAfterItsWall(thing) ? thingAt(lineage, [word.text], 'wall') : undefined;
  return meant(own, ...all(wall));
}

/** An opening that does not say which wall it is in has the name of the wall. */
export function isAfterItsWall({ heads }: Thing): boolean {
  return heads.every((head) => pathIn(head, 'wall') === undefined);
}

/** It is the first of its name, and so is everything around it: others are reported and left out. */
function counts(trail: readonly Statement[], reading: Reading): boolean {
  const readings = trail.slice(1, -1).flatMap((s) => readingAt(s, s === trail[1] ? 'template' : 'zone') ?? []);
  const template = trail[0] && readingAt(trail[0], 'file');
  if (!template || readings.length !== trail.length - 2) return false;
  const line = [template, ...readings, reading];
  return line.every((inner, i) => {
    const outer = line[i - 1];
    if (!outer) return true;
    const { first, names } = contentsOf(outer);
    return first.get(`${groupOf(inner.word)} ${names.get(inner)}`) === inner;
  });
}

/** The names of the zones around a statement, outermost first. */
export function zonesAround(trail: readonly Statement[]): string[] {
  if (trail[0]?.word.text !== 'template') return [];
  return trail
    .slice(1, -1)
    .filter((s) => s.word.text === 'zone' || s.word.text === 'gap')
    .flatMap((s) => readingAt(s, trail[1] === s ? 'template' : 'zone') ?? [])
    .flatMap((r) => nameIn(r)?.text ?? []);
}

// Names that a statement uses

/** What another fitting can be above or under: a row of shelves has no height of its own. */
export const heightFittings: ReadonlySet<string> = new Set(['shelf', 'rod', 'drawers']);

/** Undefined for what is no name of anybody's: rules and limits. */
function referred(
  scope: Scope,
  reading: Reading,
  to: RefKind,
  path: Path,
  index: number,
): readonly Meaning[] | undefined {
  const { trail, lineage } = scope;
  const name = dotted(path);
  switch (to) {
    case 'rule':
    case 'limit':
      return undefined;
    case 'wall':
      return trail[0]?.word.text === 'survey'
        ? all(onSite(scope, 'wall', name))
        : all(thingAt(lineage, [name], 'wall'));
    case 'opening':
      return all(onSite(scope, 'opening', name));
    case 'zone':
      return all(thingAt(lineage, [...zonesAround(trail), name], 'zone'));
    case 'fitting':
      return all(thingAt(lineage, [...zoneOfFitting(trail), name], 'fitting', heightFittings));
    case 'thing':
      return trail[0]?.word.text === 'accept' ? acceptedAt(scope.names, path, index) : overridden(scope, path, index);
    default:
      return parameterIn(scope, reading, to, path) ?? declaredAt(scope.names, kindsOf(to), path, index);
  }
}

/** The zone whose fittings a height can name: the one around, or that of the fitting that is overridden. */
export function zoneOfFitting(trail: readonly Statement[]): readonly string[] {
  const override = trail[0]?.word.text === 'unit' ? trail[1] : undefined;
  const reading = override && readingAt(override, 'unit');
  const thing = reading && pathIn(reading, 'thing');
  return thing ? thing.words.slice(0, -1).map((w) => w.text) : zonesAround(trail);
}

/** Parameters that hold a name go before declarations, where the model looks for them. */
function parameterIn(scope: Scope, reading: Reading, to: RefKind, path: Path): Meaning[] | undefined {
  const top = scope.trail[0]?.word.text;
  const inTemplate = scope.trail.length > 1 && (top === 'template' || top === 'unit');
  const takesParameter =
    to === 'board' || to === 'rod' || to === 'garment' || reading.word === 'held' || reading.word === 'carried';
  if (!inTemplate || !takesParameter) return undefined;
  const parameter = thingAt(scope.lineage, [dotted(path)], 'parameter');
  return parameter && [thingMeaning(parameter)];
}

/** `white-12`, or `trade.white-12`, whose first word is the name of a library. */
function declaredAt(names: Names, kinds: readonly DeclaredKind[], path: Path, index: number): Meaning[] {
  if (index < path.words.length - 1) {
    let home: Names | undefined = names;
    for (const { text } of path.words.slice(0, index)) home = home?.libraries.get(text);
    const use = home?.find('use', path.words[index]?.text ?? '');
    return use ? [declaredMeaning(use)] : [];
  }
  for (const kind of kinds) {
    const declared = names.find(kind, dotted(path));
    if (declared) return [declaredMeaning(declared)];
  }
  return [];
}

/** Walls and openings as they stand on site: in a mirrored unit, left is right. */
function onSite({ names, trail, lineage }: Scope, group: 'wall' | 'opening', name: string): Thing | undefined {
  return thingAt(lineage, [isMirrored(names, trail) ? otherWall(name) : name], group);
}

/** The unit that a statement is part of or speaks of, or the test, is the template as it is seen in a mirror. */
export function isMirrored(names: Names, trail: readonly Statement[]): boolean {
  const top = trail[0] && readingAt(trail[0], 'file');
  const test = trail[1] && top?.word === 'template' ? readingAt(trail[1], 'template') : undefined;
  const built = top?.word === 'survey' ? surveyedUnit(names, top)?.reading : (test ?? top);
  return built !== undefined && says(built, 'mirrored');
}

/** What an override changes, in the order in which the model looks for it. */
function overridden(scope: Scope, path: Path, index: number): Meaning[] {
  const words = path.words.slice(0, index + 1).map((w) => w.text);
  const zone = thingAt(scope.lineage, words, 'zone');
  if (zone || index < path.words.length - 1) return all(zone);
  if (words.length > 1) return all(thingAt(scope.lineage, words, 'fitting'));
  const name = words[0] ?? '';
  return firstOf(onSite(scope, 'wall', name), onSite(scope, 'opening', name), thingAt(scope.lineage, words, 'fixture'));
}

/**
 * `UNIT.zone.fitting` or `TEMPLATE.zone.fitting`, a template of a library behind the name of that; where both have the
 * name, both are agreed to.
 */
function acceptedAt(names: Names, path: Path, index: number): Meaning[] {
  const words = path.words.slice(0, index + 1).map((w) => w.text);
  const [first = ''] = words;
  const own = [names.find('unit', first), names.find('template', first)].filter((d) => d !== undefined);
  const isOfLibrary = own.length === 0 && names.libraries.has(first);
  const ofLibrary = index === 0 ? names.find('use', first) : names.find('template', words.slice(0, 2).join('.'));
  const heads = !isOfLibrary ? own : ofLibrary ? [ofLibrary] : [];
  const rest = words.slice(isOfLibrary ? 2 : 1);
  if (rest.length === 0) return heads.map(declaredMeaning);
  return heads.flatMap((head) => {
    const { home, statement } = head;
    const scope: Scope = { names: home, trail: [statement], lineage: lineageFrom(home, statement) };
    return firstOf(
      thingAt(scope.lineage, rest, 'zone'),
      ...(rest.length > 1 ? [thingAt(scope.lineage, rest, 'fitting')] : []),
      ...(rest.length === 1
        ? [
            onSite(scope, 'wall', rest[0] ?? ''),
            onSite(scope, 'opening', rest[0] ?? ''),
            thingAt(scope.lineage, rest, 'fixture'),
          ]
        : []),
    );
  });
}

// Expressions and arguments

function inExpression({ names, trail, lineage }: Scope, reading: Reading, path: Path, index: number): Meaning[] {
  // What a parameter is by default is no part of a template yet.
  if (reading.word === 'parameter') return valueGiven(names, reading, path, index);
  if (!['template', 'unit', 'survey'].includes(trail[0]?.word.text ?? '') || trail.length < 2) return [];
  const [first, property] = path.words;
  if (!first || path.words.length > 2) return [];
  if (!property) return all(thingAt(lineage, [first.text], 'parameter'));
  const thing = withDimensions(lineage, first.text);
  if (!thing || index === 0) return all(thing);
  for (const head of thing.heads) {
    const said = head.children.find((c) => c.word === property.text);
    if (said) return [itself('property', property.text, said.statement)];
  }
  return [];
}

/** Of a wall, an opening and a zone of one name, the one that is written first has the dimension. */
export function withDimensions(lineage: readonly Declared[], name: string): Thing | undefined {
  for (const { reading } of lineage.toReversed()) {
    for (const [child, its] of contentsOf(reading).names) {
      const group = groupOf(child.word);
      if (its === name && (group === 'wall' || group === 'opening' || group === 'zone'))
        return thingAt(lineage, [name], group);
    }
  }
  return undefined;
}

/** What a unit gives for a parameter of its template. */
function given({ names, trail, lineage }: Scope, path: Path, index: number): Meaning[] {
  const argument = argumentIn(trail);
  if (!argument) return [];
  const parameter = thingAt(lineage, [argument.word.text], 'parameter');
  return parameter
    ? valueGiven(names, parameter.heads[0], path, index)
    : declaredAt(names, namedByParameters, path, index);
}

/** A name that is the value of a parameter, by its type. */
function valueGiven(names: Names, parameter: Reading, path: Path, index: number): Meaning[] {
  const type = pathIn(parameter, 'type');
  const kind = namedByParameters.find((one) => type && one === dotted(type));
  return kind ? declaredAt(names, [kind], path, index) : [];
}

/** A statement of an override, read as one of the thing that it changes. */
function overriding({ names, trail, lineage }: Scope): Reading | undefined {
  const statement = trail[2];
  const place = statement && trail.length === 3 ? placeOverridden(names, trail.slice(0, 2), lineage) : undefined;
  return place && statement && readingAt(statement, place);
}

/** The place whose words change what a unit overrides: its own and the override are around. */
export function placeOverridden(
  names: Names,
  around: readonly Statement[],
  lineage: readonly Declared[] = lineageFrom(names, around[0]),
): BlockPlace | undefined {
  const [top, override] = around;
  if (around.length !== 2 || top?.word.text !== 'unit' || !override) return undefined;
  const reading = readingAt(override, 'unit');
  const path = reading && pathIn(reading, 'thing');
  const changed = path && overridden({ names, trail: around, lineage }, path, path.words.length - 1)[0]?.statement;
  return changed && blockPlaceOf(changed);
}

function blockPlaceOf(statement: Statement): BlockPlace | undefined {
  const isOuter = statement.parent.kind === 'statement' && statement.parent.word.text === 'template';
  return readingAt(statement, isOuter ? 'template' : 'zone')?.entry.block;
}
