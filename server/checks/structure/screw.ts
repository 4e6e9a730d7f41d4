/** The size of a screw as people write it: `#8 x 1-1/2 in`, `1/4 x 3 in`, `5 x 60 mm`. Metres. */
import { INCH } from './units.ts';

export interface Screw {
  readonly kind: 'screw';
  /** Number of an inch screw, undefined where the diameter is written. */
  readonly gauge: number | undefined;
  /** Of the shank and over the threads, m. */
  readonly diameter: number;
  readonly length: number;
  /** Length of the thread, from the point, m. */
  readonly thread: number;
}

export interface Unreadable {
  readonly kind: 'unreadable';
  /** A sentence part: `no length is given after "x"`. */
  readonly why: string;
}

/** Thread of a wood screw as a part of its length: two thirds (ASME B18.6.1 as used by NDS appendix L; from memory). */
const THREADED = 2 / 3;

/** Inch sizes run to number 24 (ASME B18.6.1). */
const GREATEST_GAUGE = 24;

/**
 * Diameter of number n, m: 0.060 in + 0.013 in n (ASME B18.6.1, NDS appendix L).
 * Undefined for what is not a number of a screw.
 */
export function gaugeDiameter(gauge: number): number | undefined {
  const isGauge = Number.isInteger(gauge) && gauge >= 0 && gauge <= GREATEST_GAUGE;
  return isGauge ? ((60 + 13 * gauge) * INCH) / 1000 : undefined;
}

const sizeText =
  /^(?<size>#\s*\d+|[\d./\s-]+?)\s*(?<own>mm|in|")?\s*[x×*]\s*(?<length>[\d./\s-]+?)\s*(?:(?<unit>mm|in|")(?:\s+\D.*)?)?$/i;

/**
 * Reads the size of a screw. The unit stands last and holds for both numbers; a number alone (`#8`) is inches.
 * Words may follow the unit: `#6 x 1-1/4 in self-drilling`.
 */
export function readScrew(text: string): Screw | Unreadable {
  const known = read.get(text);
  if (known) return known;
  const made = readAfresh(text);
  if (read.size >= mostRead) read.clear();
  read.set(text, made);
  return made;
}

/** A building has a dozen sizes of screws, and asks for them in every unit. */
const mostRead = 1000;
const read = new Map<string, Screw | Unreadable>();

function readAfresh(text: string): Screw | Unreadable {
  const parts = sizeText.exec(text.trim())?.groups;
  if (!parts) return unreadable('it does not read like `#8 x 1-1/2 in` or `5 x 60 mm`');
  const { size = '', own, length: lengthText = '', unit } = parts;
  const isNumbered = size.startsWith('#');
  const scale = unitOf(unit) ?? unitOf(own) ?? (isNumbered ? INCH : undefined);
  if (scale === undefined) return unreadable('it names no unit: end it with `in` or `mm`');
  const number = amount(lengthText);
  if (number === undefined) return unreadable('the length is not a number');
  const gauge = isNumbered ? Number(size.slice(1)) : undefined;
  if (gauge !== undefined && unitOf(unit) !== undefined && scale !== INCH) {
    return unreadable('numbers of screws go with inches');
  }
  const written = gauge === undefined ? amount(size) : undefined;
  const diameter = gauge === undefined ? written && written * (unitOf(own) ?? scale) : gaugeDiameter(gauge);
  if (!diameter)
    return unreadable(gauge === undefined ? 'the diameter is not a number' : `there is no screw #${gauge}`);
  const length = number * scale;
  if (length <= diameter) return unreadable('it is shorter than it is thick');
  return { kind: 'screw', gauge, diameter, length, thread: length * THREADED };
}

function unreadable(why: string): Unreadable {
  return { kind: 'unreadable', why };
}

function unitOf(unit: string | undefined): number | undefined {
  if (unit === undefined) return undefined;
  return unit.toLowerCase() === 'mm' ? 0.001 : INCH;
}

/** `3`, `1.5`, `3/4`, `1-1/2` or `1 1/2`; undefined where it is none of them, or nought. */
function amount(text: string): number | undefined {
  const parts = /^(?:(?<whole>\d+)(?:\s*-\s*|\s+))?(?<above>\d+)\/(?<below>\d+)$|^(?<plain>\d+(?:\.\d+)?|\.\d+)$/.exec(
    text.trim(),
  )?.groups;
  if (!parts) return undefined;
  const value =
    parts.plain === undefined
      ? Number(parts.whole ?? 0) + Number(parts.above) / Number(parts.below)
      : Number(parts.plain);
  return Number.isFinite(value) && value > 0 ? value : undefined;
}
