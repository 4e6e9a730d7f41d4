/** What a selection grows to, step by step: word, value, head, statement, contents of the block, block, and so on. */
import type { Expression, Item, Range, Statement } from '../../grammar/tree.ts';
import { offsetOf } from '../../grammar/tree.ts';
import type { Snapshot } from './snapshot.ts';

/** The ranges around an offset, the smallest first; each holds the one before it, and the last is the file. */
export function selectionsAt({ source }: Snapshot, offset: number): Range[] {
  const around: Range[] = [];
  const comment = source.comments().find(({ start, end }) => start <= offset && offset <= end);
  if (comment) around.push(comment);
  let statement = source.statementAt(offset);
  while (statement) {
    const base = offsetOf(statement);
    const within = offset - base;
    for (const range of rangesIn(statement, within)) around.push({ start: base + range.start, end: base + range.end });
    statement = statement.parent.kind === 'statement' ? statement.parent : undefined;
  }
  around.push({ start: 0, end: source.length });
  return growing(around, offset);
}

/** Those that hold the offset and are larger than the one before. */
function growing(ranges: readonly Range[], offset: number): Range[] {
  const kept: Range[] = [];
  for (const { start, end } of ranges) {
    const last = kept.at(-1) ?? { start: offset, end: offset };
    const isLarger = start <= last.start && last.end <= end && (start < last.start || last.end < end);
    if (isLarger || kept.length === 0) if (start <= offset && offset <= end) kept.push({ start, end });
  }
  return kept;
}

/** Within the statement, the smallest first. */
function rangesIn(statement: Statement, within: number): Range[] {
  const { word, items, head, block, text } = statement;
  const found: Range[] = [];
  if (holds(word, within)) found.push(word);
  for (const item of items) if (holds(item, within)) found.push(...inside(item, within));
  if (holds(head, within)) {
    // What follows the first word belongs together: `back after shirts`.
    const [first, last] = [items[0], items.at(-1)];
    if (first && last && within >= first.start) found.push({ start: first.start, end: last.end });
    found.push(head);
  }
  const close = block ? (block.close < 0 ? text.length : block.close) : 0;
  if (block && block.open < within && within <= close) {
    found.push(contents(text, block.open + 1, close), { start: block.open + 1, end: close });
    found.push({ start: block.open, end: Math.min(text.length, close + 1) });
  }
  // Without and with the documentation above it.
  found.push({ start: word.start, end: text.length }, { start: 0, end: text.length });
  return found;
}

/** Without the blanks at either end. */
function contents(text: string, start: number, end: number): Range {
  const inner = text.slice(start, end);
  const lead = inner.length - inner.trimStart().length;
  return { start: start + lead, end: Math.max(start + lead, start + inner.trimEnd().length) };
}

function inside(item: Item, within: number): Range[] {
  return [...parts(item).flatMap((part) => (holds(part, within) ? rangesOf(part, within) : [])), item];
}

function rangesOf(part: Range | Item, within: number): Range[] {
  return 'kind' in part && part.kind !== 'mark' && part.kind !== 'stray' ? inside(part, within) : [part];
}

function parts(item: Item): readonly (Range | Expression)[] {
  switch (item.kind) {
    case 'path':
      // `tower.top` from its beginning: what a path up to a word means.
      return item.words.length > 1 ? [...item.words.map(({ start, end }) => ({ start, end }))] : [];
    case 'binary':
      return [item.left, item.right];
    case 'negation':
      return [item.operand];
    case 'group':
      return [item.inner];
    case 'call':
      return [{ start: item.name.start, end: item.name.end }, ...item.args];
    case 'text':
      return [{ start: item.start + 1, end: item.start + 1 + item.value.length }];
    case 'number':
      return item.parts.flatMap((part) => {
        const { unit } = part;
        const number: Range = { start: part.start, end: unit ? unit.start : part.end };
        return unit ? [number, { start: unit.start, end: unit.end }, { start: part.start, end: part.end }] : [number];
      });
    default:
      return [];
  }
}

function holds({ start, end }: Range, within: number): boolean {
  return start <= within && within <= end;
}
