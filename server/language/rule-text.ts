/** Rules and limits in words, as Markdown: what `accept`, `treat` and `limit` name. */

import { type DefaultLimit, defaultLimits } from '../checks/defaults.ts';
import { ruleNamed, rules } from '../checks/table.ts';
import { capital } from '../model/capital.ts';
import { type Rule, sourceLine } from '../model/rule.ts';
import { type Show, showLength } from '../model/show.ts';
import type { Ticks } from '../model/ticks.ts';

export function ruleText(id: string, show: Show): string | undefined {
  const rule = ruleNamed(id);
  return rule && textOf(rule, show);
}

function textOf(
  { id, title, severity, family, explanation, comparison, limits, needs, source, editions = [], caution }: Rule,
  show: Show,
): string {
  const paragraphs = [`**${title}**`, `\`${id}\`: ${severity}, ${family}`, explanation];
  if (comparison !== undefined) paragraphs.push(`Compared: \`${comparison}\``);
  const read = defaultLimits.filter(({ name }) => limits?.includes(name));
  if (read.length > 0) paragraphs.push(read.map((l) => `- \`${l.name}\`: ${boundsOf(l, show)}`).join('\n'));
  if (needs && needs.length > 0) paragraphs.push(`Needs: ${needs.join('; ')}.`);
  paragraphs.push(sentence(sourceLine(source)));
  if (editions.length > 0) paragraphs.push(editions.map((edition) => `- also ${sourceLine(edition)}`).join('\n'));
  if (caution !== undefined) paragraphs.push(`Caution: ${caution}`);
  return paragraphs.join('\n\n');
}

export function limitText(name: string, show: Show): string | undefined {
  const limit = defaultLimits.find((l) => l.name === name);
  if (!limit) return undefined;
  const readers = rules.filter((r) => r.limits?.includes(name)).map((r) => `\`${r.id}\``);
  return [
    `**${name}**`,
    limit.doc,
    sentence(boundsOf(limit, show)),
    ...(readers.length > 0 ? [`Read by ${readers.join(', ')}.`] : []),
    sentence(sourceLine(limit.source)),
  ].join('\n\n');
}

function boundsOf({ least, most }: DefaultLimit, show: Show): string {
  const length = (amount: Ticks): string => showLength(amount, show);
  const bounds = [
    ...(least === undefined ? [] : [`at least ${length(least)}`]),
    ...(most === undefined ? [] : [`at most ${length(most)}`]),
  ];
  return bounds.length === 0 ? 'no limit by default' : `${bounds.join(' and ')} by default`;
}

function sentence(text: string): string {
  return `${capital(text)}.`;
}
