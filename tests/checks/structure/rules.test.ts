/** The rules of structure as data, by the measure of the table of rules. */
import { describe, expect, it } from 'vitest';
import { structureCheck } from '../../../server/checks/structure/check.ts';
import { creepFactors } from '../../../server/checks/structure/creep.ts';
import { designLoads } from '../../../server/checks/structure/loads.ts';
import { framingSource, materialRows } from '../../../server/checks/structure/materials.ts';
import { tipping } from '../../../server/checks/structure/tipping.ts';

describe('every rule of structure', () => {
  it.each(structureCheck.rules.map((rule) => [rule.id, rule] as const))('%s is told in full', (id, rule) => {
    expect(id).toMatch(/^[a-z]+(-[a-z]+)+$/);
    expect(['structure', 'fixing']).toContain(rule.family);
    expect(rule.explanation).toMatch(/^[A-Z].*[.`]$/s);
    const told = [rule.title, rule.explanation, rule.comparison, rule.caution].join(' ');
    expect(told).not.toMatch(/\bsafe(ly|ty)?\b|\bcompl(y|ies|iant|iance)\b/i);
    if (/\bload\b|\btip(s|ping)?\b/i.test(told)) expect(rule.caution).toMatch(/local|licensed|maker/);
  });

  it('that gates by default rests on a text that was seen', () => {
    // What is from memory decides nothing: only these compare with a number of their own.
    for (const { source, severity } of structureCheck.rules) {
      if (source.kind !== 'published') continue;
      expect(source.seen).toBe(true);
      if (source.document === 'Architectural Woodwork Standards') expect(severity).toBe('note');
    }
  });
});

describe('the tables', () => {
  it('say of every row where it is from', () => {
    const sources = [...materialRows, ...designLoads, ...creepFactors].map(({ source }) => source);
    for (const source of [...sources, framingSource]) {
      expect(source.kind).toBe('published');
      if (source.kind === 'published') {
        for (const part of [source.document, source.section, source.edition]) expect(part.trim()).not.toBe('');
      }
    }
  });
});

describe('tipping', () => {
  it('is not computed from what is not a number', () => {
    expect(tipping({ weight: Number.NaN, behindEdge: 0.2, open: [] })).toBeUndefined();
    expect(tipping({ weight: 100, behindEdge: -1, open: [] })).toBeUndefined();
  });
});
