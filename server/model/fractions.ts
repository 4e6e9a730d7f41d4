/** Exact fractions: what counts and money are computed with, so that 0.1 + 0.2 is 0.3 and a third of three is one. */

export interface Fraction {
  readonly numerator: bigint;
  /** Above 0, and without a divisor in common with the numerator. */
  readonly denominator: bigint;
}

/** More digits than anybody writes; a chain of products is stopped here before it fills the memory. */
const LARGEST = 1n << 512n;

/** Undefined where it would have more digits than are computed with. The denominator is not 0. */
export function fraction(numerator: bigint, denominator: bigint): Fraction | undefined {
  const divisor = greatestDivisor(
    numerator < 0n ? -numerator : numerator,
    denominator < 0n ? -denominator : denominator,
  );
  const by = denominator < 0n ? -divisor : divisor;
  const [above, below] = [numerator / by, denominator / by];
  return above < LARGEST && above > -LARGEST && below < LARGEST ? { numerator: above, denominator: below } : undefined;
}

function greatestDivisor(a: bigint, b: bigint): bigint {
  let [x, y] = [a, b];
  while (y > 0n) [x, y] = [y, x % y];
  return x;
}

/** What the shortest decimal says that means this number: 7/10 for 0.7, which is no number of a computer. */
export function fractionOfNumber(amount: number): Fraction | undefined {
  if (Number.isSafeInteger(amount)) return { numerator: BigInt(amount), denominator: 1n };
  const [, sign = '', whole = '', decimals = '', power = '0'] =
    /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/.exec(String(amount)) ?? [];
  if (whole === '') return undefined;
  const digits = BigInt(`${whole}${decimals}`) * (sign === '-' ? -1n : 1n);
  const tens = Number(power) - decimals.length;
  return tens >= 0 ? fraction(digits * 10n ** BigInt(tens), 1n) : fraction(digits, 10n ** BigInt(-tens));
}

/** The nearest number; the even one of two that are as near. */
export function nearestNumber({ numerator, denominator }: Fraction): number {
  const [above, below] = [Number(numerator), Number(denominator)];
  if (Number.isSafeInteger(above) && Number.isSafeInteger(below)) return above / below;
  const size = numerator < 0n ? -numerator : numerator;
  // So many binary digits that rounding them once more decides nothing; what is cut off is kept as one more digit.
  const shift = BigInt(Math.max(0, 70 - (binaryDigits(size) - binaryDigits(denominator))));
  const scaled = size << shift;
  const quotient = (scaled / denominator) * 2n + (scaled % denominator > 0n ? 1n : 0n);
  return (Number(quotient) / 2 ** (Number(shift) + 1)) * (numerator < 0n ? -1 : 1);
}

function binaryDigits(size: bigint): number {
  return size.toString(2).length;
}

export function roundedDown({ numerator, denominator }: Fraction): bigint {
  const quotient = numerator / denominator;
  return numerator < 0n && quotient * denominator !== numerator ? quotient - 1n : quotient;
}

/** Undefined where it has too many digits, or for a division by zero, which whoever asks tells first. */
export function computed(operator: '+' | '-' | '*' | '/', a: Fraction, b: Fraction): Fraction | undefined {
  switch (operator) {
    case '+':
      return fraction(a.numerator * b.denominator + b.numerator * a.denominator, a.denominator * b.denominator);
    case '-':
      return fraction(a.numerator * b.denominator - b.numerator * a.denominator, a.denominator * b.denominator);
    case '*':
      return fraction(a.numerator * b.numerator, a.denominator * b.denominator);
    case '/':
      return b.numerator === 0n ? undefined : fraction(a.numerator * b.denominator, a.denominator * b.numerator);
  }
}
