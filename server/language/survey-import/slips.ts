/** Slips of the unit of measure, found by comparing what was measured with what is drawn. */
import { capital } from '../../model/capital.ts';
import { TICKS_PER_INCH, type Ticks } from '../../model/ticks.ts';
import { lengthWritten } from './lengths.ts';
import { type Measure, measures, ticksPer } from './measures.ts';

interface Said {
  readonly value: Ticks;
  readonly written: string;
}

/** A wall that is built is seldom a quarter off what is drawn; what was measured in another unit is off by its factor. */
const near = 0.25;

/** As many times as what is drawn, or as few: then nobody has measured that wall. */
const far = 2;

/** In sentences, where a length can only be a slip; undefined where it may be so. `read` tells the unit it was taken to be in. */
export function farOff(
  { value, written }: Said,
  drawn: Ticks | undefined,
  what: string,
  read: () => Measure | undefined,
): string | undefined {
  if (value === 0) {
    const asDrawn = drawn === undefined ? '' : `: ${lengthWritten(drawn, read() ?? 'inches')} is drawn of ${what}`;
    return `Read as ${written}, and nothing that is built is so short${asDrawn}. Write what was measured, or empty the cell where nothing was.`;
  }
  if (drawn === undefined || drawn <= 0) return undefined;
  const ratio = value / drawn;
  if (Math.abs(ratio - 1) <= near) return undefined;
  const as = read();
  const said = `Read as ${written}, that is ${times(ratio)} the ${lengthWritten(drawn, as ?? 'inches')} that is drawn of ${what}.`;
  const meant = as && measures.find((other) => other !== as && isNear((value / ticksPer[as]) * ticksPer[other], drawn));
  if (meant)
    return `${said} ${capital(meant)} where ${as} were expected? Say which unit of measure it is, or write it in ${as}.`;
  if (ratio > far || ratio < 1 / far) return `${said} Measure again, or look whether it is another wall.`;
  return undefined;
}

/** A reading above the ceiling: heights are as easily typed in another unit as lengths are. */
export function tooHigh({ value, written }: Said, height: Ticks | undefined): string | undefined {
  if (height === undefined || value <= height * 1.1) return undefined;
  return `Its height, ${written}, is above the ceiling, which is drawn at ${lengthWritten(height, value % (TICKS_PER_INCH / 64) === 0 ? 'inches' : 'millimetres')}. Is the height in another unit of measure?`;
}

function isNear(length: number, drawn: number): boolean {
  return Math.abs(length / drawn - 1) <= near;
}

function times(ratio: number): string {
  const shown = (n: number): string => (n >= 100 ? n.toFixed(0) : n.toFixed(1).replace(/\.0$/, ''));
  return ratio >= 1 ? `${shown(ratio)} times` : `only 1/${shown(1 / ratio)} of`;
}
