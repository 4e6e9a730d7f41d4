/**
 * Things of a template that stand as they were written when they were last evaluated: one and the same spec, so that
 * what is computed of it is computed once. An edit in one zone leaves the others as they are, and so does another width
 * of a unit whatever does not rest on it.
 *
 * Only what nothing is said of is kept, and what rests on no dimension of another thing.
 */
import { namesAt } from './context.ts';
import type { Finding } from './finding.ts';
import type { Reading } from './reading.ts';
import type { TemplateContext } from './template-values.ts';
import { Trace } from './trace.ts';
import { type Value, valueKey } from './values.ts';

interface Kept<T> {
  readonly under: readonly unknown[];
  /** Parameters that were looked up, with their values. */
  readonly parameters: ReadonlyMap<string, Value | undefined>;
  readonly trace: Trace;
  readonly made: T;
}

/** What is made of statements, and of what is named beside them: told apart by identity. */
export type AsWritten<T> = (
  statements: readonly Reading[],
  besides: readonly unknown[],
  context: TemplateContext,
  make: (context: TemplateContext) => T,
) => T;

/** So many are kept for a statement: under values that a unit or the end of a range gives. */
const mostKept = 4;

export function asWritten<T>(): AsWritten<T> {
  const all = new WeakMap<Reading, Kept<T>[]>();
  return (statements, besides, context, make) => {
    const key = statements.at(-1);
    if (!key) return make(context);
    const kept = all.get(key) ?? [];
    const homes = context.homes ? statements.map(({ statement }) => namesAt(context, statement)) : [context.names];
    const under = [...statements, ...besides, ...homes, context.system(), [...context.parameters.keys()].join()];
    const known = kept.find((one) => isSame(one, under, context));
    if (known) {
      restOn(known, context);
      return known.made;
    }
    const findings: Finding[] = [];
    const trace = new Trace();
    const apart = context.apart(trace, (f) => findings.push(f));
    const made = make(apart);
    for (const f of findings) context.report(f);
    const parameters = new Map([...apart.used].map((name) => [name, context.parameters.get(name)]));
    const fresh: Kept<T> = { under, parameters, trace, made };
    restOn(fresh, context);
    if (apart.reachesOut) context.reachesOut = true;
    else if (findings.length === 0) {
      // Statements and names that are not there any more do not come back.
      const still = kept.filter((one) => statements.every((s, i) => s === one.under[i]) && one.trace.stillHolds());
      all.set(key, [...still.slice(1 - mostKept), fresh]);
    }
    return made;
  };
}

function isSame({ under, parameters, trace }: Kept<unknown>, now: readonly unknown[], context: TemplateContext) {
  if (under.length !== now.length || under.some((one, i) => one !== now[i])) return false;
  for (const [name, value] of parameters) if (!isSameValue(value, context.parameters.get(name))) return false;
  return trace.stillHolds();
}

function isSameValue(a: Value | undefined, b: Value | undefined): boolean {
  if (valueKey(a) !== valueKey(b)) return false;
  return a?.kind !== 'name' || b?.kind !== 'name' || a.home === b.home;
}

function restOn({ parameters, trace }: Kept<unknown>, context: TemplateContext): void {
  for (const name of parameters.keys()) context.used.add(name);
  context.trace.copy(trace);
}
