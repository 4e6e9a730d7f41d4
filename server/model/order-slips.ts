/** Statements with all that they need, in another order. */
import { type Item, type Path, placeOf, type Statement } from '../../grammar/tree.ts';
import { removed, written } from './edits.ts';
import { type Finding, finding } from './finding.ts';
import { fitting, type HeadSlip, isFiller, textOf, told } from './head-slips.ts';
import { type Bindings, isExpression, isMatch, literalsOf, matchPhrase, slotsOf } from './phrase.ts';
import * as rules from './rules.ts';
import type { WordEntry } from './words/entry.ts';

/** Of so many items the right order is found by trying. */
const mostMoved = 8;

/** One item, or two that stand side by side, moved to where all of it fits. */
export function moved({ statement, entry, items }: HeadSlip): Finding | undefined {
  const isPlain = items.every((item) => item.kind === 'text' || isExpression(item));
  if (items.length < 2 || items.length > mostMoved || !isPlain || statement.comments.length > 0) return undefined;
  let best: { readonly order: readonly Item[]; readonly move: Move; readonly strange: number } | undefined;
  for (const move of movesOf(items.length)) {
    const [from, to, count] = move;
    const order = items.toSpliced(from, count).toSpliced(to, 0, ...items.slice(from, from + count));
    const match = fitting(entry, order);
    // Where no word of the language tells what is what, nobody knows that it is the order.
    if (!match || match.literals.length === 0) continue;
    const strange = wallsAsNames(entry, match.slots);
    if (!best || strange < best.strange) best = { order, move, strange };
  }
  return best && movedFinding(statement, items, best.order, best.move);
}

/** `holds coat 10`: no word stands between the two, but one is a name and the other a number. */
export function countBehindName({ statement, entry, items, mismatch }: HeadSlip): Finding | undefined {
  const from = mismatch.at - 1;
  const [name, count] = [items[from], items[mismatch.at]];
  if (name?.kind !== 'path' || count?.kind !== 'number') return undefined;
  const order = items.toSpliced(from, 2, count, name);
  return fitting(entry, order) ? movedFinding(statement, items, order, [from, from + 1, 1]) : undefined;
}

/** `screws 2 "#8 x 2 in"`: a value that stands elsewhere, behind a word of its own. */
export function behindItsWord({ statement, entry, items, mismatch }: HeadSlip): Finding | undefined {
  const value = items[mismatch.at];
  if (value?.kind !== 'number' || items.length > mostMoved || statement.comments.length > 0) return undefined;
  if (items.some(isFiller)) return undefined;
  const rest = items.toSpliced(mismatch.at, 1);
  const ways = literalsOf(entry.phrase).flatMap((word) =>
    Array.from({ length: rest.length + 1 }, (_, at) => at).flatMap((at) => {
      const literal = wordAt(word, value.start);
      return fitting(entry, rest.toSpliced(at, 0, literal, value)) ? [{ word, at }] : [];
    }),
  );
  const [only, ...others] = ways;
  if (!only || others.length > 0) return undefined;
  const said = rest
    .map((item) => textOf(statement, item))
    .toSpliced(only.at, 0, `${only.word} ${textOf(statement, value)}`);
  const head = { start: (items[0] as Item).start, end: (items.at(-1) as Item).end };
  const whole = `${statement.word.text} ${said.join(' ')}`;
  return told(statement, value, `${textOf(statement, value)} does not fit here; it may be the ${only.word}.`, {
    advice: `Write ${whole}`,
    fixes: [
      { title: `Write ${whole}`, edits: [{ place: placeOf(statement, head), text: said.join(' ') }], byHand: true },
    ],
  });
}

function wordAt(text: string, at: number): Item {
  return { kind: 'path', words: [{ kind: 'word', text, start: at, end: at }], start: at, end: at };
}

type Move = readonly [from: number, to: number, count: number];

function* movesOf(length: number): Generator<Move> {
  for (const count of [1, 2])
    for (let from = 0; from + count <= length; from++)
      for (let to = 0; to <= length - count; to++) if (to !== from) yield [from, to, count];
}

/** A zone is seldom called as a wall is. */
function wallsAsNames(entry: WordEntry, slots: Bindings): number {
  const names = slotsOf(entry.phrase).filter(({ type }) => type.kind === 'name');
  const bound = names.flatMap(({ name }) => slots[name] ?? []);
  return bound.filter((item) => item.kind === 'path' && /^(?:left|back|right|front)$/.test(item.words[0]?.text ?? ''))
    .length;
}

function movedFinding(
  statement: Statement,
  items: readonly Item[],
  order: readonly Item[],
  [from, to, count]: Move,
): Finding {
  const head = { start: (items[0] as Item).start, end: (items.at(-1) as Item).end };
  const shown = (list: readonly Item[]): string => list.map((item) => textOf(statement, item)).join(' ');
  const run = items.slice(from, from + count);
  const isSwap = count === 1 && Math.abs(to - from) === 1;
  const pair = items.slice(Math.min(from, to), Math.min(from, to) + 2).map((item) => `"${textOf(statement, item)}"`);
  const message = isSwap ? `${pair.join(' and ')} stand in another order.` : `"${shown(run)}" stands in another place.`;
  const whole = `${statement.word.text} ${shown(order)}`;
  return told(statement, run[0] as Item, message, {
    advice: `Write ${whole}`,
    fixes: [{ title: `Write ${whole}`, edits: [{ place: placeOf(statement, head), text: shown(order) }] }],
  });
}

/** `60in length`: what should stand behind the first word stands before it. */
export function wordBehind(
  statement: Statement,
  wordHere: (word: string) => WordEntry | undefined,
): Finding | undefined {
  const [value, word, ...rest] = statement.items;
  if (!value || word?.kind !== 'path' || word.words.length > 1 || !isExpression(value)) return undefined;
  const name = word.words[0]?.text ?? '';
  const entry = wordHere(name);
  if (!entry || !isMatch(matchPhrase(entry.phrase, [value, ...rest]))) return undefined;
  const order = `${name} ${textOf(statement, value)}`;
  const range = { start: value.start, end: word.end };
  const whole = `${order}${textOf(statement, { start: word.end, end: statement.head.end })}`;
  return finding(
    rules.wordNotKnown,
    placeOf(statement, range),
    `The word that says what it is about comes first: "${name}".`,
    {
      advice: `Did you mean "${whole}"?`,
      fixes: [{ ...written(placeOf(statement, range), order), title: `Write ${whole}` }],
    },
  );
}

/** `unit reach-in A-101`: the name of the unit is that of a template, and what stands for the template is none. */
export function unitTurnedRound(statement: Statement, name: string, template: Path): Finding {
  const [own] = statement.items;
  const written = textOf(statement, template);
  const range = { start: own?.start ?? template.start, end: template.end };
  const order = `${written} ${name}`;
  return finding(
    rules.nameNotKnown,
    placeOf(statement, template),
    `There is no template "${written}"; "${name}" is one.`,
    {
      advice: `Did you mean unit ${order}?`,
      fixes: [{ title: `Write unit ${order}`, edits: [{ place: placeOf(statement, range), text: order }] }],
      sought: 'template',
    },
  );
}

/** `unit u t { mirrored }`: the word belongs to the head. */
export function mirroredInside(unit: Statement, inside: Statement): Finding {
  const template = unit.items[1] ?? unit.items[0];
  const head = `${textOf(unit, unit.head)} mirrored`;
  const at = template?.end ?? unit.head.end;
  return finding(rules.phraseNotUnderstood, placeOf(inside, inside.word), `"mirrored" stands before the block.`, {
    advice: `Write ${head}`,
    fixes: [
      {
        title: `Write ${head}`,
        edits: [removed(inside), { place: placeOf(unit, { start: at, end: at }), text: ' mirrored' }],
      },
    ],
  });
}
