/** Each limit of the one table is reached: just as much works, one more is told, and what stands beside it is as it was. */
import { describe, expect, it } from 'vitest';
import { rules } from '../server/checks/table.ts';
import { type LimitName, limitGroups, limits } from '../server/model/limits.ts';
import './limits/text.ts';
import './limits/project.ts';
import './limits/files.ts';
import './limits/tables.ts';
import './limits/editor.ts';
import './limits/sheets.ts';
import { reached } from './limits/reach.ts';

describe('the table of limits', () => {
  it('has a test of each', () => {
    expect((Object.keys(limits) as LimitName[]).filter((name) => !reached.has(name))).toEqual([]);
  });

  it('shows each once, with a reason, a whole number, and a rule that there is', () => {
    expect(limitGroups.flatMap((group) => Object.keys(group.limits)).sort()).toEqual(Object.keys(limits).sort());
    const ids = new Set(rules.map(({ id }) => id));
    for (const { most, counts, why, told } of limitGroups.flatMap((group) => Object.values(group.limits))) {
      expect(Number.isSafeInteger(most)).toBe(true);
      expect(counts).not.toBe('');
      expect(why).toMatch(/\.$/);
      if ('rule' in told) expect(ids).toContain(told.rule);
    }
  });
});
