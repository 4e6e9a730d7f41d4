/** The one style of a file, as edits. A block that lacks its braces keeps the indentation by which it is told as one. */
import { type Deeper, type Formatting, formattingOf } from '../../grammar/format.ts';
import type { Source } from '../../grammar/source.ts';
import type { Range } from '../../grammar/tree.ts';
import { mayBeUnbraced, unbraced } from './brace-slips.ts';
import { read } from './reading.ts';

/** The edits that bring a file into the style; with `within`, those of them that lie there. Never throws on text. */
export function styleOf(source: Source, within?: Range): Formatting {
  return formattingOf(source, within, deeper);
}

/** Of a segment: by how many levels a statement stands deeper, because the blocks that it belongs in lack their braces. */
export const deeper: Deeper = ({ statements }) => {
  if (!mayBeUnbraced(statements)) return undefined;
  const { levels } = unbraced(statements.flatMap((statement) => read(statement, 'file').findings));
  return (statement) => levels.get(statement) ?? 0;
};
