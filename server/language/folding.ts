/** What can be folded: blocks, and runs of comment lines, that take more than one line. */
import type { Range, Statement } from '../../grammar/tree.ts';
import type { Snapshot } from './snapshot.ts';

export interface Fold extends Range {
  readonly kind: 'block' | 'comment';
}

export function foldsOf({ source }: Snapshot): Fold[] {
  const folds: Fold[] = [];
  const visit = (statement: Statement, base: number): void => {
    const { block } = statement;
    if (!block) return;
    if (block.close >= 0) folds.push({ kind: 'block', start: base + block.open, end: base + block.close });
    for (const child of block.children) visit(child, base + child.offset);
  };
  for (const segment of source.segments)
    for (const statement of segment.statements) visit(statement, segment.offset + statement.offset);
  return [...folds, ...commentFolds(source)];
}

/** Comments with nothing but blanks and at most one line end between them fold together. */
function commentFolds(source: Snapshot['source']): Fold[] {
  const { text } = source;
  const folds: Fold[] = [];
  let run: Fold | undefined;
  for (const { start, end } of source.comments()) {
    const joined = run && /^[ \t]*(?:(?:\r\n|\n|\r)[ \t]*)?$/.test(text.slice(run.end, start));
    if (run && joined) run = { ...run, end };
    else {
      if (run) folds.push(run);
      run = { kind: 'comment', start, end };
    }
  }
  return run ? [...folds, run] : folds;
}
