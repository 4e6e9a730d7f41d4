/** What is marked on the walls, against the layout and fixings that it comes from. */
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { createWorkspace } from '../../server/checks/analysis.ts';
import { fixingsFor } from '../../server/checks/structure/needed.ts';
import { nodeFiles } from '../../server/model/node-files.ts';
import type { Unit } from '../../server/model/project.ts';
import { TICKS_PER_INCH } from '../../server/model/ticks.ts';
import { finalChecks, markOutOf, orderOfWork } from '../../server/sheets/mark-out.ts';
import { takeoffOf } from '../../server/sheets/takeoff.ts';
import { examples } from '../examples/load.ts';

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
    for (const { fromLeft, fromRight, holds } of back?.fixings ?? []) {
      expect(fromLeft + fromRight).toBe(back?.length);
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
