/** What a name under the cursor means: the statement that declares it. */
import { type Item, type Path, type Statement, segmentOf } from '../../grammar/tree.ts';
import type { Declared, DeclaredKind } from '../model/names.ts';
import type { RefKind } from '../model/phrase.ts';
import { dotted, nameIn, pathIn, type Reading, read } from '../model/reading.ts';
import { type Located, pathAt, slotOf, topOf, touches } from './locate.ts';
import type { Snapshot } from './snapshot.ts';

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

/** The declaration of what is named under the cursor. Undefined where nothing is, or it is not known. */
export function targetAt(snapshot: Snapshot, located: Located): Statement | undefined {
  const { statement, trail, within, reading } = located;
  if (!reading && touches(statement.word, within)) return parameterGiven(snapshot, trail, statement.word.text);
  const at = pathAt(located);
  if (!at) return undefined;
  const { path, index } = at;
  const item = statement.items.find((i) => touches(i, within)) as Item;
  const slot = reading && slotOf(reading, item);
  if (!slot) return reading ? undefined : inArgument(snapshot, located, path);
  if (slot.type.kind === 'name') return statement;
  if (slot.type.kind === 'quantity' || slot.type.kind === 'value')
    return thingNamed(snapshot, trail, path, index) ?? declaredOfAnyKind(snapshot, path);
  if (slot.type.kind !== 'ref') return undefined;
  const kinds = kindsOf(slot.type.to);
  if (kinds.length > 0) return declaredNamed(snapshot, kinds, path, index);
  return thingNamed(snapshot, trail, path, index);
}

function declaredNamed(
  { project }: Snapshot,
  kinds: readonly DeclaredKind[],
  path: Path,
  index: number,
): Statement | undefined {
  if (index === 0 && path.words.length > 1) {
    const alias = project.names.find('use', path.words[0]?.text ?? '');
    if (alias) return alias.statement;
  }
  for (const kind of kinds) {
    const declared = project.names.find(kind, dotted(path));
    if (declared) return declared.statement;
  }
  return undefined;
}

function declaredOfAnyKind(snapshot: Snapshot, path: Path): Statement | undefined {
  return declaredNamed(snapshot, ['board', 'rod', 'garment', 'hardware'], path, path.words.length - 1);
}

/** A word of a unit that its template asks for. */
function parameterGiven(snapshot: Snapshot, trail: readonly Statement[], name: string): Statement | undefined {
  const top = trail[0];
  if (trail.length !== 2 || top?.word.text !== 'unit') return undefined;
  return snapshot.project.unitAt(top)?.info?.parameters.get(name)?.reading.statement;
}

/** In what a unit gives a template, or in an override, which are read when their template is known. */
function inArgument(snapshot: Snapshot, { trail }: Located, path: Path): Statement | undefined {
  return thingNamed(snapshot, trail, path, path.words.length - 1) ?? declaredOfAnyKind(snapshot, path);
}

/** The templates whose things a statement can name, the nearest first. */
export function lineageAt({ project }: Snapshot, trail: readonly Statement[]): readonly Declared[] {
  const top = trail[0];
  if (!top) return [];
  const { reading } = read(top, 'file');
  let base: Path | undefined;
  const chain: Declared[] = [];
  if (reading?.word === 'template') {
    const name = nameIn(reading)?.text;
    const own = name === undefined ? undefined : project.names.declarations('template', name);
    const declared = own?.find((d) => d.statement === top);
    if (declared) chain.push(declared);
    base = pathIn(reading, 'base');
  } else if (reading?.word === 'unit') base = pathIn(reading, 'template');
  else if (reading?.word === 'survey') {
    const unit = pathIn(reading, 'unit');
    const declared = unit && project.names.find('unit', dotted(unit));
    base = declared && pathIn(declared.reading, 'template');
  }
  while (base) {
    const next: Declared | undefined = (chain.at(-1)?.home ?? project.names).find('template', dotted(base));
    if (!next || chain.includes(next)) break;
    chain.push(next);
    base = pathIn(next.reading, 'base');
  }
  return chain;
}

/** The thing that a path means as seen from a statement: its own block first, then those around it, then the bases. */
function thingNamed(snapshot: Snapshot, trail: readonly Statement[], path: Path, index: number): Statement | undefined {
  const words = path.words.slice(0, index + 1).map((w) => w.text);
  const accepted = trail[0]?.word.text === 'accept' ? acceptedIn(snapshot, words) : undefined;
  if (accepted) return accepted;
  const around = zonesAround(trail);
  for (let depth = around.length; depth >= 0; depth--) {
    for (const { reading } of lineageAt(snapshot, trail)) {
      const found = descend(reading, [...around.slice(0, depth), ...words]);
      if (found) return found.statement;
    }
  }
  return undefined;
}

/** `UNIT.zone.fitting` or `TEMPLATE.zone.fitting`. */
function acceptedIn(snapshot: Snapshot, [first = '', ...rest]: readonly string[]): Statement | undefined {
  const { names } = snapshot.project;
  const declared = names.find('unit', first) ?? names.find('template', first);
  if (!declared || rest.length === 0) return declared?.statement;
  for (const { reading } of lineageAt(snapshot, [declared.statement])) {
    const found = descend(reading, rest);
    if (found) return found.statement;
  }
  return undefined;
}

/** The names of the zones around a statement, outermost first. */
export function zonesAround(trail: readonly Statement[]): string[] {
  if (trail[0]?.word.text !== 'template') return [];
  return trail
    .slice(1, -1)
    .filter((s) => s.word.text === 'zone' || s.word.text === 'gap')
    .flatMap((s) => read(s, trail[1] === s ? 'template' : 'zone').reading ?? [])
    .flatMap((r) => nameIn(r)?.text ?? []);
}

/** The thing under a path of names within a reading. */
export function descend(reading: Reading, names: readonly string[]): Reading | undefined {
  let current: Reading | undefined = reading;
  for (const name of names) {
    current = current.children.find((c) => (nameIn(c)?.text ?? (c.word === 'panels' ? 'panels' : undefined)) === name);
    if (!current) return undefined;
  }
  return current;
}

/** A statement's file belongs to the project: what ships with the tool has no file to open. */
export function isWritten({ project }: Snapshot, statement: Statement): boolean {
  return project.sources.has(segmentOf(topOf(statement)).source.id);
}
