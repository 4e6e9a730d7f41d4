/**
 * One mistake, one finding. What follows from something that cannot be read, and from nothing else, is left out for as
 * long as that is told: once it is mended, whatever is still wrong is told. So is what is worth a look beside a length
 * that is told to be a slip. Nothing is left out where neither is told.
 */
import { outwards, type Path, type Statement, topOf } from '../../grammar/tree.ts';
import { besideUnbraced, unbraced } from './brace-slips.ts';
import { type SaidAround, unreadAround } from './consequences-inside.ts';
import { isOfASize, isOfLayout, isOfTrade, isWord } from './consequences-words.ts';
import type { Finding } from './finding.ts';
import { type Declares, declaredBy, keysSought, kindsIn, meantAtTop, nameOf } from './may-declare.ts';
import { keyOf, type Names } from './names.ts';
import { meansProject } from './project-declared.ts';
import { dotted } from './reading.ts';
import { type Ground, isGround, Resting } from './resting.ts';
import type { Rule } from './rule.ts';
import * as rules from './rules.ts';
import { takesArguments, wordIn } from './vocabulary.ts';

/** What no layout is made from: it holds what is there, or is a limit to it. */
const held: ReadonlySet<string> = new Set(['hardware', 'policy']);
const ofHeld: ReadonlySet<string> = new Set(['fixing', 'structure', 'policy', 'access', 'hanging']);

const blockTroubles: ReadonlySet<string> = new Set([rules.blockNotClosed.id, rules.blockNotOpened.id]);

const unreadFiles: ReadonlySet<Rule> = new Set([rules.fileNotText, rules.fileTooLarge, rules.fileUnreadable]);

/** Told of a file of which nothing at all is known: it may declare anything. */
export function isOfUnreadFile(rule: Rule): boolean {
  return unreadFiles.has(rule);
}

/**
 * Findings without what follows from others. `unread` are those of the text alone, `computed` all others; `ofLibraries`
 * are errors in libraries, which are not told one by one. From others follows only what follows from one that is told.
 */
export function withoutConsequences(
  unread: readonly Finding[],
  computed: readonly Finding[],
  names: Names,
  ofLibraries: readonly Finding[] = [],
  isTold: (f: Finding) => boolean = () => true,
): readonly Finding[] {
  const lacking = unbraced(unread.filter(isTold));
  return besideUnbraced(
    withoutWhatFollows([...unread, ...lacking.told], computed, names, ofLibraries, isTold),
    lacking,
  );
}

function withoutWhatFollows(
  unread: readonly Finding[],
  computed: readonly Finding[],
  names: Names,
  ofLibraries: readonly Finding[],
  isTold: (f: Finding) => boolean,
): readonly Finding[] {
  const broken = new Broken(unread.filter(isTold), names, ofLibraries);
  const isFileUnread = computed.some((f) => isOfUnreadFile(f.rule) && isTold(f));
  if (isFileUnread) broken.addFile();
  for (const f of computed) {
    const { rule, place } = f;
    if (!isTold(f)) continue;
    const isOfTemplate = place.statement.word.text === 'template';
    if (rule === rules.nameNotKnown && (isFileUnread || isOfTemplate)) broken.addValue(place.statement);
    if (rule === rules.argumentOutOfRange) broken.addSlip(place.statement);
  }
  const known = broken.isAny ? computed.filter((f) => !broken.hidesName(f)) : computed;
  for (const f of known) if (isOfValue(f) && isTold(f)) broken.addValue(f.place.statement);
  if (!broken.isAny) return [...unread, ...computed];
  const left = known.filter((f) => !broken.hides(f));
  const ends = endsOfMisspelt(left);
  const follows = ({ rule, place: { statement, start } }: Finding): boolean =>
    rule === rules.unlikelySize
      ? broken.isHead(statement)
      : (rule === rules.phraseNotUnderstood || rule === rules.blockNotExpected) &&
        (ends.get(statement) ?? Number.POSITIVE_INFINITY) <= start;
  return [...unread.filter((f) => !follows(f)), ...left];
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

/** It cannot be read, and would declare the project if its word were written right. */
function mayBeProject({ word, parent }: Statement): boolean {
  return parent.kind === 'segment' && (word.text === 'project' || meansProject(word.text));
}

/** What could declare a name has a gap; another name in its place is a spelling, also where several may be meant. */
function isMisspelt({ rule, fixes, sought }: Finding): boolean {
  return (
    rule === rules.nameNotKnown && fixes.some(({ byHand, gap }) => !byHand || (sought !== undefined && gap !== true))
  );
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
  /** Those in whose block a statement cannot be read: what they seem to lack may be just that. */
  private readonly gaps = new Set<Statement>();
  /** Declarations of which a size cannot be read: all that is computed from them may be otherwise. */
  private readonly unsized = new Set<Statement>();
  /** Those of which a statement or a size cannot be read. A value of one fitting is left out where it is used. */
  private readonly unread = new Set<Statement>();
  /** Templates of which it cannot be told what parameters they have. */
  private readonly unasked = new Set<Statement>();
  /** Materials and such that cannot be read whole, by kind and name; then those of which a size cannot. */
  private readonly grounds = new Set<string>();
  private readonly groundsUnsized = new Set<string>();
  private readonly boardsUnsized = new Set<string>();
  /** The same of hardware and policies, of which no layout is made. */
  private readonly heldUnsized = new Set<string>();
  private readonly policies = new Set<string>();
  /** Lengths that are told to be slips. */
  private readonly slips = new Set<Statement>();
  private readonly names: Names;
  /** Errors stand in libraries. */
  private readonly areInLibraries: boolean;
  private readonly resting: Resting;
  private isIncomplete = false;
  private isFile = false;
  private declares: Declares | undefined;
  private around: ReturnType<typeof unreadAround> | undefined;
  private agreements: readonly Unagreed[] | undefined;

  constructor(unread: readonly Finding[], names: Names, ofLibraries: readonly Finding[]) {
    this.names = names;
    this.areInLibraries = ofLibraries.length > 0;
    this.resting = new Resting(names, this.areInLibraries);
    for (const { rule, severity, place } of [...unread, ...ofLibraries]) {
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
    if (this.isArgument(statement)) this.gaps.add(statement.parent as Statement);
    this.add(statement);
  }

  /** A size that is told to be a slip: what else is worth a look there follows from it. */
  addSlip(statement: Statement): void {
    this.slips.add(statement);
  }

  private addHead(statement: Statement): void {
    this.heads.add(statement);
    this.unread.add(topOf(statement));
    if (statement.parent.kind === 'statement') this.gaps.add(statement.parent);
    this.add(statement);
  }

  private add(statement: Statement): void {
    this.statements.add(statement);
    const top = topOf(statement);
    const isSize = isOfASize(statement);
    if (isSize) this.unsized.add(top);
    if (isSize) this.unread.add(top);
    if (top.word.text !== 'accept') this.isIncomplete = true;
    const { parent } = statement;
    const isParameter = parent === top && (statement.word.text === 'parameter' || !isWord(statement.word.text));
    if (statement === top || isParameter) this.unasked.add(top);
    if (isOfTrade(statement)) return;
    for (const kind of this.groundsOf(top)) this.addGround(kind, nameOf(top), isSize);
  }

  private addGround(kind: Ground, name: string, isSize: boolean): void {
    const key = keyOf(kind, name);
    this.grounds.add(key);
    if (kind === 'policy') this.policies.add(key);
    if (!isSize) return;
    (held.has(kind) ? this.heldUnsized : this.groundsUnsized).add(key);
    if (kind === 'board') this.boardsUnsized.add(key);
  }

  /** The kinds of materials and such of which a declaration is one, or would be one if its word were written right. */
  private groundsOf(top: Statement): readonly Ground[] {
    const { text } = top.word;
    const name = nameOf(top);
    if (name === '') return [];
    if (isGround(text)) return [text];
    if (isWord(name)) return [];
    return meantAtTop(text)
      .filter(isGround)
      .filter((kind) => this.names.declarations(kind, name).length === 0);
  }

  /** A name that is not known, where what might declare it cannot be read, or where nothing else of the statement can. */
  hidesName(f: Finding): boolean {
    if (f.rule !== rules.nameNotKnown) return false;
    const hides = this.mayBeDeclared(this.inLibrary(f));
    if (hides) this.addUndeclared(f);
    return hides;
  }

  private mayBeDeclared(f: Finding): boolean {
    const { statement } = f.place;
    if (this.isFile) return true;
    if (this.heads.has(statement)) return !isMisspelt(f);
    this.declares ??= declaredBy(this.heads);
    const { anywhere, within } = this.declares;
    const keys = keysSought(f);
    if (keys.some((key) => anywhere.has(key))) return true;
    const top = topOf(statement);
    // A template sees what is in those it extends, a unit and its survey what is in its template.
    if (keys.some((key) => within.has(key) && this.resting.rests(top, within.get(key) as ReadonlySet<Statement>)))
      return true;
    // What stands on a wall of which nothing is known is not there.
    if (isOfLayout(statement) && this.mayHaveSaid('wall', statement)) return true;
    return this.isArgument(statement) && this.resting.rests(top, this.unasked);
  }

  /** A line that cannot be read may say it: in what a statement stands in, or in what that is built on. */
  private mayHaveSaid(word: SaidAround, statement: Statement): boolean {
    this.around ??= unreadAround(this.heads, this.names);
    const blocks = this.around.get(word);
    if (!blocks) return false;
    return outwards(statement).some((one) => blocks.has(one)) || this.resting.rests(topOf(statement), blocks);
  }

  /** A material that is named, and declared by nothing that can be read, is one that cannot be read. */
  private addUndeclared({ sought = '', place: { statement, start, end } }: Finding): void {
    const name = statement.text.slice(start, end).split('.').at(-1) ?? '';
    for (const kind of kindsIn(sought).filter(isGround)) this.addGround(kind, name, true);
  }

  /** Whether a finding follows from what cannot be read, or from a slip: it stands there, or rests on it. */
  hides(told: Finding): boolean {
    const f = this.inLibrary(told);
    const { statement } = f.place;
    const { id, quiet } = f.rule;
    const isGrave = f.severity === 'error';
    if (id === rules.noProject.id) return [...this.heads].some(mayBeProject);
    if (isMisspelt(f)) return false;
    if (isOfValue(f) || id === rules.argumentOutOfRange.id) return this.heads.has(statement);
    const isStrange = this.statements.has(statement) || this.slips.has(statement);
    if (this.heads.has(statement) || (isStrange && !isGrave)) return true;
    if (id === rules.acceptUnmatched.id) return this.isIncomplete || this.statements.has(statement);
    if (this.isAgreed(f)) return true;
    if (id === rules.argumentMissing.id && this.isOfUnasked(statement)) return true;
    if (
      id === rules.materialMissing.id &&
      this.mayHaveSaid(statement.word.text === 'rod' ? 'pole' : 'board', statement)
    )
      return true;
    if (quiet === 'thing' && (this.gaps.has(statement) || this.statements.has(statement))) return true;
    const isInGap = this.gaps.has(statement) || this.gaps.has(statement.parent as Statement);
    if (isInGap && (!isGrave || id === rules.countOpen.id)) return true;
    return this.restsOnUnread(f);
  }

  private restsOnUnread({ rule, severity, place }: Finding): boolean {
    const { quiet, family } = rule;
    const { resting } = this;
    const top = topOf(place.statement);
    const isMild = severity !== 'error';
    // A test may fail for anything that the rules find.
    const isOfAll = isMild || rule === rules.testFailed;
    if (isMild && (this.isFile || resting.rests(top, this.unsized))) return true;
    if ((isMild || quiet === 'anything') && ofHeld.has(family) && resting.isMadeWith(top, this.heldUnsized))
      return true;
    if (quiet === undefined || quiet === 'thing') return isMild && resting.isMadeWith(top, this.groundsUnsized);
    if (this.isFile || resting.rests(top, this.unread)) return true;
    // In a policy it may have been said that it is not told.
    if (isOfAll && this.isHeldTo(top, this.policies)) return true;
    switch (quiet) {
      case 'declaration':
        return false;
      case 'widths':
        return resting.isMadeWith(top, this.boardsUnsized) && resting.hasTowers(top);
      case 'heights':
        return resting.isMadeWith(top, this.boardsUnsized);
      case 'anything':
        return resting.isMadeWith(top, isOfAll ? this.grounds : this.groundsUnsized);
    }
  }

  /** A policy is in force in what names it, and in all where the project does. */
  private isHeldTo(top: Statement, policies: ReadonlySet<string>): boolean {
    const projects = this.names.declarations('project', 'project');
    return [top, ...projects.map(({ statement }) => statement)].some((one) => this.resting.isMadeWith(one, policies));
  }

  /** As it stands in the template of a library: it is told at a unit, as whoever uses a library does not read it. */
  private inLibrary(f: Finding): Finding {
    const place = f.related[0]?.place;
    if (!this.areInLibraries || f.reach.length === 0 || !place || topOf(f.place.statement).word.text !== 'unit')
      return f;
    const top = topOf(place.statement);
    const isOwn = this.names.declarations('template', nameOf(top)).some(({ statement }) => statement === top);
    return isOwn || top.word.text !== 'template' ? f : { ...f, place };
  }

  /** It may be what an `accept` that cannot be read agrees to. */
  private isAgreed(f: Finding): boolean {
    if (f.severity === 'error') return false;
    this.agreements ??= [...this.heads].flatMap(agreementIn);
    return this.agreements.some(({ words, at }) => words.has(f.rule.id) && (!at || this.reaches(at, f)));
  }

  /** It is about all that the finding is of, or about that in it which the finding is about. */
  private reaches(at: Path, { about, reach, place, related }: Finding): boolean {
    const words = at.words.map(({ text }) => text);
    const isAbout = (from: number): boolean => {
      const rest = words.slice(from).join('.');
      return rest === '' || about === rest || about?.startsWith(`${rest}.`) === true;
    };
    const units = reach.length > 0 ? reach : [nameOf(topOf(place.statement))];
    if (units.every((name) => name === words[0]) && isAbout(1)) return true;
    const tops = [place, ...related.map((one) => one.place)].map(({ statement }) => topOf(statement));
    return words.some((_, i) => {
      const template = this.names.find('template', words.slice(0, i + 1).join('.'));
      return template !== undefined && tops.includes(template.statement) && isAbout(i + 1);
    });
  }

  /** A unit or a test of a template whose parameters cannot be told. */
  private isOfUnasked(statement: Statement): boolean {
    const top = topOf(statement);
    return top.word.text === 'unit' ? this.resting.isUnitOf(top, this.unasked) : this.resting.rests(top, this.unasked);
  }

  private isArgument({ parent, word }: Statement): boolean {
    if (parent.kind !== 'statement') return false;
    const place = parent.word.text === 'unit' ? 'unit' : parent.word.text === 'test' ? 'template-test' : undefined;
    return place !== undefined && takesArguments(place) && !wordIn(place, word.text);
  }
}

/** What an `accept` that cannot be read may agree to: a rule among its words, at the place that it names, if it does. */
interface Unagreed {
  readonly words: ReadonlySet<string>;
  readonly at: Path | undefined;
}

function agreementIn({ parent, word, items }: Statement): Unagreed[] {
  const paths = items.filter((item) => item.kind === 'path');
  const words = [word.text, ...paths.map(dotted)];
  const isOne = word.text === 'accept' || meantAtTop(word.text).includes('accept') || words.includes('because');
  if (parent.kind !== 'segment' || !isOne) return [];
  // Counted from the first word, so that the path behind `at` stands at the place of `at` among the others.
  const at = paths[words.indexOf('at')];
  return [{ words: new Set(words), at: at && dotted(at) !== 'because' ? at : undefined }];
}
