/** Refactorings: changes of text that keep what is built, or turn it round exactly. */
import type { Range } from '../../../grammar/tree.ts';
import { locate } from '../locate.ts';
import type { Snapshot } from '../snapshot.ts';
import { convertFile, convertQuantity, convertStatement } from './convert.ts';
import { mirror } from './mirror.ts';
import { toParameter } from './parameter.ts';
import type { Refactoring } from './refactoring.ts';

/** Each answers nothing where it has nothing to do with what is selected. */
const all = [toParameter, mirror, convertQuantity, convertStatement, convertFile];

export function refactorings(snapshot: Snapshot, { start }: Range): Refactoring[] {
  const located = locate(snapshot, start);
  return located ? all.flatMap((one) => one(snapshot, located)) : [];
}

/** One of them by its id, with its edits. */
export function refactor(snapshot: Snapshot, id: string, at: Range): Refactoring | undefined {
  return refactorings(snapshot, at).find((one) => one.id === id && one.disabled === undefined);
}
