/** A cell of a table read as a length or an angle: exact, or with what is wrong with it. */
import { LONGEST, TICKS_PER_INCH, TICKS_PER_MM, type Ticks, ticks } from '../../model/ticks.ts';
import { type Cell, plainText } from './cells.ts';
import { type Measure, measureOf, ticksPer, unknownMeasure } from './measures.ts';

export interface HowToRead {
  /** Of a number that says none itself. */
  readonly measure: Measure | undefined;
  readonly decimalComma: boolean;
}

export interface ReadLength {
  readonly length: Ticks;
  /** The unit of measure that it was written in; that of the last part of feet and inches. */
  readonly measure: Measure;
}

/** In sentences: what is wrong, and what to write instead. */
export interface NotRead {
  readonly wrong: string;
  /** A number without a unit of measure where nothing says it: to be asked for once, not of each cell. */
  readonly lacksMeasure?: true;
  /** The same of a decimal comma. */
  readonly hasComma?: true;
}

/** What stands in the way of reading a cell at all; undefined where nothing does. */
export function oddityOf(cell: Cell): string | undefined {
  const { oddity } = cell;
  switch (oddity?.kind) {
    case 'formula':
      return `This is a formula (=${shortened(oddity.formula)}), whose value may be out of date. Copy the column and paste it as values.`;
    case 'merged':
      return `It is merged with others (${oddity.range}), so that it is not clear which of them it is about. Unmerge them and fill in each.`;
    case 'error':
      return 'A formula came to an error here. Write what was measured.';
    default:
      return undefined;
  }
}

function shortened(text: string): string {
  return text.length > 40 ? `${text.slice(0, 39)}…` : text;
}

export function readLength(cell: Cell, how: HowToRead): ReadLength | NotRead {
  const odd = oddityOf(cell);
  if (odd !== undefined) return { wrong: odd };
  if (cell.oddity?.kind === 'date') return { wrong: datedText(cell.text) };
  if (cell.number !== undefined) {
    const { suffix = '' } = cell;
    const own = measureOf(suffix);
    // Brackets and such are no unit of measure; a word is meant for one.
    if (own === undefined && /\p{L}/u.test(suffix)) return { wrong: unknownMeasure(suffix) };
    const measure = own ?? how.measure;
    return measure ? fromNumber(cell.number, measure) : { wrong: lackingMeasure(cell.number), lacksMeasure: true };
  }
  return fromText(plainText(cell), how);
}

function lackingMeasure(number: number | string): string {
  return `The number ${number} has no unit of measure, and neither has the heading of its column.`;
}

/** Spreadsheets keep binary fractions: what is off by less than a hundredth of a tick is what was meant. */
function fromNumber(number: number, measure: Measure): ReadLength | NotRead {
  const exact = number * ticksPer[measure];
  const whole = Math.round(exact);
  if (!Number.isSafeInteger(whole)) return { wrong: 'That is no length of a wall.' };
  if (Math.abs(exact - whole) > 0.01) return { wrong: tooFine(exact, measure) };
  return inBounds(whole, measure);
}

function inBounds(length: number, measure: Measure): ReadLength | NotRead {
  if (length < 0) return { wrong: 'A length is not negative.' };
  if (length > LONGEST) return { wrong: 'That is longer than a kilometre.' };
  return { length: ticks(length), measure };
}

/** A tick is the finest length there is; what lies between two is not rounded in silence. */
function tooFine(exact: number, measure: Measure): string {
  const step = measure === 'inches' || measure === 'feet' ? TICKS_PER_INCH / 64 : TICKS_PER_MM / 10;
  const [below, above] = [Math.floor(exact / step) * step, Math.ceil(exact / step) * step];
  return `That is finer than a length can be held. The nearest to write are ${lengthWritten(ticks(below), measure)} and ${lengthWritten(ticks(above), measure)}.`;
}

const months = 'jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec';
const dates: readonly RegExp[] = [
  new RegExp(`^(?<day>\\d{1,2})[-/. ]{0,2}(?<name>${months})[a-z]*\\.?([-/. ]\\d{2,4})?$`, 'i'),
  new RegExp(`^(?<name>${months})[a-z]*\\.?[-/. ](?<day>\\d{1,2})([-/., ]+\\d{2,4})?$`, 'i'),
  new RegExp(`^(?<name>${months})[a-z]*\\.?[-/. ]\\d{4}$`, 'i'),
  /^\d{4}-(?<month>\d{1,2})-(?<day>\d{1,2})([T ].*)?$/,
  /^(?<month>\d{1,2})\/(?<day>\d{1,2})\/(\d{2}|\d{4})$/,
  /^(?<day>\d{1,2})\.(?<month>\d{1,2})\.(\d{2}|\d{4})$/,
];

function dateIn(text: string): { readonly month: number; readonly day: number | undefined } | undefined {
  for (const pattern of dates) {
    const groups = pattern.exec(text)?.groups;
    if (!groups) continue;
    const month = groups.name ? months.split('|').indexOf(groups.name.toLowerCase()) + 1 : Number(groups.month);
    return { month, day: groups.day === undefined ? undefined : Number(groups.day) };
  }
  return undefined;
}

function datedText(text: string): string {
  const { month, day } = dateIn(text) ?? {};
  const fraction =
    month !== undefined && day !== undefined && month < day && [2, 4, 8, 16, 32, 64].includes(day)
      ? `${month}/${day}`
      : undefined;
  return fraction === undefined
    ? 'This is a date, and a length was expected: a spreadsheet takes what is typed like 1/16 for one. Make the column text, and type the length again.'
    : `This is a date, and a length was expected: a spreadsheet took ${fraction} for one. Make the column text, and type ${fraction}" again.`;
}

const fractions: Readonly<Record<string, string>> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

/** `93`, `93.75`, `3/4`, `93-3/4`, `93 3/4`. */
const amount = String.raw`\d+(?:\.\d+)?(?:(?:\s*-\s*|\s+)\d+\/\d+)?|\.\d+|\d+\/\d+`;
const oneUnit = new RegExp(`^(${amount})\\s*([a-z'"]+\\.?|)$`, 'i');
const feetAndInches = new RegExp(
  `^(\\d+)\\s*(?:'|ft\\.?|feet|foot)\\s*-?\\s*(${amount})\\s*(?:"|''|in\\.?|inch|inches)?$`,
  'i',
);
/** `7-9 3/4` in a column of feet. */
const feetByHyphen = /^(\d+)\s*-\s*(\d+(?:\.\d+)?(?:\s+\d+\/\d+)?)$/;

function fromText(written: string, how: HowToRead): ReadLength | NotRead {
  if (written.startsWith('='))
    return {
      wrong: 'This is a formula that was never worked out. Make the column text, and write what was measured.',
    };
  if (/^#+$|^#[A-Z/0!?]+$/.test(written))
    return { wrong: 'A formula came to an error here, or the column was too narrow. Write what was measured.' };
  if (dateIn(written)) return { wrong: datedText(written) };
  let text = written
    .replaceAll(/[\u2033\u201d\u201c]/g, '"')
    .replaceAll(/[\u2032\u2019\u2018]/g, "'")
    .replaceAll('\u2044', '/')
    .replaceAll(/[\u2010-\u2013\u2212]/g, '-')
    .replaceAll(/(\d?)\s*([½¼¾⅛⅜⅝⅞])/g, (_, before: string, sign: string) =>
      before === '' ? (fractions[sign] ?? '') : `${before}-${fractions[sign] ?? ''}`,
    );
  if (how.decimalComma && /(?:\d|^|\s)\.\d/.test(text))
    return {
      wrong:
        'There is a point in the number, and in this table a comma stands for decimals (as was said for it, or is kept in the mapping file): the point may stand for thousands, or be a slip. Write whole numbers without it, and decimals with a comma.',
    };
  if (/\d,\d/.test(text)) {
    const isDecimal = /^(?:\d+\s*(?:'|ft\.?|feet|foot)\s*-?\s*)?\d+,\d+\D*$/i.test(text);
    if (!isDecimal)
      return {
        wrong: how.decimalComma
          ? 'There are commas in it that cannot stand for decimals. Write one number with one comma at most, such as 93,75in or 2381,5mm.'
          : 'There is a comma within a number. Write it without, and decimals with a point.',
      };
    if (!how.decimalComma)
      return {
        wrong: `There is a comma in the number: it may stand for decimals (${text.replace(',', '.')}) or for thousands.`,
        hasComma: true,
      };
    text = text.replace(',', '.');
  }
  if (text.startsWith('-')) return { wrong: 'A length is not negative.' };
  const both = feetAndInches.exec(text);
  if (both) return added(ratioOf(both[1] ?? ''), 'feet', ratioOf(both[2] ?? ''));
  const one = oneUnit.exec(text);
  if (one) {
    const [, number = '', word = ''] = one;
    if (how.measure === 'feet' && word === '') {
      const hyphened = feetByHyphen.exec(number);
      if (hyphened && !/^\d+\s*-\s*\d+\/\d+$/.test(number))
        return added(ratioOf(hyphened[1] ?? ''), 'feet', ratioOf(hyphened[2] ?? ''));
    }
    const measure = word === '' ? how.measure : measureOf(word);
    if (measure) return exactly(ratioOf(number), measure);
    if (word === '') return { wrong: lackingMeasure(written), lacksMeasure: true };
    return { wrong: unknownMeasure(word) };
  }
  const hyphened = feetByHyphen.exec(text);
  if (hyphened && how.measure === 'feet') return added(ratioOf(hyphened[1] ?? ''), 'feet', ratioOf(hyphened[2] ?? ''));
  if (hyphened && how.measure === undefined) return { wrong: lackingMeasure(written), lacksMeasure: true };
  return { wrong: 'A length was expected, such as 93-3/4in, 7ft 9-3/4in or 2381mm.' };
}

interface Ratio {
  readonly over: bigint;
  readonly under: bigint;
}

/** Undefined of a fraction by nothing. */
function ratioOf(text: string): Ratio | undefined {
  const [, whole = '', decimals = '', over, under] =
    /^(\d*)(?:\.(\d+))?(?:[\s-]*(?<![/\d])(\d+)\/(\d+))?$/.exec(text) ?? /^()()(\d+)\/(\d+)$/.exec(text) ?? [];
  const scale = 10n ** BigInt(Math.min(decimals.length, 30));
  const number = BigInt(`${whole}${decimals.slice(0, 30)}` || '0');
  if (over === undefined || under === undefined) return { over: number, under: scale };
  const below = BigInt(under);
  return below === 0n ? undefined : { over: number * below + BigInt(over) * scale, under: scale * below };
}

function exactly(ratio: Ratio | undefined, measure: Measure): ReadLength | NotRead {
  if (!ratio) return { wrong: 'There is a fraction by nothing in it.' };
  const per = BigInt(ticksPer[measure]);
  const product = ratio.over * per;
  if (product / ratio.under > BigInt(Number.MAX_SAFE_INTEGER)) return { wrong: 'That is longer than a kilometre.' };
  if (product % ratio.under !== 0n) return { wrong: tooFine(Number(product) / Number(ratio.under), measure) };
  return inBounds(Number(product / ratio.under), measure);
}

function added(feet: Ratio | undefined, first: Measure, inches: Ratio | undefined): ReadLength | NotRead {
  const [a, b] = [exactly(feet, first), exactly(inches, 'inches')];
  if ('wrong' in a) return a;
  if ('wrong' in b) return b;
  return inBounds(a.length + b.length, 'inches');
}

/** A whole number of degrees and decimals of it: `91`, `91.5°`, `91.5deg`. */
export function readAngle(cell: Cell, { decimalComma }: HowToRead): { readonly degrees: number } | NotRead {
  const odd = oddityOf(cell);
  if (odd !== undefined) return { wrong: odd };
  if (cell.oddity?.kind === 'date') return { wrong: 'This is a date, and an angle in degrees was expected.' };
  let text = cell.number === undefined ? plainText(cell) : String(cell.number);
  if (/\d,\d/.test(text)) {
    if (!decimalComma) return { wrong: 'There is a comma in the number.', hasComma: true };
    text = text.replace(',', '.');
  }
  const match = /^(\d{1,3}(?:\.\d{1,6})?)\s*(?:°|deg(?:rees?)?)?$/i.exec(text);
  const degrees = Number(match?.[1]);
  if (!match) return { wrong: 'An angle in degrees was expected, such as 90.5.' };
  if (degrees < 20 || degrees > 340)
    return { wrong: 'The whole angle inside the room was expected, such as 90.5, and not by how much it is off.' };
  return { degrees };
}

/** As it is written in a file, exactly: in fractions of an inch or in millimetres, as it was measured. */
export function lengthWritten(length: Ticks, measure: Measure): string {
  if (measure === 'inches' || measure === 'feet') {
    const parts = (length * 64) / TICKS_PER_INCH;
    if (Number.isInteger(parts)) {
      let [over, under] = [parts % 64, 64];
      while (over > 0 && over % 2 === 0) [over, under] = [over / 2, under / 2];
      const whole = Math.floor(parts / 64);
      if (over === 0) return `${whole}in`;
      return `${whole > 0 ? `${whole}-` : ''}${over}/${under}in`;
    }
    const thousandths = (length * 10_000) / TICKS_PER_INCH;
    if (Number.isInteger(thousandths)) return `${thousandths / 10_000}in`;
  }
  // A tick is 25 nm: six decimals of a millimetre hold every length.
  const millimetres = (length / TICKS_PER_MM).toFixed(6).replace(/\.?0+$/, '');
  return `${millimetres}mm`;
}
