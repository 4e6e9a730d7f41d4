/** Names that are declared more than once. */
import { headPlace } from '../../grammar/tree.ts';
import { capital } from './capital.ts';
import { removed } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import type { Declared, DeclaredKind } from './names.ts';
import * as rules from './rules.ts';

/** Told of all but the first of those that have one name. */
export function repetitions([first, ...others]: readonly Declared[]): Finding[] {
  if (!first) return [];
  const { kind } = first;
  // Each unit is a place in the building: whichever of the two was meant, what is drawn there is cut.
  const counts = kind === 'unit' ? 'both are drawn and cut' : 'the first one is used';
  return others.map((other) => {
    // What a library declares can have two names.
    const otherwise = other.name === first.name ? '' : `, once as "${first.name}"`;
    const message = `${called(kind, other.name)} is declared twice${otherwise}; ${counts}.`;
    return finding(rules.nameTaken, headPlace(other.statement), message, {
      advice:
        kind === 'stock' || kind === 'survey' ? 'Put both into one.' : 'Give one of them another name, or remove it.',
      related: [{ place: headPlace(first.statement), message: 'It is declared here first.' }],
      // The same said again counts for nothing; where it says something else, somebody has to choose.
      fixes: [
        {
          title: 'Remove this one',
          edits: [removed(other.statement)],
          byHand: other.statement.text.trim() !== first.statement.text.trim(),
        },
      ],
    });
  });
}

function called(kind: DeclaredKind, name: string): string {
  if (kind === 'project') return 'The project';
  if (kind === 'survey' || kind === 'stock') return `The ${kind} of "${name}"`;
  return `${capital(kind)} "${name}"`;
}
