/** The value under a key, made when it is first asked for. */
export function memo<K extends WeakKey, V>(map: WeakMap<K, V>, key: K, make: () => V): V;
export function memo<K, V>(map: Map<K, V>, key: K, make: () => V): V;
export function memo<K, V>(map: { get(k: K): V | undefined; set(k: K, v: V): unknown }, key: K, make: () => V): V {
  const known = map.get(key);
  if (known !== undefined) return known;
  const made = make();
  map.set(key, made);
  return made;
}

/**
 * Keeps what was made for the last few keys: for what is asked for several times in a row while one thing is looked
 * at, and is not worth its memory afterwards. Keys are told apart by identity.
 */
export function recent<K extends object, V>(most: number): (key: K, make: () => V) => V {
  const kept = new Map<K, V>();
  return (key, make) => {
    const known = kept.get(key);
    if (known !== undefined) return known;
    const made = make();
    if (kept.size >= most) kept.delete(kept.keys().next().value as K);
    kept.set(key, made);
    return made;
  };
}

/** As `recent`, for what rests on several things together. */
export function recentBy<V>(most: number): (keys: readonly unknown[], make: () => V) => V {
  const kept: { readonly keys: readonly unknown[]; readonly made: V }[] = [];
  return (keys, make) => {
    // The last one is asked for again most often.
    for (let i = kept.length - 1; i >= 0; i--) {
      const entry = kept[i] as (typeof kept)[number];
      if (alike(entry.keys, keys)) return entry.made;
    }
    const made = make();
    if (kept.length >= most) kept.shift();
    kept.push({ keys, made });
    return made;
  };
}

function alike(a: readonly unknown[], b: readonly unknown[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (!Object.is(a[i], b[i])) return false;
  return true;
}

/**
 * Keeps with each key what was made for it under the last few circumstances. These are told apart by all that they
 * consist of, each by identity: whatever a result rests on besides its key has to be named.
 */
export function lately<K extends object, V>(
  most: number,
): (key: K, circumstances: readonly unknown[], make: () => V) => V {
  const kept = new WeakMap<K, { readonly under: readonly unknown[]; readonly made: V }[]>();
  return (key, under, make) => {
    const entries = memo(kept, key, () => []);
    for (const entry of entries) if (alike(entry.under, under)) return entry.made;
    const made = make();
    if (entries.length >= most) entries.shift();
    entries.push({ under, made });
    return made;
  };
}
