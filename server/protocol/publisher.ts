/** Keeps the client's diagnostics as they should be, and sends only what changed. */
import type { Diagnostic as ProtocolDiagnostic, PublishDiagnosticsParams } from 'vscode-languageserver';
import type { Source } from '../../grammar/source.ts';
import { type Place, type Statement, topOf } from '../../grammar/tree.ts';
import { byFile, diagnosticOf, sourceOf } from '../language/diagnostics.ts';
import type { Finding } from '../model/finding.ts';
import { memo } from '../model/memo.ts';
import type { LoadedProject } from '../model/workspace.ts';
import { type Links, protocolDiagnostic } from './convert.ts';
import { sameDiagnostics } from './same-diagnostics.ts';

export interface OpenDocument {
  readonly uri: string;
  version: number;
}

export interface PublisherOptions extends Links {
  readonly send: (params: PublishDiagnosticsParams) => void;
  readonly open: ReadonlyMap<string, OpenDocument>;
  /** Whether anybody is to be told about a file of a project. */
  readonly isShown: (file: string, loaded: LoadedProject) => boolean;
  /** What is found beside the project's own findings. */
  readonly beside: (loaded: LoadedProject) => readonly Finding[];
}

export interface Publisher {
  /** Compares all files of all projects with what was sent; `first` goes first. */
  readonly publish: (projects: readonly LoadedProject[], first: string | undefined) => void;
  /**
   * While a project is brought up to date, and what stands in open files is: those that hold nothing but units, with
   * what is theirs alone, are told of at once. `edited` is not: what it says may rest on units elsewhere.
   */
  readonly publishFirst: (projects: readonly LoadedProject[], edited: string | undefined) => void;
  /**
   * While somebody types without a pause, and too much rests on it to be brought up to date between two keys: the file
   * that is typed in, as far as it is known. What units say of its other statements is what they said last, so that no
   * version is named.
   */
  readonly publishMeanwhile: (projects: readonly LoadedProject[], edited: string) => void;
}

/** What one project says of one file. A file of a library can be in several projects. */
interface Part {
  readonly findings: readonly Finding[];
  /** Versions of the texts that the positions are in, added up: they only ever rise. */
  readonly stamp: number;
  readonly diagnostics: readonly ProtocolDiagnostic[];
}

interface Told {
  readonly moment: object;
  readonly beside: readonly Finding[];
  readonly parts: ReadonlyMap<string, Part>;
}

interface Published {
  readonly uri: string;
  readonly version: number | undefined;
  /** As sent, for comparing. */
  readonly parts: readonly (readonly ProtocolDiagnostic[])[];
  readonly diagnostics: readonly ProtocolDiagnostic[];
}

export function createPublisher(options: PublisherOptions): Publisher {
  const { open, uriOfFile, send } = options;
  const published = new Map<string, Published>();
  const told = new Map<LoadedProject['project'], Told>();

  /** What a project says of its files now; what has not changed is the same list as before. */
  function partsOf(loaded: LoadedProject): Told {
    const { project } = loaded;
    const beside = options.beside(loaded);
    const before = told.get(project);
    const { moment } = project;
    if (before?.moment === moment && before.beside === beside) return before;
    const parts = new Map<string, Part>();
    for (const [source, findings] of byFile([...project.findings(), ...beside])) {
      parts.set(source.id, partOf(source, findings, before?.parts.get(source.id)));
    }
    const now = { moment, beside, parts };
    told.set(project, now);
    return now;
  }

  /** What is said of one file; what was said of it before is kept where it is the same. */
  function partOf(source: Source, findings: readonly Finding[], known: Part | undefined): Part {
    const stamp = stampOf(source, findings);
    const same = known?.stamp === stamp && sameFindings(known.findings, findings);
    const diagnostics = same
      ? known.diagnostics
      : findings.map((f) => protocolDiagnostic(source, diagnosticOf(f), options)).sort(byPlace);
    return { findings, stamp, diagnostics };
  }

  function publishFile(file: string, parts: readonly (readonly ProtocolDiagnostic[])[]): void {
    const uri = uriOfFile(file);
    const version = open.get(file)?.version;
    const known = published.get(file);
    const sameParts = known !== undefined && sameItems(known.parts, parts);
    const diagnostics = sameParts ? known.diagnostics : parts.length === 1 ? (parts[0] ?? []) : merged(parts);
    const same = known
      ? known.uri === uri && (sameParts || sameDiagnostics(known.diagnostics, diagnostics))
      : diagnostics.length === 0;
    // An open document is told of each of its versions, so that its client knows that nothing changed.
    if (same && (version === undefined || known?.version === version)) return;
    if (known && known.uri !== uri) send({ uri: known.uri, diagnostics: [] });
    published.set(file, { uri, version, parts, diagnostics });
    send({ uri, diagnostics: [...diagnostics], ...(version !== undefined && { version }) });
  }

  return {
    publishMeanwhile(projects, edited) {
      const parts: (readonly ProtocolDiagnostic[])[] = [];
      for (const loaded of projects) {
        const source = loaded.project.sources.get(edited);
        if (!source) continue;
        const standing = standingIn(loaded.project);
        const all = [...loaded.project.findings(), ...options.beside(loaded)];
        const stand = all
          .filter(({ place }) => sourceOf(place) === source && standing(place))
          .map((f) => ({
            ...f,
            related: f.related.filter((r) => standing(r.place)),
          }));
        const found = byFile(stand).get(source) ?? [];
        parts.push(found.map((f) => protocolDiagnostic(source, diagnosticOf(f), options)).sort(byPlace));
      }
      const diagnostics = parts.length === 1 ? (parts[0] ?? []) : merged(parts);
      const known = published.get(edited);
      if (known ? sameDiagnostics(known.diagnostics, diagnostics) : diagnostics.length === 0) return;
      const uri = uriOfFile(edited);
      published.set(edited, { uri, version: undefined, parts, diagnostics });
      send({ uri, diagnostics: [...diagnostics] });
    },
    publishFirst(projects, edited) {
      for (const loaded of projects) {
        const { sources } = loaded.project;
        const files = [...open.keys()].filter((file) => file !== edited && holdsUnitsOnly(sources.get(file)));
        if (files.length === 0) continue;
        const asked = new Set(files.map((file) => sources.get(file)));
        const all = [...loaded.project.findings(), ...options.beside(loaded)];
        const found = byFile(all.filter(({ place }) => asked.has(sourceOf(place))));
        const before = told.get(loaded.project)?.parts;
        for (const source of asked) {
          if (!source) continue;
          const part = partOf(source, found.get(source) ?? [], before?.get(source.id));
          publishFile(source.id, [part.diagnostics]);
        }
      }
    },
    publish(projects, first) {
      const all = projects.map((loaded) => [loaded, partsOf(loaded)] as const);
      const shown = new Map<string, (readonly ProtocolDiagnostic[])[]>();
      for (const [loaded, { parts }] of all) {
        for (const file of new Set([...loaded.project.sources.keys(), ...parts.keys()])) {
          // What ships with the tool is in no file that could be shown.
          if (!file.includes('/') || !options.isShown(file, loaded)) continue;
          const own = parts.get(file)?.diagnostics;
          const list = shown.get(file) ?? [];
          if (own) list.push(own);
          shown.set(file, list);
        }
      }
      // The file that is typed in, then the open ones, then the rest.
      if (first !== undefined && shown.has(first)) publishFile(first, shown.get(first) ?? []);
      for (const file of open.keys()) if (file !== first && shown.has(file)) publishFile(file, shown.get(file) ?? []);
      for (const [file, parts] of shown) if (!open.has(file)) publishFile(file, parts);
      for (const [file, { uri, diagnostics }] of published) {
        if (shown.has(file)) continue;
        published.delete(file);
        if (diagnostics.length > 0) send({ uri, diagnostics: [] });
      }
      const alive = new Set(projects.map((p) => p.project));
      for (const project of told.keys()) if (!alive.has(project)) told.delete(project);
    },
  };
}

/** Whether a place is in a text that is there now, and not in a statement that has been typed in since. */
function standingIn({ sources }: LoadedProject['project']): (place: Place) => boolean {
  const known = new Map<Source, ReadonlySet<Statement>>();
  return (place) => {
    const source = sourceOf(place);
    if (sources.get(source.id) !== source) return false;
    return memo(known, source, () => new Set(source.statements())).has(topOf(place.statement));
  };
}

function holdsUnitsOnly(source: Source | undefined): boolean {
  if (!source) return false;
  for (const { word } of source.statements()) if (word.text !== 'unit' && word.text !== 'survey') return false;
  return true;
}

function stampOf(source: Source, findings: readonly Finding[]): number {
  let stamp = source.version;
  for (const { related } of findings) for (const { place } of related) stamp += sourceOf(place).version;
  return stamp;
}

/** The same things said at the same statements: what says so without looking up a position. */
function sameFindings(a: readonly Finding[], b: readonly Finding[]): boolean {
  return (
    a.length === b.length &&
    a.every((f, i) => {
      const g = b[i];
      return g !== undefined && (f === g || sameFinding(f, g));
    })
  );
}

function sameFinding(a: Finding, b: Finding): boolean {
  return (
    a.rule === b.rule &&
    a.severity === b.severity &&
    a.message === b.message &&
    a.advice === b.advice &&
    samePlace(a.place, b.place) &&
    sameItems(a.reach, b.reach) &&
    a.related.length === b.related.length &&
    a.related.every((r, i) => {
      const s = b.related[i];
      return s !== undefined && r.message === s.message && samePlace(r.place, s.place);
    })
  );
}

function samePlace(a: Finding['place'], b: Finding['place']): boolean {
  return a.statement === b.statement && a.start === b.start && a.end === b.end;
}

function sameItems<T>(a: readonly T[], b: readonly T[]): boolean {
  return a.length === b.length && a.every((item, i) => item === b[i]);
}

/** What several projects say of one file, said once. */
function merged(parts: readonly (readonly ProtocolDiagnostic[])[]): ProtocolDiagnostic[] {
  return [...new Map(parts.flat().map((d) => [JSON.stringify(d), d])).values()].sort(byPlace);
}

/** Top to bottom, so that the same findings are the same list however they were come by. */
function byPlace(a: ProtocolDiagnostic, b: ProtocolDiagnostic): number {
  const start = a.range.start;
  const other = b.range.start;
  return (
    start.line - other.line ||
    start.character - other.character ||
    (a.severity ?? 0) - (b.severity ?? 0) ||
    compare(String(a.code), String(b.code)) ||
    compare(String(a.message), String(b.message))
  );
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
