/** Lexer, structure and parser: they take every text, lose nothing of it, and their places are where they say. */
import { readingLimits } from '../../../grammar/limits.ts';
import { parseHead, parseHeadByRules } from '../../../grammar/parser.ts';
import { Source } from '../../../grammar/source.ts';
import { lex } from '../../../grammar/tokens.ts';
import { expressionsWithin, offsetOf, type Range, type Statement, statementsWithin } from '../../../grammar/tree.ts';
import { topWords } from '../../../server/model/vocabulary.ts';
import { randomOf } from '../hash.ts';
import { mutated } from '../mutate.ts';
import { smallTexts } from '../seeds.ts';
import { holds, type Target } from '../target.ts';

export const grammar: Target = {
  name: 'grammar',
  seeds: smallTexts,
  mutate: mutated,
  repeated: (text, times) => `${text}\n`.repeat(times),
  run(text) {
    const source = new Source('case', text, topWords);
    holds('the tree says the whole text', source.text === text, () => source.text);
    let at = 0;
    for (const segment of source.segments) {
      holds('segments stand one after another', segment.offset === at, () => `${segment.offset}, not ${at}`);
      at += segment.text.length;
      const gaps = statementGaps(segment.statements, { start: 0, end: segment.text.length }, segment.comments);
      const left = gaps.filter((gap) => !isNothing([gap], segment.text));
      // What stands behind more statements than are read is told of.
      holds('between statements nothing is said', left.length === 0 || areTooMany(segment.statements), () =>
        JSON.stringify(left.map((g) => segment.text.slice(g.start, g.end))),
      );
      for (const statement of segment.statements) checkStatement(statement, text, 0);
    }
    holds('segments are the whole text', at === text.length && source.length === at, () => `${at} of ${text.length}`);
    checkPlaces(source, text);
  },
};

/** What no statement and no comment of a stretch reaches over. */
function statementGaps(statements: readonly Statement[], { start, end }: Range, comments: readonly Range[]): Range[] {
  const taken = [...statements.map(({ offset, text }) => ({ start: offset, end: offset + text.length })), ...comments];
  return gapsBetween(taken, start, end);
}

function gapsBetween(taken: readonly Range[], start: number, end: number): Range[] {
  const gaps: Range[] = [];
  let at = start;
  for (const range of [...taken].sort((a, b) => a.start - b.start || a.end - b.end)) {
    holds('stretches do not overlap', range.start >= at, () => `${range.start} before ${at}`);
    holds('stretches end behind their start', range.end >= range.start, () => `${range.start}-${range.end}`);
    if (range.start > at) gaps.push({ start: at, end: range.start });
    at = range.end;
  }
  holds('stretches lie in what holds them', at <= end, () => `${at} of ${end}`);
  if (at < end) gaps.push({ start: at, end });
  return gaps;
}

const isNothing = (gaps: readonly Range[], text: string): boolean =>
  gaps.every(({ start, end }) => /^[\s;\uFEFF]*$/.test(text.slice(start, end)));

function checkStatement(statement: Statement, whole: string, depth: number): void {
  const { text, word, head, items, block, comments, problems } = statement;
  const at = offsetOf(statement);
  holds('a statement says its text', whole.slice(at, at + text.length) === text, () => text);
  const within = (law: string, { start, end }: Range, from = 0, to = text.length): void =>
    holds(
      law,
      from <= start && start <= end && end <= to,
      () => `${start}-${end} in ${from}-${to} of ${JSON.stringify(text)}`,
    );
  within('a word lies in its statement', word);
  const written = text.slice(word.start, word.end);
  // One that is longer than a name may be is told of, and shortened.
  const most = readingLimits.longestName.most;
  const said = written.length > most ? `${written.slice(0, most)}…` : written;
  holds('a word says its text', word.text === '' || word.text === said, () => word.text);
  within('a head lies in its statement', head);
  for (const problem of problems) within('a problem lies in its statement', problem);
  for (const item of items) {
    within('an item lies in its head', item, head.start, head.end);
    for (const inner of expressionsWithin(item)) within('an expression lies in its item', inner, item.start, item.end);
  }
  for (let i = 1; i < items.length; i++) {
    const [before, after] = [items[i - 1] as Range, items[i] as Range];
    holds(
      'items stand in their order',
      before.end <= after.start,
      () => `${before.end}, ${after.start} in ${JSON.stringify(text)}`,
    );
  }
  const { tokens, comments: remarks } = lex(text.slice(head.start, head.end));
  const taken = [...tokens, ...remarks].map((t) => ({ start: t.startOffset, end: t.startOffset + t.image.length }));
  const left = gapsBetween(taken, 0, head.end - head.start);
  holds(
    'every letter of a head is in a token',
    left.every((g) => text.slice(head.start + g.start, head.start + g.end).trim() === ''),
    () => JSON.stringify(text),
  );
  // A head says what its words and items say, whatever stands behind it.
  const own = text.slice(head.start, head.end);
  const [a, b] = [parseHead(own, 0), parseHeadByRules(own, 0)];
  holds('the short ways of a head are the long way', same(a, b), () => JSON.stringify(own));
  for (const comment of comments) within('a comment lies in its statement', comment);
  if (!block) return;
  const end = block.close < 0 ? text.length : block.close;
  const isMissing = statement.problems.some(({ code }) => code === 'block-not-opened');
  holds(
    'a block opens with a brace, or with nothing where that is told',
    (isMissing || text[block.open] === '{') && block.open >= head.end,
    () => JSON.stringify(text),
  );
  holds(
    'a block closes with a brace, where its statement ends',
    block.close < 0 || (text[block.close] === '}' && block.close === text.length - 1),
    () => JSON.stringify(text),
  );
  const gaps = statementGaps(block.children, { start: isMissing ? block.open : block.open + 1, end }, block.comments);
  // What is nested deeper than anything needs is told of and not read.
  const unread = gaps.filter((gap) => !isNothing([gap], text));
  holds(
    'within a block nothing is left out',
    unread.length === 0 || isTooDeep(statement) || areTooMany(block.children),
    () => JSON.stringify(unread.map((g) => text.slice(g.start, g.end))),
  );
  for (const child of block.children) checkStatement(child, whole, depth + 1);
}

const same = (a: unknown, b: unknown): boolean => plain(a) === plain(b);
const plain = (value: unknown): string =>
  JSON.stringify(value, (_, v: unknown) => (typeof v === 'bigint' ? `${v}n` : v)) ?? '';

function isTooDeep({ problems, block }: Statement): boolean {
  return problems.some(({ code }) => code === 'nested-too-deep') || (block?.children.some(isTooDeep) ?? false);
}

function areTooMany(statements: readonly Statement[]): boolean {
  return statements.some(({ problems }) => problems.some(({ code }) => code === 'too-many-statements'));
}

/** Offsets and positions lead to each other; a place in a statement is found again. */
function checkPlaces(source: Source, text: string): void {
  const random = randomOf(text);
  for (let n = 0; n < 8; n++) {
    const offset = random.int(text.length + 1);
    const position = source.positionAt(offset);
    const back = source.offsetAt(position);
    const isInside = text[offset - 1] === '\r' && text[offset] === '\n';
    const isBehindEnd = back < offset && /^[\r\n]*$/.test(text.slice(back, offset));
    holds(
      'a position leads back to its offset',
      back === offset || isInside || isBehindEnd,
      () => `${offset} is ${JSON.stringify(position)} is ${back}`,
    );
    const statement = source.statementAt(offset);
    if (!statement) continue;
    const at = offsetOf(statement);
    holds(
      'a statement is found by what it reaches over',
      at <= offset && offset <= at + statement.text.length,
      () => `${offset} in ${at}`,
    );
    for (const inner of statement.block?.children ?? []) {
      const start = at + inner.offset;
      holds(
        'the innermost statement is found',
        offset < start || offset > start + inner.text.length,
        () => `${offset} in ${start}`,
      );
    }
  }
  for (const line of [-1, 0, 3, 1e9]) {
    const offset = source.offsetAt({ line, column: random.int(200) });
    holds('any position is a place of the text', offset >= 0 && offset <= text.length, () => `${offset}`);
  }
  for (const statement of source.statements())
    for (const inner of statementsWithin(statement))
      holds('a statement knows its parent', inner === statement || inner.parent.kind === 'statement', () => inner.text);
}
