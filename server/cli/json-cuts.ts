/** The parts of a project as JSON: each unit with its walls, zones, parts and level lines, and the totals. */
import type { Layout, Part, Range } from '../model/layout.ts';
import { calledInProject } from '../model/names.ts';
import { stepText } from '../model/parts.ts';
import type { Unit } from '../model/project.ts';
import type { Show } from '../model/show.ts';
import { cutLines } from '../sheets/cut-list.ts';
import { lengthJson, lengthOrNull, type PathOf, projectHead, rangeJson } from './json.ts';
import { each } from './json-text.ts';
import { type LocatedFinding, spot } from './located.ts';
import { type Chosen, extrasOf, sparesOf } from './targets.ts';

/** `units` are those asked for; loose parts come with them where all are. */
export function cutsJson(
  chosen: Chosen,
  units: readonly Unit[],
  withExtras: boolean,
  findings: readonly LocatedFinding[],
  pathOf: PathOf,
): object {
  const { show } = chosen.project.settings;
  const extras = withExtras ? extrasOf(chosen) : [];
  return {
    ...projectHead(chosen, findings, pathOf),
    units: each(units, (unit) => unitJson(unit, show, pathOf)),
    extras: each(extras, ({ name, why, floor, flat, phase, part, count }) => ({
      name,
      floor: floor ?? null,
      flat: flat ?? null,
      phase: phase ?? null,
      why: why ?? null,
      material: part.material,
      length: lengthJson(part.length, show),
      depth: lengthOrNull(part.depth, show),
      thickness: lengthOrNull(part.thickness, show),
      quantity: count,
      matched: part.matched?.set ?? null,
    })),
    spares: each(withExtras ? sparesOf(chosen) : [], (spare) => ({
      name: spare.name,
      floor: spare.floor ?? null,
      flat: spare.flat ?? null,
      phase: spare.phase ?? null,
      why: spare.why ?? null,
      material: spare.material,
      of: spare.of,
      least: lengthJson(spare.least, show),
      most: lengthJson(spare.most, show),
      depth: lengthOrNull(spare.depth, show),
      thickness: lengthOrNull(spare.thickness, show),
      upTo: spare.count,
    })),
    totals: each(cutLines(units, extras), (line) => ({
      material: line.material,
      of: line.kind === 'rod' ? 'rod' : 'board',
      length: lengthJson(line.length, show),
      depth: lengthOrNull(line.depth, show),
      thickness: lengthOrNull(line.thickness, show),
      quantity: line.count,
    })),
  };
}

function unitJson(unit: Unit, show: Show, pathOf: PathOf): object {
  return {
    name: unit.name,
    range: rangeJson(spot({ statement: unit.declared.statement, ...unit.declared.statement.head }), pathOf),
    template: unit.info ? calledInProject(unit.info.declared) : null,
    mirrored: unit.mirrored,
    count: unit.count,
    floor: unit.floor ?? null,
    flat: unit.flat ?? null,
    phase: unit.phase ?? null,
    surveyed: unit.survey !== undefined,
    resolved: unit.resolved !== undefined,
    ...layoutJson(unit.resolved?.layout ?? nothing, unit.count, show),
  };
}

/** What a unit comes to whose template is not known. */
const nothing: Layout = {
  walls: [],
  openings: [],
  fixtures: [],
  slopes: [],
  corners: [],
  plan: [],
  zones: [],
  parts: [],
  lines: [],
  findings: [],
};

function layoutJson({ walls, zones, parts, lines }: Layout, count: number, show: Show): object {
  const range = ({ value, least, most }: Range): object => ({
    ...lengthJson(value, show),
    least: lengthJson(least, show),
    most: lengthOrNull(most, show),
  });
  return {
    walls: walls.map(({ name, nominal, length, left }) => ({
      name,
      nominal: lengthJson(nominal, show),
      length: lengthJson(length, show),
      leftOver: left.map(({ from, width }) => ({ from: lengthJson(from, show), width: lengthJson(width, show) })),
    })),
    zones: zones.map(({ path, kind, wall, from, width, fittings }) => ({
      path,
      kind,
      wall,
      from: range(from),
      width: range(width),
      fittings: fittings.map((fitting) => ({
        path: fitting.path,
        kind: fitting.kind,
        height: range(fitting.at),
        tilted: fitting.kind === 'shelf' && fitting.tilted,
      })),
    })),
    parts: parts.map((part) => partJson(part, count, show)),
    lines: lines.map(({ wall, height, from, length, mark, shelves }) => ({
      wall,
      height: lengthJson(height, show),
      from: lengthJson(from, show),
      length: lengthJson(length, show),
      mark: lengthJson(mark, show),
      shelves,
    })),
  };
}

function partJson(part: Part, quantity: number, show: Show): object {
  return {
    path: part.path,
    kind: part.kind,
    material: part.material,
    length: lengthJson(part.length, show),
    depth: lengthOrNull(part.depth, show),
    thickness: lengthOrNull(part.thickness, show),
    quantity,
    wall: part.wall,
    zone: part.zone,
    matched: part.matched?.set ?? null,
    height: lengthJson(part.at, show),
    steps: part.steps.map((step) => ({
      kind: step.kind,
      text: stepText(step, show).what,
      amount: lengthJson(step.amount, show),
    })),
  };
}
