/** Statements with all that they need, in another order or in words of another kind: how they are written here is told. */
import { measureOf } from '../../grammar/measures.ts';
import { type Item, type Path, placeOf, type Range, type Statement } from '../../grammar/tree.ts';
import { removed, written } from './edits.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import { fits } from './name-slips.ts';
import { parameterTypes } from './parameter-types.ts';
import { type Bindings, isExpression, isMatch, type Mismatch, matchPhrase, slotsOf } from './phrase.ts';
import * as rules from './rules.ts';
import { listOr } from './word-lists.ts';
import type { WordEntry } from './words/entry.ts';

interface Slip {
  readonly statement: Statement;
  readonly entry: WordEntry;
  readonly items: readonly Item[];
  readonly mismatch: Mismatch;
}

export function wordingSlip(slip: Slip): Finding | undefined {
  return (
    parameterParts(slip) ??
    inchesBehindFeet(slip) ??
    feetDashInches(slip) ??
    listWithAnd(slip) ??
    severalInOne(slip) ??
    productWithoutSign(slip) ??
    twoWallsInOne(slip) ??
    givenInParentheses(slip) ??
    moved(slip)
  );
}

function told(
  statement: Statement,
  range: Range,
  message: string,
  details: { readonly advice: string; readonly fixes: readonly Fix[]; readonly examples?: true },
): Finding {
  return finding(rules.phraseNotUnderstood, placeOf(statement, range), message, details);
}

function textOf({ text }: Statement, { start, end }: Range): string {
  return text.slice(start, end);
}

/** A stretch of the head written anew, where all of it is understood then. */
function anew(
  { statement, entry }: Pick<Slip, 'statement' | 'entry'>,
  range: Range,
  by: string,
): { readonly whole: string; readonly fix: Fix } | undefined {
  if (!fits(statement, entry, range, by)) return undefined;
  const { word, head, text } = statement;
  const whole = text.slice(word.start, range.start) + by + text.slice(range.end, head.end);
  return { whole, fix: written(placeOf(statement, range), by) };
}

// Parameters

/** `parameter w = 30in`, `parameter w length`. */
function parameterParts(slip: Slip): Finding | undefined {
  const { statement, entry, items } = slip;
  const [name, ...rest] = items;
  if (entry.word !== 'parameter' || name?.kind !== 'path') return undefined;
  const isWord = (item: Item, word: string): boolean => item.kind === 'path' && item.words[0]?.text === word;
  const from = rest.findIndex((item) => isWord(item, 'from'));
  const said = (from < 0 ? rest : rest.slice(0, from)).filter(({ kind }) => kind !== 'mark');
  const type = said.find((item) => parameterTypes.some((one) => isWord(item, one)));
  const values = said.filter((item) => item !== type);
  if (values.length > 1) return undefined;
  const known = type ? textOf(statement, type) : typeOf(values[0] ?? rest[from + 1]);
  const [first, last] = [rest[0], rest.at(-1)];
  // Behind a last sign somebody is still writing.
  if (known === undefined || !first || !last || last.kind === 'mark') return undefined;
  const parts = [
    `: ${known}`,
    ...values.map((value) => ` = ${textOf(statement, value)}`),
    ...(from < 0 ? [] : [` ${textOf(statement, { start: (rest[from] as Item).start, end: last.end })}`]),
  ];
  const range = { start: name.end, end: last.end };
  const made = anew(slip, range, parts.join(''));
  return (
    made &&
    told(
      statement,
      { start: first.start, end: last.end },
      'A parameter says its type behind a colon, and what it is by default behind "=".',
      { advice: `Write ${made.whole}`, fixes: [{ ...made.fix, title: `Write ${made.whole}` }] },
    )
  );
}

/** Undefined where it may be any. */
function typeOf(value: Item | undefined): string | undefined {
  if (value?.kind === 'text') return 'text';
  if (value?.kind !== 'number') return undefined;
  const unit = value.parts[0]?.unit;
  const dimension = unit ? measureOf(unit.text)?.dimension : 'count';
  return dimension !== undefined && ['length', 'count', 'angle'].includes(dimension) ? dimension : undefined;
}

// Feet and inches

/** `7'4`, `7ft 4`: the inches have no mark. */
function inchesBehindFeet(slip: Slip): Finding | undefined {
  const { statement, items, mismatch } = slip;
  const [feet, inches] = [items[mismatch.at - 1], items[mismatch.at]];
  if (feet?.kind !== 'number' || !/^(?:ft|')$/.test(feet.parts.at(-1)?.unit?.text ?? '')) return undefined;
  if (inches?.kind !== 'number' || inches.parts.some(({ unit }) => unit)) return undefined;
  const range = { start: feet.start, end: inches.end };
  const made = anew(slip, range, `${textOf(statement, range)}in`);
  const message = `Behind feet stand inches, and ${inches.raw} has no unit of measure.`;
  return made && told(statement, inches, message, asLength(made.fix));
}

/** `4-6` for four feet and six inches. By hand: it may be another number that lost its fraction. */
function feetDashInches(slip: Slip): Finding | undefined {
  const { statement, items, mismatch } = slip;
  const [feet, inches] = [items[mismatch.at - 1], items[mismatch.at]];
  if (feet?.kind !== 'number' || inches?.kind !== 'negation' || inches.operand.kind !== 'number') return undefined;
  const number = inches.operand;
  const isBare = [feet, number].every(({ parts, raw }) => parts.length === 1 && !parts[0]?.unit && /^\d+$/.test(raw));
  if (!isBare || feet.end !== inches.start || Number(number.raw) > 11) return undefined;
  const range = { start: feet.start, end: inches.end };
  const made = anew(slip, range, `${feet.raw}ft ${number.raw}in`);
  if (!made) return undefined;
  const meant = made.fix.edits[0]?.text;
  const message = `${textOf(statement, range)} says no unit of measure: feet and inches are written ${meant}.`;
  return told(statement, range, message, asLength({ ...made.fix, byHand: true }));
}

function asLength(fix: Fix): { readonly advice: string; readonly fixes: readonly Fix[] } {
  return { advice: `Did you mean ${fix.edits[0]?.text}?`, fixes: [fix] };
}

// Words between

/** `for suit and long-coat`. */
function listWithAnd(slip: Slip): Finding | undefined {
  const { statement, items, mismatch } = slip;
  const [before, and, after] = [items[mismatch.at - 1], items[mismatch.at], items[mismatch.at + 1]];
  if (!before || !after || and?.kind !== 'path' || and.words[0]?.text !== 'and') return undefined;
  const made = anew(slip, { start: before.end, end: and.end }, ',');
  const [a, b] = [textOf(statement, before), textOf(statement, after)];
  return (
    made &&
    told(statement, and, `Between "${a}" and "${b}" a comma stands, and not "and".`, {
      advice: `Write ${made.whole}`,
      fixes: [{ ...made.fix, title: 'Write a comma' }],
    })
  );
}

/** `length 8ft, 12ft`, where each is a statement of its own. */
function severalInOne({ statement, entry, items, mismatch }: Slip): Finding | undefined {
  const commas = items.filter((item) => item.kind === 'mark' && item.text === ',');
  const isComma = commas.some((comma) => comma === items[mismatch.at]);
  if (!entry.repeats || !isComma || statement.block) return undefined;
  const ends = [...commas.map((comma) => items.indexOf(comma)), items.length];
  const groups = ends.map((end, i) => items.slice(i === 0 ? 0 : (ends[i - 1] as number) + 1, end));
  if (!groups.every((group) => group.length > 0 && isMatch(matchPhrase(entry.phrase, group)))) return undefined;
  const edits = commas.map((comma, i) => ({
    place: placeOf(statement, { start: comma.start, end: groups[i + 1]?.[0]?.start ?? comma.end }),
    text: `; ${entry.word} `,
  }));
  const whole = groups
    .map((group) => `${entry.word} ${textOf(statement, { start: group[0]?.start ?? 0, end: group.at(-1)?.end ?? 0 })}`)
    .join('; ');
  return told(statement, items[mismatch.at] as Item, `"${entry.word}" says one at a time.`, {
    advice: `Write ${whole}`,
    fixes: [{ title: `Write ${whole}`, edits }],
  });
}

/** `spacing 24in` for `spacing at most 24in`; where two words can stand in two ways, somebody has to choose. */
export function twoWordsMissing(slip: Slip): Finding | undefined {
  const { statement, entry, items, mismatch } = slip;
  const item = items[mismatch.at];
  const before = items[mismatch.at - 1] ?? statement.word;
  if (!item) return undefined;
  const word = (text: string): Item => ({
    kind: 'path',
    words: [{ kind: 'word', text, start: before.end, end: before.end }],
    start: before.end,
    end: before.end,
  });
  const ways = literalsIn(mismatch).flatMap((first) => {
    const with1 = items.toSpliced(mismatch.at, 0, word(first));
    const match = matchPhrase(entry.phrase, with1);
    if (!('at' in match) || match.at !== mismatch.at + 1) return [];
    const seconds = literalsIn(match).filter((second) =>
      isMatch(matchPhrase(entry.phrase, with1.toSpliced(match.at, 0, word(second)))),
    );
    return seconds.map((second) => `${first} ${second}`);
  });
  if (ways.length === 0 || ways.length > 2) return undefined;
  const made = ways.flatMap((words) => {
    const one = anew(slip, { start: before.end, end: before.end }, ` ${words}`);
    return one
      ? [{ ...one, fix: { ...one.fix, title: `Write "${words}"`, ...(ways.length > 1 && { byHand: true }) } }]
      : [];
  });
  const wanted = listOr(ways.map((words) => `"${words}"`));
  return told(
    statement,
    item,
    `"${textOf(statement, item)}" does not fit here: after "${textOf(statement, before)}" there should be ${wanted}.`,
    { advice: `Write ${listOr(made.map(({ whole }) => whole))}`, fixes: made.map(({ fix }) => fix) },
  );
}

function literalsIn({ expected }: Mismatch): string[] {
  return expected.flatMap((one) => (one.kind === 'literal' && /^[a-z]/.test(one.text) ? [one.text] : []));
}

/** `1/2 width`. */
function productWithoutSign(slip: Slip): Finding | undefined {
  const { statement, items, mismatch } = slip;
  const [count, of] = [items[mismatch.at - 1], items[mismatch.at]];
  if (count?.kind !== 'number' || count.parts.some(({ unit }) => unit) || of?.kind !== 'path') return undefined;
  const range = { start: count.start, end: of.end };
  const made = anew(slip, range, `${count.raw} * ${textOf(statement, of)}`);
  return (
    made &&
    told(statement, range, `Between "${count.raw}" and "${textOf(statement, of)}" a * is missing.`, {
      advice: `Write ${made.whole}`,
      fixes: [made.fix],
    })
  );
}

/** `shelves 5 between low and top`: the count stands where the name should. */
export function countForAName(slip: Slip): Finding | undefined {
  const { statement, entry, items } = slip;
  const [count] = items;
  const name = ({ shelves: 'row', drawers: 'chest' } as Record<string, string>)[entry.word];
  if (name === undefined || count?.kind !== 'number' || statement.block || !/^\d+$/.test(count.raw)) return undefined;
  const made = anew(slip, count, name);
  if (!made) return undefined;
  const block = `{ count ${count.raw} }`;
  const { end } = statement.head;
  const whole = `${made.whole} ${block}`;
  const edits = [...made.fix.edits, { place: placeOf(statement, { start: end, end }), text: ` ${block}` }];
  return told(statement, count, 'How many there are stands in the block, and a name in its place.', {
    advice: `Write ${whole}`,
    fixes: [{ title: `Write ${whole}`, edits }],
  });
}

/** `corner back-left`. */
function twoWallsInOne(slip: Slip): Finding | undefined {
  const { statement, entry, items } = slip;
  const [item, more] = items;
  if (entry.word !== 'corner' || more || item?.kind !== 'path') return undefined;
  const name = textOf(statement, item);
  const made = anew(slip, item, name.replace('-', ' '));
  return (
    made &&
    told(statement, item, `"${name}" is one name, and two walls stand here side by side.`, {
      advice: `Write ${made.whole}`,
      fixes: [{ ...made.fix, title: `Write ${made.whole}` }],
    })
  );
}

/** `unit u t(41in)`. */
function givenInParentheses({ statement, entry, items, mismatch }: Slip): Finding | undefined {
  const item = items[mismatch.at];
  if (entry.word !== 'unit' || item?.kind !== 'call') return undefined;
  const message = 'What a unit gives its template stands in its block, by the names of the parameters.';
  return told(statement, item, message, { advice: `Write it like this: ${entry.example}`, fixes: [], examples: true });
}

// Another order

/** Of so many items the right order is found by trying. */
const mostMoved = 8;

/** One item, or two that stand side by side, moved to where all of it fits. */
function moved({ statement, entry, items }: Slip): Finding | undefined {
  const isPlain = items.every((item) => item.kind === 'text' || isExpression(item));
  if (items.length < 2 || items.length > mostMoved || !isPlain || statement.comments.length > 0) return undefined;
  let best: { readonly order: readonly Item[]; readonly move: Move; readonly strange: number } | undefined;
  for (const move of movesOf(items.length)) {
    const [from, to, count] = move;
    const order = items.toSpliced(from, count).toSpliced(to, 0, ...items.slice(from, from + count));
    const match = matchPhrase(entry.phrase, order);
    // Where no word of the language tells what is what, nobody knows that it is the order.
    if (!isMatch(match) || match.literals.length === 0) continue;
    const strange = wallsAsNames(entry, match.slots);
    if (!best || strange < best.strange) best = { order, move, strange };
  }
  return best && movedFinding(statement, items, best.order, best.move);
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
  return finding(rules.phraseNotUnderstood, placeOf(inside, inside.word), '"mirrored" stands before the block.', {
    advice: `Write ${head}`,
    fixes: [
      {
        title: `Write ${head}`,
        edits: [removed(inside), { place: placeOf(unit, { start: at, end: at }), text: ' mirrored' }],
      },
    ],
  });
}
