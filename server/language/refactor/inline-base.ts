/** What a template extends, written into it: one step, so that what that one extends is extended next. */

import { isUncertain } from '../../../grammar/layout.ts';
import { topOf } from '../../../grammar/tree.ts';
import { dotted, nameIn, pathIn, readingAt } from '../../model/reading.ts';
import type { Located } from '../locate.ts';
import type { Snapshot } from '../snapshot.ts';
import { lineageFrom } from '../things.ts';
import { changesBuilt } from './built.ts';
import { losesComment } from './comments.ts';
import { rewritten, textEdits } from './edits.ts';
import { mergedBlock } from './merging.ts';
import { qualified } from './qualified.ts';
import type { Refactoring } from './refactoring.ts';

export function inlineBase({ project }: Snapshot, located: Located): Refactoring[] {
  const top = topOf(located.statement);
  if (top.word.text !== 'template' || located.statement !== top) return [];
  const reading = readingAt(top, 'file');
  const path = reading && pathIn(reading, 'base');
  const name = reading && nameIn(reading)?.text;
  const lineage = lineageFrom(project.names, top);
  const [own, base] = lineage;
  if (!path || name === undefined || !own || !base || base.statement === top) return [];
  const common = {
    id: 'inline-base',
    kind: 'refactor.inline' as const,
    title: `Write what "${dotted(path)}" says into template "${name}"`,
  };
  const further = pathIn(base.reading, 'base');
  if (further && base.home.find('template', dotted(further))?.statement === top)
    return [{ ...common, disabled: 'Each of the two extends the other.', edits: [] }];
  const library = path.words.slice(0, -1).map((word) => `${word.text}.`);
  if (!top.block || !base.statement.block || isUncertain(top) || isUncertain(base.statement))
    return [{ ...common, disabled: 'One of the two has a block that is not closed.', edits: [] }];
  const start = top.text.slice(0, path.start).trimEnd().length - 'extends'.length;
  const head = further
    ? `${top.text.slice(0, path.start)}${library.join('')}${dotted(further)}`
    : top.text.slice(0, start).trimEnd();
  const edits = rewritten(top, `${head} ${mergedBlock(qualified(base, lineage.slice(1)), own.reading)}`);
  const wrong = losesComment(edits) ?? changesBuilt(project, { edits });
  return wrong === undefined ? [{ ...common, edits: textEdits(edits) }] : [{ ...common, disabled: wrong, edits: [] }];
}
