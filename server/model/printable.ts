/** Text of anybody's, where it is shown to people. */

/** Characters that steer a terminal or turn the direction of writing are shown as what they are: not to be read. */
export function printable(text: string): string {
  return text.replace(/[\p{Cc}\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/gu, (c) =>
    c === '\t' || c === '\n' ? c : '\ufffd',
  );
}
