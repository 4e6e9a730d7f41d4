/** A number of a template as a parameter of it, which keeps the number as its default. */
import { measureOf } from '../../../grammar/measures.ts';
import { type NumberLiteral, offsetOf, type Statement } from '../../../grammar/tree.ts';
import { wordIn } from '../../model/vocabulary.ts';
import { itemAt, type Located, slotOf, topOf } from '../locate.ts';
import type { Snapshot } from '../snapshot.ts';
import { numberAt } from './numbers.ts';
import type { Refactoring } from './refactoring.ts';

export function toParameter({ path }: Snapshot, located: Located): Refactoring[] {
  const number = numberAt(located);
  const top = topOf(located.statement);
  if (!number || top.word.text !== 'template' || located.statement === top || !top.block) return [];
  const type = typeOf(number);
  if (!type || located.statement.word.text === 'parameter') return [];
  const name = freeName(top, located.trail);
  const common = {
    id: 'to-parameter',
    kind: 'refactor.extract' as const,
    title: `Make ${number.raw} the parameter "${name}" of the template`,
  };
  const item = itemAt(located);
  const slot = item && located.reading && slotOf(located.reading, item);
  if (slot?.type.kind !== 'quantity')
    return [{ ...common, disabled: 'What stands here is no value that could be given by a unit.', edits: [] }];
  const open = offsetOf(top) + top.block.open + 1;
  const declared = `parameter ${name}: ${type} = ${number.raw}`;
  const isLong = top.text.slice(top.block.open, top.block.children[0]?.offset ?? top.text.length).includes('\n');
  const start = located.base + number.start;
  return [
    {
      ...common,
      edits: [
        { file: path, start: open, end: open, text: isLong ? `\n  ${declared}` : ` ${declared};` },
        { file: path, start, end: located.base + number.end, text: name },
      ],
    },
  ];
}

/** Only quantities that a parameter can have. */
function typeOf({ parts }: NumberLiteral): 'length' | 'count' | 'angle' | undefined {
  const [part] = parts;
  if (!part?.unit) return 'count';
  const dimension = measureOf(part.unit.text)?.dimension;
  return dimension === 'length' || dimension === 'angle' ? dimension : undefined;
}

/** `shirts-width`, after what the number is of; no name that the template has, and no word that stands in a unit. */
function freeName(top: Statement, trail: readonly Statement[]): string {
  const thing = trail.at(-2);
  const first = thing?.items[0];
  const own = thing !== top && first?.kind === 'path' && first.words.length === 1 ? `${first.words[0]?.text}-` : '';
  const base = `${own}${trail.at(-1)?.word.text ?? 'value'}`;
  const taken = new Set(top.text.match(/[A-Za-z_][\w-]*/g));
  const isFree = (name: string): boolean => !taken.has(name) && !wordIn('unit', name);
  let name = base;
  for (let i = 2; !isFree(name); i++) name = `${base}-${i}`;
  return name;
}
