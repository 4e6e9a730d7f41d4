/** One request after the other: what the server offers, and which function of server/language answers it. */
import type {
  CancellationToken,
  Connection,
  Position,
  ResponseError,
  ServerCapabilities,
  TextDocumentIdentifier,
} from 'vscode-languageserver';
import { hoverAt } from '../language/hover.ts';
import type { Snapshot } from '../language/snapshot.ts';
import { offsetOf, rangeOf } from './convert.ts';

export const capabilities: ServerCapabilities = {
  hoverProvider: true,
};

interface AboutDocument {
  readonly textDocument: TextDocumentIdentifier;
}

interface AboutPosition extends AboutDocument {
  readonly position: Position;
}

export interface Asking {
  readonly uriOfFile: (file: string) => string;
  /** Wraps a question so that it never fails; `fresh` waits until everything is computed. */
  readonly ask: <P extends AboutDocument, R>(
    ready: 'now' | 'fresh',
    question: (snapshot: Snapshot, params: P) => R | null,
  ) => (params: P, token: CancellationToken) => Promise<R | ResponseError | null>;
}

export function addFeatures(connection: Connection, { ask }: Asking): void {
  const at = (snapshot: Snapshot, { position }: AboutPosition): number => offsetOf(snapshot.source, position);

  connection.onHover(
    ask('fresh', (snapshot, params) => {
      const hover = hoverAt(snapshot, at(snapshot, params));
      return hover
        ? { contents: { kind: 'markdown', value: hover.text }, range: rangeOf(snapshot.source, hover) }
        : null;
    }),
  );
}
