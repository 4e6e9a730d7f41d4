/** Fixes that take a look at all names of a project, made when somebody asks for them. */
import { placeOf, type Statement, segmentOf, sliceOf, statementsWithin } from '../../grammar/tree.ts';
import { addedFix, written } from '../model/edits.ts';
import { examplesIn } from '../model/examples.ts';
import type { Finding, Fix } from '../model/finding.ts';
import { calledInProject, type Declared, type DeclaredKind, type Names, withLibraries } from '../model/names.ts';
import { nameMeant } from '../model/other-spellings.ts';
import type { Project } from '../model/project.ts';
import * as rules from '../model/rules.ts';
import { anchorFixes, carryingFixes, tyingFixes } from './carried-fixes.ts';
import {
  anchorNotNamed,
  bracketPastShelf,
  hookWithoutBracket,
  partNotCarried,
  pinWithoutPanel,
  shelfPastBracket,
  towerNotTied,
} from './fixings/rules.ts';
import { cupsOrBrackets, otherBrackets, strongerHardware, supportsForPins } from './other-hardware.ts';
import { stockMissing } from './stock.ts';
import { hardwarePastRating } from './structure/rules.ts';
import { measuredOne, narrowerHere } from './survey-fixes.ts';

/** Of so many materials none is the obvious one, and a list of them is no help. */
const mostMaterials = 4;

export function fixesOfProject(project: Project, found: Finding): Fix[] {
  const {
    rule,
    place: { statement },
  } = found;
  if (rule === rules.materialMissing) return materials(project, statement);
  if (rule === stockMissing) return stock(project, statement);
  if (rule === partNotCarried) return carryingFixes(project, statement);
  if (rule === towerNotTied) return tyingFixes(project, statement);
  if (rule === rules.wrongQuantity) return price(project, found);
  if (rule === anchorNotNamed) return anchorFixes(project, found);
  if (rule === bracketPastShelf || rule === shelfPastBracket) return otherBrackets(project, found);
  if (rule === hookWithoutBracket) return cupsOrBrackets(project, found);
  if (rule === pinWithoutPanel) return supportsForPins(project, found);
  if (rule === hardwarePastRating) return strongerHardware(project, found);
  if (rule === rules.surveyOfMany) return measuredOne(project, found);
  if (rule === rules.surveyNarrower) return narrowerHere(project, found);
  if (rule === rules.characterNotExpected) return nameEverywhere(project, found);
  return [];
}

/** A bare number that is a price, in the currency of the project. Whether it is one is seen when it is tried. */
function price({ settings: { currency } }: Project, { place }: Finding): Fix[] {
  const number = sliceOf(place.statement, place);
  if (currency === undefined || !/^\d+(\.\d+)?$/.test(number)) return [];
  return [written(place, `${number} ${currency}`)];
}

/** Of so many places none is looked at in a list. */
const mostPlaces = 50;

/** A name with a letter of two characters, wherever it stands: in one place alone it would be another name. */
function nameEverywhere({ sources }: Project, { place }: Finding): Fix[] {
  const name = nameMeant(place.statement.text, place);
  if (!name) return [];
  const written = sliceOf(place.statement, name);
  const edits = [...sources.values()]
    .filter(({ text }) => text.includes(written))
    .flatMap((source) => [...source.statements()].flatMap((top) => [...statementsWithin(top)]))
    .flatMap((statement) => {
      const own = statement.problems.flatMap((p) => nameMeant(statement.text, p) ?? []);
      const same = new Map(own.filter((one) => sliceOf(statement, one) === written).map((one) => [one.start, one]));
      return [...same.values()].map((one) => ({ place: placeOf(statement, one), text: one.text }));
    });
  if (edits.length < 2 || edits.length > mostPlaces) return [];
  return [{ title: `Write ${name.text} in all ${edits.length} places`, edits }];
}

function materials({ names }: Project, statement: Statement): Fix[] {
  const isRod = statement.word.text === 'rod';
  const kind: DeclaredKind = isRod ? 'rod' : 'board';
  const own = [...new Set(names.written(kind).map(({ name }) => name))];
  const known = (own.length > 0 ? own : ofLibraries(names, kind)).sort();
  if (known.length > mostMaterials) return [];
  return known.flatMap((name) => addedFix(statement, `${isRod ? 'pole' : kind} ${name}`));
}

function ofLibraries(names: Names, kind: DeclaredKind): string[] {
  const libraries = [...withLibraries(names)].filter((one) => one !== names);
  return [...new Set(libraries.flatMap((library) => library.written(kind).map(calledInProject)))];
}

/** A length to be replaced by what can be had. Of a library's material the project says what is bought. */
function stock({ names, sources, settings: { show } }: Project, material: Statement): Fix[] {
  const name = materialAt(names, material);
  if (name === undefined) return [];
  const isOwn = sources.has(segmentOf(material).source.id);
  const statement = isOwn ? material : (names.written('stock').at(-1) ?? useOf(names, name))?.statement;
  if (!statement) return [];
  const text = `stock ${name} { length ${examplesIn('8ft', show.system)} }`;
  const end = statement.text.length;
  const edits = [{ place: { statement, start: end, end }, text: `\n${text}` }];
  return [{ title: `Declare it: ${text}`, edits, byHand: true }];
}

function materialAt(names: Names, statement: Statement): string | undefined {
  for (const one of withLibraries(names))
    for (const kind of ['board', 'rod'] as const)
      for (const declared of one.all(kind)) if (declared.statement === statement) return calledInProject(declared);
  return undefined;
}

function useOf(names: Names, name: string): Declared | undefined {
  return names.find('use', name.split('.', 1)[0] ?? '');
}
