/** The pages of the rules (server/checks/RULES.md), from the table of rules and the limits that policies set. */
import { type DefaultLimit, defaultLimits } from './checks/defaults.ts';
import { exampleOf, exampleText } from './checks/rule-example.ts';
import { capital } from './checks/say.ts';
import { rules } from './checks/table.ts';
import { fenced } from './language/markdown.ts';
import { type Rule, type RuleFamily, sourceLine } from './model/rule.ts';
import { showInches, showLength, showMillimetres } from './model/show.ts';
import type { Ticks } from './model/ticks.ts';

const about: Readonly<Record<RuleFamily, string>> = {
  text: 'Text that cannot be read.',
  words: 'Words and phrases of the language.',
  names: 'Names, and what they mean.',
  quantities: 'Quantities and their units of measure.',
  project: 'The project, its files, and what units give their templates.',
  chains: 'Whether widths close along walls, and heights up zones.',
  parts: 'Parts in the room, and what they are made of.',
  hanging: 'What hangs on rods, and the room that it needs.',
  swings: 'Doors, hatches and drawers, and what they meet when they move.',
  access: 'Reach and passage. Read where a policy asks for them.',
  light: 'Lights, electrical equipment, sprinklers and storage.',
  structure: 'What shelves and rods bear.',
  fixing: 'What holds them to the wall, and what the wall holds.',
  fixtures: 'What is on the walls already.',
  survey: 'What was measured, against what is drawn.',
  stock: 'Whether the stock holds the parts.',
  policy: 'What a policy asks for.',
};

export function rulePages(): string {
  const families = Map.groupBy(rules, ({ family }) => family);
  const parts = [
    '# The rules',
    '<!-- Written by server/generate.ts from the table of rules (npm run generate). Changes made here are lost. -->',
    `Every finding names one of these ${rules.length} rules. A rule that has nothing to say tells only that what it compares holds; it says nothing of what it does not compare, and where a fact that it needs is not in the specification, it compares nothing and \`storypole check --coverage\` tells what is missing. Local codes, the makers of the hardware and licensed trades come before all of these.`,
    'A policy sets limits (`limit rod-height at most 48in`) and says how a rule is treated (`treat rod-near-wall as note`, `as off`).',
    [...families].map(([family, own]) => `- [${capital(family)}](#${family}): ${own.map(link).join(', ')}`).join('\n'),
    ...[...families].map(([family, own]) =>
      [`## ${capital(family)}`, about[family], ...own.map(rulePage)].join('\n\n'),
    ),
  ];
  return `${parts.join('\n\n')}\n`;
}

function link({ id }: Rule): string {
  return `[${id}](#${id})`;
}

function rulePage(rule: Rule): string {
  const { id, title, severity, explanation, comparison, limits, needs, source, editions = [], caution } = rule;
  const lines = [`- Severity: ${severity}`];
  if (comparison !== undefined) lines.push(`- Compared: \`${comparison}\``);
  for (const limit of defaultLimits.filter(({ name }) => limits?.includes(name))) lines.push(limitLine(limit));
  if (needs && needs.length > 0) lines.push(`- Needs: ${needs.join('; ')}`);
  lines.push(`- ${capital(sourceLine(source))}`);
  for (const edition of editions) lines.push(`- Also ${sourceLine(edition)}`);
  if (caution !== undefined) lines.push(`- **Caution:** ${caution}`);
  return [`### ${id}`, `**${title}**`, explanation, lines.join('\n'), ...exampleParts(id)].join('\n\n');
}

function exampleParts(id: string): string[] {
  const example = exampleOf(id);
  if (!example) return [];
  const { message, advice = '', mended } = example;
  return [
    'For example:',
    fenced(exampleText(example), 'closet'),
    `> ${literal(`${message} ${advice}`.trim())}`,
    ...(mended === undefined ? [] : ['Mended:', fenced(mended, 'closet')]),
  ];
}

/** What a message echoes stays as it is: `~`, `*`, `_` and `<` would be marks outside of code. */
function literal(text: string): string {
  return text
    .split(/(`[^`]+`)/)
    .map((part, at) => (at % 2 === 1 ? part : part.replaceAll(/[\\*_<>[\]~]/g, '\\$&')))
    .join('')
    .replaceAll('\n', '\n> ');
}

function limitLine({ name, doc, least, most, source }: DefaultLimit): string {
  const bounds = [
    ...(least === undefined ? [] : [`at least ${inBoth(least)}`]),
    ...(most === undefined ? [] : [`at most ${inBoth(most)}`]),
  ];
  const standard =
    bounds.length === 0 ? 'no limit by default' : `${bounds.join(' and ')} by default (${sourceLine(source)})`;
  return `- Limit \`${name}\`: ${doc} ${capital(standard)}.`;
}

/** Whoever reads has no project at hand, so both systems are shown. */
function inBoth(length: Ticks): string {
  return length === 0 ? '0' : `${showLength(length, showInches)} (${showLength(length, showMillimetres)})`;
}
