/** Hardware and screws: what to buy, and where each piece goes. */
import { groupsOf, type Takeoff, takeoffOf } from '../takeoff.ts';
import type { Exported } from './exported.ts';
import { type Cell, type Column, type Table, tableOf } from './table.ts';

export const billColumns: readonly Column[] = [
  { id: 'have', title: 'have', type: 'box' },
  { id: 'item', title: 'item', type: 'text' },
  { id: 'name', title: 'name', type: 'text' },
  { id: 'is', title: 'is', type: 'text' },
  { id: 'needed', title: 'needed', type: 'count' },
  { id: 'percent', title: 'spare, %', type: 'percent' },
  { id: 'spare', title: 'spare', type: 'count', how: { kind: 'share', of: 'needed', percent: 'percent' } },
  { id: 'quantity', title: 'together', type: 'count', how: { kind: 'sum', of: ['needed', 'spare'] } },
  { id: 'packOf', title: 'pack of', type: 'count' },
  { id: 'packs', title: 'packs', type: 'count', how: { kind: 'packs', of: 'quantity', by: 'packOf' }, total: true },
  { id: 'each', title: 'price of a pack', type: 'money' },
  { id: 'price', title: 'price', type: 'money', how: { kind: 'product', of: ['packs', 'each'] }, total: true },
  { id: 'unsure', title: 'of which unsure', type: 'count' },
  { id: 'for', title: 'for', type: 'text' },
];

/** Extra pieces come before the rounding up to packs, each line by itself. */
export function billTable({ units, spare }: Pick<Exported, 'units' | 'spare'>): Table {
  return tableOf('bill-of-materials', 'Bill of materials', billColumns, billRows(takeoffOf(units), spare));
}

function* billRows({ hardware, screws }: Takeoff, spare: number): Generator<Record<string, Cell>> {
  for (const { hardware: one, count, unsure } of hardware) {
    yield {
      have: false,
      item: 'hardware',
      name: one.name,
      is: one.role,
      needed: count,
      percent: spare,
      packOf: one.pack?.count,
      each: one.pack?.price,
      unsure: unsure > 0 ? unsure : undefined,
    };
  }
  for (const { size, count, for: takers } of screws)
    yield { have: false, item: 'screw', name: size, needed: count, percent: spare, for: takers.join(', ') };
}

export const takeoffColumns: readonly Column[] = [
  { id: 'by', title: 'by', type: 'text' },
  { id: 'group', title: 'group', type: 'text' },
  { id: 'item', title: 'item', type: 'text' },
  { id: 'name', title: 'name', type: 'text' },
  { id: 'is', title: 'is', type: 'text' },
  { id: 'quantity', title: 'pieces', type: 'count' },
  { id: 'unsure', title: 'of which unsure', type: 'count' },
  { id: 'part', title: 'part', type: 'text' },
];

/** By unit, by floor and for all of them: counts multiplied out. What nothing is known to hold is listed, too. */
export function takeoffTable({ units }: Pick<Exported, 'units'>): Table {
  return tableOf('takeoff', 'Takeoff', takeoffColumns, takeoffRows(units));
}

function* takeoffRows(units: Exported['units']): Generator<Record<string, Cell>> {
  for (const by of ['unit', 'floor'] as const)
    for (const group of groupsOf(units, by)) yield* groupRows(by, group.name, takeoffOf(group.units));
  yield* groupRows('project', undefined, takeoffOf(units));
}

function* groupRows(
  by: string,
  group: string | undefined,
  { hardware, screws, missing }: Takeoff,
): Generator<Record<string, Cell>> {
  for (const { hardware: one, count, unsure } of hardware)
    yield {
      by,
      group,
      item: 'hardware',
      name: one.name,
      is: one.role,
      quantity: count,
      unsure: unsure > 0 ? unsure : undefined,
    };
  for (const { size, count } of screws) yield { by, group, item: 'screw', name: size, quantity: count };
  for (const { unit, part, kind } of missing) yield { by, group, item: 'not counted', name: unit, is: kind, part };
}
