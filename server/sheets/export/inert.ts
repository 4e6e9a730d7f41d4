/**
 * Text that a spreadsheet would take for a formula: what files say is anybody's text, and opening a list must never run
 * it. Leading =, +, -, @, tab and carriage return, as OWASP lists them ("CSV Injection"), and their full-width forms.
 */
const formula = /^[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/u;

export function looksLikeFormula(text: string): boolean {
  return formula.test(text);
}
