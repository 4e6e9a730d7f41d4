/** What changed between two texts, line by line, as people and tools read it: a unified diff. */
import { withEdits } from '../../grammar/format.ts';
import type { Edit } from '../../grammar/source.ts';
import { printable } from './words.ts';

/** Lines around a change that are shown with it. */
const around = 3;

/** Nothing where the two are the same. Fixes change few lines, so what is alike at both ends is left out first. */
export function diffOf(name: string, before: string, after: string): string[] {
  if (before === after) return [];
  return hunksOf(name, stepsOf(linesOf(before), linesOf(after)));
}

/** The same where the changes are known: `edits` are in order. However far apart they are, nothing between them is looked at. */
export function diffOfEdits(name: string, before: string, edits: readonly Edit[]): string[] {
  const starts = [0];
  for (let at = before.indexOf('\n'); at >= 0; at = before.indexOf('\n', at + 1)) starts.push(at + 1);
  const steps: Step[] = [];
  let line = 0;
  const kept = (to: number): void => {
    for (; line < to; line++) steps.push(...linesOf(before.slice(starts[line], starts[line + 1])).map(same));
  };
  for (let i = 0; i < edits.length; ) {
    // Edits that share a line are one change.
    let first = line;
    while ((starts[first + 1] ?? Number.POSITIVE_INFINITY) <= (edits[i] as Edit).start) first++;
    kept(first);
    let last = first;
    const own: Edit[] = [];
    for (; i < edits.length && (edits[i] as Edit).start < (starts[last + 1] ?? Number.POSITIVE_INFINITY); i++) {
      const edit = edits[i] as Edit;
      own.push(edit);
      while ((starts[last + 1] ?? Number.POSITIVE_INFINITY) <= edit.end) last++;
    }
    const from = starts[first] as number;
    const old = before.slice(from, starts[last + 1]);
    const moved = own.map(({ start, end, text }) => ({ start: start - from, end: end - from, text }));
    steps.push(...stepsOf(linesOf(old), linesOf(withEdits(old, moved))));
    line = last + 1;
  }
  kept(starts.length);
  return steps.some(({ kind }) => kind !== ' ') ? hunksOf(name, steps) : [];
}

/** A line of a diff for a terminal: what would steer it is not let through, but for a carriage return at the end, without which the diff could not be applied. */
export function shownLine(line: string): string {
  const end = line.endsWith('\r') ? line.length - 1 : line.length;
  return printable(line.slice(0, end)) + line.slice(end);
}

type Step = { readonly kind: ' ' | '-' | '+'; readonly line: string };

const same = (line: string): Step => ({ kind: ' ', line });

/** Lines without their ends. One that has none at the end of the text says so, as tools expect it. */
function linesOf(text: string): string[] {
  const lines = text.split('\n');
  const last = lines.pop() as string;
  return last === '' ? lines : [...lines, `${last}\n\\ No newline at end of file`];
}

function hunksOf(name: string, steps: readonly Step[]): string[] {
  const lines = [`--- ${name}`, `+++ ${name}`];
  let [at, oldLine, newLine] = [0, 1, 1];
  for (;;) {
    let first = at;
    while (first < steps.length && steps[first]?.kind === ' ') first++;
    if (first === steps.length) return lines;
    const start = Math.max(at, first - around);
    oldLine += start - at;
    newLine += start - at;
    let end = first + 1;
    for (let alike = 0; end < steps.length && alike <= 2 * around; end++)
      alike = steps[end]?.kind === ' ' ? alike + 1 : 0;
    while (end > first && steps[end - 1]?.kind === ' ') end--;
    end = Math.min(steps.length, end + around);
    const own = steps.slice(start, end);
    const [o, n] = [own.filter((s) => s.kind !== '+').length, own.filter((s) => s.kind !== '-').length];
    // Of no lines, the one before them is named.
    lines.push(`@@ -${o === 0 ? oldLine - 1 : oldLine},${o} +${n === 0 ? newLine - 1 : newLine},${n} @@`);
    for (const { kind, line } of own) lines.push(`${kind}${line}`);
    oldLine += o;
    newLine += n;
    at = end;
  }
}

/** The shortest way from one list of lines to the other, by their longest common subsequence between what is alike at the ends. */
function stepsOf(old: readonly string[], fresh: readonly string[]): Step[] {
  const shorter = Math.min(old.length, fresh.length);
  let head = 0;
  while (head < shorter && old[head] === fresh[head]) head++;
  let tail = 0;
  while (tail < shorter - head && old[old.length - 1 - tail] === fresh[fresh.length - 1 - tail]) tail++;
  const [a, b] = [old.slice(head, old.length - tail), fresh.slice(head, fresh.length - tail)];
  return [...old.slice(0, head).map(same), ...between(a, b), ...old.slice(old.length - tail).map(same)];
}

/** Cells that are compared at most; beyond that, all of the one goes and all of the other comes. */
const mostCells = 4_000_000;

function between(a: readonly string[], b: readonly string[]): Step[] {
  const gone = a.map((line): Step => ({ kind: '-', line }));
  const come = b.map((line): Step => ({ kind: '+', line }));
  if ((a.length + 1) * (b.length + 1) > mostCells) return [...gone, ...come];
  const width = b.length + 1;
  const common = new Uint32Array((a.length + 1) * width);
  for (let i = a.length - 1; i >= 0; i--)
    for (let j = b.length - 1; j >= 0; j--)
      common[i * width + j] =
        a[i] === b[j]
          ? (common[(i + 1) * width + j + 1] ?? 0) + 1
          : Math.max(common[(i + 1) * width + j] ?? 0, common[i * width + j + 1] ?? 0);
  const steps: Step[] = [];
  let [i, j] = [0, 0];
  while (i < a.length && j < b.length) {
    if (a[i] === b[j]) {
      steps.push({ kind: ' ', line: a[i] ?? '' });
      i++;
      j++;
    } else if ((common[(i + 1) * width + j] ?? 0) >= (common[i * width + j + 1] ?? 0)) steps.push(gone[i++] as Step);
    else steps.push(come[j++] as Step);
  }
  return [...steps, ...gone.slice(i), ...come.slice(j)];
}
