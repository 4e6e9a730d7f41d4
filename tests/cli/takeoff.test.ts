/** `storypole takeoff`, as a person runs it. */
import { describe, expect, it } from 'vitest';
import { folderWith, root, storypole } from './command.ts';
import { clean } from './texts.ts';

interface Line {
  readonly name: string;
  readonly quantity: number;
  readonly packs: number | null;
}
interface Project {
  readonly hardware: readonly Line[];
  readonly screws: readonly { readonly size: string; readonly quantity: number }[];
  readonly price: { readonly text: string } | null;
  readonly missing: readonly { readonly part: string | null }[];
  readonly groups: readonly { readonly name: string | null; readonly hardware: readonly Line[] }[];
  readonly units: readonly {
    readonly count: number;
    readonly fixings: readonly { readonly hardware: string; readonly hold: string; readonly anchor: string | null }[];
  }[];
}

function ask(words: readonly string[], folder = root): Project {
  const { out, status } = storypole(['takeoff', ...words, '--format', 'json'], folder);
  expect(status).toBe(0);
  return JSON.parse(out).projects[0];
}

const lane = 'examples/quarry-lane';
const count = (lines: readonly Line[], name: string): number => lines.find((line) => line.name === name)?.quantity ?? 0;

describe('takeoff', () => {
  const project = ask([lane, '--by', 'floor']);

  it('counts Quarry Lane as worked out by hand', () => {
    // 24 bedrooms: 21 reach-ins and 3 for wheelchair users, each with a tower of two panels tied three times,
    // two fixed shelves on two supports and four clips, and 5 or 3 loose shelves on four pins.
    // 24 entry closets with one panel, and 8 shelves clipped to it at one end. 24 linen closets of 5 shelves.
    expect(count(project.hardware, 'tower-bracket')).toBe(24 * 6 + 24 * 3);
    expect(count(project.hardware, 'tower-support')).toBe(24 * 4);
    expect(count(project.hardware, 'tower-clip')).toBe(24 * 4 + 24 * 8);
    expect(count(project.hardware, 'shelf-pin')).toBe(21 * 20 + 3 * 12);
    expect(count(project.hardware, 'end-cover')).toBe(24 * 2 + 24);
    expect(count(project.hardware, 'deep-bracket')).toBe(24 * 5 * 2);
    // Two brackets a shelf: three shelves, two, or one. A hook under each, but for the seasonal shelf, which has
    // no rod; and two cups a rod.
    expect(count(project.hardware, 'angle-bracket')).toBe(21 * 6 + 3 * 4 + 24 * 2);
    expect(count(project.hardware, 'rod-hook')).toBe(21 * 6 + 3 * 2 + 24 * 2);
    expect(count(project.hardware, 'end-cup')).toBe(21 * 6 + 3 * 2 + 24 * 2);
    // Supports: 3 + 3 + 2 (21-3/4 in), 3 + 3, 3 on each linen shelf, and in the entry 2 on each of 8 and 3 on the hat
    // shelf, which is 30 in and longer: 34 or 46 in of it take two distances.
    expect(count(project.hardware, 'rear-support')).toBe(21 * 8 + 3 * 6 + 24 * 15 + 24 * (8 * 2 + 3));
    expect(project.missing).toEqual([]);
  });

  it('has floors that add up to the whole', () => {
    expect(project.groups.map(({ name }) => name)).toEqual(['1', '2', '3']);
    for (const { name, quantity } of project.hardware)
      expect(project.groups.reduce((sum, group) => sum + count(group.hardware, name), 0)).toBe(quantity);
  });

  it('has a schedule for each unit, which its counts are of', () => {
    const fixings = project.units.flatMap((unit) => unit.fixings.map((fixing) => ({ ...fixing, times: unit.count })));
    for (const { name, quantity } of project.hardware.filter((line) => line.name !== 'wall-anchor'))
      expect(fixings.filter((f) => f.hardware === name).reduce((sum, { times }) => sum + times, 0)).toBe(quantity);
    for (const { hold, anchor } of fixings) expect(anchor === 'wall-anchor').toBe(hold === 'anchor');
  });

  it('says the same in text and in the table', () => {
    const { out, status } = storypole(['takeoff', lane], root);
    expect(status).toBe(0);
    expect(out).toMatch(/^Takeoff: Quarry Lane\n/);
    expect(out).toContain(`All packs together: ${project.price?.text}, screws not counted.`);
    expect(out).toContain("the hardware maker's instructions and the local code come first");
    const rows = storypole(['takeoff', lane, '--format', 'csv'], root)
      .out.split('\r\n')
      .map((row) => row.split(','));
    for (const { name, quantity, packs } of project.hardware) {
      const row = rows.find((cells) => cells[4] === name);
      expect([row?.[6], row?.[9]]).toEqual([String(quantity), String(packs)]);
    }
    for (const { size, quantity } of project.screws)
      expect(rows.find((cells) => cells[4] === size)?.[6]).toBe(String(quantity));
  });

  it('keeps its colours where they are asked for', () => {
    expect(storypole(['takeoff', lane, '--color'], root).out).toContain('\u001b[1mTakeoff: Quarry Lane\u001b[22m');
  });

  it('takes one unit alone', () => {
    const [unit, ...others] = ask([lane, '--unit', 'A-303-bedroom']).units;
    expect([unit?.fixings.filter(({ hardware }) => hardware === 'tower-bracket').length, others]).toEqual([6, []]);
    const run = storypole(['takeoff', lane, '--unit', 'A-303-bedrom'], root);
    expect([run.status, run.out]).toEqual([2, '']);
    expect(run.err).toContain('did you mean "A-303-bedroom"?');
  });

  it('lists what has no hardware', () => {
    const folder = folderWith({ 'a.closet': clean });
    expect(ask([], folder).missing.map(({ part }) => part)).toEqual(['main.top']);
    expect(storypole(['takeoff'], folder).out).toContain(
      'Not counted, as nothing is known of what holds it:\n  shelf main.top in A-101-linen\n',
    );
  });
});
