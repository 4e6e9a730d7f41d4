/** Between offsets and the protocol's lines and UTF-16 columns; between our plain data and its types. */
import {
  DiagnosticSeverity,
  type Position,
  type Diagnostic as ProtocolDiagnostic,
  type Range as ProtocolRange,
} from 'vscode-languageserver';
import type { Source } from '../../grammar/source.ts';
import type { Range } from '../../grammar/tree.ts';
import type { Diagnostic } from '../language/diagnostics.ts';
import type { Severity } from '../model/rule.ts';

export function positionOf(source: Source, offset: number): Position {
  const { line, column } = source.positionAt(offset);
  return { line, character: column };
}

export function rangeOf(source: Source, { start, end }: Range): ProtocolRange {
  return { start: positionOf(source, start), end: positionOf(source, end) };
}

export function offsetOf(source: Pick<Source, 'offsetAt'>, { line, character }: Position): number {
  return source.offsetAt({ line, column: character });
}

const severities: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  note: DiagnosticSeverity.Information,
};

/** Where a client finds what is named. */
export interface Links {
  readonly uriOfFile: (file: string) => string;
  /** The page of a rule; undefined where there is none, or the client opens none. */
  readonly pageOf: (rule: string) => string | undefined;
}

export function protocolDiagnostic(
  source: Source,
  diagnostic: Diagnostic,
  { uriOfFile, pageOf }: Links,
): ProtocolDiagnostic {
  const { rule, severity, message, related } = diagnostic;
  const href = pageOf(rule);
  return {
    range: rangeOf(source, diagnostic),
    severity: severities[severity],
    code: rule,
    ...(href !== undefined && { codeDescription: { href } }),
    source: 'storypole',
    message,
    ...(related.length > 0 && {
      relatedInformation: related.map((r) => ({
        location: { uri: uriOfFile(r.source.id), range: rangeOf(r.source, r) },
        message: r.message,
      })),
    }),
  };
}
