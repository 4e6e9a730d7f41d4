/** Plans from anywhere, worked out again. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { folderWith, root, storypole } from './command.ts';

interface Pattern {
  times: number;
  cuts: { quantity: number }[];
  offcut: { ticks: number };
}
interface Totals {
  price: { hundredths: number };
  patternCount: number;
  stopSettings: number;
  withinLimits: boolean;
  bound: { price: { hundredths: number } };
}
interface Report {
  projects: { patterns: Pattern[]; totals: Totals[] }[];
}

const written = storypole(['plan', 'examples/quarry-lane', '--format', 'json'], root).out;

/** Changes the first pattern and the first totals of the plan, and has it verified. */
function verify(change: (pattern: Pattern, totals: Totals) => void, words: readonly string[] = []) {
  const report = JSON.parse(written) as Report;
  const [pattern] = report.projects[0]?.patterns ?? [];
  const [totals] = report.projects[0]?.totals ?? [];
  if (!pattern || !totals) throw new Error('the report has no plan');
  change(pattern, totals);
  const folder = folderWith({});
  writeFileSync(join(folder, 'plan.json'), JSON.stringify(report));
  return storypole(['plan', '--verify', 'plan.json', ...words], folder);
}

function boardMore(pattern: Pattern): void {
  pattern.times++;
}

describe('plan --verify', () => {
  it('says of a plan that holds what was worked out again', () => {
    const { status, out, err } = verify(() => undefined);
    expect([status, err]).toEqual([0, '']);
    expect(out).toContain('Quarry Lane: the plan holds.\n');
    expect(out).toMatch(/chrome: \d+ boards, [\d.,]+; no plan can come to less, worked out again\./);
  });

  it.each<[string, (pattern: Pattern, totals: Totals) => void]>([
    ['a board more', boardMore],
    [
      'a piece more on a board',
      ({ cuts }) => {
        for (const cut of cuts) cut.quantity++;
      },
    ],
    [
      'another offcut',
      ({ offcut }) => {
        offcut.ticks++;
      },
    ],
    [
      'a lower price',
      (_, { price }) => {
        price.hundredths--;
      },
    ],
    [
      'fewer patterns than there are',
      (_, totals) => {
        totals.patternCount--;
      },
    ],
    [
      'fewer settings of the stop than it takes',
      (_, totals) => {
        totals.stopSettings--;
      },
    ],
    [
      'a limit that is said not to be kept to',
      (_, totals) => {
        totals.withinLimits = !totals.withinLimits;
      },
    ],
    [
      'a bound that does not follow',
      (_, { bound }) => {
        bound.price.hundredths++;
      },
    ],
  ])('refuses %s', (_, change) => {
    const { status, out } = verify(change);
    expect(status).toBe(1);
    expect(out).toContain('Quarry Lane: the plan does not hold.');
  });

  it('writes the same as JSON', () => {
    const { out } = verify(boardMore, ['--format', 'json']);
    const [project] = JSON.parse(out).projects;
    expect(project.holds).toBe(false);
    expect(project.violations.length).toBeGreaterThan(0);
  });

  it.each([
    ['{', 'is no JSON'],
    ['[]', 'is no report of plans: the report is no object'],
    ['{"command":"check","version":1}', 'is no report of plans'],
    ['{"command":"plan","version":1,"projects":[{}]}', 'projects[0].saw is no object'],
  ])('%s is answered in a sentence', (text, said) => {
    const folder = folderWith({ 'plan.json': text });
    const { status, out, err } = storypole(['plan', '--verify', 'plan.json'], folder);
    expect([status, out]).toEqual([2, '']);
    expect(err).toContain(said);
  });
});
