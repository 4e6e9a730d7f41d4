/** The pages of the rules: everything that the table says of a rule, where a reader looks for it. */
import { describe, expect, it } from 'vitest';
import { defaultLimits } from '../../server/checks/defaults.ts';
import { rules } from '../../server/checks/table.ts';
import { rulePages } from '../../server/generate-rules.ts';
import { ruleText } from '../../server/language/rule-text.ts';
import { type RuleFamily, sourceLine } from '../../server/model/rule.ts';
import { showInches } from '../../server/model/show.ts';

// That the file is current is held by tests/grammar/reference.test.ts, with the other generated ones.
const text = rulePages();
const pages = new Map(
  text
    .split(/^### /m)
    .slice(1)
    .map((page) => [page.split('\n')[0] ?? '', page.split(/^## /m)[0] ?? '']),
);

describe('the pages of the rules', () => {
  it('have one for every rule, with all that the table says of it', () => {
    expect([...pages.keys()].sort()).toEqual(rules.map(({ id }) => id).sort());
    for (const { id, title, explanation, comparison, severity, limits, needs, source, editions, caution } of rules) {
      const page = pages.get(id) ?? '';
      const said = [title, explanation, comparison, `Severity: ${severity}`, ...(needs ?? []), caution];
      const sources = [source, ...(editions ?? [])].map((s) => sourceLine(s).slice(1));
      for (const part of [...said, ...sources]) if (part !== undefined) expect(page, id).toContain(part);
      for (const limit of defaultLimits.filter(({ name }) => limits?.includes(name))) {
        expect(page, id).toContain(`Limit \`${limit.name}\`: ${limit.doc}`);
        if (limit.least === undefined && limit.most === undefined) expect(page, id).toContain('No limit by default');
      }
    }
  });

  it('give limits in both systems', () => {
    expect(pages.get('rod-near-shelf')).toContain('At least 1-1/2in (38.1mm) by default (common practice, no source).');
  });

  it('stand under their families, and are linked to', () => {
    const families = new Map(
      text
        .split(/^## /m)
        .slice(1)
        .map((section) => [section.split('\n')[0]?.toLowerCase(), section]),
    );
    for (const { id, family } of rules) {
      expect(families.get(family), id).toContain(`### ${id}\n`);
      expect(text, id).toContain(`[${id}](#${id})`);
    }
    const anchors = new Set([...text.matchAll(/^##+ (.+)$/gm)].map(([, title = '']) => title.toLowerCase()));
    for (const [, to = ''] of text.matchAll(/\]\(#([^)]+)\)/g)) expect(anchors, to).toContain(to);
  });
});

describe('the table of rules', () => {
  it('has a line of source for every rule', () => {
    for (const { id, source, editions } of rules) {
      for (const one of [source, ...(editions ?? [])])
        expect(sourceLine(one), id).toMatch(/^(source: \S.*|common practice, no source)$/);
    }
  });

  const cautioned: readonly RuleFamily[] = ['access', 'light', 'structure', 'fixing', 'swings', 'fixtures'];

  it('has a caution wherever somebody is reached, lit, carried, held or met by what moves', () => {
    const without = rules.filter(({ family, caution }) => cautioned.includes(family) && !caution?.trim());
    expect(without.map(({ id }) => id)).toEqual([]);
  });
});

describe('a rule on hover', () => {
  it('tells what it needs and which editions state it', () => {
    const rule = rules.find(({ needs, editions }) => needs?.length && editions?.length);
    expect(rule).toBeDefined();
    const shown = ruleText(rule?.id ?? '', showInches) ?? '';
    expect(shown).toContain(`Needs: ${rule?.needs?.join('; ')}.`);
    for (const edition of rule?.editions ?? []) expect(shown).toContain(`- also ${sourceLine(edition)}`);
  });
});
