/** What each command does: chooses projects, asks the engine, prints. Answers the exit status. */
import { planProject } from '../checks/analysis.ts';
import { explain } from '../checks/explain.ts';
import { ruleNamed, rules } from '../checks/table.ts';
import { nearest } from '../model/nearest.ts';
import type { Unit } from '../model/project.ts';
import type { Severity } from '../model/rule.ts';
import { cutListText } from '../sheets/cut-list.ts';
import { cutsCsv } from './csv.ts';
import { countsText, findingText, type TextOptions } from './finding-text.ts';
import { checkJson, cutsJson, extrasOf, planJson, report } from './json.ts';
import { countsOf, findingsOf, isAtLeast, type LocatedFinding, shownPath } from './located.ts';
import { writeWhole } from './output.ts';
import { planText } from './plan-text.ts';
import { Stop } from './stop.ts';
import { paintFor } from './style.ts';
import { type Chosen, choose } from './targets.ts';
import { counted } from './words.ts';

export interface Common {
  readonly format: string;
  readonly failOn: Severity;
  readonly color?: boolean;
  readonly output?: string;
  /** The least severe findings that are shown as text. */
  readonly severity: Severity;
}

export interface Terminal {
  readonly current: string;
  readonly out: NodeJS.WriteStream;
  readonly err: NodeJS.WriteStream;
  readonly environment: NodeJS.ProcessEnv;
}

export function check(paths: readonly string[], options: Common, terminal: Terminal): number {
  const chosen = choose(paths, terminal.current);
  const found = chosen.map((c) => ({ chosen: c, findings: findingsOf(c) }));
  const all = found.flatMap((f) => f.findings);
  if (options.format === 'json') {
    const paths2 = { pathOf: pathOf(terminal) };
    emit(
      report(
        'check',
        found.map((f) => checkJson(f.chosen, f.findings, paths2)),
      ),
      options,
      terminal,
    );
  } else {
    const shown = all.filter((f) => isAtLeast(f.finding.severity, options.severity));
    const style = textOptions(options, terminal);
    const texts = shown.map((f) => findingText(f, style));
    const hidden = all.length - shown.length;
    const summary = `${summaryText(chosen, all)}${hidden > 0 ? ` (${hidden} not shown)` : ''}.`;
    emit(`${[...texts, summary].join('\n\n')}\n`, options, terminal);
  }
  return status(all, options.failOn);
}

function summaryText(chosen: readonly Chosen[], findings: readonly LocatedFinding[]): string {
  const units = chosen.reduce((sum, c) => sum + [...c.project.units()].reduce((n, u) => n + u.count, 0), 0);
  const files = chosen.reduce((sum, c) => sum + (c.files?.size ?? c.project.sources.size), 0);
  const where = chosen.length === 1 ? (chosen[0]?.project.settings.title ?? '') : counted(chosen.length, 'project');
  return `${where ? `${where}: ` : ''}${counted(units, 'unit')} in ${counted(files, 'file')} checked, ${countsText(countsOf(findings))}`;
}

export interface CutsOptions extends Common {
  readonly unit?: string;
  readonly steps?: boolean;
}

export function cuts(paths: readonly string[], options: CutsOptions, terminal: Terminal): number {
  const chosen = choose(paths, terminal.current).map((c) => ({ chosen: c, units: unitsOf(c, options.unit) }));
  if (options.unit !== undefined && chosen.every((c) => c.units.length === 0)) {
    const names = chosen.flatMap(({ chosen: { project } }) => project.names.namesOf('unit'));
    const near = nearest(options.unit, names);
    throw new Stop(`There is no unit "${options.unit}"${near ? `; did you mean "${near}"?` : '.'}`);
  }
  const findings = chosen.flatMap((c) => findingsOf(c.chosen, []));
  if (options.format === 'json') {
    emit(
      report(
        'cuts',
        chosen.map((c) => cutsJson(c.chosen, c.units, { pathOf: pathOf(terminal) })),
      ),
      options,
      terminal,
    );
  } else if (options.format === 'csv') emit(cutsCsv(chosen), options, terminal);
  else {
    const texts = chosen.map(({ chosen: c, units }) => {
      const { settings } = c.project;
      const extras = options.unit === undefined ? extrasOf(c) : [];
      const steps = options.steps ?? false;
      const single = cutListText(units, settings, { group: 'unit', extras, steps });
      const together =
        options.unit === undefined
          ? `\nAll parts together\n\n${cutListText(units, settings, { group: 'together', extras })}`
          : '';
      return `${settings.title ? `Cut list of ${settings.title}\n\n` : ''}${single}${together}`;
    });
    emit(texts.join('\n'), options, terminal);
  }
  warnOfErrors(findings, terminal);
  return status(findings, options.failOn);
}

function unitsOf(chosen: Chosen, name: string | undefined): Unit[] {
  const units = [...chosen.project.units()].filter(
    (u) => !chosen.files || [...chosen.files].some((f) => chosen.project.sources.get(f) === sourceOf(u)),
  );
  return name === undefined ? units : units.filter((u) => u.name === name);
}

function sourceOf(unit: Unit): unknown {
  const { parent } = unit.declared.statement;
  return parent.kind === 'segment' ? parent.source : undefined;
}

export function plan(paths: readonly string[], options: Common, terminal: Terminal): number {
  const chosen = choose(paths, terminal.current).map((c) => ({
    chosen: { ...c, files: undefined },
    planned: planProject(c.project),
  }));
  const found = chosen.map((c) => ({
    ...c,
    stock: findingsOf(c.chosen, c.planned.findings).filter((f) => f.finding.rule.family === 'stock'),
  }));
  if (options.format === 'json') {
    emit(
      report(
        'plan',
        found.map((f) => planJson(f.chosen, f.planned, f.stock, { pathOf: pathOf(terminal) })),
      ),
      options,
      terminal,
    );
  } else {
    const style = textOptions(options, terminal);
    const texts = found.map(({ chosen: c, planned, stock }) => {
      const { settings } = c.project;
      const findings = stock.map((f) => findingText(f, style));
      return [
        settings.title ? `Cutting plan of ${settings.title}\n` : '',
        planText(planned, settings),
        ...findings.map((f) => `${f}\n`),
      ]
        .filter((t) => t !== '')
        .join('\n');
    });
    emit(texts.join('\n'), options, terminal);
  }
  const all = found.flatMap((f) => findingsOf(f.chosen, f.planned.findings));
  warnOfErrors(
    all.filter((f) => f.finding.rule.family !== 'stock'),
    terminal,
  );
  return status(all, options.failOn);
}

/** Cuts and plans are for what can be computed; that not everything could be is said beside them. */
function warnOfErrors(findings: readonly LocatedFinding[], terminal: Terminal): void {
  const { errors } = countsOf(findings);
  if (errors > 0)
    terminal.err.write(
      `${counted(errors, 'error')} in the project; what they concern is missing here or may be wrong. Run: storypole check\n`,
    );
}

export function explainRule(id: string | undefined, options: Common, terminal: Terminal): number {
  if (id === undefined) {
    if (options.format === 'json')
      emit(
        `${JSON.stringify({ version: 1, tool: 'storypole', command: 'explain', rules }, null, 2)}\n`,
        options,
        terminal,
      );
    else {
      const families = [...new Set(rules.map((r) => r.family))];
      const width = Math.max(...rules.map((r) => r.id.length));
      const texts = families.map((family) =>
        [
          family,
          ...rules
            .filter((r) => r.family === family)
            .map((r) => `  ${r.id.padEnd(width)}  ${r.severity.padEnd(7)}  ${r.title}`),
        ].join('\n'),
      );
      emit(`${texts.join('\n\n')}\n`, options, terminal);
    }
    return 0;
  }
  const rule = ruleNamed(id);
  if (!rule) {
    const near = nearest(
      id,
      rules.map((r) => r.id),
    );
    throw new Stop(`There is no rule "${id}"${near ? `; did you mean "${near}"?` : '. storypole explain lists them.'}`);
  }
  emit(
    options.format === 'json'
      ? `${JSON.stringify({ version: 1, tool: 'storypole', command: 'explain', rules: [rule] }, null, 2)}\n`
      : `${explain(rule)}\n`,
    options,
    terminal,
  );
  return 0;
}

function status(findings: readonly LocatedFinding[], failOn: Severity): number {
  return findings.some((f) => isAtLeast(f.finding.severity, failOn)) ? 1 : 0;
}

function pathOf(terminal: Terminal): (file: string) => string {
  return (file) => shownPath(file, terminal.current);
}

function textOptions(options: Common, terminal: Terminal): TextOptions {
  const toFile = options.output !== undefined;
  return {
    paint: paintFor(toFile ? false : options.color, terminal.out, terminal.environment),
    width: terminal.out.columns || 120,
    pathOf: pathOf(terminal),
  };
}

function emit(text: string, options: Common, terminal: Terminal): void {
  if (options.output !== undefined) writeWhole(options.output, terminal.current, text);
  else terminal.out.write(text);
}
