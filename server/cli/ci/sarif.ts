/** Findings as SARIF 2.1.0 (OASIS), for forges and viewers that read it. */

import { pathToFileURL } from 'node:url';
import { rules } from '../../checks/table.ts';
import { capital } from '../../model/capital.ts';
import type { Fix } from '../../model/finding.ts';
import { printable } from '../../model/printable.ts';
import { type Rule, type Severity, sourceLine } from '../../model/rule.ts';
import { jsonPieces } from '../json-text.ts';
import { type LocatedFinding, type Spot, spot } from '../located.ts';
import { tool } from '../tool.ts';
import { fingerprintVersion } from './fingerprint.ts';

export interface SarifFinding {
  readonly located: LocatedFinding;
  readonly fingerprint: string;
  /** Against a list of known findings; absent without one. */
  readonly state?: 'new' | 'unchanged' | 'absent';
}

const levels: Readonly<Record<Severity, 'error' | 'warning' | 'note'>> = {
  error: 'error',
  warning: 'warning',
  note: 'note',
};

export function* sarifPieces(findings: readonly SarifFinding[], pathOf: (file: string) => string): Generator<string> {
  const used = [...new Set(findings.map(({ located }) => located.finding.rule))];
  // Rules that say nothing this time are listed too: a viewer shows what was looked for.
  const listed = [...rules, ...used.filter((rule) => !rules.includes(rule))];
  const indexOf = new Map(listed.map((rule, i) => [rule, i]));
  yield* jsonPieces({
    $schema: 'https://json.schemastore.org/sarif-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: { name: tool.name, semanticVersion: tool.version, version: tool.version, rules: listed.map(ruleOf) },
        },
        invocations: [{ executionSuccessful: true }],
        // Columns count UTF-16 code units, as everywhere in this tool.
        columnKind: 'utf16CodeUnits',
        results: findings.map((one) => resultOf(one, indexOf, pathOf)),
      },
    ],
  });
  yield '\n';
}

function ruleOf(rule: Rule): object {
  const { id, title, explanation, severity, source, caution, comparison, family } = rule;
  const more = [
    ...(comparison === undefined ? [] : [`Compared: ${comparison}.`]),
    `${sourceLine(source).replace(/^s/, 'S')}.`,
    ...(caution === undefined ? [] : [caution]),
  ];
  return {
    id,
    name: pascal(id),
    shortDescription: { text: sentence(title) },
    fullDescription: { text: explanation },
    help: { text: [explanation, ...more].join('\n\n') },
    defaultConfiguration: { level: levels[severity] },
    properties: { tags: [family] },
  };
}

/** `RodTooHigh`: SARIF wants a name that reads as one word beside the id. */
function pascal(id: string): string {
  return id.replaceAll(/(?:^|-)(\w)/g, (_, letter: string) => letter.toUpperCase());
}

function sentence(title: string): string {
  const text = capital(title);
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

function resultOf(
  { located, fingerprint, state }: SarifFinding,
  indexOf: ReadonlyMap<Rule, number>,
  pathOf: (file: string) => string,
): object {
  const { finding } = located;
  const { rule, severity, message, advice, related, fixes, reach, about } = finding;
  return {
    ruleId: rule.id,
    ruleIndex: indexOf.get(rule) ?? -1,
    level: levels[severity],
    message: { text: said(advice === undefined ? message : `${message} ${advice}`) },
    locations: [
      {
        ...physical(located, pathOf),
        ...(about !== undefined && { logicalLocations: [{ fullyQualifiedName: about }] }),
      },
    ],
    ...(related.length > 0 && {
      relatedLocations: related.map((other, i) => ({
        id: i + 1,
        message: { text: said(other.message) },
        ...physical(spot(other.place), pathOf),
      })),
    }),
    partialFingerprints: { [`storypoleFinding/v${fingerprintVersion}`]: fingerprint },
    ...(state !== undefined && { baselineState: state }),
    ...(fixes.length > 0 && { fixes: fixes.map((fix) => fixOf(fix, pathOf)) }),
    ...(reach.length > 0 && { properties: { reach } }),
  };
}

function physical(at: Spot, pathOf: (file: string) => string): object {
  return { physicalLocation: { artifactLocation: artifact(at, pathOf), region: regionOf(at) } };
}

function artifact({ file }: Spot, pathOf: (file: string) => string): object {
  const shown = pathOf(file);
  // A path outside the current folder is written whole.
  if (shown.startsWith('/') || /^[A-Za-z]:/.test(shown)) return { uri: pathToFileURL(shown).href };
  return { uri: shown.split('/').map(encodeURIComponent).join('/'), uriBaseId: '%SRCROOT%' };
}

function regionOf({ from, to, start, end }: Spot): object {
  return {
    startLine: from.line + 1,
    startColumn: from.column + 1,
    endLine: to.line + 1,
    endColumn: to.column + 1,
    charOffset: start,
    charLength: end - start,
  };
}

function fixOf({ title, edits }: Fix, pathOf: (file: string) => string): object {
  const byFile = Map.groupBy(
    edits.map(({ place, text }) => ({ at: spot(place), text })),
    ({ at }) => at.file,
  );
  return {
    description: { text: title },
    artifactChanges: [...byFile.values()].map((changes) => ({
      artifactLocation: artifact((changes[0] as (typeof changes)[number]).at, pathOf),
      replacements: changes.map(({ at, text }) => ({ deletedRegion: regionOf(at), insertedContent: { text } })),
    })),
  };
}

/**
 * A message may hold links, written [text](place), and whatever shows it makes them work: what a file says leads nowhere.
 * source: SARIF 2.1.0, section 3.11.6
 */
function said(text: string): string {
  return printable(text).replaceAll('](', '] (');
}
