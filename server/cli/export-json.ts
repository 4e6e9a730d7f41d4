/** The lists of an export as JSON: a row is an object, and what is not known is null. */
import type { Ticks } from '../model/ticks.ts';
import type { Exported } from '../sheets/export/exported.ts';
import { type ListName, tablesOf } from '../sheets/export/lists.ts';
import {
  type Cell,
  type Column,
  hundredPercent,
  type Lengths,
  lengthText,
  type Table,
  totalsOf,
} from '../sheets/export/table.ts';
import { lengthJson, moneyJson, type PathOf, projectHead } from './json.ts';
import { each } from './json-text.ts';
import type { LocatedFinding } from './located.ts';
import type { Chosen } from './targets.ts';

/** A project with what is exported of it. */
export interface Made {
  readonly chosen: Chosen;
  readonly exported: Exported;
  readonly findings: readonly LocatedFinding[];
}

export function exportJson({ chosen, exported, findings }: Made, wanted: readonly ListName[], pathOf: PathOf): object {
  return {
    ...projectHead(chosen, findings, pathOf),
    revision: exported.revision ?? null,
    date: exported.date,
    part: exported.part ?? null,
    spare: exported.spare / (hundredPercent / 100),
    lists: each(tablesOf(exported, wanted), (table) => ({
      list: table.id,
      title: table.title,
      rows: each(table.rows, (row) => rowJson(table.columns, row, exported)),
      totals: totalsJson(table, exported),
    })),
  };
}

function rowJson(columns: readonly Column[], row: readonly Cell[], exported: Exported): object {
  return Object.fromEntries(
    columns.flatMap((column, i) =>
      // Nothing has been ticked yet.
      column.type === 'box' ? [] : [[column.id, valueJson(column, row[i], exported)]],
    ),
  );
}

function totalsJson(table: Table, exported: Exported): object {
  return Object.fromEntries(
    totalsOf(table).flatMap((total, i) => {
      const column = table.columns[i];
      return total === undefined || !column ? [] : [[column.id, valueJson(column, total, exported)]];
    }),
  );
}

function valueJson({ type }: Column, cell: Cell, { lengths, currency }: Exported): unknown {
  if (cell === undefined) return null;
  switch (type) {
    case 'length':
      return lengthOf(cell as Ticks, lengths);
    case 'money':
      return moneyJson(Number(cell), currency);
    case 'percent':
      return Number(cell) / (hundredPercent / 100);
    default:
      return cell;
  }
}

function lengthOf(length: Ticks, lengths: Lengths): object {
  return { ...lengthJson(length, lengths.show), text: lengthText(length, lengths) };
}
