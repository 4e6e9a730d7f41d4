/** Rows of a tree that are many: in ranges, with keys unlike one another, in the order that people count in. */
import { limits } from '../model/limits.ts';
import type { Severity } from '../model/rule.ts';
import type { Branch } from './view-node.ts';

/** More children than this are shown in ranges. */
export const mostChildren = limits.mostChildren.most;

/** Rows as they are, or in ranges of so many where there are more. */
export function inRanges<T>(
  things: readonly T[],
  rows: (own: readonly T[], from: number) => readonly Branch[],
  worst: (own: readonly T[]) => Severity | undefined,
  nameOf: (thing: T, at: number) => string,
): readonly Branch[] {
  if (things.length <= mostChildren) return rows(things, 0);
  const ranges: Branch[] = [];
  for (let from = 0; from < things.length; from += mostChildren) {
    const own = things.slice(from, from + mostChildren);
    const ends = [nameOf(own[0] as T, from), nameOf(own.at(-1) as T, from + own.length - 1)];
    ranges.push({
      key: `range ${from}`,
      kind: 'range',
      label: ends.join(' to '),
      description: String(own.length),
      tooltip: `${ends.join(' to ')}: ${own.length}`,
      severity: worst(own),
      children: () => rows(own, from),
    });
  }
  return ranges;
}

/** Things that are declared twice under one name have keys of their own. */
export function unlike(branches: readonly Branch[]): Branch[] {
  const seen = new Map<string, number>();
  return branches.map((branch) => {
    const times = (seen.get(branch.key) ?? 0) + 1;
    seen.set(branch.key, times);
    return times === 1 ? branch : { ...branch, key: `${branch.key} (${times})` };
  });
}

/** Floor 2 before floor 10, and what has no name last. */
export function compareLabels(a: string, b: string): number {
  if (a === '' || b === '') return a === b ? 0 : a === '' ? 1 : -1;
  return a.localeCompare(b, 'en', { numeric: true });
}
