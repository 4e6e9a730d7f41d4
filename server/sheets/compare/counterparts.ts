/**
 * Which statement of a changed text was which before, though it may have another name. What differs by names alone is
 * the same thing; what says anything else as well is not.
 */
import type { Statement } from '../../../grammar/tree.ts';
import type { Project } from '../../model/project.ts';
import { nameIn, type Reading, readingAt } from '../../model/reading.ts';
import { flattenedStatement } from './flatten.ts';

export interface Counterparts {
  /** What a statement of before is afterwards; undefined where it is gone or says something else under another name. */
  readonly of: (before: Statement) => Statement | undefined;
  /** The two texts are the same, or would be if nothing had another name. */
  readonly areAlike: (before: string, after: string) => boolean;
}

export function counterpartsOf(before: Project, after: Project): Counterparts {
  const [old, now] = [written(before), written(after)];
  const changed = changedNames(old.names, now.names);
  const known = new Map<Statement, Statement>();
  const renamed = new Set<string>();
  const pair = (one: Statement, other: Statement): void => {
    known.set(one, other);
    renamed.add(JSON.stringify([old.names.get(one), now.names.get(other)]));
    pairAll(one.block?.children ?? [], other.block?.children ?? []);
  };
  const pairAll = (olds: readonly Statement[], nows: readonly Statement[]): void => {
    const same = paired(olds, nows, ({ text }) => text, pair);
    const called = ({ names }: Written, one: Statement): string => `${one.word.text} ${names.get(one) ?? ''}`;
    const there = new Set(same.nows);
    const named = paired(same.olds, same.nows, (one) => called(there.has(one) ? now : old, one), pair);
    // Whatever it is called: most of what is compared has been found by now.
    const masked = (one: Statement): string =>
      wordsOf(one)
        .map((word) => changed.mask(word))
        .join(' ');
    paired(named.olds, named.nows, masked, pair, (a, b) => changed.differBy(wordsOf(a), wordsOf(b)));
  };
  pairAll(old.tops, now.tops);
  return {
    of: (statement) => known.get(statement),
    areAlike: (a, b) => {
      const [ours, others] = [wordsIn(a), wordsIn(b)];
      return (
        ours.length === others.length &&
        ours.every((word, i) => word === others[i] || renamed.has(JSON.stringify([word, others[i]])))
      );
    },
  };
}

interface Left {
  readonly olds: readonly Statement[];
  readonly nows: readonly Statement[];
}

/** Takes those of one key together in their order, and says what is left. */
function paired(
  olds: readonly Statement[],
  nows: readonly Statement[],
  keyOf: (statement: Statement) => string,
  pair: (one: Statement, other: Statement) => void,
  areAlike: (one: Statement, other: Statement) => boolean = () => true,
): Left {
  if (olds.length === 0 || nows.length === 0) return { olds, nows };
  const waiting = Map.groupBy(nows, keyOf);
  const taken = new Set<Statement>();
  const left = olds.filter((one) => {
    const others = waiting.get(keyOf(one)) ?? [];
    const at = others.findIndex((other) => areAlike(one, other));
    const [other] = at < 0 ? [] : others.splice(at, 1);
    if (!other) return true;
    taken.add(other);
    pair(one, other);
    return false;
  });
  return { olds: left, nows: nows.filter((one) => !taken.has(one)) };
}

interface Written {
  readonly tops: readonly Statement[];
  readonly names: ReadonlyMap<Statement, string>;
}

function written({ sources }: Project): Written {
  const tops = [...sources.values()].flatMap((source) => [...source.statements()]);
  const names = new Map<Statement, string>();
  const add = (reading: Reading | undefined): void => {
    const name = reading && (nameIn(reading) ?? nameIn(reading, 'set'))?.text;
    if (reading && name !== undefined) names.set(reading.statement, name);
    for (const one of reading?.children ?? []) add(one);
  };
  for (const top of tops) add(readingAt(top, 'file'));
  return { tops, names };
}

/** Names and numbers whole, everything else sign by sign. */
function wordsIn(text: string): string[] {
  return text.match(/[\p{L}\p{N}_][\p{L}\p{M}\p{N}_-]*|\S/gu) ?? [];
}

function wordsOf(statement: Statement): string[] {
  return wordsIn(flattenedStatement(statement));
}

interface Changed {
  readonly mask: (word: string) => string;
  /** By names alone, each of which is one and the same other name wherever it stands. */
  readonly differBy: (before: readonly string[], after: readonly string[]) => boolean;
}

/** Names that fewer statements have than before, or more. */
function changedNames(old: Written['names'], now: Written['names']): Changed {
  const counts = new Map<string, number>();
  for (const name of old.values()) counts.set(name, (counts.get(name) ?? 0) - 1);
  for (const name of now.values()) counts.set(name, (counts.get(name) ?? 0) + 1);
  const more = (word: string): number => counts.get(word) ?? 0;
  return {
    mask: (word) => (more(word) === 0 ? word : '_'),
    differBy: (before, after) => {
      const [forth, back] = [new Map<string, string>(), new Map<string, string>()];
      return before.every((word, i) => {
        const other = after[i] ?? '';
        if (word === other) return true;
        const isNew = (forth.get(word) ?? other) === other && (back.get(other) ?? word) === word;
        forth.set(word, other);
        back.set(other, word);
        return isNew && more(word) < 0 && more(other) > 0;
      });
    },
  };
}
