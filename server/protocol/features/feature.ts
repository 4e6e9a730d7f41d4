/** What the features of the server share: how they are asked, and how plain answers become protocol types. */
import type {
  CancellationToken,
  ClientCapabilities,
  Connection,
  Position,
  ResponseError,
  ServerCapabilities,
  TextDocumentIdentifier,
  WorkspaceEdit,
} from 'vscode-languageserver';
import type { Source } from '../../../grammar/source.ts';
import type { Steps } from '../../checks/steps.ts';
import type { PlanFigures } from '../../language/code-lens.ts';
import type { Made } from '../../language/made-plan.ts';
import type { Snapshot, TextEdit } from '../../language/snapshot.ts';
import type { Project } from '../../model/project.ts';
import type { LoadedProject } from '../../model/workspace.ts';
import { type Links, offsetOf, rangeOf } from '../convert.ts';
import type { Settings } from '../settings.ts';

/** A few requests that belong together, and what the server says that it can do with them. */
export interface Feature {
  readonly capabilities: ServerCapabilities;
  readonly add: (connection: Connection, asking: Asking) => void;
}

export interface AboutDocument {
  readonly textDocument: TextDocumentIdentifier;
}

export interface AboutPosition extends AboutDocument {
  readonly position: Position;
}

export interface Closed {
  readonly uri: string;
  /** Its file, where it is in a project still. */
  readonly source: Source | undefined;
}

export interface Asking extends Links {
  /** What is known of the client once it has introduced itself. */
  readonly client: () => ClientCapabilities;
  /** All that are loaded, those with open documents first. */
  readonly projects: () => readonly Project[];
  /** The same with the folders that they are in. */
  readonly loaded: () => readonly LoadedProject[];
  /** The version of an open document; null for a file on disk. */
  readonly versionOf: (file: string) => number | null;
  /** The client takes edits with the versions they are meant for. */
  readonly versionedEdits: () => boolean;
  /** The client can fill in places of what it inserts. */
  readonly snippets: () => boolean;
  /** The client runs the commands that the server names. */
  readonly runsCommands: () => boolean;
  readonly settings: () => Settings;
  /** Calls when a document was closed: what is kept for who looks at it is of no use any more. */
  readonly onClosed: (forget: (closed: Closed) => void) => void;
  /** The last plan of a project, as far as there is one. */
  readonly planFigures: (project: Project) => PlanFigures | undefined;
  readonly log: (error: unknown) => void;
  /** Wraps a question so that it never fails; `fresh` waits until everything is computed. */
  readonly ask: <P extends AboutDocument, R>(
    ready: 'now' | 'fresh',
    question: (snapshot: Snapshot, params: P) => R | null,
  ) => (params: P, token: CancellationToken) => Promise<R | ResponseError | null>;
  /** The same, once everything is computed, where the answer takes long: it is dropped when something is edited meanwhile. */
  readonly askLong: <P extends AboutDocument, R>(
    question: (snapshot: Snapshot, params: P) => Steps<R | null>,
    /** Shown while it takes long; by itself, that changes are tried out. */
    shownAs?: string,
  ) => (params: P, token: CancellationToken) => Promise<R | ResponseError | null>;
  /** The same for a question about no one document. */
  readonly askAll: <P, R>(
    ready: 'now' | 'fresh',
    question: (params: P) => R | null,
  ) => (params: P, token: CancellationToken) => Promise<R | ResponseError | null>;
  /** The same for a question about no document: about every project, those that people look at first. */
  readonly askProjects: <P, R>(
    ready: 'now' | 'fresh',
    question: (projects: readonly LoadedProject[], params: P) => R | null,
  ) => (params: P, token: CancellationToken) => Promise<R | ResponseError | null>;
  /** What is known of a project's cutting plan. */
  readonly planOf: (project: Project) => Made;
}

/** How a request is answered. */
export type Answering<P, R> = (params: P, token: CancellationToken) => Promise<R>;

/** For what few people ask: how it is answered is loaded when it is asked for first, so that the server starts sooner. */
export function onceAsked<P, R>(load: () => Promise<Answering<P, R>>): Answering<P, R> {
  let loaded: Promise<Answering<P, R>> | undefined;
  return async (params, token) => {
    loaded ??= load();
    const answer = await loaded;
    return answer(params, token);
  };
}

/** What `make` answers, or `otherwise` where it fails, which is logged. */
export function safely<T>({ log }: Pick<Asking, 'log'>, otherwise: T, make: () => T): T {
  try {
    return make();
  } catch (error) {
    log(error);
    return otherwise;
  }
}

/** The offset that a request is about. */
export function offsetAt({ source }: Snapshot, { position }: AboutPosition): number {
  return offsetOf(source, position);
}

/** Edits of files of these projects, with the versions they are meant for where the client understands them. */
export function workspaceEdit(
  edits: readonly TextEdit[],
  projects: readonly Project[],
  { uriOfFile, versionOf, versionedEdits }: Pick<Asking, 'uriOfFile' | 'versionOf' | 'versionedEdits'>,
): WorkspaceEdit {
  const byFile = [...Map.groupBy(edits, ({ file }) => file)].flatMap(([file, own]) => {
    const source = projects.map(({ sources }) => sources.get(file)).find((one) => one !== undefined);
    if (!source) return [];
    return [{ file, edits: own.map(({ text, ...range }) => ({ range: rangeOf(source, range), newText: text })) }];
  });
  if (!versionedEdits()) return { changes: Object.fromEntries(byFile.map((one) => [uriOfFile(one.file), one.edits])) };
  return {
    documentChanges: byFile.map((one) => ({
      textDocument: { uri: uriOfFile(one.file), version: versionOf(one.file) },
      edits: one.edits,
    })),
  };
}
