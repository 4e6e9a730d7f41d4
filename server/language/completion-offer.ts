/** Names as they are offered: with the head of their declaration beside them, and the declaration itself when somebody looks. */
import type { Statement } from '../../grammar/tree.ts';
import { code } from './hover.ts';
import { commented } from './markdown.ts';
import type { Offer } from './offer.ts';

/** A name to be written as it is. */
export function named(label: string, detail: string, statement?: Statement): Offer {
  return {
    kind: 'name',
    label,
    text: label,
    detail,
    rank: 1,
    ...(statement && { doc: () => declarationDoc(statement) }),
  };
}

/** At most so many lines of a declaration are shown beside its name. */
const mostLines = 12;

/** Its documentation comment, and the declaration itself where it is short. */
function declarationDoc({ doc, text, word }: Statement): string {
  const own = text.slice(word.start);
  const lines = own.split(/\r\n|\n|\r/);
  return [...(doc !== undefined ? [commented(doc)] : []), ...(lines.length <= mostLines ? [code(own)] : [])].join(
    '\n\n',
  );
}

/** What stands before the block of a statement. */
export function headText(statement: Statement): string {
  return statement.text.slice(statement.head.start, statement.head.end);
}
