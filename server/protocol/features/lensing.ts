/** What stands above templates and units. */
import { type CodeLens, type Location, LSPErrorCodes, ResponseError } from 'vscode-languageserver';
import { type Place, segmentOf, spanOf } from '../../../grammar/tree.ts';
import { type LensKind, lensesOf } from '../../language/code-lens.ts';
import { sourceOf } from '../../language/diagnostics.ts';
import { offsetOf, rangeOf } from '../convert.ts';
import type { Settings } from '../settings.ts';
import type { AboutDocument, Feature } from './feature.ts';

/** The client shows a list of places beside the one that it is given: `(uri, position, locations)`. */
export const showReferences = 'storypole.showReferences';

/**
 * What a lens brings along to be found again, in the text that it was made of. Nothing of the project is kept for it
 * here: that would be all that the project was at the time.
 */
interface Handle {
  readonly uri: string;
  readonly version: number | null;
  readonly kind: LensKind;
}

interface Resolving extends AboutDocument {
  readonly lens: CodeLens;
  readonly handle: Partial<Handle>;
}

export const lensing: Feature = {
  capabilities: { codeLensProvider: { resolveProvider: true } },
  add: (connection, { ask, settings, planFigures, runsCommands, uriOfFile, versionOf }) => {
    const locationOf = (place: Place): Location => ({
      uri: uriOfFile(segmentOf(place.statement).source.id),
      range: rangeOf(sourceOf(place), spanOf(place)),
    });
    connection.onCodeLens(
      ask('fresh', (snapshot, { textDocument: { uri } }): CodeLens[] => {
        const version = versionOf(snapshot.path);
        return lensesOf(snapshot, kindsOf(settings()), planFigures).map((lens) => {
          const data: Handle = { uri, version, kind: lens.kind };
          return { range: rangeOf(snapshot.source, lens), data };
        });
      }),
    );
    const resolve = ask('fresh', (snapshot, { lens, handle }: Resolving): CodeLens | ResponseError => {
      const at = offsetOf(snapshot.source, lens.range.start);
      const found =
        versionOf(snapshot.path) === handle.version
          ? lensesOf(snapshot, kindsOf(settings()), planFigures, { start: at, end: at })
          : [];
      const one = found.find(({ kind, start }) => kind === handle.kind && start === at);
      if (!one) return others();
      const { title, places } = one.say();
      const locations = runsCommands() ? places.map(locationOf) : [];
      // Without a command a lens is there to be read.
      const command =
        locations.length === 0
          ? { title, command: '' }
          : { title, command: showReferences, arguments: [handle.uri, lens.range.start, locations] };
      return { ...lens, command };
    });
    connection.onCodeLensResolve(async (lens, token) => {
      const handle = (lens.data ?? {}) as Partial<Handle>;
      return (await resolve({ textDocument: { uri: String(handle.uri) }, lens, handle }, token)) ?? others();
    });
  },
};

function others(): ResponseError {
  return new ResponseError(LSPErrorCodes.ContentModified, 'the lenses are others now');
}

function kindsOf({ codeLens }: Settings): Set<LensKind> {
  const kinds: readonly [LensKind, boolean][] = [
    ['uses', codeLens.uses],
    ['boards', codeLens.boards],
    ['savings', codeLens.savings],
    ['stock', codeLens.stockLengths],
  ];
  return new Set(kinds.flatMap(([kind, isOn]) => (isOn ? [kind] : [])));
}
