/** The cut list: what is to be cut, of which material and how long. The same words in the editor and in the terminal. */
import type { Extra, Spare } from '../model/extras.ts';
import type { Part, Step } from '../model/layout.ts';
import { calledInProject } from '../model/names.ts';
import { stepText } from '../model/parts.ts';
import { printable } from '../model/printable.ts';
import type { Unit } from '../model/project.ts';
import { type Show, showLength, showRange } from '../model/show.ts';
import type { Ticks } from '../model/ticks.ts';
import { unitsAlike } from './alike.ts';
import { type Column, tableLines } from './text-table.ts';

/** Equal pieces: one material, one length, one depth. */
export interface CutLine {
  readonly material: string;
  readonly kind: Part['kind'];
  /** Finished length, and what it is as a board: undefined for rods. */
  readonly length: Ticks;
  readonly depth: Ticks | undefined;
  readonly thickness: Ticks | undefined;
  /** Counts of units multiplied out. */
  readonly count: number;
  /** Where they go; `unit` is the name of the extra for loose parts. */
  readonly uses: readonly CutUse[];
}

export interface CutUse {
  readonly unit: string;
  readonly path: string;
  readonly count: number;
  /** How the length came about; the amounts add up to it. */
  readonly steps: readonly Step[];
}

export interface CutListOptions {
  /** A section for each unit, one for all units that are cut alike, or equal pieces of all units on one line. */
  readonly group: 'unit' | 'alike' | 'together';
  /** Loose parts, listed after the units. */
  readonly extras?: readonly Extra[];
  /** Those that are only cut from what is left over, listed at the end. */
  readonly spares?: readonly Spare[];
  /** Under each line, how the length came about. */
  readonly steps?: boolean;
  /** Characters that a line should not be longer than; as long as it comes out without. */
  readonly width?: number;
  /** There are errors in what it is made from: where nothing is listed, more may be to be cut. */
  readonly hasErrors?: boolean;
}

/** Pieces of some units and loose parts, equal ones on one line; by material, longest first. */
export function cutLines(units: Iterable<Unit>, extras: Iterable<Extra> = []): CutLine[] {
  const lines = new Map<string, CutLine & { count: number; uses: CutUse[] }>();
  const add = (part: Part, unit: string, count: number): void => {
    if (count === 0) return;
    const key = `${part.material} ${part.length} ${part.depth ?? ''} ${part.kind === 'rod'}`;
    const use = { unit, path: part.path, count, steps: part.steps };
    const known = lines.get(key);
    if (known) {
      known.count += count;
      known.uses.push(use);
    } else {
      const { material, kind, length, depth, thickness } = part;
      lines.set(key, { material, kind, length, depth, thickness, count, uses: [use] });
    }
  };
  for (const unit of units) for (const part of unit.resolved?.layout.parts ?? []) add(part, unit.name, unit.count);
  for (const extra of extras) add(extra.part, extra.name, extra.count);
  return [...lines.values()].sort(
    (a, b) =>
      Number(a.kind === 'rod') - Number(b.kind === 'rod') ||
      (a.material < b.material ? -1 : a.material > b.material ? 1 : 0) ||
      b.length - a.length ||
      (b.depth ?? 0) - (a.depth ?? 0),
  );
}

/** The cut list as text, with a line end at its end. */
export function cutListText(
  units: readonly Unit[],
  settings: { readonly show: Show },
  options: CutListOptions = { group: 'unit' },
): string {
  const { show } = settings;
  const extras = options.extras ?? [];
  const sections: string[][] = [];
  if (options.group === 'together') {
    const lines = cutLines(units, extras);
    sections.push(lines.length > 0 ? listed(lines, show, options, true) : [nothing(options)]);
  } else {
    const groups = options.group === 'alike' ? unitsAlike(units, options.steps) : units.map((unit) => [unit]);
    for (const group of groups)
      sections.push([...groupHeading(group, options.width), '', ...groupBody(group, show, options)]);
    if (extras.length > 0) sections.push(['Loose parts', '', ...listed(cutLines([], extras), show, options, true)]);
    if (sections.length === 0 && !options.spares?.length) sections.push([nothing(options)]);
  }
  const spares = options.spares ?? [];
  if (spares.length > 0)
    sections.push(['From what is left over, as many as find room', '', ...sparesListed(spares, show, options)]);
  const text = sections.map((s) => s.join('\n')).join('\n\n');
  const rounded = text.includes('~') ? '\n\n~ stands before a length that is finer than what is shown.' : '';
  return printable(`${text}${rounded}\n`);
}

/** `Unit A-101-bedroom (reach-in, mirrored): floor 1, flat A-101, phase 1`. */
export function unitHeading(unit: Unit): string {
  const template = unit.info && calledInProject(unit.info.declared);
  const kind = [template, unit.mirrored ? 'mirrored' : undefined].filter((t) => t !== undefined).join(', ');
  const where = (['floor', 'flat', 'phase'] as const).flatMap((w) =>
    unit[w] === undefined ? [] : [`${w} ${unit[w]}`],
  );
  const many = unit.count === 1 ? [] : [`${unit.count} alike, all counted below`];
  const rest = [...where, ...many].join(', ');
  return `Unit ${unit.name}${kind ? ` (${kind})` : ''}${rest ? `: ${rest}` : ''}`;
}

/** The names of more units than this are not all written out. */
const mostAlike = 24;

/** `A-101-bedroom and 11 like it (reach-in, 6 of them mirrored)`, and below it which they are. */
function groupHeading(units: readonly Unit[], width = comfortable): string[] {
  const [first] = units;
  if (!first || units.length === 1) return first ? [unitHeading(first)] : [];
  const mirrored = units.filter((unit) => unit.mirrored).length;
  const turned = mirrored === units.length ? 'mirrored' : mirrored > 0 ? `${mirrored} of them mirrored` : undefined;
  const kind = [first.info && calledInProject(first.info.declared), turned].filter((t) => t !== undefined).join(', ');
  const names = units.map(({ name, count }) => (count === 1 ? name : `${name} (${count} alike)`));
  const more = names.length > mostAlike ? [`and ${names.length - mostAlike} more`] : [];
  return [
    `Unit ${first.name} and ${units.length - 1} like it${kind ? ` (${kind})` : ''}`,
    ...wrapped([...names.slice(0, mostAlike), ...more], width),
  ];
}

const comfortable = 110;

function wrapped(names: readonly string[], width: number): string[] {
  const lines: string[] = [];
  let line = '';
  names.forEach((name, i) => {
    const text = i < names.length - 1 ? `${name},` : name;
    if (line !== '' && line.length + 1 + text.length > width) {
      lines.push(line);
      line = '';
    }
    line = line === '' ? `  ${text}` : `${line} ${text}`;
  });
  return line === '' ? lines : [...lines, line];
}

function nothing({ hasErrors }: CutListOptions): string {
  return hasErrors ? 'What is to be cut cannot be told until the errors are mended.' : 'Nothing is to be cut.';
}

function groupBody(units: readonly Unit[], show: Show, options: CutListOptions): string[] {
  if (!units[0]?.resolved) return ['It cannot be worked out: its template is not known.'];
  const lines = cutLines(units);
  if (lines.length === 0) return [nothing(options)];
  return listed(lines, show, options, false, units);
}

const columns: readonly Column[] = [
  { title: 'each', align: 'right' },
  { title: 'count', align: 'right' },
  { title: 'length', align: 'right' },
  { title: 'depth', align: 'right' },
  { title: 'thickness', align: 'right' },
  { title: 'material', align: 'left' },
  { title: 'for', align: 'left' },
];

/** At most so many units, and places that differ, are named on a line of many units. */
const mostUnits = 3;
const mostPlaces = 3;

/** `alike` are the units of a section: what each of them takes is told beside the count over all of them. */
function listed(
  lines: readonly CutLine[],
  show: Show,
  options: CutListOptions,
  naming: boolean,
  alike: readonly Unit[] = [],
): string[] {
  const total = alike.reduce((sum, unit) => sum + unit.count, 0);
  const rows = lines.map((line) => [
    alike.length > 1 ? String(line.count / total) : '',
    String(line.count),
    showLength(line.length, show),
    line.depth === undefined ? '' : showLength(line.depth, show),
    line.thickness === undefined ? '' : showLength(line.thickness, show),
    line.material,
    naming
      ? placesText(line.uses)
      : pathsText(line.uses.filter((u) => u.unit === line.uses[0]?.unit).map((u) => u.path)),
  ]);
  const [titles = '', ...texts] = tableLines(columns, rows, options.width);
  if (!options.steps) return [titles, ...texts];
  return [titles, ...texts.flatMap((text, i) => [text, ...derivation((lines[i] as CutLine).uses, show)])];
}

const spareColumns: readonly Column[] = [
  { title: 'up to', align: 'right' },
  { title: 'length', align: 'right' },
  { title: 'depth', align: 'right' },
  { title: 'thickness', align: 'right' },
  { title: 'material', align: 'left' },
  { title: 'for', align: 'left' },
];

function sparesListed(spares: readonly Spare[], show: Show, options: CutListOptions): string[] {
  const rows = spares.map(({ count, least, most, depth, thickness, material, name }) => [
    String(count),
    showRange(least, most, show),
    depth === undefined ? '' : showLength(depth, show),
    thickness === undefined ? '' : showLength(thickness, show),
    material,
    name,
  ]);
  return tableLines(spareColumns, rows, options.width);
}

/** One derivation for a line: pieces of one length can come about in several ways, and the first one is told. */
function derivation(uses: readonly CutUse[], show: Show): string[] {
  const [first] = uses;
  if (!first) return [];
  const rows = first.steps.map((step) => {
    const { what, amount } = stepText(step, show);
    return [amount, what];
  });
  const amounts: readonly Column[] = [
    { title: '', align: 'right' },
    { title: '', align: 'left' },
  ];
  const [, ...texts] = tableLines(amounts, rows);
  return texts.map((line) => `         ${line}`);
}

/** `coats.top in A-101-bedroom, A-102-bedroom`: units whose pieces go to the same places are named together. */
export function placesText(uses: readonly CutUse[]): string {
  const byUnit = new Map<string, string[]>();
  for (const { unit, path } of uses) {
    const paths = byUnit.get(unit);
    if (paths) paths.push(path);
    else byUnit.set(unit, [path]);
  }
  const byPlaces = new Map<string, string[]>();
  for (const [unit, paths] of byUnit) {
    const places = paths.length === 1 && paths[0] === unit ? '' : pathsText(paths);
    const units = byPlaces.get(places);
    if (units) units.push(unit);
    else byPlaces.set(places, [unit]);
  }
  const texts = [...byPlaces].map(([places, units]) => {
    const named = units.slice(0, mostUnits).join(', ');
    const more = units.length > mostUnits ? ` and ${units.length - mostUnits} more` : '';
    return places === '' ? named + more : `${places} in ${named}${more}`;
  });
  const others = texts.length > mostPlaces ? `; and in ${texts.length - mostPlaces} other ways` : '';
  return texts.slice(0, mostPlaces).join('; ') + others;
}

/** `tower.loose.1 to 5, tower.top`: runs of a row of shelves are drawn together. */
export function pathsText(paths: readonly string[]): string {
  const texts: string[] = [];
  for (let i = 0; i < paths.length; ) {
    const [row, number] = numbered(paths[i] as string);
    let last = i;
    if (row !== undefined)
      while (last + 1 < paths.length && paths[last + 1] === `${row}.${number + (last + 1 - i)}`) last++;
    const between = last > i + 1 ? 'to' : 'and';
    texts.push(last > i ? `${paths[i]} ${between} ${number + (last - i)}` : (paths[i] as string));
    i = last + 1;
  }
  return texts.join(', ');
}

function numbered(path: string): [string | undefined, number] {
  const match = /^(.*)\.(\d+)$/.exec(path);
  return match ? [match[1], Number(match[2])] : [undefined, 0];
}
