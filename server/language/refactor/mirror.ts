/** A unit as its mirror: the word `mirrored`, put in or taken out. */
import { topOf } from '../../../grammar/tree.ts';
import { nameIn, readingAt, says } from '../../model/reading.ts';
import type { Located } from '../locate.ts';
import type { Snapshot } from '../snapshot.ts';
import { inStyle, textEdits } from './edits.ts';
import type { Refactoring } from './refactoring.ts';
import { turnedUnit } from './turned.ts';

export function mirror({ project }: Snapshot, located: Located): Refactoring[] {
  const top = topOf(located.statement);
  if (top.word.text !== 'unit' || located.statement !== top) return [];
  const reading = readingAt(top, 'file');
  const name = reading && nameIn(reading)?.text;
  const template = top.items[1];
  if (!reading || name === undefined || template?.kind !== 'path') return [];
  const is = says(reading, 'mirrored');
  const common = {
    id: 'mirror',
    kind: 'refactor.rewrite' as const,
    title: `Build "${name}" ${is ? 'as drawn' : 'mirrored'}`,
  };
  // What is stated as on site would stand on the wrong side then.
  const site = top.block?.children.some(({ word }) => word.text === 'override')
    ? 'Its overrides are stated as on site, and would stay where they are.'
    : project.names.declarations('survey', name).length > 0
      ? 'Its survey is stated as on site, and would stay as it is.'
      : undefined;
  if (site) return [{ ...common, disabled: site, edits: [] }];
  const edit = turnedUnit(top);
  return edit ? [{ ...common, edits: textEdits(inStyle(top, [edit])) }] : [];
}
