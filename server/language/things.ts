/** Things of a template by their names, in the template itself and in those that it extends. */
import type { Statement } from '../../grammar/tree.ts';
import { groupOf, type NameGroup, thingName } from '../model/blueprint.ts';
import { memo } from '../model/memo.ts';
import type { Declared, Names } from '../model/names.ts';
import { dotted, nameIn, pathIn, type Reading, readingAt } from '../model/reading.ts';

/** A thing as its template and those it is built on say it. */
export interface Thing {
  readonly group: NameGroup;
  readonly name: string;
  /** What is said of it, the nearest first. */
  readonly heads: readonly [Reading, ...Reading[]];
  /** Where it is said first: one thing, whatever extends it. */
  readonly root: Reading;
}

interface Contents {
  /** The first of each name, which counts, by group and name. */
  readonly first: ReadonlyMap<string, Reading>;
  readonly names: ReadonlyMap<Reading, string>;
}

const contents = new WeakMap<Reading, Contents>();

/** The things in the block of a template or a zone. They depend on its text alone. */
export function contentsOf(reading: Reading): Contents {
  return memo(contents, reading, () => {
    const first = new Map<string, Reading>();
    const names = new Map<Reading, string>();
    const unnamed = new Map<string, number>();
    for (const child of reading.children) {
      const group = groupOf(child.word);
      const name = group && thingName(child, unnamed);
      if (name === undefined) continue;
      names.set(child, name);
      const key = `${group} ${name}`;
      if (!first.has(key)) first.set(key, child);
    }
    return { first, names };
  });
}

/** The thing under a path of zones and its own name. `lineage` begins with the nearest template. */
export function thingAt(
  lineage: readonly Declared[],
  path: readonly string[],
  group: NameGroup,
  words?: ReadonlySet<string>,
): Thing | undefined {
  const heads = lineage.flatMap(({ reading }) => within(reading, path, group) ?? []);
  const [nearest, ...others] = heads;
  if (!nearest || (words && !words.has(nearest.word))) return undefined;
  return { group, name: path.at(-1) ?? '', heads: [nearest, ...others], root: heads.at(-1) ?? nearest };
}

function within(template: Reading, path: readonly string[], group: NameGroup): Reading | undefined {
  let current: Reading | undefined = template;
  for (const [i, name] of path.entries()) {
    const wanted: NameGroup = i < path.length - 1 ? 'zone' : group;
    current = current && contentsOf(current).first.get(`${wanted} ${name}`);
  }
  return current;
}

/** A thing by its own name, as the nearest template says it. */
export interface Content {
  readonly group: NameGroup;
  readonly name: string;
  readonly reading: Reading;
}

/** What stands in a template, or in the zone under a path in it. `lineage` begins with the nearest template. */
export function thingsWithin(lineage: readonly Declared[], zone: readonly string[]): Content[] {
  const found = new Map<string, Content>();
  for (const { reading } of lineage) {
    const around = within(reading, zone, 'zone');
    if (!around) continue;
    const { first, names } = contentsOf(around);
    for (const [key, child] of first) {
      const group = groupOf(child.word);
      if (group && !found.has(key)) found.set(key, { group, name: names.get(child) ?? '', reading: child });
    }
  }
  return [...found.values()];
}

/** The templates whose things a statement can name, the nearest first. `top` is the top-level statement around it. */
export function lineageFrom(names: Names, top: Statement | undefined): readonly Declared[] {
  if (!top) return [];
  const reading = readingAt(top, 'file');
  let base = reading && pathIn(reading, 'base');
  const chain: Declared[] = [];
  if (reading?.word === 'template') {
    const name = nameIn(reading)?.text;
    const own = name === undefined ? undefined : names.declarations('template', name);
    const declared = own?.find((d) => d.statement === top);
    if (declared) chain.push(declared);
  } else if (reading?.word === 'unit') base = pathIn(reading, 'template');
  else if (reading?.word === 'survey') {
    const unit = surveyedUnit(names, reading);
    base = unit && pathIn(unit.reading, 'template');
  } else base = undefined;
  while (base) {
    const next: Declared | undefined = (chain.at(-1)?.home ?? names).find('template', dotted(base));
    if (!next || chain.includes(next)) break;
    chain.push(next);
    base = pathIn(next.reading, 'base');
  }
  return chain;
}

export function surveyedUnit(names: Names, survey: Reading): Declared | undefined {
  const path = pathIn(survey, 'unit');
  return path && names.find('unit', dotted(path));
}
