/** `storypole export`: the lists of a project for other programs, and its page for a phone on site. */
import { statSync } from 'node:fs';
import { extname, join } from 'node:path';
import { advisedPlan } from '../checks/analysis.ts';
import { optimal } from '../cutting/optimal.ts';
import { libraryFiles } from '../language/links.ts';
import { nearest } from '../model/nearest.ts';
import type { Unit } from '../model/project.ts';
import type { LengthStyle } from '../sheets/drawing/drawable.ts';
import { exceptionsOf } from '../sheets/exceptions.ts';
import { byteOrderMark, csvOf } from '../sheets/export/csv.ts';
import type { Exported, FindingRow } from '../sheets/export/exported.ts';
import { type ListName, listNames, tablesOf } from '../sheets/export/lists.ts';
import { hundredPercent, lengthsAs } from '../sheets/export/table.ts';
import type { Answer } from './answer.ts';
import { exportJson, type Made } from './export-json.ts';
import { fileNames } from './file-names.ts';
import { dateOf, revisionOf } from './issue.ts';
import { documentOf } from './json.ts';
import { each } from './json-text.ts';
import { findingsOf, type LocatedFinding } from './located.ts';
import { deliverFiles, type MadeFile, orStop } from './made.ts';
import { notThere } from './not-there.ts';
import { doNotCut, type Judging, type Session, sessionFor, statusOf } from './session.ts';
import { whereIs } from './sheets.ts';
import { Stop } from './stop.ts';
import { type Chosen, choose, extrasOf, sparesOf, unitsOf } from './targets.ts';
import { counted, listed, printable, someOf } from './words.ts';

const kinds = ['xlsx', 'csv', 'json', 'html'] as const;
type Kind = (typeof kinds)[number];

export interface ExportOptions extends Pick<Judging, 'failOn'>, Partial<Readonly<Record<Kind, boolean>>> {
  readonly out: string;
  readonly unit?: string | undefined;
  readonly floor?: string | undefined;
  readonly list?: string | undefined;
  readonly spare?: string | undefined;
  readonly units?: LengthStyle | undefined;
  readonly byteOrderMark?: boolean | undefined;
  readonly date?: string | undefined;
  readonly replace?: boolean | undefined;
}

/** Where files go, and which. */
interface Target {
  readonly kinds: readonly Kind[];
  /** One file of this name; undefined for a folder. */
  readonly file: string | undefined;
}

/** Throws Stop where there is nothing of the name, or a file cannot be written; then none has been. */
export async function exportTo(paths: readonly string[], options: ExportOptions): Promise<Answer> {
  const session = sessionFor({});
  const target = targetOf(options);
  const wanted = listsWanted(options.list);
  const spare = spareOf(options.spare);
  const date = dateOf(options.date);
  const chosen = choose(paths, session.current);
  const asked = chosen.flatMap((one) => {
    const units = unitsOf(one).filter(
      ({ name, floor }) =>
        (options.unit === undefined || name === options.unit) &&
        (options.floor === undefined || floor === options.floor),
    );
    return units.length > 0 || (options.unit === undefined && options.floor === undefined) ? [{ one, units }] : [];
  });
  if (asked.length === 0) throw nothingOfTheName(options, chosen);
  const made = asked.map(({ one, units }) =>
    projectMade(one, units, { options, spare, date, session, wanted, target }),
  );
  const files = await filesOf(made, { options, target, wanted, session });
  const count = await deliverFiles(files, options, less);
  const findings = made.flatMap((one) => one.findings);
  return {
    status: statusOf(findings, options.failOn),
    result: [
      `Made ${counted(count, 'file')}: ${printable(
        someOf(
          files.map(({ path }) => path),
          12,
        ),
      )}.\n`,
    ],
    remark: doNotCut(findings),
  };
}

interface Run {
  readonly options: ExportOptions;
  readonly target: Target;
  readonly wanted: readonly ListName[];
  readonly session: Session;
}

function projectMade(
  chosen: Chosen,
  units: readonly Unit[],
  { options, spare, date, session, wanted, target }: Run & { readonly spare: number; readonly date: string },
): Made {
  const { project } = chosen;
  const { settings } = project;
  const part = partOf(chosen, options);
  // Boards are shared by the whole project; nobody waits for a plan that is not written.
  const needsPlan = target.kinds.some((kind) => kind !== 'html') && wanted.some((name) => planned.has(name));
  const plan = part === undefined && needsPlan ? advisedPlan(project, optimal) : undefined;
  const findings = findingsOf({ ...chosen, files: undefined }, ...(plan ? [plan.findings] : []));
  const exported: Exported = {
    title: settings.title === '' ? session.pathOf(chosen.root) : settings.title,
    revision: revisionOf(chosen.alone ? join(chosen.root, '..') : chosen.root, libraryFiles(project)),
    date,
    units,
    part,
    extras: part === undefined ? extrasOf(chosen) : [],
    spares: part === undefined ? sparesOf(chosen) : [],
    planned: plan,
    currency: settings.currency,
    lengths: lengthsAs(options.units, settings.show),
    spare,
    findings: findings.map((located) => findingRow(located, session)),
    exceptions: exceptionsOf(project, units),
  };
  return { chosen, exported, findings };
}

/** Lists that say something of the plan. */
const planned: ReadonlySet<ListName> = new Set(['about', 'boards', 'cutting-plan', 'findings']);

function partOf({ files }: Chosen, { unit, floor }: ExportOptions): string | undefined {
  const parts = [
    ...(files ? ['units of the files that were named'] : []),
    ...(floor === undefined ? [] : [`floor ${floor}`]),
    ...(unit === undefined ? [] : [`unit ${unit}`]),
  ];
  return parts.length === 0 ? undefined : parts.join(', ');
}

function findingRow({ finding, file, from }: LocatedFinding, { pathOf }: Session): FindingRow {
  const { severity, rule, message, advice, reach } = finding;
  return {
    severity,
    rule: rule.id,
    message,
    advice,
    file: pathOf(file),
    line: from.line + 1,
    column: from.column + 1,
    reach,
  };
}

/** What to ask for where all of it is too much. */
const less = 'Export one floor (--floor) or one unit (--unit) at a time.';

async function filesOf(made: readonly Made[], run: Run): Promise<MadeFile[]> {
  const { options, target } = run;
  const { file } = target;
  if (file !== undefined && made.length > 1 && target.kinds[0] !== 'json')
    throw new Stop(
      `There are ${counted(made.length, 'project')} there (${printable(
        someOf(
          made.map(({ exported }) => exported.title),
          4,
        ),
      )}), and ${printable(file)} is one file. Name a folder as --out, or the folder of one project.`,
    );
  if (target.kinds.includes('json') && file !== undefined) return [{ path: file, stream: jsonOf(made, run) }];
  const names = fileNames(
    made.map(({ exported }) =>
      [exported.title, options.floor && `floor-${options.floor}`, options.unit].filter(Boolean).join('-'),
    ),
    '',
  );
  const files: MadeFile[] = [];
  for (const [i, one] of made.entries()) {
    const name = (ending: string): string => file ?? join(options.out, `${names[i]}${ending}`);
    for (const kind of target.kinds) {
      if (kind === 'json') files.push({ path: name('.json'), stream: jsonOf([one], run) });
      else if (kind === 'csv') files.push(...csvFiles(one, name, run));
      else if (kind === 'xlsx') files.push({ path: name('.xlsx'), bytes: await workbook(one, run) });
      else {
        const { siteFile } = await import('./export-site.ts');
        files.push({ path: name('.html'), bytes: await orStop(siteFile(one, options.units), less) });
      }
    }
  }
  return files;
}

function jsonOf(made: readonly Made[], { wanted, session }: Run): Iterable<string> {
  return documentOf('export', { projects: each(made, (one) => exportJson(one, wanted, session.pathOf)) });
}

function csvFiles({ exported }: Made, name: (ending: string) => string, { options, target, wanted }: Run): MadeFile[] {
  const tables = tablesOf(exported, wanted);
  if (target.file !== undefined && tables.length !== 1)
    throw new Stop(
      tables.length === 0
        ? `${printable(listed(wanted))} cannot be made of a part of a project: boards are shared by the whole.`
        : `A CSV file holds one list, and there are ${tables.length}. Name one with --list (${listNames.join(', ')}), or a folder as --out.`,
    );
  return tables.map((table) => {
    const pieces = csvOf(table, exported.lengths);
    return {
      path: name(`-${table.id}.csv`),
      stream: options.byteOrderMark ? marked(pieces) : pieces,
    };
  });
}

function* marked(pieces: Iterable<string>): Generator<string> {
  yield byteOrderMark;
  yield* pieces;
}

async function workbook({ exported }: Made, { wanted }: Run): Promise<Uint8Array> {
  const { workbookOf } = await import('../sheets/export/xlsx.ts');
  const tables = tablesOf(exported, wanted);
  if (tables.length === 0)
    throw new Stop(
      `${printable(listed(wanted))} cannot be made of a part of a project: boards are shared by the whole.`,
    );
  try {
    return await workbookOf(tables, exported);
  } catch (error) {
    if (error instanceof RangeError) throw new Stop(`${error.message} Export a floor at a time (--floor), or as CSV.`);
    throw error;
  }
}

function targetOf(options: ExportOptions): Target {
  const { out } = options;
  const said = kinds.filter((kind) => options[kind]);
  const ending = extname(out).slice(1).toLowerCase();
  const byName = kinds.find((kind) => kind === ending);
  const isFolder = statSync(out, { throwIfNoEntry: false })?.isDirectory() ?? false;
  if (byName && !isFolder) {
    const other = said.find((kind) => kind !== byName);
    if (other)
      throw new Stop(
        `${printable(out)} is one ${byName} file, and --${other} was asked for, too. Name a folder as --out.`,
      );
    return { kinds: [byName], file: out };
  }
  if (said.length === 0)
    throw new Stop(
      `Say what is to be written into ${printable(out)}: --xlsx, --csv, --json or --html; or name a file that ends so.`,
    );
  return { kinds: said, file: undefined };
}

function listsWanted(text: string | undefined): readonly ListName[] {
  if (text === undefined) return listNames;
  const names = text.split(',').map((name) => name.trim());
  for (const name of names) {
    if (listNames.some((known) => known === name)) continue;
    const near = nearest(name, listNames);
    throw new Stop(
      `There is no list "${printable(name)}"${near === undefined ? `. There are ${listNames.join(', ')}.` : `; did you mean "${near}"?`}`,
    );
  }
  return listNames.filter((name) => names.includes(name));
}

/** In hundredths of a percent. Throws Stop where it is no share from 0 % to 100 %. */
export function spareOf(text: string | undefined): number {
  if (text === undefined) return 0;
  const match = /^(\d{1,3})(?:[.,](\d{1,2}))?\s*%?$/.exec(text.trim());
  const share = match ? Number(match[1]) * 100 + Number((match[2] ?? '').padEnd(2, '0')) : undefined;
  if (share === undefined || share > hundredPercent)
    throw new Stop(`--spare: "${printable(text)}" is not a share from 0% to 100%, such as 5% or 7.5%.`);
  return share;
}

const mostNames = 10;

function nothingOfTheName({ unit, floor }: ExportOptions, chosen: readonly Chosen[]): Stop {
  const units = chosen.flatMap(unitsOf);
  if (units.length === 0) return new Stop('No unit is declared there, so there is nothing to export.');
  const floors = [...new Set(units.flatMap((one) => (one.floor === undefined ? [] : [one.floor])))];
  if (floor !== undefined && !floors.includes(floor))
    return new Stop(
      floors.length === 0
        ? `There is no floor "${printable(floor)}": no unit says on which it is.`
        : `There is no floor "${printable(floor)}", only ${printable(someOf(floors, mostNames))}.`,
    );
  if (unit !== undefined && floor !== undefined && units.some(({ name }) => name === unit))
    return new Stop(
      `Unit "${printable(unit)}" is not on floor ${printable(floor)}.${whereIs(units.find(({ name }) => name === unit)?.floor)}`,
    );
  return notThere(
    'unit',
    unit ?? '',
    units.map(({ name }) => name),
  );
}
