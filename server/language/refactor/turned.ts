/** What statements say of left and right, written the other way round. Names of walls are not theirs to change. */
import type { Item, Statement } from '../../../grammar/tree.ts';
import { dotted, type Reading, says } from '../../model/reading.ts';
import { type Edit, instead } from './edits.ts';

/** In a statement and all that is nested in it. `isFirst`: nothing is said of the thing in a template that is extended. */
export function* turned(reading: Reading, isFirst: (thing: Reading) => boolean): Generator<Edit> {
  yield* turnedHead(reading, isFirst);
  for (const child of reading.children) yield* turned(child, isFirst);
}

function* turnedHead(reading: Reading, isFirst: (thing: Reading) => boolean): Generator<Edit> {
  switch (reading.word) {
    case 'zone':
    case 'gap':
      yield* turnedStart(reading, isFirst(reading));
      break;
    case 'studs':
      yield* turnedStuds(reading);
      break;
    case 'from':
    case 'side':
    case 'swing':
      yield* swapped(reading, 'left', 'right');
      break;
    default:
      break;
  }
}

/** `after a` is `before a` in a mirror. A zone without a start begins at the left end, which is `from right` there. */
function* turnedStart(reading: Reading, isFirst: boolean): Generator<Edit> {
  const { statement, slots } = reading;
  const from = literal(reading, 'from');
  const right = literal(reading, 'right');
  if (from && right && !slots.offset) {
    const start = statement.text.slice(0, from.start).trimEnd().length;
    // What stands there in a template that is extended would come back.
    if (isFirst) yield instead(statement, { start, end: right.end }, '');
    else yield instead(statement, right, 'left');
  } else if (from) yield* swapped(reading, 'left', 'right');
  else if (says(reading, 'after') || says(reading, 'before')) yield* swapped(reading, 'after', 'before');
  else if (!says(reading, 'centred') && isFirst)
    yield instead(statement, { start: statement.head.end, end: statement.head.end }, ' from right');
}

function* turnedStuds(reading: Reading): Generator<Edit> {
  const { statement } = reading;
  const right = literal(reading, 'right');
  const left = literal(reading, 'left');
  const first = statement.items.find((item) => Object.values(reading.slots).flat().includes(item));
  if (left) yield instead(statement, left, 'right');
  else if (says(reading, 'every')) {
    const [at] = reading.slots.first ?? [];
    if (right && at) yield instead(statement, { start: right.start, end: at.start }, '');
    else if (at) yield instead(statement, { start: at.start, end: at.start }, 'right ');
  } else if (right && first)
    yield instead(statement, { start: literal(reading, 'from')?.start ?? right.start, end: first.start }, '');
  else if (first) yield instead(statement, { start: first.start, end: first.start }, 'from right ');
}

function* swapped(reading: Reading, a: string, b: string): Generator<Edit> {
  for (const path of reading.literals) {
    const word = dotted(path);
    if (word === a || word === b) yield instead(reading.statement, path, word === a ? b : a);
  }
}

function literal(reading: Reading, word: string) {
  return reading.literals.find((path) => dotted(path) === word);
}

/** `mirrored` put into the head of a unit, or taken out of it. Undefined where its template is not named. */
export function turnedUnit(unit: Statement): Edit | undefined {
  const template = unit.items[1];
  return template?.kind === 'path' ? turnedBehind(unit, template) : undefined;
}

/** The same for a test of a template; undefined where it has no name. */
export function turnedTest(test: Statement): Edit | undefined {
  const name = test.items[0];
  return name?.kind === 'text' ? turnedBehind(test, name) : undefined;
}

function turnedBehind(statement: Statement, last: Item): Edit {
  const word = statement.items.find(
    (item) => item.start > last.start && item.kind === 'path' && dotted(item) === 'mirrored',
  );
  if (!word) return instead(statement, { start: last.end, end: last.end }, ' mirrored');
  const before = /\s*$/.exec(statement.text.slice(0, word.start))?.[0].length ?? 0;
  return instead(statement, { start: word.start - before, end: word.end }, '');
}
