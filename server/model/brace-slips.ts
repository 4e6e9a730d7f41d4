/**
 * A block of which both braces are missing: its lines stand deeper below the head that they belong to. Where braces pair
 * up, a text is read without regard to how it is indented; so these lines are read as others beside that head, and each
 * of them is wrong there. One finding is told of them all, with both braces to be written.
 */
import { headPlace, outwards, type Place, placeOf, type Statement } from '../../grammar/tree.ts';
import { lineEndAt } from './edits.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import { matchPhrase } from './phrase.ts';
import { shorten } from './reading-slips.ts';
import * as rules from './rules.ts';
import { meaningful } from './text-problems.ts';
import { type BlockPlace, placesOf, takesArguments, topWords, type WordEntry, wordIn } from './vocabulary.ts';

export interface Unbraced {
  /** Told in place of all that is told of the lines. */
  readonly told: readonly Finding[];
  /** The lines that belong in blocks, in which those in blocks within them come again. */
  readonly lines: ReadonlySet<Statement>;
  /** How deep they belong in blocks without braces; of those alone. */
  readonly levels: ReadonlyMap<Statement, number>;
}

type Parent = Statement['parent'];

export function unbraced(unread: readonly Finding[]): Unbraced {
  const wrong = new Map<Statement, Finding>();
  for (const f of unread)
    if (f.rule === rules.blockMissing || f.rule === rules.wordNotKnown) wrong.set(f.place.statement, f);
  const told: Finding[] = [];
  const lines = new Set<Statement>();
  const levels = new Map<Statement, number>();
  for (const parent of new Set([...wrong.keys()].map((statement) => statement.parent))) {
    const place = placeIn(parent);
    const all = place === undefined ? [] : childrenOf(parent);
    for (let i = 0; place !== undefined && i < all.length; i++) {
      const [head, first] = [all[i] as Statement, all[i + 1]];
      const inside = blockOf(head, place)?.block;
      const isWrong =
        wrong.get(head)?.rule === rules.blockMissing || (first !== undefined && isOutside(wrong.get(first)));
      if (inside === undefined || !isWrong || !first || !isDeeper(first, head) || !belongs(first, inside)) continue;
      const content = deeperThan(head, all, i + 1);
      told.push(missing(head, content, inside));
      for (const one of content) lines.add(one);
      let level = 0;
      eachBlock(
        head,
        content,
        inside,
        (_, list) => {
          level++;
          for (const one of list) levels.set(one, level);
        },
        () => level--,
      );
      i += content.length;
    }
  }
  return { told, lines, levels };
}

/** Findings without those in whose place the blocks are told. */
export function besideUnbraced(findings: readonly Finding[], { told, lines }: Unbraced): readonly Finding[] {
  if (told.length === 0) return findings;
  const heads = new Set(told.map(({ place }) => place.statement));
  const isOfLine = ({ statement }: Place): boolean => outwards(statement).some((one) => lines.has(one));
  const isOfHead = ({ rule, place }: Finding): boolean => rule === rules.blockMissing && heads.has(place.statement);
  return findings.filter((f) => !isOfHead(f) && ![f.place, ...f.related.map(({ place }) => place)].some(isOfLine));
}

/** Whether it is worth looking: something stands deeper than what comes before it and has no block. */
export function mayBeUnbraced(all: readonly Statement[]): boolean {
  return all.some((one, i) => {
    const next = all[i + 1];
    if (one.block) return mayBeUnbraced(one.block.children);
    return next !== undefined && isDeeper(next, one);
  });
}

function isOutside(f: Finding | undefined): boolean {
  return f?.rule === rules.wordNotKnown;
}

/** It stands in such a block, or may be an argument of it, or is a word that nobody knows anywhere. */
function belongs({ word: { text } }: Statement, inside: BlockPlace): boolean {
  if (text === '' || wordIn(inside, text)) return text !== '';
  return takesArguments(inside) ? !topWords.has(text) : placesOf(text).length === 0;
}

function childrenOf(parent: Parent): readonly Statement[] {
  return parent.kind === 'segment' ? parent.statements : (parent.block?.children ?? []);
}

/** What the block of a statement is, undefined where nobody knows. */
function placeIn(parent: Parent): BlockPlace | undefined {
  if (parent.kind === 'segment') return 'file';
  const place = placeIn(parent.parent);
  return place && wordIn(place, parent.word.text)?.block;
}

/** What may have a block and has none, with a head that is complete. */
function blockOf(statement: Statement, place: BlockPlace): WordEntry | undefined {
  const entry = statement.block ? undefined : wordIn(place, statement.word.text);
  if (entry?.block === undefined || statement.problems.length > 0 || indentOf(statement) === undefined)
    return undefined;
  return 'at' in matchPhrase(entry.phrase, meaningful(statement)) ? undefined : entry;
}

/** Nothing stands deeper than this; of a long line with many statements not all is gone through for each. */
const deepest = 200;

/** What stands before a statement that begins its line. */
function indentOf({ parent, offset, head }: Statement): string | undefined {
  const start = offset + head.start;
  const near = parent.text.slice(Math.max(0, start - deepest), start);
  const line = near.lastIndexOf('\n');
  const before = near.slice(line + 1);
  return /\S/.test(before) || (line < 0 && start > deepest) ? undefined : before;
}

function isDeeper(statement: Statement, head: Statement): boolean {
  const [own, of] = [indentOf(statement), indentOf(head)];
  return own !== undefined && of !== undefined && own.length > of.length && own.startsWith(of);
}

/** Words that stand in no block, whatever the indentation. */
const topAlone = new Set([...topWords].filter((word) => placesOf(word).every((place) => place === 'file')));

/** The statements from one on that stand deeper than a head, with those behind them on their lines. */
function deeperThan(head: Statement, all: readonly Statement[], from: number): readonly Statement[] {
  const isContent = (one: Statement): boolean =>
    !topAlone.has(one.word.text) && (isDeeper(one, head) || indentOf(one) === undefined);
  let to = from;
  while (to < all.length && isContent(all[to] as Statement)) to++;
  return all.slice(from, to);
}

function missing(head: Statement, content: readonly Statement[], inside: BlockPlace): Finding {
  const shown = shorten(head.text.slice(head.head.start, head.head.end));
  return finding(
    rules.bracesMissing,
    headPlace(head),
    `The lines below "${shown}" belong in its block, and both braces of that are missing.`,
    {
      advice: `Write { behind "${shown}", and } on a line of its own below them.`,
      fixes: braced(head, content, inside),
    },
  );
}

type OfBlock = (owner: Statement, list: readonly Statement[]) => void;

/** The blocks that lack their braces, from the outermost in: what belongs in one is gone through between its two calls. */
function eachBlock(owner: Statement, list: readonly Statement[], place: BlockPlace, enter: OfBlock, leave: OfBlock) {
  enter(owner, list);
  for (let i = 0; i < list.length; i++) {
    const one = list[i] as Statement;
    const within = blockOf(one, place)?.block;
    const deeper = within === undefined ? [] : deeperThan(one, list, i + 1);
    if (within === undefined || deeper.length === 0 || !isDeeper(deeper[0] as Statement, one)) continue;
    eachBlock(one, deeper, within, enter, leave);
    i += deeper.length;
  }
  leave(owner, list);
}

/** Both braces where they belong, and those of what stands in that and lacks them too. */
function braced(head: Statement, content: readonly Statement[], inside: BlockPlace): Fix[] {
  if (content.some(({ problems, block }) => problems.length > 0 || (block && block.close < 0))) return [];
  const ending = lineEndAt(head, head.head.end);
  const texts = new Map<number, string>();
  const write = (at: number, text: string): void => void texts.set(at, (texts.get(at) ?? '') + text);
  eachBlock(
    head,
    content,
    inside,
    (owner) => write(owner.offset + owner.head.end, ' {'),
    (owner, list) => write(endOfLine(list.at(-1) as Statement), `${ending}${indentOf(owner) ?? ''}}`),
  );
  const edits = [...texts].map(([at, text]) => ({
    place: placeOf(head, { start: at - head.offset, end: at - head.offset }),
    text,
  }));
  return [{ title: 'Write { and } around the lines below', edits }];
}

/** Behind a comment that stands behind the last statement on its line. */
function endOfLine({ parent, offset, text }: Statement): number {
  const end = offset + text.length;
  return end + (/^[ \t]*;?[ \t]*(?:\/\/[^\r\n]*)?(?=\r?\n|$)/.exec(parent.text.slice(end))?.[0].trimEnd().length ?? 0);
}
