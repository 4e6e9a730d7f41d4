/** The nearest name to a misspelt one: of equally near ones the first in the alphabet, whatever the order they come in. */
export function nearest(name: string, candidates: Iterable<string>): string | undefined {
  return nearestOnes(name, candidates)[0];
}

/** All that are as near as the nearest, in the alphabet: fewest insertions, deletions, replacements and swaps of neighbours. */
export function nearestOnes(name: string, candidates: Iterable<string>): readonly string[] {
  const most = Math.max(1, Math.floor(name.length / 3));
  let best = new Set<string>();
  let bestDistance = most + 1;
  for (const candidate of candidates) {
    if (candidate === '' || candidate === name || Math.abs(candidate.length - name.length) > bestDistance) continue;
    const distance = distanceBetween(name.toLowerCase(), candidate.toLowerCase(), bestDistance);
    if (distance < bestDistance) best = new Set([candidate]);
    else if (distance === bestDistance && best.size > 0) best.add(candidate);
    bestDistance = Math.min(bestDistance, distance);
  }
  return [...best].sort();
}

/** Optimal string alignment distance, given up beyond `limit`. */
function distanceBetween(a: string, b: string, limit: number): number {
  let before: number[] = [];
  let previous = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    let least = i;
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let d = Math.min(
        (previous[j] as number) + 1,
        (row[j - 1] as number) + 1,
        (previous[j - 1] as number) + (same ? 0 : 1),
      );
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        d = Math.min(d, (before[j - 2] as number) + 1);
      row.push(d);
      least = Math.min(least, d);
    }
    if (least > limit) return limit + 1;
    before = previous;
    previous = row;
  }
  return previous[b.length] as number;
}
