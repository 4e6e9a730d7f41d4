/** Beams that were solved are kept for a while: the units of a building hold the same shelves over and over. */
import { type Solved, solveBeam } from './beam.ts';
import type { Beam, Refusal } from './beam-input.ts';

const mostKept = 4000;
const kept = new Map<string, Solved | Refusal>();

/** As solveBeam; equal beams are solved once. */
export function solvedBeam(beam: Beam): Solved | Refusal {
  const key = JSON.stringify(beam);
  const known = kept.get(key);
  if (known) return known;
  const made = solveBeam(beam);
  if (kept.size >= mostKept) kept.delete(kept.keys().next().value as string);
  kept.set(key, made);
  return made;
}
