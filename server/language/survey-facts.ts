/** What was measured in place of a length that is drawn: by which surveys, and how far it is from the drawing. */
import { expressionsWithin, type Item, type Statement, statementsWithin, topOf } from '../../grammar/tree.ts';
import type { WallLayout } from '../model/layout.ts';
import type { Unit } from '../model/project.ts';
import { showRange } from '../model/show.ts';
import { ticks } from '../model/ticks.ts';
import type { Snapshot } from './snapshot.ts';

/** At most so many units are named. */
const mostNamed = 3;

/** A paragraph about the length of a wall in a template, a parameter that walls are as long as, or what a unit gives for one. */
export function surveyFacts({ project }: Snapshot, statement: Statement): string[] {
  const top = topOf(statement);
  const asked = askedAbout(statement, top);
  if (!asked) return [];
  const one = top.word.text === 'unit' ? project.unitAt(top) : undefined;
  const units = one
    ? [one]
    : [...project.units()].filter((u) => u.info?.blueprint.heads.some((h) => h.statement === top));
  const surveyed = units.flatMap((unit) => {
    const walls = (unit.resolved?.layout.walls ?? []).filter((w) => w.readings.length > 0 && asked(w, unit));
    return walls.length > 0 ? [{ unit, walls }] : [];
  });
  if (surveyed.length === 0) return [];
  const lengths = surveyed.flatMap(({ walls }) => walls.flatMap((w) => w.readings.map((r) => r.length)));
  const measured = showRange(ticks(Math.min(...lengths)), ticks(Math.max(...lengths)), project.settings.show);
  const readings = lengths.length === 1 ? '1 reading' : `${lengths.length} readings`;
  const names = surveyed.map(({ unit }) => unit.name);
  const listed = `${names.slice(0, mostNamed).join(', ')}${names.length > mostNamed ? ', ...' : ''}`;
  if (one) return [`Its survey replaces it: ${measured} measured, in ${readings}.`];
  const where = `${names.length === 1 ? '1 unit' : `${names.length} units`} (${listed})`;
  return [`Surveys replace it in ${where}: ${measured} measured, in ${readings}.`];
}

type Asked = (wall: WallLayout, unit: Unit) => boolean;

/** Which walls get their length from a statement. Undefined where none does. */
function askedAbout(statement: Statement, top: Statement): Asked | undefined {
  const { parent } = statement;
  const wall =
    (name: string): Asked =>
    (w) =>
      w.name === name;
  if (top.word.text === 'template') {
    if (statement.word.text === 'length' && parent.kind === 'statement' && parent.word.text === 'wall') {
      const name = firstName(parent);
      return name === undefined ? undefined : wall(name);
    }
    const parameter = statement.word.text === 'parameter' ? firstName(statement) : undefined;
    return parameter === undefined ? undefined : (w, unit) => restsOn(w, unit, parameter);
  }
  if (top.word.text !== 'unit' || parent !== top) return undefined;
  return (w, unit) => restsOn(w, unit, statement.word.text);
}

/** The length of a wall, as its template has it, is computed from a parameter. */
function restsOn({ name }: WallLayout, { info }: Unit, parameter: string): boolean {
  for (const { statement } of info?.blueprint.heads ?? []) {
    for (const s of statementsWithin(statement)) {
      if (s.word.text !== 'length' || s.parent.kind !== 'statement' || s.parent.word.text !== 'wall') continue;
      if (firstName(s.parent) === name && s.items.some((item) => names(item, parameter))) return true;
    }
  }
  return false;
}

function names(item: Item, parameter: string): boolean {
  for (const part of expressionsWithin(item))
    if (part.kind === 'path' && part.words.length === 1 && part.words[0]?.text === parameter) return true;
  return false;
}

function firstName({ items }: Statement): string | undefined {
  const [first] = items;
  return first?.kind === 'path' ? first.words[0]?.text : undefined;
}
