/** What is marked on the walls of each unit: level lines, rods and every fixing, from the corners and the floor. */
import { fixingsFor } from '../../checks/structure/needed.ts';
import type { Layout } from '../../model/layout.ts';
import { type MarkOut, markOutOf } from '../mark-out.ts';
import type { Exported } from './exported.ts';
import { type Cell, type Column, type Table, tableOf } from './table.ts';

export const markColumns: readonly Column[] = [
  { id: 'done', title: 'done', type: 'box' },
  { id: 'unit', title: 'unit', type: 'text' },
  { id: 'wall', title: 'wall', type: 'text' },
  { id: 'mark', title: 'mark', type: 'text' },
  { id: 'part', title: 'part', type: 'text' },
  { id: 'hardware', title: 'hardware', type: 'text' },
  { id: 'height', title: 'height', type: 'length' },
  { id: 'left', title: 'from left corner', type: 'length' },
  { id: 'right', title: 'from right corner', type: 'length' },
  { id: 'long', title: 'long', type: 'length' },
  { id: 'holds', title: 'holds in', type: 'text' },
  { id: 'stud', title: 'stud at', type: 'length' },
];

export function markTable({ units, lengths }: Pick<Exported, 'units' | 'lengths'>): Table {
  return tableOf('mark-out', 'Mark-out', markColumns, markRows(units, lengths.show));
}

function* markRows(units: Exported['units'], show: Exported['lengths']['show']): Generator<Record<string, Cell>> {
  // Units with equal inputs share a layout, and are marked alike.
  const known = new Map<Layout, Record<string, Cell>[]>();
  for (const unit of units) {
    const layout = unit.resolved?.layout;
    if (!layout || unit.count === 0) continue;
    let rows = known.get(layout);
    if (!rows) {
      rows = [...rowsOf(markOutOf(layout, fixingsFor({ layout, policy: unit.policy, show })))];
      known.set(layout, rows);
    }
    for (const row of rows) yield { ...row, done: false, unit: unit.name };
  }
}

function* rowsOf({ walls, inParts }: MarkOut): Generator<Record<string, Cell>> {
  for (const wall of walls) {
    const { name } = wall;
    for (const stud of wall.studs)
      yield {
        wall: name,
        mark: 'stud',
        left: stud,
        // Where the wall is not straight, another one at each height.
        right: wall.longest === wall.length ? wall.length - stud : undefined,
        holds: wall.studsFrom,
      };
    for (const { height, from, length, shelves } of wall.lines)
      yield { wall: name, mark: 'level line', part: shelves.join(', '), height, left: from, long: length };
    // Where it hangs, and not how long it is cut: that is in the cut list.
    for (const { path, height, from, fromRight } of wall.rods)
      yield { wall: name, mark: 'rod, centre', part: path, height, left: from, right: fromRight };
    for (const { part, hardware, role, fromLeft, fromRight, height, holds } of wall.fixings) {
      yield {
        wall: name,
        mark: role,
        part,
        hardware,
        height,
        left: fromLeft,
        right: fromRight,
        holds:
          holds.in === 'stud'
            ? 'stud'
            : holds.in === 'anchor'
              ? (holds.anchor ?? 'an anchor')
              : holds.in === 'bracket'
                ? 'bracket'
                : 'not known',
        stud: holds.in === 'stud' ? holds.stud : undefined,
      };
    }
  }
  for (const { part, hardware, role, count } of inParts)
    yield { mark: `${role}, ${count}`, part, hardware, holds: 'the part' };
}
