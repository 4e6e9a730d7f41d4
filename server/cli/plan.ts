/** `storypole plan`: which board or rod each part comes from, for the whole project, or for plain lengths. */
import { resolve } from 'node:path';
import { Source } from '../../grammar/source.ts';
import { advisedPlan, type Planned, planProject } from '../checks/analysis.ts';
import { type Advice, adviceOf, bestPlan } from '../cutting/advice.ts';
import { stockLeft } from '../cutting/deliveries.ts';
import { demandOf } from '../cutting/demand.ts';
import { optimal } from '../cutting/optimal.ts';
import { withLimits } from '../cutting/request.ts';
import type { Plan, PlanRequest, SawLimits, StockLength } from '../cutting/types.ts';
import { filled, verifiedPlan } from '../cutting/verified.ts';
import { nodeFiles } from '../model/node-files.ts';
import type { Project } from '../model/project.ts';
import { topWords } from '../model/vocabulary.ts';
import { stockAfter } from '../sheets/stock-after.ts';
import type { Answer } from './answer.ts';
import { planCsv } from './csv.ts';
import { findingTexts } from './finding-text.ts';
import { documentOf, type PathOf, projectHead } from './json.ts';
import { type PlannedCuts, planJson } from './json-plan.ts';
import { each } from './json-text.ts';
import { findingsOf } from './located.ts';
import { lengthsAsked, limitsFrom, type SawOptions } from './plan-csv.ts';
import { planText } from './plan-text.ts';
import { doNotCut, type Judging, type Session, sessionFor, statusOf } from './session.ts';
import { Stop } from './stop.ts';
import { choose } from './targets.ts';
import { printable } from './words.ts';

export interface PlanOptions extends Judging, SawOptions {
  /** Where to write the stock that is left. */
  readonly stockAfter?: string | undefined;
  /** One delivery after the other, by this. */
  readonly by?: By | undefined;
}

type By = 'floor' | 'phase';

interface Made extends PlannedCuts {
  readonly title: string;
  readonly head: object;
}

/** A part of a project has no plan of its own: boards are shared by the whole. */
export async function plan(paths: readonly string[], options: PlanOptions): Promise<Answer> {
  const session = sessionFor(options);
  const tables = paths.filter(isTable);
  const named = paths.filter((path) => !isTable(path));
  const made = [
    ...(named.length > 0 || tables.length === 0 ? planProjects(named, options, session) : []),
    ...tables.map((path) => planTable(path, options, session)),
  ];
  if (options.stockAfter !== undefined) await writeStock(options.stockAfter, made, session);
  const findings = made.flatMap((one) => one.findings);
  const short = made.some(({ planned, findings }) => findings.length === 0 && (planned.plan?.uncut.length ?? 0) > 0);
  return {
    status: short ? 1 : statusOf(findings, options.failOn),
    result: await written(made, options, session),
    // The text says it itself.
    remark: options.format === 'text' ? undefined : doNotCut(findings),
  };
}

function isTable(path: string): boolean {
  return path.toLowerCase().endsWith('.csv');
}

function planProjects(paths: readonly string[], options: PlanOptions, { current, pathOf }: Session): Made[] {
  const { by } = options;
  const limits = limitsFrom(options);
  return choose(paths, current).flatMap((named): Made[] => {
    const chosen = { ...named, files: undefined };
    const { settings } = chosen.project;
    // By deliveries the whole is planned only as far as it takes to say what stock is short.
    const planned =
      by === undefined ? advisedPlan(chosen.project, optimal, limits) : planProject(chosen.project, undefined, limits);
    const findings = findingsOf(chosen, planned.findings);
    const title = settings.title === '' ? pathOf(chosen.root) : settings.title;
    const head = projectHead(chosen, findings, pathOf);
    if (by === undefined) return [{ title, settings, planned, findings, head: { ...head, group: null } }];
    return deliveries(chosen.project, by, limits).map(({ name, planned: own }) => ({
      title: name === undefined ? `${title}, without a ${by}` : `${title}, ${by} ${name}`,
      settings,
      planned: own,
      findings,
      head: { ...head, group: { by, name: name ?? null } },
    }));
  });
}

interface Delivery {
  /** Undefined for what names none. */
  readonly name: string | undefined;
  readonly planned: Planned;
}

/** In the order of their names; what one leaves is cut first from in the next. */
function deliveries(project: Project, by: By, limits: SawLimits): Delivery[] {
  const extras = [...project.computed('extra')].flatMap((c) => (c.kind === 'extra' && c.value ? [c.value] : []));
  const names = new Set([...project.units(), ...extras].map((one) => one[by]));
  const inOrder = [...names].sort((a, b) => (a === undefined ? 1 : b === undefined ? -1 : byNumber.compare(a, b)));
  let stock: readonly StockLength[] | undefined;
  return inOrder.map((name) => {
    const demand = demandOf(project, (labels) => labels[by] === name);
    const request = withLimits({ ...demand.request, stock: stock ?? demand.request.stock }, limits);
    const { plan, advice } = plannedAlone(request);
    stock = plan ? stockLeft(request, plan) : request.stock;
    return { name, planned: { demand: { ...demand, request }, plan, advice, findings: [] } };
  });
}

/** A plan of what is no project, or not the whole of one: with what to buy, and no dimension to be changed. */
function plannedAlone(request: PlanRequest): { readonly plan: Plan | undefined; readonly advice: Advice | undefined } {
  const plan = verifiedPlan(request, optimal);
  const shorten = { most: 0, step: 1 };
  const advice = plan && adviceOf({ request, plan, isBest: true, known: [], levers: [], shorten });
  return { plan: advice ? filled(request, bestPlan(advice.materials)) : plan, advice };
}

const byNumber = new Intl.Collator('en', { numeric: true });

/** Throws Stop where there is not just one plan to write the stock of. */
async function writeStock(file: string, made: readonly Made[], { current }: Session): Promise<void> {
  const one = made.at(-1);
  const plan = one?.planned.plan;
  const projects = new Set(made.map(({ settings }) => settings)).size;
  if (projects > 1)
    throw new Stop(`--stock-after writes the stock of one project, and there are ${projects}. Name the folder of one.`);
  if (!file.endsWith('.closet'))
    throw new Stop(`--stock-after writes a .closet file, and ${file} is none. Give it a name that ends in .closet.`);
  if (!one || !plan)
    throw new Stop('--stock-after: nothing is planned, so the stock is what it was, and nothing was written.');
  const { writeOutput } = await import('./output.ts');
  const text = stockAfter({ request: one.planned.demand.request, plan }, one.settings.currency, one.settings.show);
  await writeOutput(file, current, [text], holdsOnlyStock);
}

function holdsOnlyStock(text: string): boolean {
  return [...new Source('stock', text, topWords).statements()].every(({ word }) => word.text === 'stock');
}

function planTable(written: string, options: SawOptions, { current, pathOf }: Session): Made {
  const file = resolve(current, written).replaceAll('\\', '/');
  const kind = nodeFiles.kindOf(file);
  if (kind !== 'file')
    throw new Stop(`${written} is ${kind === 'folder' ? 'a folder, and not a list of lengths' : 'not there'}.`);
  const { demand, settings } = lengthsAsked(file, written, options);
  return {
    title: pathOf(file),
    settings,
    planned: { demand, ...plannedAlone(demand.request), findings: [] },
    findings: [],
    head: { ...tableHead(file, settings, pathOf), group: null },
  };
}

/** What is said of a project, for a table that has none. */
function tableHead(file: string, { show, currency }: Made['settings'], pathOf: PathOf): object {
  return {
    title: '',
    root: pathOf(file),
    declared: false,
    files: [pathOf(file)],
    show: show.system,
    currency: currency ?? null,
    counts: { errors: 0, warnings: 0, notes: 0 },
  };
}

async function written(made: readonly Made[], { format }: Judging, session: Session): Promise<Iterable<string>> {
  switch (format) {
    case 'json':
      return documentOf('plan', { projects: each(made, (one) => planJson(one.head, one, session.pathOf)) });
    case 'csv':
      return planCsv(made);
    case 'text':
      return [(await Promise.all(made.map((one) => asText(one, session)))).join('\n')];
  }
}

async function asText({ title, settings, planned, findings }: Made, session: Session): Promise<string> {
  const parts = [session.paint('bold', `Cutting plan: ${printable(title)}`)];
  const caution = doNotCut(findings);
  if (caution !== undefined) parts.push(session.paint('red', caution));
  parts.push(planText(planned, settings, session.paint).trimEnd());
  const about = findings.filter(({ finding }) => finding.rule.family === 'stock');
  parts.push(...(await findingTexts(about, session)));
  return `${parts.join('\n\n')}\n`;
}
