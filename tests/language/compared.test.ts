/** What the rules compared, told on hover. The numbers of the small cases are worked out beside them. */
import { describe, expect, it } from 'vitest';
import { spanOf } from '../../grammar/tree.ts';
import { coverageOf } from '../../server/checks/coverage.ts';
import { hoverAt } from '../../server/language/hover.ts';
import type { Project } from '../../server/model/project.ts';
import { projectOf } from '../model/support.ts';

const file = '/p/main.closet';

function read(text: string): { project: Project; told: (part: string) => string; at: (offset: number) => string } {
  const project = projectOf(text);
  const source = project.sources.get(file);
  if (!source) throw new Error('the text was not read');
  const at = (offset: number): string => hoverAt({ project, source, path: file }, offset)?.text ?? '';
  return {
    project,
    at,
    told: (part) => {
      expect(text.split(part), part).toHaveLength(2);
      return at(text.indexOf(part) + 1);
    },
  };
}

const closet = (zone: string, more = 'unit u t'): string => `template t {
  parameter width: length = 45in from 40in to 48in
  wall back { length width; height 96in }
  wall left { length 24in; height 96in }
  wall right { length 24in; height 96in }
  board white-12
  pole chrome
  zone a on back { width fill
    ${zone}
  }
}
${more}
`;

/** The list of comparisons in a hover, a row each. */
function rows(text: string): string[] {
  return text.split('\n').filter((line) => line.startsWith('- '));
}

describe('what the rules compared about a fitting', () => {
  it('is told with what does not hold first', () => {
    // Half of a 17 in hanger is 8-1/2 in, 1-1/2 in more than there are.
    const { told } = read(closet('rod r { at 60in; for shirt; from wall 7in }'));
    const text = told('rod r');
    expect(text).toContain('Compared in u:');
    expect(rows(text)[0]).toMatch(/^- \*\*does not hold\*\* `rod-near-wall`: .* -1-1\/2in, at least 0in$/);
    expect(rows(text).some((row) => row.startsWith('- holds '))).toBe(true);
    // Behind the facts, before what the word means.
    expect(text.indexOf('Cut **')).toBeLessThan(text.indexOf('Compared in'));
    expect(text.indexOf('Compared in')).toBeLessThan(text.indexOf('A hanging rod.'));
  });

  it('is told with what is lacking next, and of the rest what is nearest to its limit', () => {
    const { told } = read(closet('rod r { at 37in; for shirt; from wall 9in }'));
    const list = rows(told('rod r')).map((row) => row.replaceAll('*', ''));
    const kinds = list.map((row) => (row.startsWith('- not compared') ? 1 : row.startsWith('- holds') ? 2 : 3));
    expect(kinds).toEqual(kinds.toSorted((a, b) => a - b));
    expect(list.filter((row) => row.startsWith('- not compared')).length).toBeGreaterThan(0);
    // Its ends touch both walls: no part of the limit is left.
    expect(list.find((row) => row.startsWith('- holds'))).toMatch(
      /`fitting-outside-wall`: right end of .*45in, at most 45in$/,
    );
    // Spans of 45 in where 48 in are advised leave a part in 16.
    expect(list.filter((row) => row.startsWith('- holds'))[1]).toContain('`rod-span-long`');
    expect(list.length).toBeLessThanOrEqual(11);
  });

  it('is taken from a unit that has something wrong, of all that use the template', () => {
    const units = 'unit u1 t\nunit u2 t { override a.r { at 30in } }\nunit u3 t';
    const { told } = read(closet('rod r { at 60in; for shirt }', units));
    expect(told('rod r')).toContain('Compared in u2, one of 3 units:');
    expect(rows(told('rod r'))[0]).toContain('`garment-meets-floor`');
  });

  it('is taken from a sample where no unit uses the template', () => {
    const { told } = read(closet('shelf s { at 40in }', ''));
    expect(told('shelf s')).toContain('Compared at width 40in:');
  });

  it('is told of fixtures, and of what stands before them', () => {
    // The shelf of 3/4 in at 17 in is before an outlet from 16 in on.
    const text = closet('shelf s { at 17in }').replace(
      '  board white-12',
      '  fixture outlet on back { from left 20in; height 16in; clear 1in }\n  board white-12',
    );
    const { told } = read(text);
    for (const part of ['shelf s', 'fixture outlet'])
      expect(rows(told(part))[0], part).toMatch(/^- \*\*does not hold\*\* `fitting-before-fixture`/);
  });

  it('is not told of zones and walls, nor of what is in no template', () => {
    const { told } = read(closet('shelf s { at 40in }', 'unit u t\nboard oak { depth 12in; thickness 3/4in }'));
    for (const part of ['zone a', 'wall back', 'board oak', 'unit u']) expect(told(part)).not.toContain('Compared');
  });

  it('is looked at once for each layout', () => {
    const { project, told } = read(closet('shelf s { at 40in }'));
    const first = told('shelf s');
    const before = project.computations;
    expect(told('shelf s')).toBe(first);
    expect(project.computations).toBe(before);
  });
});

describe('the numbers on the way', () => {
  const boards = `board oak { depth 12in; thickness 3/4in; stiffness 330 ksi; strength 800 psi }
stock oak { length 8ft }
`;
  const loaded = closet('shelf s { at 40in; load 40 lbf/ft2; board oak }', `unit u t\n${boards}`);

  it('of a result about structure are all told, up to what fits', () => {
    const { project, told } = read(loaded);
    const text = told('shelf s');
    const [unit] = [...project.units()];
    if (!unit?.resolved) throw new Error('no layout');
    const { covered } = coverageOf({ layout: unit.resolved.layout, policy: unit.policy, show: project.settings.show });
    const worked = covered
      .filter(({ rule }) => rule.family === 'structure')
      .flatMap(({ looked }) => looked)
      .filter(({ working, about }) => working?.length && about === 'a.s');
    expect(worked.length).toBeGreaterThan(0);
    const shown = worked.filter(({ rule }) => text.includes(`\`\`\`text\n${rule.id}\n`));
    expect(shown.length).toBeGreaterThan(0);
    for (const { rule, working = [] } of shown) {
      const [, block = ''] = text.split(`\`\`\`text\n${rule.id}\n`);
      const lines = block.split('\n```')[0]?.split('\n') ?? [];
      for (const [i, { what, value, how }] of working.slice(0, 14).entries())
        for (const part of [what, value, ...(how === undefined ? [] : [how])])
          expect(lines[i], rule.id).toContain(part);
      if (working.length > 14) expect(lines[14]).toBe(`and ${working.length - 14} lines more`);
      expect(lines.length).toBeLessThanOrEqual(15);
    }
    expect(text.match(/```text/g)?.length ?? 0).toBeLessThanOrEqual(3);
  });

  it('of a finding are told wherever it is underlined', () => {
    const { project, at } = read(loaded.replace('40 lbf/ft2', '400 lbf/ft2'));
    const found = project.findings().filter(({ working }) => working?.length);
    expect(found.length).toBeGreaterThan(0);
    for (const { place, working = [], rule } of found.slice(0, 2)) {
      const { start, end } = spanOf(place);
      for (const offset of [start, Math.floor((start + end) / 2), end]) {
        const text = at(offset);
        expect(text, rule.id).toContain(`\`${rule.id}\``);
        expect(text, rule.id).toContain(working[0]?.value ?? '');
      }
    }
  });
});
