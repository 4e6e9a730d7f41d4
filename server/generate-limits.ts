/** The section on limits in the reference of the language, from the one table of them. */
import type { Bound } from '../grammar/limits.ts';
import { limitGroups } from './model/limits.ts';

export const limitsTitle = 'Limits';

export function limitsSection(): string {
  return [
    `## ${limitsTitle}`,
    `What strangers wrote is read and computed within bounds, so that no file hangs the tool, fills its memory or takes down what
is beside it. What is beyond a limit is told and left out; everything else is still checked. Sizes are in bytes of 8 bits.`,
    ...limitGroups.map(({ title, limits }) =>
      [
        `### ${title}`,
        Object.entries(limits)
          .map(([name, bound]) => lineOf(name, bound))
          .join('\n'),
      ].join('\n\n'),
    ),
  ].join('\n\n');
}

function lineOf(name: string, { most, counts, why, told }: Bound): string {
  const teller = 'rule' in told ? `[${told.rule}](../server/checks/RULES.md#${told.rule})` : `${told.by}`;
  return `- **${most.toLocaleString('en')}** ${counts} (\`${name}\`). ${why} Told by: ${teller}.`;
}
