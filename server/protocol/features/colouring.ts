/** What words and names are, for colours: all of a file, a stretch of it, or what has changed since. */
import { LSPErrorCodes, ResponseError, type SemanticTokens, type SemanticTokensDelta } from 'vscode-languageserver';
import { forgetTokens, tokenModifiers, tokenTypes } from '../../language/semantic-tokens.ts';
import type { Snapshot } from '../../language/snapshot.ts';
import { offsetOf } from '../convert.ts';
import { type TokenResult, tokenData, tokenDataIn, tokenEdits, tokenResultOf } from '../token-encoding.ts';
import type { Feature } from './feature.ts';

/** The last result of so many documents is kept: a client may ask about some that it never opened. */
const mostKept = 20;

export const colouring: Feature = {
  capabilities: {
    semanticTokensProvider: {
      legend: { tokenTypes: [...tokenTypes], tokenModifiers: [...tokenModifiers] },
      full: { delta: true },
      range: true,
    },
  },
  add: (connection, { ask, onClosed }) => {
    const kept = new Map<string, { readonly id: string; readonly result: TokenResult }>();
    let next = 1;

    function keep(uri: string, result: TokenResult): string {
      const id = String(next++);
      kept.delete(uri);
      kept.set(uri, { id, result });
      if (kept.size > mostKept) kept.delete(kept.keys().next().value as string);
      return id;
    }

    onClosed(({ uri, source }) => {
      kept.delete(uri);
      if (source) forgetTokens(source);
    });

    function whole(snapshot: Snapshot, uri: string): SemanticTokens {
      const result = tokenResultOf(snapshot);
      return { resultId: keep(uri, result), data: tokenData(result) };
    }

    function since(snapshot: Snapshot, uri: string, previous: string): SemanticTokens | SemanticTokensDelta {
      const before = kept.get(uri);
      if (before?.id !== previous) return whole(snapshot, uri);
      const result = tokenResultOf(snapshot);
      return { resultId: keep(uri, result), edits: tokenEdits(before.result, result) };
    }

    const { semanticTokens } = connection.languages;
    semanticTokens.on(
      never(ask('now', (snapshot, { textDocument }): SemanticTokens => whole(snapshot, textDocument.uri))),
    );
    semanticTokens.onDelta(
      never(
        ask('now', (snapshot, { textDocument, previousResultId }) =>
          since(snapshot, textDocument.uri, previousResultId),
        ),
      ),
    );
    semanticTokens.onRange(
      never(
        ask('now', (snapshot, { range }): SemanticTokens => {
          const { source } = snapshot;
          return {
            data: tokenDataIn(snapshot, { start: offsetOf(source, range.start), end: offsetOf(source, range.end) }),
          };
        }),
      ),
    );
  },
};

/** No tokens would take the colours away that the client has: it is told to keep them. */
function never<P extends unknown[], R>(answer: (...asked: P) => Promise<R | null>): (...asked: P) => Promise<R> {
  return async (...asked) => {
    const made = await answer(...asked);
    if (made === null) throw new ResponseError(LSPErrorCodes.ContentModified, 'nothing is known of the document now');
    return made;
  };
}
