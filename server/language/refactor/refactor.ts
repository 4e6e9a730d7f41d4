/** Refactorings: changes of text that keep what is built, or turn it round exactly. */
import type { Range } from '../../../grammar/tree.ts';
import type { Project } from '../../model/project.ts';
import { type Located, locate } from '../locate.ts';
import type { Snapshot } from '../snapshot.ts';
import { convertFile, convertQuantity, convertStatement } from './convert.ts';
import { extractTemplate } from './extract.ts';
import { inlineBase } from './inline-base.ts';
import { inlineUnit } from './inline-unit.ts';
import { mirror } from './mirror.ts';
import { mirrorTemplate } from './mirror-template.ts';
import { toParameter } from './parameter.ts';
import type { Refactoring } from './refactoring.ts';
import { toStuds } from './to-studs.ts';

type Offer = (snapshot: Snapshot, located: Located, projects: readonly Project[]) => readonly Refactoring[];

/** Each answers nothing where it has nothing to do with what is selected. */
const all: readonly Offer[] = [
  toParameter,
  extractTemplate,
  inlineUnit,
  inlineBase,
  mirror,
  mirrorTemplate,
  toStuds,
  convertQuantity,
  convertStatement,
  convertFile,
];

/** `projects`: others that are open, which may use this one as a library. */
export function refactorings(snapshot: Snapshot, { start }: Range, projects: readonly Project[] = []): Refactoring[] {
  const located = locate(snapshot, start);
  return located ? all.flatMap((one) => one(snapshot, located, projects)) : [];
}

/** One of them by its id, with its edits. */
export function refactor(
  snapshot: Snapshot,
  id: string,
  at: Range,
  projects: readonly Project[] = [],
): Refactoring | undefined {
  return refactorings(snapshot, at, projects).find((one) => one.id === id && one.disabled === undefined);
}
