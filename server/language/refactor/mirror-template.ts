/** A template written the other way round, with all that is built on it. What is built of them stays as it is. */
import { placeOf, type Statement, topOf } from '../../../grammar/tree.ts';
import { otherWall } from '../../model/mirror.ts';
import type { Declared } from '../../model/names.ts';
import type { Project } from '../../model/project.ts';
import { nameIn, pathIn, type Reading } from '../../model/reading.ts';
import { itemAt, type Located, located as locatedIn, slotOf } from '../locate.ts';
import type { Meaning } from '../meaning.ts';
import { type Occurrence, occurrencesIn } from '../occurrences.ts';
import type { Snapshot } from '../snapshot.ts';
import { lineageFrom, thingAt } from '../things.ts';
import { changesBuilt } from './built.ts';
import { type Edit, inStyle, instead, rewritten, textAfter, textEdits } from './edits.ts';
import { familyOf, reachedFrom, unitsOf } from './family.ts';
import { blockText, piecesOf, pieceText } from './pieces.ts';
import type { Refactoring } from './refactoring.ts';
import { turned, turnedTest, turnedUnit } from './turned.ts';

export function mirrorTemplate({ project }: Snapshot, at: Located, projects: readonly Project[] = []): Refactoring[] {
  const top = topOf(at.statement);
  if (top.word.text !== 'template' || at.statement !== top || !at.reading) return [];
  const name = nameIn(at.reading)?.text;
  if (name === undefined || !top.block) return [];
  const common = { id: 'mirror-template', kind: 'refactor.rewrite' as const };
  const because = (disabled: string): Refactoring[] => [
    { ...common, title: `Write template "${name}" the other way round`, disabled, edits: [] },
  ];
  const family = familyOf(project, top);
  if (!family) return because('It is built on a template outside this project, which would stay as it is.');
  const others = projects.filter((one) => one !== project);
  if (reachedFrom(others, family))
    return because('Another project uses it as a library, and its units would be built the other way round.');
  const units = unitsOf(project, family);
  const byTop = new Map<Statement, Edit[]>(family.map(({ statement }) => [statement, []]));
  const put = (edit: Edit): void => {
    const to = topOf(edit.place.statement);
    const own = byTop.get(to);
    if (own) own.push(edit);
    else byTop.set(to, [edit]);
  };
  for (const { statement, reading } of family)
    for (const edit of turnedTemplate(project, statement, reading)) put(edit);
  for (const edit of otherNames(project, new Set(family.map(({ statement }) => statement)))) put(edit);
  const rounds = family.flatMap(({ reading }) => reading.children.filter(({ word }) => word === 'wall'));
  const isDrawnByName = rounds.every((wall) => nameIn(wall) && isStandard(wall) && !turnsOf(wall));
  if (!isDrawnByName) {
    const owners = new Set(rounds.map(({ statement }) => topOf(statement)));
    const [owner] = owners;
    if (!owner || owners.size > 1) return because('Its walls turn, and are said in more than one template.');
    byTop.set(owner, turnedRound(owner, rounds, byTop.get(owner) ?? []));
  }
  const isUnit = new Set(units.map(({ declared }) => declared.statement));
  for (const unit of isUnit) {
    const edit = turnedUnit(unit);
    if (edit) put(edit);
  }
  const made = [...byTop].map(([statement, own]) => ({ statement, edits: inStyle(statement, own) }));
  const core = made.filter(({ statement }) => !isUnit.has(statement)).flatMap(({ edits }) => edits);
  const more = made.filter(({ statement }) => isUnit.has(statement)).flatMap(({ edits }) => edits);
  if (core.length + more.length === 0) return [];
  const wrong = changesBuilt(project, { edits: core, more, turns: true });
  if (wrong !== undefined) return because(wrong);
  return [{ ...common, title: titleOf(name, family, units.length), edits: textEdits([...core, ...more]) }];
}

function titleOf(name: string, family: readonly Declared[], units: number): string {
  const more = family.length - 1;
  const others =
    more === 0 ? '' : ` with ${more === 1 ? 'the template' : `the ${more} templates`} built together with it`;
  const built =
    units === 0 ? '' : units === 1 ? '; its unit stays built as it is' : `; its ${units} units stay built as they are`;
  return `Write template "${name}"${others} the other way round${built}`;
}

/** What one template says of left and right, but for the names of walls. */
function* turnedTemplate({ names }: Project, top: Statement, reading: Reading): Generator<Edit> {
  const [, ...bases] = lineageFrom(names, top);
  const first = new Set<Reading>();
  const visit = (outer: Reading, path: readonly string[]): void => {
    for (const child of outer.children) {
      const name = child.word === 'zone' || child.word === 'gap' ? nameIn(child)?.text : undefined;
      if (name === undefined) continue;
      if (!thingAt(bases, [...path, name], 'zone')) first.add(child);
      visit(child, [...path, name]);
    }
  };
  visit(reading, []);
  for (const child of reading.children) {
    // What a test expects stays as it is said: it is of the room that it was said of.
    const test = child.word === 'test' ? turnedTest(child.statement) : undefined;
    if (test) yield test;
    else yield* turned(child, (thing) => first.has(thing));
  }
}

/** Left and right walls, and openings named after them, wherever the templates are meant as they are drawn. */
function* otherNames(project: Project, family: ReadonlySet<Statement>): Generator<Edit> {
  const isOfFamily = ({ sort, root }: Meaning): boolean =>
    (sort === 'wall of a template' || sort === 'opening of a template') && !!root && family.has(topOf(root));
  for (const word of ['left', 'right'])
    for (const one of occurrencesIn(project, word)) {
      if (!one.meanings.some(isOfFamily) || isOnSite(project, one)) continue;
      const { statement, start, end } = one;
      const base = locatedIn(statement, start).base;
      yield { place: placeOf(statement, { start: start - base, end: end - base }), text: otherWall(word) };
    }
}

/** Overrides, surveys and what is agreed to of a unit name walls as they stand on site. Sums in them do not. */
function isOnSite({ names }: Project, { statement, end }: Occurrence): boolean {
  const top = topOf(statement);
  if (top.word.text === 'template') return false;
  const at = locatedIn(statement, end);
  if (top.word.text === 'accept') {
    const first = at.reading && pathIn(at.reading, 'place')?.words[0]?.text;
    return first !== undefined && names.find('unit', first) !== undefined;
  }
  if (statement.word.text === 'override') return true;
  const item = itemAt(at);
  const slot = item && at.reading && slotOf(at.reading, item);
  return slot !== undefined && slot.type.kind !== 'quantity' && slot.type.kind !== 'value';
}

const standard: ReadonlySet<string> = new Set(['left', 'back', 'right', 'front']);

function isStandard(wall: Reading): boolean {
  return standard.has(nameIn(wall)?.text ?? '');
}

function turnsOf({ children }: Reading): Reading | undefined {
  return children.find(({ word }) => word === 'turns');
}

/** The walls of a room of many sides come round the other way, and each turns by what the one after it turned. */
function turnedRound(top: Statement, walls: readonly Reading[], edits: readonly Edit[]): Edit[] {
  const written = walls.map((wall, i) => {
    const { statement } = wall;
    const { pieces, rest } = piecesOf(statement);
    const own = pieces.filter((piece) => piece.statement !== turnsOf(wall)?.statement);
    const entries = own.map((piece) => pieceText(piece, textAfter(piece.statement, edits)));
    const next = walls[(i + 1) % walls.length];
    const turns = next && turnsOf(next)?.statement.text;
    if (turns !== undefined) entries.push(turns);
    if (rest) entries.push(rest);
    const block = statement.block;
    const isLong = block !== undefined && statement.text.slice(block.open).includes('\n');
    const head = textAfter(statement, edits, { start: 0, end: statement.head.end });
    return `${head} ${blockText(entries, isLong)}`;
  });
  const inside = edits.filter(({ place }) => !walls.some((wall) => isWithin(place.statement, wall.statement)));
  const slots = walls.map(({ statement }, i) =>
    instead(statement, { start: 0, end: statement.text.length }, written[walls.length - 1 - i] ?? ''),
  );
  return rewritten(top, textAfter(top, [...inside, ...slots]));
}

function isWithin(statement: Statement, outer: Statement): boolean {
  let node: Statement['parent'] = statement;
  while (node.kind === 'statement') {
    if (node === outer) return true;
    node = node.parent;
  }
  return false;
}
