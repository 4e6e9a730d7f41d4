/**
 * The names of a project: one set by kind. Top-level statements come and go one by one; whoever looks
 * a name up can leave a trace of it, so that an edit reaches only what depends on the names it changed.
 */
import { offsetOf, type Path, type Statement, segmentOf } from '../../grammar/tree.ts';
import { nameChanged } from './name-changes.ts';
import { nearestOnes } from './nearest.ts';
import { dotted, nameIn, pathIn, type Reading, readingAt } from './reading.ts';
import type { Trace } from './trace.ts';

export type DeclaredKind =
  | 'project'
  | 'use'
  | 'board'
  | 'rod'
  | 'hardware'
  | 'stock'
  | 'garment'
  | 'policy'
  | 'template'
  | 'unit'
  | 'survey'
  | 'extra'
  | 'accept';

export interface Declared {
  readonly kind: DeclaredKind;
  readonly name: string;
  readonly reading: Reading;
  readonly statement: Statement;
  /** The names among which it was declared: those that its own statements mean. */
  readonly home: Names;
}

/** What a project knows by name, and what its libraries know for themselves. */
export function withLibraries(own: Names): ReadonlySet<Names> {
  const all = new Set([own]);
  for (const names of all) for (const library of names.libraries.values()) all.add(library);
  return all;
}

/** As it is written in the project: `trade.reach-in` of a library. */
export function calledInProject({ home, name }: Pick<Declared, 'home' | 'name'>): string {
  return home.prefix + name;
}

/**
 * The names that the statements of a declaration mean, for whoever uses it among other names: those of its own project or
 * library, as a board of the project that a unit gives to a template of a library; or, of what comes with the tool, those
 * of the user, whose own go before them.
 */
export function namesWithin({ home }: Pick<Declared, 'home'>, names: Names): Names {
  return home.starter ? home : names;
}

export class Names {
  private readonly byKey = new Map<string, Declared[]>();
  private readonly byKind = new Map<DeclaredKind, Map<string, Declared[]>>();
  private readonly turns = new Map<DeclaredKind, number>();
  private readonly byAlias = new Map<string, Names>();
  /** The starter set that ships with the tool; names of the project go before it. */
  readonly starter: Names | undefined;

  /** What stands before these names where they are used: empty, or `trade.` for a library. */
  readonly prefix: string;

  constructor(starter?: Names, prefix = '') {
    this.starter = starter;
    this.prefix = prefix;
  }

  /** Libraries known under a name by `use`. */
  get libraries(): ReadonlyMap<string, Names> {
    return this.byAlias;
  }

  useLibrary(alias: string, library: Names): void {
    nameChanged();
    this.byAlias.set(alias, library);
  }

  forgetLibraries(): void {
    nameChanged();
    this.byAlias.clear();
  }

  /** Enters a top-level statement. Undefined where it declares nothing. */
  add(statement: Statement): Declared | undefined {
    const declared = declare(statement, this);
    if (!declared) return undefined;
    this.turn(declared.kind);
    const key = keyOf(declared.kind, declared.name);
    const list = this.byKey.get(key);
    if (list) list.push(declared);
    else {
      const made = [declared];
      this.byKey.set(key, made);
      const names = this.byKind.get(declared.kind);
      if (names) names.set(declared.name, made);
      else this.byKind.set(declared.kind, new Map([[declared.name, made]]));
    }
    return declared;
  }

  remove(statement: Statement): Declared | undefined {
    const declared = declare(statement, this);
    if (!declared) return undefined;
    this.turn(declared.kind);
    const key = keyOf(declared.kind, declared.name);
    const list = this.byKey.get(key);
    const index = list?.findIndex((d) => d.statement === statement) ?? -1;
    if (!list || index < 0) return undefined;
    const [gone] = list.splice(index, 1);
    if (list.length === 0) {
      this.byKey.delete(key);
      this.byKind.get(declared.kind)?.delete(declared.name);
    }
    return gone;
  }

  private turn(kind: DeclaredKind): void {
    nameChanged();
    this.turns.set(kind, this.turnOf(kind) + 1);
  }

  /** Rises whenever a name of the kind comes or goes. */
  turnOf(kind: DeclaredKind): number {
    return this.turns.get(kind) ?? 0;
  }

  /** All of one kind, in no particular order. */
  *all(kind: DeclaredKind): Generator<Declared> {
    for (const list of this.byKind.get(kind)?.values() ?? []) yield* list;
  }

  /** All of one kind in the order in which they are written: what is shown of them is not as they came in. */
  written(kind: DeclaredKind): readonly Declared[] {
    const all = [...this.all(kind)];
    sortWritten(all, (declared) => declared);
    return all;
  }

  /** All of every kind, in no particular order. */
  *everything(): Generator<Declared> {
    for (const lists of this.byKind.values()) for (const list of lists.values()) yield* list;
  }

  /** All names that may be written for one kind: own ones as they are written, then those that come with the tool and with libraries. */
  namesOf(kind: DeclaredKind): string[] {
    return this.withOthers(kind, this.ownNames(kind));
  }

  private ownNames(kind: DeclaredKind): string[] {
    return [...new Set(this.written(kind).map(({ name }) => name))];
  }

  private withOthers(kind: DeclaredKind, own: readonly string[]): string[] {
    const shipped = this.starter?.namesOf(kind) ?? [];
    return [...own, ...shipped.filter((n) => !own.includes(n)), ...this.usedNames(kind)];
  }

  /** Those of libraries, but not those that come with the tool: they need no library. */
  private usedNames(kind: DeclaredKind): string[] {
    return [...this.libraries].flatMap(([alias, names]) =>
      [...names.ownNames(kind), ...names.usedNames(kind)].map((n) => `${alias}.${n}`),
    );
  }

  /** The declarations under one name, the first of which counts. */
  declarations(kind: DeclaredKind, name: string): readonly Declared[] {
    return inOrder(this.byKey.get(keyOf(kind, name))) ?? [];
  }

  /** The declaration under a name or `library.name`. */
  find(kind: DeclaredKind, name: string, trace?: Trace): Declared | undefined {
    const found = this.findOwn(kind, name);
    trace?.set(this.prefix + keyOf(kind, name), { names: this, kind, name, statement: found?.statement });
    if (!found) {
      trace?.set(this.prefix + keyOf(kind, '*'), {
        names: this,
        kind,
        name: '*',
        statement: undefined,
        turn: this.turnOf(kind),
      });
    }
    return found;
  }

  /** Like `find` for what need not be there: no nearest name is offered, so others of its kind do not matter. */
  findIfAny(kind: DeclaredKind, name: string, trace: Trace): Declared | undefined {
    const found = this.findOwn(kind, name);
    trace.set(this.prefix + keyOf(kind, name), { names: this, kind, name, statement: found?.statement });
    return found;
  }

  /** The name as it is with its library before it, where one has it; else the names that are most like it. */
  nearestTo(kind: DeclaredKind, name: string): readonly string[] {
    const used = this.inLibraries(kind, name);
    if (used.length > 0) return used;
    // The same whatever their order, which would take longer than looking for it.
    return nearestOnes(name, this.withOthers(kind, [...(this.byKind.get(kind)?.keys() ?? [])]));
  }

  /** `trade.white-12` for `white-12`: of several libraries those that are used here themselves, in the alphabet. */
  private inLibraries(kind: DeclaredKind, name: string): readonly string[] {
    // One that is known under two names is told by one of them.
    const once = [...new Map([...this.libraries].reverse().map(([alias, names]) => [names, alias]))];
    const libraries = once.map(([names, alias]) => [alias, names] as const).sort(([a], [b]) => (a < b ? -1 : 1));
    const own = libraries.flatMap(([alias, { byKey }]) => (byKey.has(keyOf(kind, name)) ? [`${alias}.${name}`] : []));
    if (own.length > 0) return own;
    return libraries.flatMap(([alias, names]) => names.inLibraries(kind, name).map((inner) => `${alias}.${inner}`));
  }

  private findOwn(kind: DeclaredKind, name: string): Declared | undefined {
    const dot = name.indexOf('.');
    if (dot > 0) return this.libraries.get(name.slice(0, dot))?.findOwn(kind, name.slice(dot + 1));
    return inOrder(this.byKey.get(keyOf(kind, name)))?.[0] ?? this.starter?.findOwn(kind, name);
  }
}

/** Puts declarations in the order they are written in, whatever the order in which they were entered. */
function inOrder(list: Declared[] | undefined): readonly Declared[] | undefined {
  return list && list.length > 1 ? list.sort(compareWritten) : list;
}

/** By file, then by place. */
export function compareWritten(a: Declared, b: Declared): number {
  const [x, y] = [segmentOf(a.statement).source.id, segmentOf(b.statement).source.id];
  return x === y ? offsetOf(a.statement) - offsetOf(b.statement) : x < y ? -1 : 1;
}

/** Sorts by file, then by place; mostly they are in order already, and then nothing is made. */
export function sortWritten<T>(things: T[], declaredOf: (thing: T) => Declared): void {
  const isSorted = things.every((thing, i) => {
    const before = things[i - 1];
    return before === undefined || compareWritten(declaredOf(before), declaredOf(thing)) <= 0;
  });
  if (!isSorted) things.sort((a, b) => compareWritten(declaredOf(a), declaredOf(b)));
}

export function keyOf(kind: DeclaredKind, name: string): string {
  return `${kind} ${name}`;
}

function declare(statement: Statement, home: Names): Declared | undefined {
  const reading = readingAt(statement, 'file');
  if (!reading) return undefined;
  const kind = reading.word as DeclaredKind;
  const name = declaredName(reading, kind);
  return name === undefined ? undefined : { kind, name, reading, statement, home };
}

function declaredName(reading: Reading, kind: DeclaredKind): string | undefined {
  const of = (path: Path | undefined): string | undefined => path && dotted(path);
  switch (kind) {
    case 'project':
      return 'project';
    case 'stock':
      return of(pathIn(reading, 'material'));
    case 'survey':
      return of(pathIn(reading, 'unit'));
    case 'accept':
      return 'accept';
    default:
      return nameIn(reading)?.text;
  }
}
