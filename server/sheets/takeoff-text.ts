/** The takeoff as it is read at the yard: tables of hardware with packs, of screws, and what is missing. */

import { type HardwareLine, type Missing, packsOf, type ScrewLine, type Takeoff, type Use } from './takeoff.ts';
import { type Column, tableLines } from './text-table.ts';

export interface TakeoffTextOptions {
  /** Money in hundredths, as the project writes it. */
  readonly money: (hundredths: number) => string;
  /** With packs and prices; a part of a project has no packs of its own. */
  readonly packs: boolean;
  /** Under each line, for what it is. */
  readonly steps?: boolean;
  readonly width?: number;
}

const hardwareColumns: readonly Column[] = [
  { title: 'count', align: 'right' },
  { title: 'packs', align: 'right' },
  { title: 'of', align: 'right' },
  { title: 'price', align: 'right' },
  { title: 'is', align: 'left' },
  { title: 'hardware', align: 'left' },
];

const screwColumns: readonly Column[] = [
  { title: 'count', align: 'right' },
  { title: 'screws', align: 'left' },
  { title: 'for', align: 'left' },
];

/** Without a line end at its end. */
export function takeoffText({ hardware, screws, missing }: Takeoff, options: TakeoffTextOptions): string {
  const sections: string[][] = [];
  if (hardware.length > 0)
    sections.push(
      table(
        hardwareColumns,
        hardware.map((line) => cells(line, options)),
        hardware,
        options,
      ),
    );
  if (screws.length > 0) sections.push(table(screwColumns, screws.map(screwCells), screws, options));
  const unsure = hardware.reduce((sum, line) => sum + line.unsure, 0);
  if (unsure > 0)
    sections.push([
      `${unsure} of the anchors are for walls whose studs are not stated; state them, and fewer may be needed.`,
    ]);
  if (missing.length > 0) sections.push(missingLines(missing));
  if (sections.length === 0) sections.push(['No hardware is needed.']);
  return sections.map((lines) => lines.join('\n')).join('\n\n');
}

function table(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  lines: readonly { readonly uses: readonly Use[] }[],
  { steps, width }: TakeoffTextOptions,
): string[] {
  const [titles = '', ...texts] = tableLines(columns, rows, width);
  return [titles, ...texts.flatMap((text, i) => [text, ...(steps ? usesLines(lines[i]?.uses ?? []) : [])])];
}

function cells(line: HardwareLine, { money, packs }: TakeoffTextOptions): string[] {
  const { hardware, count } = line;
  const bought = packs ? packsOf(line) : { packs: undefined, price: undefined };
  return [
    String(count),
    bought.packs === undefined ? '' : String(bought.packs),
    bought.packs === undefined ? '' : String(hardware.pack?.count ?? ''),
    bought.price === undefined ? '' : money(bought.price),
    hardware.role ?? '',
    hardware.name,
  ];
}

function screwCells({ count, size, for: takers }: ScrewLine): string[] {
  return [String(count), size, takers.join(', ')];
}

/** `3 shirts.high, 3 shirts.low in A-101-bedroom and 11 more`: units that need the same are told together. */
function usesLines(uses: readonly Use[]): string[] {
  const byUnit = Map.groupBy(uses, ({ unit }) => unit);
  const told = Map.groupBy(byUnit, ([, own]) => partsText(own));
  return [...told].map(([what, units]) => `         ${what} in ${namesOf(units.map(([unit]) => unit))}`);
}

/** `4 each on tower.loose.1 to 5, 2 tower.top`: by name, and shelves of a row that need the same together. */
function partsText(uses: readonly Use[]): string {
  const rows = Map.groupBy(uses.toSorted(inOrder), ({ count, part }) => `${count} ${numbered(part).row}`);
  const texts = [...rows.values()].map((own) => {
    const [first, last] = [own[0], own.at(-1)];
    if (!first || !last) return '';
    return own.length === 1
      ? `${first.count} ${first.part}`
      : `${first.count} each on ${first.part} ${own.length === 2 ? 'and' : 'to'} ${numbered(last.part).number}`;
  });
  return texts.join(', ');
}

function inOrder(a: Use, b: Use): number {
  const [one, other] = [numbered(a.part), numbered(b.part)];
  return one.row < other.row ? -1 : one.row > other.row ? 1 : one.number - other.number;
}

function numbered(part: string): { readonly row: string; readonly number: number } {
  const match = /^(.*)\.(\d+)$/.exec(part);
  return match ? { row: match[1] ?? part, number: Number(match[2]) } : { row: `${part} alone`, number: 0 };
}

const mostUnits = 3;

function namesOf(names: readonly string[]): string {
  const more = names.length - mostUnits;
  return more <= 0 ? names.join(', ') : `${names.slice(0, mostUnits).join(', ')} and ${more} more`;
}

const mostMissing = 40;

function missingLines(missing: readonly Missing[]): string[] {
  const told = Map.groupBy(missing, ({ part, kind, named }) =>
    part === undefined
      ? 'cannot be worked out'
      : `${kind} ${part}${named.length > 0 ? `: ${named.join(', ')} ${named.length === 1 ? 'does' : 'do'} not say what it does` : ''}`,
  );
  const lines = [...told].map(([what, own]) => `  ${what} in ${namesOf(own.map(({ unit }) => unit))}`);
  const more = lines.length - mostMissing;
  return [
    `Not counted, as nothing is known of what holds ${missing.length === 1 ? 'it' : 'them'}:`,
    ...lines.slice(0, mostMissing),
    ...(more > 0 ? [`  and ${more} more`] : []),
  ];
}
