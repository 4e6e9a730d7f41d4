/** Whether two lists of diagnostics say the same, without writing either out. */
import type { Diagnostic } from 'vscode-languageserver';

export function sameDiagnostics(a: readonly Diagnostic[], b: readonly Diagnostic[]): boolean {
  return a === b || same(a, b);
}

/** Plain data, as the protocol has it: what is left out is the same as what is undefined. */
function same(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) || Array.isArray(b)) {
    return Array.isArray(a) && Array.isArray(b) && a.length === b.length && a.every((one, i) => same(one, b[i]));
  }
  const [x, y] = [a as Record<string, unknown>, b as Record<string, unknown>];
  for (const key in x) if (!same(x[key], y[key])) return false;
  for (const key in y) if (!(key in x) && y[key] !== undefined) return false;
  return true;
}
