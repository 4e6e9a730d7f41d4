/** Numbers beside the text that follow from it. */
import { type InlayHint, InlayHintKind, type MarkupContent } from 'vscode-languageserver';
import { type HintKind, hintsIn } from '../../language/inlay-hints.ts';
import { offsetOf, positionOf } from '../convert.ts';
import type { Settings } from '../settings.ts';
import type { Feature } from './feature.ts';
import { foundAgain, type Handle } from './found-again.ts';

export const hinting: Feature = {
  capabilities: { inlayHintProvider: { resolveProvider: true } },
  add: (connection, asking) => {
    const { ask, settings, versionOf } = asking;
    const { inlayHint } = connection.languages;
    inlayHint.on(
      ask('fresh', (snapshot, { textDocument: { uri }, range }): InlayHint[] => {
        const { source, path } = snapshot;
        const touched = { start: offsetOf(source, range.start), end: offsetOf(source, range.end) };
        const version = versionOf(path);
        return hintsIn(snapshot, touched, kindsOf(settings())).map(({ at, kind, label }) => {
          const data: Handle<HintKind> = { uri, version, kind };
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
    const inFull = foundAgain(asking, (snapshot, hint: InlayHint, kind: HintKind | undefined): InlayHint | null => {
      const at = offsetOf(snapshot.source, hint.position);
      const found = hintsIn(snapshot, { start: at, end: at }, kindsOf(settings()));
      // One that says something else by now is asked for anew.
      const why = found.find((own) => own.kind === kind && own.label === hint.label)?.why();
      const tooltip: MarkupContent | undefined = why ? { kind: 'markdown', value: why } : undefined;
      return tooltip ? { ...hint, tooltip } : null;
    });
    inlayHint.resolve(async (hint, token) => {
      const answer = await inFull(hint, token);
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
