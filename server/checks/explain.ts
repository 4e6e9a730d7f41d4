/** What `storypole explain RULE` says: a rule in full, from its data. */
import { type Rule, sourceLine } from '../model/rule.ts';
import { showInches, showLength, showMillimetres } from '../model/show.ts';
import type { Ticks } from '../model/ticks.ts';
import { type DefaultLimit, defaultLimits } from './defaults.ts';
import { exampleOf, exampleText } from './rule-example.ts';
import { capital } from './say.ts';

/** Paragraphs with an empty line between them; ends without a line end. */
export function explain(rule: Rule): string {
  const paragraphs = [`${rule.title}\n${rule.id}: ${rule.severity}, ${rule.family}`, rule.explanation];
  if (rule.comparison) paragraphs.push(`Compared: ${rule.comparison}`);
  const limits = defaultLimits.filter(({ name }) => rule.limits?.includes(name));
  if (limits.length > 0) paragraphs.push(['Limits that a policy can set:', ...limits.map(explainLimit)].join('\n'));
  if (rule.needs) paragraphs.push(`Needs: ${rule.needs.join('; ')}.`);
  const sources = [rule.source, ...(rule.editions ?? [])].map((source) => `${capital(sourceLine(source))}.`);
  paragraphs.push([...new Set(sources)].join('\n'));
  if (rule.caution) paragraphs.push(`Caution: ${rule.caution}`);
  const example = exampleOf(rule.id);
  if (example) {
    const { message, advice = '', mended } = example;
    paragraphs.push('For example:', indented(exampleText(example)), `${message} ${advice}`.trim());
    if (mended !== undefined) paragraphs.push('Mended:', indented(mended));
  }
  return paragraphs.join('\n\n');
}

/** An empty line stays one. */
function indented(text: string): string {
  return text.replaceAll(/^(?=.)/gm, '    ');
}

function explainLimit({ name, doc, least, most, source }: DefaultLimit): string {
  const bounds = [
    ...(least === undefined ? [] : [`at least ${inBoth(least)}`]),
    ...(most === undefined ? [] : [`at most ${inBoth(most)}`]),
  ];
  const standard =
    bounds.length === 0
      ? 'No limit by default.'
      : `${capital(bounds.join(' and '))} by default (${sourceLine(source)}).`;
  return `  ${name}: ${doc} ${standard}`;
}

/** Whoever asks has no project at hand, so both systems are shown. */
function inBoth(length: Ticks): string {
  return length === 0 ? '0' : `${showLength(length, showInches)} (${showLength(length, showMillimetres)})`;
}
