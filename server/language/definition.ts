/** Where the name under the cursor is declared. */
import type { Source } from '../../grammar/source.ts';
import { offsetOf, type Range } from '../../grammar/tree.ts';
import { starterSource } from '../model/starter.ts';
import { sourceOf } from './diagnostics.ts';
import { locate, pathAt } from './locate.ts';
import { nameRangeOf } from './name-range.ts';
import type { Snapshot } from './snapshot.ts';
import { targetAt } from './target.ts';

export interface Definition {
  /** The name under the cursor. */
  readonly origin: Range;
  /** The file it is declared in, which may be one of a library. */
  readonly source: Source;
  /** The whole statement. */
  readonly whole: Range;
  /** Its name, or its first word. */
  readonly name: Range;
}

/** Undefined where no name stands, its meaning is not known, or it ships with the tool and is in no file. */
export function definitionAt(snapshot: Snapshot, offset: number): Definition | undefined {
  const located = locate(snapshot, offset);
  const target = located && targetAt(snapshot, located);
  if (!located || !target) return undefined;
  const source = sourceOf({ statement: target, start: 0, end: 0 });
  if (source === starterSource) return undefined;
  const { start, end } = pathAt(located)?.word ?? located.statement.word;
  const base = offsetOf(target);
  return {
    origin: { start: located.base + start, end: located.base + end },
    source,
    whole: { start: base, end: base + target.text.length },
    name: nameRangeOf(target),
  };
}
