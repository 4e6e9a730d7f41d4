/** How long somebody has been typing without being told what it comes to. */

export interface Patience {
  /** Something changed. */
  readonly begin: () => void;
  /** All was told. */
  readonly end: () => void;
  /** Whether it has been long enough to tell what is known so far; then it begins anew. */
  readonly isOver: () => boolean;
}

export function createPatience(milliseconds: number): Patience {
  let since: number | undefined;
  return {
    begin() {
      since ??= performance.now();
    },
    end() {
      since = undefined;
    },
    isOver() {
      const now = performance.now();
      if (since === undefined || now - since < milliseconds) return false;
      since = now;
      return true;
    },
  };
}
