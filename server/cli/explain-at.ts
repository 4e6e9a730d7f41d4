/** `storypole explain --at FILE:LINE`: every comparison about what stands there, with every number on the way. */
import { offsetOf } from '../../grammar/tree.ts';
import type { Lacked, Looked } from '../checks/check.ts';
import { fittingsOf } from '../checks/say.ts';
import { sourceLine } from '../model/rule.ts';
import type { Show } from '../model/show.ts';
import type { Answer } from './answer.ts';
import { checkLine, closetFile } from './at-place.ts';
import { type CoveredUnits, coveredUnits } from './coverage.ts';
import { comparisonText } from './finding-text.ts';
import { comparisonJson, documentOf } from './json.ts';
import { spot } from './located.ts';
import { type Common, type Session, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { choose } from './targets.ts';
import { capital, counted, someOf } from './words.ts';

interface At {
  readonly file: string;
  /** From 1. */
  readonly line: number;
}

interface Told {
  readonly units: readonly string[];
  readonly looked: readonly Looked[];
  readonly lacked: readonly Lacked[];
}

/** Throws Stop where the place is not written as one, or nothing was compared there. */
export function explainAt(written: string, options: Common): Answer {
  const session = sessionFor(options);
  const { typed, line } = placeIn(written);
  const file = closetFile(typed, session.current);
  const [chosen] = choose([file], session.current);
  const source = chosen?.project.sources.get(file);
  if (!chosen || !source) throw new Stop(`${typed} cannot be read.`);
  checkLine(source, typed, line);
  const at: At = { file, line: Number(line) };
  const { show } = chosen.project.settings;
  const told = [...coveredUnits({ ...chosen, files: undefined })].flatMap((covered) => toldAt(covered, at));
  if (told.length === 0) {
    throw new Stop(
      `No rule compared anything at ${written}. Name the line of a shelf, rod, drawer, wall or fixture of a template that a unit uses.`,
    );
  }
  if (options.format === 'json')
    return { status: 0, result: documentOf('explain-at', { comparisons: told.map((one) => toldJson(one, show)) }) };
  return { status: 0, result: [`${told.map((one) => toldText(one, show, session)).join('\n\n')}\n`] };
}

function placeIn(written: string): { readonly typed: string; readonly line: string } {
  const [, typed, line] = /^(.+?):(\d+)(?::\d+)?$/.exec(written) ?? [];
  if (typed === undefined || line === undefined)
    throw new Stop(`"${written}" is no place. Write a file and a line: templates/reach-in.closet:12`);
  return { typed, line };
}

function toldAt({ units, coverage }: CoveredUnits, at: At): Told[] {
  const [first] = units;
  const layout = first?.resolved?.layout;
  if (!layout) return [];
  const here = new Set(
    fittingsOf(layout)
      .filter(({ place }) => covers(place.statement, at))
      .map(({ path }) => path),
  );
  const isHere = ({ about, place }: Looked | Lacked): boolean => here.has(about) || covers(place.statement, at);
  const looked = coverage.covered.flatMap((rule) => rule.looked.filter(isHere));
  const lacked = coverage.covered.flatMap((rule) => rule.lacked.filter(isHere));
  return looked.length + lacked.length === 0 ? [] : [{ units: units.map(({ name }) => name), looked, lacked }];
}

/** Whether a statement, its block included, stands on the line. */
function covers(statement: Looked['place']['statement'], { file, line }: At): boolean {
  const whole = spot({ statement, start: 0, end: statement.text.length });
  if (whole.file !== file) return false;
  const head = whole.source.positionAt(offsetOf(statement) + statement.head.start).line + 1;
  return head <= line && line <= whole.to.line + 1;
}

function toldText({ units, looked, lacked }: Told, show: Show, { paint }: Session): string {
  const title = units.length === 1 ? (units[0] ?? '') : `${someOf(units, 6)} (${counted(units.length, 'unit')} alike)`;
  const lines = [paint('bold', title)];
  for (const { rule, comparison, holds, working = [] } of looked) {
    lines.push(
      `  ${paint(holds ? 'green' : 'red', holds ? 'holds' : 'does not hold')} ${rule.id}: ${comparisonText(comparison, show)}`,
    );
    for (const { what, value, how } of working)
      lines.push(`    ${what} = ${value}${how === undefined ? '' : `  (${how})`}`);
    lines.push(`    ${paint('dim', sourceLine(rule.source))}${rule.caution ? paint('dim', `; ${rule.caution}`) : ''}`);
  }
  for (const { rule, needs } of lacked) lines.push(`  ${paint('yellow', 'not compared')} ${rule.id}: lacks ${needs}`);
  return lines.join('\n');
}

function toldJson({ units, looked, lacked }: Told, show: Show): object {
  return {
    units,
    compared: looked.map(({ rule, about, comparison, holds, working }) => ({
      rule: rule.id,
      about,
      comparison: comparisonJson(comparison, show),
      holds,
      working: working ?? [],
      source: capital(sourceLine(rule.source)),
      caution: rule.caution ?? null,
    })),
    lacks: lacked.map(({ rule, about, needs }) => ({ rule: rule.id, about, needs })),
  };
}
