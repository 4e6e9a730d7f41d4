/** The layouts that stand for a template or unit where one number is to be shown: with the defaults, or with samples. */
import type { Statement } from '../../grammar/tree.ts';
import { plainContext } from '../model/context.ts';
import type { Layout } from '../model/layout.ts';
import { counted } from '../model/money.ts';
import type { Declared } from '../model/names.ts';
import { Trace } from '../model/trace.ts';
import { type Given, type TemplateInfo, templateContext, templateInfo } from '../model/unit.ts';
import type { Scope } from '../model/values.ts';
import { declaredAt } from './locate.ts';
import type { Snapshot } from './snapshot.ts';
import { usersOf } from './users.ts';

export interface Stand {
  readonly layout: Layout;
  /** What the names in its expressions mean. */
  readonly scope: Scope;
}

export interface Stands {
  readonly all: readonly Stand[];
  /** `With the defaults (width 36in).` Empty for a unit, which stands for itself. */
  readonly where: string;
}

/** At most so many layouts of units stand for a template that cannot be tried by itself. */
const mostOfUnits = 50;

const none: Stands = { all: [], where: '' };

/** Of a top-level statement. Empty where nothing was computed for it. */
export function standsFor(snapshot: Snapshot, top: Statement): Stands {
  const { project } = snapshot;
  const unit = project.unitAt(top);
  if (unit) {
    if (!unit.resolved || !unit.info || !unit.given) return none;
    const scope = scopeOf(unit.info, unit.given.values, project.names);
    return { all: [{ layout: unit.resolved.layout, scope }], where: '' };
  }
  if (top.word.text !== 'template') return none;
  const declared = declaredAt(snapshot, top);
  if (declared?.kind !== 'template') return none;
  const info = infoOf(declared);
  const samples = project.samplesOf(top);
  const stand = (layout: Layout, values: Given['values']): Stand => ({
    layout,
    scope: scopeOf(info, values, declared.home),
  });
  const last = samples.at(-1);
  const isDefault = last?.complete && [...info.ranges.keys()].every((name) => info.defaults.has(name));
  if (isDefault) {
    const where = last.label === '' ? '' : `With the defaults (${last.label}).`;
    return { all: [stand(last.resolved.layout, last.values)], where };
  }
  const complete = samples.filter((s) => s.complete);
  if (complete.length > 0) {
    const named = complete.length <= 2 ? ` (${complete.map((s) => s.label).join('; ')})` : '';
    const all = complete.map((s) => stand(s.resolved.layout, s.values));
    return { all, where: `Over the ranges of the template${named}.` };
  }
  const found = new Map<Layout, Stand>();
  const own = (usersOf(project).get(top) ?? []).filter((unit) => unit.info?.declared.statement === top);
  for (const { resolved, given } of own) {
    if (!resolved || !given) continue;
    if (found.size < mostOfUnits && !found.has(resolved.layout))
      found.set(resolved.layout, stand(resolved.layout, given.values));
  }
  if (found.size > 0) return { all: [...found.values()], where: `In ${counted(own.length, 'unit')}.` };
  return {
    all: samples.map((s) => stand(s.resolved.layout, s.values)),
    where: 'As far as it is known without all parameters.',
  };
}

/** What is not known is undefined, and said by the findings. */
function scopeOf(info: TemplateInfo, values: Given['values'], names: Declared['home']): Scope {
  return templateContext(
    info.blueprint,
    values,
    plainContext(names, new Trace(), () => undefined),
  );
}

const infos = new WeakMap<Statement, TemplateInfo>();

/** A template made ready, kept as long as what it rests on. */
export function infoOf(template: Declared): TemplateInfo {
  const known = infos.get(template.statement);
  if (known?.declared.home === template.home && known.trace.stillHolds()) return known;
  const made = templateInfo(template);
  infos.set(template.statement, made);
  return made;
}
