/** Texts that tell of something, in the kind that the client has said it shows. source: Language Server Protocol 3.17, MarkupContent. */
import { type ClientCapabilities, type MarkupContent, MarkupKind } from 'vscode-languageserver';
import { unmarked } from '../language/unmarked.ts';

/** Kinds in the order in which the client prefers them; one that names none is told in Markdown. */
export function documented(markdown: string, kinds: readonly MarkupKind[] | undefined): MarkupContent {
  return (kinds?.[0] ?? MarkupKind.Markdown) === MarkupKind.Markdown
    ? { kind: MarkupKind.Markdown, value: markdown }
    : { kind: MarkupKind.PlainText, value: unmarked(markdown) };
}

export const ofHover = ({ textDocument }: ClientCapabilities): MarkupKind[] | undefined =>
  textDocument?.hover?.contentFormat;
export const ofCompletion = ({ textDocument }: ClientCapabilities): MarkupKind[] | undefined =>
  textDocument?.completion?.completionItem?.documentationFormat;
export const ofSignature = ({ textDocument }: ClientCapabilities): MarkupKind[] | undefined =>
  textDocument?.signatureHelp?.signatureInformation?.documentationFormat;
