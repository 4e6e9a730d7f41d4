/** What is to be cut: equal pieces together, and every part where it goes. */
import { calledInProject } from '../../model/names.ts';
import { cutLines, placesText } from '../cut-list.ts';
import type { Exported } from './exported.ts';
import { type Cell, type Column, type Table, tableOf } from './table.ts';

export const cutListColumns: readonly Column[] = [
  { id: 'cut', title: 'cut', type: 'box' },
  { id: 'material', title: 'material', type: 'text' },
  { id: 'of', title: 'is', type: 'text' },
  { id: 'quantity', title: 'pieces', type: 'count', total: true },
  { id: 'length', title: 'length', type: 'length' },
  { id: 'depth', title: 'depth', type: 'length' },
  { id: 'thickness', title: 'thickness', type: 'length' },
  {
    id: 'together',
    title: 'all pieces',
    type: 'length',
    how: { kind: 'product', of: ['quantity', 'length'] },
    total: true,
  },
  { id: 'for', title: 'for', type: 'text' },
];

export function cutListTable({ units, extras }: Exported): Table {
  const rows = cutLines(units, extras).map((line) => ({
    cut: false,
    material: line.material,
    of: line.kind === 'rod' ? 'rod' : 'board',
    quantity: line.count,
    length: line.length,
    depth: line.depth,
    thickness: line.thickness,
    for: placesText(line.uses),
  }));
  return tableOf('cut-list', 'Cut list', cutListColumns, rows);
}

export const partColumns: readonly Column[] = [
  { id: 'cut', title: 'cut', type: 'box' },
  { id: 'unit', title: 'unit', type: 'text' },
  { id: 'template', title: 'template', type: 'text' },
  { id: 'floor', title: 'floor', type: 'text' },
  { id: 'flat', title: 'flat', type: 'text' },
  { id: 'phase', title: 'phase', type: 'text' },
  { id: 'part', title: 'part', type: 'text' },
  { id: 'kind', title: 'is', type: 'text' },
  { id: 'material', title: 'material', type: 'text' },
  { id: 'quantity', title: 'pieces', type: 'count', total: true },
  { id: 'length', title: 'length', type: 'length' },
  { id: 'depth', title: 'depth', type: 'length' },
  { id: 'thickness', title: 'thickness', type: 'length' },
  { id: 'wall', title: 'wall', type: 'text' },
  { id: 'height', title: 'height', type: 'length' },
  { id: 'matched', title: 'matched set', type: 'text' },
  { id: 'least', title: 'at least', type: 'length' },
];

export function partsTable({ units, extras, spares }: Exported): Table {
  return tableOf('parts', 'Parts', partColumns, partRows({ units, extras, spares }));
}

function* partRows({
  units,
  extras,
  spares,
}: Pick<Exported, 'units' | 'extras' | 'spares'>): Generator<Record<string, Cell>> {
  for (const unit of units) {
    const { name, info, floor, flat, phase, count } = unit;
    if (count === 0) continue;
    for (const part of unit.resolved?.layout.parts ?? []) {
      yield {
        cut: false,
        unit: name,
        template: info && calledInProject(info.declared),
        floor,
        flat,
        phase,
        part: part.path,
        kind: part.kind,
        material: part.material,
        quantity: count,
        length: part.length,
        depth: part.depth,
        thickness: part.thickness,
        wall: part.wall,
        height: part.at,
        matched: part.matched?.set,
      };
    }
  }
  for (const { name, floor, flat, phase, part, count } of extras) {
    const { material, length, depth, thickness, matched } = part;
    const labels = { cut: false, floor, flat, phase, part: name, kind: 'loose part' };
    yield { ...labels, material, quantity: count, length, depth, thickness, matched: matched?.set };
  }
  // How long they will be is known when they are cut from what is left over. They are none of the pieces.
  for (const { name, floor, flat, phase, material, count, least, most, depth, thickness } of spares) {
    const labels = { cut: false, floor, flat, phase, part: name, kind: `spare, up to ${count}` };
    yield { ...labels, material, length: most, depth, thickness, least };
  }
}
