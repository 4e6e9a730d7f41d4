/**
 * A wall that was measured too short for its layout: widths that are less in this unit alone. By hand, since
 * which of them gives way is for somebody to say.
 */
import { type NumberLiteral, type Statement, sliceOf, topOf } from '../../grammar/tree.ts';
import { writeInstead, writtenLength } from '../model/closing.ts';
import { addedFix, freeName, lineEndAt, removed } from '../model/edits.ts';
import type { Finding, Fix } from '../model/finding.ts';
import type { Project } from '../model/project.ts';
import { inches, millimetres, roundDown, ticks } from '../model/ticks.ts';

/** The unit that was measured by itself, and the others of its count as another one behind it. By hand: nobody else knows that it is the first. */
export function measuredOne(project: Project, { related }: Finding): Fix[] {
  const count = related[0]?.place.statement;
  const unit = count && topOf(count);
  const [number] = count?.items ?? [];
  const [name] = unit?.items ?? [];
  if (!count || !unit || unit === count || number?.kind !== 'number' || name?.kind !== 'path') return [];
  const others = Number(number.raw) - 1;
  if (!Number.isInteger(others) || others < 1) return [];
  const own = sliceOf(unit, name);
  const free = freeName(
    `${own}-others`,
    [...project.names.all('unit')].map((one) => one.name),
  );
  const at = count.offset + number.start;
  const changes = [
    { ...name, text: free },
    { start: at, end: at + number.raw.length, text: String(others) },
  ];
  const copy = changes.reduceRight(
    (text, { start, end, text: by }) => text.slice(0, start) + by + text.slice(end),
    unit.text,
  );
  const end = unit.text.length;
  return [
    {
      title: `Make "${own}" the one that was measured, and ${free} the other${others > 1 ? ` ${others}` : ''}`,
      edits: [removed(count), { place: { statement: unit, start: end, end }, text: `${lineEndAt(unit, end)}${copy}` }],
      byHand: true,
    },
  ];
}

/** Of more none is the obvious one. */
const mostWidths = 4;

/** Those that a range or `fill` leaves open before those that are one length. */
export function narrowerHere(project: Project, { place, related, comparison }: Finding): Fix[] {
  const [name] = topOf(place.statement).items;
  const unit = name?.kind === 'path' && project.names.find('unit', sliceOf(topOf(place.statement), name));
  const excess = comparison && 'ticks' in comparison.measured ? comparison.measured.ticks : 0;
  if (!unit || excess <= 0) return [];
  const widths = related.map((one) => one.place.statement).filter(({ word }) => word.text === 'width');
  const open = widths.filter(({ items }) => items[0]?.kind !== 'number');
  const chosen = open.some((width) => leastOf(width)) ? open : widths;
  if (chosen.length > mostWidths) return [];
  return chosen.flatMap((width) => narrower(width, excess, unit.statement, project));
}

function narrower(width: Statement, excess: number, unit: Statement, { settings: { show } }: Project): Fix[] {
  const number = leastOf(width);
  const written = number && writtenLength(number);
  const { parent } = width;
  if (!number || !written || parent.kind !== 'statement') return [];
  const grid = written.metric ? millimetres(1) : inches(1 / 16);
  const fix = writeInstead(width, number, roundDown(ticks(written.length - excess), grid), show);
  const [edit] = fix?.edits ?? [];
  if (!fix || !edit) return [];
  // It is said of this unit already.
  if (topOf(width) === unit) return [{ ...fix, byHand: true }];
  const [zone] = parent.items;
  if (zone?.kind !== 'path') return [];
  const { head, text } = width;
  const said = `${text.slice(width.word.start, number.start)}${edit.text}${text.slice(number.end, head.end)}`;
  return addedFix(unit, `override ${sliceOf(parent, zone)} { ${said} }`, { byHand: true });
}

/** The length of a width that is one, or the least of it. */
function leastOf({ items }: Statement): NumberLiteral | undefined {
  const isPlain = items.every(({ kind }) => kind === 'number' || kind === 'path');
  return isPlain ? items.find((item): item is NumberLiteral => item.kind === 'number') : undefined;
}
