/** A documentation comment as a small window shows it: no longer than it can hold. */
import { limits } from '../model/limits.ts';

export function docOf(doc: string): string {
  const { most } = limits.longestDoc;
  return doc.length <= most ? doc : `${doc.slice(0, most - 1)}…`;
}
