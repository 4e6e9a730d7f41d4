/** Commas in a list of studs: between two of them, or within a number. */

/** Not behind or before a fraction, or another mark of decimals: those show where a number ends. */
const withinNumber = /(?<![\d/.])\d+,\d+(?![\d/.]|\s*-\s*\d+\/|\s+\d+\/)/;
/** `1,212`: longer walls than of a hundred thousand nobody builds in. */
const thousands = /(?<![\d/.])\d{1,2},\d{3}(?![\d/])/;

/** Why a list that is parted with commas cannot be read, where nobody said that they stand for decimals. */
export function commaDoubt(text: string): string | undefined {
  const isOne = text.split(',').length === 2;
  const isMixed = /,\s/.test(text);
  const isUnlikely =
    /^\d+(?:,\d+)+\D*$/.test(text) && !isInOrder(text.split(',').map((piece) => Number.parseInt(piece, 10)));
  const isDoubtful = thousands.test(text) || (withinNumber.test(text) && (isOne || isMixed || isUnlikely));
  return isDoubtful
    ? 'A comma may part two studs here, or stand within a number. Part the studs with semicolons, and write a number without a comma and its decimals with a point.'
    : undefined;
}

/** Studs are found one behind the other, from either end. */
function isInOrder(all: readonly number[]): boolean {
  const follow = (sign: 1 | -1): boolean => all.every((one, i) => i === 0 || (one - (all[i - 1] as number)) * sign > 0);
  return follow(1) || follow(-1);
}
