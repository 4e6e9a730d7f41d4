/** Texts that come from files or tables, where the editor would read more out of them than words. */

/**
 * A message of the editor makes [words](command:anything) a link that runs it, and a label turns $(name) into a picture: with
 * a space in between, both are words.
 */
export function asWords(text: string): string {
  return text.replaceAll('](', '] (').replaceAll('$(', '$ (');
}
