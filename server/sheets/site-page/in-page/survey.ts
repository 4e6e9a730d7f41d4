/** What was measured, as rows of a table and as statements of the language. */
import type { Kept, UnitEntry } from './data.ts';
import { lengthWritten } from './reading.ts';

export interface Reading {
  readonly unit: string;
  readonly wall: string;
  /** As the language has it; empty where it is not said. */
  readonly height: string;
  readonly length: string;
}

/** Those that can be read, in the order of the page; what is no length is left out, and the page says so beside it. */
export function readingsOf(unit: string, { notes }: Kept, system: 'inches' | 'millimetres'): Reading[] {
  return Object.keys(notes)
    .flatMap((key) => {
      const match = /^length (.+) (\d+)$/.exec(key);
      return match ? [{ wall: match[1] ?? '', number: match[2] ?? '', key }] : [];
    })
    .sort((a, b) => (a.wall === b.wall ? Number(a.number) - Number(b.number) : a.wall < b.wall ? -1 : 1))
    .flatMap(({ wall, number, key }): Reading[] => {
      const length = lengthWritten(notes[key] ?? '', system);
      const height = lengthWritten(notes[`height ${wall} ${number}`] ?? '', system) ?? '';
      return length === undefined ? [] : [{ unit, wall, height, length }];
    });
}

/** A survey for each unit, which replaces one that it has. */
export function surveysOf(
  measured: readonly { readonly unit: UnitEntry; readonly readings: readonly Reading[] }[],
  taken: string,
): string {
  return measured
    .filter(({ readings }) => readings.length > 0)
    .map(({ unit, readings }) => {
      const walls = Map.groupBy(readings, ({ wall }) => wall);
      const lines = [...walls].map(
        ([wall, own]) =>
          `  wall ${wall} {\n${own.map(({ length, height }) => `    length ${length}${height === '' ? '' : ` at ${height}`}\n`).join('')}  }\n`,
      );
      const many =
        unit.count === 1
          ? ''
          : `// "${unit.name}" stands for ${unit.count}: write the one that was measured as a unit of its own.\n`;
      return `${many}survey ${unit.name} {\n  taken "${taken}"\n${lines.join('')}}\n`;
    })
    .join('\n');
}

/** RFC 4180, with text that a spreadsheet would take for a formula made inert by an apostrophe. */
export function csv(rows: readonly (readonly string[])[]): string {
  return rows.map((row) => `${row.map(cell).join(',')}\r\n`).join('');
}

function cell(text: string): string {
  const inert = /^[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/u.test(text) ? `'${text}` : text;
  return /[",\r\n]|^\s|\s$/.test(inert) ? `"${inert.replaceAll('"', '""')}"` : inert;
}
