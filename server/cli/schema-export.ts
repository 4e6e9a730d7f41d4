/** The schema of what `storypole export` writes as JSON: each list by its own columns. */
import { columnsOf, type ListName, listNames } from '../sheets/export/lists.ts';
import type { Column, ColumnType } from '../sheets/export/table.ts';
import { length, lengthOrNull, list, object, orNull, ref, type Schema, text, textOrNull } from './schema.ts';

const cells: Readonly<Record<Exclude<ColumnType, 'box'>, Schema>> = {
  text: textOrNull(),
  count: { type: ['integer', 'null'] },
  length: lengthOrNull,
  money: orNull(ref('money')),
  percent: { type: 'number' },
  yes: { type: 'boolean' },
};

const totals: Partial<Readonly<Record<ColumnType, Schema>>> = {
  count: { type: 'integer' },
  length,
  money: ref('money'),
};

function listSchema(name: ListName): Schema {
  const columns = columnsOf[name];
  const row = columns.flatMap(({ id, type }) => (type === 'box' ? [] : [[id, cells[type]] as const]));
  return object({
    list: { const: name },
    title: text(),
    rows: list(object(Object.fromEntries(row))),
    totals: object(Object.fromEntries(columns.flatMap((column) => totalOf(column)))),
  });
}

function totalOf({ id, type, total }: Column): [string, Schema][] {
  const schema = totals[type];
  return total && schema ? [[id, schema]] : [];
}

export const exported = {
  exportProject: {
    allOf: [
      ref('project'),
      object({
        revision: textOrNull('The git commit; + behind it where .closet files have changed since.'),
        date: text('Year, month, day.'),
        part: textOrNull('Which units these are where they are not all.'),
        spare: { type: 'number', description: 'Extra hardware and screws, in percent.' },
        lists: list({ oneOf: listNames.map(listSchema) }, 'Those that were asked for and can be made.'),
      }),
    ],
  },
};
