/** Findings as an editor shows them: file by file, in offsets as of now. */
import type { Source } from '../../grammar/source.ts';
import { type Place, segmentOf, spanOf } from '../../grammar/tree.ts';
import type { Finding } from '../model/finding.ts';
import { limits } from '../model/limits.ts';
import { withinLimit } from '../model/most-findings.ts';
import type { Severity } from '../model/rule.ts';

export interface Diagnostic {
  readonly start: number;
  readonly end: number;
  readonly rule: string;
  readonly severity: Severity;
  readonly message: string;
  readonly related: readonly {
    readonly source: Source;
    readonly start: number;
    readonly end: number;
    readonly message: string;
  }[];
}

/** At most so many units are named behind a message. */
const mostReached = 3;

/** The source that a place is in. */
export function sourceOf(place: Place): Source {
  // Every segment is made by a Source, which is what it knows of its file.
  return segmentOf(place.statement).source as Source;
}

/** Findings by the file they are in; files without any are not in it. */
export function byFile(findings: readonly Finding[]): Map<Source, Finding[]> {
  const files = new Map<Source, Finding[]>();
  for (const finding of findings) {
    const source = sourceOf(finding.place);
    const list = files.get(source);
    if (list) list.push(finding);
    else files.set(source, [finding]);
  }
  for (const [source, list] of files)
    if (list.length > limits.mostShown.most) files.set(source, withinLimit(list, 'mostShown'));
  return files;
}

export function diagnosticOf(finding: Finding): Diagnostic {
  const { start, end } = spanOf(finding.place);
  return {
    start,
    end,
    rule: finding.rule.id,
    severity: finding.severity,
    message: messageOf(finding),
    related: finding.related.map(({ place, message }) => ({ source: sourceOf(place), ...spanOf(place), message })),
  };
}

/** What is wrong, how to mend it, and which units a mistake of a template reaches. */
export function messageOf({ message, advice, reach }: Finding): string {
  const units =
    reach.length > 1
      ? ` (${reach.length} units: ${reach.slice(0, mostReached).join(', ')}${reach.length > mostReached ? ', ...' : ''})`
      : '';
  return `${message}${units}${advice ? `\n${advice}` : ''}`;
}
