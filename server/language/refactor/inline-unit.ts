/** A unit on what its template extends, with all that the template changes as overrides of its own. */
import { expressionsWithin, type Path, type Statement, topOf } from '../../../grammar/tree.ts';
import { type Blueprint, headReading, propsOf, thingName } from '../../model/blueprint.ts';
import { otherWall } from '../../model/mirror.ts';
import type { Declared } from '../../model/names.ts';
import type { Unit } from '../../model/project.ts';
import { dotted, nameIn, pathIn, type Reading } from '../../model/reading.ts';
import { type Located, touches } from '../locate.ts';
import type { Snapshot } from '../snapshot.ts';
import { infoOf } from '../stands.ts';
import { lineageFrom, thingAt } from '../things.ts';
import { noLongerAgreed } from './agreed.ts';
import { changesBuilt } from './built.ts';
import { losesComment } from './comments.ts';
import { type Edit, instead, rewritten, textAfter, textEdits } from './edits.ts';
import { headText, together } from './extending.ts';
import { startText } from './merging.ts';
import { blockText, headEnd, piecesOf, pieceText } from './pieces.ts';
import { asProjectNames } from './qualified.ts';
import type { Refactoring } from './refactoring.ts';
import { turned } from './turned.ts';

export function inlineUnit({ project }: Snapshot, located: Located): Refactoring[] {
  const top = topOf(located.statement);
  if (top.word.text !== 'unit' || located.statement !== top) return [];
  const unit = project.unitAt(top);
  const path = unit?.info && pathIn(unit.declared.reading, 'template');
  if (!unit?.info || !path) return [];
  const [own, base] = lineageFrom(project.names, top);
  const common = { id: 'inline-template', kind: 'refactor.inline' as const };
  if (!own) return [];
  if (!base) {
    if (!touches(path, located.within)) return [];
    const title = `Write what "${dotted(path)}" says into unit "${unit.name}"`;
    const why = 'A unit says what is different from a template, and this one extends none that would be left.';
    return [{ ...common, title, disabled: why, edits: [] }];
  }
  const basePath = pathIn(own.reading, 'base');
  const prefix = path.words.slice(0, -1).map((word) => `${word.text}.`);
  const on = `${prefix.join('')}${basePath ? dotted(basePath) : base.name}`;
  const title = `Build unit "${unit.name}" on "${on}", with what "${dotted(path)}" changes of it as overrides`;
  try {
    const edits = builtOn(unit, lineageFrom(project.names, top), infoOf(base).blueprint, on, path);
    const wrong = losesComment(edits) ?? changesBuilt(project, { edits, units: [unit.name] });
    const agreed = noLongerAgreed(project, [unit], base);
    if (wrong === undefined) return [{ ...common, title: title + agreed, edits: textEdits(edits) }];
    return [{ ...common, title, disabled: wrong, edits: [] }];
  } catch (error) {
    if (error instanceof NotSaid) return [{ ...common, title, disabled: error.message, edits: [] }];
    throw error;
  }
}

/** Something that no unit can say, in one sentence. */
class NotSaid extends Error {}

function builtOn(unit: Unit, lineage: readonly Declared[], base: Blueprint, on: string, path: Path): Edit[] {
  const { statement: top } = unit.declared;
  const { block, text } = top;
  const template = lineage[0]?.reading ?? unit.declared.reading;
  const named = namedHere(lineage);
  const parameters = parametersOf(unit, template, base, named);
  const site: Site = { unit, whole: unit.info?.blueprint ?? base, given: parameters.inText, named, found: [] };
  for (const child of template.children) override(child, template, base, [], site);
  const { pieces, rest } = piecesOf(top);
  const isArgument = (statement: Statement): boolean => parameters.gone.has(statement.word.text);
  const kept = pieces.filter(({ statement }) => !isArgument(statement));
  const firstOverride = kept.findIndex(({ statement }) => statement.word.text === 'override');
  const at = firstOverride < 0 ? kept.length : firstOverride;
  const entries = kept.map((piece) => pieceText(piece));
  entries.splice(at, 0, ...parameters.added, ...site.found);
  if (rest) entries.push(rest);
  const before = `${text.slice(0, path.start)}${on}${text.slice(path.end, headEnd(top))}`;
  const isLong = block !== undefined && text.slice(block.open).includes('\n');
  return rewritten(top, entries.length === 0 ? before : `${before} ${blockText(entries, isLong)}`);
}

/** What a statement of the template names, with the names that the project has for it. */
type Named = (reading: Reading) => Edit[];

function namedHere(lineage: readonly Declared[]): Named {
  const isParameter = (name: string): boolean => thingAt(lineage, [name], 'parameter') !== undefined;
  return (reading) => {
    const template = lineage.find(({ statement }) => statement === topOf(reading.statement));
    return template && template.home.prefix !== '' ? [...asProjectNames(reading, template, isParameter)] : [];
  };
}

interface Parameters {
  /** What a parameter that only the template has stands for. */
  readonly inText: ReadonlyMap<string, string>;
  readonly gone: ReadonlySet<string>;
  /** What the template gives by default, and the base does not. */
  readonly added: readonly string[];
}

function parametersOf(unit: Unit, template: Reading, base: Blueprint, named: Named): Parameters {
  const inText = new Map<string, string>();
  const gone = new Set<string>();
  const added: string[] = [];
  for (const child of template.children) {
    const name = child.word === 'parameter' ? nameIn(child)?.text : undefined;
    if (name === undefined) continue;
    const given = unit.given?.statements.get(name);
    const item = given?.items[0] ?? child.slots.default?.[0];
    const from = given ?? child.statement;
    if (!item) throw new NotSaid(`The unit gives no "${name}", which its template asks for.`);
    const [called] = given ? [] : named(child).filter(({ place }) => place.start === item.start);
    const written = called?.text ?? from.text.slice(item.start, item.end);
    if (base.things.some((thing) => thing.word === 'parameter' && thing.name === name)) {
      if (!given) added.push(`${name} ${written}`);
      continue;
    }
    gone.add(name);
    inText.set(name, item.kind === 'binary' || item.kind === 'negation' ? `(${written})` : written);
  }
  return { inText, gone, added };
}

interface Site {
  readonly unit: Unit;
  /** The template with what it extends. */
  readonly whole: Blueprint;
  readonly given: ReadonlyMap<string, string>;
  readonly named: Named;
  readonly found: string[];
}

/** Adds the overrides that say what `own` says of a thing of the base. */
function override(own: Reading, outer: Reading, base: Blueprint, path: readonly string[], site: Site): void {
  if (own.word === 'parameter' || own.word === 'test') return;
  const said = headText(own.statement);
  if (!own.entry.block) {
    if (path.length === 0) throw new NotSaid(`"${said}" is said of the whole template, and no unit can say that.`);
    return;
  }
  if (own.word === 'corner') throw new NotSaid(`"${said}" is about a corner, and no unit can change one.`);
  const name = nameOf(own, outer);
  const thing = base.things.find((one) => one.word === own.word && one.name === name);
  if (!thing || name === undefined)
    throw new NotSaid(`"${said}" is new in the template, and a unit can only change what is there.`);
  if (!saysNoMore(own, thing))
    throw new NotSaid(
      `"${said}" stands elsewhere than in the template below, and a unit can only change what is in a block.`,
    );
  const { mirrored } = site.unit;
  const called = mirrored && (own.word === 'wall' || own.word === 'opening') ? otherWall(name) : name;
  const entries = entriesOf(own, wholeOf(site.whole, [...path, name], own.word), site);
  if (entries.length > 0) site.found.push(`override ${[...path, called].join('.')} ${blockText(entries, false)}`);
  for (const child of own.children) if (child.entry.block) override(child, own, thing, [...path, name], site);
}

function nameOf(own: Reading, outer: Reading): string | undefined {
  const unnamed = new Map<string, number>();
  for (const child of outer.children) {
    const name = thingName(child, unnamed);
    if (child === own) return name;
  }
  return undefined;
}

/** Its head says nothing that the base does not say. */
function saysNoMore(own: Reading, thing: Blueprint): boolean {
  const wall = pathIn(own, 'wall');
  const isThere = (of: (head: Reading) => string | undefined): boolean => {
    const here = of(own);
    return here === undefined || here === thing.heads.map(of).findLast((said) => said !== undefined);
  };
  if (own.word === 'shelves') return headText(own.statement) === headText(headReading(thing).statement);
  return (!wall || isThere((head) => pathIn(head, 'wall')?.words[0]?.text)) && isThere(startText);
}

function wholeOf(whole: Blueprint, path: readonly string[], word: string): Blueprint | undefined {
  let at: Blueprint | undefined = whole;
  for (const [i, name] of path.entries()) {
    const isLast = i === path.length - 1;
    at = at?.things.find(
      (one) => one.name === name && (isLast ? one.word === word : ['zone', 'gap'].includes(one.word)),
    );
  }
  return at;
}

/** What the template says in the block of a thing; of words that an override takes together, what the base says too. */
function entriesOf(own: Reading, whole: Blueprint | undefined, site: Site): string[] {
  const properties = own.children.filter(({ entry }) => !entry.block);
  const words = new Set(properties.map(({ word }) => word));
  const inherited = together
    .filter((group) => group.some((word) => words.has(word)))
    .flatMap((group) => group.filter((word) => !words.has(word)))
    .flatMap((word) => (whole ? propsOf(whole, word) : []));
  const pieces = new Map(piecesOf(own.statement).pieces.map((piece) => [piece.statement, piece]));
  return [...properties, ...inherited].map((reading) => {
    const text = textAfter(reading.statement, [
      ...(site.unit.mirrored ? turned(reading, () => false) : []),
      ...valuesIn(reading, site.given),
      ...site.named(reading),
    ]);
    const piece = pieces.get(reading.statement);
    return piece ? pieceText({ ...piece, apart: false }, text) : text;
  });
}

/** Names of parameters that the base does not have, by what they stand for. */
function* valuesIn({ statement, literals }: Reading, given: ReadonlyMap<string, string>): Generator<Edit> {
  for (const item of statement.items)
    for (const path of expressionsWithin(item)) {
      if (path.kind !== 'path') continue;
      const value = path.words.length === 1 && !literals.includes(path) ? given.get(dotted(path)) : undefined;
      if (value !== undefined) yield instead(statement, path, value);
    }
}
