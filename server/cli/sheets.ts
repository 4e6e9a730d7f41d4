/** What `packet`, `boards` and `labels` have in common: the units asked for, the cutting plan, and how sheets look. */
import { statSync } from 'node:fs';
import { dirname } from 'node:path';
import { advisedPlan } from '../checks/analysis.ts';
import { optimal } from '../cutting/optimal.ts';
import { libraryFiles } from '../language/links.ts';
import type { Finding } from '../model/finding.ts';
import type { Unit } from '../model/project.ts';
import type { LengthStyle } from '../sheets/drawing/drawable.ts';
import { shownAs } from '../sheets/drawing/drawings.ts';
import type { Job } from '../sheets/packet/job.ts';
import type { PaperName } from '../sheets/pdf/page.ts';
import { boardsOf } from '../sheets/shop/boards.ts';
import { findingsByUnit } from '../sheets/unit-findings.ts';
import { dateOf, revisionOf } from './issue.ts';
import { findingsOf, type LocatedFinding } from './located.ts';
import { notThere } from './not-there.ts';
import type { Judging } from './session.ts';
import { Stop } from './stop.ts';
import { type Chosen, choose, extrasOf, sparesOf, unitsOf } from './targets.ts';
import { tool } from './tool.ts';
import { printable, someOf } from './words.ts';

export interface SheetOptions extends Pick<Judging, 'failOn'> {
  readonly unit?: string | undefined;
  readonly floor?: string | undefined;
  readonly paper: PaperName;
  readonly units?: LengthStyle | undefined;
  readonly out: string;
  readonly date?: string | undefined;
  readonly replace?: boolean | undefined;
}

export interface Asked {
  readonly chosen: Chosen;
  /** All of the project. */
  readonly all: readonly Unit[];
  /** Those that sheets are made of. */
  readonly units: readonly Unit[];
  readonly findings: readonly LocatedFinding[];
  readonly job: Job;
  readonly ofPlan: (unit: string) => readonly Finding[];
}

/** What the sheets are of: of units, or of all that is cut, loose parts among it. */
export type SheetsOf = 'units' | 'parts';

/** Projects with units of the name and floor, or with loose parts. Throws Stop where there is none. */
export function askedFor(
  paths: readonly string[],
  options: Omit<SheetOptions, 'out'>,
  of: SheetsOf = 'units',
): Asked[] {
  const day = dateOf(options.date);
  const chosen = choose(paths, process.cwd());
  const found = chosen.map((one) => ({
    one,
    units: unitsOf(one).filter(
      ({ name, floor }) =>
        (options.unit === undefined || name === options.unit) &&
        (options.floor === undefined || floor === options.floor),
    ),
  }));
  const withLoose = of === 'parts' && isAllAsked(options);
  const asked = found.filter(({ one, units }) => units.length > 0 || (withLoose && hasLooseParts(one)));
  if (asked.length === 0) throw nothingThere(chosen, options, withLoose);
  return asked.map(({ one, units }) => {
    const { project } = one;
    const all = [...project.units()];
    // Boards are shared by the whole project, whatever is printed of it.
    const planned = advisedPlan(project, optimal);
    const findings = findingsOf({ ...one, files: undefined }, planned.findings);
    const style = options.units ?? project.settings.show.system;
    const job: Job = {
      title: project.settings.title || nameOf(one),
      show: shownAs(project.settings.show, style),
      style,
      paper: options.paper,
      revision: revisionOf(folderOf(one), libraryFiles(project)),
      day,
      date: new Date(`${day}T00:00:00Z`),
      creator: `Storypole ${tool.version}`,
      boards: boardsOf(planned, all),
      hasErrors: findings.some(({ finding }) => finding.severity === 'error'),
    };
    return { chosen: one, all, units, findings, job, ofPlan: findingsByUnit(planned.findings) };
  });
}

/** Loose parts are of no unit, and come with all of them. */
export function isAllAsked({ unit, floor }: Pick<SheetOptions, 'unit' | 'floor'>): boolean {
  return unit === undefined && floor === undefined;
}

function hasLooseParts(one: Chosen): boolean {
  return extrasOf(one).length > 0 || sparesOf(one).length > 0;
}

function folderOf({ root }: Chosen): string {
  return statSync(root, { throwIfNoEntry: false })?.isDirectory() ? root : dirname(root);
}

function nameOf({ root }: Chosen): string {
  return (root.split('/').at(-1) ?? '').replace(/\.closet$/, '') || 'project';
}

/** So many names are told where the one asked for is not there. */
const mostNames = 10;

function nothingThere(
  chosen: readonly Chosen[],
  { unit, floor }: Pick<SheetOptions, 'unit' | 'floor'>,
  withLoose: boolean,
): Stop {
  const units = chosen.flatMap((one) => unitsOf(one));
  const sought = withLoose ? 'No unit and no loose part' : 'No unit';
  if (units.length === 0) return new Stop(`${sought} is declared there, so there is nothing to print.`);
  const names = units.map(({ name }) => name);
  if (unit !== undefined && !names.includes(unit)) return notThere('unit', unit, names);
  const floors = [...new Set(units.flatMap((one) => (one.floor === undefined ? [] : [one.floor])))];
  // One floor is much like another.
  if (unit === undefined && floor !== undefined) return notThere('floor', floor, floors, true);
  const own = units.find(({ name }) => name === unit)?.floor;
  return new Stop(`Unit "${printable(unit ?? '')}" is not on floor ${printable(floor ?? '')}.${whereIs(own)}`);
}

/** Where a unit is that was looked for on another floor. */
export function whereIs(floor: string | undefined): string {
  return floor === undefined ? ' It does not say on which it is.' : ` It is on floor ${printable(floor)}.`;
}

/** The one project, where all goes into one file. Throws Stop where there are several. */
export function onlyOne(asked: readonly Asked[]): Asked {
  const [one, ...more] = asked;
  if (!one || more.length > 0)
    throw new Stop(
      `One file is made of one project, and there are ${asked.length}: ${someOf(
        asked.map(({ job }) => printable(job.title)),
        mostNames,
      )}. Name the folder of one of them.`,
    );
  return one;
}

export function isPdf(path: string): boolean {
  return path.toLowerCase().endsWith('.pdf');
}
