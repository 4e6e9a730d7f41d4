/** The mark-out table of a unit, and what is drilled and screwed. */
import type { Fixings } from '../../checks/fixings/schedule.ts';
import type { Layout } from '../../model/layout.ts';
import { ticks } from '../../model/ticks.ts';
import { wallTitle } from '../drawing/elevation.ts';
import { holesOf } from '../holes.ts';
import { type FixingRow, markOutOf, type WallMarks } from '../mark-out.ts';
import type { Flow } from '../pdf/flow.ts';
import { type Job, said } from './job.ts';

const tick = { tick: true } as const;

export function addMarkOut(flow: Flow, layout: Layout, fixings: Fixings, job: Job): void {
  const markOut = markOutOf(layout, fixings);
  if (markOut.walls.length === 0 && markOut.inParts.length === 0) return;
  flow.newPage();
  flow.bookmark('Mark-out', 1);
  flow.heading('Mark-out');
  flow.text(
    'Distances are from the left corner of each wall as you face it, heights from the finished floor at its highest point along that wall. Mark on the wall; tick when it is marked.',
  );
  for (const wall of markOut.walls) addWall(flow, wall, job);
  if (markOut.inParts.length > 0) {
    flow.heading('Fixed into parts');
    flow.table(
      [
        { title: '', align: 'left' },
        { title: 'count', align: 'right' },
        { title: 'what', align: 'left' },
        { title: 'on', align: 'left', grows: 1 },
      ],
      markOut.inParts.map(({ part, hardware, count }) => ({
        cells: [tick, { text: String(count), bold: true }, hardware, part],
      })),
      { about: 'Fixed into parts' },
    );
  }
  addDrilling(flow, fixings);
  if (markOut.screws.length > 0) {
    flow.heading('Screws');
    flow.table(
      [
        { title: 'count', align: 'right' },
        { title: 'screw', align: 'left' },
        { title: 'into', align: 'left' },
        { title: 'for', align: 'left', grows: 1 },
      ],
      markOut.screws.map(({ size, count, into, hardware }) => ({
        cells: [{ text: String(count), bold: true }, size, `the ${into}`, hardware],
      })),
      { about: 'Screws' },
    );
  }
}

function addWall(flow: Flow, wall: WallMarks, job: Job): void {
  flow.heading(wallTitle(wall.name));
  flow.text(wallText(wall, job));
  if (wall.lines.length > 0) {
    flow.table(
      [
        { title: '', align: 'left' },
        { title: 'level line at', align: 'right' },
        { title: 'starts at', align: 'right' },
        { title: 'length', align: 'right' },
        { title: 'draw', align: 'right' },
        { title: 'underside of', align: 'left', grows: 1 },
      ],
      wall.lines.map(({ height, from, length, mark, shelves }) => ({
        cells: [
          tick,
          { text: said(height, job), bold: true },
          said(from, job),
          said(length, job),
          said(mark, job),
          shelves.join(', '),
        ],
      })),
      { about: wallTitle(wall.name) },
    );
  }
  if (wall.rods.length > 0) {
    flow.table(
      [
        { title: '', align: 'left' },
        { title: 'rod centre at', align: 'right' },
        { title: 'from wall', align: 'right' },
        { title: 'starts at', align: 'right' },
        { title: 'ends at', align: 'right' },
        { title: 'rod', align: 'left', grows: 1 },
      ],
      wall.rods.map(({ path, height, fromWall, from, to }) => ({
        cells: [
          tick,
          { text: said(height, job), bold: true },
          said(fromWall, job),
          said(from, job),
          said(to, job),
          path,
        ],
      })),
      { about: wallTitle(wall.name) },
    );
  }
  if (wall.fixings.length > 0) {
    const isOut = wall.fixings.some(({ out }) => out > 0);
    flow.table(
      [
        { title: '', align: 'left' },
        { title: 'height', align: 'right' },
        { title: 'from left', align: 'right' },
        { title: 'from right', align: 'right' },
        ...(isOut ? [{ title: 'out', align: 'right' } as const] : []),
        { title: 'what', align: 'left' },
        { title: 'holds', align: 'left' },
        { title: 'in', align: 'left', grows: 1 },
      ],
      wall.fixings.map((row) => ({
        cells: [
          tick,
          { text: said(row.height, job), bold: true },
          { text: said(row.fromLeft, job), bold: true },
          said(row.fromRight, job),
          ...(isOut ? [row.out > 0 ? said(row.out, job) : ''] : []),
          row.hardware,
          row.part,
          holdsText(row, job),
        ],
      })),
      { about: wallTitle(wall.name) },
    );
  }
}

function wallText({ length, longest, isMeasured, height, studs, studsFrom }: WallMarks, job: Job): string {
  const most = longest === length ? '' : ` to ${said(longest, job)}`;
  const long = `Length ${said(length, job)}${most}${isMeasured ? ', as measured' : ', as drawn: nothing was measured'}`;
  const high = height === undefined ? '' : `; height ${said(height, job)}`;
  const found =
    studsFrom === undefined
      ? ' Nothing says where its studs are: find them before anything is fixed.'
      : studs.length === 0
        ? ' No stud stands behind it.'
        : ` Middles of studs, ${studsFrom === 'survey' ? 'as found' : 'as drawn, to be found again'}: ${studs.map((at) => said(at, job)).join(',  ')}.`;
  return `${long}${high}.${found}`;
}

function holdsText({ holds, moved }: FixingRow, job: Job): string {
  const by = moved === 0 ? '' : `, moved ${said(ticks(Math.abs(moved)), job)} ${moved > 0 ? 'right' : 'left'}`;
  switch (holds.in) {
    case 'stud':
      return `stud at ${said(holds.stud, job)}${by}`;
    case 'anchor':
      return holds.anchor === undefined ? 'no stud here, and no anchor is named' : `${holds.anchor}, no stud here`;
    case 'bracket':
      return 'its bracket';
    case 'not-known':
      return 'not known: find a stud';
  }
}

function addDrilling(flow: Flow, fixings: Fixings): void {
  const holes = holesOf(fixings);
  if (holes.length === 0) return;
  flow.heading('Holes in walls');
  flow.text('Pilot holes and holes for anchors as wide and as deep as the maker of the screw or anchor says.');
  flow.table(
    [
      { title: 'holes', align: 'right' },
      { title: 'into', align: 'left' },
      { title: 'screw', align: 'left' },
      { title: 'for', align: 'left', grows: 1 },
    ],
    holes.map(({ in: into, anchor, screw, hardware, count }) => ({
      cells: [
        { text: String(count), bold: true },
        into === 'stud'
          ? 'a stud'
          : into === 'anchor'
            ? `the wall, with ${anchor ?? 'an anchor that is not named'}`
            : 'the wall: find a stud',
        screw ?? 'none is named',
        hardware,
      ],
    })),
    { about: 'Holes in walls' },
  );
}
