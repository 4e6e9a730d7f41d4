/** What is more than is made: a drawing, a file, a run. It is refused by what it comes to, before memory or a disk is full. */
import type { LimitName } from '../model/limits.ts';
import { limits } from '../model/limits.ts';

/** The message is whole sentences: what comes to more, the numbers, and how to mend it where that is in the text. */
export class TooMuch extends Error {
  /** The message says how to mend it; otherwise whoever asked knows what to ask for instead. */
  readonly isMended: boolean;

  constructor(message: string, isMended: boolean) {
    super(message);
    this.isMended = isMended;
  }
}

/** What there is to do about it, in what is drawn; nothing where another question helps. */
interface Told {
  readonly what: string;
  readonly mend?: string;
}

/** `Back wall, elevation` and such, before what is said of what is inside it. */
export function naming<T>(what: string, make: () => T): T {
  try {
    return make();
  } catch (error) {
    throw error instanceof TooMuch ? new TooMuch(`${what}: ${error.message}`, error.isMended) : error;
  }
}

/** Throws where there is more than the limit has, which a caller may lower. */
export function noMoreThan(
  name: LimitName,
  count: number,
  told: (count: string, most: string) => Told,
  most: number = limits[name].most,
): void {
  if (count <= most) return;
  const { what, mend } = told(count.toLocaleString('en'), most.toLocaleString('en'));
  throw new TooMuch(mend === undefined ? what : `${what} ${mend}`, mend !== undefined);
}

/** Things as one text, separated, no longer than a file of one drawing is to be. */
export function joined<T>(things: readonly T[], textOf: (thing: T) => string, separator: string): string {
  const kept: string[] = [];
  let length = 0;
  for (const thing of things) {
    const piece = textOf(thing);
    length += piece.length + separator.length;
    noMoreThan('largestDrawing', length, tooLarge);
    kept.push(piece);
  }
  return kept.join(separator);
}

function tooLarge(_: string, most: string): Told {
  return {
    what: `As a file this drawing takes more than ${most} characters, the most that one drawing takes.`,
    mend: 'Shorten the names in it, or divide what it shows into several walls or units.',
  };
}
