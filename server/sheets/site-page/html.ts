/** HTML as text: what comes from files goes through `text`, nothing else makes markup. */
import { escaped } from '../drawing/svg.ts';

/** Text of an element or an attribute between quotation marks. */
export function text(value: string | number): string {
  return escaped(String(value));
}

/** JSON for a script element that is not run: no `<` in it, so that nothing ends it early. */
export function json(value: unknown): string {
  return JSON.stringify(value).replace(
    /[<>&\u2028\u2029]/g,
    (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

/** A row with a box to tick, as large as a thumb. `key` says which it is, within its unit. `body` is markup. */
export function boxRow(key: string, body: string): string {
  return `<label class="row"><input type="checkbox" data-box="${text(key)}"><span class="body">${body}</span></label>`;
}

/** A number that is read from a tape. */
export function figure(value: string): string {
  return `<b class="n">${text(value)}</b>`;
}
