/**
 * A template checked on its own, over the range of its parameters. It is computed for the ends of the
 * ranges and for the defaults. Where every dimension is linear in the parameters, a chain that closes
 * at all corners of the ranges closes everywhere between them, and that is proven; all else is sampled.
 */

import type { Expression } from '../../grammar/tree.ts';
import { statementsWithin } from '../../grammar/tree.ts';
import type { Finding } from './finding.ts';
import { calledInProject } from './names.ts';
import { isExpression } from './phrase.ts';
import type { ProjectSettings } from './settings.ts';
import { showLength } from './show.ts';
import { type Ticks, ticks } from './ticks.ts';
import type { Given, Resolved, TemplateInfo } from './unit.ts';
import type { Value } from './values.ts';

export interface Sample {
  /** Every parameter has a value. */
  readonly complete: boolean;
  /** `width 92in, door 60in`; empty for a template without parameters. */
  readonly label: string;
  readonly values: Given['values'];
  readonly resolved: Resolved;
  readonly findings: readonly Finding[];
}

/** Corners of the parameters' ranges are tried up to this many parameters with a range; beyond, all least and all greatest. */
export const mostCorners = 4;

/** Computes a template at its corners. A parameter with neither default nor range has no value there; what rests on it is not placed. */
export function sampleTemplate(
  info: TemplateInfo,
  settings: ProjectSettings,
  compute: (values: Given['values']) => { readonly resolved: Resolved; readonly checked: readonly Finding[] },
): Sample[] {
  const corners = cornersOf(info);
  return corners.map((values) => {
    const { resolved, checked } = compute(values);
    const label = [...values]
      .filter(([name]) => info.ranges.has(name) || info.defaults.has(name))
      .map(([name, value]) => `${name} ${shown(value, settings)}`)
      .join(', ');
    const complete = [...values.values()].every((value) => value !== undefined);
    return { label, complete, values, resolved, findings: [...resolved.findings, ...checked, ...info.findings] };
  });
}

function shown(value: Value | undefined, { show }: ProjectSettings): string {
  if (!value) return '?';
  if (value.kind === 'length') return showLength(value.ticks, show);
  return value.kind === 'number' ? String(value.amount) : value.kind === 'text' ? value.text : calledInProject(value);
}

function cornersOf(info: TemplateInfo): Map<string, Value | undefined>[] {
  const base = new Map<string, Value | undefined>();
  const ranged: { name: string; ends: [Value, Value] }[] = [];
  for (const parameter of info.parameters.values()) {
    const range = info.ranges.get(parameter.name);
    const fallback = info.defaults.get(parameter.name);
    if (range) {
      const of = (n: number): Value =>
        parameter.type === 'length'
          ? { kind: 'length', ticks: ticks(n) as Ticks }
          : { kind: 'number', dimension: parameter.type === 'angle' ? 'angle' : 'count', amount: n };
      ranged.push({ name: parameter.name, ends: [of(range.least), of(range.most)] });
    } else if (fallback) base.set(parameter.name, fallback);
    else base.set(parameter.name, undefined);
  }
  const corners: Map<string, Value | undefined>[] = [];
  // With many parameters there is no number that has a bit for each.
  const isGreatest: ((i: number) => boolean)[] =
    ranged.length <= mostCorners
      ? Array.from({ length: 2 ** ranged.length }, (_, mask) => (i) => ((mask >> i) & 1) === 1)
      : [() => false, () => true];
  for (const greatest of isGreatest) {
    const values = new Map(base);
    for (const [i, { name, ends }] of ranged.entries()) values.set(name, ends[greatest(i) ? 1 : 0]);
    corners.push(values);
  }
  if (ranged.length > 0 && ranged.some((r) => info.defaults.has(r.name))) {
    const values = new Map(base);
    for (const { name, ends } of ranged) values.set(name, info.defaults.get(name) ?? ends[0]);
    corners.push(values);
  }
  return corners;
}

/** Every dimension is linear in the parameters: no parameter is multiplied by another, divided by, or compared. */
export function isLinear(info: TemplateInfo): boolean {
  const heads = info.blueprint.heads.map((h) => h.statement);
  const names = new Set(info.parameters.keys());
  for (const head of heads) {
    for (const statement of statementsWithin(head)) {
      for (const item of statement.items) if (isExpression(item) && !linear(item, names)) return false;
    }
  }
  // A number of shelves that depends on a pitch jumps; it is not linear in anything.
  return ![...info.parameters.values()].some((p) => p.type === 'count' && info.ranges.has(p.name));
}

function linear(e: Expression, names: ReadonlySet<string>): boolean {
  const varies = (x: Expression): boolean => {
    switch (x.kind) {
      case 'path':
        return x.words.length > 1 || names.has(x.words[0]?.text ?? '');
      case 'binary':
        return varies(x.left) || varies(x.right);
      case 'negation':
        return varies(x.operand);
      case 'group':
        return varies(x.inner);
      case 'call':
        return x.args.some(varies);
      default:
        return false;
    }
  };
  switch (e.kind) {
    case 'binary':
      if (!linear(e.left, names) || !linear(e.right, names)) return false;
      if (e.operator === '*') return !(varies(e.left) && varies(e.right));
      return e.operator !== '/' || !varies(e.right);
    case 'negation':
      return linear(e.operand, names);
    case 'group':
      return linear(e.inner, names);
    case 'call':
      return !e.args.some(varies);
    default:
      return true;
  }
}
