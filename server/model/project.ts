/**
 * A project: its files, its names, and everything computed from them. An edit marks what rests on the
 * names it changed; `refresh` brings that up to date and gives way between two of its steps, so that an
 * editor can interrupt it. The same object serves the editor and the terminal.
 */

import { markReach, mayMark } from '../../grammar/merge-markers.ts';
import { type Change, type Edit, Source } from '../../grammar/source.ts';
import { headPlace, type Path, type Place, type Statement, segmentOf } from '../../grammar/tree.ts';
import { type Computed, computeDeclared } from './computed.ts';
import { isOfUnreadFile, withoutConsequences } from './consequences.ts';
import { countIn, nameNotKnown, plainContext } from './context.ts';
import { policyNames } from './declared.ts';
import { areAsWritten, withExamplesIn } from './examples.ts';
import { type Finding, finding, unique } from './finding.ts';
import { Layouts, type LayoutsOptions } from './layouts.ts';
import type { Library } from './library.ts';
import { limits } from './limits.ts';
import type { PolicyInForce } from './materials.ts';
import { stockIn } from './may-declare.ts';
import { Merge } from './merge.ts';
import { conflictOf } from './merge-conflict.ts';
import { withinLimit } from './most-findings.ts';
import { type Declared, type DeclaredKind, keyOf, Names } from './names.ts';
import { unitTurnedRound } from './order-slips.ts';
import { Policies, type PoliciesOptions } from './policies.ts';
import { pushAll } from './push-all.ts';
import { child, dotted, labelIn, pathIn, read, says } from './reading.ts';
import { repetitions } from './repeated.ts';
import * as rules from './rules.ts';
import { type Sample, sampleTemplate } from './samples.ts';
import { type ProjectSettings, sameForUnits, settingsOf } from './settings.ts';
import { ofSlips, withSlips } from './slips-told.ts';
import { startOf } from './start-of.ts';
import { starterNames } from './starter.ts';
import { repeatedStock, stockByMaterial } from './stock-held.ts';
import { runTests, type TestResults } from './template-tests.ts';
import { tooMany } from './too-many.ts';
import { Dependents, Trace } from './trace.ts';
import { argumentsGiven, type Given, type Resolved, type TemplateInfo } from './unit.ts';
import { UsedLibraries } from './used-libraries.ts';
import { topWords } from './vocabulary.ts';

export type { Library } from './library.ts';

/** What the model needs of later rooms, as data. */
export interface ProjectOptions
  extends Pick<LayoutsOptions, 'check' | 'treat'>,
    Pick<PoliciesOptions, 'ruleIds' | 'limitNames'> {
  /** Opens a library that a file uses. */
  readonly openLibrary?: (use: Declared, from: string) => Library;
  /** For people: what follows from something that cannot be read is left out. Who compares two states looks at all. */
  readonly withoutConsequences?: boolean;
}

/** A unit of the project and what was computed for it. */
export interface Unit {
  readonly name: string;
  readonly declared: Declared;
  readonly count: number;
  readonly floor: string | undefined;
  readonly flat: string | undefined;
  readonly phase: string | undefined;
  readonly mirrored: boolean;
  readonly info: TemplateInfo | undefined;
  readonly given: Given | undefined;
  readonly survey: Declared | undefined;
  readonly resolved: Resolved | undefined;
  readonly policy: PolicyInForce;
  /** Found in the unit's own statements. */
  readonly findings: readonly Finding[];
  /** Found in its geometry. */
  readonly checked: readonly Finding[];
}

interface Cell {
  readonly declared: Declared;
  trace?: Trace;
  unit?: Unit;
  computed?: Computed;
  samples?: readonly Sample[];
  tests?: TestResults;
}

/** Counts of what was computed, for tests and for `--stats`. */
export interface Stats {
  unitsEvaluated: number;
  /** For units; those for samples of templates are not counted here. */
  layoutsResolved: number;
  templatesSampled: number;
  declarationsComputed: number;
}

/** How far a project is brought up to date: all but units, or all that stands in the files that go first. */
export type Reached = 'declared' | 'first';

export class Project {
  readonly sources = new Map<string, Source>();
  readonly names = new Names(starterNames);
  readonly stats: Stats = { unitsEvaluated: 0, layoutsResolved: 0, templatesSampled: 0, declarationsComputed: 0 };
  settings: ProjectSettings;
  private readonly options: ProjectOptions;
  private readonly cells = new Map<Statement, Cell>();
  private readonly dirty = new Set<Cell>();
  private readonly dependents = new Dependents<Cell>();
  /** What cells say, kept together as they are computed. */
  private readonly merge = new Merge();
  private readonly speaking = new Set<Cell>();
  private total = 0;
  private unitsDeclared = 0;
  private readonly repeated = new Set<string>();
  /** Findings of statements as read, by top-level statement; only those that have some. */
  private readonly read = new Map<Statement, readonly Finding[]>();
  private readonly layouts: Layouts;
  private readonly policies: Policies;
  /** Problems with a file as a whole, by file. */
  private readonly fileProblems = new Map<string, (place: Place) => Finding>();
  /** Files that hold both sides of a merge. */
  private readonly conflicts = new Map<string, Finding>();
  private settingsFindings: readonly Finding[] = [];
  private readonly libraries: UsedLibraries;
  /** Rises with every change of text. */
  version = 0;
  /** Rises with everything that is computed anew or dropped: while it stays, so does all that was computed. */
  computations = 0;
  /** Another object with every change of either: what is kept under it is let go together with what it was made of. */
  moment: object = {};
  /** The same for `computations` alone. */
  outcome: object = {};

  constructor(options: ProjectOptions) {
    this.options = options;
    this.settings = settingsOf(undefined, this.names).settings;
    const { names, stats } = this;
    this.libraries = new UsedLibraries(names, { openLibrary: options.openLibrary, known: options });
    const settings = (): ProjectSettings => this.settings;
    this.policies = new Policies({ ...options, names, settings });
    this.layouts = new Layouts({ ...options, names, settings, onResolved: () => stats.layoutsResolved++ });
  }

  // Files

  /** Puts a file in, or replaces the whole of its text. */
  setFile(id: string, text: string): void {
    const known = this.sources.get(id);
    if (known) {
      if (known.text !== text) this.editFile(id, [{ start: 0, end: known.length, text }]);
      return;
    }
    this.addSource(new Source(id, text, topWords));
  }

  /** Puts a file in that has been parsed already. One that was in another project has been removed there. */
  addSource(source: Source): void {
    this.sources.set(source.id, source);
    this.apply({ removed: [], added: [...source.statements()], moved: [] });
    this.lookForConflict(source);
  }

  editFile(id: string, edits: readonly Edit[]): void {
    const source = this.sources.get(id);
    if (!source) return;
    let isMarked = this.conflicts.has(id);
    for (const edit of edits) {
      this.apply(source.edit(edit));
      isMarked ||= mayMark(source.slice(edit.start - markReach, edit.start + edit.text.length + markReach));
    }
    // The whole text is only gone through where there is something to look for, or was.
    if (isMarked) this.lookForConflict(source);
  }

  removeFile(id: string): void {
    const source = this.sources.get(id);
    if (!source) return;
    this.sources.delete(id);
    this.fileProblems.delete(id);
    this.conflicts.delete(id);
    this.apply({ removed: [...source.statements()], added: [], moved: [] });
  }

  private textChanged(): void {
    this.version++;
    this.moment = {};
  }

  private outcomeChanged(): void {
    this.computations++;
    this.moment = {};
    this.outcome = {};
  }

  private lookForConflict(source: Source): void {
    const found = conflictOf(source);
    const had = this.conflicts.delete(source.id);
    if (found) this.conflicts.set(source.id, found);
    // What is told of all else in the file comes or goes with it, though nothing is computed anew.
    if (found || had) this.outcomeChanged();
  }

  /** A problem with a file as a whole (encoding, size), shown at its start. */
  setFileProblem(id: string, problem: ((place: Place) => Finding) | undefined): void {
    if (!problem) {
      if (this.fileProblems.delete(id)) this.textChanged();
      return;
    }
    if (!this.sources.has(id)) this.setFile(id, '');
    this.fileProblems.set(id, problem);
    this.textChanged();
  }

  private apply(change: Change): void {
    this.textChanged();
    // Which of several declarations of a name counts is a matter of their order.
    const again = change.moved.filter((statement) => this.isRepeated(statement));
    const removed = again.length > 0 ? [...change.removed, ...again] : change.removed;
    const added = again.length > 0 ? [...change.added, ...again] : change.added;
    const touched = new Set<string>();
    for (const statement of removed) {
      this.read.delete(statement);
      this.layouts.remove(statement);
      const declared = this.names.remove(statement);
      if (declared) touched.add(keyOf(declared.kind, declared.name)).add(keyOf(declared.kind, '*'));
      if (declared?.kind === 'use') this.libraries.areStale = true;
      const cell = this.cells.get(statement);
      if (cell) this.drop(cell);
    }
    const wereTooMany = this.areTooMany;
    for (const statement of removed) if (statement.word.text === 'unit') this.unitsDeclared--;
    for (const statement of added) {
      const { findings } = read(statement, 'file');
      if (findings.length > 0) this.read.set(statement, findings);
      const declared = this.names.add(statement);
      if (!declared) continue;
      touched.add(keyOf(declared.kind, declared.name)).add(keyOf(declared.kind, '*'));
      if (declared.kind === 'use') this.libraries.areStale = true;
      const cell: Cell = { declared };
      this.cells.set(statement, cell);
      this.dirty.add(cell);
    }
    for (const key of touched) {
      for (const cell of this.dependents.of(key)) this.dirty.add(cell);
      const [kind, ...name] = key.split(' ');
      const many = this.names.declarations(kind as DeclaredKind, name.join(' ')).length > 1;
      if (many && kind !== 'accept') this.repeated.add(key);
      else this.repeated.delete(key);
    }
    for (const statement of added) if (statement.word.text === 'unit') this.unitsDeclared++;
    if (this.areTooMany !== wereTooMany)
      for (const cell of this.cells.values()) if (cell.declared.kind === 'unit') this.dirty.add(cell);
    if (touched.has(keyOf('project', 'project'))) this.readSettings();
  }

  private isRepeated(statement: Statement): boolean {
    const declared = this.cells.get(statement)?.declared;
    return declared !== undefined && this.repeated.has(keyOf(declared.kind, declared.name));
  }

  /** Then none is computed: which of them would depend on their order. */
  private get areTooMany(): boolean {
    return this.unitsDeclared > limits.mostUnits.most;
  }

  private readSettings(): void {
    const [declared] = this.names.declarations('project', 'project');
    const before = this.settings;
    const { settings, findings } = settingsOf(declared, this.names);
    this.settings = settings;
    this.settingsFindings = findings;
    if (sameForUnits(before, settings)) return;
    this.computeAllAnew();
  }

  // Computing

  /**
   * Brings everything up to date. Each `next` does one small piece of work; where there is more, it says so once when
   * all but units is done, and once when all is that stands in the first files.
   */
  *refresh(first?: (file: string) => boolean): Generator<Reached | undefined, void> {
    if (this.libraries.areStale) this.openLibraries();
    this.forgetUnused();
    // Declarations before the templates and units that rest on them; open files before the others.
    const order = [...this.dirty].map((cell) => ({ cell, rank: rankOf(cell, first) })).sort((a, b) => a.rank - b.rank);
    let before = 0;
    for (const { cell, rank } of order) {
      if (!this.dirty.has(cell)) continue;
      const [isDeclared, isPast] = [UNITS, LAST].map((past) => rank >= past && before < past);
      before = rank;
      if (isDeclared) yield 'declared';
      if (isPast) yield 'first';
      this.compute(cell);
      this.dirty.delete(cell);
      yield;
    }
    this.forgetUnused();
  }

  /** Brings everything up to date at once. */
  refreshNow(): void {
    for (const _ of this.refresh()) void _;
  }

  /** Brings one declaration up to date before all others: what is looked at is not kept waiting by what rests on it. */
  refreshOne(statement: Statement): void {
    if (this.libraries.areStale) this.openLibraries();
    const cell = this.cells.get(statement);
    if (!cell || !this.dirty.has(cell)) return;
    this.compute(cell);
    this.dirty.delete(cell);
  }

  get isFresh(): boolean {
    return this.dirty.size === 0 && !this.libraries.areStale;
  }

  /** How many declarations have to be computed until everything is up to date. */
  get declarationsLeft(): number {
    return this.dirty.size;
  }

  /** Libraries are opened anew, after their files have changed. */
  reopenLibraries(): void {
    this.libraries.areStale = true;
    this.textChanged();
  }

  private openLibraries(): void {
    if (this.libraries.open()) this.computeAllAnew();
  }

  /** How many layouts are kept, for who looks after memory. */
  get layoutsKept(): number {
    return this.layouts.size;
  }

  private forgetUnused(): void {
    this.layouts.forgetUnused(this.cells, () => {
      const used = new Set<Resolved>();
      for (const { unit, samples } of this.cells.values()) {
        if (unit?.resolved) used.add(unit.resolved);
        for (const { resolved } of samples ?? []) used.add(resolved);
      }
      return used;
    });
  }

  private computeAllAnew(): void {
    this.layouts.clear();
    this.policies.clear();
    for (const cell of this.cells.values()) this.dirty.add(cell);
  }

  private compute(cell: Cell): void {
    this.outcomeChanged();
    const { declared } = cell;
    const trace = new Trace();
    if (declared.kind === 'unit') {
      const before = cell.unit;
      cell.unit = this.computeUnit(declared, trace);
      this.merge.replaceUnit(before, cell.unit);
      this.total += cell.unit.count - (before?.count ?? 0);
      this.stats.unitsEvaluated++;
    } else if (declared.kind === 'template') {
      const info = this.layouts.templateOf(declared, trace);
      const policy = this.policies.inForce([], trace);
      cell.samples = sampleTemplate(info, this.settings, (values) => {
        const resolved = this.layouts.of({ info, values, mirrored: false });
        return { resolved, checked: this.layouts.checked(resolved, policy) };
      });
      this.merge.replaceSamples(declared, cell.samples);
      cell.tests = runTests(info, this.names, trace, this.settings, {
        ruleIds: this.options.ruleIds,
        compute: (values, mirrored) => {
          const resolved = this.layouts.of({ info, values, mirrored });
          return { resolved, checked: this.layouts.checked(resolved, policy) };
        },
      });
      for (const { resolved } of cell.samples) trace.take(resolved.trace);
      this.stats.templatesSampled++;
    } else {
      cell.computed = computeDeclared(declared, this.names, this.settings, trace, this.options);
      this.stats.declarationsComputed++;
    }
    if (ownFindings(cell).length > 0) this.speaking.add(cell);
    else this.speaking.delete(cell);
    cell.trace = this.dependents.move(cell, cell.trace, trace);
  }

  private computeUnit(declared: Declared, trace: Trace): Unit {
    const { reading, statement } = declared;
    const findings: Finding[] = [];
    const plain = plainContext(this.names, trace, (f) => findings.push(f));
    const label = (word: string): string | undefined => {
      const found = child(reading, word);
      return found && labelIn(found, 'value');
    };
    const count = countIn(child(reading, 'count'), 'value', plain, 0, limits.mostUnits.most);
    const survey = this.names.findIfAny('survey', declared.name, trace);
    const policy = this.policies.inForce(policyNames(reading), trace);
    pushAll(findings, this.policies.notKnown(policyNames(reading)));
    pushAll(findings, this.policies.contradictions(policyNames(reading)));
    if (survey && child(reading, 'count')) {
      findings.push(
        finding(
          rules.surveyOfMany,
          headPlace(survey.statement),
          `Unit "${declared.name}" stands for ${count ?? 'several'}, and what was measured is one of them.`,
          {
            advice: 'Write the measured one as a unit of its own, and lower the count.',
            related: [
              { place: headPlace((child(reading, 'count') ?? reading).statement), message: 'The count is given here.' },
            ],
          },
        ),
      );
    }
    const base: Omit<Unit, 'info' | 'given' | 'resolved' | 'checked'> = {
      name: declared.name,
      declared,
      count: count ?? (child(reading, 'count') ? 0 : 1),
      floor: label('floor'),
      flat: label('flat'),
      phase: label('phase'),
      mirrored: says(reading, 'mirrored'),
      survey,
      policy,
      findings,
    };
    const path: Path | undefined = pathIn(reading, 'template');
    if (this.areTooMany) return { ...base, info: undefined, given: undefined, resolved: undefined, checked: [] };
    const template = path && this.names.find('template', dotted(path), trace);
    if (!template) {
      const isTurned = path && this.names.findIfAny('template', declared.name, trace) !== undefined;
      if (isTurned) findings.push(unitTurnedRound(statement, declared.name, path));
      else if (path) findings.push(nameNotKnown(path, ['template'], statement, this.names));
      return { ...base, info: undefined, given: undefined, resolved: undefined, checked: [] };
    }
    const info = this.layouts.templateOf(template, trace);
    const giver = { reading, statement, called: `Unit "${declared.name}"` };
    const given = argumentsGiven(giver, info, this.names, trace, this.settings.show);
    pushAll(findings, given.findings);
    const { mirrored } = base;
    const resolved = this.layouts.of({ info, values: given.values, mirrored, unit: declared, survey });
    trace.take(resolved.trace);
    return { ...base, info, given, resolved, checked: this.layouts.found(resolved, policy) };
  }

  private drop(cell: Cell): void {
    this.outcomeChanged();
    this.cells.delete(cell.declared.statement);
    this.dirty.delete(cell);
    this.speaking.delete(cell);
    if (cell.unit) {
      this.merge.replaceUnit(cell.unit, undefined);
      this.total -= cell.unit.count;
    }
    if (cell.samples) this.merge.replaceSamples(cell.declared, undefined);
    if (cell.trace) this.dependents.drop(cell, cell.trace);
  }

  /** The policies of the project, without any of a unit's own. */
  projectPolicy(): PolicyInForce {
    return this.policies.inForce([]);
  }

  // Results

  /** In the order of the files and of the statements in them. */
  *units(): Generator<Unit> {
    const files = [...this.sources.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
    for (const source of files) {
      for (const statement of source.statements()) {
        const unit = this.cells.get(statement)?.unit;
        if (unit) yield unit;
      }
    }
  }

  unitAt(statement: Statement): Unit | undefined {
    return this.cells.get(statement)?.unit;
  }

  samplesOf(template: Statement): readonly Sample[] {
    return this.cells.get(template)?.samples ?? [];
  }

  /** How many tests of its own each template has passed and failed; templates without any are left out. */
  *tested(): Generator<{ readonly template: Declared } & TestResults> {
    for (const template of this.names.written('template')) {
      const tests = this.cells.get(template.statement)?.tests;
      if (tests && tests.results.length > 0) yield { template, ...tests };
    }
  }

  /** What the declarations of one kind come to, in the order in which they are written: it is that in which parts are cut. */
  computed(kind: DeclaredKind): readonly Computed[] {
    const all: Computed[] = [];
    for (const declared of this.names.written(kind)) {
      const computed = this.cells.get(declared.statement)?.computed;
      if (computed) all.push(computed);
    }
    return all;
  }

  /** Of a file nothing at all is known. */
  private get isFileUnread(): boolean {
    return this.ofFiles().some(({ rule }) => isOfUnreadFile(rule));
  }

  /** Of files as a whole. */
  private ofFiles(): Finding[] {
    return [...this.fileProblems].flatMap(([id, problem]) => {
      const source = this.sources.get(id);
      return source ? [problem(startOf(source))] : [];
    });
  }

  /** Of the text alone. */
  private unread(): readonly Finding[] {
    const all: Finding[] = [];
    for (const found of this.read.values()) pushAll(all, found);
    return all;
  }

  /** Tells of a material whether its stock cannot be read, which is told of: whether it is short nobody knows. */
  unreadStock(): (material: string) => boolean {
    if (!this.options.withoutConsequences) return () => false;
    const mayBeStated = this.isFileUnread ? () => true : stockIn(this.unread());
    const held = stockByMaterial(this.computed('stock'));
    return (material) => {
      const stated = held.get(material);
      return stated ? stated.unread === true : mayBeStated(material);
    };
  }

  /** Units and loose parts of which an error says that a length is a slip: whether stock holds their parts nobody knows. */
  ofSlips(): ReadonlySet<string> {
    return this.options.withoutConsequences ? ofSlips(this.findings()) : new Set();
  }

  /** Whether a declaration that was computed says something of this kind, which people may or may not be shown: soon known. */
  saysAny(isSought: (f: Finding) => boolean): boolean {
    for (const cell of this.speaking) if (ownFindings(cell).some(isSought)) return true;
    return false;
  }

  /** All findings but those about stock, each in its file; or those alone that people are shown. Sorted by nothing. */
  findings(
    areShown = this.options.withoutConsequences === true,
    isTold: (f: Finding) => boolean = () => true,
  ): Finding[] {
    const all = this.ofFiles();
    const unread = this.unread();
    pushAll(all, this.settingsFindings);
    pushAll(all, this.libraries.told);
    pushAll(all, this.policies.notKnown(this.settings.policies));
    pushAll(all, this.policies.contradictions([]));
    for (const key of this.repeated) {
      const [kind, ...name] = key.split(' ');
      pushAll(all, repetitions(this.names.declarations(kind as DeclaredKind, name.join(' '))));
    }
    if (this.names.libraries.size > 0) pushAll(all, repeatedStock(this.computed('stock')));
    for (const cell of this.speaking) pushAll(all, ownFindings(cell));
    for (const f of this.merge.findings(this.names.written('accept'))) all.push(f);
    const total = Math.max(this.total, this.unitsDeclared);
    if (total > limits.mostUnits.most) {
      const [project] = this.names.declarations('project', 'project');
      const at = project ?? this.names.written('unit')[0];
      const until = this.areTooMany ? ' Until then none of its units is looked at.' : '';
      const advice = `Divide the building into several projects, a folder each.${until}`;
      const excess = { who: 'The project comes to', count: total, what: 'units', advice };
      if (at) all.push(tooMany('mostUnits', headPlace(at.statement), excess));
    }
    const known = this.libraries.withoutUnopened(all);
    const told = areShown
      ? withSlips(withoutConsequences(unread, known, this.names, this.libraries.unread, isTold), {
          settings: this.settings,
          units: () => this.units(),
          computed: (kind) => this.computed(kind),
        })
      : [...unread, ...known];
    const kept = withinLimit(unique(this.conflicts.size > 0 ? this.withoutConflicts(told) : told));
    const { show, currency } = this.settings;
    return areAsWritten(show.system, currency) ? kept : kept.map((f) => withExamplesIn(f, show.system, currency));
  }

  /** Of a file that holds both sides of a merge that is all that is said. */
  private withoutConflicts(all: readonly Finding[]): Finding[] {
    const elsewhere = all.filter(({ place }) => !this.conflicts.has(segmentOf(place.statement).source.id));
    return [...this.conflicts.values(), ...elsewhere];
  }
}

/** What a cell says of its own statements. */
function ownFindings({ computed, unit, tests }: Cell): readonly Finding[] {
  return computed?.findings ?? unit?.findings ?? tests?.findings ?? [];
}

/** Of units, and of those in files that nobody looks at. */
const [UNITS, LAST] = [4, 5];

function rankOf({ declared }: Cell, first?: (file: string) => boolean): number {
  const late = declared.kind === 'unit' ? UNITS : declared.kind === 'template' ? 2 : 0;
  return late + (first?.(segmentOf(declared.statement).source.id) ? 0 : 1);
}
