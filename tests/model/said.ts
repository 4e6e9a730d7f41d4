/** What is said of a text, how to mend it, and what a fix makes of it: for tests that have a line each. */
import { withEdits } from '../../grammar/format.ts';
import { Source } from '../../grammar/source.ts';
import { fixesThatHold } from '../../server/checks/alternatives.ts';
import type { Finding, Fix } from '../../server/model/finding.ts';
import { editsOfFix } from '../../server/model/fix-edits.ts';
import { read } from '../../server/model/reading.ts';
import { type BlockPlace, topWords } from '../../server/model/vocabulary.ts';
import { allFindings, projectOf } from './support.ts';

function mendedBy(fix: Fix | undefined, text: string): string | undefined {
  const edits = fix ? editsOfFix(fix) : [];
  return edits.length > 0 ? withEdits(text, edits) : undefined;
}

/** Of a statement that is read at a place: `message advice => text`, by its first fix. */
export function saidOfStatement(text: string, place: BlockPlace): string[] {
  const [statement] = [...new Source('/p/a.closet', text, topWords).statements()];
  if (!statement) return [];
  return read(statement, place).findings.map(({ message, advice, fixes: [first] }) => {
    const mended = mendedBy(first, text);
    return `${message} ${advice ?? ''}${mended === undefined ? '' : ` => ${mended}`}`;
  });
}

export interface Said {
  readonly found: Finding;
  /** The whole text, by the first fix that holds. */
  readonly mended: string | undefined;
}

/** Of a file, whatever is more than a note. */
export function saidOfFile(text: string): Said[] {
  const project = projectOf(text);
  return allFindings(project)
    .filter(({ severity }) => severity !== 'note')
    .map((found) => ({ found, mended: mendedBy(fixesThatHold(project, found)[0], text) }));
}
