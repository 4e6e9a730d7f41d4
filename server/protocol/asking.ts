/**
 * How questions are put to what is loaded: of a document as it is now, or once everything is up to date. Who has taken
 * one back, or has edited the document meanwhile, is told that; nothing else fails, what goes wrong is logged.
 */
import { type CancellationToken, ErrorCodes, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import type { Snapshot } from '../language/snapshot.ts';
import type { LoadedProject } from '../model/workspace.ts';
import type { AboutDocument, Answering, Asking } from './features/feature.ts';
import { done } from './long-work.ts';
import type { PlanThread } from './planning.ts';
import type { ShownWork } from './progress.ts';

export interface AskingOptions {
  /** The server has been shut down. */
  readonly isOver: () => boolean;
  /** Once what is on its way into the projects is there; undefined where it is. */
  readonly loading: () => Promise<void> | undefined;
  /** Until everything is up to date, and told where that is asked for, or nobody wants to know any more. */
  readonly settled: (token: CancellationToken, how?: 'settled' | 'told') => Promise<void>;
  /** The version of a document that is open. */
  readonly versionOf: (uri: string) => number | undefined;
  readonly snapshotOf: (uri: string) => Snapshot | undefined;
  /** All projects, those that people look at first. */
  readonly loaded: () => readonly LoadedProject[];
  readonly startPlanner: () => PlanThread;
  /** Shows that an answer is worked on, where that takes long. */
  readonly showWork: (title: string) => ShownWork;
  readonly log: (error: unknown) => void;
}

export type Questions = Pick<Asking, 'ask' | 'askLong' | 'askAll' | 'askProjects'>;

export function createQuestions(options: AskingOptions): Questions {
  const { isOver, settled, log } = options;

  function answering<P, R>(answer: Answering<P, R | ResponseError | null>): Answering<P, R | ResponseError | null> {
    return async (params, token) => {
      if (isOver()) return afterShutdown();
      try {
        return await answer(params, token);
      } catch (error) {
        log(error);
        return null;
      }
    };
  }

  /** A document as it is now, or as it is once everything is up to date; why not, where there is none. */
  async function snapshotFor(
    { textDocument: { uri } }: AboutDocument,
    ready: 'now' | 'fresh',
    token: CancellationToken,
  ): Promise<Snapshot | ResponseError | null> {
    const version = options.versionOf(uri);
    const loading = options.loading();
    if (loading) await loading;
    if (ready === 'fresh') await settled(token);
    if (token.isCancellationRequested) return cancelled();
    if (options.versionOf(uri) !== version) return editedMeanwhile();
    return options.snapshotOf(uri) ?? null;
  }

  return {
    ask: (ready, question) =>
      answering(async (params, token) => {
        const snapshot = await snapshotFor(params, ready, token);
        return snapshot instanceof ResponseError || !snapshot ? snapshot : question(snapshot, params);
      }),
    askLong: (question, shownAs = 'Storypole tries out changes') =>
      answering(async (params, token) => {
        const snapshot = await snapshotFor(params, 'fresh', token);
        if (snapshot instanceof ResponseError || !snapshot) return snapshot;
        const { project } = snapshot;
        const { version } = project;
        const { startPlanner } = options;
        const shown = options.showWork(shownAs);
        const isTakenBack = (): boolean => token.isCancellationRequested || shown.isTakenBack();
        const isWanted = (): boolean => !isOver() && !isTakenBack() && project.version === version;
        const answer = await done(question(snapshot, params), { isWanted, startPlanner }).finally(shown.end);
        if (isWanted()) return answer ?? null;
        return isOver() ? afterShutdown() : isTakenBack() ? cancelled() : editedMeanwhile();
      }),
    askAll: (ready, question) =>
      answering(async (params, token) => {
        const loading = options.loading();
        if (loading) await loading;
        if (ready === 'fresh') await settled(token);
        return token.isCancellationRequested ? cancelled() : question(params);
      }),
    askProjects: (ready, question) =>
      answering(async (params, token) => {
        if (ready === 'fresh') await settled(token, 'told');
        return token.isCancellationRequested ? cancelled() : question(options.loaded(), params);
      }),
  };
}

export function cancelled(): ResponseError {
  return new ResponseError(LSPErrorCodes.RequestCancelled, 'cancelled');
}

function afterShutdown(): ResponseError {
  return new ResponseError(ErrorCodes.InvalidRequest, 'the server has been shut down');
}

export function editedMeanwhile(): ResponseError {
  return new ResponseError(LSPErrorCodes.ContentModified, 'the document was edited meanwhile');
}
