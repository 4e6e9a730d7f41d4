import { showInches, showLength, showMillimetres } from './show.ts';
/** Materials, garments, stock and policies from their declarations. Each is computed once a statement. */

import { headPlace, type Path, type Place, placeOf, type Statement, spanOf } from '../../grammar/tree.ts';
import {
  type Context,
  countIn,
  declarationAt,
  lengthIn,
  moneyIn,
  placeOfSlot,
  plainContext,
  quantityIn,
} from './context.ts';
import { type Finding, finding } from './finding.ts';
import { limits } from './limits.ts';
import type {
  Asked,
  Board,
  Building,
  Demands,
  EndTake,
  Garment,
  Hardware,
  HardwareRole,
  Limit,
  Load,
  PolicyInForce,
  RodMaterial,
  Screws,
  Stock,
  StockItem,
} from './materials.ts';
import { noDemands } from './materials.ts';
import { calledInProject, type Declared, type Names, namesWithin } from './names.ts';
import { child, childrenOf, dotted, pathIn, pathsIn, type Reading, says, textIn } from './reading.ts';
import type { Severity } from './rule.ts';
import * as rules from './rules.ts';
import { NONE, type Ticks } from './ticks.ts';
import { Trace } from './trace.ts';

export interface Made<T> {
  readonly value: T;
  readonly findings: readonly Finding[];
  readonly trace: Trace;
}

export function make<T>(names: Names, build: (context: ReturnType<typeof plainContext>) => T): Made<T> {
  const findings: Finding[] = [];
  const trace = new Trace();
  return { value: build(plainContext(names, trace, (f) => findings.push(f))), findings, trace };
}

/** The value of something that was made on the way; what it rests on, this rests on too. */
export function taken<T>(made: Made<T>, { trace }: Pick<Context, 'trace'>): T {
  trace.copy(made.trace);
  return made.value;
}

const place = (reading: Reading): Place => headPlace(reading.statement);

export function boardOf(declared: Declared, around: Names): Made<Board> {
  const { reading } = declared;
  const names = namesWithin(declared, around);
  const saysThickness = child(reading, 'thickness');
  return make(names, (c) => ({
    kind: 'board',
    name: calledInProject(declared),
    place: place(reading),
    depth: lengthIn(child(reading, 'depth'), 'value', c),
    ...thicknessOf(lengthIn(saysThickness, 'value', c), saysThickness !== undefined),
    ripping: child(reading, 'ripping') !== undefined && says(child(reading, 'ripping') as Reading, 'allowed'),
    ends: endsOf(reading, names, c),
    ...mechanicsOf(reading, names, c),
    weight: quantityIn(child(reading, 'weight'), 'value', 'area-mass', c),
    finish: textOf(reading, 'finish'),
  }));
}

function thicknessOf(thickness: Ticks | undefined, isSaid: boolean): Pick<Board, 'thickness' | 'thicknessUnread'> {
  return thickness === undefined && isSaid ? { thickness, thicknessUnread: true } : { thickness };
}

export function rodOf(declared: Declared, around: Names): Made<RodMaterial> {
  const { reading } = declared;
  const names = namesWithin(declared, around);
  return make(names, (c) => ({
    kind: 'rod',
    name: calledInProject(declared),
    place: place(reading),
    diameter: lengthIn(child(reading, 'diameter'), 'value', c),
    tube: lengthIn(child(reading, 'tube'), 'value', c),
    ends: endsOf(reading, names, c),
    ...mechanicsOf(reading, names, c),
    weight: quantityIn(child(reading, 'weight'), 'value', 'line-mass', c),
    finish: textOf(reading, 'finish'),
  }));
}

type Mechanics = Pick<Board, 'stiffness' | 'shearStiffness' | 'strength' | 'carried'>;

function mechanicsOf(reading: Reading, names: Names, c: ReturnType<typeof plainContext>): Mechanics {
  return {
    stiffness: quantityIn(child(reading, 'stiffness'), 'value', 'stiffness', c),
    shearStiffness: quantityIn(child(reading, 'shear-stiffness'), 'value', 'stiffness', c),
    strength: quantityIn(child(reading, 'strength'), 'value', 'stiffness', c),
    carried: childrenOf(reading, 'carried').flatMap((r) =>
      pathsIn(r, 'hardware').flatMap((path) => {
        const declared = declarationAt(path, ['hardware'], r.statement, c);
        return declared ? [taken(hardwareOf(declared, names), c)] : [];
      }),
    ),
  };
}

const roles: readonly HardwareRole[] = ['support', 'bracket', 'hook', 'cup', 'anchor', 'pin', 'tie', 'cover'];
const stands = ['top', 'middle', 'bottom'] as const;

/** Whether the anchors of some hardware, and theirs, lead to a declaration. */
function isAnchoredBy(from: Declared, to: Statement, c: Context): boolean {
  const seen = new Set<Statement>();
  for (let current: Declared | undefined = from; current && !seen.has(current.statement); ) {
    if (current.statement === to) return true;
    seen.add(current.statement);
    const anchor: Reading | undefined = child(current.reading, 'anchor');
    const path = anchor && pathIn(anchor, 'hardware');
    current = path && namesWithin(current, c.names).find('hardware', dotted(path), c.trace);
  }
  return false;
}

/** `outer`: the hardware whose anchor this is, so that a circle of anchors ends. */
export function hardwareOf(declared: Declared, around: Names, outer: readonly Statement[] = []): Made<Hardware> {
  const { name, reading, statement } = declared;
  const names = namesWithin(declared, around);
  return make(names, (c) => {
    const takes = child(reading, 'takes');
    const is = child(reading, 'is');
    const at = child(reading, 'at');
    const shift = child(reading, 'shift');
    const pack = child(reading, 'pack');
    const packed = countIn(pack, 'count', c, 1, limits.mostStock.most);
    const price = moneyIn(pack, 'price', c);
    const anchor = child(reading, 'anchor');
    const anchored = anchor && declarationAt(pathIn(anchor, 'hardware'), ['hardware'], anchor.statement, c);
    if (anchor && anchored && outer.length === 0 && isAnchoredBy(anchored, statement, c)) {
      c.report(
        finding(rules.nameCircle, place(anchor), `Hardware "${name}" comes back to itself by its anchor.`, {
          advice: 'Name an anchor that needs none.',
        }),
      );
    }
    const role = is && roles.find((one) => says(is, one));
    const inner = anchored && ![...outer, statement].includes(anchored.statement) ? anchored : undefined;
    return {
      kind: 'hardware',
      name: calledInProject(declared),
      place: place(reading),
      takes: lengthIn(takes, 'value', c),
      why: takes && textIn(takes, 'why'),
      role,
      spacing: lengthIn(child(reading, 'spacing'), 'value', c),
      inset: lengthIn(child(reading, 'inset'), 'value', c) ?? NONE,
      // One support or bracket alone would let a shelf tip.
      least:
        countIn(child(reading, 'least'), 'value', c, 1, limits.mostOnPart.most) ??
        (role === 'support' || role === 'bracket' ? 2 : 1),
      inStud: countIn(child(reading, 'in-stud'), 'value', c, 0, limits.mostOnPart.most) ?? 0,
      shift: { most: lengthIn(shift, 'value', c) ?? NONE, step: lengthIn(shift, 'step', c) },
      setBack: lengthIn(child(reading, 'set-back'), 'value', c),
      reach: lengthIn(child(reading, 'reach'), 'value', c),
      leg: lengthIn(child(reading, 'leg'), 'value', c),
      at: at ? stands.filter((stand) => says(at, stand)) : [],
      anchor: inner && taken(hardwareOf(inner, names, [...outer, statement]), c),
      screws: childrenOf(reading, 'screws').flatMap((r): Screws[] => {
        const size = textIn(r, 'size');
        const count = r.slots.count ? countIn(r, 'count', c, 0, limits.mostOnPart.most) : 1;
        return size === undefined || count === undefined
          ? []
          : [{ size, count, into: says(r, 'part') ? 'part' : 'wall', place: place(r) }];
      }),
      pack: packed === undefined ? undefined : { count: packed, price },
      rated: quantityIn(child(reading, 'rated'), 'value', 'mass', c),
    };
  });
}

export function garmentOf(declared: Declared, names: Names): Made<Garment> {
  const { reading } = declared;
  return make(names, (c) => ({
    kind: 'garment',
    name: calledInProject(declared),
    place: place(reading),
    hang: lengthIn(child(reading, 'hang'), 'value', c),
    hanger: lengthIn(child(reading, 'hanger'), 'value', c),
    depth: lengthIn(child(reading, 'depth'), 'value', c),
    takes: lengthIn(child(reading, 'takes'), 'value', c),
    weight: quantityIn(child(reading, 'weight'), 'value', 'mass', c),
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
      const hardware = declared && taken(hardwareOf(declared, names), c);
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

/** Every length of a stock declaration, offcuts included, and what offcuts are worth. */
export function stockOf({ reading, statement }: Declared, names: Names, currency: string | undefined): Made<Stock> {
  return make(names, (c) => {
    const path = pathIn(reading, 'material');
    const material = declarationAt(path, ['board', 'rod'], statement, c);
    quantityIn(child(reading, 'lead'), 'value', 'time', c);
    const items: StockItem[] = [];
    let isRead = reading.findings.every(({ severity }) => severity !== 'error');
    for (const r of [...childrenOf(reading, 'length'), ...childrenOf(reading, 'offcut')]) {
      const length = lengthIn(r, 'value', c);
      const price = moneyIn(r, 'price', c);
      checkCurrency(r, currency, c.report);
      const offcut = r.word === 'offcut';
      const count = countIn(r, 'count', c, 0, limits.mostStock.most);
      if (length === undefined || (r.slots.count && count === undefined)) isRead = false;
      if (length === undefined || !material) continue;
      if (length === 0) {
        c.report(
          finding(rules.outOfBounds, placeOfSlot(r, 'value'), 'A stock length of nothing.', {
            advice: 'Write the length in which it can be had, for example: length 8ft',
            examples: true,
          }),
        );
        continue;
      }
      const known = count ?? (r.slots.count ? 0 : offcut ? 1 : undefined);
      items.push({
        material: calledInProject(material),
        length,
        price: offcut ? 0 : price,
        count: known,
        offcut,
        place: headPlace(r.statement),
        declaration: headPlace(statement),
      });
    }
    const worth = worthIn(child(reading, 'keep-offcuts'), currency, c);
    const called = material ? calledInProject(material) : path ? dotted(path) : '';
    return { material: called, items, worth, ...(!isRead && { unread: true }) };
  });
}

function worthIn(reading: Reading | undefined, currency: string | undefined, c: Context): Stock['worth'] {
  if (!reading) return undefined;
  const price = moneyIn(reading, 'price', c);
  const per = lengthIn(reading, 'per', c);
  checkCurrency(reading, currency, c.report);
  if (price === undefined || per === undefined) return undefined;
  if (per === 0) {
    const advice = 'Write for example: per 1ft';
    c.report(
      finding(rules.outOfBounds, headPlace(reading.statement), 'Offcuts of no length are worth nothing.', {
        advice,
        examples: true,
      }),
    );
    return undefined;
  }
  return { price, per, place: headPlace(reading.statement) };
}

/** A price says the project's currency. */
export function checkCurrency(reading: Reading, currency: string | undefined, report: (f: Finding) => void): void {
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
        advice: `All prices of a project are in one currency: write the price in ${currency}.`,
        fixes: [
          {
            byHand: true,
            title: `Write ${currency}`,
            edits: [{ place: placeOf(reading.statement, unit), text: currency }],
          },
        ],
      },
    ),
  );
}

/** The limits and severities that a list of policies comes to, each laid over what it extends. */
export function policyInForce(
  policies: readonly { readonly name: string }[],
  names: Names,
  known: { readonly rules: ReadonlySet<string>; readonly limits: ReadonlySet<string> },
): Made<PolicyInForce> {
  return make(names, (c) => {
    const limits = new Map<string, Limit>();
    const severities = new Map<string, Severity | 'off'>();
    const sides = new Map<string, Sides>();
    let demands = noDemands;
    for (const { name } of policies) {
      for (const declared of lineage(name, names, c.trace)) {
        layPolicy(declared, limits, sides, severities, known, c);
        demands = layDemands(declared, demands, c);
      }
    }
    for (const [limit, { least, most }] of sides) {
      if (!least || !most || least.value <= most.value) continue;
      // What a library has wrong by itself is told where it is used.
      if (least.home === most.home && least.home !== names) continue;
      const [first, second] = comesBefore(least.place, most.place) ? [least, most] : [most, least];
      const said = (one: Asked<Ticks>): string =>
        `at ${one === least ? 'least' : 'most'} ${showLength(one.value, c.system() === 'inches' ? showInches : showMillimetres)}`;
      c.report(
        finding(
          rules.policiesContradict,
          second.place,
          `Limit ${limit} cannot hold: policy "${second.policy}" says ${said(second)}, and ${second.policy === first.policy ? '' : `policy "${first.policy}" says `}${said(first)}.`,
          {
            advice: 'Change one of them, or take one of the policies out of force.',
            related: [{ place: first.place, message: `Policy "${first.policy}" says ${said(first)} here.` }],
          },
        ),
      );
    }
    return { names: policies.map((p) => p.name), limits, severities, demands };
  });
}

/** A policy with those it extends, the farthest first. */
function lineage(name: string, names: Names, trace: Trace): Declared[] {
  const chain: Declared[] = [];
  let next: string | undefined = name;
  // What a policy of a library extends is named as that library names it.
  let home = names;
  while (next !== undefined) {
    const declared: Declared | undefined = home.find('policy', next, trace);
    // A name that is not known is told where it is written.
    if (!declared) break;
    if (chain.some((d) => d.statement === declared.statement)) break;
    // Told at the policy itself.
    if (chain.length >= limits.longestChain.most) break;
    chain.push(declared);
    const base: ReturnType<typeof pathIn> = pathIn(declared.reading, 'base');
    next = base && dotted(base);
    home = declared.home;
  }
  return chain.reverse();
}

/** The two ends of a limit, each as the last policy that says it has it. */
interface Sides {
  readonly least: Side | undefined;
  readonly most: Side | undefined;
}

interface Side extends Asked<Ticks> {
  /** Where the policy is declared. */
  readonly home: Names;
}

function comesBefore(a: Place, b: Place): boolean {
  return spanOf(a).start < spanOf(b).start;
}

function layPolicy(
  declared: Declared,
  limits: Map<string, Limit>,
  sides: Map<string, Sides>,
  severities: Map<string, Severity | 'off'>,
  known: { readonly rules: ReadonlySet<string>; readonly limits: ReadonlySet<string> },
  c: ReturnType<typeof plainContext>,
): void {
  const { reading, home } = declared;
  const policy = calledInProject(declared);
  for (const limit of childrenOf(reading, 'limit')) {
    const path = pathIn(limit, 'limit');
    if (!path || !known.limits.has(dotted(path))) continue;
    const least = lengthIn(limit, 'least', c) ?? lengthIn(limit, 'from', c);
    const most = lengthIn(limit, 'most', c) ?? lengthIn(limit, 'highest', c) ?? lengthIn(limit, 'to', c);
    const at = headPlace(limit.statement);
    const side = (value: Ticks | undefined) => (value === undefined ? undefined : { value, place: at, policy, home });
    const before = sides.get(dotted(path));
    const now = { least: side(least) ?? before?.least, most: side(most) ?? before?.most };
    sides.set(dotted(path), now);
    limits.set(dotted(path), { least: now.least?.value, most: now.most?.value, place: at, policy });
  }
  for (const treat of childrenOf(reading, 'treat')) {
    const path = pathIn(treat, 'rule');
    if (!path || !known.rules.has(dotted(path))) continue;
    const level = (['error', 'warning', 'note', 'off'] as const).find((l) => says(treat, l));
    if (level) severities.set(dotted(path), level);
  }
}

/** What a policy asks that is more than a length, laid over what was asked before. */
export function layDemands(declared: Declared, before: Demands, c: ReturnType<typeof plainContext>): Demands {
  const { reading } = declared;
  const policy = calledInProject(declared);
  const asked = <T>(
    r: Reading | undefined,
    value: T | undefined,
  ): { value: T; place: Place; policy: string } | undefined =>
    r && value !== undefined ? { value, place: place(r), policy } : undefined;
  const number = (word: string) => {
    const r = child(reading, word);
    return asked(r, quantityIn(r, 'value', 'count', c));
  };
  const reach: { -readonly [K in keyof Demands['reach']]: Demands['reach'][K] } = { ...before.reach };
  for (const r of childrenOf(reading, 'reach')) {
    const high = asked(r, lengthIn(r, 'value', c));
    if (high) reach[says(r, 'side') ? 'side' : 'forward'] = high;
  }
  const deflection: { -readonly [K in keyof Demands['deflection']]: Demands['deflection'][K] } = {
    ...before.deflection,
  };
  for (const r of childrenOf(reading, 'deflection')) {
    const ratio = asked(r, quantityIn(r, 'value', 'count', c));
    if (!ratio) continue;
    const limit = { ...ratio, most: lengthIn(r, 'most', c) };
    if (!says(r, 'rod')) deflection.shelf = limit;
    if (!says(r, 'shelf')) deflection.rod = limit;
  }
  const loads: { -readonly [K in keyof Demands['loads']]: Demands['loads'][K] } = { ...before.loads };
  for (const r of childrenOf(reading, 'load')) {
    const load = (kind: Load['kind'], amount: number | undefined) =>
      amount === undefined ? undefined : { kind, amount, place: place(r) };
    const shelf = load('area', quantityIn(r, 'shelf', 'area-load', c));
    const hanging = load('line', quantityIn(r, 'hanging', 'line-load', c));
    const total = load('point', quantityIn(r, 'total', 'force', c));
    if (shelf) loads.shelf = shelf;
    if (hanging) loads.hanging = hanging;
    if (total) loads.total = total;
  }
  const age = child(reading, 'child');
  const years = asked(age, quantityIn(age, 'age', 'count', c));
  const building = child(reading, 'building');
  const kind = building && (['house', 'flats', 'hotel', 'hospital'] as const).find((k) => says(building, k));
  const built = asked<Building>(building, kind && { kind, sprinklered: says(building, 'sprinklered') });
  const creep = number('creep');
  const anchorFactor = number('anchor-factor');
  return {
    ...before,
    reach,
    deflection,
    loads,
    ...(years && { child: years }),
    ...(built && { building: built }),
    ...(creep && { creep }),
    ...(anchorFactor && { anchorFactor }),
  };
}

/** A policy as it is named by a project or a unit. */
export interface PolicyName {
  readonly name: string;
  readonly path: Path;
  readonly statement: Statement;
}

export function policyNames(reading: Reading): PolicyName[] {
  return childrenOf(reading, 'policy').flatMap((r) =>
    pathsIn(r, 'policies').map((path) => ({ name: dotted(path), path, statement: r.statement })),
  );
}
