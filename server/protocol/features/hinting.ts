/** Numbers beside the text that follow from it. */
import { type InlayHint, InlayHintKind, type MarkupContent } from 'vscode-languageserver';
import { type Hint, type HintKind, hintsIn } from '../../language/inlay-hints.ts';
import { offsetOf, positionOf } from '../convert.ts';
import { createLater } from '../later.ts';
import type { Settings } from '../settings.ts';
import { type Feature, safely } from './feature.ts';

/** The hints of so many documents can be asked about. */
const mostKept = 20;

export const hinting: Feature = {
  capabilities: { inlayHintProvider: { resolveProvider: true } },
  add: (connection, asking) => {
    const shown = createLater<Hint>(mostKept);
    const { inlayHint } = connection.languages;
    inlayHint.on(
      asking.ask('fresh', (snapshot, { textDocument, range }): InlayHint[] => {
        const { source } = snapshot;
        const touched = { start: offsetOf(source, range.start), end: offsetOf(source, range.end) };
        const hints = hintsIn(snapshot, touched, kindsOf(asking.settings()));
        const list = shown.keep(textDocument.uri, hints);
        return hints.map(({ at, kind, label }, index) => ({
          position: positionOf(source, at),
          label,
          paddingLeft: true,
          ...(kind === 'default' && { kind: InlayHintKind.Parameter }),
          data: { list, index },
        }));
      }),
    );
    inlayHint.resolve((hint) =>
      Promise.resolve(
        safely(asking, hint, () => {
          const why = shown.find(hint.data)?.why();
          const tooltip: MarkupContent | undefined = why ? { kind: 'markdown', value: why } : undefined;
          return tooltip ? { ...hint, tooltip } : hint;
        }),
      ),
    );
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
