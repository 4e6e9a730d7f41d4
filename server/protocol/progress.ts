/** Tells a client that can show it how far a long computation is; of a short one, nothing. */
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
