/** `storypole import TABLE`: what was measured on site, from a table into the surveys of a project, whole or not at all. */
import { readFileSync, statSync } from 'node:fs';
import { basename, resolve } from 'node:path';
import type { Problem, Sheet } from '../language/survey-import/cells.ts';
import { mostBytes } from '../language/survey-import/cells.ts';
import { columnsSaid, type Mapping, mappingText, noMapping, readMapping } from '../language/survey-import/columns.ts';
import type { Measure } from '../language/survey-import/measures.ts';
import {
  type Imported,
  importSurvey,
  mappingName,
  type Refused,
  recognisedIn,
  tableIn,
} from '../language/survey-import/survey-import.ts';
import { addressSaid, foundSaid, outcomeSaid, refusalSaid } from '../language/survey-import/told.ts';
import { isWithin } from '../model/files.ts';
import { nodeFiles, reason } from '../model/node-files.ts';
import { moreThanIsRead } from '../model/sizes.ts';
import type { FileToWrite } from '../writing/file-to-write.ts';
import { tidy } from '../writing/temporary.ts';
import { writeFiles } from '../writing/write-files.ts';
import type { Answer } from './answer.ts';
import { type Changed, changedBy, diffText, editsJson, foldersIn, rewritten } from './changed.ts';
import { diffOf, shownLine } from './diff.ts';
import { documentOf } from './json.ts';
import { type Common, type Session, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { type Chosen, choose, folderOfProject } from './targets.ts';
import { counted, grouped, printable, wrapped } from './words.ts';

export interface ImportOptions extends Common {
  readonly project?: string | undefined;
  readonly mapping?: string | undefined;
  readonly sheet?: string | undefined;
  readonly unitOfMeasure?: Measure | undefined;
  readonly decimalComma?: boolean | undefined;
  readonly into?: string | undefined;
  readonly dryRun?: boolean | undefined;
  readonly writeMapping?: boolean | undefined;
}

/** Throws Stop where the table is not there or no table, or a file cannot be written; then nothing has been. */
export async function importTable(table: string, options: ImportOptions): Promise<Answer> {
  const session = sessionFor(options);
  const chosen = projectFor(options, session);
  const { project } = chosen;
  const folder = folderOfProject(chosen);
  const kept = keptMapping(options.mapping, folder, session);
  const sheet = sheetOf(table, options, session);
  if (options.writeMapping) return writeMapping(sheet, chosen, kept, session);
  const into = intoFile(options.into, chosen, session);
  const imported = importSurvey(sheet, {
    project,
    mapping: kept.mapping,
    measure: options.unitOfMeasure,
    decimalComma: options.decimalComma,
    into,
  });
  if (imported.kind === 'refused') return refusal(imported, table, options, session);
  const changed = changedBy(imported.edits, [project]);
  const notes = options.dryRun ? [] : await writeAll(changed, imported, kept, chosen, session);
  const remark = notes.length > 0 ? notes.join(' ') : undefined;
  return options.format === 'json'
    ? { status: 0, result: importJson(table, imported, changed, kept, options, session), remark }
    : { status: 0, result: [importText(imported, changed, kept, options, session)], remark };
}

interface KeptMapping {
  readonly path: string;
  readonly shown: string;
  /** Undefined where there is no such file yet. */
  readonly text: string | undefined;
  readonly mapping: Mapping;
  /** Undefined where it was named: then it may be anywhere. */
  readonly within: string | undefined;
}

function projectFor({ project }: ImportOptions, { current }: Session): Chosen {
  const all = choose(project === undefined ? [] : [project], current);
  const [only, second] = all;
  if (second || !only)
    throw new Stop(
      `There are ${counted(all.length, 'project')} there, and a table is of one. Say which with --project FOLDER.`,
    );
  return only;
}

function keptMapping(named: string | undefined, folder: string, { current, pathOf }: Session): KeptMapping {
  const path = (named === undefined ? resolve(folder, mappingName) : resolve(current, named)).replaceAll('\\', '/');
  const shown = named ?? pathOf(path);
  if (path.endsWith('.closet'))
    throw new Stop(
      `${shown} is a .closet file, and what the columns are is kept as JSON. Name another file with --mapping.`,
    );
  const within = named === undefined ? folder : undefined;
  const real = nodeFiles.real(path);
  // What is not there leads nowhere.
  if (within !== undefined && real !== path && !isWithin(nodeFiles.real(within), real))
    throw new Stop(`${shown} is a link that leads out of the project. Name the mapping file with --mapping.`);
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (error) {
    if ((error as { code?: string }).code === 'ENOENT')
      return { path, shown, text: undefined, mapping: noMapping, within };
    throw new Stop(`The mapping file ${shown} cannot be read: ${reason(error)}.`);
  }
  const mapping = readMapping(text, shown);
  if ('wrong' in mapping) throw new Stop(mapping.wrong);
  return { path, shown, text, mapping, within };
}

function sheetOf(table: string, { sheet }: ImportOptions, { current }: Session): Sheet {
  const path = resolve(current, table);
  let bytes: Uint8Array;
  try {
    const stat = statSync(path);
    if (stat.isDirectory()) throw new Stop(`${table} is a folder; name a .csv or .xlsx file.`);
    if (stat.size > mostBytes) throw new Stop(moreThanIsRead(table, stat.size, mostBytes));
    bytes = readFileSync(path);
  } catch (error) {
    if (error instanceof Stop) throw error;
    const isMissing = (error as { code?: string }).code === 'ENOENT';
    throw new Stop(isMissing ? `${table} is not there.` : `${table} cannot be read: ${reason(error)}.`);
  }
  const read = tableIn(bytes, basename(table), sheet);
  if ('unreadable' in read) throw new Stop(read.unreadable);
  if ('asksSheet' in read) throw new Stop(`${read.why} Say which with --sheet NAME.`);
  return read.sheet;
}

function intoFile(
  named: string | undefined,
  { root, alone, project }: Chosen,
  { current }: Session,
): string | undefined {
  if (named === undefined) return undefined;
  const path = resolve(current, named).replaceAll('\\', '/');
  if (!path.endsWith('.closet')) throw new Stop(`${named} is no .closet file, in which surveys are kept.`);
  if (project.sources.has(path)) return path;
  if (alone || !isWithin(root, path))
    throw new Stop(`${named} is not in the folder of the project. Name a file in it with --into, or leave --into out.`);
  try {
    statSync(path);
  } catch {
    return path;
  }
  throw new Stop(`${named} belongs to another project. Name a file of this one with --into, or leave --into out.`);
}

async function writeMapping(sheet: Sheet, { project }: Chosen, kept: KeptMapping, session: Session): Promise<Answer> {
  const { columns, unclear } = recognisedIn(sheet, project, kept.mapping);
  const text = mappingText(kept.mapping, columns);
  await writeFiles([mappingFile(kept, text)]);
  const asked =
    unclear.length === 0
      ? ''
      : `Not recognised, and "ignored" until you say there what they are: ${unclear.map((heading) => `"${printable(heading)}"`).join(', ')}.\n`;
  return {
    status: 0,
    result: [`Wrote ${printable(session.pathOf(kept.path))}. ${printable(columnsSaid(columns))}.\n${asked}`],
  };
}

async function writeAll(
  changed: readonly Changed[],
  imported: Imported,
  kept: KeptMapping,
  chosen: Chosen,
  session: Session,
): Promise<readonly string[]> {
  const within = folderOfProject(chosen);
  tidy(foldersIn([chosen.project]));
  const files: FileToWrite[] = rewritten(changed, () => within, session);
  const { created, mapping } = imported;
  if (created) files.push({ path: created.file, shown: session.pathOf(created.file), pieces: [created.text], within });
  if (mapping !== undefined) files.push(mappingFile(kept, mapping));
  return (await writeFiles(files)).notes;
}

/** One that was not named is in the folder of the project, and a link there is somebody else's word, not that of who asks. */
function mappingFile({ path, shown, text: before, within }: KeptMapping, text: string): FileToWrite {
  return {
    path,
    shown,
    pieces: [text],
    over: () => undefined,
    ...(within !== undefined && { within }),
    ...(before !== undefined && { expected: Buffer.from(before) }),
  };
}

// Told

function importText(
  imported: Imported,
  changed: readonly Changed[],
  kept: KeptMapping,
  { dryRun }: ImportOptions,
  session: Session,
): string {
  const { changes, notes, created, mapping, columns } = imported;
  const { pathOf } = session;
  const diffs = changed.map((one) => diffText(one, session));
  if (created) diffs.push(...diffOf(pathOf(created.file), '', created.text).map((line) => `${shownLine(line)}\n`));
  const files = changed.length + (created ? 1 : 0);
  const where = files === 0 ? '' : `, in ${counted(files, 'file')}`;
  const lines = [`${dryRun ? 'Would make' : 'Made'}: ${outcomeSaid(changes)}${where}.`];
  if (mapping !== undefined)
    lines.push(
      `${dryRun ? 'Would keep' : 'Kept'} in ${kept.shown} what the columns are: correct it there where it is wrong. ${columnsSaid(columns)}.`,
    );
  const told = [...lines, ...notes.map((note) => `Note: ${note}`)].map((line) =>
    wrapped(printable(line), session.width, '').join('\n'),
  );
  return `${diffs.join('')}${diffs.length > 0 ? '\n' : ''}${told.join('\n')}\n`;
}

/** Cells that are told of as text; JSON has more. */
const mostTold = 40;

function refusal(refused: Refused, table: string, options: ImportOptions, session: Session): Answer {
  if (options.format === 'json') return { status: 1, result: refusedJson(table, refused) };
  const { problems, problemCount, asks, reasons, columns } = refused;
  const lines = [
    session.paint('bold', printable(refusalSaid(refused, table))),
    '',
    ...reasons.map(printable),
    ...problems.slice(0, mostTold).flatMap((problem) => problemLines(problem, session)),
  ];
  if (problemCount > mostTold) lines.push(`and ${grouped(problemCount - mostTold)} more.`);
  const helps = [
    ...(asks.includes('unit-of-measure')
      ? [
          'Say it with --unit-of-measure inches, feet, millimetres, centimetres or metres, or in the heading: "Length (mm)".',
        ]
      : []),
    ...(asks.includes('decimal-comma')
      ? ['Where a comma stands for decimals in this table, say --decimal-comma; else write points.']
      : []),
    ...(columns.length === 0
      ? ['--write-mapping writes what was recognised to the mapping file, for you to complete.']
      : []),
  ];
  if (helps.length > 0) lines.push('', ...helps);
  return { status: 1, result: [`${lines.join('\n')}\n`] };
}

/** The address, what is there, and under it what is wrong. */
function problemLines(problem: Problem, { paint, width }: Session): string[] {
  const head = `${paint('bold', printable(addressSaid(problem)))}  ${printable(foundSaid(problem))}`;
  return [head, ...wrapped(printable(problem.message), width, '    ')];
}

function problemJson({ sheet, cell, found, message }: Problem): object {
  return { sheet: sheet ?? null, cell, found, message };
}

function refusedJson(table: string, { problems, problemCount, notes, asks, reasons }: Refused): Iterable<string> {
  return documentOf('import', {
    table,
    taken: false,
    written: false,
    problems: problems.map(problemJson),
    problemCount,
    reasons,
    asks,
    surveys: [],
    edits: [],
    created: null,
    mapping: null,
    notes,
  });
}

function importJson(
  table: string,
  { changes, notes, created, mapping }: Imported,
  changed: readonly Changed[],
  kept: KeptMapping,
  { dryRun }: ImportOptions,
  session: Session,
): Iterable<string> {
  const { pathOf } = session;
  return documentOf('import', {
    table,
    taken: true,
    written: !dryRun,
    problems: [],
    problemCount: 0,
    reasons: [],
    asks: [],
    surveys: changes.map(({ unit, kind, file }) => ({ unit, change: kind, file: pathOf(file) })),
    edits: editsJson(changed, session),
    created: created ? { file: pathOf(created.file), text: created.text } : null,
    mapping: mapping === undefined ? null : { file: pathOf(kept.path), text: mapping },
    notes,
  });
}
