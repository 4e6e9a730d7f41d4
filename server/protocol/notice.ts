/** A notice that something changed, given once for a burst of changes and not more often than people can follow. */

export interface Notice {
  readonly soon: () => void;
  readonly stop: () => void;
}

/** Tells at once when it has been quiet for `pause` milliseconds, else when they are over. */
export function createNotice(tell: () => void, pause = 500): Notice {
  let timer: NodeJS.Timeout | undefined;
  let isDue = false;

  function over(): void {
    timer = undefined;
    if (isDue) now();
  }

  function now(): void {
    isDue = false;
    timer = setTimeout(over, pause);
    tell();
  }

  return {
    soon() {
      if (timer) isDue = true;
      else now();
    },
    stop() {
      clearTimeout(timer);
      isDue = false;
      timer = undefined;
    },
  };
}
