/**
 * What a change of text changes in what is built: two states of one project compared by their meaning. A template that
 * reaches 180 units is told once, with its reach.
 */
import type { Planned } from '../../checks/analysis.ts';
import type { Finding } from '../../model/finding.ts';
import type { Layout } from '../../model/layout.ts';
import { calledInProject } from '../../model/names.ts';
import type { Project, Unit } from '../../model/project.ts';
import type { Ticks } from '../../model/ticks.ts';
import { priceOf, takeoffOf } from '../takeoff.ts';
import { builtAs, type Change, changesOf, type Value } from './changes.ts';
import { type Counterparts, counterpartsOf } from './counterparts.ts';
import { looseFindings, unitFindings } from './findings.ts';

export interface Side {
  readonly project: Project;
  /** With the plan of all its parts. */
  readonly planned: Planned;
}

/** Changes that the same units share. */
export interface ChangeGroup {
  /** Of the units, as it is called afterwards. */
  readonly template: string | undefined;
  readonly units: readonly string[];
  /** Units with their counts multiplied out. */
  readonly count: number;
  readonly changes: readonly GroupedChange[];
}

/** Alike in all units of a group; the lengths may differ from unit to unit, by the same amount. */
export interface GroupedChange extends Change {
  /** The least and the most that it is among the units, where they differ. */
  readonly spread?: { readonly before?: readonly [Ticks, Ticks]; readonly after?: readonly [Ticks, Ticks] };
}

export interface Renamed {
  readonly before: string;
  readonly after: string;
}

export interface MaterialFigures {
  readonly material: string;
  readonly boards: number;
  readonly stockLength: Ticks;
  readonly waste: Ticks;
  readonly price: number | undefined;
}

export interface Totals {
  readonly units: number;
  readonly materials: readonly MaterialFigures[];
  /** By name. */
  readonly hardware: ReadonlyMap<string, number>;
  /** Hundredths; undefined where something that is needed has no price. */
  readonly hardwarePrice: number | undefined;
  readonly errors: number;
  readonly warnings: number;
  readonly notes: number;
}

export interface Comparison {
  /** The farthest reaching first. */
  readonly groups: readonly ChangeGroup[];
  readonly added: readonly string[];
  readonly removed: readonly string[];
  readonly renamed: readonly Renamed[];
  /** Units of both sides, by their names afterwards. */
  readonly pairs: ReadonlyMap<string, readonly [before: Unit, after: Unit]>;
  /** Findings that no unit of either side has for itself: of stock, names, settings. */
  readonly findings: { readonly added: readonly Finding[]; readonly gone: readonly Finding[] };
  readonly before: Totals;
  readonly after: Totals;
  /** Nothing that is cut, bought or mounted differs. Findings and names may. */
  readonly isBuiltAlike: boolean;
}

export function compare(before: Side, after: Side): Comparison {
  const sameMaterial = materialsAlike(before.project, after.project);
  const [old, now] = [[...before.project.units()], [...after.project.units()]];
  const { both, added, removed, renamed } = pairedUnits(old, now);
  const found = new Map<string, Found>();
  const known = new Map<Layout, Map<Layout, Change[]>>();
  let own: Counterparts | undefined;
  const counterparts = (): Counterparts => {
    own ??= counterpartsOf(before.project, after.project);
    return own;
  };
  for (const [a, b] of both)
    for (const change of unitChanges(a, b, sameMaterial, known, counterparts)) collect(found, change, b);
  const groups = grouped(found);
  const totals = { before: totalsOf(before), after: totalsOf(after) };
  const isBuiltAlike =
    added.length === 0 &&
    removed.length === 0 &&
    groups.every(({ changes }) => changes.every(({ kind }) => kind === 'finding')) &&
    extrasAlike(before, after);
  return {
    groups,
    added: added.map(({ name }) => name),
    removed: removed.map(({ name }) => name),
    renamed,
    pairs: new Map(both.map(([a, b]) => [b.name, [a, b]])),
    findings: looseFindings(before.project, after.project, counterparts),
    ...totals,
    isBuiltAlike,
  };
}

// Units

interface PairedUnits {
  readonly both: readonly (readonly [Unit, Unit])[];
  readonly added: readonly Unit[];
  readonly removed: readonly Unit[];
  readonly renamed: readonly Renamed[];
}

/** By name; one that is gone and one that is new, built alike at the same place, is one with another name. */
function pairedUnits(old: readonly Unit[], now: readonly Unit[]): PairedUnits {
  const byName = new Map(now.map((unit) => [unit.name, unit]));
  const both: (readonly [Unit, Unit])[] = [];
  const gone: Unit[] = [];
  for (const unit of old) {
    const same = byName.get(unit.name);
    if (same) both.push([unit, same]);
    else gone.push(unit);
    byName.delete(unit.name);
  }
  const prints = new WeakMap<Layout, string>();
  const printOf = ({ resolved, floor, flat, phase, count }: Unit): string => {
    if (!resolved) return '';
    const { layout } = resolved;
    let print = prints.get(layout);
    if (print === undefined) {
      print = builtAs(layout);
      prints.set(layout, print);
    }
    return [floor, flat, phase, count, print].join('\n');
  };
  const left = Map.groupBy([...byName.values()], printOf);
  const renamed: Renamed[] = [];
  const removed = gone.filter((unit) => {
    const print = printOf(unit);
    const other = print === '' ? undefined : left.get(print)?.shift();
    if (!other) return true;
    renamed.push({ before: unit.name, after: other.name });
    both.push([unit, other]);
    return false;
  });
  const stillNew = new Set([...left.values()].flat());
  return { both, added: now.filter((unit) => stillNew.has(unit)), removed, renamed };
}

function unitChanges(
  a: Unit,
  b: Unit,
  sameMaterial: (before: string, after: string) => boolean,
  known: Map<Layout, Map<Layout, Change[]>>,
  counterparts: () => Counterparts,
): Change[] {
  const changes: Change[] = [];
  const text = (what: string, before: string | undefined, after: string | undefined): void => {
    if (before !== after)
      changes.push({ kind: 'unit', of: '', what, ...side(before, 'before'), ...side(after, 'after') });
  };
  if (a.count !== b.count)
    changes.push({ kind: 'unit', of: '', what: 'count', before: { count: a.count }, after: { count: b.count } });
  for (const label of ['floor', 'flat', 'phase'] as const) text(label, a[label], b[label]);
  const [before, after] = [a.resolved?.layout, b.resolved?.layout];
  if (before && after) {
    let ofBefore = known.get(before);
    if (!ofBefore) {
      ofBefore = new Map();
      known.set(before, ofBefore);
    }
    let own = ofBefore.get(after);
    if (!own) {
      own = changesOf(before, after, sameMaterial);
      ofBefore.set(after, own);
    }
    // Where its template was turned round with it, the word alone changes nothing.
    if (a.mirrored !== b.mirrored && own.length > 0)
      text('is', a.mirrored ? 'mirrored' : 'as drawn', b.mirrored ? 'mirrored' : 'as drawn');
    changes.push(...own);
  } else if (before || after)
    changes.push({
      kind: 'unit',
      of: '',
      what: 'can be worked out',
      before: { text: before ? 'yes' : 'no' },
      after: { text: after ? 'yes' : 'no' },
    });
  return [...changes, ...unitFindings(a, b, counterparts)];
}

function side(text: string | undefined, name: 'before' | 'after'): object {
  return text === undefined ? {} : { [name]: { text } };
}

// Groups

interface Found {
  readonly template: string | undefined;
  readonly change: Change;
  readonly units: Unit[];
  before?: [Ticks, Ticks];
  after?: [Ticks, Ticks];
}

function collect(all: Map<string, Found>, change: Change, unit: Unit): void {
  const template = unit.info && calledInProject(unit.info.declared);
  const keyOf = (nth: number): string =>
    JSON.stringify([template, change.kind, change.of, change.what, signature(change), nth]);
  let nth = 1;
  // Two findings of one rule about one thing are two changes of one unit.
  while (all.get(keyOf(nth))?.units.at(-1) === unit) nth++;
  const key = keyOf(nth);
  let found = all.get(key);
  if (!found) {
    found = { template, change, units: [] };
    all.set(key, found);
  }
  found.units.push(unit);
  for (const when of ['before', 'after'] as const) {
    const value = change[when];
    if (!value || !('ticks' in value)) continue;
    const known = found[when];
    found[when] = known
      ? [Math.min(known[0], value.ticks) as Ticks, Math.max(known[1], value.ticks) as Ticks]
      : [value.ticks, value.ticks];
  }
}

/** Lengths that grow by the same are one change; the message of a finding has the numbers of its unit. */
function signature({ kind, before, after }: Change): unknown {
  if (kind === 'finding') return [before !== undefined, after !== undefined];
  if (before && after && 'ticks' in before && 'ticks' in after) return after.ticks - before.ticks;
  return [plain(before), plain(after)];
}

function plain(value: Value | undefined): unknown {
  return value && ('ticks' in value ? 'length' : value);
}

function grouped(all: ReadonlyMap<string, Found>): ChangeGroup[] {
  const byUnits = Map.groupBy(all.values(), ({ template, units }) =>
    JSON.stringify([template, units.map(({ name }) => name)]),
  );
  const groups = [...byUnits.values()].map((founds): ChangeGroup => {
    const [{ template, units }] = founds as [Found];
    return {
      template,
      units: units.map(({ name }) => name),
      count: units.reduce((sum, { count }) => sum + count, 0),
      changes: founds.map(({ change, before, after }): GroupedChange => {
        const differs = (range: [Ticks, Ticks] | undefined): boolean => range !== undefined && range[0] !== range[1];
        return differs(before) || differs(after)
          ? { ...change, spread: { ...(before && { before }), ...(after && { after }) } }
          : change;
      }),
    };
  });
  return groups.sort((a, b) => b.count - a.count || ((a.template ?? '') < (b.template ?? '') ? -1 : 1));
}

// The whole

function totalsOf({ project, planned }: Side): Totals {
  const units = [...project.units()];
  const takeoff = takeoffOf(units);
  const findings = [...project.findings(), ...planned.findings];
  const count = (severity: Finding['severity']): number => findings.filter((f) => f.severity === severity).length;
  return {
    units: units.reduce((sum, unit) => sum + unit.count, 0),
    materials: (planned.plan?.totals ?? []).map(({ material, boardCount, stockLength, waste, price }) => ({
      material,
      boards: boardCount,
      stockLength,
      waste,
      price,
    })),
    hardware: new Map(takeoff.hardware.map(({ hardware, count: n }) => [hardware.name, n])),
    hardwarePrice: priceOf(takeoff),
    errors: count('error'),
    warnings: count('warning'),
    notes: count('note'),
  };
}

/** Boards and rods that are the same but for their names, where the one name is gone and the other is new. */
function materialsAlike(before: Project, after: Project): (a: string, b: string) => boolean {
  const materials = (project: Project): Map<string, string> =>
    new Map(
      (['board', 'rod'] as const).flatMap((kind) =>
        [...project.computed(kind)].flatMap((made) =>
          'value' in made && made.value ? [[made.declared.name, builtAs(made.value)] as const] : [],
        ),
      ),
    );
  const [old, now] = [materials(before), materials(after)];
  return (a, b) => a === b || (!now.has(a) && !old.has(b) && old.get(a) !== undefined && old.get(a) === now.get(b));
}

/** Loose parts, stock and everything else that is cut: as much of each length. */
function extrasAlike(before: Side, after: Side): boolean {
  const asked = ({ planned }: Side): string => {
    const lengths = new Map<string, number>();
    for (const { length, quantity } of planned.demand.request.pieces)
      lengths.set(String(length), (lengths.get(String(length)) ?? 0) + quantity);
    return [...lengths].sort().join(';');
  };
  return asked(before) === asked(after);
}
