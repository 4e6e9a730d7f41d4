/** Keeps the client's diagnostics as they should be, and sends only what changed. */
import type { PublishDiagnosticsParams } from 'vscode-languageserver';
import type { Source } from '../../grammar/source.ts';
import { byFile, diagnosticOf } from '../language/diagnostics.ts';
import type { Finding } from '../model/finding.ts';
import type { LoadedProject } from '../model/workspace.ts';
import { protocolDiagnostic } from './convert.ts';

export interface OpenDocument {
  readonly uri: string;
  version: number;
}

export interface PublisherOptions {
  readonly send: (params: PublishDiagnosticsParams) => void;
  readonly open: ReadonlyMap<string, OpenDocument>;
  readonly uriOfFile: (file: string) => string;
  /** Whether anybody is to be told about a file of a project. */
  readonly isShown: (file: string, loaded: LoadedProject) => boolean;
  /** What is found beside the project's own findings. */
  readonly beside: (loaded: LoadedProject) => readonly Finding[];
}

interface Published {
  readonly uri: string;
  readonly version: number | undefined;
  /** The diagnostics as sent, for comparing. */
  readonly text: string;
}

export interface Publisher {
  /** Compares all files of all projects with what was sent; `first` goes first. */
  readonly publish: (projects: readonly LoadedProject[], first: string | undefined) => void;
}

export function createPublisher(options: PublisherOptions): Publisher {
  const published = new Map<string, Published>();
  const seen = new Map<LoadedProject['project'], { version: number; beside: readonly Finding[] }>();

  function publishFile(file: string, source: Source | undefined, findings: readonly Finding[]): void {
    const { uriOfFile, open, send } = options;
    const uri = uriOfFile(file);
    const version = open.get(file)?.version;
    const known = published.get(file);
    const diagnostics = source
      ? findings.map((f) => protocolDiagnostic(source, diagnosticOf(f), uriOfFile)).sort(byPlace)
      : [];
    const text = JSON.stringify(diagnostics);
    const same = known ? known.uri === uri && known.text === text : diagnostics.length === 0;
    if (same && (version === undefined || known?.version === version)) return;
    if (known && known.uri !== uri) send({ uri: known.uri, diagnostics: [] });
    published.set(file, { uri, version, text });
    send({ uri, diagnostics, ...(version !== undefined && { version }) });
  }

  function publishProject(loaded: LoadedProject, first: string | undefined): void {
    const { project } = loaded;
    const beside = options.beside(loaded);
    const files = byFile([...project.findings(), ...beside]);
    const own = [...project.sources].filter(([file]) => options.isShown(file, loaded));
    // The file that is typed in, then the open ones, then the rest.
    const rank = (file: string): number => (file === first ? 0 : options.open.has(file) ? 1 : 2);
    for (const [file, source] of own.sort((a, b) => rank(a[0]) - rank(b[0])))
      publishFile(file, source, files.get(source) ?? []);
  }

  return {
    publish(projects, first) {
      const shown = new Set<string>();
      for (const loaded of projects) {
        for (const file of loaded.project.sources.keys()) if (options.isShown(file, loaded)) shown.add(file);
        const beside = options.beside(loaded);
        const before = seen.get(loaded.project);
        if (before?.version === loaded.project.version && before.beside === beside && allCurrent(loaded)) continue;
        seen.set(loaded.project, { version: loaded.project.version, beside });
        publishProject(loaded, first);
      }
      for (const [file, { uri, text }] of published) {
        if (shown.has(file)) continue;
        published.delete(file);
        if (text !== '[]') options.send({ uri, diagnostics: [] });
      }
      const alive = new Set(projects.map((p) => p.project));
      for (const project of seen.keys()) if (!alive.has(project)) seen.delete(project);
    },
  };

  /** Every open file of the project has been told about in the version it is in. */
  function allCurrent({ project }: LoadedProject): boolean {
    for (const [file, { version }] of options.open)
      if (project.sources.has(file) && published.get(file)?.version !== version) return false;
    return true;
  }
}

type ProtocolDiagnostic = PublishDiagnosticsParams['diagnostics'][number];

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
