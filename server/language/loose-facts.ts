/** What loose parts come to: how many of what, and whether anything is bought for them. */
import type { Statement } from '../../grammar/tree.ts';
import { showLength, showRange } from '../model/show.ts';
import type { Snapshot } from './snapshot.ts';

/** A paragraph about an `extra`; empty for other statements. */
export function looseFacts({ project }: Snapshot, statement: Statement): string[] {
  if (statement.word.text !== 'extra') return [];
  const { show } = project.settings;
  for (const made of project.computed('extra')) {
    if (made.kind !== 'extra' || !made.value || made.declared.statement !== statement) continue;
    const { value } = made;
    if (value.kind === 'extra')
      return [`Cut ${value.count} of **${showLength(value.part.length, show)}** of \`${value.part.material}\`.`];
    return [
      `Up to ${value.count} of **${showRange(value.least, value.most, show)}** of \`${value.material}\`, cut from what is left of the boards in the plan: as many as find room, then as long as can be. Nothing is bought for them. \`storypole plan\` says how many there are.`,
    ];
  }
  return [];
}
