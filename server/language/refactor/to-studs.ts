/**
 * Fixings that miss a stud, moved to the nearest. No statement says where one fixing stands: that follows from its
 * hardware, which says how far each may be moved to meet a stud. That is what is written here, as the quick fix of a
 * finding writes it, where no finding asks for it.
 */

import type { Statement } from '../../../grammar/tree.ts';
import { leastShift, writtenShift } from '../../checks/fixings/fixes.ts';
import { isShelf } from '../../checks/fixings/looked.ts';
import { fixingsFor } from '../../checks/structure/needed.ts';
import type { Hardware } from '../../model/materials.ts';
import type { Project, Unit } from '../../model/project.ts';
import { nameIn, read } from '../../model/reading.ts';
import { showLength } from '../../model/show.ts';
import type { Ticks } from '../../model/ticks.ts';
import { type Located, topOf } from '../locate.ts';
import type { Snapshot } from '../snapshot.ts';
import { inStyle, textEdits } from './edits.ts';
import type { Refactoring } from './refactoring.ts';

/** At most so many layouts are looked at; units that are built alike have one. */
const mostLayouts = 50;

export function toStuds({ project }: Snapshot, located: Located): Refactoring[] {
  const top = topOf(located.statement);
  const isHere = located.statement === top || located.statement.word.text === 'shift';
  if (top.word.text !== 'hardware' || !isHere) return [];
  const { reading } = read(top, 'file');
  const name = reading && nameIn(reading)?.text;
  if (name === undefined) return [];
  let [missed, met] = [0, 0];
  let widest: { readonly hardware: Hardware; readonly shift: Ticks } | undefined;
  for (const unit of differentUnits(project))
    for (const group of missing(project, unit, top)) {
      missed += group.missed;
      met += group.gained;
      const { shift, hardware } = group;
      if (shift !== undefined && (!widest || shift > widest.shift)) widest = { hardware, shift };
    }
  const { show } = project.settings;
  const [fix] = widest ? writtenShift(widest.hardware, widest.shift, show) : [];
  if (!widest || !fix) return [];
  const by = showLength(widest.shift, show);
  const title = `Let "${name}" be moved ${by}, so that ${met} more of the ${missed} that miss a stud meet one`;
  return [{ id: 'move-to-studs', kind: 'refactor.rewrite', title, edits: textEdits(inStyle(top, fix.edits)) }];
}

function differentUnits(project: Project): Unit[] {
  const byLayout = new Map<object, Unit>();
  for (const unit of project.units()) {
    if (byLayout.size >= mostLayouts) break;
    if (unit.resolved && !byLayout.has(unit.resolved)) byLayout.set(unit.resolved, unit);
  }
  return [...byLayout.values()];
}

interface Missing {
  readonly hardware: Hardware;
  readonly missed: number;
  readonly gained: number;
  /** The least with which most of them meet a stud; undefined where none does. */
  readonly shift: Ticks | undefined;
}

/** Shelves of which some fixings of a hardware miss a stud, and no finding says so. */
function* missing(project: Project, { resolved, policy }: Unit, top: Statement): Generator<Missing> {
  if (!resolved) return;
  const { layout } = resolved;
  const { show } = project.settings;
  const { of } = fixingsFor({ layout, policy, show });
  const shelves = layout.zones.flatMap((zone) => zone.fittings).filter(isShelf);
  for (const shelf of shelves) {
    const own = (of.get(shelf.path) ?? []).filter(({ hardware }) => hardware.place.statement === top);
    const [first] = own;
    const missed = own.filter(({ hold }) => hold.kind === 'anchor').length;
    const met = own.filter(({ hold }) => hold.kind === 'stud').length;
    const studs = layout.walls.find(({ name }) => name === shelf.wall)?.studs;
    if (!first || missed === 0 || !studs || met < first.hardware.inStud) continue;
    const { hardware } = first;
    let found: Missing = { hardware, missed, gained: 0, shift: undefined };
    for (let wanted = own.length; wanted > met && found.shift === undefined; wanted--) {
      const shift = leastShift(shelf, hardware, studs, show, wanted);
      if (shift !== undefined) found = { hardware, missed, gained: wanted - met, shift };
    }
    yield found;
  }
}
