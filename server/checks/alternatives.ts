/**
 * Fixes that hold. A fix is offered once all rules, those about stock included, have been run again on the
 * text with it applied, over the declarations that it touches: the finding is gone, and no error or warning
 * is there that was not there before. Up to `mostUnits` units are looked at; a fix that touches more says so.
 * One that cannot be looked at (too much text, a file outside the project) is not offered.
 *
 * A name or quantity that could not be read hides what it would have led to. Where every way to mend it
 * brings something to light, those that leave nothing unread are offered all the same.
 */
import type { Edit } from '../../grammar/source.ts';
import { type Place, segmentOf, spanOf, topOf } from '../../grammar/tree.ts';
import { type Finding, type Fix, finding } from '../model/finding.ts';
import { memo } from '../model/memo.ts';
import { type Library, Project } from '../model/project.ts';
import type { RuleFamily } from '../model/rule.ts';
import { bracesMissing, mergeConflict, noProject, useNotFound, wordNotKnown } from '../model/rules.ts';
import { type Scratch, scratchOf } from './alternatives-scratch.ts';
import { planProject, ruleBook } from './analysis.ts';
import { stockNearlySaved } from './near-miss.ts';
import { fixesOfProject } from './project-fixes.ts';
import { stockMissing } from './stock.ts';
import { isShortage, moreStock } from './stock-fixes.ts';

export interface HeldFix extends Fix {
  /** All that rests on it was looked at, and nothing comes to light that was hidden. */
  readonly whole: boolean;
}

/** What cannot be read is found by these; what they hide comes to light when it is mended. */
const reading: readonly RuleFamily[] = ['text', 'words', 'names', 'quantities'];

interface Known {
  readonly fixes: Map<string, readonly HeldFix[]>;
  /** By the texts that they are of; the last few, since the findings of one template rest on the same. */
  readonly trials: Map<string, Trial>;
}

/** The declarations that a change touches as a project of their own, and what it finds as they are. */
interface Trial {
  readonly project: Project;
  readonly before: Counted;
}

const mostTrials = 8;

const answers = new WeakMap<Project['moment'], Known>();

/** The fixes of a finding of a project that is up to date, without those that do not hold. Never throws. */
export function fixesThatHold(project: Project, found: Finding): readonly HeldFix[] {
  if (isShortage(found)) return shortageFixes(project, found);
  // Both sides were written by somebody: which one is right is no question of rules.
  // A project that says nothing but the defaults changes nothing that a rule compares. Of lines that nobody has read
  // nothing is known to compare with.
  if ([mergeConflict, noProject, bracesMissing].includes(found.rule))
    return found.fixes.map((fix) => ({ ...fix, whole: true }));
  const more = fixesOfProject(project, found);
  const about = more.length === 0 ? found : { ...found, fixes: [...found.fixes, ...more] };
  if (about.fixes.length === 0) return [];
  const { fixes } = answersOf(project);
  const key = keyOfQuestion(about);
  const known = fixes.get(key);
  if (known) return known;
  const made = ask(project, about);
  fixes.set(key, made);
  return made;
}

/**
 * Those texts that can stand at a place: written there (behind `lead`), nothing is found that was not found before, hidden or
 * not. None where it cannot be looked at. Never throws.
 */
export function textsThatHold(project: Project, place: Place, texts: readonly string[], lead = ''): readonly string[] {
  const { trials } = answersOf(project);
  const fixes = texts.map((text): Fix => ({ title: text, edits: [{ place, text: lead + text }] }));
  try {
    const scratch = fixes.length > 0 && scratchOf(project, [place], [], fixes);
    if (!scratch) return [];
    const trial = trialOf(project, scratch, trials);
    return fixes.flatMap((fix) => (outcomeOf(trial, scratch, fix, planned, true) === 'clean' ? [fix.title] : []));
  } catch {
    trials.clear();
    return [];
  }
}

/** What is short of stock waits for all units, so that their parts are counted together and not in a part of the project. */
function shortageFixes(project: Project, found: Finding): readonly HeldFix[] {
  const { fixes } = answersOf(project);
  const key = keyOfQuestion(found);
  const known = fixes.get(key);
  if (known) return known;
  const made = moreStock(project, found).map((fix) => ({ ...fix, whole: true }));
  fixes.set(key, made);
  return made;
}

/**
 * Findings with the fixes that hold and no others. Each kind of fix at a place is looked at once, and `most`
 * in all: findings behind those have none.
 */
export function withFixesThatHold(project: Project, findings: readonly Finding[], most = 100): Finding[] {
  const { fixes } = answersOf(project);
  const until = fixes.size + most;
  return findings.map((one) => {
    if (one.fixes.length === 0 && !isShortage(one) && fixesOfProject(project, one).length === 0) return one;
    if (fixes.size >= until && !fixes.has(keyOfQuestion(one))) return { ...one, fixes: [] };
    return { ...one, fixes: fixesThatHold(project, one) };
  });
}

function answersOf(project: Project): Known {
  return memo(answers, project.moment, () => ({ fixes: new Map(), trials: new Map() }));
}

function keyOfQuestion({ rule, place, fixes, about }: Finding): string {
  const edits = fixes.flatMap(({ title, edits: own }) => [
    title,
    ...own.map((e) => `${segmentOf(e.place.statement).source.id} ${spanOf(e.place).start} ${e.place.end} ${e.text}`),
  ]);
  return [rule.id, segmentOf(place.statement).source.id, spanOf(place).start, about ?? '', ...edits].join('\n');
}

function ask(project: Project, about: Finding): readonly HeldFix[] {
  const { trials } = answersOf(project);
  try {
    const { fixes, place, reach } = about;
    const edited = fixes.flatMap(({ edits }) => edits.map((e) => e.place));
    const places = [...(isOfLibrary(project, about) ? [] : [place]), ...edited, ...loosePartsOf(about)];
    const scratch = scratchOf(project, places, reach, fixes);
    if (!scratch) return [];
    const trial = trialOf(project, scratch, trials);
    const target = isOfLibrary(project, about) ? planned : targetOf(about, scratch);
    if (target === undefined || (target !== planned && !trial.before.all.has(target))) return [];
    const hides = reading.includes(about.rule.family);
    const hidden = hiddenIn(about, scratch);
    const outcomes = fixes.map((fix) => ({ fix, outcome: outcomeOf(trial, scratch, fix, target, hides, hidden) }));
    const clean = outcomes.filter(({ outcome }) => outcome === 'clean');
    const gaps = outcomes.filter(({ fix, outcome }) => fix.gap && outcome === 'reveals');
    if (gaps.length > 0) return [...clean, ...gaps].map(({ fix, outcome }) => held(fix, scratch, outcome === 'clean'));
    const kept = clean.length > 0 || !hides ? clean : outcomes.filter(({ outcome }) => outcome === 'reveals');
    return kept.map(({ fix, outcome }) => held(fix, scratch, outcome === 'clean'));
  } catch {
    // A fix that the rules fail on is no fix; a trial that was left in the middle is no trial.
    trials.clear();
    return [];
  }
}

/**
 * No finding is looked for in the trial. What saves stock was found by planning the whole project again with the parts
 * shortened, which is proof that it does; a part of the project has a plan of its own. What is left to be seen is that no
 * other rule minds.
 */
const planned = 'planned with all parts';

function targetOf(about: Finding, scratch: Scratch): string | undefined {
  return about.rule === stockNearlySaved ? planned : keyOf(about, scratch);
}

/** A material of a library that has no stock: it has some once the project says so, and is in no text of the trial. */
function isOfLibrary(project: Project, { rule, place }: Finding): boolean {
  return rule === stockMissing && !project.sources.has(segmentOf(place.statement).source.id);
}

/** Loose parts that wait for stock: nothing else leads from the stock to them. */
function loosePartsOf({ related }: Finding): Place[] {
  return related.flatMap(({ place }) => (topOf(place.statement).word.text === 'extra' ? [place] : []));
}

function held(fix: Fix, { looked, of }: Scratch, clean: boolean): HeldFix {
  if (looked === of) return { ...fix, whole: clean };
  return { ...fix, title: `${fix.title} (looked at in ${looked} of ${of} layouts)`, whole: false };
}

/** `clean`: the finding is gone and nothing is new. `reveals`: what is new was hidden by what could not be read. */
type Outcome = 'clean' | 'reveals' | 'fails';

function outcomeOf(
  { project, before }: Trial,
  scratch: Scratch,
  fix: Fix,
  target: string,
  hides: boolean,
  hidden?: Hidden,
): Outcome {
  const edits = fix.edits.flatMap(({ place, text }): Made[] => {
    const at = scratch.startOf(place);
    return at ? [{ ...at, end: at.start + spanOf(place).end - spanOf(place).start, text }] : [];
  });
  if (edits.length < fix.edits.length) return 'fails';
  edits.sort((a, b) => a.start - b.start);
  const after = whileEdited(project, scratch, edits);
  // What has a gap mends nothing before it is filled in.
  const isLeft = target !== planned && (after.all.get(target) ?? 0) >= (before.all.get(target) ?? 0);
  if (!fix.gap && isLeft) return 'fails';
  let outcome: Outcome = 'clean';
  for (const [key, count] of after.grave) {
    if (count <= (before.grave.get(key) ?? 0)) continue;
    const isOwn = fix.gap && isIn(edits, key);
    const isNews = after.unread.has(key) && !(hidden && isWithin(hidden, key));
    if (!isOwn && (isNews || (fix.gap && !hides))) return 'fails';
    outcome = 'reveals';
  }
  return outcome;
}

interface Hidden {
  readonly file: string;
  readonly start: number;
  readonly end: number;
}

/** The block behind a word that is none, which nobody has read: what cannot be read in it is no news of a fix of the word. */
function hiddenIn({ rule, place: { statement } }: Finding, scratch: Scratch): Hidden | undefined {
  const { block, text } = statement;
  if (rule !== wordNotKnown || !block) return undefined;
  const at = scratch.startOf({ statement, start: block.open, end: text.length });
  return at && { ...at, end: at.start + text.length - block.open };
}

function isWithin({ file, start, end }: Hidden, key: string): boolean {
  const [, name, at = ''] = /^\S+ (.*) (\d+) [^ ]*$/.exec(key) ?? [];
  return name === file && start < Number(at) && Number(at) < end;
}

/** Whether what is found is about what a fix has written: that it is not complete, and what comes of that. */
function isIn(edits: readonly Made[], key: string): boolean {
  const place = key.slice(key.indexOf(' ') + 1);
  return edits.some(({ file, start }) => place.startsWith(`${file} ${start} `));
}

// Computing

interface Made extends Edit {
  readonly file: string;
}

/** What is found with some edits, in their order, which are undone: only what they touch is computed anew. */
function whileEdited(project: Project, { texts }: Scratch, edits: readonly Made[]): Counted {
  for (const { file, start, end, text } of edits.toReversed()) project.editFile(file, [{ start, end, text }]);
  const after = counted(findingsOf(project), edits);
  for (const { file, start, end, text } of edits) {
    const old = texts.get(file)?.slice(start, end) ?? '';
    project.editFile(file, [{ start, end: start + text.length, text: old }]);
  }
  return after;
}

/** A project without files. Libraries are those that the whole project has opened. */
export function projectLike({ names }: Project): Project {
  return new Project({
    ...ruleBook,
    openLibrary: (use): Library => {
      const opened = names.libraries.get(use.name);
      if (opened) return { kind: 'opened', names: opened };
      const place = { statement: use.statement, start: 0, end: 0 };
      return { kind: 'failed', finding: finding(useNotFound, place, 'The library could not be opened.') };
    },
  });
}

function trialOf(of: Project, { texts }: Scratch, trials: Map<string, Trial>): Trial {
  const key = [...texts].flat().join('\n');
  const known = trials.get(key);
  if (known) return known;
  const project = projectLike(of);
  for (const [file, text] of texts) project.setFile(file, text);
  const trial = { project, before: counted(findingsOf(project), []) };
  if (trials.size >= mostTrials) trials.clear();
  trials.set(key, trial);
  return trial;
}

function findingsOf(project: Project): readonly Finding[] {
  project.refreshNow();
  return [...project.findings(), ...planProject(project).findings];
}

// Comparing

interface Counted {
  /** By what a finding is and where it stood before the edits. */
  readonly all: ReadonlyMap<string, number>;
  /** Errors and warnings. */
  readonly grave: ReadonlyMap<string, number>;
  /** Those of them that say that something cannot be read. */
  readonly unread: ReadonlySet<string>;
}

function counted(findings: readonly Finding[], edits: readonly Made[]): Counted {
  const all = new Map<string, number>();
  const grave = new Map<string, number>();
  const unread = new Set<string>();
  for (const found of findings) {
    const { source } = segmentOf(found.place.statement);
    const start = spanOf(found.place).start;
    const key = keyAt(found, source.id, before(source.id, start, edits));
    all.set(key, (all.get(key) ?? 0) + 1);
    if (found.severity === 'note') continue;
    grave.set(key, (grave.get(key) ?? 0) + 1);
    if (reading.includes(found.rule.family)) unread.add(key);
  }
  return { all, grave, unread };
}

/** Where something stood before the edits; what stands in one of them stood at its start. */
function before(file: string, start: number, edits: readonly Made[]): number {
  let shift = 0;
  for (const edit of edits) {
    if (edit.file !== file) continue;
    const from = edit.start + shift;
    if (start < from) break;
    if (start < from + edit.text.length) return edit.start;
    shift += edit.text.length - (edit.end - edit.start);
  }
  return start - shift;
}

function keyOf(found: Finding, scratch: Scratch): string | undefined {
  const at = scratch.startOf(found.place);
  return at && keyAt(found, at.file, at.start);
}

function keyAt({ rule, about }: Finding, file: string, start: number): string {
  return `${rule.id} ${file} ${start} ${about ?? ''}`;
}
