/**
 * Diagnostics for clients that ask for them: what would be sent to others is kept until it is asked for, each list with
 * a number of its own, so that one that has not changed is not told again.
 */
import {
  type Diagnostic,
  type DocumentDiagnosticReport,
  DocumentDiagnosticReportKind,
  type PreviousResultId,
  type PublishDiagnosticsParams,
  type WorkspaceDocumentDiagnosticReport,
} from 'vscode-languageserver';
import { sameDiagnostics } from './same-diagnostics.ts';

export interface Mailbox {
  readonly send: (params: PublishDiagnosticsParams) => void;
  readonly report: (uri: string, previous: string | undefined) => DocumentDiagnosticReport;
  /** Of all files that have diagnostics, and of those that had some when they were last asked about. */
  readonly workspaceReport: (
    previous: readonly PreviousResultId[],
    versionOf: (uri: string) => number | null,
  ) => WorkspaceDocumentDiagnosticReport[];
  /** The files of which something else is to be told than when this was last called, or they were asked about. */
  readonly changed: () => ReadonlySet<string>;
}

interface Kept {
  readonly id: string;
  readonly diagnostics: readonly Diagnostic[];
}

const nothing: Kept = { id: '0', diagnostics: [] };

export function createMailbox(): Mailbox {
  const kept = new Map<string, Kept>();
  let last = 0;
  let touched = new Set<string>();

  function reportOf({ id, diagnostics }: Kept, previous: string | undefined): DocumentDiagnosticReport {
    if (previous === id) return { kind: DocumentDiagnosticReportKind.Unchanged, resultId: id };
    return { kind: DocumentDiagnosticReportKind.Full, resultId: id, items: [...diagnostics] };
  }

  return {
    send({ uri, diagnostics }) {
      if (sameDiagnostics((kept.get(uri) ?? nothing).diagnostics, diagnostics)) return;
      touched.add(uri);
      if (diagnostics.length === 0) kept.delete(uri);
      else kept.set(uri, { id: String(++last), diagnostics });
    },
    report(uri, previous) {
      touched.delete(uri);
      return reportOf(kept.get(uri) ?? nothing, previous);
    },
    workspaceReport(previous, versionOf) {
      const known = new Map(previous.map(({ uri, value }) => [uri, value]));
      const uris = new Set([...kept.keys(), ...known.keys()]);
      return [...uris].map((uri) => ({
        ...reportOf(kept.get(uri) ?? nothing, known.get(uri)),
        uri,
        version: versionOf(uri),
      }));
    },
    changed() {
      const now = touched;
      touched = new Set();
      return now;
    },
  };
}
