/** Where the name of a declared thing stands. */
import { offsetOf, type Range, type Statement } from '../../grammar/tree.ts';
import { groupOf } from '../model/blueprint.ts';
import { nameIn, pathIn, readingAt } from '../model/reading.ts';

/** The name that a statement gives its thing, else its first word; in the file. */
export function nameRangeOf(statement: Statement): Range {
  const base = offsetOf(statement);
  const { start, end } = nameRange(statement);
  return { start: base + start, end: base + end };
}

/** The same within the statement. */
function nameRange(statement: Statement): Range {
  if (statement.parent.kind === 'segment') {
    const reading = readingAt(statement, 'file');
    const named = reading && (nameIn(reading) ?? pathIn(reading, 'material') ?? pathIn(reading, 'unit'));
    if (named) return named;
    const first = statement.items[0];
    if (first?.kind === 'path') return first;
  } else if (groupOf(statement.word.text)) {
    const isOuter = statement.parent.word.text === 'template';
    const reading = readingAt(statement, isOuter ? 'template' : 'zone');
    const named = reading && nameIn(reading);
    if (named) return named;
    if (reading) return statement.word;
  }
  // What names a matched set declares it as much as any other does.
  const first = statement.word.text === 'matched' ? statement.items[0] : undefined;
  return first?.kind === 'path' ? first : statement.word;
}
