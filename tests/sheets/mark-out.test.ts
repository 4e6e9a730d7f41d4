/** What is marked on the walls, against the layout and fixings that it comes from. */
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { createWorkspace } from '../../server/checks/analysis.ts';
import { fixingsFor } from '../../server/checks/structure/needed.ts';
import { nodeFiles } from '../../server/model/node-files.ts';
import type { Unit } from '../../server/model/project.ts';
import { lengthAt } from '../../server/model/survey.ts';
import { TICKS_PER_INCH } from '../../server/model/ticks.ts';
import { finalChecks, markOutOf, orderOfWork } from '../../server/sheets/mark-out.ts';
import { takeoffOf } from '../../server/sheets/takeoff.ts';
import { examples } from '../examples/load.ts';
import { projectOf } from '../model/support.ts';

function example(name: string): Unit {
  const workspace = createWorkspace(nodeFiles, []);
  workspace.loadFile(join(examples, 'quarry-lane/project.closet'));
  const project = workspace.projects[0]?.project;
  project?.refreshNow();
  const unit = [...(project?.units() ?? [])].find((u) => u.name === name);
  if (!unit?.resolved) throw new Error(`no unit ${name}`);
  return unit;
}

const inches = (ticks: number | undefined): number => (ticks ?? Number.NaN) / TICKS_PER_INCH;

describe('the mark-out of a bedroom closet', () => {
  const unit = example('A-101-bedroom');
  const layout = unit.resolved?.layout as NonNullable<Unit['resolved']>['layout'];
  const fixings = fixingsFor({ layout, policy: unit.policy });
  const markOut = markOutOf(layout, fixings);
  const back = markOut.walls.find(({ name }) => name === 'back');

  it('has the level lines of double hang, long hang and tower, highest first (common practice, no source)', () => {
    const lines = back?.lines.map(({ height, from, mark }) => [inches(height), inches(from), inches(mark)]);
    expect(lines).toContainEqual([84, 0, 72]);
    expect(lines).toContainEqual([42, 0, 48]);
    expect(lines?.map(([height]) => height)).toEqual(
      lines?.map(([height]) => height as number).toSorted((a, b) => b - a),
    );
  });

  it('says of each support, bracket and tie where it stands and what it holds in', () => {
    expect(back?.fixings.length).toBeGreaterThan(10);
    for (const { holds, fromLeft } of back?.fixings ?? []) {
      if (holds.in === 'stud') {
        expect(back?.studs).toContain(holds.stud);
        // Half of a stud of 1-1/2 in is all that a fixing may stand off its middle.
        expect(Math.abs(inches(holds.stud) - inches(fromLeft))).toBeLessThanOrEqual(0.75);
      }
    }
  });

  it('says where each hook hangs, at the height of its rod', () => {
    const hooks = back?.fixings.filter(({ role }) => role === 'hook') ?? [];
    expect(hooks.map(({ part, height, holds }) => [part, inches(height), holds.in])).toEqual(
      expect.arrayContaining([
        ['shirts.upper', 81, 'bracket'],
        ['shirts.lower', 39, 'bracket'],
        ['coats.long', 69, 'bracket'],
      ]),
    );
    // A hook hangs from a bracket, so it stands where one does.
    const brackets = back?.fixings.filter(({ role }) => role === 'bracket').map(({ fromLeft }) => fromLeft);
    for (const { fromLeft } of hooks) expect(brackets).toContain(fromLeft);
    expect(markOut.inParts.map(({ role }) => role)).not.toContain('hook');
  });

  it('counts as many screws as the takeoff of the unit alone', () => {
    const bySize = new Map<string, number>();
    for (const { size, count } of markOut.screws) bySize.set(size, (bySize.get(size) ?? 0) + count);
    const takeoff = takeoffOf([{ ...unit, count: 1 }]);
    expect([...bySize].sort()).toEqual(
      takeoff.screws.map(({ size, count }) => [size, count] as [string, number]).sort(),
    );
  });

  it('has an order of work that ties the tower before anything is put on it', () => {
    const titles = orderOfWork(layout, fixings).map(({ title }) => title);
    expect(titles.indexOf('Stand the tower and tie it')).toBeGreaterThan(titles.indexOf('Find and mark the studs'));
    expect(titles.indexOf('Stand the tower and tie it')).toBeLessThan(titles.indexOf('Set the fixed shelves'));
    expect(titles.at(-1)).toBe('Finish and check');
  });

  it('asks for level, plumb and square', () => {
    const kinds = new Set(finalChecks(layout).map(({ kind }) => kind));
    expect([...kinds].sort()).toEqual(['held', 'level', 'plumb', 'square']);
  });
});

describe('on a wall that was measured at several heights', () => {
  const text = (zones: string): string => `board white-12 { depth 12in; thickness 3/4in; ends 1/8in; carried by strip }
hardware strip { is support; spacing 16in }
rod chrome { diameter 1-1/4in }
template t {
  board white-12
  pole chrome
  wall back { length 60in; height 96in }
${zones}}
unit u t
unit m t mirrored
survey u { wall back { length 60-3/4in at 12in; length 59-3/4in at 84in } }
survey m { wall back { length 60-3/4in at 12in; length 59-3/4in at 84in } }
`;
  const marked = (zones: string, name = 'u') => {
    const unit = [...projectOf(text(zones)).units()].find((u) => u.name === name);
    const layout = unit?.resolved?.layout as NonNullable<Unit['resolved']>['layout'];
    const markOut = markOutOf(layout, fixingsFor({ layout, policy: unit?.policy as Unit['policy'] }));
    return { layout, wall: markOut.walls[0], readings: layout.walls[0]?.readings ?? [] };
  };
  const fill =
    '  zone a on back { width fill; shelf low { at 12in }; shelf high { at 84in }; rod r { under high by 3in } }\n';

  it('a level line is as long as the wall is at its height', () => {
    const lines = marked(fill).wall?.lines.map(({ height, from, length }) => [height, from, length].map(inches));
    expect(lines).toEqual([
      [84, 0, 59.75],
      [12, 0, 60.75],
    ]);
  });

  it('a line stands where its shelf does, of a zone that is placed from the right', () => {
    const zone = '  zone a on back from right 0in { width 20in; shelf low { at 12in } }\n';
    const { wall } = marked(zone);
    expect(wall?.lines.map(({ from, length }) => [inches(from), inches(length)])).toEqual([[40.75, 20]]);
    expect(wall?.fixings.map(({ fromLeft, fromRight }) => [inches(fromLeft), inches(fromRight)])).toContainEqual([
      60.75, 0,
    ]);
  });

  it('reaches over the panels beside a shelf, as far as they go', () => {
    const zone =
      '  zone a on back { width 24in; panels sides { height 60in }; shelf low { at 12in }; shelf high { at 84in } }\n';
    const { wall } = marked(zone);
    expect(wall?.lines.map(({ from, length }) => [inches(from), inches(length)])).toEqual([
      [0, 24],
      [0, 24],
    ]);
  });

  it.each(['u', 'm'])('what is from the left and from the right is the wall at that height: %s', (name) => {
    const { wall, layout, readings } = marked(fill, name);
    expect(wall?.fixings.length).toBeGreaterThan(3);
    for (const { fromLeft, fromRight, height } of wall?.fixings ?? [])
      expect(fromLeft + fromRight).toBe(lengthAt(readings, height));
    expect(wall?.rods.map(({ fromRight, from }) => [from, fromRight])).toEqual([[0, 0]]);
    expect([wall?.length, wall?.longest].map(inches)).toEqual([59.75, 60.75]);
    const shelves = layout.zones.flatMap((zone) => zone.fittings.filter(({ kind }) => kind === 'shelf'));
    for (const { path, box } of shelves) {
      const line = wall?.lines.find((one) => one.shelves.includes(path));
      expect([line?.from, (line?.from ?? 0) + (line?.length ?? 0)]).toEqual(box.x);
    }
  });
});
