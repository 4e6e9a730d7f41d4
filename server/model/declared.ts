/** Materials, garments, stock and policies from their declarations. Each is computed once a statement. */
import { headPlace, type Place, placeOf, type Statement } from '../../grammar/tree.ts';
import { countIn, declarationAt, lengthIn, placeOfSlot, plainContext, quantityIn } from './context.ts';
import { type Finding, finding } from './finding.ts';
import type { Board, EndTake, Garment, Hardware, Limit, PolicyInForce, RodMaterial, StockItem } from './materials.ts';
import type { Declared, Names, Trace } from './names.ts';
import { child, childrenOf, dotted, pathIn, pathsIn, type Reading, says, textIn } from './reading.ts';
import type { Severity } from './rule.ts';
import * as rules from './rules.ts';

/** More of one stock length than any project buys. */
const mostStock = 1_000_000;

export interface Made<T> {
  readonly value: T;
  readonly findings: readonly Finding[];
  readonly trace: Trace;
}

function make<T>(names: Names, build: (context: ReturnType<typeof plainContext>) => T): Made<T> {
  const findings: Finding[] = [];
  const trace: Trace = new Map();
  return { value: build(plainContext(names, trace, (f) => findings.push(f))), findings, trace };
}

const place = (reading: Reading): Place => headPlace(reading.statement);

export function boardOf({ name, reading, home }: Declared, names: Names): Made<Board> {
  return make(names, (c) => ({
    kind: 'board',
    name: home.prefix + name,
    place: place(reading),
    depth: lengthIn(child(reading, 'depth'), 'value', c),
    thickness: lengthIn(child(reading, 'thickness'), 'value', c),
    ripping: child(reading, 'ripping') !== undefined && says(child(reading, 'ripping') as Reading, 'allowed'),
    ends: endsOf(reading, names, c),
    stiffness: quantityIn(child(reading, 'stiffness'), 'value', 'stiffness', c),
    weight: quantityIn(child(reading, 'weight'), 'value', 'area-mass', c),
    finish: textOf(reading, 'finish'),
  }));
}

export function rodOf({ name, reading, home }: Declared, names: Names): Made<RodMaterial> {
  return make(names, (c) => ({
    kind: 'rod',
    name: home.prefix + name,
    place: place(reading),
    diameter: lengthIn(child(reading, 'diameter'), 'value', c),
    ends: endsOf(reading, names, c),
    stiffness: quantityIn(child(reading, 'stiffness'), 'value', 'stiffness', c),
    weight: quantityIn(child(reading, 'weight'), 'value', 'line-mass', c),
    finish: textOf(reading, 'finish'),
  }));
}

export function hardwareOf({ name, reading }: Declared, names: Names): Made<Hardware> {
  return make(names, (c) => {
    const takes = child(reading, 'takes');
    quantityIn(child(reading, 'rated'), 'value', 'mass', c);
    quantityIn(child(reading, 'pack'), 'price', 'money', c);
    return {
      kind: 'hardware',
      name,
      place: place(reading),
      takes: lengthIn(takes, 'value', c),
      why: takes && textIn(takes, 'why'),
    };
  });
}

export function garmentOf({ name, reading }: Declared, names: Names): Made<Garment> {
  return make(names, (c) => ({
    kind: 'garment',
    name,
    place: place(reading),
    hang: lengthIn(child(reading, 'hang'), 'value', c),
    hanger: lengthIn(child(reading, 'hanger'), 'value', c),
    depth: lengthIn(child(reading, 'depth'), 'value', c),
    takes: lengthIn(child(reading, 'takes'), 'value', c),
    source: textOf(reading, 'source'),
  }));
}

function textOf(reading: Reading, word: string): string | undefined {
  const found = child(reading, word);
  return found && textIn(found, 'value');
}

function endsOf(reading: Reading, names: Names, c: ReturnType<typeof plainContext>): EndTake[] {
  const takes: EndTake[] = [];
  for (const ends of childrenOf(reading, 'ends')) {
    const meets = says(ends, 'wall') ? 'wall' : says(ends, 'panel') ? 'panel' : says(ends, 'open') ? 'open' : undefined;
    const path = pathIn(ends, 'hardware');
    if (path) {
      const declared = declarationAt(path, ['hardware'], ends.statement, c);
      const hardware = declared && hardwareOf(declared, names).value;
      if (hardware?.takes !== undefined)
        takes.push({
          meets,
          amount: hardware.takes,
          why: hardware.why ?? `the ${hardware.name}`,
          place: headPlace(ends.statement),
        });
      continue;
    }
    const amount = lengthIn(ends, 'value', c);
    if (amount !== undefined) takes.push({ meets, amount, why: textIn(ends, 'why'), place: headPlace(ends.statement) });
  }
  return takes;
}

/** Every length of a stock declaration, offcuts included. */
export function stockOf(
  { reading, statement }: Declared,
  names: Names,
  currency: string | undefined,
): Made<StockItem[]> {
  return make(names, (c) => {
    const path = pathIn(reading, 'material');
    const material = declarationAt(path, ['board', 'rod'], statement, c);
    quantityIn(child(reading, 'lead'), 'value', 'time', c);
    const items: StockItem[] = [];
    for (const r of [...childrenOf(reading, 'length'), ...childrenOf(reading, 'offcut')]) {
      const length = lengthIn(r, 'value', c);
      const price = quantityIn(r, 'price', 'money', c);
      checkCurrency(r, currency, c.report);
      const offcut = r.word === 'offcut';
      const count = countIn(r, 'count', c, 0, mostStock);
      if (length === undefined || !material || !path) continue;
      if (length === 0) {
        c.report(finding(rules.outOfBounds, placeOfSlot(r, 'value'), 'A stock length of nothing.'));
        continue;
      }
      const known = count ?? (r.slots.count ? 0 : offcut ? 1 : undefined);
      items.push({
        material: dotted(path),
        length,
        price: offcut ? 0 : price,
        count: known,
        offcut,
        place: headPlace(r.statement),
        declaration: headPlace(statement),
      });
    }
    return items;
  });
}

/** A price says the project's currency. */
function checkCurrency(reading: Reading, currency: string | undefined, report: (f: Finding) => void): void {
  const item = reading.slots.price?.[0];
  if (item?.kind !== 'number') return;
  const unit = item.parts[0]?.unit;
  if (!unit || !currency || unit.text === currency || !/^[A-Z]{3}$/.test(unit.text)) return;
  report(
    finding(
      rules.wrongQuantity,
      placeOf(reading.statement, unit),
      `The price is in ${unit.text}; the project's currency is ${currency}.`,
      {
        fixes: [{ title: `Write ${currency}`, edits: [{ place: placeOf(reading.statement, unit), text: currency }] }],
      },
    ),
  );
}

/** The limits and severities that a list of policies comes to, each laid over what it extends. */
export function policyInForce(
  policies: readonly { readonly name: string; readonly statement: Statement; readonly place: Place }[],
  names: Names,
  known: { readonly rules: ReadonlySet<string>; readonly limits: ReadonlySet<string> },
): Made<PolicyInForce> {
  return make(names, (c) => {
    const limits = new Map<string, Limit>();
    const severities = new Map<string, Severity | 'off'>();
    for (const { name, place: at } of policies) {
      for (const declared of lineage(name, at, names, c.trace, c.report))
        layPolicy(declared, limits, severities, known, c);
    }
    return { names: policies.map((p) => p.name), limits, severities };
  });
}

/** A policy with those it extends, the farthest first. */
function lineage(name: string, at: Place, names: Names, trace: Trace, report: (f: Finding) => void): Declared[] {
  const chain: Declared[] = [];
  let next: string | undefined = name;
  while (next !== undefined) {
    const declared: Declared | undefined = names.find('policy', next, trace);
    if (!declared) {
      if (chain.length === 0)
        report(
          finding(
            rules.nameNotKnown,
            at,
            `There is no policy "${next}".`,
            nearAdvice(names.nearestTo('policy', next), at),
          ),
        );
      break;
    }
    if (chain.some((d) => d.statement === declared.statement)) break;
    chain.push(declared);
    const base: ReturnType<typeof pathIn> = pathIn(declared.reading, 'base');
    next = base && dotted(base);
  }
  return chain.reverse();
}

function nearAdvice(near: string | undefined, at: Place): { advice: string; fixes?: Finding['fixes'] } {
  return near
    ? { advice: `Did you mean "${near}"?`, fixes: [{ title: `Write "${near}"`, edits: [{ place: at, text: near }] }] }
    : { advice: 'Declare it, or correct the name.' };
}

function layPolicy(
  { name, reading }: Declared,
  limits: Map<string, Limit>,
  severities: Map<string, Severity | 'off'>,
  known: { readonly rules: ReadonlySet<string>; readonly limits: ReadonlySet<string> },
  c: ReturnType<typeof plainContext>,
): void {
  for (const limit of childrenOf(reading, 'limit')) {
    const path = pathIn(limit, 'limit');
    if (!path || !known.limits.has(dotted(path))) continue;
    const least = lengthIn(limit, 'least', c) ?? lengthIn(limit, 'from', c);
    const most = lengthIn(limit, 'most', c) ?? lengthIn(limit, 'highest', c) ?? lengthIn(limit, 'to', c);
    limits.set(dotted(path), { least, most, place: headPlace(limit.statement), policy: name });
  }
  for (const treat of childrenOf(reading, 'treat')) {
    const path = pathIn(treat, 'rule');
    if (!path || !known.rules.has(dotted(path))) continue;
    const level = (['error', 'warning', 'note', 'off'] as const).find((l) => says(treat, l));
    if (level) severities.set(dotted(path), level);
  }
}

export function policyNames(reading: Reading): { name: string; statement: Statement; place: Place }[] {
  return childrenOf(reading, 'policy').flatMap((r) =>
    pathsIn(r, 'policies').map((p) => ({ name: dotted(p), statement: r.statement, place: placeOf(r.statement, p) })),
  );
}
