/** Fixes that take a look at all names of a project, made when somebody asks for them. */
import { offsetOf, type Statement, segmentOf, sliceOf } from '../../grammar/tree.ts';
import { addedFix, written } from '../model/edits.ts';
import { examplesIn } from '../model/examples.ts';
import type { Finding, Fix } from '../model/finding.ts';
import type { DeclaredKind } from '../model/names.ts';
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
  return [];
}

/** A bare number that is a price, in the currency of the project. Whether it is one is seen when it is tried. */
function price({ settings: { currency } }: Project, { place }: Finding): Fix[] {
  const number = sliceOf(place.statement, place);
  if (currency === undefined || !/^\d+(\.\d+)?$/.test(number)) return [];
  return [written(place, `${number} ${currency}`)];
}

function materials({ names }: Project, statement: Statement): Fix[] {
  const isRod = statement.word.text === 'rod';
  const kind: DeclaredKind = isRod ? 'rod' : 'board';
  const own = [...names.all(kind)].map(({ name }) => name);
  const known = [...new Set(own)].sort();
  if (known.length > mostMaterials) return [];
  return known.flatMap((name) => addedFix(statement, `${isRod ? 'pole' : kind} ${name}`));
}

/** A length to be replaced by what can be had. */
function stock({ settings: { show } }: Project, statement: Statement): Fix[] {
  const [name] = statement.items;
  if (name?.kind !== 'path' || !segmentOf(statement).source.id.includes('/') || offsetOf(statement) < 0) return [];
  const text = `stock ${name.words.map((w) => w.text).join('.')} { length ${examplesIn('8ft', show.system)} }`;
  const end = statement.text.length;
  const edits = [{ place: { statement, start: end, end }, text: `\n${text}` }];
  return [{ title: `Declare it: ${text}`, edits, byHand: true }];
}
