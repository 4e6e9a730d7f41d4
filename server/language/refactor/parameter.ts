/** A number of a template as a parameter of it, which keeps the number as its default. */
import { measureOf } from '../../../grammar/measures.ts';
import { type NumberLiteral, type Statement, topOf } from '../../../grammar/tree.ts';
import { writtenLength } from '../../model/closing.ts';
import { lineEndAt } from '../../model/edits.ts';
import type { Project } from '../../model/project.ts';
import { nameIn, readingAt } from '../../model/reading.ts';
import { showInches, showLength, showMillimetres } from '../../model/show.ts';
import { TICKS_PER_INCH, TICKS_PER_MM, ticks } from '../../model/ticks.ts';
import { wordIn } from '../../model/vocabulary.ts';
import { itemAt, type Located, slotOf } from '../locate.ts';
import type { Snapshot, TextEdit } from '../snapshot.ts';
import { type Edit, inStyle, instead, textEdits } from './edits.ts';
import { textsAround } from './family.ts';
import { numberAt } from './numbers.ts';
import { type Asked, rangeAround } from './ranged.ts';
import type { Refactoring } from './refactoring.ts';

export function toParameter({ project }: Snapshot, located: Located, projects: readonly Project[] = []): Refactoring[] {
  const number = numberAt(located);
  const top = topOf(located.statement);
  if (!number || top.word.text !== 'template' || located.statement === top || !top.block) return [];
  const type = typeOf(number);
  if (!type || located.statement.word.text === 'parameter' || !isOfItsKind(located, number, type)) return [];
  const name = freeName(top, located.trail, textsAround([project, ...projects], top));
  const common = {
    id: 'to-parameter',
    kind: 'refactor.extract' as const,
    title: `Make ${number.raw} the parameter "${name}" of the template`,
  };
  if (!isBuilt(located))
    return [{ ...common, disabled: 'What stands here is no value that could be given by a unit.', edits: [] }];
  const open = top.block.open + 1;
  const isLong = top.text.slice(top.block.open, top.block.children[0]?.offset ?? top.text.length).includes('\n');
  const line = lineEndAt(top, open);
  const lead = isLong ? `${line}  ` : ' ';
  const declared = `${lead}parameter ${name}: ${type} = ${number.raw}`;
  const edits = (range = ''): [Edit, Edit] => [
    instead(top, { start: open, end: open }, `${declared}${range && ` ${range}`}${isLong ? '' : ';'}`),
    instead(located.statement, number, name),
  ];
  let made: readonly TextEdit[] | undefined;
  return [
    {
      ...common,
      // Its range is found out when it is chosen, since the template is checked at one after another.
      get edits() {
        if (!made) {
          const template = nameOf(top);
          const ends = endsAround(number, located.entry?.plausible);
          const asked = { template, edits: edits(), at: declared.length, value: number.raw, ...ends };
          made = textEdits(inStyle(top, edits(rangeAround(project, asked))));
        }
        return made;
      },
    },
  ];
}

/** Where a length should be, a number without a unit of measure is none, and would be a parameter of the wrong kind. */
function isOfItsKind(located: Located, number: NumberLiteral, type: string): boolean {
  const item = itemAt(located);
  const slot = item === number && located.reading ? slotOf(located.reading, item) : undefined;
  return slot?.type.kind !== 'quantity' || slot.type.dimension === type;
}

/** What a test of the template gives or expects is no part of what is built. */
function isBuilt(located: Located): boolean {
  const item = itemAt(located);
  const slot = item && located.reading && slotOf(located.reading, item);
  return slot?.type.kind === 'quantity' && located.trail[1]?.word.text !== 'test';
}

function nameOf(top: Statement): string {
  const reading = readingAt(top, 'file');
  return (reading && nameIn(reading)?.text) ?? '';
}

/** How far a value may be from what it is: nobody asks for more of a shelf or a zone at once. */
const reach = { inches: [12, 6, 3, 2, 1, 0.5], millimetres: [300, 150, 75, 50, 25, 10], count: [3, 2, 1] } as const;

/** Ends that a range could have, the farthest first, in the system that the number is written in. Of an angle, none. */
function endsAround(number: NumberLiteral, plausible: number | undefined): Pick<Asked, 'below' | 'above'> {
  const written = writtenLength(number);
  const [part] = number.parts;
  if (written) {
    const { length, metric } = written;
    const tick = metric ? TICKS_PER_MM : TICKS_PER_INCH;
    const most = (plausible ?? Number.POSITIVE_INFINITY) * TICKS_PER_INCH;
    const texts = (lengths: readonly number[]): string[] =>
      lengths
        .filter((one) => one > 0 && one <= most)
        .map((one) => showLength(ticks(one), metric ? showMillimetres : showInches))
        .filter((text) => !text.startsWith('~'));
    const steps = reach[metric ? 'millimetres' : 'inches'].map((one) => one * tick);
    return { below: texts(steps.map((one) => length - one)), above: texts(steps.map((one) => length + one)) };
  }
  if (!part || part.unit || part.denominator !== 1n) return { below: [], above: [] };
  const count = Number(part.numerator);
  const below = reach.count.map((one) => count - one).filter((one) => one >= 1);
  return { below: below.map(String), above: reach.count.map((one) => String(count + one)) };
}

/** Only quantities that a parameter can have. */
function typeOf({ parts }: NumberLiteral): 'length' | 'count' | 'angle' | undefined {
  const [part] = parts;
  if (!part?.unit) return 'count';
  const dimension = measureOf(part.unit.text)?.dimension;
  return dimension === 'length' || dimension === 'angle' ? dimension : undefined;
}

/** `shirts-width`, after what the number is of; no word of these texts, and none that stands in a unit. */
function freeName(top: Statement, trail: readonly Statement[], texts: readonly string[]): string {
  const thing = trail.at(-2);
  const first = thing?.items[0];
  const own = thing !== top && first?.kind === 'path' && first.words.length === 1 ? `${first.words[0]?.text}-` : '';
  const base = `${own}${trail.at(-1)?.word.text ?? 'value'}`;
  const isFree = (name: string): boolean => !wordIn('unit', name) && !texts.some((text) => holdsWord(text, name));
  let name = base;
  for (let i = 2; !isFree(name); i++) name = `${base}-${i}`;
  return name;
}

/** Whether a word stands in a text by itself, and not as a part of a longer one. */
function holdsWord(text: string, word: string): boolean {
  for (let at = text.indexOf(word); at >= 0; at = text.indexOf(word, at + 1)) {
    const [before, behind] = [text.slice(Math.max(0, at - 2), at), text.slice(at + word.length, at + word.length + 2)];
    // Where it is not clear, as behind a digit and a dash, it stands there.
    if (!/[\p{L}\p{N}_]$|\p{L}-$/u.test(before) && !/^-?[\p{L}\p{N}_]/u.test(behind)) return true;
  }
  return false;
}
