/**
 * Those who ask for the diagnostics of the document that is typed in, and cannot be told all as long as the typing goes
 * on: they are told what is known so far, by whoever finds that they have waited long enough.
 */
import type { CancellationToken } from 'vscode-languageserver';

/** Who has taken back the question is not there any more, and must not use up what the others have waited. */
type Gone = Pick<CancellationToken, 'isCancellationRequested'>;

export interface Impatient {
  /** Somebody waits to hear of a document, or of any where none is named. Answers what ends the waiting. */
  readonly wait: (uri: string | undefined, token: Gone, tell: (uri: string) => void) => () => void;
  /** Whether anybody waits to hear of just this document. */
  readonly isAsked: (uri: string) => boolean;
  /** Whether anybody at all would hear of it. */
  readonly isHeard: (uri: string) => boolean;
  readonly tell: (uri: string) => void;
}

interface Waiting {
  readonly uri: string | undefined;
  readonly token: Gone;
  readonly tell: (uri: string) => void;
}

export function createImpatient(): Impatient {
  const all = new Set<Waiting>();
  const those = (holds: (uri: string | undefined) => boolean): Waiting[] =>
    [...all].filter(({ uri, token }) => !token.isCancellationRequested && holds(uri));
  const hearing = (uri: string): Waiting[] => those((asked) => asked === uri || asked === undefined);
  return {
    wait(uri, token, tell) {
      const one = { uri, token, tell };
      all.add(one);
      return () => void all.delete(one);
    },
    isAsked: (uri) => those((asked) => asked === uri).length > 0,
    isHeard: (uri) => hearing(uri).length > 0,
    tell(uri) {
      for (const { tell } of hearing(uri)) tell(uri);
    },
  };
}
