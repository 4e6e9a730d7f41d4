/**
 * When a tree is asked for anew. One that is asked for while it opens a branch leaves that branch closed, and whoever has
 * opened it does so again: so nothing is asked for anew before all branches that were asked for are open.
 */

/** Milliseconds in which a branch that was answered for is opened. */
const opening = 150;

export interface Refresh {
  /** Something has changed. */
  readonly soon: () => void;
  /** Answers for a branch. */
  readonly during: <T>(answer: () => Promise<T>) => Promise<T>;
  readonly dispose: () => void;
}

export function betweenAnswers(refresh: () => void): Refresh {
  let open = 0;
  let isDue = false;
  let timer: ReturnType<typeof setTimeout> | undefined;

  function look(): void {
    if (!isDue || open > 0 || timer !== undefined) return;
    isDue = false;
    refresh();
  }

  function opened(): void {
    timer = undefined;
    look();
  }

  return {
    soon() {
      isDue = true;
      look();
    },
    async during(answer) {
      open++;
      try {
        return await answer();
      } finally {
        open--;
        clearTimeout(timer);
        timer = setTimeout(opened, opening);
      }
    },
    dispose: () => clearTimeout(timer),
  };
}
