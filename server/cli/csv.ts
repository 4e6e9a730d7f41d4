/** The cut list for a spreadsheet: RFC 4180. Text of the project's that a spreadsheet would take for a formula is made inert. */
import { stringify } from 'csv-stringify/sync';
import type { Unit } from '../model/project.ts';
import { showLength } from '../model/show.ts';
import { TICKS_PER_MM } from '../model/ticks.ts';
import { extrasOf } from './json.ts';
import type { Chosen } from './targets.ts';

const head = [
  'project',
  'unit',
  'floor',
  'flat',
  'phase',
  'part',
  'kind',
  'material',
  'quantity',
  'length',
  'length mm',
  'depth',
  'thickness',
  'wall',
  'height',
];

export function cutsCsv(chosen: readonly { readonly chosen: Chosen; readonly units: readonly Unit[] }[]): string {
  const rows: (string | number)[][] = [];
  for (const { chosen: c, units } of chosen) {
    const { show, title } = c.project.settings;
    for (const unit of units) {
      for (const p of unit.resolved?.layout.parts ?? []) {
        rows.push([
          inert(title),
          inert(unit.name),
          inert(unit.floor),
          inert(unit.flat),
          inert(unit.phase),
          inert(p.path),
          p.kind,
          inert(p.material),
          unit.count,
          showLength(p.length, show),
          p.length / TICKS_PER_MM,
          p.depth === undefined ? '' : showLength(p.depth, show),
          p.thickness === undefined ? '' : showLength(p.thickness, show),
          inert(p.wall),
          showLength(p.at, show),
        ]);
      }
    }
    for (const e of extrasOf(c)) {
      const p = e.part;
      rows.push([
        inert(title),
        '',
        inert(e.floor),
        inert(e.flat),
        inert(e.phase),
        inert(e.name),
        'loose part',
        inert(p.material),
        e.count,
        showLength(p.length, show),
        p.length / TICKS_PER_MM,
        p.depth === undefined ? '' : showLength(p.depth, show),
        p.thickness === undefined ? '' : showLength(p.thickness, show),
        '',
        '',
      ]);
    }
  }
  return stringify([head, ...rows], { record_delimiter: '\r\n' });
}

/** A cell that begins with = + - @ or a control character is text, not a formula. */
function inert(text: string | undefined): string {
  if (text === undefined) return '';
  return /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
}
