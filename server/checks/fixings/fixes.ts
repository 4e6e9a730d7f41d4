/** The nearest values that would pass, written into the hardware, or into the rod. */
import type { NumberLiteral, Statement } from '../../../grammar/tree.ts';
import { writeInstead, writtenLength } from '../../model/closing.ts';
import type { Fix } from '../../model/finding.ts';
import type { RodLayout, ShelfLayout } from '../../model/layout.ts';
import type { Hardware } from '../../model/materials.ts';
import { type Show, showLength } from '../../model/show.ts';
import { inches, millimetres, roundUp, type Ticks, ticks } from '../../model/ticks.ts';
import { countOf, evenPlaces, standsOf } from './positions.ts';
import { spreadOf } from './shelves.ts';

/** Nothing is moved farther than this, whoever asks. */
const farthest = inches(24);

/** The least `shift` with which enough of it meet a stud. None where no shift does. */
export function widerShift(shelf: ShelfLayout, hardware: Hardware, studs: readonly Ticks[], show: Show): Fix[] {
  const most = leastShift(shelf, hardware, studs, show, hardware.inStud);
  return most === undefined ? [] : writtenShift(hardware, most, show);
}

export function writtenShift({ place }: Hardware, most: Ticks, show: Show): Fix[] {
  return written(place.statement, 'shift', most, show);
}

/** The least with which so many of it meet a stud, in steps that can be written. */
function leastShift(
  shelf: ShelfLayout,
  hardware: Hardware,
  studs: readonly Ticks[],
  show: Show,
  inStud: number,
): Ticks | undefined {
  return widerShifts(shelf, hardware, studs, show).find((most) => met(shelf, hardware, studs, most) >= inStud);
}

/** From the least on, those with which another stud comes within reach. */
export function widerShifts(shelf: ShelfLayout, hardware: Hardware, studs: readonly Ticks[], show: Show): Ticks[] {
  const { most, step } = hardware.shift;
  const grid = step ?? (show.system === 'inches' ? inches(1 / 4) : millimetres(5));
  const wanted = evenOf(shelf, hardware).flatMap((at) =>
    studs.map((stud) => roundUp(ticks(Math.abs(stud - at)), grid)),
  );
  return [...new Set(wanted)].filter((shift) => shift > most && shift <= farthest).sort((a, b) => a - b);
}

/** How many of it meet a stud with a shift. */
export function met(shelf: ShelfLayout, hardware: Hardware, studs: readonly Ticks[], most: Ticks): number {
  const { from, to, spacing } = spreadOf(shelf, hardware);
  const shift = { most, step: hardware.shift.step };
  const stands = standsOf(evenOf(shelf, hardware), { from, to, spacing, shift, studs });
  return stands.filter(({ stud }) => stud !== undefined).length;
}

function evenOf(shelf: ShelfLayout, hardware: Hardware): Ticks[] {
  const spread = spreadOf(shelf, hardware);
  return evenPlaces(spread, countOf(spread));
}

/** As it would be written. */
export function spacingFor(widest: Ticks, { system }: Show): Ticks {
  return roundUp(widest, system === 'inches' ? inches(1 / 16) : millimetres(1));
}

/** The spacing that so many as are set on a part keep to. By hand: a spacing that asks for more of them is a slip, and what was meant is more than this. */
export function widerSpacing({ place }: Hardware, widest: Ticks, show: Show): Fix[] {
  return written(place.statement, 'spacing', spacingFor(widest, show), show).map((fix) => ({ ...fix, byHand: true }));
}

/** The hardware names the anchor that other hardware of the unit names. */
export function namedAnchor(hardware: Hardware, others: Iterable<Hardware>): Fix[] {
  for (const { anchor } of others)
    if (anchor && !anchor.name.includes('.') && anchor.name !== hardware.name)
      return added(hardware.place.statement, `anchor ${anchor.name}`);
  return [];
}

/** The rod stands where its hooks hold it. */
export function rodAtHooks({ fromWallPlace: { statement } }: RodLayout, distance: Ticks, show: Show): Fix[] {
  if (distance <= 0) return [];
  if (statement.word.text === 'from') return instead(statement, distance, show);
  return statement.word.text === 'rod' ? addedLength(statement, 'from wall', distance, show) : [];
}

/** A length in the block of a statement: written in place of what is there, or added. */
function written(statement: Statement, word: string, length: Ticks, show: Show): Fix[] {
  const there = statement.block?.children.find((child) => child.word.text === word);
  return there ? instead(there, length, show) : addedLength(statement, word, length, show);
}

function instead(statement: Statement, length: Ticks, show: Show): Fix[] {
  const number = statement.items.find((item): item is NumberLiteral => item.kind === 'number');
  const fix = number && writtenLength(number) ? writeInstead(statement, number, length, show) : undefined;
  return fix ? [fix] : [];
}

function addedLength(statement: Statement, word: string, length: Ticks, show: Show): Fix[] {
  const text = showLength(length, show);
  return text.startsWith('~') ? [] : added(statement, `${word} ${text}`);
}

/** Behind the last statement of a block; none where there is none. */
function added(statement: Statement, text: string): Fix[] {
  const last = statement.block?.children.at(-1);
  if (!last || last.block) return [];
  const end = last.offset + last.head.end;
  return [{ title: `Write ${text}`, edits: [{ place: { statement, start: end, end }, text: `; ${text}` }] }];
}
