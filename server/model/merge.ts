/**
 * Findings of units brought together: what is wrong in a template sits once on the template, with the
 * units it reaches; what an argument or a survey causes sits there. Findings that are agreed to go.
 */
import { headPlace, type Place, type Statement } from '../../grammar/tree.ts';
import { type Finding, finding } from './finding.ts';
import { memo } from './memo.ts';
import { compareWritten, type Declared } from './names.ts';
import { childrenOf, dotted, pathIn } from './reading.ts';
import * as rules from './rules.ts';
import type { Sample } from './samples.ts';
import type { Given, TemplateInfo } from './unit.ts';

/** What is needed of a unit here. */
export interface UnitFindings {
  readonly name: string;
  readonly declared: Declared;
  readonly info: TemplateInfo | undefined;
  readonly given: Given | undefined;
  readonly survey: Declared | undefined;
  readonly checked: readonly Finding[];
}

interface Agreement {
  readonly declared: Declared;
  readonly rule: string;
  readonly head: string;
  readonly rest: string;
  used: boolean;
}

/**
 * `units` are those with findings in their geometry, in the order of the text; `users` says how many units
 * there are of each template, with or without.
 */
export function mergeFindings(
  units: readonly UnitFindings[],
  users: ReadonlyMap<Statement, number>,
  samples: ReadonlyMap<Declared, readonly Sample[]>,
  accepts: Iterable<Declared>,
): Finding[] {
  const agreements = [...accepts].flatMap(agreementOf);
  const merged: Finding[] = [];
  const inSamples = new Map<Statement, Map<string, { finding: Finding; labels: string[] }>>();
  for (const [template, taken] of samples) inSamples.set(template.statement, sampled(taken));
  const groups = new Map<string, Group>();
  /** How many units agree to a finding. */
  const settled = new Map<string, number>();
  // Units that are alike share one list of findings, which is gone through once.
  for (const [checked, alike] of Map.groupBy(units, (unit) => unit.checked)) {
    for (const f of checked) {
      const open =
        agreements.length === 0
          ? alike
          : alike.filter((unit) => !agreed(f, unit.name, unit.info?.declared.name, agreements));
      if (open.length < alike.length)
        settled.set(fullKey(f), (settled.get(fullKey(f)) ?? 0) + alike.length - open.length);
      const [first] = open;
      if (!first) continue;
      // What a unit says of itself is shared with no other.
      if (open.length === 1 && ownedBy(f.place, first)) {
        merged.push(f);
        continue;
      }
      const part = { units: open, finding: f };
      const group = groups.get(fullKey(f));
      if (group) group.parts.push(part);
      else groups.set(fullKey(f), { finding: f, parts: [part] });
    }
  }
  const shown = new Set<string>();
  for (const [key, group] of groups) {
    const template = group.parts[0]?.units[0]?.info?.declared.statement;
    const reached = unitsOf(group);
    const known = template && inSamples.get(template)?.get(fullKey(group.finding));
    // Not seen at the ends of the ranges, but in every unit as the template has it (a policy of the units, say).
    const everywhere =
      template !== undefined &&
      reached.length === users.get(template) &&
      reached.length > 1 &&
      causeless(group.finding) &&
      reached.every((unit) => !unit.survey && childrenOf(unit.declared.reading, 'override').length === 0);
    // On a material or a policy that units share it is said once, too.
    if (known || everywhere || isShared(group.finding.place.statement)) {
      shown.add(key);
      merged.push({ ...group.finding, reach: reached.map(({ name }) => name) });
    } else {
      for (const { units: own, finding: f } of group.parts) for (const unit of own) merged.push(atCause(f, unit));
    }
  }
  // What a template shows only at the ends of its ranges, and no unit has met yet.
  for (const [template, taken] of samples) {
    for (const { finding: f, labels } of inSamples.get(template.statement)?.values() ?? []) {
      if (shown.has(fullKey(f))) continue;
      if (agreed(f, undefined, template.name, agreements)) continue;
      // Every unit has agreed to it.
      const units = users.get(template.statement) ?? 0;
      if (units > 0 && settled.get(fullKey(f)) === units) continue;
      const always = labels.length === taken.length;
      if (!always && f.severity === 'note') continue;
      merged.push(always ? f : { ...f, message: `At ${labels[0] ?? ''}: ${f.message}` });
    }
  }
  return [...merged, ...agreements.filter((a) => !a.used).map(unmatched)];
}

/** Findings that are one: the same rule at the same place about the same thing. */
interface Group {
  readonly finding: Finding;
  readonly parts: { readonly units: readonly UnitFindings[]; readonly finding: Finding }[];
}

/** In the order of the text; a unit with two of them (both brackets of a shelf) is named once. */
function unitsOf({ parts }: Group): readonly UnitFindings[] {
  const [first, second] = parts;
  if (first && !second) return first.units;
  const all = [...new Set(parts.flatMap(({ units }) => units))];
  return all.sort((a, b) => compareWritten(a.declared, b.declared));
}

/** Whether a statement is part of something that is nobody's unit, survey or template. */
function isShared(statement: Statement): boolean {
  let top = statement;
  while (top.parent.kind === 'statement') top = top.parent;
  return !['template', 'unit', 'survey'].includes(top.word.text);
}

function sampled(taken: readonly Sample[]): Map<string, { finding: Finding; labels: string[] }> {
  const found = new Map<string, { finding: Finding; labels: string[] }>();
  for (const { label, findings } of taken) {
    const here = new Set<string>();
    for (const f of findings) {
      const key = fullKey(f);
      if (here.has(key)) continue;
      here.add(key);
      const known = found.get(key);
      if (known) known.labels.push(label);
      else found.set(key, { finding: f, labels: [label] });
    }
  }
  return found;
}

/** Identity of a finding across units: its rule, its place and the thing it is about. */
function keyOf(f: Finding): string {
  return `${f.rule.id} ${f.place.start} ${f.place.end} ${f.about ?? ''}`;
}

const serials = new WeakMap<Statement, number>();
let serial = 0;

function idOf(statement: Statement): number {
  return memo(serials, statement, () => ++serial);
}

const fullKeys = new WeakMap<Finding, string>();

/** Units that are alike share their findings, so that each is spelled out once. */
function fullKey(f: Finding): string {
  return memo(fullKeys, f, () => `${idOf(f.place.statement)} ${keyOf(f)}`);
}

/** The place is in the unit's own statements or its survey. */
function ownedBy(place: Place, unit: UnitFindings): boolean {
  const top = topOf(place.statement);
  return top === unit.declared.statement || top === unit.survey?.statement;
}

function topOf(statement: Statement): Statement {
  let node = statement;
  while (node.parent.kind === 'statement') node = node.parent;
  return node;
}

function causeless(f: Finding): boolean {
  return !f.causes || (f.causes.parameters.length === 0 && !f.causes.survey);
}

/** A finding of one unit, moved to what caused it there: its survey, its argument, or the unit itself. */
function atCause(f: Finding, unit: UnitFindings): Finding {
  const argument = f.causes?.parameters.map((p) => unit.given?.statements.get(p)).find((s) => s !== undefined);
  const place =
    f.causes?.survey && unit.survey
      ? headPlace(unit.survey.statement)
      : argument
        ? headPlace(argument)
        : headPlace(unit.declared.statement);
  const message = `In ${unit.name}: ${f.message}`;
  return {
    ...f,
    message,
    place,
    related: [
      { place: f.place, message: 'It is about this statement of the template.' },
      ...f.related.filter((r) => r.place !== place),
    ],
    reach: [unit.name],
  };
}

function agreementOf(declared: Declared): Agreement[] {
  const rule = pathIn(declared.reading, 'rule');
  const place = pathIn(declared.reading, 'place');
  if (!rule || !place) return [];
  const [head = '', ...rest] = place.words.map((w) => w.text);
  return [{ declared, rule: dotted(rule), head, rest: rest.join('.'), used: false }];
}

/** Errors cannot be agreed to: what they name cannot be built. */
function agreed(
  f: Finding,
  unit: string | undefined,
  template: string | undefined,
  agreements: readonly Agreement[],
): boolean {
  if (f.severity === 'error') return false;
  for (const a of agreements) {
    if (a.rule !== f.rule.id || (a.head !== unit && a.head !== template)) continue;
    if (a.rest !== '' && f.about !== a.rest && !f.about?.startsWith(`${a.rest}.`)) continue;
    a.used = true;
    return true;
  }
  return false;
}

function unmatched({ declared, rule }: Agreement): Finding {
  return finding(
    rules.acceptUnmatched,
    headPlace(declared.statement),
    `Nothing of rule "${rule}" is found there that could be agreed to.`,
    { advice: 'Remove this line, or correct the rule or the place.' },
  );
}
