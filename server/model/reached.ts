/** Which units a finding is about. */
import { topOf } from '../../grammar/tree.ts';
import type { Finding } from './finding.ts';
import { dotted, pathIn, readingAt } from './reading.ts';

/** The units that it says it reaches, else the one in whose statements it is. */
export function unitsReached({ reach, place }: Finding): readonly string[] {
  if (reach.length > 0) return reach;
  const reading = readingAt(topOf(place.statement), 'file');
  if (reading?.word !== 'unit' && reading?.word !== 'survey') return [];
  const name = pathIn(reading, reading.word === 'unit' ? 'name' : 'unit');
  return name ? [dotted(name)] : [];
}
