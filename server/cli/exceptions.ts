/** `storypole exceptions`: of all units with a survey, which fit as drawn, which are cut otherwise, which need a decision. */
import { type By, differenceOf, type Exception, exceptionsOf, groupsOf, tallyOf } from '../sheets/exceptions.ts';
import { exceptionsText, summarySaid } from '../sheets/exceptions-said.ts';
import { csvOf } from '../sheets/export/csv.ts';
import { exceptionsTable } from '../sheets/export/exception-tables.ts';
import { lengthsAs } from '../sheets/export/table.ts';
import type { Answer } from './answer.ts';
import { documentOf, lengthJson, rangeJson } from './json.ts';
import { each } from './json-text.ts';
import { findingsOf, spot } from './located.ts';
import { type Common, doNotCut, type Session, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { type Chosen, choose, unitsOf } from './targets.ts';
import { printable } from './words.ts';

export interface ExceptionsOptions extends Common {
  readonly by?: By | undefined;
  /** End with 1 where a unit needs a decision. */
  readonly exitCode?: boolean | undefined;
}

interface Asked {
  readonly chosen: Chosen;
  readonly exceptions: readonly Exception[];
}

/** Throws Stop where there is nothing to look at, or more than one project for a table. */
export function exceptions(paths: readonly string[], options: ExceptionsOptions): Answer {
  const session = sessionFor(options);
  const asked = choose(paths, session.current).map(
    (chosen): Asked => ({
      chosen,
      exceptions: exceptionsOf(chosen.project, unitsOf(chosen)),
    }),
  );
  const decides = asked.some((one) => tallyOf(one.exceptions).decision > 0);
  const findings = asked.flatMap(({ chosen }) => findingsOf({ ...chosen, files: undefined }, []));
  return {
    status: options.exitCode && decides ? 1 : 0,
    result: written(asked, options, session),
    remark: doNotCut(findings),
  };
}

function written(asked: readonly Asked[], { format, by }: ExceptionsOptions, session: Session): Iterable<string> {
  switch (format) {
    case 'json':
      return documentOf('exceptions', { projects: each(asked, (one) => projectJson(one, session)) });
    case 'csv': {
      const [only, second] = asked;
      if (second || !only)
        throw new Stop(`A CSV is of one project, and there are ${asked.length}. Name the folder of one.`);
      return csvOf(exceptionsTable(only), lengthsAs(undefined, only.chosen.project.settings.show));
    }
    case 'text':
      return asked.map((one) => projectText(one, by, session));
  }
}

function projectText(
  { chosen, exceptions: all }: Asked,
  by: By | undefined,
  { width, paint, pathOf }: Session,
): string {
  const { show, title } = chosen.project.settings;
  const name = printable(title === '' ? pathOf(chosen.root) : title);
  const head = `${paint('bold', name)}: ${summarySaid(all)}\n`;
  if (all.length === 0) return `${head}Surveys come from tables by storypole import, or are written by hand.\n`;
  const groups = by === undefined ? [{ name: undefined, exceptions: all }] : groupsOf(all, by);
  return `${head}\n${printable(exceptionsText(groups, show, width, by))}`;
}

function projectJson({ chosen, exceptions: all }: Asked, { pathOf }: Session): object {
  const { show, title } = chosen.project.settings;
  const groups = (by: By): object[] =>
    groupsOf(all, by).map(({ name, exceptions: own }) => ({ name: name ?? null, counts: countsJson(own) }));
  return {
    title,
    root: pathOf(chosen.root),
    counts: countsJson(all),
    floors: groups('floor'),
    templates: groups('template'),
    exceptions: each(all, ({ unit, template, verdict, wall, cuts, most, others, findings }) => ({
      unit: unit.name,
      floor: unit.floor ?? null,
      template: template ?? null,
      verdict,
      wall: wall ? { name: wall.wall, off: lengthJson(wall.off, show) } : null,
      cuts: cuts.map((change) => ({
        part: change.of,
        before: change.before && 'ticks' in change.before ? lengthJson(change.before.ticks, show) : null,
        after: change.after && 'ticks' in change.after ? lengthJson(change.after.ticks, show) : null,
        difference: lengthJson(differenceOf(change) as typeof most, show),
      })),
      most: lengthJson(most, show),
      others: others.map(({ of, what }) => ({ of, what })),
      findings: findings.map(({ severity, rule, message, place }) => ({
        severity,
        rule: rule.id,
        message,
        range: rangeJson(spot(place), pathOf),
      })),
      range: rangeJson(spot({ statement: unit.declared.statement, ...unit.declared.statement.head }), pathOf),
    })),
  };
}

function countsJson(own: readonly Exception[]): object {
  const tally = tallyOf(own);
  return { decision: tally.decision, cutLengths: tally['cut-lengths'], fits: tally.fits };
}
