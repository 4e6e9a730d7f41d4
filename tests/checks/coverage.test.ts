/** What rules tell of themselves: everything that is found was recorded as compared or as lacking, and the other way round. */
import { readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { createWorkspace } from '../../server/checks/analysis.ts';
import { coverageOf } from '../../server/checks/coverage.ts';
import { allChecks } from '../../server/checks/table.ts';
import { nodeFiles } from '../../server/model/node-files.ts';

const examples = resolve(import.meta.dirname, '../../examples');
const folders = [
  join(examples, 'quarry-lane'),
  ...readdirSync(join(examples, 'mistakes')).map((name) => join(examples, 'mistakes', name)),
];

describe.each(folders.map((folder) => ({ folder, name: folder.slice(examples.length + 1) })))('$name', ({ folder }) => {
  const workspace = createWorkspace(nodeFiles, []);
  workspace.loadFolder(folder.replaceAll('\\', '/'));
  const seen = new Set<object>();
  const inputs = workspace.projects.flatMap(({ project }) => {
    project.refreshNow();
    return [...project.units()].flatMap(({ resolved, policy }) => {
      if (!resolved || seen.has(resolved)) return [];
      seen.add(resolved);
      return [{ layout: resolved.layout, policy, show: project.settings.show }];
    });
  });

  it('every finding was recorded: as a comparison that does not hold, or as a fact that is lacking', () => {
    for (const input of inputs) {
      const coverage = coverageOf(input);
      for (const finding of allChecks.flatMap((check) => check.run(input))) {
        const own = coverage.covered.find(({ rule }) => rule === finding.rule);
        const told = (own?.looked.some(({ holds }) => !holds) ?? false) || (own?.lacked.length ?? 0) > 0;
        expect(told, `${finding.rule.id}: ${finding.message}`).toBe(true);
      }
    }
  });

  it('every comparison that does not hold is of a rule that found something', () => {
    for (const input of inputs) {
      const found = new Set(allChecks.flatMap((check) => check.run(input)).map(({ rule }) => rule.id));
      for (const { rule, looked } of coverageOf(input).covered) {
        // One of several is enough for some rules: of those, what does not hold alone is no finding.
        if (rule.comparison === undefined || anyOf.has(rule.id)) continue;
        for (const { holds, comparison } of looked)
          if (!holds) expect([...found], `${rule.id}: ${comparison.what}`).toContain(rule.id);
      }
    }
  });
});

/** Rules that ask for one of several, or for a share of them. */
const anyOf = new Set(['none-within-reach', 'half-of-shelves-within-reach', 'child-cannot-reach']);
