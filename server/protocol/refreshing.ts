/**
 * Tells the client that what it shows beside the text may have changed for another reason than an edit of that text:
 * an edit of another file, a setting, a plan. Told once it has been quiet for a while, and only to who can hear it.
 */
import type { Connection, InitializeParams } from 'vscode-languageserver';

export type Shown = 'hints' | 'lenses' | 'tokens';

export interface Refreshing {
  readonly onInitialize: (params: InitializeParams) => void;
  readonly soon: (...shown: Shown[]) => void;
  readonly stop: () => void;
}

/** Milliseconds without another reason. */
const quiet = 200;

export function createRefreshing(connection: Connection, onError: (error: unknown) => void): Refreshing {
  const hears: Record<Shown, boolean> = { hints: false, lenses: false, tokens: false };
  const waiting = new Set<Shown>();
  const askAgain: Record<Shown, OneAtATime> = {
    hints: oneAtATime(() => connection.languages.inlayHint.refresh(), onError),
    lenses: oneAtATime(() => connection.sendRequest('workspace/codeLens/refresh'), onError),
    tokens: oneAtATime(() => connection.languages.semanticTokens.refresh(), onError),
  };
  let timer: NodeJS.Timeout | undefined;

  function tell(): void {
    timer = undefined;
    const now = [...waiting];
    waiting.clear();
    for (const shown of now) askAgain[shown].soon();
  }

  return {
    onInitialize({ capabilities: { workspace } }) {
      hears.hints = workspace?.inlayHint?.refreshSupport === true;
      hears.lenses = workspace?.codeLens?.refreshSupport === true;
      hears.tokens = workspace?.semanticTokens?.refreshSupport === true;
    },
    soon(...shown) {
      for (const one of shown) if (hears[one]) waiting.add(one);
      if (waiting.size === 0) return;
      clearTimeout(timer);
      timer = setTimeout(tell, quiet);
    },
    stop() {
      clearTimeout(timer);
      waiting.clear();
    },
  };
}

export interface OneAtATime {
  readonly soon: () => void;
}

/** Asks something of the client, and again after it has answered where there has been another reason meanwhile. */
export function oneAtATime(ask: () => Promise<unknown>, onError: (error: unknown) => void): OneAtATime {
  let isOpen = false;
  let isDue = false;
  const own: OneAtATime = {
    soon() {
      if (isOpen) {
        isDue = true;
        return;
      }
      isOpen = true;
      isDue = false;
      ask()
        .catch(onError)
        .finally(() => {
          isOpen = false;
          if (isDue) own.soon();
        });
    },
  };
  return own;
}
