/** The formatter: nothing is lost, nothing else is said, a second time changes nothing; wherever and however it is asked. */
import { withEdits } from '../../../grammar/format.ts';
import { type Edit, Source } from '../../../grammar/source.ts';
import { type Statement, statementsWithin } from '../../../grammar/tree.ts';
import { rangeFormattingEdits, typedCharacters, typedEdits } from '../../../server/language/formatting.ts';
import type { Snapshot } from '../../../server/language/snapshot.ts';
import { styleOf } from '../../../server/model/style.ts';
import { topWords } from '../../../server/model/vocabulary.ts';
import { randomOf } from '../hash.ts';
import { mutated } from '../mutate.ts';
import { smallTexts } from '../seeds.ts';
import { holds, type Target } from '../target.ts';

const sourceOf = (text: string): Source => new Source('case', text, topWords);

/** All that is neither space nor `;`. */
const bare = (text: string): string => text.replace(/[\s;\uFEFF]/g, '');

/** What statements say, however it is laid out: our own telling, as the formatter checks itself by another. */
function said(source: Source): string {
  const one = ({ word, items, block, doc, problems }: Statement): unknown => [
    word.text,
    items,
    doc,
    problems.map(({ code }) => code),
    block && [block.close >= 0, block.children.map(one)],
  ];
  const layout = new Set(['start', 'end', 'raw']);
  // Behind a `;` that goes, a comment comes to be one of the statement before it.
  return JSON.stringify([[...source.statements()].map(one), source.comments().length], (key, value: unknown) =>
    layout.has(key) ? undefined : typeof value === 'bigint' ? `${value}n` : value,
  );
}

/** The end of a block that is not closed is told by how lines are indented. */
function isWhole(statements: Iterable<Statement>): boolean {
  for (const top of statements)
    for (const { problems } of statementsWithin(top))
      if (problems.some(({ code }) => /^(block|comment)-not-closed$|^brace|^nested/.test(code))) return false;
  return true;
}

export const formatter: Target = {
  name: 'formatter',
  seeds: smallTexts,
  mutate: mutated,
  repeated: (text, times) => `${text}\n`.repeat(times),
  run(text) {
    const source = sourceOf(text);
    const whole = styleOf(source).edits;
    const after = checked('formatting', source, text, whole);
    holds('a formatted text is formatted', withEdits(after, styleOf(sourceOf(after)).edits) === after, () => after);
    if (text.length > 20_000) return;
    const random = randomOf(text);
    const snapshot = { source, project: undefined, path: 'case' } as unknown as Snapshot;
    for (let n = 0; n < 3; n++) {
      const ranges = Array.from({ length: 1 + random.int(2) }, () => ({
        start: random.int(text.length + 1),
        end: random.int(text.length + 1),
      }));
      checked('formatting of a part', source, text, rangeFormattingEdits(snapshot, ranges));
    }
    const typed = [...text.matchAll(/[};\n]/g)];
    for (let n = 0; n < 4 && typed.length > 0; n++) {
      const { 0: character, index } = random.pick(typed);
      checked('formatting behind what is typed', source, text, typedEdits(snapshot, index + 1, character), true);
      typedEdits(snapshot, random.int(text.length + 1), random.pick(typedCharacters));
    }
  },
};

/** Edits are in order and change something, and the text after them says the same. `isPart`: of a line that is being written. */
function checked(law: string, source: Source, text: string, edits: readonly Edit[], isPart = false): string {
  let at = -1;
  for (const { start, end, text: put } of edits) {
    holds(`${law}: edits are in order, none touching another`, start > at && end >= start && end <= text.length, () =>
      JSON.stringify(edits),
    );
    holds(`${law}: an edit changes something`, isPart || text.slice(start, end) !== put, () =>
      JSON.stringify({ start, end, put }),
    );
    at = end;
  }
  const after = withEdits(text, edits);
  holds(`${law}: nothing is lost`, bare(after) === bare(text), () => after);
  const [before, now] = [said(source), said(sourceOf(after))];
  const isBeingWritten = isPart && !isWhole(source.statements());
  holds(
    `${law}: the same is said`,
    isBeingWritten || before === now,
    () => `${JSON.stringify(after)}\n${before}\n${now}`,
  );
  return after;
}
