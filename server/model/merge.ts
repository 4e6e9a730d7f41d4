/**
 * Findings of units brought together: what is wrong in a template sits once on the template, with the
 * units it reaches; what an argument or a survey causes sits there. Findings that are agreed to go.
 *
 * Kept from edit to edit: a unit that is computed anew leaves the groups of its findings and joins others,
 * and only those are looked at again.
 */
import { headPlace, type Place, type Statement, topOf } from '../../grammar/tree.ts';
import { type Agreement, agreedBy, agreementOf, unmatched } from './agreements.ts';
import type { Finding } from './finding.ts';
import { memo } from './memo.ts';
import { compareWritten, type Declared, sortWritten } from './names.ts';
import { childrenOf } from './reading.ts';
import * as rules from './rules.ts';
import type { Sample } from './samples.ts';
import type { Given, TemplateInfo } from './unit.ts';
import { givenInstead } from './unlikely.ts';

/** What is needed of a unit here. */
export interface UnitFindings {
  readonly name: string;
  readonly declared: Declared;
  readonly info: TemplateInfo | undefined;
  readonly given: Given | undefined;
  readonly survey: Declared | undefined;
  readonly checked: readonly Finding[];
}

export class Merge {
  private readonly units = new Set<UnitFindings>();
  private removed = new Set<UnitFindings>();
  private added = new Set<UnitFindings>();
  private readonly groups = new Map<string, Group>();
  private readonly groupsOfTemplate = new Map<Statement, Set<Group>>();
  private readonly dirty = new Set<Group>();
  /** How many units there are of each template and of those that extend it, with findings or without. */
  private readonly users = new Map<Statement, number>();
  /** Those of which the number may have changed, with what it was. */
  private readonly counted = new Map<Statement, number>();
  private readonly samples = new Map<Statement, Taken>();
  private accepts: readonly Declared[] = [];
  private agreements: readonly Agreement[] = [];
  /** How many findings of units rest on each agreement, and how many units of each template agree to each finding. */
  private readonly used = new Map<Agreement, number>();
  private readonly settled = new Map<string, number>();

  /** A unit has come, has gone, or has been computed anew. */
  replaceUnit(before: UnitFindings | undefined, after: UnitFindings | undefined): void {
    if (before) {
      this.count(before, -1);
      if (!this.added.delete(before) && before.checked.length > 0) this.removed.add(before);
    }
    if (after) {
      this.count(after, 1);
      if (after.checked.length > 0) this.added.add(after);
    }
  }

  /** What a template shows at the ends of its ranges; undefined when it has gone. */
  replaceSamples(template: Declared, samples: readonly Sample[] | undefined): void {
    const { statement } = template;
    if (samples) this.samples.set(statement, { template, samples });
    else this.samples.delete(statement);
    this.lookAgain(statement);
  }

  /** All of them, sorted by nothing. */
  findings(accepts: readonly Declared[]): Finding[] {
    this.agree(accepts);
    this.move();
    for (const [template, before] of this.counted) {
      if ((this.users.get(template) ?? 0) !== before) this.lookAgain(template);
    }
    this.counted.clear();
    for (const group of this.dirty) this.settle(group);
    this.dirty.clear();
    const merged: Finding[] = [];
    for (const { said } of this.groups.values()) for (const f of said) merged.push(f);
    const inSamples = new Set<Agreement>();
    for (const taken of this.samples.values()) this.addSampled(taken, merged, inSamples);
    for (const agreement of this.agreements) {
      if (!this.used.get(agreement) && !inSamples.has(agreement)) merged.push(unmatched(agreement));
    }
    return merged;
  }

  private count({ info }: UnitFindings, by: 1 | -1): void {
    for (const { statement } of info?.blueprint.heads ?? []) {
      const before = this.users.get(statement) ?? 0;
      if (!this.counted.has(statement)) this.counted.set(statement, before);
      if (before + by > 0) this.users.set(statement, before + by);
      else this.users.delete(statement);
    }
  }

  private lookAgain(template: Statement): void {
    for (const group of this.groupsOfTemplate.get(template) ?? []) this.dirty.add(group);
  }

  /** Where other things are agreed to than before, every unit joins its groups anew. */
  private agree(accepts: readonly Declared[]): void {
    const same = accepts.length === this.accepts.length && accepts.every((one, i) => one === this.accepts[i]);
    if (same) return;
    this.accepts = accepts;
    this.agreements = accepts.flatMap(agreementOf);
    for (const kept of [this.groups, this.groupsOfTemplate, this.dirty, this.used, this.settled]) kept.clear();
    for (const unit of this.units) if (!this.removed.has(unit)) this.added.add(unit);
    this.removed.clear();
    this.units.clear();
  }

  /** Units that have gone leave their groups, then those that have come join theirs. */
  private move(): void {
    const [removed, added] = [this.removed, this.added];
    this.removed = new Set();
    this.added = new Set();
    const leaving = new Map<Group, UnitFindings[]>();
    for (const unit of removed) {
      this.units.delete(unit);
      this.eachGroup(unit, -1, (group) => listIn(leaving, group).push(unit));
    }
    for (const [group, units] of leaving) {
      leave(group, units);
      this.dirty.add(group);
    }
    const joining = new Map<Group, UnitFindings[]>();
    for (const unit of added) {
      this.units.add(unit);
      this.eachGroup(unit, 1, (group) => listIn(joining, group).push(unit));
    }
    for (const [group, units] of joining) {
      join(group, units);
      this.dirty.add(group);
    }
  }

  /** The groups that a unit belongs to: those of its findings to which nobody has agreed. */
  private eachGroup(unit: UnitFindings, by: 1 | -1, visit: (group: Group) => void): void {
    for (const [key, all] of keyed(unit.checked)) {
      let isOpen = false;
      for (const f of all) {
        const agreement = agreedBy(f, unit.name, unit.info?.declared, this.agreements);
        if (agreement) {
          this.used.set(agreement, (this.used.get(agreement) ?? 0) + by);
          for (const { statement } of unit.info?.blueprint.heads ?? []) {
            const settled = settledKey(key, statement);
            this.settled.set(settled, (this.settled.get(settled) ?? 0) + by);
          }
        } else isOpen = true;
      }
      if (isOpen) visit(memo(this.groups, key, () => newGroup(key)));
    }
  }

  /** Says what is to be said of the units of a group. */
  private settle(group: Group): void {
    const { key, units } = group;
    const [first] = units;
    const template = first?.info?.declared.statement;
    const own = first ? this.openOf(first, key) : [];
    const [speaking] = own as [Finding];
    // How many units could have it is the matter of the template that says what it is about.
    const home = first && topOf(speaking.place.statement);
    const about = home?.word.text === 'template' ? home : template;
    const templates = [...new Set([template, about])].filter((one) => one !== undefined);
    for (const one of group.templates) if (!templates.includes(one)) this.forget(one, group);
    for (const one of templates) memo(this.groupsOfTemplate, one, () => new Set<Group>()).add(group);
    group.templates = templates;
    group.isShown = false;
    if (!first) {
      this.groups.delete(key);
      return;
    }
    // What a unit says of itself is shared with no other.
    if (units.length === 1 && own.every((f) => ownedBy(f.place, first))) {
      group.said = own;
      return;
    }
    const all = (about && this.users.get(about)) ?? 0;
    if (this.isSaidOnce(group, template, speaking, all)) {
      group.isShown = true;
      group.said = [{ ...speaking, reach: units.map(({ name }) => name) }];
    } else group.said = this.saidOfSome(group, template, all);
  }

  /** Of the units that have it as their template is, once; of the others, at what causes it there. */
  private saidOfSome({ key, units }: Group, template: Statement | undefined, all: number): Finding[] {
    const open = units.map((unit) => ({ unit, own: this.openOf(unit, key) }));
    const isOfTemplate = (own: readonly Finding[]): boolean => own.every(causeless);
    const together = template === undefined ? [] : open.filter(({ own }) => isOfTemplate(own));
    // A unit that changes nothing of its template shows that it is the template's; one alone is told of itself.
    const isOne = together.length < 2 || !together.some(({ unit }) => isPlain(unit));
    const others = isOne ? open : open.filter((one) => !together.includes(one));
    const [first] = isOne ? [] : together;
    const once = first ? first.own.map((f) => ofSome(f, together, all)) : [];
    return [...once, ...others.flatMap(({ unit, own }) => own.map((f) => atCause(f, unit)))];
  }

  /** For all units of a group: what their template shows by itself, or a material or a policy that they share. */
  private isSaidOnce({ key, units }: Group, template: Statement | undefined, speaking: Finding, all: number): boolean {
    if (isShared(speaking.place.statement)) return true;
    if (template === undefined) return false;
    if (this.sampledOf(template).has(key)) return true;
    // Not seen at the ends of the ranges, but in every unit as the template has it (a policy of the units, say).
    return units.length === all && units.length > 1 && causeless(speaking) && units.every(isPlain);
  }

  /** A template that is typed in is another statement each time: nothing is kept of those that are gone. */
  private forget(template: Statement, group: Group): void {
    const groups = this.groupsOfTemplate.get(template);
    groups?.delete(group);
    if (groups?.size === 0) this.groupsOfTemplate.delete(template);
  }

  private openOf(unit: UnitFindings, key: string): readonly Finding[] {
    const all = keyed(unit.checked).get(key) ?? [];
    if (this.agreements.length === 0) return all;
    return all.filter((f) => !agreedBy(f, unit.name, unit.info?.declared, this.agreements));
  }

  private sampledOf(template: Statement): ReadonlyMap<string, Sampled> {
    const taken = this.samples.get(template);
    return taken ? sampled(taken.samples) : nothingSampled;
  }

  /** What a template shows only at the ends of its ranges, and no unit has met yet. */
  private addSampled({ template, samples }: Taken, merged: Finding[], inSamples: Set<Agreement>): void {
    for (const [key, { finding: f, labels }] of sampled(samples)) {
      if (this.groups.get(key)?.isShown) continue;
      const agreement = agreedBy(f, undefined, template, this.agreements);
      if (agreement) {
        inSamples.add(agreement);
        continue;
      }
      // Every unit has agreed to it.
      const units = this.users.get(template.statement) ?? 0;
      if (units > 0 && this.settled.get(settledKey(key, template.statement)) === units) continue;
      const always = labels.length === samples.length;
      if (!always && f.severity === 'note') continue;
      merged.push(always ? f : { ...f, message: `At ${labels[0] ?? ''}: ${f.message}` });
    }
  }
}

/** A template and what it shows at the ends of its ranges. */
interface Taken {
  readonly template: Declared;
  readonly samples: readonly Sample[];
}

/** Findings that are one: the same rule at the same place about the same thing. */
interface Group {
  readonly key: string;
  /** In the order of the text, so that what speaks for many is always the first of them. */
  units: UnitFindings[];
  /** Those on whose units it depends what is said. */
  templates: readonly Statement[];
  said: readonly Finding[];
  /** It is said once for all its units. */
  isShown: boolean;
}

function newGroup(key: string): Group {
  return { key, units: [], templates: [], said: [], isShown: false };
}

function settledKey(key: string, template: Statement): string {
  return `${key} ${idOf(template)}`;
}

function leave(group: Group, leaving: readonly UnitFindings[]): void {
  if (leaving.length === 1) {
    const at = group.units.indexOf(leaving[0] as UnitFindings);
    if (at >= 0) group.units.splice(at, 1);
    return;
  }
  const gone = new Set(leaving);
  group.units = group.units.filter((unit) => !gone.has(unit));
}

function join({ units }: Group, joining: readonly UnitFindings[]): void {
  const [only] = joining;
  if (!only || joining.length > 1) {
    for (const unit of joining) units.push(unit);
    sortWritten(units, ({ declared }) => declared);
    return;
  }
  let [low, high] = [0, units.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (compareWritten((units[middle] as UnitFindings).declared, only.declared) < 0) low = middle + 1;
    else high = middle;
  }
  units.splice(low, 0, only);
}

function listIn<K, V>(lists: Map<K, V[]>, key: K): V[] {
  return memo(lists, key, () => []);
}

/** Units that are alike share one list of findings, which is gone through once. */
const keyedLists = new WeakMap<readonly Finding[], ReadonlyMap<string, readonly Finding[]>>();

function keyed(checked: readonly Finding[]): ReadonlyMap<string, readonly Finding[]> {
  return memo(keyedLists, checked, () => Map.groupBy(checked, fullKey));
}

function isPlain({ survey, declared }: UnitFindings): boolean {
  return !survey && childrenOf(declared.reading, 'override').length === 0;
}

/** Whether a statement is part of something that is nobody's unit, survey or template. */
function isShared(statement: Statement): boolean {
  return !['template', 'unit', 'survey'].includes(topOf(statement).word.text);
}

interface Sampled {
  readonly finding: Finding;
  readonly labels: string[];
}

const nothingSampled: ReadonlyMap<string, Sampled> = new Map();
const sampledLists = new WeakMap<readonly Sample[], ReadonlyMap<string, Sampled>>();

function sampled(taken: readonly Sample[]): ReadonlyMap<string, Sampled> {
  return memo(sampledLists, taken, () => {
    const found = new Map<string, Sampled>();
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
  });
}

const serials = new WeakMap<Statement, number>();
let serial = 0;

function idOf(statement: Statement): number {
  return memo(serials, statement, () => ++serial);
}

const fullKeys = new WeakMap<Finding, string>();

/** Identity of a finding across units: its rule, its place, the thing it is about and what that is compared with. */
function fullKey(f: Finding): string {
  return memo(
    fullKeys,
    f,
    () => `${idOf(f.place.statement)} ${f.rule.id} ${f.place.start} ${f.place.end} ${f.about ?? ''} ${otherOf(f)}`,
  );
}

/** The other thing of two, where several of one kind meet the same one: two outlets behind one shelf. */
function otherOf({ related }: Finding): string {
  const other = related.find(({ place }) => !['unit', 'survey'].includes(topOf(place.statement).word.text));
  return other ? `${idOf(other.place.statement)} ${other.place.start}` : '';
}

/** The place is in the unit's own statements or its survey. */
function ownedBy(place: Place, unit: UnitFindings): boolean {
  const top = topOf(place.statement);
  return top === unit.declared.statement || top === unit.survey?.statement;
}

function causeless(f: Finding): boolean {
  return !f.causes || (f.causes.parameters.length === 0 && !f.causes.survey);
}

/** A finding of some of the units of a template, with the numbers of the first of them. */
function ofSome(
  f: Finding,
  together: readonly { readonly unit: UnitFindings; readonly own: readonly Finding[] }[],
  all: number,
): Finding {
  const isSame = together.every(({ own }) => own.some(({ message }) => message === f.message));
  const example = isSame ? '' : `, such as ${together[0]?.unit.name}`;
  const some = together.length < all || !isSame ? `In ${together.length} of ${all} units${example}: ` : '';
  return { ...f, message: some + f.message, reach: together.map(({ unit }) => unit.name) };
}

/** A message as it would be if all units had it. */
export function withoutHowMany(message: string): string {
  return message.replace(/^In \d+ of \d+ units(?:, such as [^:]+)?: /, '');
}

const causes = new WeakMap<UnitFindings, Map<Finding, Finding>>();

/** A finding of one unit, moved to what caused it there: its survey, its argument, or the unit itself. */
function atCause(f: Finding, unit: UnitFindings): Finding {
  return memo(
    memo(causes, unit, () => new Map<Finding, Finding>()),
    f,
    () => {
      const argument = f.causes?.parameters.map((p) => unit.given?.statements.get(p)).find((s) => s !== undefined);
      const place =
        f.causes?.survey && unit.survey
          ? headPlace(unit.survey.statement)
          : argument
            ? headPlace(argument)
            : headPlace(unit.declared.statement);
      return {
        ...f,
        ...(argument && f.rule === rules.unlikelySize && givenInstead(argument, f)),
        message: `In ${unit.name}: ${f.message}`,
        place,
        related: [
          { place: f.place, message: 'It is about this statement of the template.' },
          ...f.related.filter((r) => r.place !== place),
        ],
        reach: [unit.name],
      };
    },
  );
}
