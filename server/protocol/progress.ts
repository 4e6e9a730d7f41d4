/** Tells a client that can show it how far a long computation is, or that there is one; of a short one, nothing. */
import type { Connection, WorkDoneProgressServerReporter } from 'vscode-languageserver';

/** Milliseconds of work before anything is shown, and between two figures. */
const unshown = 400;
const pause = 100;

export interface Progress {
  /** So many pieces of work are left; 0 when all is done. */
  readonly left: (pieces: number) => void;
}

export const noProgress: Progress = { left: () => undefined };

export function createProgress(connection: Pick<Connection, 'window'>, onError: (error: unknown) => void): Progress {
  let since: number | undefined;
  let most = 0;
  let shown = 0;
  let reporter: Promise<WorkDoneProgressServerReporter> | undefined;

  const withReporter = (use: (reporter: WorkDoneProgressServerReporter) => void): void => {
    reporter?.then(use).catch(onError);
  };

  return {
    left(pieces) {
      if (pieces === 0) {
        withReporter((reporter) => reporter.done());
        since = undefined;
        reporter = undefined;
        return;
      }
      const now = performance.now();
      since ??= now;
      most = reporter ? Math.max(most, pieces) : pieces;
      if (now - since < unshown || now - shown < pause) return;
      shown = now;
      const percent = Math.floor((100 * (most - pieces)) / most);
      const said = `${pieces.toLocaleString('en')} declarations left`;
      if (!reporter) {
        reporter = connection.window.createWorkDoneProgress();
        withReporter((reporter) => reporter.begin('Storypole checks the project', percent, said));
      } else withReporter((reporter) => reporter.report(percent, said));
    },
  };
}

/** Milliseconds of work on an answer before it is shown. */
const unshownAnswer = 1000;

/** Work on an answer of which nobody knows how much there is. */
export interface ShownWork {
  /** Who looks on has had enough of it. */
  readonly isTakenBack: () => boolean;
  readonly end: () => void;
}

export const unshownWork: ShownWork = { isTakenBack: () => false, end: () => undefined };

export function showWork(
  connection: Pick<Connection, 'window'>,
  title: string,
  onError: (error: unknown) => void,
): ShownWork {
  let reporter: WorkDoneProgressServerReporter | undefined;
  let isOver = false;
  const begin = async (): Promise<void> => {
    const made = await connection.window.createWorkDoneProgress();
    // Begun all the same where it is over by now: the client waits for its end.
    made.begin(title, undefined, undefined, true);
    if (isOver) made.done();
    else reporter = made;
  };
  const timer = setTimeout(() => void begin().catch(onError), unshownAnswer);
  return {
    isTakenBack: () => reporter?.token.isCancellationRequested === true,
    end() {
      isOver = true;
      clearTimeout(timer);
      reporter?.done();
    },
  };
}
