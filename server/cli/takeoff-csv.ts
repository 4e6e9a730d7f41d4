/** The takeoff for a spreadsheet: a row for each kind of hardware and each size of screw, of each group and of all. */
import { packsOf, type Takeoff, takeoffOf } from '../sheets/takeoff.ts';
import { type Cell, rowsOf, written } from './csv.ts';
import type { Counted } from './takeoff-asked.ts';

const columns = [
  'project',
  'by',
  'group',
  'item',
  'name',
  'is',
  'quantity',
  'of which unsure',
  'pack of',
  'packs',
  'price',
  'currency',
];

export function takeoffCsv(asked: readonly Counted[]): Iterable<string> {
  return written(columns, rowsOf(asked, rows));
}

function* rows({ chosen, units, groups, by }: Counted): Generator<Cell[]> {
  const { title, currency } = chosen.project.settings;
  for (const group of groups) yield* lines([title, by, group.name ?? ''], takeoffOf(group.units), false);
  yield* lines([title, undefined, undefined], takeoffOf(units), true, currency);
}

/** Packs are bought for all groups together. */
function* lines(
  where: readonly Cell[],
  { hardware, screws, missing }: Takeoff,
  all: boolean,
  currency?: string,
): Generator<Cell[]> {
  for (const line of hardware) {
    const { name, role, pack } = line.hardware;
    const { packs, price } = packsOf(line);
    const cost = price === undefined ? none.slice(0, 2) : [(price / 100).toFixed(2), currency];
    yield [...where, 'hardware', name, role, line.count, line.unsure, ...(all ? [pack?.count, packs, ...cost] : none)];
  }
  for (const { size, count } of screws) yield [...where, 'screw', size, undefined, count, undefined, ...none];
  for (const { unit, part, kind } of missing) {
    const name = part === undefined ? unit : `${unit} ${part}`;
    yield [...where, 'not counted', name, kind, undefined, undefined, ...none];
  }
}

/** Nothing in the columns of packs. */
const none: readonly Cell[] = [undefined, undefined, undefined, undefined];
