/** `storypole complete` and `signature`: what an editor offers while one types, for whoever writes without one. */
import { completionsAt, waitsForValues } from '../language/completion.ts';
import type { Completion } from '../language/offer.ts';
import { type Signature, signatureAt } from '../language/signature.ts';
import type { Answer } from './answer.ts';
import { atPlace, spotIn } from './at-place.ts';
import { documentOf, rangeJson } from './json.ts';
import { type Common, type Session, sessionFor } from './session.ts';
import { Stop } from './stop.ts';
import { printable } from './words.ts';

export interface CompleteOptions extends Common {
  readonly docs?: boolean;
}

/** What may be written at a place, the best first. Nothing is an answer too, and said beside it. */
export function complete(written: string, options: CompleteOptions): Answer {
  const session = sessionFor(options);
  const { snapshot, offset } = atPlace(written, session.current);
  if (waitsForValues(snapshot, offset)) snapshot.project.refreshNow();
  const offered = completionsAt(snapshot, offset).sort((a, b) => a.rank - b.rank);
  const remark = offered.length === 0 ? `Nothing is offered at ${written}.${hintOf(written)}` : undefined;
  if (options.format === 'json') {
    const items = offered.map(({ kind, label, text, snippet, detail, doc, ...range }) => ({
      kind,
      label,
      detail: detail ?? null,
      doc: doc?.() ?? null,
      text,
      snippet: snippet ?? null,
      replaces: rangeJson(spotIn(snapshot.source, range), session.pathOf),
    }));
    return { status: 0, result: documentOf('complete', { completions: items }), remark };
  }
  const width = Math.max(0, ...offered.map(({ label }) => label.length).filter((length) => length <= mostPadded));
  return { status: 0, result: offered.map((one) => offerText(one, width, options, session)), remark };
}

/** What may help whoever named a line alone. */
function hintOf(written: string): string {
  return /:\d+:\d+$/.test(written) ? '' : ' Without a column, the first name of the line is meant.';
}

/** Labels that are longer stand out of line by themselves. */
const mostPadded = 32;

function offerText(
  { label, detail, doc }: Completion,
  width: number,
  options: CompleteOptions,
  { paint }: Session,
): string {
  const said = detail ? `  ${paint('dim', printable(detail))}` : '';
  const shown = printable(label);
  const line = `${paint('bold', shown)}${said && ' '.repeat(Math.max(0, width - shown.length))}${said}\n`;
  const text = options.docs ? doc?.() : undefined;
  return text ? `${line}${indented(text)}\n` : line;
}

function indented(text: string): string {
  return printable(text.trim())
    .split('\n')
    .map((line) => (line === '' ? '\n' : `  ${line}\n`))
    .join('');
}

/** The phrase that is being written at a place, or what a unit gives its template. Throws Stop where nothing is. */
export function signature(written: string, options: Common): Answer {
  const session = sessionFor(options);
  const { snapshot, offset } = atPlace(written, session.current);
  const found = signatureAt(snapshot, offset);
  if (!found)
    throw new Stop(
      `No phrase is being written at ${written}. Ask behind the first word of a statement, or in a unit.${hintOf(written)}`,
    );
  if (options.format !== 'json') return { status: 0, result: [signatureText(found, session)] };
  const { label, doc, parts, active } = found;
  const listed = parts.map((part) => ({ text: label.slice(part.start, part.end), ...part }));
  return {
    status: 0,
    result: documentOf('signature', { signature: { label, doc, parts: listed, active: active ?? null } }),
  };
}

/** The phrase with carets under the part that is being written. */
function signatureText({ label, doc, parts, active }: Signature, { paint }: Session): string {
  const part = active === undefined ? undefined : parts[active];
  const carets = part ? `${' '.repeat(part.start)}${paint('cyan', '^'.repeat(part.end - part.start))}\n` : '';
  const about = part && part.doc !== '' ? `${label.slice(part.start, part.end)}: ${part.doc}\n\n` : '';
  return `${paint('bold', printable(label))}\n${carets}\n${printable(about)}${printable(doc.trim())}\n`;
}
