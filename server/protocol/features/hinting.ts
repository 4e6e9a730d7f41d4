/** Numbers beside the text that follow from it. */
import { type InlayHint, InlayHintKind, type MarkupContent } from 'vscode-languageserver';
import { type HintKind, hintsIn } from '../../language/inlay-hints.ts';
import { offsetOf, positionOf } from '../convert.ts';
import type { Settings } from '../settings.ts';
import type { AboutDocument, Feature } from './feature.ts';

/** What a hint brings along to be found again, in the text that it was made of. Nothing of the project is kept for it. */
interface Handle {
  readonly uri: string;
  readonly version: number | null;
  readonly kind: HintKind;
}

interface Resolving extends AboutDocument {
  readonly hint: InlayHint;
  readonly handle: Partial<Handle>;
}

export const hinting: Feature = {
  capabilities: { inlayHintProvider: { resolveProvider: true } },
  add: (connection, { ask, settings, versionOf }) => {
    const { inlayHint } = connection.languages;
    inlayHint.on(
      ask('fresh', (snapshot, { textDocument: { uri }, range }): InlayHint[] => {
        const { source, path } = snapshot;
        const touched = { start: offsetOf(source, range.start), end: offsetOf(source, range.end) };
        const version = versionOf(path);
        return hintsIn(snapshot, touched, kindsOf(settings())).map(({ at, kind, label }) => {
          const data: Handle = { uri, version, kind };
          return {
            position: positionOf(source, at),
            label,
            paddingLeft: true,
            ...(kind === 'default' && { kind: InlayHintKind.Parameter }),
            data,
          };
        });
      }),
    );
    const resolve = ask('fresh', (snapshot, { hint, handle }: Resolving): InlayHint => {
      if (versionOf(snapshot.path) !== handle.version) return hint;
      const at = offsetOf(snapshot.source, hint.position);
      const found = hintsIn(snapshot, { start: at, end: at }, kindsOf(settings()));
      // One that says something else by now is asked for anew.
      const why = found.find(({ kind, label }) => kind === handle.kind && label === hint.label)?.why();
      const tooltip: MarkupContent | undefined = why ? { kind: 'markdown', value: why } : undefined;
      return tooltip ? { ...hint, tooltip } : hint;
    });
    inlayHint.resolve(async (hint, token) => {
      const handle = (hint.data ?? {}) as Partial<Handle>;
      const answer = await resolve({ textDocument: { uri: String(handle.uri) }, hint, handle }, token);
      return answer && 'position' in answer ? answer : hint;
    });
  },
};

function kindsOf({ inlayHints }: Settings): Set<HintKind> {
  const kinds: readonly [HintKind, boolean][] = [
    ['width', inlayHints.widths],
    ['height', inlayHints.heights],
    ['cut', inlayHints.cutLengths],
    ['value', inlayHints.values],
    ['default', inlayHints.defaults],
  ];
  return new Set(kinds.flatMap(([kind, isOn]) => (isOn ? [kind] : [])));
}
