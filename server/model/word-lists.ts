/** Some things in a sentence. */

/** `a, b or c`. */
export function listOr(texts: readonly string[]): string {
  const unique = [...new Set(texts)];
  return unique.length < 2 ? (unique[0] ?? 'nothing') : `${unique.slice(0, -1).join(', ')} or ${unique.at(-1)}`;
}

/** `a, b and c`. */
export function listAnd(texts: readonly string[]): string {
  return texts.length < 2 ? texts.join('') : `${texts.slice(0, -1).join(', ')} and ${texts.at(-1)}`;
}
