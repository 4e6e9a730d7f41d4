/** `storypole explain` and `storypole schema`: what the tool says about itself. */
import { defaultLimits } from '../checks/defaults.ts';
import { explain } from '../checks/explain.ts';
import { ruleNamed, rules } from '../checks/table.ts';
import { nearest } from '../model/nearest.ts';
import { type Rule, sourceLine } from '../model/rule.ts';
import { showInches } from '../model/show.ts';
import { tableLines } from '../sheets/text-table.ts';
import type { Answer } from './answer.ts';
import { documentOf, lengthOrNull } from './json.ts';
import { each } from './json-text.ts';
import { reportSchema } from './report-schema.ts';
import type { Common } from './session.ts';
import { Stop } from './stop.ts';

/** One rule in full, or without an id a line for each. Throws Stop where there is no such rule. */
export function explainRule(id: string | undefined, { format }: Pick<Common, 'format'>): Answer {
  const asked = id === undefined ? rules : [named(id)];
  if (format === 'json') return { status: 0, result: documentOf('explain', { rules: each(asked, ruleJson) }) };
  return { status: 0, result: [`${id === undefined ? list() : asked.map(explain).join('\n\n')}\n`] };
}

export function schema(): Answer {
  return { status: 0, result: [`${JSON.stringify(reportSchema, null, 2)}\n`] };
}

function named(id: string): Rule {
  const rule = ruleNamed(id);
  if (rule) return rule;
  const near = nearest(
    id,
    rules.map((known) => known.id),
  );
  throw new Stop(
    `There is no rule "${id}"${near === undefined ? '. storypole explain lists them all.' : `; did you mean "${near}"?`}`,
  );
}

/** By family, in the order of the table. */
function list(): string {
  const lines = tableLines(
    [
      { title: 'rule', align: 'left' },
      { title: 'severity', align: 'left' },
      { title: 'what it says', align: 'left' },
    ],
    rules.map(({ id, severity, title }) => [`  ${id}`, severity, title]),
  );
  const families = Map.groupBy(rules, ({ family }) => family);
  const sections = [...families].map(([family, own]) =>
    [family, ...own.map((rule) => lines[rules.indexOf(rule) + 1] ?? '')].join('\n'),
  );
  return `${sections.join('\n\n')}\n\nstorypole explain RULE tells what a rule compares, its source and its caution.`;
}

function ruleJson({
  id,
  family,
  title,
  severity,
  explanation,
  comparison,
  limits,
  source,
  editions = [],
  needs = [],
  caution,
}: Rule): object {
  return {
    id,
    family,
    title,
    severity,
    explanation,
    comparison: comparison ?? null,
    source: sourceLine(source),
    editions: editions.map(sourceLine),
    needs,
    caution: caution ?? null,
    limits: defaultLimits
      .filter(({ name }) => limits?.includes(name))
      .map(({ name, doc, least, most, source: from }) => ({
        name,
        doc,
        atLeast: lengthOrNull(least, showInches),
        atMost: lengthOrNull(most, showInches),
        source: sourceLine(from),
      })),
  };
}
