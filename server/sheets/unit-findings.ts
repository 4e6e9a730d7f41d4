/** What was found in a project as a whole, by the unit that it is about. */
import type { Finding } from '../model/finding.ts';
import { unitsReached } from '../model/reached.ts';

const rank = { error: 0, warning: 1, note: 2 } as const;

/** Errors first, each severity in the order in which it was found; none for a unit of which nothing was. */
export function findingsByUnit(findings: Iterable<Finding>): (unit: string) => readonly Finding[] {
  const byUnit = new Map<string, Finding[]>();
  for (const finding of findings)
    for (const name of new Set(unitsReached(finding))) {
      const known = byUnit.get(name);
      if (known) known.push(finding);
      else byUnit.set(name, [finding]);
    }
  for (const own of byUnit.values()) own.sort((a, b) => rank[a.severity] - rank[b.severity]);
  return (unit) => byUnit.get(unit) ?? [];
}
