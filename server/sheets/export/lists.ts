/** All lists of an export, in the order of a workbook's sheets. */
import { boardColumns, boardsTable, planColumns, planTable } from './board-tables.ts';
import { cutListColumns, cutListTable, partColumns, partsTable } from './cut-tables.ts';
import { exceptionColumns, exceptionsTable } from './exception-tables.ts';
import type { Exported } from './exported.ts';
import { billColumns, billTable, takeoffColumns, takeoffTable } from './hardware-tables.ts';
import { markColumns, markTable } from './mark-tables.ts';
import { aboutColumns, aboutTable, findingColumns, findingsTable, unitColumns, unitsTable } from './project-tables.ts';
import type { Column, Table } from './table.ts';

interface List {
  readonly columns: readonly Column[];
  readonly table: (exported: Exported) => Table;
  /** Of a whole project alone. */
  readonly whole?: true;
}

const lists = {
  units: { columns: unitColumns, table: unitsTable },
  'cut-list': { columns: cutListColumns, table: cutListTable },
  parts: { columns: partColumns, table: partsTable },
  boards: { columns: boardColumns, table: boardsTable, whole: true },
  'cutting-plan': { columns: planColumns, table: planTable, whole: true },
  'bill-of-materials': { columns: billColumns, table: billTable },
  takeoff: { columns: takeoffColumns, table: takeoffTable },
  'mark-out': { columns: markColumns, table: markTable },
  exceptions: { columns: exceptionColumns, table: exceptionsTable },
  findings: { columns: findingColumns, table: findingsTable },
} as const satisfies Readonly<Record<string, List>>;

export type ListName = 'about' | keyof typeof lists;

export const listNames = ['about', ...Object.keys(lists)] as readonly ListName[];

/** The columns that each list has, whatever it is of. */
export const columnsOf: Readonly<Record<ListName, readonly Column[]>> = {
  about: aboutColumns,
  ...Object.fromEntries(Object.entries(lists).map(([name, { columns }]) => [name, columns])),
} as Record<ListName, readonly Column[]>;

/** Those that are wanted and can be made; boards and their plan only of a whole project. */
export function tablesOf(exported: Exported, wanted: readonly ListName[] = listNames): Table[] {
  const entries = Object.entries<List>(lists);
  const made = entries
    .filter(([name, { whole }]) => wanted.includes(name as ListName) && (!whole || exported.planned))
    .map(([, { table }]) => table(exported));
  return wanted.includes('about') ? [aboutTable(exported, made), ...made] : made;
}
