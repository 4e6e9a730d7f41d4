/**
 * What is offered in short and told in full when somebody looks: it brings along what it takes to find it again, in the
 * text that it was made of and no other. Nothing of the project is kept for it: that would be all that the project was.
 */
import type { CancellationToken, ResponseError } from 'vscode-languageserver';
import type { Snapshot } from '../../language/snapshot.ts';
import type { AboutDocument, Asking } from './feature.ts';

export interface Handle<K extends string> {
  readonly uri: string;
  readonly version: number | null;
  readonly kind: K;
}

interface Resolving<T, K extends string> extends AboutDocument {
  readonly item: T;
  readonly handle: Partial<Handle<K>>;
}

/** In full what a client hands back; null where its text is another one by now, or `tell` does not find it. */
export function foundAgain<T extends { readonly data?: unknown }, K extends string>(
  { ask, versionOf }: Pick<Asking, 'ask' | 'versionOf'>,
  tell: (snapshot: Snapshot, item: T, kind: K | undefined) => T | null,
): (item: T, token: CancellationToken) => Promise<T | ResponseError | null> {
  const resolve = ask('fresh', (snapshot, { item, handle }: Resolving<T, K>) =>
    versionOf(snapshot.path) === handle.version ? tell(snapshot, item, handle.kind) : null,
  );
  return (item, token) => {
    const handle = (item.data ?? {}) as Partial<Handle<K>>;
    return resolve({ textDocument: { uri: String(handle.uri) }, item, handle }, token);
  };
}
