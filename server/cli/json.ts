/** What `--format json` writes, as report-schema.ts describes it: what all commands share, and findings. */
import type { Compared, Comparison } from '../model/finding.ts';
import { type Show, showLength } from '../model/show.ts';
import { TICKS_PER_MM, type Ticks } from '../model/ticks.ts';
import { jsonPieces } from './json-text.ts';
import { countsOf, type LocatedFinding, type Spot, spot } from './located.ts';
import { type Chosen, filesOf } from './targets.ts';
import { tool } from './tool.ts';
import { money } from './words.ts';

/** Rises when a reader of the older shape would read something wrong; new fields alone do not raise it. */
export const schemaVersion = 1;

export type PathOf = (file: string) => string;

/** A whole document in pieces, with a line end at its end. `body` may hold lists that are made as they are written. */
export function* documentOf(command: string, body: object): Generator<string> {
  yield* jsonPieces({ version: schemaVersion, tool, command, ...body });
  yield '\n';
}

/** What every command says of a project; `findings` are all in its chosen files. */
export function projectHead(chosen: Chosen, findings: readonly LocatedFinding[], pathOf: PathOf): object {
  const { title, currency, show } = chosen.project.settings;
  return {
    title,
    root: pathOf(chosen.root),
    declared: !chosen.alone,
    files: filesOf(chosen).map(pathOf),
    show: show.system,
    currency: currency ?? null,
    counts: countsOf(findings),
  };
}

/** A length: exact in ticks of 25 nm, in millimetres, and as the project shows it. */
export function lengthJson(length: Ticks, show: Show): object {
  return { ticks: length, mm: length / TICKS_PER_MM, text: showLength(length, show) };
}

export function lengthOrNull(length: Ticks | undefined, show: Show): object | null {
  return length === undefined ? null : lengthJson(length, show);
}

export function moneyJson(hundredths: number, currency: string | undefined): object {
  return { hundredths, text: money(hundredths, currency) };
}

/** Lines and columns from 1, offsets from 0; columns and offsets in UTF-16 code units; the end is exclusive. */
export function rangeJson({ file, start, end, from, to }: Spot, pathOf: PathOf): object {
  return {
    file: pathOf(file),
    start: { line: from.line + 1, column: from.column + 1, offset: start },
    end: { line: to.line + 1, column: to.column + 1, offset: end },
  };
}

export function comparisonJson({ what, measured, relation, limit }: Comparison, show: Show): object {
  const compared = (amount: Compared): object => ('ticks' in amount ? lengthJson(amount.ticks, show) : amount);
  return { what, measured: compared(measured), relation, limit: compared(limit) };
}

export function findingJson(located: LocatedFinding, pathOf: PathOf): object {
  const { finding, show } = located;
  const { rule, severity, message, advice, about, comparison, working, related, reach, fixes } = finding;
  return {
    rule: rule.id,
    family: rule.family,
    severity,
    message,
    advice: advice ?? null,
    range: rangeJson(located, pathOf),
    about: about ?? null,
    comparison: comparison ? comparisonJson(comparison, show) : null,
    working: working ?? [],
    related: related.map((other) => ({ message: other.message, range: rangeJson(spot(other.place), pathOf) })),
    reach,
    fixes: fixes.map(({ title, edits }) => ({
      title,
      edits: edits.map(({ place, text }) => ({ range: rangeJson(spot(place), pathOf), text })),
    })),
  };
}
