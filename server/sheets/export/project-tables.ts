/** What an export is of, its units, and what was found in the project. */
import { counted, grouped } from '../../model/money.ts';
import { calledInProject } from '../../model/names.ts';
import { cautions } from '../cautions.ts';
import { takeoffOf } from '../takeoff.ts';
import type { Exported } from './exported.ts';
import { type Cell, type Column, hundredPercent, type Table, tableOf, totalsOf } from './table.ts';

export const aboutColumns: readonly Column[] = [
  { id: 'what', title: 'what', type: 'text' },
  { id: 'is', title: 'is', type: 'text' },
];

/** `tables` are those that stand beside it. */
export function aboutTable(exported: Exported, tables: readonly Table[]): Table {
  const { title, part, revision, date, units, currency, lengths, spare, findings, planned } = exported;
  const errors = findings.filter(({ severity }) => severity === 'error').length;
  const warnings = findings.filter(({ severity }) => severity === 'warning').length;
  const waiting = planned?.plan?.uncut.reduce((sum, { quantity }) => sum + quantity, 0) ?? 0;
  const { missing, hardware } = takeoffOf(units);
  const unpriced = hardware.filter(({ hardware: one }) => one.pack?.price === undefined).length;
  const rows: [string, string][] = [['project', title]];
  if (errors > 0)
    rows.push([
      'do not cut by this yet',
      `There ${errors === 1 ? 'is' : 'are'} ${counted(errors, 'error')} in the project, and what ${errors === 1 ? 'it concerns' : 'they concern'} is missing or may be wrong. See the findings.`,
    ]);
  rows.push(
    ['part of it', part ?? 'all units'],
    ['units', grouped(units.reduce((sum, { count }) => sum + count, 0))],
    ['revision', revision ?? 'not in git'],
    ['date', date],
    [
      'lengths',
      lengths.style === 'millimetres'
        ? 'millimetres'
        : `inches${lengths.style === 'feet' ? ', shown as feet and inches' : ''}`,
    ],
    ['currency', currency ?? 'none is named'],
    [
      'spare hardware',
      spare === 0
        ? 'none'
        : `${spare / (hundredPercent / 100)} % of each line, rounded up to whole pieces, before packs`,
    ],
    [
      'findings',
      `${counted(errors, 'error')}, ${counted(warnings, 'warning')}, ${counted(findings.length - errors - warnings, 'note')}`,
    ],
  );
  if (!planned) rows.push(['boards', 'A part of a project has no plan of its own: boards are shared by the whole.']);
  if (waiting > 0) rows.push(['not cut', `${counted(waiting, 'piece')} for want of stock: see the findings.`]);
  if (missing.length > 0)
    rows.push([
      'not counted',
      `${counted(missing.length, 'part')} of which nothing is known that holds it: see the takeoff.`,
    ]);
  if (unpriced > 0)
    rows.push(['not priced', `${counted(unpriced, 'line')} of hardware without a pack or a price; screws have none.`]);
  const totals = tables.flatMap((table) => totalRows(table, currency));
  rows.push(...totals);
  for (const caution of cautions) rows.push(['caution', caution]);
  return tableOf(
    'about',
    'About',
    aboutColumns,
    rows.map(([what, is]) => ({ what, is })),
  );
}

/** What a list of prices comes to. */
function totalRows(table: Table, currency: string | undefined): [string, string][] {
  const totals = totalsOf(table);
  return table.columns.flatMap(({ type }, at): [string, string][] => {
    const total = totals[at];
    if (type !== 'money' || total === undefined) return [];
    return [[`price, ${table.title.toLowerCase()}`, moneyText(total, currency)]];
  });
}

function moneyText(hundredths: number, currency: string | undefined): string {
  const amount = `${grouped(Math.floor(hundredths / 100))}.${String(hundredths % 100).padStart(2, '0')}`;
  return currency === undefined ? amount : `${amount} ${currency}`;
}

export const unitColumns: readonly Column[] = [
  { id: 'done', title: 'done', type: 'box' },
  { id: 'unit', title: 'unit', type: 'text' },
  { id: 'template', title: 'template', type: 'text' },
  { id: 'mirrored', title: 'mirrored', type: 'yes' },
  { id: 'count', title: 'units alike', type: 'count', total: true },
  { id: 'floor', title: 'floor', type: 'text' },
  { id: 'flat', title: 'flat', type: 'text' },
  { id: 'phase', title: 'phase', type: 'text' },
  { id: 'measured', title: 'measured', type: 'yes' },
  { id: 'parts', title: 'parts of one', type: 'count' },
  { id: 'pieces', title: 'parts', type: 'count', how: { kind: 'product', of: ['count', 'parts'] }, total: true },
];

export function unitsTable({ units }: Pick<Exported, 'units'>): Table {
  return tableOf(
    'units',
    'Units',
    unitColumns,
    units.map(
      (unit): Record<string, Cell> => ({
        done: false,
        unit: unit.name,
        template: unit.info && calledInProject(unit.info.declared),
        mirrored: unit.mirrored,
        count: unit.count,
        floor: unit.floor,
        flat: unit.flat,
        phase: unit.phase,
        measured: unit.survey !== undefined,
        parts: unit.resolved?.layout.parts.length,
      }),
    ),
  );
}

export const findingColumns: readonly Column[] = [
  { id: 'severity', title: 'severity', type: 'text' },
  { id: 'rule', title: 'rule', type: 'text' },
  { id: 'message', title: 'what', type: 'text' },
  { id: 'advice', title: 'to do', type: 'text' },
  { id: 'file', title: 'file', type: 'text' },
  { id: 'line', title: 'line', type: 'count' },
  { id: 'column', title: 'column', type: 'count' },
  { id: 'units', title: 'units it reaches', type: 'text' },
];

export function findingsTable({ findings }: Pick<Exported, 'findings'>): Table {
  const rows = findings.map(({ reach, ...row }) => ({ ...row, units: reach.join(', ') }));
  return tableOf('findings', 'Findings', findingColumns, rows);
}
