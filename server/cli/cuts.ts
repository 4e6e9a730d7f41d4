/** `storypole cuts`: every part with its finished length. */
import type { Unit } from '../model/project.ts';
import { cutListText } from '../sheets/cut-list.ts';
import type { Answer } from './answer.ts';
import { cutsCsv } from './csv.ts';
import { documentOf } from './json.ts';
import { cutsJson } from './json-cuts.ts';
import { each } from './json-text.ts';
import { findingsOf, type LocatedFinding } from './located.ts';
import { noUnit } from './not-there.ts';
import { doNotCut, type Judging, type Session, sessionFor, statusOf } from './session.ts';
import { type Chosen, choose, extrasOf, sparesOf, unitsOf } from './targets.ts';
import { listed, printable } from './words.ts';

export interface CutsOptions extends Judging {
  /** One unit alone. */
  readonly unit?: string | undefined;
  /** How each length came about. */
  readonly steps?: boolean | undefined;
}

interface Listed {
  readonly chosen: Chosen;
  readonly units: readonly Unit[];
  /** Of the whole project: a list can be wrong through an error anywhere in it. */
  readonly findings: readonly LocatedFinding[];
}

/** Throws Stop where there is nothing to look at, or no unit of the name. */
export function cuts(paths: readonly string[], options: CutsOptions): Answer {
  const session = sessionFor(options);
  const named = options.unit;
  const all = choose(paths, session.current).map((chosen): Listed => {
    const units = unitsOf(chosen);
    return {
      chosen,
      units: named === undefined ? units : units.filter(({ name }) => name === named),
      findings: findingsOf({ ...chosen, files: undefined }, []),
    };
  });
  if (named !== undefined && all.every(({ units }) => units.length === 0)) throw noUnit(named, all);
  const asked = named === undefined ? all : all.filter(({ units }) => units.length > 0);
  const findings = asked.flatMap((list) => list.findings);
  return {
    status: statusOf(findings, options.failOn),
    result: written(asked, options, session),
    // The text says it itself.
    remark: options.format === 'text' ? undefined : doNotCut(findings),
  };
}

function written(asked: readonly Listed[], options: CutsOptions, session: Session): Iterable<string> {
  const withExtras = options.unit === undefined;
  switch (options.format) {
    case 'json':
      return documentOf('cuts', {
        projects: each(asked, ({ chosen, units, findings }) =>
          cutsJson(chosen, units, withExtras, findings, session.pathOf),
        ),
      });
    case 'csv':
      return cutsCsv(
        asked.map(({ chosen, units }) => ({
          chosen,
          units,
          extras: withExtras ? extrasOf(chosen) : [],
          spares: withExtras ? sparesOf(chosen) : [],
        })),
      );
    case 'text':
      return [asked.map((list) => asText(list, options, session)).join('\n')];
  }
}

function asText({ chosen, units, findings }: Listed, options: CutsOptions, session: Session): string {
  const { paint, pathOf, width } = session;
  const { settings } = chosen.project;
  const title = settings.title === '' ? pathOf(chosen.root) : settings.title;
  const parts = [paint('bold', `Cut list: ${printable(title)}`)];
  const caution = doNotCut(findings);
  if (caution !== undefined) parts.push(paint('red', caution));
  const alone = options.unit !== undefined;
  const hasErrors = caution !== undefined;
  const extras = alone ? [] : extrasOf(chosen);
  const spares = alone ? [] : sparesOf(chosen);
  if (units.length === 0 && extras.length === 0 && spares.length === 0) parts.push(nothingIn(chosen, pathOf));
  else {
    parts.push(
      cutListText(units, settings, {
        group: 'alike',
        extras,
        width,
        steps: options.steps ?? false,
        hasErrors,
      }).trimEnd(),
    );
    if (!alone) {
      parts.push(paint('bold', 'All parts together'));
      parts.push(cutListText(units, settings, { group: 'together', extras, spares, width, hasErrors }).trimEnd());
    }
  }
  return `${parts.join('\n\n')}\n`;
}

function nothingIn({ files }: Chosen, pathOf: (file: string) => string): string {
  const where = files ? ` in ${listed([...files].map(pathOf))}` : '';
  return `No unit and no loose part is declared${where}, so there is nothing to cut.`;
}
