/** Lengths as people write them with a pencil, brought into the form of the language. */

const number = String.raw`(\d+(?:[.,]\d+)?|\d+[-\s]\d+\/\d+|\d+\/\d+)`;
const feet = new RegExp(String.raw`^(\d+)\s*(?:ft|')[-\s]*(?:${number}\s*(?:in|")?)?$`);
const plain = new RegExp(String.raw`^${number}\s*(in|"|mm|cm|m|ft|')?$`);

/** `96 3/16` becomes `96-3/16in`, `8' 1/4"` becomes `8ft 1/4in`; undefined where it is no length. */
export function lengthWritten(typed: string, system: 'inches' | 'millimetres'): string | undefined {
  const text = typed
    .trim()
    .toLowerCase()
    .replace(/[\u2032\u2019]/g, "'")
    .replace(/[\u2033\u201d]|''/g, '"')
    .replace(/\s+/g, ' ');
  const one = plain.exec(text);
  if (one) {
    const value = numberWritten(one[1] ?? '');
    const unit = one[2] === '"' ? 'in' : one[2] === "'" ? 'ft' : (one[2] ?? (system === 'inches' ? 'in' : 'mm'));
    return value === undefined ? undefined : `${value}${unit}`;
  }
  const both = feet.exec(text);
  if (!both) return undefined;
  const rest = both[2] === undefined ? undefined : numberWritten(both[2]);
  if (both[2] !== undefined && rest === undefined) return undefined;
  return rest === undefined ? `${both[1]}ft` : `${both[1]}ft ${rest}in`;
}

/** Whole, decimal, a fraction, or mixed with a hyphen; nothing over nothing is none, and neither is 0. */
function numberWritten(text: string): string | undefined {
  const plainText = text.replace(',', '.').replace(' ', '-');
  const fraction = /(?:(\d+)-)?(\d+)\/(\d+)$/.exec(plainText);
  if (fraction) return Number(fraction[3]) === 0 || Number(fraction[2]) === 0 ? undefined : plainText;
  return Number(plainText) > 0 ? plainText : undefined;
}
