/**
 * Formatting: of a file (which is what format on save asks for), of a selection, and while typing. There is one style: what
 * a client says of tabs and their size is not asked.
 */
import type { Range as ProtocolRange, TextEdit } from 'vscode-languageserver';
import type { Edit, Source } from '../../../grammar/source.ts';
import type { Range } from '../../../grammar/tree.ts';
import { formattingEdits, rangeFormattingEdits, typedCharacters, typedEdits } from '../../language/formatting.ts';
import { offsetOf, rangeOf } from '../convert.ts';
import { type Feature, offsetAt } from './feature.ts';

const [first, ...more] = typedCharacters;

export const formatting: Feature = {
  capabilities: {
    documentFormattingProvider: true,
    documentRangeFormattingProvider: { rangesSupport: true },
    documentOnTypeFormattingProvider: { firstTriggerCharacter: first, moreTriggerCharacter: more },
  },
  add: (connection, { ask }) => {
    connection.onDocumentFormatting(ask('now', (snapshot) => textEdits(snapshot.source, formattingEdits(snapshot))));
    connection.onDocumentRangeFormatting(
      ask('now', (snapshot, { range }) => {
        return textEdits(snapshot.source, rangeFormattingEdits(snapshot, [selected(snapshot.source, range)]));
      }),
    );
    connection.onDocumentRangesFormatting(
      ask('now', (snapshot, { ranges }) => {
        const stretches = ranges.map((range) => selected(snapshot.source, range));
        return textEdits(snapshot.source, rangeFormattingEdits(snapshot, stretches));
      }),
    );
    connection.onDocumentOnTypeFormatting(
      ask('now', (snapshot, params) =>
        textEdits(snapshot.source, typedEdits(snapshot, offsetAt(snapshot, params), params.ch)),
      ),
    );
  },
};

function selected(source: Source, { start, end }: ProtocolRange): Range {
  return { start: offsetOf(source, start), end: offsetOf(source, end) };
}

function textEdits(source: Source, edits: readonly Edit[]): TextEdit[] {
  return edits.map((edit) => ({ range: rangeOf(source, edit), newText: edit.text }));
}
