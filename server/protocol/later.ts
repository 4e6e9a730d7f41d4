/** What was offered of documents and is made in full only when it is asked for: lenses, hints, completions. */

/** What a client hands back of one that it wants to know all about. */
export interface Handle {
  readonly list: number;
  readonly index: number;
}

export interface Later<T> {
  /** Keeps a list under its document, in place of the one before. */
  readonly keep: (document: string, list: readonly T[]) => number;
  readonly find: (handle: unknown) => T | undefined;
}

/** Keeps the last list of each of so many documents. */
export function createLater<T>(most: number): Later<T> {
  const lists = new Map<string, { readonly id: number; readonly list: readonly T[] }>();
  let next = 1;
  return {
    keep(document, list) {
      const id = next++;
      lists.delete(document);
      lists.set(document, { id, list });
      if (lists.size > most) lists.delete(lists.keys().next().value as string);
      return id;
    },
    find(handle) {
      const { list, index } = (handle ?? {}) as Partial<Handle>;
      for (const kept of lists.values()) if (kept.id === list) return kept.list[index ?? -1];
      return undefined;
    },
  };
}
