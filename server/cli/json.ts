/** What the commands print as JSON: one versioned shape, described by schema.json. Lengths are exact in ticks of 25 nm. */
import type { planProject } from '../checks/analysis.ts';
import type { Origin } from '../cutting/demand.ts';
import type { Part } from '../model/layout.ts';
import { stepText } from '../model/parts.ts';
import type { Unit } from '../model/project.ts';
import { type Show, showLength } from '../model/show.ts';
import { TICKS_PER_MM, type Ticks } from '../model/ticks.ts';
import { cutLines } from '../sheets/cut-list.ts';
import { countsOf, type LocatedFinding, type Spot, spot } from './located.ts';
import type { Chosen } from './targets.ts';

export const schemaVersion = 1;

export function report(command: string, projects: readonly unknown[]): string {
  return `${JSON.stringify({ version: schemaVersion, tool: 'storypole', command, projects }, null, 2)}\n`;
}

interface Paths {
  readonly pathOf: (file: string) => string;
}

export function projectHead({ root, project }: Chosen, { pathOf }: Paths): object {
  const { title, currency, show, kerf, sawStep } = project.settings;
  return {
    root: pathOf(root),
    title,
    currency: currency ?? null,
    show: show.system,
    kerf: length(kerf, show),
    sawStep: length(sawStep, show),
  };
}

function length(ticks: Ticks, show: Show): object {
  return { ticks, mm: ticks / TICKS_PER_MM, text: showLength(ticks, show) };
}

function optional(ticks: Ticks | undefined, show: Show): object | null {
  return ticks === undefined ? null : length(ticks, show);
}

function range({ file, start, end, from, to }: Spot, { pathOf }: Paths): object {
  return {
    file: pathOf(file),
    start: { line: from.line + 1, column: from.column + 1, offset: start },
    end: { line: to.line + 1, column: to.column + 1, offset: end },
  };
}

export function findingJson(located: LocatedFinding, paths: Paths): object {
  const { finding, show } = located;
  const compared = (c: { ticks: Ticks } | { count: number }): object =>
    'ticks' in c ? length(c.ticks, show) : { count: c.count };
  return {
    rule: finding.rule.id,
    family: finding.rule.family,
    severity: finding.severity,
    message: finding.message,
    advice: finding.advice ?? null,
    range: range(located, paths),
    about: finding.about ?? null,
    comparison: finding.comparison
      ? {
          what: finding.comparison.what,
          measured: compared(finding.comparison.measured),
          relation: finding.comparison.relation,
          limit: compared(finding.comparison.limit),
        }
      : null,
    related: finding.related.map((r) => ({ message: r.message, range: range(spot(r.place), paths) })),
    reach: finding.reach,
    fixes: finding.fixes.map((f) => ({
      title: f.title,
      edits: f.edits.map((e) => ({ range: range(spot(e.place), paths), text: e.text })),
    })),
  };
}

export function checkJson(chosen: Chosen, findings: readonly LocatedFinding[], paths: Paths): object {
  return {
    ...projectHead(chosen, paths),
    counts: countsOf(findings),
    findings: findings.map((f) => findingJson(f, paths)),
  };
}

function partJson(part: Part, quantity: number, show: Show): object {
  return {
    path: part.path,
    kind: part.kind,
    material: part.material,
    length: length(part.length, show),
    depth: optional(part.depth, show),
    thickness: optional(part.thickness, show),
    quantity,
    wall: part.wall,
    zone: part.zone,
    height: length(part.at, show),
    steps: part.steps.map((s) => ({ kind: s.kind, amount: length(s.amount, show), text: stepText(s, show).what })),
  };
}

function unitJson(unit: Unit, show: Show): object {
  const layout = unit.resolved?.layout;
  return {
    name: unit.name,
    template: unit.info?.declared.name ?? null,
    mirrored: unit.mirrored,
    count: unit.count,
    floor: unit.floor ?? null,
    flat: unit.flat ?? null,
    phase: unit.phase ?? null,
    surveyed: unit.survey !== undefined,
    walls: (layout?.walls ?? []).map((w) => ({
      name: w.name,
      nominal: length(w.nominal, show),
      length: length(w.length, show),
      leftOver: w.left.map((l) => ({ from: length(l.from, show), width: length(l.width, show) })),
    })),
    zones: (layout?.zones ?? []).map((z) => ({
      path: z.path,
      kind: z.kind,
      wall: z.wall,
      from: length(z.from.value, show),
      width: { ...length(z.width.value, show), least: length(z.width.least, show), most: optional(z.width.most, show) },
      fittings: z.fittings.map((f) => ({
        path: f.path,
        kind: f.kind,
        height: { ...length(f.at.value, show), least: length(f.at.least, show), most: optional(f.at.most, show) },
        tilted: f.kind === 'shelf' && f.tilted,
      })),
    })),
    parts: (layout?.parts ?? []).map((p) => partJson(p, unit.count, show)),
    lines: (layout?.lines ?? []).map((l) => ({
      wall: l.wall,
      height: length(l.height, show),
      from: length(l.from, show),
      length: length(l.length, show),
      mark: length(l.mark, show),
      shelves: l.shelves,
    })),
  };
}

export function cutsJson(chosen: Chosen, units: readonly Unit[], paths: Paths): object {
  const { project } = chosen;
  const { show } = project.settings;
  const extras = extrasOf(chosen);
  return {
    ...projectHead(chosen, paths),
    units: units.map((u) => unitJson(u, show)),
    extras: extras.map((e) => ({ name: e.name, why: e.why ?? null, part: partJson(e.part, e.count, show) })),
    totals: cutLines(units, extras).map((l) => ({
      material: l.material,
      kind: l.kind,
      length: length(l.length, show),
      depth: optional(l.depth, show),
      thickness: optional(l.thickness, show),
      quantity: l.count,
    })),
  };
}

export function extrasOf({ project }: Chosen) {
  return [...project.computed('extra')].flatMap((c) => (c.kind === 'extra' && c.value ? [c.value] : []));
}

export function planJson(
  chosen: Chosen,
  planned: ReturnType<typeof planProject>,
  findings: readonly LocatedFinding[],
  paths: Paths,
): object {
  const { show } = chosen.project.settings;
  const { demand, plan } = planned;
  const origins = (id: string): object[] =>
    (demand.origins.get(id) ?? []).map((o: Origin) => ({ unit: o.unit, path: o.path, quantity: o.quantity }));
  return {
    ...projectHead(chosen, paths),
    pieces: demand.request.pieces.map((p) => ({
      id: p.id,
      material: p.material,
      length: length(p.length, show),
      quantity: p.quantity,
      for: origins(p.id),
    })),
    stock: demand.request.stock.map((s) => ({
      id: s.id,
      material: s.material,
      length: length(s.length, show),
      price: s.price ?? null,
      count: s.count ?? null,
      offcut: s.offcut,
    })),
    /** Every plan that is shown has passed the verifier. */
    verified: plan !== undefined,
    patterns: (plan?.patterns ?? []).map((p) => ({
      stock: p.stock,
      material: p.material,
      times: p.times,
      cuts: p.cuts.map((c) => ({ piece: c.piece, length: length(c.length, show), quantity: c.quantity })),
      used: length(p.used, show),
      kerfLoss: length(p.kerfLoss, show),
      offcut: length(p.offcut, show),
      keep: p.keep,
    })),
    uncut: (plan?.uncut ?? []).map((u) => ({
      piece: u.piece,
      material: u.material,
      length: length(u.length, show),
      quantity: u.quantity,
      reason: u.reason,
    })),
    totals: (plan?.totals ?? []).map((t) => ({
      material: t.material,
      boards: t.boards.map((b) => ({ stock: b.stock, length: length(b.length, show), count: b.count })),
      boardCount: t.boardCount,
      pieceCount: t.pieceCount,
      price: t.price ?? null,
      boughtLength: length(t.boughtLength, show),
      usedLength: length(t.usedLength, show),
      kerfLoss: length(t.kerfLoss, show),
      keptCount: t.keptCount,
      keptLength: length(t.keptLength, show),
      waste: length(t.waste, show),
      bound: { proof: t.bound.proof, measure: t.bound.measure, cost: t.bound.cost, boards: t.bound.boards },
    })),
    findings: findings.map((f) => findingJson(f, paths)),
  };
}
