/** Which declarations of a project rest on which: by what they extend and are made after, and by the materials they name. */
import { expressionsWithin, type Item, type Path, type Statement } from '../../grammar/tree.ts';
import { lineage } from './lineage.ts';
import { nameOf } from './may-declare.ts';
import { memo } from './memo.ts';
import { type Declared, keyOf, type Names, withLibraries } from './names.ts';
import { type Phrase, type SlotType, slotsOf } from './phrase.ts';
import { dotted, pathIn, type Reading } from './reading.ts';

/** What layouts of others are made from, or held to, by its name. */
export const grounds = ['board', 'rod', 'hardware', 'garment', 'policy'] as const;
export type Ground = (typeof grounds)[number];

export function isGround(word: string): word is Ground {
  return (grounds as readonly string[]).includes(word);
}

export class Resting {
  private readonly names: Names;
  /** What libraries declare is looked at as well. */
  private readonly withLibraries: boolean;
  private readonly users: Kept<string, Statement> = new Map();
  private readonly lines: Kept<Statement, string> = new Map();
  private towers: ReadonlySet<Statement> | undefined;

  constructor(names: Names, withLibraries: boolean) {
    this.names = names;
    this.withLibraries = withLibraries;
  }

  /** Whether a declaration, or the template, the unit or the survey that it rests on, is among some. */
  rests(top: Statement, among: ReadonlySet<Statement>): boolean {
    if (among.has(top)) return true;
    if (among.size === 0) return false;
    const name = nameOf(top);
    switch (top.word.text) {
      case 'template':
        return this.heirs(among).has(name);
      case 'unit':
        return this.isUnitOf(top, among) || this.names.declarations('survey', name).some((d) => among.has(d.statement));
      case 'survey':
        return this.names.declarations('unit', name).some((d) => this.isUnitOf(d.statement, among));
      default:
        return false;
    }
  }

  isUnitOf(unit: Statement, among: ReadonlySet<Statement>): boolean {
    const template = unit.items[1];
    if (among.has(unit)) return true;
    if (template?.kind !== 'path') return false;
    return this.heirs(among).has(dotted(template)) || this.isBuiltOn(template, among);
  }

  /** Whether it is made with one of some materials and such (`board white-12`), or with another one that is. */
  isMadeWith(top: Statement, keys: ReadonlySet<string>): boolean {
    return keys.size > 0 && this.rests(top, this.usersOf(keys));
  }

  /** Whether zones stand between panels in it, so that boards take something of their widths. */
  hasTowers(top: Statement): boolean {
    this.towers ??= new Set(this.everything().flatMap(({ statement }) => (holdsTower(statement) ? [statement] : [])));
    return this.rests(top, this.towers);
  }

  private everything(): readonly Declared[] {
    const all = this.withLibraries ? withLibraries(this.names) : [this.names];
    return [...all].flatMap((names) => [...names.everything()]);
  }

  /** Whether a template of a library, or one that it extends, is among some. */
  private isBuiltOn(template: Path, among: ReadonlySet<Statement>): boolean {
    if (!this.withLibraries) return false;
    for (const { home, statement } of lineage(this.names.find('template', dotted(template))))
      if (home !== this.names && among.has(statement)) return true;
    return false;
  }

  /** The declarations that name one of some, or another one that does. */
  private usersOf(keys: ReadonlySet<string>): ReadonlySet<Statement> {
    return grown(this.users, keys, () => {
      const all = this.everything();
      const known = new Set(keys);
      const using = new Map<string, string[]>();
      for (const { kind, name, reading } of all)
        if (isGround(kind))
          namesSome(reading, (key) => void memo(using, key, (): string[] => []).push(keyOf(kind, name)));
      for (const key of known) for (const user of using.get(key) ?? []) known.add(user);
      const words = [...known].map((key) => key.slice(key.lastIndexOf(' ') + 1));
      const found = all.filter(
        ({ reading, statement: { text } }) =>
          // Most declarations name none of them, and of a few names a text tells that sooner than its words.
          (words.length >= few || words.some((word) => text.includes(word))) &&
          namesSome(reading, (key) => known.has(key)),
      );
      return new Set(found.map(({ statement }) => statement));
    });
  }

  /** The names of templates among some, and of those that extend one of them. */
  private heirs(among: ReadonlySet<Statement>): ReadonlySet<string> {
    return grown(this.lines, among, () => {
      const all = [...this.names.all('template')];
      const found = new Set(all.flatMap(({ name, statement }) => (among.has(statement) ? [name] : [])));
      for (let before = -1; before < found.size; ) {
        before = found.size;
        for (const { name, reading } of all) {
          const base = pathIn(reading, 'base');
          if (base && found.has(dotted(base))) found.add(name);
        }
      }
      return found;
    });
  }
}

/** What was made of a set, while it was so large. */
type Kept<K, V> = Map<ReadonlySet<K>, { readonly size: number; readonly made: ReadonlySet<V> }>;

/** What is made of a set that only grows, made anew where it has grown. */
function grown<K, V>(kept: Kept<K, V>, set: ReadonlySet<K>, make: () => ReadonlySet<V>): ReadonlySet<V> {
  const known = kept.get(set);
  if (known?.size === set.size) return known.made;
  const made = make();
  kept.set(set, { size: set.size, made });
  return made;
}

function holdsTower({ block }: Statement): boolean {
  const inside = block?.children ?? [];
  const holds = (word: string): boolean => inside.some((one) => one.word.text === word);
  return (holds('panels') && holds('zone')) || inside.some(holdsTower);
}

/** Names of which a text can be asked one by one. */
const few = 8;

/** Whether it is so of something that is named where a material and such is named: `board white-12`. */
function namesSome({ entry, slots, children, args }: Reading, isSo: (key: string) => unknown): boolean {
  const ask = (kinds: readonly Ground[]) => (word: string) => kinds.some((kind) => isSo(keyOf(kind, word)));
  return (
    namingSlots(entry.phrase).some(({ name, kinds }) => slots[name]?.some((item) => wordsIn(item, ask(kinds)))) ||
    children.some((child) => namesSome(child, isSo)) ||
    // Of what is given to a parameter, or overridden, the parameter or the thing says what it names.
    args.some((arg) => namesAnything(arg, ask(grounds)))
  );
}

function namesAnything({ items, block }: Statement, isSo: (word: string) => boolean): boolean {
  return (
    items.some((item) => wordsIn(item, isSo)) || (block?.children.some((one) => namesAnything(one, isSo)) ?? false)
  );
}

interface NamingSlot {
  readonly name: string;
  readonly kinds: readonly Ground[];
}

const knownSlots = new WeakMap<Phrase, readonly NamingSlot[]>();

/** The slots of a phrase in which a material and such may be named. */
function namingSlots(phrase: Phrase): readonly NamingSlot[] {
  return memo(knownSlots, phrase, () =>
    slotsOf(phrase)
      .map(({ name, type }) => ({ name, kinds: kindsNamed(type) }))
      .filter(({ kinds }) => kinds.length > 0),
  );
}

function kindsNamed(type: SlotType): readonly Ground[] {
  if (type.kind === 'value') return grounds;
  return type.kind === 'ref' && isGround(type.to) ? [type.to] : [];
}

/** Whether it is so of a word in an item. Between quotation marks nothing is named. */
function wordsIn(item: Item, isSo: (word: string) => boolean): boolean {
  for (const part of expressionsWithin(item))
    if (part.kind === 'path' && part.words.some(({ text }) => isSo(text))) return true;
  return false;
}
