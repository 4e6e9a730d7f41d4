/** `storypole takeoff`: hardware, anchors and screws of a project, with the packs to buy. */
import { type By, groupsOf, priceOf, takeoffOf } from '../sheets/takeoff.ts';
import { takeoffText } from '../sheets/takeoff-text.ts';
import type { Answer } from './answer.ts';
import { documentOf } from './json.ts';
import { each } from './json-text.ts';
import { findingsOf } from './located.ts';
import { noUnit } from './not-there.ts';
import { doNotCut, type Judging, type Session, sessionFor, statusOf } from './session.ts';
import type { Counted } from './takeoff-asked.ts';
import { takeoffCsv } from './takeoff-csv.ts';
import { takeoffJson } from './takeoff-json.ts';
import { choose, unitsOf } from './targets.ts';
import { capital, money, printable } from './words.ts';

export interface TakeoffOptions extends Judging {
  /** One unit alone. */
  readonly unit?: string | undefined;
  /** A section for each. */
  readonly by?: By | undefined;
  /** What each count is for. */
  readonly steps?: boolean | undefined;
}

/** Throws Stop where there is nothing to look at, or no unit of the name. */
export function takeoff(paths: readonly string[], options: TakeoffOptions): Answer {
  const session = sessionFor(options);
  const all = choose(paths, session.current).map((chosen): Counted => {
    const units = unitsOf(chosen).filter(({ name }) => options.unit === undefined || name === options.unit);
    return {
      chosen,
      units,
      by: options.by,
      groups: options.by === undefined ? [] : groupsOf(units, options.by),
      findings: findingsOf({ ...chosen, files: undefined }, []),
    };
  });
  if (options.unit !== undefined && all.every(({ units }) => units.length === 0)) throw noUnit(options.unit, all);
  const asked = options.unit === undefined ? all : all.filter(({ units }) => units.length > 0);
  const findings = asked.flatMap((one) => one.findings);
  return {
    status: statusOf(findings, options.failOn),
    result: written(asked, options, session),
    // The text says it itself.
    remark: options.format === 'text' ? undefined : doNotCut(findings),
  };
}

function written(asked: readonly Counted[], options: TakeoffOptions, session: Session): Iterable<string> {
  switch (options.format) {
    case 'json':
      return documentOf('takeoff', { projects: each(asked, (one) => takeoffJson(one, session.pathOf)) });
    case 'csv':
      return takeoffCsv(asked);
    case 'text':
      return [asked.map((one) => asText(one, options, session)).join('\n')];
  }
}

const caution =
  "What pulls out of a wall falls on somebody: the hardware maker's instructions and the local code come first.";

function asText({ chosen, units, groups, by, findings }: Counted, options: TakeoffOptions, session: Session): string {
  const { paint, pathOf, width } = session;
  const { settings } = chosen.project;
  const title = settings.title === '' ? pathOf(chosen.root) : settings.title;
  const shown = { money: (hundredths: number) => money(hundredths, settings.currency), width };
  const steps = options.steps ?? false;
  const parts = [paint('bold', `Takeoff: ${printable(title)}`)];
  const warning = doNotCut(findings);
  if (warning !== undefined) parts.push(paint('red', warning));
  for (const group of groups) {
    const name = group.name === undefined ? `Without ${by}` : `${capital(by ?? '')} ${group.name}`;
    parts.push(
      paint('bold', printable(name)),
      printable(takeoffText(takeoffOf(group.units), { ...shown, packs: false, steps })),
    );
  }
  if (groups.length > 0) parts.push(paint('bold', 'All together'));
  const total = takeoffOf(units);
  parts.push(printable(takeoffText(total, { ...shown, packs: true, steps: steps && groups.length === 0 })));
  const price = priceOf(total);
  if (total.hardware.length > 0) {
    parts.push(
      price === undefined
        ? 'What it costs is not known: not all hardware has a pack and a price.'
        : `All packs together: ${shown.money(price)}, screws not counted.`,
    );
    parts.push(caution);
  }
  return `${parts.join('\n\n')}\n`;
}
