/**
 * Facts of the trade about fixing to the wall: common practice, no source. Each from a small text, through the
 * built command's JSON, to the number. They belong to one way of mounting, so the hardware of the text states
 * them, and the tool has to come to what follows from it.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const command = join(import.meta.dirname, '../../dist/storypole.cjs');
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'storypole-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Length {
  readonly text: string;
}
interface FixingJson {
  readonly part: string;
  readonly hardware: string;
  readonly at: Length;
  readonly out: Length;
  readonly height: Length;
  readonly hold: string;
  readonly stud: Length | null;
  readonly anchor: string | null;
  readonly shift: Length;
}
interface ProjectJson {
  readonly hardware: readonly { readonly name: string; readonly quantity: number }[];
  readonly screws: readonly { readonly size: string; readonly quantity: number }[];
  readonly units: readonly { readonly fixings: readonly FixingJson[] }[];
  readonly findings: readonly { readonly rule: string; readonly message: string; readonly severity: string }[];
}

let runs = 0;
function ask(what: 'check' | 'takeoff', text: string): ProjectJson {
  const file = join(folder, `${runs++}.closet`);
  writeFileSync(file, text);
  const run = spawnSync(process.execPath, [command, what, file, '--format', 'json'], { encoding: 'utf8' });
  expect(run.stdout).not.toBe('');
  const { projects } = JSON.parse(run.stdout) as { projects: ProjectJson[] };
  rmSync(file);
  return projects[0] as ProjectJson;
}

const materials = `project "Quarry Lane" { kerf 1/8in; saw-step 1/16in }
board white-12 { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/16in; ends take 3/8in for "the end fitting" }
stock white-12 { length 8ft unlimited }
stock chrome { length 8ft unlimited }
hardware rear-support {
  is support
  spacing at most 24in
  anchor wall-anchor
  screws "#8 x 1-1/2 in" into wall
  screws "#4 x 3/4 in" into part
}
hardware tower-support {
  is support
  spacing at most 24in
  in-stud 1
  shift 6in
  anchor wall-anchor
  screws "#8 x 1-1/2 in" into wall
  screws "#4 x 3/4 in" into part
}
hardware angle-bracket {
  is bracket
  reach 12in
  leg 9in
  inset 6in
  least 2
  shift 4-1/2in by 1-1/2in
  anchor wall-anchor
  screws "#8 x 3 in" into wall
}
hardware rod-hook {
  is hook
  set-back 3in
  screws "#8 x 1 in" into part
  screws "#6 x 1-1/4 in self-drilling" into part
}
hardware tower-bracket {
  is tie
  at top middle bottom
  inset 4in
  anchor wall-anchor
  screws "#8 x 1-1/2 in" into wall
  screws "#8 x 3/4 in" into part
}
hardware tower-clip { is tie; screws "#8 x 1/2 in" into part }
hardware shelf-pin { is pin; least 4; inset 1-1/2in }
hardware wall-anchor { is anchor; rated 50 lb }
`;

const closet = (length: string, studs: string, inside: string): string => `${materials}template t {
  board white-12
  pole chrome
  wall back { length ${length}; height 96in; studs ${studs} }
  zone a on back { width fill; ${inside} }
}
unit u t
`;

const tower = `panels sides
    carried by tower-support, tower-bracket, tower-clip, shelf-pin
    shelf top { at 84in; fixed }
    shelf loose { at 44in }`;

const fixings = (text: string, part: string, hardware: string): FixingJson[] =>
  (ask('takeoff', text).units[0]?.fixings ?? []).filter((f) => f.part === part && f.hardware === hardware);

describe('common practice, no source', () => {
  it('studs are typically 16in on centre, and where a fixing misses one, an anchor rated at least 50lb is used', () => {
    // Studs at 8, 24, 40 in; supports at 0, 24 and 48 in of a 48 in shelf: the one in the middle meets a stud.
    const text = closet('48in', 'every 16in from 8in', 'shelf s { at 72in; carried by rear-support }');
    expect(fixings(text, 'a.s', 'rear-support').map((f) => [f.at.text, f.hold, f.stud?.text, f.anchor])).toEqual([
      ['0in', 'anchor', undefined, 'wall-anchor'],
      ['24in', 'stud', '24in', null],
      ['48in', 'anchor', undefined, 'wall-anchor'],
    ]);
    // One screw of each into the wall, so two anchors.
    const { hardware } = ask('takeoff', text);
    expect(hardware.map(({ name, quantity }) => `${quantity} ${name}`)).toEqual(['3 rear-support', '2 wall-anchor']);
    const weak = ask('check', text.replace('rated 50 lb', 'rated 49 lb')).findings;
    expect(weak.map(({ rule }) => rule)).toContain('anchor-rated-low');
    expect(ask('check', text).findings.map(({ rule }) => rule)).not.toContain('anchor-rated-low');
    // Without a name for the anchor it is told.
    const without = text.replaceAll(/\n {2}anchor wall-anchor/g, '');
    expect(ask('check', without).findings.map(({ rule }) => rule)).toContain('anchor-not-named');
    expect(ask('check', text).findings.map(({ rule }) => rule)).not.toContain('anchor-not-named');
  });

  it('a 48in shelf takes three rear supports, a 24in tower top two, of which at least one must be in a stud', () => {
    const shelf = closet('48in', 'every 16in from 8in', 'shelf s { at 72in; carried by rear-support }');
    expect(fixings(shelf, 'a.s', 'rear-support')).toHaveLength(3);
    // Between panels of 3/4 in the top is 22-1/2 in, from 3/4 to 23-1/4 in. The stud at 18 in is 5-1/4 in from its right end.
    const top = fixings(closet('24in', '18in', tower), 'a.top', 'tower-support');
    expect(top.map((f) => [f.at.text, f.hold, f.shift.text])).toEqual([
      ['3/4in', 'anchor', '0in'],
      ['18in', 'stud', '-5-1/4in'],
    ]);
    expect(ask('check', closet('24in', '18in', tower)).findings.map(({ severity }) => severity)).not.toContain('error');
    // A stud at 12 in is 11-1/4 in from both: no shift of 6 in reaches it, and that is an error.
    const missed = ask('check', closet('24in', '12in', tower)).findings.filter(({ rule }) => rule === 'stud-missed');
    expect(missed.map(({ severity, message }) => [severity, message])).toEqual([
      [
        'error',
        'None of the 2 "tower-support" of shelf "a.top" meets a stud, and 1 must. They stand at 3/4in and 23-1/4in along the back wall; its studs are at 12in.',
      ],
    ]);
  });

  it('screws go by size: into the wall, bracket to tower side, shelf end to tower, shelf to support, rod hook, angle bracket, rod to hook', () => {
    const text = closet(
      '48in',
      'every 16in from 8in',
      'shelf s { at 72in; carried by rear-support, angle-bracket }\n    rod r { under s by 3in; from wall 9in; for shirt; carried by rod-hook }',
    ).replace(
      'unit u t',
      `template w { board white-12; wall back { length 24in; height 96in; studs 18in }; zone a on back { width fill; ${tower} } }
unit u t
unit v w`,
    );
    // On the shelf 3 supports, 2 brackets, 2 hooks; on the tower 2 supports, 6 brackets of the tower and 2 clips.
    // One screw of each size a connection, as the hardware of this text says.
    expect(ask('takeoff', text).screws.map(({ size, quantity }) => `${quantity} ${size}`)).toEqual([
      `${3 + 2} #4 x 3/4 in`,
      '2 #6 x 1-1/4 in self-drilling',
      '2 #8 x 1 in',
      `${3 + 2 + 6} #8 x 1-1/2 in`,
      '2 #8 x 1/2 in',
      '2 #8 x 3 in',
      '6 #8 x 3/4 in',
    ]);
    // All of them can be read.
    expect(ask('check', text).findings.map(({ rule }) => rule)).not.toContain('screw-size-not-read');
  });

  it('an angle bracket stands 6in in from the shelf end, and may be moved by slats of 1-1/2in to reach a stud', () => {
    const shelf = 'shelf s { at 72in; carried by angle-bracket }';
    // 48 - 6 = 42 in: the span between is 36 in.
    expect(fixings(closet('48in', '24in', shelf), 'a.s', 'angle-bracket').map((f) => f.at.text)).toEqual([
      '6in',
      '42in',
    ]);
    // Four slats of 1-1/2 in are 6 in. To a stud at 9 in it goes by two: 6 + 2 x 1-1/2.
    expect(
      fixings(closet('48in', '9in', shelf), 'a.s', 'angle-bracket').map((f) => [f.at.text, f.shift.text, f.hold]),
    ).toEqual([
      ['9in', '3in', 'stud'],
      ['42in', '0in', 'anchor'],
    ]);
  });

  it('a rod hook stands 3in back from the front of its bracket: 9in from the wall under a bracket of 12in', () => {
    const rod = (fromWall: string): string =>
      closet(
        '48in',
        '24in',
        `shelf s { at 72in; carried by angle-bracket }\n    rod r { under s by 3in; from wall ${fromWall}; for shirt; carried by rod-hook }`,
      );
    // 12 - 3 = 9
    expect(fixings(rod('9in'), 'a.r', 'rod-hook').map((f) => [f.at.text, f.out.text])).toEqual([
      ['6in', '9in'],
      ['42in', '9in'],
    ]);
    expect(ask('check', rod('9in')).findings.map(({ rule }) => rule)).not.toContain('hook-off-rod');
    expect(ask('check', rod('10in')).findings.map(({ rule }) => rule)).toContain('hook-off-rod');
  });

  it('brackets hold a tower to the wall at top, middle and bottom on both sides: six a tower', () => {
    const text = closet('24in', '18in', tower);
    const { units } = ask('takeoff', text);
    const ties = (units[0]?.fixings ?? []).filter((f) => f.hardware === 'tower-bracket');
    // Panels from the floor to 84 + 3/4 in; 4 in from either end, and half-way: 84-3/4 / 2 = 42-3/8.
    expect(ties.map((f) => `${f.part} ${f.height.text}`)).toEqual(
      ['left', 'right'].flatMap((side) => ['80-3/4in', '42-3/8in', '4in'].map((height) => `a.sides.${side} ${height}`)),
    );
    // A tower without them is told, where anything says what carries it.
    const loose = text.replace('tower-bracket, tower-clip', 'tower-clip');
    expect(ask('check', loose).findings.filter(({ rule }) => rule === 'tower-not-tied')).toHaveLength(1);
  });

  it('four pins hold an adjustable shelf, two at each end', () => {
    // 22-1/2 in between panels of 3/4 in, and 1-1/2 in from the back and from the front of 12 in.
    expect(fixings(closet('24in', '18in', tower), 'a.loose', 'shelf-pin').map((f) => [f.at.text, f.out.text])).toEqual([
      ['3/4in', '1-1/2in'],
      ['3/4in', '10-1/2in'],
      ['23-1/4in', '1-1/2in'],
      ['23-1/4in', '10-1/2in'],
    ]);
  });
});
