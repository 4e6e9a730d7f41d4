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
