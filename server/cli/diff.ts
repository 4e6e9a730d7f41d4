/** What changed between two texts, line by line, as people and tools read it: a unified diff. */

/** Lines around a change that are shown with it. */
const around = 3;

/** Nothing where the two are the same. Fixes change few lines, so what is alike at both ends is left out first. */
export function diffOf(name: string, before: string, after: string): string[] {
  if (before === after) return [];
  const [old, fresh] = [before.split('\n'), after.split('\n')];
  const hunks = hunksOf(old, fresh);
  return [`--- ${name}`, `+++ ${name}`, ...hunks];
}

type Step = { readonly kind: ' ' | '-' | '+'; readonly line: string };

function hunksOf(old: readonly string[], fresh: readonly string[]): string[] {
  const steps = stepsOf(old, fresh);
  const lines: string[] = [];
  let [at, oldLine, newLine] = [0, 1, 1];
  while (at < steps.length) {
    const first = steps.findIndex((s, i) => i >= at && s.kind !== ' ');
    if (first < 0) break;
    const start = Math.max(at, first - around);
    oldLine += start - at;
    newLine += start - at;
    let end = first + 1;
    for (let same = 0; end < steps.length && same <= 2 * around; end++) same = steps[end]?.kind === ' ' ? same + 1 : 0;
    while (end > first && steps[end - 1]?.kind === ' ') end--;
    end = Math.min(steps.length, end + around);
    const own = steps.slice(start, end);
    const [o, n] = [own.filter((s) => s.kind !== '+').length, own.filter((s) => s.kind !== '-').length];
    lines.push(`@@ -${oldLine},${o} +${newLine},${n} @@`, ...own.map((s) => `${s.kind}${s.line}`));
    oldLine += o;
    newLine += n;
    at = end;
  }
  return lines;
}

/** The shortest way from one list of lines to the other, by their longest common subsequence between what is alike at the ends. */
function stepsOf(old: readonly string[], fresh: readonly string[]): Step[] {
  const shorter = Math.min(old.length, fresh.length);
  let head = 0;
  while (head < shorter && old[head] === fresh[head]) head++;
  let tail = 0;
  while (tail < shorter - head && old[old.length - 1 - tail] === fresh[fresh.length - 1 - tail]) tail++;
  const [a, b] = [old.slice(head, old.length - tail), fresh.slice(head, fresh.length - tail)];
  const same = (line: string): Step => ({ kind: ' ', line });
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
