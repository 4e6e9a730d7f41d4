/** What stands above templates and units. */
import { type CodeLens, type Location, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { type Place, segmentOf, spanOf } from '../../../grammar/tree.ts';
import { type LensKind, lensesOf } from '../../language/code-lens.ts';
import { sourceOf } from '../../language/diagnostics.ts';
import { offsetOf, rangeOf } from '../convert.ts';
import type { Settings } from '../settings.ts';
import type { Feature } from './feature.ts';
import { foundAgain, type Handle } from './found-again.ts';

/** The client shows a list of places beside the one that it is given: `(uri, position, locations)`. */
export const showReferences = 'storypole.showReferences';

export const lensing: Feature = {
  capabilities: { codeLensProvider: { resolveProvider: true } },
  add: (connection, asking) => {
    const { ask, settings, planFigures, runsCommands, uriOfFile, versionOf } = asking;
    const locationOf = (place: Place): Location => ({
      uri: uriOfFile(segmentOf(place.statement).source.id),
      range: rangeOf(sourceOf(place), spanOf(place)),
    });
    connection.onCodeLens(
      ask('fresh', (snapshot, { textDocument: { uri } }): CodeLens[] => {
        const version = versionOf(snapshot.path);
        return lensesOf(snapshot, kindsOf(settings()), planFigures).map((lens) => {
          const data: Handle<LensKind> = { uri, version, kind: lens.kind };
          return { range: rangeOf(snapshot.source, lens), data };
        });
      }),
    );
    const inFull = foundAgain(asking, (snapshot, lens: CodeLens, kind: LensKind | undefined): CodeLens | null => {
      const at = offsetOf(snapshot.source, lens.range.start);
      const found = lensesOf(snapshot, kindsOf(settings()), planFigures, { start: at, end: at });
      const one = found.find((own) => own.kind === kind && own.start === at);
      if (!one) return null;
      const { title, places } = one.say();
      const locations = runsCommands() ? places.map(locationOf) : [];
      // Without a command a lens is there to be read.
      const command =
        locations.length === 0
          ? { title, command: '' }
          : { title, command: showReferences, arguments: [uriOfFile(snapshot.path), lens.range.start, locations] };
      return { ...lens, command };
    });
    connection.onCodeLensResolve(
      async (lens, token) =>
        (await inFull(lens, token)) ?? new ResponseError(LSPErrorCodes.ContentModified, 'the lenses are others now'),
    );
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
