/** Texts changed as people, editors, merges and bad luck change them. */
import { joined, type Part, partsOf } from './case.ts';
import {
  bitsOf,
  conflictLines,
  donors,
  marks,
  measures,
  numbers,
  oddLetters,
  oddNames,
  type Stretch,
  statementsOf,
  words,
} from './pieces.ts';
import type { Random } from './random.ts';

/** Longer cases take more time than they teach. */
const longest = 12_000;

type Mutation = (text: string, random: Random, others: readonly string[]) => string;

const put = (text: string, at: number, cut: number, piece: string): string =>
  text.slice(0, at) + piece + text.slice(at + cut);

/** Any word, number, name or sign. */
export function anyBit(random: Random, texts: readonly string[]): string {
  switch (random.int(7)) {
    case 0:
      return random.pick(words);
    case 1:
      return random.pick(numbers) + random.pick(measures);
    case 2:
      return random.pick(oddNames);
    case 3:
      return random.pick(oddLetters);
    case 4:
      return random.pick(marks);
    default: {
      // A name of the case itself, more likely than not of another thing.
      const bits = bitsOf(texts.length > 0 ? random.pick(texts) : '').filter((bit) => /[\p{L}\d]/u.test(bit));
      return bits.length > 0 ? random.pick(bits) : 'x';
    }
  }
}

const swapBits: Mutation = (text, random, others) => {
  const bits = bitsOf(text);
  if (bits.length === 0) return anyBit(random, others);
  for (let n = 1 + random.int(3); n > 0; n--) {
    const at = random.int(bits.length);
    const found = bits.findIndex((bit, i) => i >= at && /\S/.test(bit));
    if (found >= 0) bits[found] = random.chance(0.15) ? '' : anyBit(random, [text, ...others]);
  }
  return bits.join('');
};

const otherNumber: Mutation = (text, random) => {
  const found = [...text.matchAll(/\d[\d/.]*(?:-\d+\/\d+)?/g)];
  if (found.length === 0) return text;
  const { 0: number, index } = random.pick(found);
  const near = random.chance(0.5) ? String(random.int(120)) : random.pick(numbers);
  return put(text, index, number.length, near);
};

const insertBit: Mutation = (text, random, others) => {
  const bits = bitsOf(text);
  const at = random.int(bits.length + 1);
  return bits.toSpliced(at, 0, anyBit(random, [text, ...others])).join('');
};

const cutStretch: Mutation = (text, random) =>
  put(text, random.int(text.length + 1), 1 + random.int(random.pick([3, 20, 200])), '');

const doubleStretch: Mutation = (text, random) => {
  const at = random.int(text.length);
  const piece = text.slice(at, at + 1 + random.int(random.pick([5, 60, 400])));
  return put(text, random.int(text.length + 1), 0, piece);
};

const withStatement =
  (
    change: (
      stretch: Stretch,
      text: string,
      random: Random,
      all: readonly Stretch[],
      others: readonly string[],
    ) => string,
  ): Mutation =>
  (text, random, others) => {
    const all = statementsOf(text);
    return all.length === 0 ? text : change(random.pick(all), text, random, all, others);
  };

const dropStatement = withStatement(({ start, end }, text) => put(text, start, end - start, ''));

const doubleStatement = withStatement(({ start, end }, text) => put(text, end, 0, `\n${text.slice(start, end)}`));

const swapStatements = withStatement((a, text, random, all) => {
  const b = random.pick(all);
  const [first, second] = a.start < b.start ? [a, b] : [b, a];
  if (first.end > second.start) return text;
  const moved = put(text, second.start, second.end - second.start, text.slice(first.start, first.end));
  return put(moved, first.start, first.end - first.start, text.slice(second.start, second.end));
});

/** A statement of somewhere else, into a block or between two declarations. */
const spliceStatement: Mutation = (text, random, others) => {
  const all = statementsOf(text);
  const theirs = others.length > 0 && random.chance(0.4) ? statementsOf(random.pick(others).slice(0, longest)) : [];
  const blocks = all.filter(({ statement }) => statement.block);
  const { top, nested } = donors();
  const given = theirs.length > 0 ? random.pick(theirs).statement.text : undefined;
  if (blocks.length > 0 && random.chance(0.75)) {
    const { start, statement } = random.pick(blocks);
    const { open, children } = statement.block as { open: number; children: readonly { word: { text: string } }[] };
    const alike = nested.filter(({ word }) => children.some((child) => child.word.text === word));
    const piece = given ?? random.pick(random.chance(0.5) && alike.length > 0 ? alike : nested).text;
    return put(text, start + open + 1, 0, random.chance(0.8) ? ` ${piece}; ` : piece);
  }
  const at = all.length > 0 ? random.pick(all).end : text.length;
  return put(text, at, 0, `\n${given ?? random.pick(top).text}\n`);
};

const otherStatement = withStatement(({ start, end, statement }, text, random) => {
  const { top, nested } = donors();
  const alike = [...top, ...nested].filter(({ word }) => word === statement.word.text);
  return put(text, start, end - start, random.pick(alike.length > 0 && random.chance(0.8) ? alike : nested).text);
});

const wrap = withStatement(({ start, end }, text, random) => {
  const times = random.pick([1, 2, 10, 39, 41, 80]);
  const [open, close] = random.pick([
    ['x {', '}'],
    ['zone z { ', ' }'],
    ['{', '}'],
    ['/*', '*/'],
    ['(', ')'],
  ] as const);
  return put(
    text,
    start,
    end - start,
    open.repeat(times) + text.slice(start, end) + close.repeat(times - (random.chance(0.2) ? 1 : 0)),
  );
});

const nestExpression: Mutation = (text, random) => {
  const found = [...text.matchAll(/\d[\d/.-]*(?:in|ft|mm)?/g)];
  if (found.length === 0) return text;
  const { 0: number, index } = random.pick(found);
  const made = random.pick([
    `(${number})`,
    `-${number}`,
    `max(${number}, ${number})`,
    `${number} / 0`,
    `${number} * ${random.pick(numbers)}`,
    `${'('.repeat(41)}${number}${')'.repeat(41)}`,
    `${`${number} + `.repeat(60)}1in`,
    `${number} - ${number}`,
    `min(${'back.length, '.repeat(random.int(5))}${number})`,
  ]);
  return put(text, index, number.length, made);
};

const lineEnds: Mutation = (text, random) => {
  const end = random.pick(['\r\n', '\r', '\n', '\u2028', '\u2029', '\n\n', ';']);
  const made = random.chance(0.5)
    ? text.replaceAll(/\r\n|\n|\r/g, end)
    : text.replace(/\n/g, (own) => (random.chance(0.2) ? end : own));
  return random.chance(0.1) ? `\ufeff${made}` : made;
};

const indent: Mutation = (text, random) =>
  text.replace(/^[ \t]*/gm, (own) => (random.chance(0.3) ? ' '.repeat(random.int(6)) : own));

const openSomething: Mutation = (text, random) =>
  put(
    text,
    random.int(text.length + 1),
    0,
    random.pick(['/*', '*/', '{', '}', '"', '//', '\n}\n', '\n{\n', '/* { */', '"{"']),
  );

const conflict: Mutation = (text, random) => {
  const lines = text.split('\n');
  let at = random.int(lines.length + 1);
  const many = random.chance(0.6)
    ? ['<<<<<<< ours', '=======', '>>>>>>> theirs']
    : Array.from({ length: 1 + random.int(4) }, () => random.pick(conflictLines));
  for (const line of many) {
    lines.splice(at, 0, line);
    at += 1 + random.int(4);
  }
  return lines.join('\n');
};

const mutations: readonly (readonly [times: number, Mutation])[] = [
  [5, swapBits],
  [4, otherNumber],
  [3, insertBit],
  [2, cutStretch],
  [1, doubleStretch],
  [2, dropStatement],
  [2, doubleStatement],
  [2, swapStatements],
  [5, spliceStatement],
  [4, otherStatement],
  [1, wrap],
  [3, nestExpression],
  [1, lineEnds],
  [1, indent],
  [2, openSomething],
  [1, conflict],
];
const bag = mutations.flatMap(([times, mutation]) => Array.from({ length: times }, () => mutation));

/** A text near another one. */
export function mutated(text: string, random: Random, others: readonly string[] = []): string {
  let made = text;
  for (let n = 1 + random.int(random.pick([1, 2, 4])); n > 0; n--) made = random.pick(bag)(made, random, others);
  return made.length > longest ? made.slice(0, longest) : made;
}

/** One part of a case of several files changed, or a part taken away, doubled or taken over from another case. */
export function mutatedParts(
  text: string,
  random: Random,
  others: readonly string[],
  own: (part: Part, parts: readonly Part[]) => string | undefined = () => undefined,
): string {
  const parts = partsOf(text);
  if (parts.length === 0) return others.length > 0 ? random.pick(others) : text;
  if (random.chance(0.04)) parts.splice(random.int(parts.length), 1);
  if (random.chance(0.05) && others.length > 0) {
    const theirs = partsOf(random.pick(others));
    if (theirs.length > 0) parts.splice(random.int(parts.length + 1), 0, random.pick(theirs));
  }
  for (let n = 1 + random.int(2); n > 0 && parts.length > 0; n--) {
    const at = random.int(parts.length);
    const part = parts[at] as Part;
    const beside = parts.filter((other) => other !== part && other.name.endsWith('.closet')).map((other) => other.text);
    parts[at] = { ...part, text: own(part, parts) ?? mutated(part.text, random, beside) };
  }
  const made = joined(parts);
  return made.length > 3 * longest ? text : made;
}

/** How the lines of a case are changed, each of them something that is done. */
export interface LineChanges {
  /** At the most, at a time. */
  readonly changes: number;
  /** Lines that are kept, from the end. */
  readonly kept: number;
  /** Of so many ways as likely as each other the first two leave a line out and say one again. */
  readonly ways: number;
  /** Any other way, from 2. */
  readonly other: (way: number, lines: string[], at: number) => void;
}

/** Lines left out, said again, and changed in ways of the target's own. */
export function mutatedLines(text: string, random: Random, { changes, kept, ways, other }: LineChanges): string {
  const lines = text.split('\n').filter((line) => line !== '');
  for (let n = 1 + random.int(changes); n > 0; n--) {
    const at = random.int(lines.length + 1);
    const way = random.int(ways);
    if (way === 0) lines.splice(at, 1);
    else if (way > 1) other(way, lines, at);
    else if (lines.length > 0) lines.splice(at, 0, random.pick(lines));
  }
  return lines.slice(-kept).join('\n');
}
