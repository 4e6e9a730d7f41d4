/** What stands above templates and units. */
import { type CodeLens, type Location, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { type Place, segmentOf, spanOf } from '../../../grammar/tree.ts';
import { type Lens, type LensKind, lensesOf } from '../../language/code-lens.ts';
import { sourceOf } from '../../language/diagnostics.ts';
import { rangeOf } from '../convert.ts';
import { createLater } from '../later.ts';
import type { Settings } from '../settings.ts';
import type { Feature } from './feature.ts';

/** The client shows a list of places beside the one that it is given: `(uri, position, locations)`. */
export const showReferences = 'storypole.showReferences';

/** The lenses of so many documents can be asked about. */
const mostKept = 20;

export const lensing: Feature = {
  capabilities: { codeLensProvider: { resolveProvider: true } },
  add: (connection, { ask, settings, planFigures, runsCommands, uriOfFile, log }) => {
    const shown = createLater<Lens & { readonly uri: string }>(mostKept);
    const locationOf = (place: Place): Location => ({
      uri: uriOfFile(segmentOf(place.statement).source.id),
      range: rangeOf(sourceOf(place), spanOf(place)),
    });
    connection.onCodeLens(
      ask('fresh', (snapshot, { textDocument: { uri } }): CodeLens[] => {
        const lenses = lensesOf(snapshot, kindsOf(settings()), planFigures);
        const list = shown.keep(
          uri,
          lenses.map((lens) => ({ ...lens, uri })),
        );
        return lenses.map((lens, index) => ({ range: rangeOf(snapshot.source, lens), data: { list, index } }));
      }),
    );
    connection.onCodeLensResolve((asked) => {
      const lens = shown.find(asked.data);
      if (!lens) return new ResponseError(LSPErrorCodes.ContentModified, 'the lenses have been asked for anew');
      try {
        const { title, places } = lens.say();
        const locations = runsCommands() ? places.map(locationOf) : [];
        // Without a command a lens is there to be read.
        const command =
          locations.length === 0
            ? { title, command: '' }
            : { title, command: showReferences, arguments: [lens.uri, asked.range.start, locations] };
        return { ...asked, command };
      } catch (error) {
        log(error);
        return { ...asked, command: { title: '', command: '' } };
      }
    });
  },
};

function kindsOf({ codeLens }: Settings): Set<LensKind> {
  const kinds: readonly [LensKind, boolean][] = [
    ['uses', codeLens.uses],
    ['boards', codeLens.boards],
    ['savings', codeLens.savings],
    ['stock', codeLens.stockLengths],
  ];
  return new Set(kinds.flatMap(([kind, isOn]) => (isOn ? [kind] : [])));
}
