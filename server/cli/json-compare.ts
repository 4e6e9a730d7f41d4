/** A change report as JSON. */
import type { Finding } from '../model/finding.ts';
import type { Show } from '../model/show.ts';
import type { Change, Value } from '../sheets/compare/changes.ts';
import type { Comparison, GroupedChange, Totals } from '../sheets/compare/compare.ts';
import { summaryOf } from '../sheets/compare/said.ts';
import type { Titles } from '../sheets/compare/text.ts';
import { lengthJson, moneyJson } from './json.ts';

export function comparisonJson(
  comparison: Comparison,
  titles: Titles,
  show: Show,
  currency: string | undefined,
): object {
  const value = (v: Value | undefined): object | string | number | null =>
    v === undefined ? null : 'ticks' in v ? lengthJson(v.ticks, show) : 'count' in v ? v.count : v.text;
  const spread = (range: GroupedChange['spread'], side: 'before' | 'after'): object | null => {
    const ends = range?.[side];
    return ends ? { least: lengthJson(ends[0], show), most: lengthJson(ends[1], show) } : null;
  };
  return {
    title: titles.project,
    before: titles.before,
    after: titles.after,
    alike: comparison.isBuiltAlike,
    summary: summaryOf(comparison),
    groups: comparison.groups.map(({ template, units, count, changes }) => ({
      template: template ?? null,
      units,
      count,
      changes: changes.map((change: GroupedChange & Change) => ({
        kind: change.kind,
        of: change.of,
        what: change.what,
        before: value(change.before),
        after: value(change.after),
        spread: change.spread
          ? { before: spread(change.spread, 'before'), after: spread(change.spread, 'after') }
          : null,
      })),
    })),
    added: comparison.added,
    removed: comparison.removed,
    renamed: comparison.renamed,
    findings: {
      added: comparison.findings.added.map(findingHead),
      gone: comparison.findings.gone.map(findingHead),
    },
    totals: {
      before: totalsJson(comparison.before, show, currency),
      after: totalsJson(comparison.after, show, currency),
    },
  };
}

function findingHead({ severity, rule, message }: Finding): object {
  return { severity, rule: rule.id, message };
}

function totalsJson(totals: Totals, show: Show, currency: string | undefined): object {
  return {
    units: totals.units,
    materials: totals.materials.map(({ material, boards, stockLength, waste, price }) => ({
      material,
      boards,
      stockLength: lengthJson(stockLength, show),
      waste: lengthJson(waste, show),
      price: price === undefined ? null : moneyJson(price, currency),
    })),
    hardware: [...totals.hardware].map(([name, count]) => ({ name, count })),
    hardwarePrice: totals.hardwarePrice === undefined ? null : moneyJson(totals.hardwarePrice, currency),
    counts: { errors: totals.errors, warnings: totals.warnings, notes: totals.notes },
  };
}
