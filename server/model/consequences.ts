/**
 * One mistake, one finding. What follows from something that cannot be read, and from nothing else, is left out for as
 * long as that is told: once it is mended, whatever is still wrong is told. Nothing is left out where no error stands.
 */
import { type Statement, topOf } from '../../grammar/tree.ts';
import type { Finding } from './finding.ts';
import { memo } from './memo.ts';
import type { Names } from './names.ts';
import { literalsOf } from './phrase.ts';
import { dotted, pathIn } from './reading.ts';
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

/** All of them, by id; some are of rooms that see this one. */
export const quietRules: ReadonlySet<string> = new Set([...missing, ...incomplete, rules.acceptUnmatched.id]);

const blockTroubles: ReadonlySet<string> = new Set([rules.blockNotClosed.id, rules.blockNotOpened.id]);
/** What layouts of others are made from. */
const grounds: ReadonlySet<string> = new Set(['project', 'use', 'board', 'rod', 'hardware', 'garment', 'policy']);

/** Of those, what is used by its name. */
const namedGrounds: ReadonlySet<string> = new Set(['board', 'rod', 'hardware', 'garment', 'policy']);

/** Findings without what follows from others. `unread` are those of the text alone, `computed` all others. */
export function withoutConsequences(
  unread: readonly Finding[],
  computed: readonly Finding[],
  names: Names,
): readonly Finding[] {
  const broken = new Broken(unread, names);
  for (const { rule, place } of computed) {
    if (rule === rules.nameNotKnown && place.statement.word.text === 'template') broken.addValue(place.statement);
    if (rule === rules.argumentOutOfRange) broken.addSlip(place.statement);
  }
  const known = broken.isAny ? computed.filter((f) => !broken.hidesName(f)) : computed;
  for (const { place, ...f } of known) if (isOfValue(f)) broken.addValue(place.statement);
  if (!broken.isAny) return [...unread, ...computed];
  const told = known.filter((f) => !broken.explains(f));
  return [...unread.filter((f) => !isOfAWord(f, told)), ...told];
}

/** What does not fit behind a word that is misspelt: the word is told of, and how it is written. */
function isOfAWord({ rule, place }: Finding, told: readonly Finding[]): boolean {
  if (rule !== rules.phraseNotUnderstood) return false;
  return told.some((f) => isMisspelt(f) && f.place.statement === place.statement && f.place.end <= place.start);
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
  /** Names of materials, hardware, garments and policies that cannot be read whole, and of those of which a size cannot. */
  private readonly grounds = new Set<string>();
  private readonly groundsUnsized = new Set<string>();
  /** A declaration that may be any, or of anything, cannot be read. */
  private isGround = false;
  private isGroundUnsized = false;
  private isIncomplete = false;
  private readonly users = new Map<ReadonlySet<string>, ReadonlySet<Statement>>();
  private readonly lines = new Map<ReadonlySet<Statement>, ReadonlySet<string>>();

  constructor(unread: readonly Finding[], names: Names) {
    this.names = names;
    for (const { rule, severity, place } of unread) {
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
    return this.statements.size > 0;
  }

  /** A value that means nothing was not left out; but an argument that no parameter has may be another one. */
  addValue(statement: Statement): void {
    if (this.isArgument(statement)) this.parents.add(statement.parent as Statement);
    this.add(statement);
  }

  /** A size that is told to be a slip: what else is worth a look there follows from it. */
  addSlip(statement: Statement): void {
    this.statements.add(statement);
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
    // What is no word at all may be any.
    if (!grounds.has(top.word.text) && wordIn('file', top.word.text)) return;
    const name = namedGrounds.has(top.word.text) && statement !== top ? nameOf(top) : '';
    if (name !== '') {
      this.grounds.add(name);
      if (isSize) this.groundsUnsized.add(name);
      return;
    }
    this.isGround = true;
    if (isSize) this.isGroundUnsized = true;
  }

  /** A name that is not known, where what might declare it cannot be read, or where nothing else of the statement can. */
  hidesName(f: Finding): boolean {
    const { statement, start, end } = f.place;
    if (f.rule !== rules.nameNotKnown) return false;
    if (this.heads.has(statement)) return !isMisspelt(f);
    const words = statement.text.slice(start, end).split('.');
    for (const head of this.heads) {
      if (mayDeclare(head, words) && (head.parent.kind === 'segment' || this.sees(statement, topOf(head)))) return true;
    }
    return this.isArgument(statement) && this.rests(topOf(statement), this.unasked);
  }

  /** What stands at a statement that cannot be read, or rests on one. */
  explains(f: Finding): boolean {
    const { statement } = f.place;
    const { id } = f.rule;
    if (id === rules.noProject.id || isMisspelt(f)) return false;
    if (isOfValue(f) || id === rules.argumentOutOfRange.id) return this.heads.has(statement);
    if (this.heads.has(statement) || (this.statements.has(statement) && f.severity !== 'error')) return true;
    if (id === rules.acceptUnmatched.id) return this.isIncomplete || this.statements.has(statement);
    if (this.isAgreed(f)) return true;
    const isInParent = this.parents.has(statement) || this.parents.has(statement.parent as Statement);
    if (id === rules.argumentMissing.id && this.isOfUnasked(statement)) return true;
    if (missing.has(id) && (this.parents.has(statement) || this.statements.has(statement))) return true;
    if (isInParent && (f.severity !== 'error' || id === rules.countOpen.id)) return true;
    const top = topOf(statement);
    if (f.severity !== 'error' && (this.isGroundUnsized || this.rests(top, this.unsized))) return true;
    if (f.severity !== 'error' && this.rests(top, this.usersOf(this.groundsUnsized))) return true;
    if (!incomplete.has(id)) return false;
    return this.isGround || this.rests(top, this.unread) || this.rests(top, this.usersOf(this.grounds));
  }

  /** The declarations that name one of some, or another one that does. */
  private usersOf(grounds: ReadonlySet<string>): ReadonlySet<Statement> {
    return memo(this.users, grounds, () => {
      const found = new Set<Statement>();
      const known = new Set(grounds);
      for (let before = -1; known.size > before && known.size > 0; ) {
        before = known.size;
        const named = new RegExp(`(?<![\\w-])(?:${[...known].map(escaped).join('|')})(?![\\w-])`);
        for (const { statement } of this.names.everything()) {
          if (found.has(statement) || !named.test(statement.text)) continue;
          found.add(statement);
          if (namedGrounds.has(statement.word.text)) known.add(nameOf(statement));
        }
      }
      return found;
    });
  }

  /** What it agrees to cannot be read, or that it does. */
  private isAgreed({ rule, severity }: Finding): boolean {
    if (severity === 'error') return false;
    return [...this.heads].some(
      ({ parent, word, text }) =>
        parent.kind === 'segment' && (word.text === 'accept' || !wordIn('file', word.text)) && text.includes(rule.id),
    );
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
  private sees(statement: Statement, top: Statement): boolean {
    return topOf(statement) === top || this.rests(topOf(statement), this.tops);
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
    return among.has(unit) || (template?.kind === 'path' && this.heirs(among).has(dotted(template)));
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
  return !fittings.has(within) && (sizes.has(word.text) || !isWord(word.text));
}

const words = new Set(vocabulary.map(({ word }) => word));

function isWord(text: string): boolean {
  return words.has(text);
}

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
