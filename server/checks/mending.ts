/**
 * Making fixes, many at once: the obvious ones of all findings that are asked for, round by round, until none
 * is left. Each was looked at by itself before; what they come to together is looked at again over the whole
 * project, and what makes any rule find more errors or warnings is not made.
 */
import type { Source } from '../../grammar/source.ts';
import { segmentOf, sliceOf, spanOf, topOf } from '../../grammar/tree.ts';
import type { Finding } from '../model/finding.ts';
import { editsOfFix, type FileEdit } from '../model/fix-edits.ts';
import { memo } from '../model/memo.ts';
import type { Project } from '../model/project.ts';
import type { RuleFamily } from '../model/rule.ts';
import { bracesMissing, nameNotKnown } from '../model/rules.ts';
import { fixesThatHold, type HeldFix, projectLike } from './alternatives.ts';
import { planningOf } from './analysis.ts';
import { keepsNumbers } from './kept-numbers.ts';
import { fixesOfProject } from './project-fixes.ts';
import { atOnce, type Steps } from './steps.ts';

export interface Made {
  readonly finding: Finding;
  readonly title: string;
  /** Where it was found, line from 1, in the text as it was in its round. */
  readonly file: string;
  readonly line: number;
}

export interface Mended {
  readonly made: readonly Made[];
  /** Text of each file that is not as it was. */
  readonly texts: ReadonlyMap<string, string>;
}

export interface MendOptions {
  /** The findings that are to be mended. */
  readonly which: (finding: Finding) => boolean;
  /** Files that may be written; all of the project where it is left out. */
  readonly mayWrite?: (file: string) => boolean;
}

/** A fix can bring to light what another one mends, but not for ever. */
const mostRounds = 20;
/** Findings that are looked at in one round. */
const mostLooked = 500;

/**
 * The one fix of a finding that may be made without asking anybody: there is no other, and nothing about it was left open.
 * `held` are those of its fixes that hold.
 */
export function obvious(project: Project, found: Finding, held: readonly HeldFix[]): HeldFix | undefined {
  const [only, ...others] = held;
  if (!only || others.length > 0 || !only.whole || only.byHand) return undefined;
  if (!ofText.has(found.rule.family)) return only;
  // Whatever a rule of these says, it mends a spelling: what is built is no question of that.
  const isSpelling = keepsNumbers(only, project.sources.values()) && !isDeclaredOtherwise(project, found, only);
  return isSpelling && !hasRivals(project, found, only) ? only : undefined;
}

/** Whether something else was proposed for the same place that some rule objects to: what was left is a guess. */
function hasRivals(project: Project, found: Finding, { edits }: HeldFix): boolean {
  const proposed = [...found.fixes, ...fixesOfProject(project, found)].filter(({ gap }) => !gap);
  return proposed.some((other) =>
    other.edits.some(({ place, text }) =>
      edits.some(
        (own) => own.text !== text && startOf(own.place) === startOf(place) && fileOf(own.place) === fileOf(place),
      ),
    ),
  );
}

/**
 * Where several name the same and nothing but its declaration is called as the fix would call it: then that is likelier to be
 * what is misspelt.
 */
function isDeclaredOtherwise(project: Project, found: Finding, { edits: [edit, ...more] }: HeldFix): boolean {
  const { rule, sought = '' } = found;
  if (rule !== nameNotKnown || !edit || more.length > 0) return false;
  const { statement } = edit.place;
  const [written, meant] = [sliceOf(statement, edit.place), edit.text];
  const isGlobal = !sought.includes(' in ') && sought.split(' ').some((word) => globals.has(word));
  const isLikelier = (texts: readonly string[]): boolean => timesIn(texts, meant) === 1 && timesIn(texts, written) > 1;
  if (!isGlobal) return isLikelier([topOf(statement).text]);
  // All users of a name ask the same.
  const known = memo(declaredOtherwise, project.moment, () => new Map<string, boolean>());
  return memo(known, `${written} ${meant}`, () => isLikelier([...project.sources.values()].map(({ text }) => text)));
}

/** What is declared once for a project; all else within one template or unit. */
const globals: ReadonlySet<string> = new Set([
  'board',
  'rod',
  'garment',
  'hardware',
  'policy',
  'template',
  'unit',
  'library',
]);

const declaredOtherwise = new WeakMap<Project['moment'], Map<string, boolean>>();

/** As a name of its own, not as a part of another one. */
function timesIn(texts: readonly string[], name: string): number {
  let times = 0;
  for (const text of texts)
    for (let at = text.indexOf(name); at >= 0; at = text.indexOf(name, at + name.length))
      if (!isOfName(text.charAt(at - 1)) && !isOfName(text.charAt(at + name.length))) times++;
  return times;
}

function isOfName(character: string): boolean {
  return /[\p{L}\p{N}_-]/u.test(character);
}

function startOf(place: Finding['place']): number {
  return spanOf(place).start;
}

/** Errors and warnings: a note is for somebody to have a look at. */
export function isGrave({ severity }: Finding): boolean {
  return severity !== 'note';
}

/** What is to be mended where no rule is asked for: lengths and the like are only changed where somebody says so. */
const ofText: ReadonlySet<RuleFamily> = new Set<RuleFamily>(['text', 'words', 'names', 'quantities', 'project']);

/** An error or a warning about how something is written, rather than about what is built. */
export function isOfText(found: Finding): boolean {
  return isGrave(found) && ofText.has(found.rule.family);
}

/** What a project, which is up to date, would be with its obvious fixes made. The project itself stays as it is. */
export function mended(project: Project, options: MendOptions): Mended {
  return atOnce(mending(project, options));
}

/** The same in steps. The project must not be edited meanwhile. */
export function* mending(project: Project, options: MendOptions): Steps<Mended> {
  const copy = projectLike(project);
  const first = new Map([...project.sources.values()].map(({ id, text }) => [id, text]));
  for (const [id, text] of first) {
    copy.setFile(id, text);
    yield;
  }
  const made: Made[] = [];
  const refused = new Set<string>();
  // What is found once something is made is where the next round begins: a whole project takes long to look at.
  let known: readonly Finding[] | undefined;
  for (let round = 0; round < mostRounds; round++) {
    const findings: readonly Finding[] = known ?? (yield* findingsOf(copy));
    const chosen = yield* choose(copy, shown(copy, findings), options, refused);
    if (chosen.length === 0) break;
    const before = countsOf(findings);
    const kept: Most | undefined = yield* makeMost(copy, chosen, before, refused);
    made.push(...(kept?.made ?? []).map(({ told }) => told));
    known = kept?.findings;
  }
  const texts = [...copy.sources.values()].filter(({ id, text }) => text !== first.get(id));
  return { made, texts: new Map(texts.map(({ id, text }) => [id, text])) };
}

/** Those that somebody is told: what follows from something that cannot be read is not mended by something else. */
function shown(project: Project, findings: readonly Finding[]): readonly Finding[] {
  const people = project.findings(true);
  const told = new Set(people.map(keyOf));
  const hidden = new Set(project.findings(false).flatMap((f) => (told.has(keyOf(f)) ? [] : [keyOf(f)])));
  // One finding is told in place of those of each line.
  const instead = people.filter(({ rule }) => rule === bracesMissing);
  return hidden.size === 0 ? findings : [...instead, ...findings.filter((f) => !hidden.has(keyOf(f)))];
}

function keyOf({ rule, place, message }: Finding): string {
  return `${rule.id} ${fileOf(place)} ${spanOf(place).start} ${message}`;
}

interface Choice {
  readonly key: string;
  readonly told: Made;
  readonly changes: readonly FileEdit[];
}

/** Fixes that do not touch each other, the first ones first. */
function* choose(
  project: Project,
  findings: readonly Finding[],
  { which, mayWrite = () => true }: MendOptions,
  refused: ReadonlySet<string>,
): Steps<Choice[]> {
  const chosen: Choice[] = [];
  const keys = new Set<string>();
  let looked = 0;
  for (const finding of findings) {
    if (!which(finding) || looked >= mostLooked) continue;
    // What nobody has a fix for costs nothing, and keeps none that can be mended from its turn.
    if (finding.fixes.some(({ byHand }) => !byHand) || fixesOfProject(project, finding).length > 0) looked++;
    else continue;
    yield;
    const fix = obvious(project, finding, fixesThatHold(project, finding));
    if (!fix) continue;
    const changes = editsOfFix(fix);
    const key = changes.map(({ file, start, end, text }) => `${file} ${start} ${end} ${text}`).join('\n');
    if (keys.has(key) || refused.has(key) || !changes.every(({ file }) => mayWrite(file))) continue;
    if (chosen.some((other) => other.changes.some((a) => changes.some((b) => touch(a, b))))) continue;
    keys.add(key);
    const source = segmentOf(finding.place.statement).source as Source;
    const { line } = source.positionAt(spanOf(finding.place).start);
    chosen.push({ key, changes, told: { finding, title: fix.title, file: source.id, line: line + 1 } });
  }
  return chosen;
}

function touch(a: FileEdit, b: FileEdit): boolean {
  return a.file === b.file && a.start <= b.end && b.start <= a.end;
}

interface Most {
  readonly made: readonly Choice[];
  /** What is found with them. */
  readonly findings: readonly Finding[];
}

/**
 * Makes as many as go together: all of them, or else those of one half; a half that does not go is halved
 * again. What is left over is looked at in the next round, on the text as it is then. One that does not go by
 * itself is refused for good.
 */
function* makeMost(
  project: Project,
  chosen: readonly Choice[],
  before: ReadonlyMap<string, number>,
  refused: Set<string>,
): Steps<Most | undefined> {
  const findings = yield* make(project, chosen, before);
  if (findings) return { made: chosen, findings };
  const [only, ...others] = chosen;
  if (only && others.length === 0) refused.add(only.key);
  if (others.length === 0) return undefined;
  const half = Math.ceil(chosen.length / 2);
  return (
    (yield* makeMost(project, chosen.slice(0, half), before, refused)) ??
    (yield* makeMost(project, chosen.slice(half), before, refused))
  );
}

/** Makes some changes where any rule finds less then and none more: what is found. Makes none of them otherwise. */
function* make(
  project: Project,
  chosen: readonly Choice[],
  before: ReadonlyMap<string, number>,
): Steps<readonly Finding[] | undefined> {
  const changes = chosen.flatMap((choice) => choice.changes).sort((a, b) => b.start - a.start);
  const texts = new Map(changes.map(({ file }) => [file, project.sources.get(file)?.text ?? '']));
  for (const { file, start, end, text } of changes) project.editFile(file, [{ start, end, text }]);
  const findings = yield* findingsOf(project);
  const after = countsOf(findings);
  const ids = new Set([...before.keys(), ...after.keys()]);
  const more = [...ids].some((id) => !id.startsWith('note ') && (after.get(id) ?? 0) > (before.get(id) ?? 0));
  const less = [...ids].some((id) => (after.get(id) ?? 0) < (before.get(id) ?? 0));
  if (less && !more) return findings;
  for (const [file, text] of texts) project.setFile(file, text);
  return undefined;
}

function* findingsOf(project: Project): Steps<readonly Finding[]> {
  for (const _ of project.refresh()) yield;
  return [...project.findings(), ...(yield* planningOf(project))];
}

/** By rule; notes by themselves. */
function countsOf(findings: readonly Finding[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const finding of findings) {
    const key = isGrave(finding) ? finding.rule.id : `note ${finding.rule.id}`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return counts;
}

function fileOf(place: Finding['place']): string {
  return segmentOf(place.statement).source.id;
}
