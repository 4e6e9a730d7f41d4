/**
 * Facts of the trade: common practice, no source. Each from a small text, through the built command's
 * JSON, to the number.
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
  readonly ticks: number;
  readonly text: string;
}
interface UnitJson {
  readonly name: string;
  readonly walls: readonly {
    readonly name: string;
    readonly leftOver: readonly { readonly from: Length; readonly width: Length }[];
  }[];
  readonly zones: readonly {
    readonly path: string;
    readonly from: Length;
    readonly width: Length;
    readonly fittings: readonly { readonly path: string; readonly tilted: boolean }[];
  }[];
  readonly parts: readonly {
    readonly path: string;
    readonly length: Length;
    readonly steps: readonly { readonly kind: string; readonly text: string; readonly amount: Length }[];
  }[];
  readonly lines: readonly {
    readonly height: Length;
    readonly length: Length;
    readonly mark: Length;
    readonly shelves: readonly string[];
  }[];
}
interface ProjectJson {
  readonly units: readonly UnitJson[];
  readonly patterns: readonly {
    readonly times: number;
    readonly offcut: Length;
    readonly keep: boolean;
    readonly cuts: readonly { readonly length: Length; readonly quantity: number }[];
  }[];
  readonly findings: readonly { readonly rule: string; readonly message: string; readonly severity: string }[];
}

let runs = 0;
/** What a command says of a text, as JSON. */
function ask(what: 'check' | 'cuts' | 'plan', text: string): ProjectJson {
  const file = join(folder, `${runs++}.closet`);
  writeFileSync(file, text);
  const run = spawnSync(process.execPath, [command, what, file, '--format', 'json'], { encoding: 'utf8' });
  expect(run.stdout).not.toBe('');
  const { projects } = JSON.parse(run.stdout) as { projects: ProjectJson[] };
  rmSync(file);
  return projects[0] as ProjectJson;
}

const materials = `project "Quarry Lane" { kerf 1/8in; saw-step 1/16in; keep-offcuts from 24in }
board white-12 { depth 12in; thickness 3/4in }
board panel { depth 12in; thickness 3/8in }
rod chrome { diameter 1-1/16in; ends take 3/8in for "the end fitting" }
`;

/** Double hang, tower, long hang on one back wall. */
const reachIn = (wall: string, long = 'width fill'): string => `${materials}template reach-in {
  board white-12
  pole chrome
  wall back { length ${wall}; height 96in }
  zone shirts on back {
    width 48in
    shelf high { at 84in }
    shelf low { at 42in }
    rod upper { under high by 3in; for shirt; from wall 9in }
    rod lower { under low by 3in; for folded-trousers; from wall 9in }
  }
  zone tower on back after shirts {
    width 24in
    shelf top { at 84in; fixed }
    shelf shoes { at 8in; tilted }
  }
  zone coats on back after tower {
    ${long}
    shelf top { at 72in }
    rod long { under top by 3in; for long-coat; from wall 9in }
  }
}
unit as-drawn reach-in
unit reversed reach-in mirrored
`;

const unit = (project: ProjectJson, name: string): UnitJson => project.units.find((u) => u.name === name) as UnitJson;
const cut = (u: UnitJson, path: string): string | undefined => u.parts.find((p) => p.path === path)?.length.text;

describe('common practice, no source', () => {
  it('double hang has its level lines at 84in and 42in, long hang at 72in', () => {
    const u = unit(ask('cuts', reachIn('93-3/4in')), 'as-drawn');
    expect(u.lines.map((l) => l.height.text)).toEqual(['84in', '72in', '42in']);
    // And nothing that hangs there touches the floor or the shelf below: no warning.
    expect(ask('check', reachIn('93-3/4in')).findings.filter((f) => f.severity !== 'note')).toEqual([
      expect.objectContaining({ rule: 'stock-missing' }),
      expect.objectContaining({ rule: 'stock-missing' }),
    ]);
  });

  it('a 48in double hang, a 24in tower and a 21-3/4in long hang take 93-3/4in; of a nominal 96in the 2-1/4in left are told', () => {
    // 48 + 24 + 21-3/4 = 93-3/4; 96 - 93-3/4 = 2-1/4
    expect(cut(unit(ask('cuts', reachIn('93-3/4in')), 'as-drawn'), 'coats.top')).toBe('21-3/4in');
    const wide = reachIn('96in', 'width 21-3/4in');
    const left = unit(ask('cuts', wide), 'as-drawn').walls[0]?.leftOver.map((l) => [l.from.text, l.width.text]);
    expect(left).toEqual([['93-3/4in', '2-1/4in']]);
    expect(
      ask('check', wide)
        .findings.filter((f) => f.rule === 'width-left-over')
        .map((f) => f.message),
    ).toContain('2-1/4in is left over on the back wall, from 93-3/4in to 96in.');
  });

  it('level lines are drawn as long as the zones, rounded up: 6ft across double hang and tower, 4ft below, about 22in', () => {
    // 48 + 24 = 72in; 48in; 21-3/4in, up to the next whole inch: 22in
    const lines = unit(ask('cuts', reachIn('93-3/4in')), 'as-drawn').lines;
    expect(lines.map((l) => [l.height.text, l.length.text, l.mark.text])).toEqual([
      ['84in', '72in', '72in'],
      ['72in', '21-3/4in', '22in'],
      ['42in', '48in', '48in'],
    ]);
  });

  it('the rod of a 21-3/4in zone is cut 21in where its end fittings take 3/8in a side', () => {
    // 21-3/4 - 2 x 3/8 = 21
    const u = unit(ask('cuts', reachIn('93-3/4in')), 'as-drawn');
    expect(cut(u, 'coats.long')).toBe('21in');
    expect(
      u.parts
        .find((p) => p.path === 'coats.long')
        ?.steps.filter((s) => s.kind === 'end')
        .map((s) => s.amount.text),
    ).toEqual(['-3/8in', '-3/8in']);
  });

  it('a 6ft board cut to 21-3/4in leaves about 50in, worth keeping, of which two shelves of a 24in tower can be cut', () => {
    const stock = 'stock white-12 { length 6ft count 1 }\n';
    // 72 - 21-3/4 - 1/8 = 50-1/8
    const first = ask('plan', `${materials}${stock}extra shelf { board white-12; length 21-3/4in }\n`);
    expect(first.patterns.map((p) => [p.offcut.text, p.keep])).toEqual([['50-1/8in', true]]);
    // The tower: 24 - 2 x 3/8 = 23-1/4 between its panels; 2 x 23-1/4 + 2 x 1/8 = 46-3/4, of 50-1/8 leaves 3-3/8.
    const both = ask(
      'plan',
      `${materials}${stock}extra shelf { board white-12; length 21-3/4in }
template tower {
  wall back { length 24in; height 96in }
  zone a on back {
    width fill
    panels { board panel; height 84in }
    shelf one { at 30in; board white-12 }
    shelf two { at 50in; board white-12 }
  }
}
unit u tower
`,
    );
    const boards = both.patterns.filter((p) => p.cuts.some((c) => c.length.text === '21-3/4in'));
    expect(
      boards.map((p) => [p.times, p.cuts.map((c) => `${c.quantity} x ${c.length.text}`), p.offcut.text, p.keep]),
    ).toEqual([[1, ['2 x 23-1/4in', '1 x 21-3/4in'], '3-3/8in', false]]);
  });

  it('a layout may be reversed left to right, and a tilted shelf serves as shoe shelf', () => {
    const project = ask('cuts', reachIn('93-3/4in'));
    const [drawn, reversed] = [unit(project, 'as-drawn'), unit(project, 'reversed')];
    const froms = (u: UnitJson): Record<string, string> =>
      Object.fromEntries(u.zones.map((z) => [z.path, z.from.text]));
    // From the left 0, 48, 72; reversed 93-3/4 - 48 = 45-3/4, 93-3/4 - 72 = 21-3/4, 0.
    expect(froms(drawn)).toEqual({ shirts: '0in', tower: '48in', coats: '72in' });
    expect(froms(reversed)).toEqual({ shirts: '45-3/4in', tower: '21-3/4in', coats: '0in' });
    const list = (u: UnitJson): string[] => u.parts.map((p) => `${p.path} ${p.length.text}`).sort();
    expect(list(reversed)).toEqual(list(drawn));
    expect(
      drawn.zones
        .flatMap((z) => z.fittings)
        .filter((f) => f.tilted)
        .map((f) => f.path),
    ).toEqual(['tower.shoes']);
  });

  it('a cut is adjusted to the length measured on site', () => {
    // Measured 93-1/2in at the height of the shelf: 93-1/2 - 72 = 21-1/2, and the rod 20-3/4.
    const measured = `${reachIn('93-3/4in')}survey as-drawn { wall back { length 93-1/2in at 72in; length 93-1/2in at 69in } }\n`;
    const project = ask('cuts', measured);
    expect([cut(unit(project, 'as-drawn'), 'coats.top'), cut(unit(project, 'as-drawn'), 'coats.long')]).toEqual([
      '21-1/2in',
      '20-3/4in',
    ]);
    expect(unit(project, 'as-drawn').parts.find((p) => p.path === 'coats.top')?.steps[0]?.text).toBe(
      'wall back, measured (at 72in), drawn 93-3/4in',
    );
    // The other unit was not measured.
    expect(cut(unit(project, 'reversed'), 'coats.top')).toBe('21-3/4in');
  });
});
