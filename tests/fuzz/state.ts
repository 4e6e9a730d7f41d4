/**
 * All that anybody can see of the projects of a workspace, as lines of text: findings, layouts, names, and what an editor
 * shows of each file. Two workspaces with the same texts have the same lines, however they came by these texts.
 */
import { isDeepStrictEqual } from 'node:util';
import { Source } from '../../grammar/source.ts';
import { offsetOf, type Place, type Statement, segmentOf, statementsWithin } from '../../grammar/tree.ts';
import { planProject } from '../../server/checks/analysis.ts';
import { demandOf } from '../../server/cutting/demand.ts';
import { quickFixesAt } from '../../server/language/actions.ts';
import { lensesOf } from '../../server/language/code-lens.ts';
import { completionsAt } from '../../server/language/completion.ts';
import { drawnUnitAt } from '../../server/language/drawing/drawn-unit.ts';
import { foldsOf } from '../../server/language/folding.ts';
import { formattingEdits } from '../../server/language/formatting.ts';
import { hoverAt } from '../../server/language/hover.ts';
import { hintsIn } from '../../server/language/inlay-hints.ts';
import { linksOf } from '../../server/language/links.ts';
import { noPlan } from '../../server/language/made-plan.ts';
import { placeStatusAt } from '../../server/language/place-status.ts';
import { childNodes } from '../../server/language/project-view.ts';
import { referencesAt } from '../../server/language/references.ts';
import { tokenPiecesOf } from '../../server/language/semantic-tokens.ts';
import type { Snapshot } from '../../server/language/snapshot.ts';
import { symbolsOf } from '../../server/language/symbols.ts';
import { usersOf } from '../../server/language/template-use.ts';
import { symbolsNamed } from '../../server/language/workspace-symbols.ts';
import { Names } from '../../server/model/names.ts';
import { Project } from '../../server/model/project.ts';
import { Trace } from '../../server/model/trace.ts';
import type { LoadedProject, Workspace } from '../../server/model/workspace.ts';
import { byRoot } from './projects.ts';

/** By what is told of, its lines. */
export type State = ReadonlyMap<string, readonly string[]>;

const hintKinds = new Set(['width', 'height', 'cut', 'value', 'default'] as const);
const lensKinds = new Set(['uses', 'boards', 'savings', 'stock'] as const);

export function stateOf(workspace: Workspace): State {
  const state = new Map<string, readonly string[]>();
  const loaded = byRoot(workspace);
  state.set(
    'projects',
    loaded.map(({ root, alone, project }) => `${root} ${alone} ${[...project.sources.keys()].sort().join(' ')}`),
  );
  for (const one of loaded) addProject(state, one);
  state.set(
    'workspace symbols',
    symbolsNamed(
      loaded.map(({ project }) => project),
      'a',
    )
      .map((s) => said(s))
      .sort(),
  );
  return state;
}

function addProject(state: Map<string, readonly string[]>, loaded: LoadedProject): void {
  const { project, root } = loaded;
  const put = (what: string, lines: readonly string[]): void => void state.set(`${what} of ${root}`, lines);
  const sorted = (values: Iterable<unknown>): string[] => [...values].map(said).sort();
  const { findings, demand } = planProject(project);
  put('settings', [said(project.settings)]);
  put('names', sorted([...project.names.everything()].map(({ kind, name, statement }) => [kind, name, statement])));
  put('findings', sorted(project.findings()));
  put('findings of the plan', sorted(findings));
  put('demand', [said(demand.request), said(demandOf(project).request)]);
  put(
    'units',
    [...project.units()].map(({ info, given, resolved, declared, ...unit }) =>
      said({
        ...unit,
        statement: declared.statement,
        template: info?.declared.name,
        given: given?.values,
        layout: resolved?.layout,
      }),
    ),
  );
  put(
    'samples',
    sorted(
      [...project.names.all('template')].map(({ statement }) => [
        statement,
        project
          .samplesOf(statement)
          .map(({ label, complete, resolved, findings: own }) => [label, complete, resolved.layout, own]),
      ]),
    ),
  );
  put('tests', sorted([...project.tested()].map(({ template, ...results }) => [template.name, results])));
  put('view', viewOf(loaded));
  for (const [path, source] of [...project.sources].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const snapshot: Snapshot = { project, source, path };
    const own = (what: string, lines: readonly string[]): void => void state.set(`${what} of ${path}`, lines);
    own('text', [source.text]);
    own(
      'statements',
      [...source.statements()].map((s) => treeOf(s)),
    );
    own('outline', symbolsOf(snapshot).map(said));
    own('folds', foldsOf(snapshot).map(said));
    own('links', linksOf(snapshot).map(said));
    own('tokens', tokensOf(snapshot));
    own(
      'hints',
      hintsIn(snapshot, { start: 0, end: source.length }, hintKinds).map(({ at, kind, label, why }) =>
        said([at, kind, label, why()]),
      ),
    );
    own(
      'lenses',
      lensesOf(snapshot, lensKinds, () => undefined).map(({ start, end, kind, say }) =>
        said([start, end, kind, say()]),
      ),
    );
    const names = [...source.statements()].map((top) => offsetOf(top) + (top.items[0] ?? top.word).start);
    const places = someOf(
      [...source.statements()]
        .flatMap((top) => [...statementsWithin(top)])
        .flatMap((s) => [s.word, ...s.items].map(({ start }) => offsetOf(s) + start)),
      20,
    );
    own(
      'hovers',
      places.map((at) => said(hoverAt(snapshot, at))),
    );
    own(
      'offers',
      someOf(places, 4).flatMap((at) =>
        completionsAt(snapshot, at).map(({ label, text, detail, rank }) => said([at, rank, label, text, detail])),
      ),
    );
    own(
      'quick fixes',
      someOf(places, 1).flatMap((at) =>
        quickFixesAt(snapshot, { start: at, end: at }).map(({ title, edits, preferred }) =>
          said([at, title, edits, preferred]),
        ),
      ),
    );
    own(
      'status',
      someOf(places, 4).map((at) => said(placeStatusAt(snapshot, at, noPlan))),
    );
    own(
      'references',
      places.map((at) => said(referencesAt(snapshot, at, [project]))),
    );
    own(
      'users',
      names.map((at) => said(usersOf(snapshot, at))),
    );
    own(
      'drawn',
      names.map((at) => {
        const drawn = drawnUnitAt(snapshot, at);
        return said(drawn && [drawn.kind, drawn.name, drawn.where, drawn.findings]);
      }),
    );
    own('formatting', formattingEdits(snapshot).map(said));
  }
}

/** At most so many of them, from all over. */
function someOf<T>(all: readonly T[], most: number): T[] {
  const step = Math.ceil(all.length / most);
  return all.filter((_, i) => i % step === 0);
}

/** The tree that people see, each line by the keys that lead to it. */
function viewOf(loaded: LoadedProject): string[] {
  const viewed = { ...loaded, plan: noPlan };
  const lines = (path: readonly string[]): string[] =>
    (childNodes(viewed, path) ?? []).flatMap((node) => [
      said([path, node]),
      ...(node.hasChildren ? lines([...path, node.key]) : []),
    ]);
  return lines([]);
}

function tokensOf(snapshot: Snapshot): string[] {
  // Where a file is cut into pieces is nobody's business.
  return tokenPiecesOf(snapshot).flatMap(({ segment, at, tokens }) =>
    tokens.map(
      ({ start, end, type, modifiers }) =>
        `${segment.offset + at + start}-${segment.offset + at + end} ${type} ${modifiers.join()}`,
    ),
  );
}

function treeOf(statement: Statement): string {
  const one = (s: Statement): unknown => [
    offsetOf(s),
    s.text.length,
    s.word,
    s.items,
    s.head,
    s.doc,
    s.comments,
    s.problems,
    s.block && [s.block.open, s.block.close, s.block.comments, s.block.children.map(one)],
  ];
  return JSON.stringify(one(statement), (_, value: unknown) => (typeof value === 'bigint' ? `${value}n` : value));
}

/** Anything as one line: statements and places by where they stand in their files, no object by what it is. */
export function said(value: unknown): string {
  return JSON.stringify(plain(value)) ?? 'undefined';
}

const isStatement = (value: object): value is Statement => (value as { kind?: unknown }).kind === 'statement';
const isPlace = (value: object): value is Place =>
  'statement' in value && 'start' in value && 'end' in value && isStatement((value as Place).statement);

function plain(value: unknown): unknown {
  if (typeof value === 'bigint') return `${value}n`;
  if (typeof value === 'number') return Number.isFinite(value) ? value : String(value);
  if (typeof value === 'function' || value === undefined) return null;
  if (typeof value !== 'object' || value === null) return value;
  if (Array.isArray(value)) return value.map(plain);
  if (value instanceof Map) return { map: [...value].map(([k, v]) => [plain(k), plain(v)]) };
  if (value instanceof Set) return { set: [...value].map(plain) };
  if (value instanceof Source) return value.id;
  if (value instanceof Names || value instanceof Trace || value instanceof Project) return null;
  if (isStatement(value)) return `${fileOf(value)}:${offsetOf(value)}`;
  if (isPlace(value)) {
    const { statement, start, end, ...more } = value;
    const at = offsetOf(statement);
    const where = `${fileOf(statement)}:${at + start}-${at + end}`;
    return Object.keys(more).length === 0 ? where : [where, plain(more)];
  }
  const made: Record<string, unknown> = {};
  for (const key of Object.keys(value).sort()) {
    const own = (value as Record<string, unknown>)[key];
    if (own !== undefined && typeof own !== 'function') made[key] = plain(own);
  }
  return made;
}

function fileOf(statement: Statement): string {
  return segmentOf(statement).source.id;
}

/** The first thing that is not the same, with what each of both says of it. */
export function differenceOf(
  a: State,
  b: State,
): { readonly what: string; readonly left: string; readonly right: string } | undefined {
  for (const what of new Set([...a.keys(), ...b.keys()])) {
    const [left, right] = [a.get(what), b.get(what)];
    if (isDeepStrictEqual(left, right)) continue;
    const own = (left ?? []).filter((line) => !right?.includes(line));
    const other = (right ?? []).filter((line) => !left?.includes(line));
    const shown = (lines: readonly string[], all: readonly string[] | undefined): string =>
      all === undefined
        ? 'nothing of the kind'
        : lines.length > 0
          ? lines.slice(0, 3).join('\n')
          : 'the same lines in another order, or more often';
    return { what, left: shown(own, left), right: shown(other, right) };
  }
  return undefined;
}
