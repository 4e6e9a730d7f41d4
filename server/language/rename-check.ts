/**
 * Whether every name still means what it meant once a thing has its new name. The files that change are read
 * again beside the project, and all that is called by the old or the new name is asked once more what it means.
 */
import { Source } from '../../grammar/source.ts';
import { offsetOf, type Segment, type SourceRef, type Statement, segmentOf, topOf } from '../../grammar/tree.ts';
import type { Steps } from '../checks/steps.ts';
import { memo } from '../model/memo.ts';
import { type Declared, Names } from '../model/names.ts';
import type { Project } from '../model/project.ts';
import { pathIn } from '../model/reading.ts';
import { keywords, topWords } from '../model/vocabulary.ts';
import { identityOf, type Meaning } from './meaning.ts';
import { type Occurrence, occurrencesIn, occurrencesWithin } from './occurrences.ts';
import type { TextEdit } from './snapshot.ts';
import { capital, placeText, spoken } from './spoken.ts';
import { lineageFrom } from './things.ts';

/** Of files as they are, or as they will be. */
type Place = Occurrence<SourceRef>;

export interface Renaming {
  readonly from: string;
  readonly to: string;
  /** All that has its name from what is renamed, that itself first. */
  readonly meanings: readonly Meaning[];
}

/** What would mean something else, as a sentence; undefined where nothing would. */
export function* clashOf(
  projects: readonly Project[],
  edits: readonly TextEdit[],
  renaming: Renaming,
): Steps<string | undefined> {
  const texts = new EditedTexts(edits, renaming);
  for (const project of projects) {
    const why = texts.reaches(project) ? yield* clashIn(project, texts, renaming) : undefined;
    if (why !== undefined) return why;
  }
  return undefined;
}

function* clashIn(project: Project, texts: EditedTexts, renaming: Renaming): Steps<string | undefined> {
  const names = yield* texts.namesAfter(project.names);
  const why = yield* clashAmong(
    texts,
    renaming,
    (word) => occurrencesIn(project, word),
    (word) => occurrencesAfter(project, texts, names, word),
  );
  return why ?? (yield* clashInherited(project, texts, names, renaming));
}

/** Each word asked for what it means where it stands, before and after. */
function* clashAmong(
  texts: EditedTexts,
  { from, to, meanings }: Renaming,
  occurrencesBefore: (word: string) => Iterable<Place>,
  occurrencesAfterwards: (word: string) => Iterable<Place>,
  heir?: Declared,
): Steps<string | undefined> {
  for (const word of [to, from]) {
    const before = new Map<string, Place>();
    for (const one of occurrencesBefore(word)) {
      if (!texts.isEdited(one)) before.set(texts.placeAfter(one), one);
      yield;
    }
    for (const one of word === to ? occurrencesBefore(from) : []) {
      if (texts.isEdited(one)) before.set(texts.placeAfter(one), one);
      yield;
    }
    for (const after of occurrencesAfterwards(word)) {
      yield;
      const key = keyOf(after.source.id, after.start);
      const was = before.get(key);
      before.delete(key);
      if (!was || texts.meansTheSame(was, after)) continue;
      if (!texts.isEdited(was)) return captured(was, to, meanings, heir);
      return misread(was, to, after.meanings[0], heir);
    }
    const [lost] = before.values();
    if (lost) return texts.isEdited(lost) ? misread(lost, to, undefined, heir) : captured(lost, to, meanings, heir);
  }
  return undefined;
}

/** What a template inherits is read with its own names before those of the template where it is written. */
function* clashInherited(
  project: Project,
  texts: EditedTexts,
  names: Names,
  renaming: Renaming,
): Steps<string | undefined> {
  const { from, to } = renaming;
  const heirsAfter = new Map(heirsIn(names).map((heir) => [keyOfHead(heir.statement), heir]));
  for (const heir of heirsIn(project.names)) {
    const { text } = heir.statement;
    if (!text.includes(from) && !text.includes(to)) continue;
    const after = heirsAfter.get(texts.headAfter(heir.statement));
    const why =
      after &&
      (yield* clashAmong(
        texts,
        renaming,
        (word) => inheritedIn(heir, word),
        (word) => inheritedIn(after, word),
        heir,
      ));
    if (why !== undefined) return why;
  }
  return undefined;
}

/** The templates that extend another. */
function heirsIn(names: Names): Declared[] {
  return [...names.everything()].filter(({ kind, reading }) => kind === 'template' && pathIn(reading, 'base'));
}

/** Where a word stands as a name in what a template inherits, and what it means there to that template. */
function* inheritedIn(heir: Declared, word: string): Generator<Place> {
  const lineage = lineageFrom(heir.home, heir.statement);
  for (const { statement, home } of lineage.slice(1)) {
    const segment = segmentOf(statement);
    for (const one of occurrencesWithin(segment, segment.source, home, word, lineage))
      if (topOf(one.statement) === statement) yield one;
  }
}

function* occurrencesAfter(project: Project, texts: EditedTexts, names: Names, word: string): Generator<Place> {
  for (const source of project.sources.values())
    for (const segment of source.segments)
      for (const part of texts.after(segment)) yield* occurrencesWithin(part, source, names, word);
}

/** Where the new name is written, it would be read as something else. */
function misread({ statement, start }: Place, to: string, instead: Meaning | undefined, heir?: Declared): string {
  const place = placeText(statement, start - offsetOf(statement)) + inherited(heir);
  if (instead) return `${capital(place)}, "${to}" would mean ${spoken(instead)} instead; choose another name.`;
  const { first, inner } = keywords();
  const isWord = first.includes(to) || inner.includes(to);
  return isWord
    ? `"${to}" is a word of the language, and would be read as that ${place}; choose another name.`
    : `"${to}" would not be read as a name ${place}; choose another one.`;
}

/** What is called so already would come to mean the thing that is renamed. */
function captured(
  { statement, start, meanings: before }: Place,
  to: string,
  meanings: readonly Meaning[],
  heir?: Declared,
): string {
  const place = placeText(statement, start - offsetOf(statement)) + inherited(heir);
  const [renamed] = meanings;
  const was = before[0] ? `means ${spoken(before[0])}` : 'names nothing so far';
  return `${capital(place)}, "${to}" ${was}, and would come to mean ${renamed ? spoken(renamed) : 'this'}; choose another name.`;
}

function inherited(heir: Declared | undefined): string {
  return heir ? `, as template "${heir.name}" inherits it` : '';
}

function keyOfHead(statement: Statement, at = offsetOf(statement) + statement.word.start): string {
  return keyOf(segmentOf(statement).source.id, at);
}

function keyOf(file: string, offset: number): string {
  return `${file}:${offset}`;
}

/**
 * The texts as they will be, read beside those that there are. A segment that changes keeps the offset it begins at,
 * and a fraction of its own behind it, so that no two places of different segments are ever taken for one.
 */
class EditedTexts {
  /** In the order of the text. */
  private readonly byFile: ReadonlyMap<string, readonly TextEdit[]>;
  private readonly edited: ReadonlySet<string>;
  private readonly renaming: Renaming;
  private readonly renamed: ReadonlySet<string>;
  private readonly parts = new Map<Segment, Part>();
  private made = 0;

  constructor(edits: readonly TextEdit[], renaming: Renaming) {
    const inOrder = edits.toSorted((a, b) => a.start - b.start);
    this.byFile = Map.groupBy(inOrder, ({ file }) => file);
    this.edited = new Set(edits.map(({ file, start }) => keyOf(file, start)));
    this.renaming = renaming;
    this.renamed = new Set(renaming.meanings.map((meaning) => identityOf(meaning)));
  }

  /** Some of the text is the project's own, or that of a library it uses. */
  reaches({ sources, names }: Project): boolean {
    if ([...this.byFile.keys()].some((file) => sources.has(file))) return true;
    return [...names.libraries.values()].some((library) => this.reachesLibrary(library));
  }

  private reachesLibrary(names: Names): boolean {
    for (const { statement } of names.everything()) if (this.byFile.has(segmentOf(statement).source.id)) return true;
    return [...names.libraries.values()].some((library) => this.reachesLibrary(library));
  }

  isEdited({ source, start }: Place): boolean {
    return this.edited.has(keyOf(source.id, start));
  }

  private editsIn(segment: Segment): readonly TextEdit[] {
    const edits = this.byFile.get(segment.source.id) ?? [];
    const first = firstFrom(edits, segment.offset);
    return edits.slice(first, firstFrom(edits, segment.offset + segment.text.length));
  }

  /** What a segment comes to: itself where it is not edited. */
  after(segment: Segment): readonly Segment[] {
    return this.partOf(segment)?.segments ?? [segment];
  }

  private partOf(segment: Segment): Part | undefined {
    if (!this.byFile.has(segment.source.id)) return undefined;
    return memo(this.parts, segment, () => {
      const edits = this.editsIn(segment);
      if (edits.length === 0) return { edits, segments: [segment], begin: segment.offset };
      let text = '';
      let at = 0;
      for (const edit of edits) {
        text += segment.text.slice(at, edit.start - segment.offset) + edit.text;
        at = edit.end - segment.offset;
      }
      const { segments } = new Source(segment.source.id, text + segment.text.slice(at), topWords);
      // A binary fraction, so that sums with it are exact; there are fewer segments than that in any file.
      const begin = segment.offset + ++this.made / 2 ** 24;
      for (const made of segments) made.offset += begin;
      return { edits, segments, begin };
    });
  }

  /** The names as they will be, those of libraries too. */
  *namesAfter(names: Names): Steps<Names> {
    const made = new Names(names.starter, names.prefix);
    const segments = new Set<Segment>();
    for (const { statement } of names.everything()) segments.add(segmentOf(statement));
    for (const segment of segments) {
      for (const part of this.after(segment)) for (const statement of part.statements) made.add(statement);
      yield;
    }
    for (const [alias, library] of names.libraries) {
      const use = names.find('use', alias)?.statement;
      const isRenamed = use && this.renaming.meanings.some(({ root }) => root === use);
      made.useLibrary(isRenamed ? this.renaming.to : alias, yield* this.namesAfter(library));
    }
    return made;
  }

  private offsetAfter(segment: Segment, offset: number): number {
    const part = this.partOf(segment);
    if (!part) return offset;
    let moved = part.begin + offset - segment.offset;
    for (const { start, end, text } of part.edits) if (start < offset) moved += text.length - (end - start);
    return moved;
  }

  placeAfter({ source, statement, start }: Place): string {
    return keyOf(source.id, this.offsetAfter(segmentOf(statement), start));
  }

  headAfter(statement: Statement): string {
    return keyOfHead(statement, this.wordAfter(statement));
  }

  meansTheSame(before: Place, after: Place): boolean {
    const wanted = before.meanings.map((meaning) => this.identityAfter(meaning));
    const found = after.meanings.map((meaning) => identityOf(meaning));
    return wanted.length === found.length && wanted.every((identity) => found.includes(identity));
  }

  private identityAfter(meaning: Meaning): string {
    const { sort, root } = meaning;
    const name = sort === 'set' && this.renamed.has(identityOf(meaning)) ? this.renaming.to : meaning.name;
    return identityOf({ ...meaning, name }, root && this.wordAfter(root));
  }

  private wordAfter(root: Statement): number {
    return this.offsetAfter(segmentOf(root), offsetOf(root) + root.word.start);
  }
}

/** A segment with the edits in it, and what it comes to with them. */
interface Part {
  readonly edits: readonly TextEdit[];
  readonly segments: readonly Segment[];
  /** Where it begins for those who ask about it afterwards. */
  readonly begin: number;
}

/** Index of the first edit at an offset or behind it. */
function firstFrom(edits: readonly TextEdit[], offset: number): number {
  let low = 0;
  let high = edits.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((edits[middle] as TextEdit).start < offset) low = middle + 1;
    else high = middle;
  }
  return low;
}
