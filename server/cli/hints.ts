/** `storypole hints`: the numbers that an editor shows beside the text. */
import { type HintKind, hintsIn } from '../language/inlay-hints.ts';
import type { Answer } from './answer.ts';
import { spotIn, stretchOf } from './at-place.ts';
import { at } from './finding-text.ts';
import { documentOf } from './json.ts';
import { textOfLine } from './names.ts';
import { type Common, sessionFor } from './session.ts';
import { printable } from './words.ts';

export interface HintsOptions extends Common {
  readonly kind?: HintKind;
  readonly why?: boolean;
}

const all: ReadonlySet<HintKind> = new Set<HintKind>(['width', 'height', 'cut', 'value', 'default']);

/** In the order of the text. */
export function hints(written: string, options: HintsOptions): Answer {
  const session = sessionFor(options);
  const { snapshot, range } = stretchOf(written, session.current);
  snapshot.project.refreshNow();
  const kinds = options.kind === undefined ? all : new Set([options.kind]);
  const found = hintsIn(snapshot, range, kinds)
    .sort((a, b) => a.at - b.at)
    .map((hint) => ({ ...hint, spot: spotIn(snapshot.source, { start: hint.at, end: hint.at }) }));
  const remark =
    found.length === 0
      ? `There is nothing ${options.kind === undefined ? '' : `of the kind "${options.kind}" `}to show beside the text of ${written}.`
      : undefined;
  if (options.format === 'json') {
    const listed = found.map(({ kind, label, why, spot: { file, from, start } }) => ({
      kind,
      label,
      file: session.pathOf(file),
      at: { line: from.line + 1, column: from.column + 1, offset: start },
      why: options.why ? why() : null,
    }));
    return { status: 0, result: documentOf('hints', { hints: listed }), remark };
  }
  const lines = found.map(({ label, why, spot }) => {
    const before = textOfLine(spot).slice(0, spot.from.column).trim();
    const line = `${session.paint('bold', at(spot, session))}: ${printable(before)} ${session.paint('cyan', printable(label))}\n`;
    return options.why ? `${line}${printable(why()).replaceAll(/^(?=.)/gm, '  ')}\n\n` : line;
  });
  return { status: 0, result: lines, remark };
}
