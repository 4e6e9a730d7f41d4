/** One delivery after the other: what one leaves is cut from in the next. */
import { expect, it } from 'vitest';
import { folderWith, storypole } from './command.ts';

const text = `project "Quarry Lane" { currency EUR; keep-offcuts from 24in }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft price 18.90 EUR count 3 }
template linen { board white-12; wall back { length 60in; height 96in }; zone a on back { width fill; shelf s { at 40in } } }
template narrow { board white-12; wall back { length 30in; height 96in }; zone a on back { width fill; shelf s { at 40in } } }
unit B linen { phase 1 }
unit C narrow { phase 2 }
unit D linen { phase 10 }
extra spare { board white-12; length 12in; count 1 }
`;

interface Project {
  readonly group: { readonly by: string; readonly name: string | null } | null;
  readonly patterns: readonly {
    readonly length: { readonly text: string };
    readonly cuts: readonly { readonly length: { readonly text: string } }[];
  }[];
}

it('plans phases in their order, each with what those before it left', () => {
  const folder = folderWith({ 'a.closet': text });
  const { status, out, err } = storypole(['plan', '--by', 'phase', '--format', 'json'], folder);
  expect([status, err]).toEqual([0, '']);
  const projects = (JSON.parse(out) as { projects: Project[] }).projects;
  const told = projects.map(({ group, patterns }) => [
    group?.name,
    patterns.map((p) => `${p.length.text}: ${p.cuts.map((c) => c.length.text).join(', ')}`),
  ]);
  expect(told).toEqual([
    // 96 - 60 - 1/8 = 35-7/8 in are left, and kept.
    ['1', ['96in: 60in']],
    // The 30 in come from those: 5-3/4 in are waste.
    ['2', ['35-7/8in: 30in']],
    // 10 comes after 2.
    ['10', ['96in: 60in']],
    // What names no phase comes last, from what the one before it left.
    [null, ['35-7/8in: 12in']],
  ]);
});

it('says in the text which delivery it is, and writes the stock that the last one leaves', () => {
  const folder = folderWith({ 'a.closet': text });
  const { out } = storypole(['plan', '--by', 'phase', '--stock-after', 'left.closet'], folder);
  expect(out).toContain('Cutting plan: Quarry Lane, phase 2\n');
  expect(out).toContain('Cutting plan: Quarry Lane, without a phase\n');
  const again = storypole(['check', 'left.closet'], folder);
  expect(again.out).toContain('white-12');
});
