/**
 * One mistake, one finding. What follows from something that cannot be read, and from nothing else, is left out for as
 * long as that is told: once it is mended, whatever is still wrong is told. Nothing is left out where no error stands.
 */
import { type Path, type Statement, topOf } from '../../grammar/tree.ts';
import type { Finding } from './finding.ts';
import { memo } from './memo.ts';
import type { Declared, Names } from './names.ts';
import { literalsOf } from './phrase.ts';
import { dotted, pathIn } from './reading.ts';
import type { Rule } from './rule.ts';
import * as rules from './rules.ts';
import { takesArguments, vocabulary, wordIn } from './vocabulary.ts';

/** Of a thing that something in it cannot be read of: what else it should say may be just that. */
const missing: ReadonlySet<string> = new Set(
  [
    rules.argumentMissing,
    rules.countOpen,
    rules.heightMissing,
    rules.materialMissing,
    rules.phraseNotUnderstood,
    rules.thicknessMissing,
    rules.wallLengthMissing,
    rules.widthMissing,
  ].map(({ id }) => id),
);

/** What is computed from all of a layout, or lacks a fact, and may do so for nothing but what cannot be read in it. */
const incomplete: ReadonlySet<string> = new Set([
  ...[
    rules.heightLoose,
    rules.nameCircle,
    rules.heightsConflict,
    rules.leftOver,
    rules.noRoom,
    rules.roomDoesNotClose,
    rules.surveyNarrower,
    rules.testFailed,
    rules.undecided,
    rules.widthLoose,
    rules.widthsConflict,
  ].map(({ id }) => id),
  'anchor-not-named',
  'depth-not-in-board',
  'depth-unusual',
  'garment-incomplete',
  'hardware-without-role',
  'hook-off-rod',
  'hook-without-bracket',
  'more-brackets-for-load',
  'part-not-carried',
  'rod-without-garment',
  'sag-not-known',
  'shelf-sags',
  'stud-missed',
  'studs-not-stated',
  'survey-differs',
  'tower-not-tied',
]);

/** What no layout is made from: it holds what is there, or is a limit to it. */
const held: ReadonlySet<string> = new Set(['hardware', 'policy']);
const ofHeld: ReadonlySet<string> = new Set(['fixing', 'structure', 'policy', 'access', 'hanging']);

/** All of them, by id; some are of rooms that see this one. */
export const quietRules: ReadonlySet<string> = new Set([...missing, ...incomplete, rules.acceptUnmatched.id]);

const blockTroubles: ReadonlySet<string> = new Set([rules.blockNotClosed.id, rules.blockNotOpened.id]);
/** What layouts of others are made from, by its name. */
const namedGrounds: ReadonlySet<string> = new Set(['board', 'rod', 'hardware', 'garment', 'policy']);

const unreadFiles: ReadonlySet<Rule> = new Set([rules.fileNotText, rules.fileTooLarge, rules.fileUnreadable]);

/** Told of a file of which nothing at all is known: it may declare anything. */
export function isOfUnreadFile(rule: Rule): boolean {
  return unreadFiles.has(rule);
}

/**
 * Findings without what follows from others. `unread` are those of the text alone, `computed` all others; `elsewhere`
 * are errors in libraries, which are not told one by one. Only those may explain anything that are told themselves.
 */
export function withoutConsequences(
  unread: readonly Finding[],
  computed: readonly Finding[],
  names: Names,
  elsewhere: readonly Finding[] = [],
  explains: (f: Finding) => boolean = () => true,
): readonly Finding[] {
  const broken = new Broken(unread.filter(explains), names, elsewhere);
  const isFileUnread = computed.some((f) => isOfUnreadFile(f.rule) && explains(f));
  if (isFileUnread) broken.addFile();
  for (const f of computed) {
    const { rule, place } = f;
    if (!explains(f)) continue;
    const isOfTemplate = place.statement.word.text === 'template';
    if (rule === rules.nameNotKnown && (isFileUnread || isOfTemplate)) broken.addValue(place.statement);
    if (rule === rules.argumentOutOfRange) broken.addSlip(place.statement);
  }
  const known = broken.isAny ? computed.filter((f) => !broken.hidesName(f)) : computed;
  for (const f of known) if (isOfValue(f) && explains(f)) broken.addValue(f.place.statement);
  if (!broken.isAny) return [...unread, ...computed];
  const told = known.filter((f) => !broken.explains(f));
  const ends = endsOfMisspelt(told);
  const follows = ({ rule, place: { statement, start } }: Finding): boolean =>
    rule === rules.unlikelySize
      ? broken.isHead(statement)
      : rule === rules.phraseNotUnderstood && (ends.get(statement) ?? Number.POSITIVE_INFINITY) <= start;
  return [...unread.filter((f) => !follows(f)), ...told];
}

/** Where the words that are misspelt end: what does not fit behind one is told with how that is written. */
function endsOfMisspelt(told: readonly Finding[]): ReadonlyMap<Statement, number> {
  const ends = new Map<Statement, number>();
  for (const f of told) {
    const { statement, end } = f.place;
    if (isMisspelt(f)) ends.set(statement, Math.min(end, ends.get(statement) ?? end));
  }
  return ends;
}

function isMisspelt({ rule, fixes }: Finding): boolean {
  return rule === rules.nameNotKnown && fixes.some(({ byHand }) => !byHand);
}

function isOfValue({ rule, severity }: Pick<Finding, 'rule' | 'severity'>): boolean {
  if (severity !== 'error') return false;
  // A number that is too great was read.
  const isValue = rule.family === 'quantities' && rule !== rules.outOfBounds;
  return isValue || rule === rules.nameNotKnown || rule === rules.useNotFound;
}

/** What cannot be read in a project, and what rests on it. */
class Broken {
  /** Those whose head cannot be read, and those in which a value or a name means nothing. */
  private readonly heads = new Set<Statement>();
  private readonly statements = new Set<Statement>();
  private readonly parents = new Set<Statement>();
  private readonly tops = new Set<Statement>();
  /** Among them those of which a size cannot be read: all that is computed from them may be otherwise. */
  private readonly unsized = new Set<Statement>();
  /** Among them those of which a statement or a size cannot be read. A value of one fitting is left out where it is used. */
  private readonly unread = new Set<Statement>();
  /** Templates of which it cannot be told what parameters they have. */
  private readonly unasked = new Set<Statement>();
  private readonly names: Names;
  /** An error stands in a library. */
  private readonly isElsewhere: boolean;
  /** Names of materials, hardware, garments and policies that cannot be read whole, and of those of which a size cannot. */
  private readonly grounds = new Set<string>();
  private readonly groundsUnsized = new Set<string>();
  /** The same of hardware and policies, of which no layout is made. */
  private readonly heldUnsized = new Set<string>();
  /** Lengths that are told to be slips. */
  private readonly slips = new Set<Statement>();
  private isIncomplete = false;
  private isFile = false;
  private readonly users = new Map<ReadonlySet<string>, ReadonlySet<Statement>>();
  private declares: Declares | undefined;
  private agreeing: string | undefined;
  private readonly lines = new Map<ReadonlySet<Statement>, ReadonlySet<string>>();

  constructor(unread: readonly Finding[], names: Names, elsewhere: readonly Finding[]) {
    this.names = names;
    this.isElsewhere = elsewhere.length > 0;
    for (const { rule, severity, place } of [...unread, ...elsewhere]) {
      if (rule === rules.unlikelySize) this.addSlip(place.statement);
      if (severity !== 'error') continue;
      // All in a block is read, whichever of its braces is missing.
      if (blockTroubles.has(rule.id)) continue;
      const { statement } = place;
      // A unit of measure that is none may have taken in what should stand behind the number.
      if (rule.family === 'text' || rule.family === 'words' || rule === rules.unitNotKnown) this.addHead(statement);
      else this.add(statement);
    }
  }

  get isAny(): boolean {
    return this.isFile || this.statements.size > 0 || this.slips.size > 0;
  }

  /** Its head cannot be read: what is in that means nothing. */
  isHead(statement: Statement): boolean {
    return this.heads.has(statement);
  }

  /** What stands in a file that cannot be read at all may be any declaration. */
  addFile(): void {
    this.isFile = true;
    this.isIncomplete = true;
  }

  /** A value that means nothing was not left out; but an argument that no parameter has may be another one. */
  addValue(statement: Statement): void {
    if (this.isArgument(statement)) this.parents.add(statement.parent as Statement);
    this.add(statement);
  }

  /** A size that is told to be a slip: what else is worth a look there follows from it. */
  addSlip(statement: Statement): void {
    this.slips.add(statement);
  }

  private addHead(statement: Statement): void {
    this.heads.add(statement);
    this.unread.add(topOf(statement));
    if (statement.parent.kind === 'statement') this.parents.add(statement.parent);
    this.add(statement);
  }

  private add(statement: Statement): void {
    this.lines.clear();
    this.users.clear();
    this.statements.add(statement);
    const top = topOf(statement);
    this.tops.add(top);
    const isSize = isOfASize(statement);
    if (isSize) this.unsized.add(top);
    if (isSize) this.unread.add(top);
    if (top.word.text !== 'accept') this.isIncomplete = true;
    const { parent } = statement;
    const isParameter = parent === top && (statement.word.text === 'parameter' || !isWord(statement.word.text));
    if (statement === top || isParameter) this.unasked.add(top);
    const { text } = top.word;
    // What is no word may be one of those, misspelt.
    if (!namedGrounds.has(text) && wordIn('file', text)) return;
    const name = nameOf(top);
    if (name === '') return;
    this.grounds.add(name);
    if (isSize) (held.has(text) ? this.heldUnsized : this.groundsUnsized).add(name);
  }

  /** A name that is not known, where what might declare it cannot be read, or where nothing else of the statement can. */
  hidesName(f: Finding): boolean {
    if (f.rule !== rules.nameNotKnown) return false;
    const { statement, start, end } = this.inLibrary(f).place;
    if (this.isFile) return true;
    if (this.heads.has(statement)) return !isMisspelt(f);
    const words = wordsOf({ text: statement.text.slice(Math.max(start, statement.word.end), end) });
    this.declares ??= declaredBy(this.heads);
    const { anywhere, within } = this.declares;
    const keys = [...words, ...kindsIn(f.sought ?? '').map((kind) => unnamed + kind)];
    if (keys.some((key) => anywhere.has(key))) return true;
    if (keys.some((key) => within.has(key) && this.sees(statement, within.get(key) as ReadonlySet<Statement>)))
      return true;
    return this.isArgument(statement) && this.rests(topOf(statement), this.unasked);
  }

  /** What stands at a statement that cannot be read, or rests on one. */
  explains(told: Finding): boolean {
    const f = this.inLibrary(told);
    const { statement } = f.place;
    const { id } = f.rule;
    if (id === rules.noProject.id || isMisspelt(f)) return false;
    if (isOfValue(f) || id === rules.argumentOutOfRange.id) return this.heads.has(statement);
    const isStrange = this.statements.has(statement) || this.slips.has(statement);
    if (this.heads.has(statement) || (isStrange && f.severity !== 'error')) return true;
    if (id === rules.acceptUnmatched.id) return this.isIncomplete || this.statements.has(statement);
    if (this.isAgreed(f)) return true;
    const isInParent = this.parents.has(statement) || this.parents.has(statement.parent as Statement);
    if (id === rules.argumentMissing.id && this.isOfUnasked(statement)) return true;
    if (missing.has(id) && (this.parents.has(statement) || this.statements.has(statement))) return true;
    if (isInParent && (f.severity !== 'error' || id === rules.countOpen.id)) return true;
    const top = topOf(statement);
    const isGrave = f.severity === 'error';
    if (!isGrave && (this.isFile || this.rests(top, this.unsized))) return true;
    const isOfHeld = !isGrave && ofHeld.has(f.rule.family);
    if (isOfHeld && this.rests(top, this.usersOf(this.heldUnsized))) return true;
    if (isGrave && !incomplete.has(id)) return false;
    if (this.rests(top, this.usersOf(this.groundsUnsized))) return true;
    if (!incomplete.has(id)) return false;
    return this.isFile || this.rests(top, this.unread) || (!isGrave && this.rests(top, this.usersOf(this.grounds)));
  }

  /** As it stands in the template of a library: it is told at a unit, as whoever uses a library does not read it. */
  private inLibrary(f: Finding): Finding {
    const place = f.related[0]?.place;
    if (!this.isElsewhere || f.reach.length === 0 || !place || topOf(f.place.statement).word.text !== 'unit') return f;
    const top = topOf(place.statement);
    const isOwn = this.names.declarations('template', nameOf(top)).some(({ statement }) => statement === top);
    return isOwn || top.word.text !== 'template' ? f : { ...f, place };
  }

  /** Whether a template of a library, or one that it extends, is among some. */
  private isBuiltOn(template: Path, among: ReadonlySet<Statement>): boolean {
    if (!this.isElsewhere) return false;
    const seen = new Set<Statement>();
    let found = this.names.find('template', dotted(template));
    while (found && !seen.has(found.statement)) {
      if (found.home !== this.names && among.has(found.statement)) return true;
      seen.add(found.statement);
      const base = pathIn(found.reading, 'base');
      found = base && found.home.find('template', dotted(base));
    }
    return false;
  }

  /** The declarations that name one of some, or another one that does. */
  private usersOf(grounds: ReadonlySet<string>): ReadonlySet<Statement> {
    return memo(this.users, grounds, () => {
      const found = new Set<Statement>();
      if (grounds.size === 0) return found;
      const all = [...everythingIn(this.names, this.isElsewhere)].map(({ statement }) => statement);
      const known = new Set(grounds);
      const using = new Map<string, Statement[]>();
      for (const statement of all) {
        if (!namedGrounds.has(statement.word.text)) continue;
        for (const word of wordsOf(statement)) memo(using, word, () => []).push(statement);
      }
      for (const name of known) for (const user of using.get(name) ?? []) known.add(nameOf(user));
      const names = [...known];
      for (const statement of all) {
        if (known.size < few && !names.some((name) => statement.text.includes(name))) continue;
        if (wordsOf(statement).some((word) => known.has(word))) found.add(statement);
      }
      return found;
    });
  }

  /** What it agrees to cannot be read, or that it does. */
  private isAgreed({ rule, severity }: Finding): boolean {
    if (severity === 'error') return false;
    this.agreeing ??= [...this.heads]
      .filter(
        ({ parent, word, text }) => parent.kind === 'segment' && (word.text === 'accept' || text.includes(' because ')),
      )
      .map(({ text }) => text)
      .join('\n');
    return this.agreeing.includes(rule.id);
  }

  /** A unit or a test of a template whose parameters cannot be told. */
  private isOfUnasked(statement: Statement): boolean {
    const top = topOf(statement);
    return top.word.text === 'unit' ? this.isUnitOf(top, this.unasked) : this.rests(top, this.unasked);
  }

  private isArgument({ parent, word }: Statement): boolean {
    if (parent.kind !== 'statement') return false;
    const place = parent.word.text === 'unit' ? 'unit' : parent.word.text === 'test' ? 'template-test' : undefined;
    return place !== undefined && takesArguments(place) && !wordIn(place, word.text);
  }

  /** A template sees what is in those it extends, a unit and its survey what is in its template. */
  private sees(statement: Statement, tops: ReadonlySet<Statement>): boolean {
    return this.rests(topOf(statement), tops);
  }

  /** Whether a declaration, or the template, the unit or the survey that it rests on, is among some. */
  private rests(top: Statement, among: ReadonlySet<Statement>): boolean {
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

  private isUnitOf(unit: Statement, among: ReadonlySet<Statement>): boolean {
    const template = unit.items[1];
    if (among.has(unit)) return true;
    if (template?.kind !== 'path') return false;
    return this.heirs(among).has(dotted(template)) || this.isBuiltOn(template, among);
  }

  /** The names of templates among some, and of those that extend one of them. */
  private heirs(among: ReadonlySet<Statement>): ReadonlySet<string> {
    const known = this.lines.get(among);
    if (known) return known;
    const all = [...this.names.all('template')];
    const found = new Set(all.flatMap(({ name, statement }) => (among.has(statement) ? [name] : [])));
    for (let before = -1; before < found.size; ) {
      before = found.size;
      for (const { name, reading } of all) {
        const base = pathIn(reading, 'base');
        if (base && found.has(dotted(base))) found.add(name);
      }
    }
    this.lines.set(among, found);
    return found;
  }
}

/** All declarations of a project, and of the libraries it uses where they matter. */
function* everythingIn(names: Names, withLibraries: boolean): Generator<Declared> {
  yield* names.everything();
  if (withLibraries) for (const library of names.libraries.values()) yield* everythingIn(library, true);
}

/** `white-12` of `board white-12`. */
function nameOf({ items: [first] }: Statement): string {
  return first?.kind === 'path' ? dotted(first) : '';
}

/** Words of which the sizes of all of a layout are made: a fitting that cannot be read leaves the others where they are. */
const sizes: ReadonlySet<string> = new Set(
  'template unit survey board rod hardware garment wall zone gap parameter width length depth thickness takes'.split(
    ' ',
  ),
);
const fittings: ReadonlySet<string> = new Set(['shelf', 'shelves', 'rod', 'drawers', 'panels', 'override']);

function isOfASize({ word, parent }: Statement): boolean {
  const within = parent.kind === 'statement' && parent.parent.kind === 'statement' ? parent.word.text : '';
  // How high a stack of drawers is moves all that stands on it.
  if (within === 'drawers' && (word.text === 'height' || word.text === 'count')) return true;
  return !fittings.has(within) && (sizes.has(word.text) || !isWord(word.text));
}

const words = new Set(vocabulary.map(({ word }) => word));

function isWord(text: string): boolean {
  return words.has(text);
}

/** Of so few names it is looked first whether a text has any of them. */
const few = 8;

function wordsOf({ text }: Pick<Statement, 'text'>): readonly string[] {
  return text.match(/[\p{L}\p{N}_-]+/gu) ?? [];
}

/** What statements that cannot be read may declare: names, and what has no name yet by its kind. */
interface Declares {
  readonly anywhere: ReadonlySet<string>;
  /** By the declarations in which they stand. */
  readonly within: ReadonlyMap<string, ReadonlySet<Statement>>;
}

/** Before the kind of what should have a name, so that it is none itself. */
const unnamed = 'some ';

function declaredBy(heads: Iterable<Statement>): Declares {
  const anywhere = new Set<string>();
  const within = new Map<string, Set<Statement>>();
  for (const head of heads) {
    const { word, text } = head;
    const keys = wordsOf({ text: wordIn('file', word.text) ? text.slice(0, head.head.end) : text });
    const isUnnamed = declaring.test(word.text) && !isNamed(head);
    for (const key of isUnnamed ? [...keys, unnamed + word.text] : keys) {
      if (head.parent.kind === 'segment') anywhere.add(key);
      else memo(within, key, () => new Set<Statement>()).add(topOf(head));
    }
  }
  return { anywhere, within };
}

/** The words by which something of the kinds that are spoken of is declared: `board or rod`. */
function kindsIn(spoken: string): string[] {
  return wordsOf({ text: spoken }).flatMap((word) => spokenOf[word] ?? [word]);
}

const spokenOf: Readonly<Record<string, readonly string[]>> = { zone: ['zone', 'gap'], shelf: ['shelf', 'shelves'] };

const declaring =
  /^(?:board|rod|hardware|garment|policy|template|unit|zone|gap|shelf|shelves|panels|drawers|wall|opening|fixture|parameter|use|stock)$/;

/** A statement that cannot be read and has one of these words in it, or should have a name and has none. */
function mayDeclare(head: Statement, words: readonly string[]): boolean {
  if (declaring.test(head.word.text) && !isNamed(head)) return true;
  const text = wordIn('file', head.word.text) ? head.text.slice(0, head.head.end) : head.text;
  return words.some((word) => word !== '' && new RegExp(`(?<![\\w-])${escaped(word)}(?![\\w-])`).test(text));
}

/** Whether a name stands behind the first word, and not what should follow it. */
function isNamed({ word, items: [first] }: Statement): boolean {
  if (first?.kind !== 'path') return false;
  return !literals.has(`${word.text} ${first.words[0]?.text}`);
}

/** Words with those that may stand among what follows them. */
const literals = new Set(vocabulary.flatMap(({ word, phrase }) => literalsOf(phrase).map((text) => `${word} ${text}`)));

/** Whether a top-level statement that cannot be read may say in which lengths a material can be had. */
export function mayStock(unread: readonly Finding[], material: string): boolean {
  return unread.some(({ rule, severity, place: { statement } }) => {
    const isTop = statement.parent.kind === 'segment' && severity === 'error' && rule.family === 'words';
    const { text } = statement.word;
    return isTop && (text === 'stock' || !wordIn('file', text)) && mayDeclare(statement, [material]);
  });
}

function escaped(word: string): string {
  return word.replaceAll(/[^\w-]/g, '\\$&');
}
