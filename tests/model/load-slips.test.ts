/** Loads, masses and strengths as people write them: what was meant is told in the units of measure of what is asked for. */
import { describe, expect, it } from 'vitest';
import { fixesThatHold } from '../../server/checks/alternatives.ts';
import { allFindings, projectOf } from './support.ts';

/** What is said of a load on a shelf, and what the fixes that hold are called. */
function said(what: string): { message: string; advice: string | undefined; fixes: string[] }[] {
  const project = projectOf(`template t {
  wall back { length 60in; height 96in }
  zone a on back { width fill; board white-12; shelf s { at 72in; ${what} } }
}
unit u t
`);
  return allFindings(project)
    .filter(({ severity }) => severity === 'error')
    .map((found) => ({
      message: found.message,
      advice: found.advice,
      fixes: fixesThatHold(project, found).map(({ title }) => title),
    }));
}

describe('a load', () => {
  it.each([
    ['load 15 lb/ft2', 'Here should be a load on an area, and this is a mass per area.', '15 lbf/ft2'],
    ['load 15 lb/ft', 'Here should be a load on an area, and this is a mass per length.', '15 lbf/ft2'],
    ['point-load 40 lb', 'Here should be a force, and this is a mass.', '40 lbf'],
    ['point-load 40lb', 'Here should be a force, and this is a mass.', '40lbf'],
  ])('that is written as a mass is offered as a force: %s', (written, message, meant) => {
    const isSure = written !== 'load 15 lb/ft';
    expect(said(written)).toEqual([
      isSure
        ? { message, advice: `Did you mean ${meant}?`, fixes: [`Write ${meant}`] }
        : { message, advice: 'Write for example: 40 lbf/ft2', fixes: [] },
    ]);
  });

  it.each([
    ['load 15 lbs/ft2', 'lbs/ft2', 'lbf/ft2'],
    ['load 15 lb/sqft', 'lb/sqft', 'lbf/ft2'],
    ['load 15 lb / sqft', 'lb / sqft', 'lbf/ft2'],
    ['load 15lbs/sf', 'lbs/sf', 'lbf/ft2'],
    ['load 15 lb/ft²', 'lb/ft²', 'lbf/ft2'],
    ['load 15 lbf/ft²', 'lbf/ft²', 'lbf/ft2'],
    ['load 15lbs/ft²', 'lbs/ft²', 'lbf/ft2'],
    ['load 15 lbf/sqft', 'lbf/sqft', 'lbf/ft2'],
    ['point-load 40 lbs', 'lbs', 'lbf'],
    ['point-load 40 pounds', 'pounds', 'lbf'],
  ])('in other spellings is told once, as it is written here: %s', (written, unit, meant) => {
    expect(said(written)).toEqual([
      {
        message: `"${unit}" is not how a unit of measure is written.`,
        advice: `Did you mean "${meant}"?`,
        fixes: [`Write "${meant}"`],
      },
    ]);
  });

  it('without a unit of measure is asked for one, with its own number', () => {
    expect(said('load 15')).toEqual([
      {
        message: 'Here should be a load on an area, and this is a count.',
        advice: 'Write for example: 15 lbf/ft2',
        fixes: [],
      },
    ]);
  });
});

describe('a mass', () => {
  it('that is written as a force is offered as a mass', () => {
    const project = projectOf('board oak { depth 12in; thickness 3/4in; weight 2.5 lbf/ft2 }');
    const [found] = project.findings();
    expect([found?.advice, found?.fixes.map(({ title }) => title)]).toEqual([
      'Did you mean 2.5 lb/ft2?',
      ['Write 2.5 lb/ft2'],
    ]);
  });
});

describe('letters that are no unit of measure', () => {
  it('are told which there are for lengths', () => {
    const [found] = projectOf('board oak { depth 12xyzzy; thickness 3/4in }').findings();
    expect(found?.advice).toBe('Of lengths there are in, ft, mm, cm and m.');
  });
});
