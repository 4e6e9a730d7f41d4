/**
 * Fixings that miss a stud, moved to the nearest. No statement says where one fixing stands: that follows from its
 * hardware, which says how far each may be moved to meet a stud. That is what is written here, as the quick fix of a
 * finding writes it, where no finding asks for it.
 */

import { type Statement, topOf } from '../../../grammar/tree.ts';
import { met, widerShifts, writtenShift } from '../../checks/fixings/fixes.ts';
import { isShelf } from '../../checks/fixings/looked.ts';
import { fixingsFor } from '../../checks/structure/needed.ts';
import type { Layout, ShelfLayout } from '../../model/layout.ts';
import type { Hardware, PolicyInForce } from '../../model/materials.ts';
import { memo } from '../../model/memo.ts';
import type { Project, Unit } from '../../model/project.ts';
import { nameIn, readingAt } from '../../model/reading.ts';
import { showLength } from '../../model/show.ts';
import type { Ticks } from '../../model/ticks.ts';
import type { Located } from '../locate.ts';
import type { Snapshot } from '../snapshot.ts';
import { inStyle, textEdits } from './edits.ts';
import type { Refactoring } from './refactoring.ts';

/** At most so many layouts are looked at; units that are built alike have one. */
const mostLayouts = 50;

export function toStuds({ project }: Snapshot, located: Located): Refactoring[] {
  const top = topOf(located.statement);
  const isHere = located.statement === top || located.statement.word.text === 'shift';
  if (top.word.text !== 'hardware' || !isHere) return [];
  const reading = readingAt(top, 'file');
  const name = reading && nameIn(reading)?.text;
  if (name === undefined) return [];
  const { show } = project.settings;
  const groups = differentUnits(project).flatMap((unit) => [...missing(project, unit, top)]);
  const missed = groups.reduce((sum, group) => sum + group.missed, 0);
  const gained = (shift: Ticks): number =>
    groups.reduce((sum, { shelf, hardware, studs, met: now }) => sum + met(shelf, hardware, studs, shift) - now, 0);
  const shifts = groups.flatMap(({ shelf, hardware, studs, met: now }) => {
    const wider = widerShifts(shelf, hardware, studs, show);
    const counts = wider.map((shift) => met(shelf, hardware, studs, shift));
    const first = wider[counts.findIndex((count) => count > now)];
    const last = first === undefined ? undefined : wider[counts.indexOf(Math.max(...counts))];
    return first === undefined || last === undefined ? [] : [{ hardware, first, last }];
  });
  const [some] = shifts.toSorted((a, b) => a.first - b.first);
  const [all] = shifts.toSorted((a, b) => b.last - a.last);
  if (!some || !all) return [];
  const offer = (id: string, shift: Ticks): Refactoring[] => {
    const [fix] = writtenShift(some.hardware, shift, show);
    if (!fix) return [];
    const more = gained(shift);
    const meet = `${more} more of the ${missed} that miss a stud ${more === 1 ? 'meets' : 'meet'} one`;
    const asked = neededMore(project, groups, top, shift);
    const also = asked > 0 ? `; farther apart, ${asked} more of it ${asked === 1 ? 'is' : 'are'} needed` : '';
    const title = `Let "${name}" be moved ${showLength(shift, show)}, so that ${meet}${also}`;
    return [{ id, kind: 'refactor.rewrite', title, edits: textEdits(inStyle(top, fix.edits)) }];
  };
  const least = offer('move-to-studs', some.first);
  return all.last === some.first ? least : [...least, ...offer('move-all-to-studs', all.last)];
}

function differentUnits(project: Project): Unit[] {
  const byLayout = new Map<object, Unit>();
  for (const unit of project.units()) {
    if (byLayout.size >= mostLayouts) break;
    if (unit.resolved && !byLayout.has(unit.resolved)) byLayout.set(unit.resolved, unit);
  }
  return [...byLayout.values()];
}

/** How many more of a hardware are needed where it may be moved so far: what is moved may span farther. */
function neededMore(project: Project, groups: readonly Missing[], top: Statement, shift: Ticks): number {
  const { show } = project.settings;
  const count = (layout: Layout, policy: PolicyInForce): number =>
    [...fixingsFor({ layout, policy, show }).of.values()].flat().filter((one) => one.hardware.place.statement === top)
      .length;
  const units = new Map(groups.map(({ unit, layout }) => [layout, unit]));
  let more = 0;
  for (const [layout, { policy }] of units) more += count(moved(layout, top, shift), policy) - count(layout, policy);
  return more;
}

/** A layout with a hardware that may be moved so far. */
function moved(layout: Layout, top: Statement, shift: Ticks): Layout {
  const wider = new Map<Hardware, Hardware>();
  const of = (one: Hardware): Hardware =>
    one.place.statement === top ? memo(wider, one, () => ({ ...one, shift: { ...one.shift, most: shift } })) : one;
  const zones = layout.zones.map((zone) => ({
    ...zone,
    fittings: zone.fittings.map((fitting) =>
      'carried' in fitting ? { ...fitting, carried: fitting.carried.map(of) } : fitting,
    ),
  }));
  return { ...layout, zones };
}

interface Missing {
  readonly unit: Unit;
  readonly layout: Layout;
  readonly shelf: ShelfLayout;
  readonly hardware: Hardware;
  readonly studs: readonly Ticks[];
  readonly missed: number;
  readonly met: number;
}

/** Shelves of which some fixings of a hardware miss a stud, and no finding says so. */
function* missing(project: Project, unit: Unit, top: Statement): Generator<Missing> {
  const { resolved, policy } = unit;
  if (!resolved) return;
  const { layout } = resolved;
  const { show } = project.settings;
  const { of } = fixingsFor({ layout, policy, show });
  for (const shelf of layout.zones.flatMap((zone) => zone.fittings).filter(isShelf)) {
    const own = (of.get(shelf.path) ?? []).filter(({ hardware }) => hardware.place.statement === top);
    const hardware = own[0]?.hardware;
    const missed = own.filter(({ hold }) => hold.kind === 'anchor').length;
    const studs = layout.walls.find(({ name }) => name === shelf.wall)?.studs;
    if (!hardware || missed === 0 || !studs) continue;
    const now = met(shelf, hardware, studs, hardware.shift.most);
    // What a shelf needs more of so as not to sag stands otherwise than it would by itself.
    if (now + missed === own.length && now >= hardware.inStud)
      yield { unit, layout, shelf, hardware, studs, missed, met: now };
  }
}
