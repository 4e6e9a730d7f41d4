/** What is chosen within a case follows from the case alone, so that it happens again when the case is run again. */
import { type Random, randomFrom } from './random.ts';

/** FNV-1a over UTF-16. */
export function randomOf(text: string): Random {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return randomFrom(hash);
}
