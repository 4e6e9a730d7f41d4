/** Heads in words of another kind: a part of a parameter left out, words of a sentence, a count in place of a name. */
import { measureOf } from '../../grammar/measures.ts';
import { type Item, placeOf } from '../../grammar/tree.ts';
import { written } from './edits.ts';
import type { Finding } from './finding.ts';
import { anew, type HeadSlip, textOf, told } from './head-slips.ts';
import { numberSlip } from './number-slips.ts';
import { moved } from './order-slips.ts';
import { parameterTypes } from './parameter-types.ts';
import { isMatch, type Mismatch, matchPhrase } from './phrase.ts';
import { listAnd, listOr } from './word-lists.ts';

export function wordingSlip(slip: HeadSlip): Finding | undefined {
  return (
    parameterParts(slip) ??
    numberSlip(slip) ??
    listWithAnd(slip) ??
    boundInOtherWords(slip) ??
    onCentre(slip) ??
    besideAnother(slip) ??
    libraryWithoutName(slip) ??
    withoutFillers(slip) ??
    twoWallsInOne(slip) ??
    givenInParentheses(slip) ??
    agreement(slip) ??
    moved(slip)
  );
}

// Parameters

/** `parameter w = 30in`, `parameter w length`. */
function parameterParts(slip: HeadSlip): Finding | undefined {
  const { statement, entry, items } = slip;
  const [name, ...rest] = items;
  if (entry.word !== 'parameter' || name?.kind !== 'path') return undefined;
  const isWord = (item: Item, word: string): boolean => item.kind === 'path' && item.words[0]?.text === word;
  const to = rest.findIndex((item) => isWord(item, 'to'));
  const named = rest.findIndex((item) => isWord(item, 'from'));
  // `= 60in to 70in`: a range without its first word.
  const from = named < 0 && to > 0 ? to - 1 : named;
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
    ...(from < 0
      ? []
      : [`${named < 0 ? ' from' : ''} ${textOf(statement, { start: (rest[from] as Item).start, end: last.end })}`]),
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

// Words between

/** `for suit and long-coat`. */
function listWithAnd(slip: HeadSlip): Finding | undefined {
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

/** What people write for `at most` and `at least`. */
const bounds: Readonly<Record<string, string>> = {
  max: 'at most',
  maximum: 'at most',
  upto: 'at most',
  min: 'at least',
  minimum: 'at least',
};

/** `limit rod-height max 48in`. */
function boundInOtherWords(slip: HeadSlip): Finding | undefined {
  const { statement, items, mismatch } = slip;
  const item = items[mismatch.at];
  const meant = item?.kind === 'path' ? bounds[textOf(statement, item)] : undefined;
  const made = item && meant ? anew(slip, item, meant) : undefined;
  return (
    made &&
    told(statement, item as Item, `"${textOf(statement, item as Item)}" is written in two words: "${meant}".`, {
      advice: `Write ${made.whole}`,
      fixes: [made.fix],
    })
  );
}

/** What people write for `after` and `before`, seen from inside. */
const besides: Readonly<Record<string, string>> = {
  'next to': 'after',
  'right of': 'after',
  beside: 'after',
  'left of': 'before',
};

/** `zone b on back next to a`. */
function besideAnother(slip: HeadSlip): Finding | undefined {
  const { statement, entry, items, mismatch } = slip;
  if (entry.word !== 'zone' && entry.word !== 'gap') return undefined;
  for (const count of [2, 1]) {
    const [first, last] = [items[mismatch.at], items[mismatch.at + count - 1]];
    const range = first && last && { start: first.start, end: last.end };
    const meant = range && besides[textOf(statement, range)];
    const made = range && meant ? anew(slip, range, meant) : undefined;
    if (made && range)
      return told(statement, range, 'Zones stand "after" or "before" one another, from left to right.', {
        advice: `Write ${made.whole}`,
        fixes: [made.fix],
      });
  }
  return undefined;
}

/** What people call the middle of a stud. */
const centre = /^(?:o\.?c|cent(?:re|er)s?)$/;

/** `studs 16in oc`, `studs at 16in on centre`. */
function onCentre({ statement, entry, items }: HeadSlip): Finding | undefined {
  const spacing = items.find((item) => item.kind === 'number');
  if (entry.word !== 'studs' || !spacing) return undefined;
  const others = items.filter((item) => item !== spacing).map((item) => textOf(statement, item));
  if (!others.some((word) => centre.test(word)) || !others.every((word) => centre.test(word) || between.test(word)))
    return undefined;
  const range = { start: (items[0] as Item).start, end: (items.at(-1) as Item).end };
  const every = textOf(statement, spacing);
  return told(statement, range, 'A spacing is written with "every", and from where the first stud is.', {
    advice: `Measure where the centre of the first one is, and write for example: studs every ${every} from 14-1/2in`,
    examples: true,
    fixes: [],
  });
}

/** `use "../trade"`: it is called as its folder is. */
function libraryWithoutName({ statement, entry, items }: HeadSlip): Finding | undefined {
  const [path, more] = items;
  if (entry.word !== 'use' || path?.kind !== 'text' || more) return undefined;
  const folder =
    path.value
      .replace(/\.closet$|\/+$/, '')
      .split('/')
      .at(-1) ?? '';
  const name = /^\p{L}[\p{L}\p{N}_]*(?:-[\p{L}\p{N}_]+)*$/u.test(folder) ? folder : 'trade';
  const at = { start: path.end, end: path.end };
  return told(statement, path, 'A library needs the name by which it is called here.', {
    advice: `Write use ${textOf(statement, path)} as ${name}`,
    fixes: [
      { title: `Write as ${name}`, edits: [{ place: placeOf(statement, at), text: ` as ${name}` }], byHand: true },
    ],
  });
}

/** Words of a sentence that say nothing in a statement. */
const filler = /^(?:a|an|the|of|is|as|at|with|to|wall|side|wide|high|deep|long|tall|thick)$/;

/** `on the back wall`: several of them. One alone is told of as one too many. */
function withoutFillers({ statement, entry, items }: HeadSlip): Finding | undefined {
  const isFiller = (item: Item, i: number): boolean =>
    i > 0 && item.kind === 'path' && item.words.length === 1 && filler.test(item.words[0]?.text ?? '');
  const fillers = items.filter(isFiller);
  const rest = items.filter((item, i) => !isFiller(item, i));
  if (fillers.length < 2 || !isMatch(matchPhrase(entry.phrase, rest))) return undefined;
  const range = { start: (items[0] as Item).start, end: (items.at(-1) as Item).end };
  const by = rest.map((item) => textOf(statement, item)).join(' ');
  const names = listAnd(fillers.map((item) => `"${textOf(statement, item)}"`));
  return told(statement, fillers[0] as Item, `${names} say nothing here; without them this is complete.`, {
    advice: `Write ${entry.word} ${by}`,
    fixes: [{ ...written(placeOf(statement, range), by, { byHand: true }), title: `Write ${entry.word} ${by}` }],
  });
}

/** `spacing 24in` for `spacing at most 24in`; where two words can stand in two ways, somebody has to choose. */
export function twoWordsMissing(slip: HeadSlip): Finding | undefined {
  const { statement, entry, items, mismatch } = slip;
  const item = items[mismatch.at];
  const before = items[mismatch.at - 1] ?? statement.word;
  // A name may be a word that says nothing here.
  if (!item || item.kind === 'path') return undefined;
  const word = (text: string): Item => ({
    kind: 'path',
    words: [{ kind: 'word', text, start: before.end, end: before.end }],
    start: before.end,
    end: before.end,
  });
  const ways = literalsIn(mismatch).flatMap((first) => {
    const with1 = items.toSpliced(mismatch.at, 0, word(first));
    const match = matchPhrase(entry.phrase, with1);
    // Behind the first word of the statement, one can be enough.
    if (!('at' in match)) return mismatch.at === 0 ? [first] : [];
    if (match.at !== mismatch.at + 1) return [];
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

/** `shelves 5 between low and top`: the count stands where the name should. */
export function countForAName(slip: HeadSlip): Finding | undefined {
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
function twoWallsInOne(slip: HeadSlip): Finding | undefined {
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
function givenInParentheses({ statement, entry, items, mismatch }: HeadSlip): Finding | undefined {
  const item = items[mismatch.at];
  if (entry.word !== 'unit' || item?.kind !== 'call') return undefined;
  const message = 'What a unit gives its template stands in its block, by the names of the parameters.';
  return told(statement, item, message, { advice: `Write it like this: ${entry.example}`, fixes: [], examples: true });
}

/** What people write between the parts of an agreement. */
const between = /^(?:at|in|on|for|of|because|since|as|why)$/;

/** `accept u.a.r rod-span-long "agreed"`: the parts are there, in another order or without the words between them. */
function agreement({ statement, entry, items }: HeadSlip): Finding | undefined {
  if (entry.word !== 'accept') return undefined;
  const parts = items.filter((item) => !(item.kind === 'path' && between.test(item.words[0]?.text ?? '')));
  const [first, second, ...others] = parts.filter((item) => item.kind === 'path');
  const [why] = parts.filter((item) => item.kind === 'text');
  if (first && !second && first.words.length > 1)
    return told(statement, first, 'What is agreed to is a rule, and none is named before the place.', {
      advice: `Write its id, which is shown with each finding: accept rod-near-wall at ${textOf(statement, first)} because ${why ? textOf(statement, why) : '"…"'}`,
      fixes: [],
    });
  if (!first || !second || !why || others.length > 0 || parts.length > 3) return undefined;
  // A rule is one word, and a place mostly is a path.
  const [rule, place] = first.words.length > 1 && second.words.length === 1 ? [second, first] : [first, second];
  const range = { start: (items[0] as Item).start, end: (items.at(-1) as Item).end };
  const by = `${textOf(statement, rule)} at ${textOf(statement, place)} because ${textOf(statement, why)}`;
  const made = anew({ statement, entry }, range, by);
  return (
    made &&
    told(statement, range, 'An agreement names the rule, then at which place, then because of what.', {
      advice: `Write ${made.whole}`,
      fixes: [made.fix],
    })
  );
}
