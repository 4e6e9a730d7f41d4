/** From text to findings of one check alone, and back through the fixes that it offers. */
import { spanOf } from '../../grammar/tree.ts';
import { ruleBook } from '../../server/checks/analysis.ts';
import type { Check } from '../../server/checks/check.ts';
import type { Finding, Fix } from '../../server/model/finding.ts';
import { Workspace } from '../../server/model/workspace.ts';
import { memoryFiles, prelude } from '../model/support.ts';

/** What one check finds in a text, and every error; other rules are left aside. */
export function foundBy(check: Check, limits: readonly { readonly name: string }[], text: string): Finding[] {
  const project: typeof ruleBook = {
    ...ruleBook,
    check: (layout, policy, show) => check.run({ layout, policy, show }),
    ruleIds: new Set(check.rules.map(({ id }) => id)),
    limitNames: new Set(limits.map(({ name }) => name)),
  };
  const families = new Set(check.rules.map(({ family }) => family));
  const texts = { '/p/prelude.closet': prelude, '/p/main.closet': text };
  const workspace = new Workspace({ files: memoryFiles(texts), folders: [], project });
  for (const path of Object.keys(texts)) workspace.loadFile(path);
  const all: Finding[] = [];
  for (const { project: own } of workspace.projects) {
    own.refreshNow();
    all.push(...own.findings());
  }
  return all.filter(({ rule }) => families.has(rule.family) || rule.severity === 'error');
}

/** The text after a fix, edited from its end, so that no edit moves another. */
export function applied(text: string, { edits }: Fix): string {
  return edits
    .map(({ place, text: by }) => ({ ...spanOf(place), by }))
    .sort((a, b) => b.start - a.start)
    .reduce((made, { start, end, by }) => made.slice(0, start) + by + made.slice(end), text);
}
