/** `storypole draw`: plans, elevations and sections, a file each. */
import { statSync } from 'node:fs';
import { join } from 'node:path';
import { libraryFiles } from '../language/links.ts';
import { examplesIn } from '../model/examples.ts';
import type { Project, Unit } from '../model/project.ts';
import type { LengthStyle } from '../sheets/drawing/drawable.ts';
import { builtFrom, type Drawing, drawableOf, drawingsOf, type Issue, pagesOf } from '../sheets/drawing/drawings.ts';
import { dxfOf } from '../sheets/drawing/dxf.ts';
import { type Page, type PaperName, pageOf, papers } from '../sheets/drawing/page.ts';
import { inchScales, metricScales } from '../sheets/drawing/pens.ts';
import { placeWithin } from '../sheets/drawing/place.ts';
import { svgOf } from '../sheets/drawing/svg.ts';
import type { Pdf } from '../sheets/pdf/document.ts';
import { naming } from '../sheets/too-much.ts';
import type { Answer } from './answer.ts';
import { fileName, fileNames, keyOf } from './file-names.ts';
import { dateOf, revisionOf } from './issue.ts';
import { findingsOf } from './located.ts';
import { deliverFiles, type MadeFile } from './made.ts';
import { notThere } from './not-there.ts';
import { type Judging, sessionFor, statusOf } from './session.ts';
import { Stop } from './stop.ts';
import { type Chosen, choose, unitsOf } from './targets.ts';
import { tool } from './tool.ts';
import { counted, listed, printable, someOf } from './words.ts';

export interface DrawOptions extends Omit<Judging, 'format' | 'output' | 'color'> {
  readonly unit?: string | undefined;
  readonly wall?: string | undefined;
  readonly plan?: boolean | undefined;
  readonly section?: string | undefined;
  readonly format: 'svg' | 'dxf' | 'pdf';
  readonly paper: PaperName;
  readonly units?: LengthStyle | undefined;
  readonly theme: 'light' | 'dark';
  readonly date?: string | undefined;
  readonly out: string;
  readonly replace?: boolean | undefined;
}

/** What to ask for where all of it is too much. */
const less = 'Draw one unit at a time (--unit), or as PDF name a folder as --out, where each unit gets a file.';

interface Job {
  readonly chosen: Chosen;
  readonly units: readonly Unit[];
  readonly hasErrors: boolean;
  /** Where its drawings go; the folder asked for, or one in it where there are several projects. */
  readonly folder: string;
}

/** What all drawings of a run have in common. */
interface Run {
  readonly options: DrawOptions;
  readonly date: string;
  /** Undefined where nothing is drawn of a unit, which is told. */
  readonly undrawn: string[];
}

/** Throws Stop where there is nothing to draw, nothing of the name, or a file cannot be written; then none has been. */
export async function draw(paths: readonly string[], options: DrawOptions): Promise<Answer> {
  const { current } = sessionFor({});
  const run: Run = { options, date: dateOf(options.date), undrawn: [] };
  const chosen = choose(paths, current);
  const found = chosen.map((one) => findingsOf({ ...one, files: undefined }, []));
  const jobs = jobsOf(
    chosen,
    found.map((all) => all.some(({ finding }) => finding.severity === 'error')),
    options,
  );
  const count =
    options.format === 'pdf' ? await drawPdf(jobs, run) : await deliverFiles(files(jobs, run), options, less);
  return {
    status: statusOf(found.flat(), options.failOn),
    result: [`Made ${counted(count, 'drawing')} in ${printable(options.out)}.\n`],
    remark: remarkFor(run, jobs),
  };
}

function jobsOf(chosen: readonly Chosen[], errors: readonly boolean[], options: DrawOptions): Job[] {
  const all = chosen.map((one, i) => ({
    chosen: one,
    units: unitsOf(one).filter(({ name }) => options.unit === undefined || name === options.unit),
    hasErrors: errors[i] ?? false,
  }));
  const asked = all.filter(({ units }) => units.length > 0);
  if (asked.length === 0) {
    if (options.unit === undefined) throw new Stop('No unit is declared there, so there is nothing to draw.');
    throw notThere(
      'unit',
      options.unit,
      chosen.flatMap((one) => unitsOf(one).map(({ name }) => name)),
    );
  }
  const names = fileNames(
    asked.map(({ chosen: { project } }) => project.settings.title || 'project'),
    '',
  );
  return asked.map((job, i) => ({
    ...job,
    folder: asked.length === 1 ? options.out : join(options.out, names[i] ?? ''),
  }));
}

/** A sheet a page: all in one file where one is named, else a file for each unit. Gives how many sheets there are. */
async function drawPdf(jobs: readonly Job[], run: Run): Promise<number> {
  const { options } = run;
  const [{ createPdf }, { lettering }] = await Promise.all([import('../sheets/pdf/document.ts'), import('./fonts.ts')]);
  const letters = lettering();
  let count = 0;
  const begin = (title: string): Pdf =>
    createPdf(
      { title, subject: 'Drawings', creator: `${tool.name} ${tool.version}`, date: new Date(`${run.date}T00:00:00Z`) },
      letters,
    );
  const add = (pdf: Pdf, { unit, pages }: DrawnUnit): Uint8Array[] => {
    for (const [i, page] of pages.entries()) {
      const { groups, width, height } = naming(`Unit "${unit.name}"`, () => pageOf(page));
      const title = page.title.drawing;
      const bookmarks = [...(i === 0 ? [{ title: unit.name, level: 0 } as const] : []), { title, level: 1 } as const];
      pdf.addPage({ width, height, marks: groups.flatMap(({ marks }) => marks), bookmarks });
      count++;
    }
    return pdf.taken();
  };
  function* whole(): Generator<Uint8Array> {
    const pdf = begin(jobs.map(({ chosen }) => chosen.project.settings.title || 'Drawings').join(', '));
    for (const drawn of drawnUnits(jobs, run)) yield* add(pdf, drawn);
    if (count === 0) throw nothingDrawn(jobs, run);
    yield* pdf.end();
  }
  function* each(): Generator<MadeFile> {
    for (const drawn of drawnUnits(jobs, run)) {
      const pdf = begin(drawn.unit.name);
      yield { path: join(drawn.folder, `${drawn.prefix}.pdf`), stream: [...add(pdf, drawn), ...pdf.end()] };
    }
    if (count === 0) throw nothingDrawn(jobs, run);
  }
  const isFile = options.out.toLowerCase().endsWith('.pdf') && !isFolder(options.out);
  await deliverFiles(isFile ? [{ path: options.out, stream: whole() }] : each(), options, less);
  return count;
}

interface DrawnUnit {
  readonly unit: Unit;
  readonly drawings: readonly Drawing[];
  readonly pages: readonly Page[];
  readonly folder: string;
  /** What the names of its files begin with. */
  readonly prefix: string;
}

/** One after the other: of a large building there is never more than one in hand. */
function* drawnUnits(jobs: readonly Job[], run: Run): Generator<DrawnUnit> {
  for (const job of jobs) {
    const { project } = job.chosen;
    const revision = revisionOf(
      job.chosen.alone ? join(job.chosen.root, '..') : job.chosen.root,
      libraryFiles(project),
    );
    const prefixes = fileNames(
      job.units.map(({ name }) => name),
      '',
    );
    for (const [i, unit] of job.units.entries()) {
      const drawn = unitDrawings(project, unit, run);
      if (!drawn) continue;
      const issue: Issue = {
        project: project.settings.title || fileName(job.chosen.root.split('/').at(-1) ?? ''),
        unit: unit.name,
        template: builtFrom(unit),
        revision,
        date: run.date,
        paper: run.options.paper,
        hasErrors: job.hasErrors,
      };
      const pages = pagesOf(drawn.drawable, drawn.drawings, issue);
      yield { unit, drawings: drawn.drawings, pages, folder: job.folder, prefix: prefixes[i] ?? '' };
    }
  }
}

/** A file for each drawing, as they are written. */
function* files(jobs: readonly Job[], run: Run): Generator<MadeFile> {
  const { options } = run;
  const ending = `.${options.format}`;
  const isFile = options.out.toLowerCase().endsWith(ending) && !isFolder(options.out);
  let made = 0;
  for (const job of jobs) {
    const taken = new Set<string>();
    for (const { unit, drawings, pages, prefix } of drawnUnits([job], run)) {
      const names = fileNames(
        drawings.map((drawing) => (drawing.kind === 'plan' ? 'plan' : `${drawing.kind}-${drawing.of}`)),
        ending,
      );
      for (const [k, page] of pages.entries()) {
        made++;
        if (isFile && made > 1)
          throw new Stop(
            `${printable(options.out)} is one file, and there is more than one drawing. Name a folder, or ask for one drawing: --unit with --plan, --wall or --section.`,
          );
        const name = free(`${prefix}-${names[k]}`, taken);
        const bytes = naming(`Unit "${unit.name}"`, () => written(page, drawings[k], options));
        yield { path: isFile ? options.out : join(job.folder, name), bytes };
      }
    }
  }
  if (made === 0) throw nothingDrawn(jobs, run);
}

/** `a-b` and `c` may come to the name of `a` and `b-c`. */
function free(name: string, taken: Set<string>): string {
  const dot = name.lastIndexOf('.');
  let made = name;
  for (let i = 2; taken.has(keyOf(made)); i++) made = `${name.slice(0, dot)}-${i}${name.slice(dot)}`;
  taken.add(keyOf(made));
  return made;
}

function unitDrawings(project: Project, unit: Unit, { options, undrawn }: Run) {
  const drawable = drawableOf(project, unit, options.units ?? project.settings.show.system);
  if (!drawable) {
    undrawn.push(unit.name);
    return undefined;
  }
  const { wall, section, plan } = options;
  const isAll = !plan && wall === undefined && section === undefined;
  const drawings: Drawing[] = drawingsOf(
    drawable,
    isAll
      ? {}
      : {
          plan: plan ?? false,
          walls: wall === undefined ? [] : [wall],
          sections: section === undefined ? [] : [section],
        },
  );
  if (drawings.length === 0) undrawn.push(unit.name);
  return drawings.length === 0 ? undefined : { drawable, drawings };
}

function written(page: Page, drawing: Drawing | undefined, { format, theme }: DrawOptions): string {
  if (format === 'svg') return svgOf(pageOf(page), { background: theme });
  const [short, long] = papers[page.paper];
  const isMetric = page.style === 'millimetres';
  const scene = drawing?.scene ?? (page.scenes[0] as Drawing['scene']);
  const { title } = page;
  return dxfOf(placeWithin(scene, long - 40, short - 60, isMetric ? metricScales : inchScales), {
    lines: [
      ...(page.banner === undefined ? [] : [page.banner]),
      `${title.project}, ${title.unit} (${title.template})`,
      `${title.drawing}, ${title.date}${title.revision === undefined ? '' : `, revision ${title.revision}`}, drawn 1:1 in millimetres`,
      ...page.findings.map(({ number, severity, text }) => `${number} ${severity}: ${text}`),
    ],
  });
}

function isFolder(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
}

/** So many names are told where the one asked for is not there. */
const mostNames = 10;

function nothingDrawn(jobs: readonly Job[], { options }: Run): Stop {
  const layouts = jobs.flatMap(({ units }) => units.flatMap(({ resolved }) => (resolved ? [resolved.layout] : [])));
  if (layouts.length === 0)
    return new Stop(
      'Nothing can be drawn: no unit has all that its layout needs. storypole check tells what is missing.',
    );
  if (options.wall !== undefined)
    return notThere(
      'wall',
      options.wall,
      layouts.flatMap(({ walls }) => walls.map(({ name }) => name)),
    );
  if (options.section !== undefined)
    return notThere(
      'zone',
      options.section,
      layouts.flatMap(({ zones }) => zones.map(({ path }) => path)),
    );
  const system = jobs[0]?.chosen.project.settings.show.system ?? 'inches';
  return new Stop(
    `Nothing can be drawn: no wall has a length. Give one: wall back { length ${examplesIn('8ft', system)} }`,
  );
}

function remarkFor({ undrawn, options }: Run, jobs: readonly Job[]): string | undefined {
  const said: string[] = [];
  if (undrawn.length > 0 && options.wall === undefined && options.section === undefined)
    said.push(
      `Not drawn, as they lack what their layout needs: ${printable(someOf(undrawn, mostNames))}; storypole check tells what is missing.`,
    );
  const wrong = jobs
    .filter(({ hasErrors }) => hasErrors)
    .map(({ chosen }) => chosen.project.settings.title || 'the project');
  if (wrong.length > 0)
    said.push(
      `There are errors in ${printable(listed(wrong))}: do not cut by these drawings yet. Run storypole check.`,
    );
  return said.length > 0 ? said.join(' ') : undefined;
}
