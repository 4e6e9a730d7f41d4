/** A case made smaller as long as it shows the same fault: by declarations, lines, words and letters. */

const cuts: readonly ((text: string) => string[])[] = [
  (text) => text.split(/(?=^== )/m),
  (text) => text.split(/(?<=\n)(?=\S)/),
  (text) => text.split(/(?<=\n)/),
  (text) => text.split(/(?<=[{};])/),
  (text) => text.split(/(?<=\s)(?=\S)/),
  (text) => [...text],
];

/** `shows` is asked at most `most` times. */
export async function minimised(
  text: string,
  shows: (smaller: string) => boolean | Promise<boolean>,
  most = 2_000,
): Promise<string> {
  let best = text;
  let asked = 0;
  for (let round = 0; round < 3; round++) {
    const before = best;
    for (const cut of cuts) {
      let pieces = cut(best);
      // Letters of what is still long would take for ever.
      if (pieces.length > 1_500) continue;
      // Delta debugging (Zeller and Hildebrandt, 2002), without the complements' bookkeeping.
      for (let size = Math.ceil(pieces.length / 2); size >= 1; size = size === 1 ? 0 : Math.ceil(size / 2)) {
        for (let at = 0; at < pieces.length && asked < most; ) {
          const less = pieces.toSpliced(at, size);
          asked++;
          if (less.length < pieces.length && (await shows(less.join('')))) {
            pieces = less;
            best = pieces.join('');
          } else at += size;
        }
      }
    }
    if (best === before || asked >= most) break;
  }
  return best;
}
