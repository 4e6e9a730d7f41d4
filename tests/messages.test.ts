/**
 * What every rule says, kept as tables that people read and review: tests/messages/*.md, made of the texts beside
 * them. After a change of a message: `npx vitest run tests/messages.test.ts -u`, then read the difference.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { describe, expect, it } from 'vitest';
import { segmentOf, sliceOf } from '../grammar/tree.ts';
import { fixesThatHold } from '../server/checks/alternatives.ts';
import { advisedPlan, planProject } from '../server/checks/analysis.ts';
import { explain } from '../server/checks/explain.ts';
import { exampleOf } from '../server/checks/rule-example.ts';
import { rules } from '../server/checks/table.ts';
import { comparisonText } from '../server/cli/finding-text.ts';
import type { Finding } from '../server/model/finding.ts';
import type { Project } from '../server/model/project.ts';
import { type Case, casesByFamily, folder, projectsOf } from './messages/cases.ts';
import { examplesText, target } from './messages/examples.ts';

interface Said {
  readonly finding: Finding;
  /** As a reader sees it. */
  readonly text: string;
}

const families = new Map(
  [...casesByFamily()].map(([family, cases]) => [family, cases.map((one) => ({ ...one, said: saidBy(one) }))] as const),
);
const all = [...families.values()].flat().flatMap(({ said }) => said);

/** What a rule says of a case, each thing once. */
function saidBy(one: Parameters<typeof projectsOf>[0] & { readonly rule: string }): Said[] {
  const found = projectsOf(one).flatMap((project) =>
    [...project.findings(), ...planProject(project).findings, ...advisedPlan(project).findings]
      .filter(({ rule }) => rule.id === one.rule)
      .map((finding) => ({ finding, text: written(finding, project) })),
  );
  return [...new Map(found.map((said) => [said.text, said])).values()];
}

function written(finding: Finding, project: Project): string {
  const { severity, message, advice, place, comparison, related, reach } = finding;
  const at = (where: Finding['place']): string => {
    const own = segmentOf(where.statement).source.id;
    const name = own.endsWith('/main.closet') ? '' : ` (${basename(own)})`;
    return `\`${shortened(sliceOf(where.statement, where))}\`${name}`;
  };
  const lines: string[] = [];
  if (advice !== undefined) lines.push(`- to do: ${advice}`);
  if (comparison) lines.push(`- compared: ${comparisonText(comparison, project.settings.show)}`);
  for (const one of related) lines.push(`- see ${at(one.place)}: ${one.message}`);
  if (reach.length > 0) lines.push(`- reaches ${reach.join(', ')}`);
  for (const { title } of fixesThatHold(project, finding)) lines.push(`- fix: ${title}`);
  const list = lines.length > 0 ? `\n\n${lines.join('\n')}` : '';
  return `**${severity}** at ${at(place)}\n${message}${list}`;
}

/** One line, and not a long one. */
function shortened(text: string): string {
  const line = text.replaceAll(/\s+/g, ' ');
  return line.length > 70 ? `${line.slice(0, 67)}...` : line;
}

describe('the table of messages', () => {
  it.each([...families])('is as reviewed: %s', async (family, cases) => {
    const own = rules.filter((rule) => cases.some((one) => one.rule === rule.id));
    const sections = own.map(({ id, title }) => {
      const texts = cases.filter((one) => one.rule === id).flatMap(({ said }) => said.map(({ text }) => text));
      return [`## ${id}`, title, ...new Set(texts)].join('\n\n');
    });
    const table = `# Messages: ${family}\n\n${sections.join('\n\n')}\n`;
    await expect(table).toMatchFileSnapshot(`messages/${family}.md`);
  });

  it('has a message of every rule, in the file of its family', () => {
    expect([...families.keys()].sort()).toEqual([...new Set(rules.map(({ family }) => family as string))].sort());
    for (const [family, cases] of families) {
      const own = rules.filter((rule) => rule.family === family).map(({ id }) => id);
      expect([...new Set(cases.map(({ rule }) => rule))].sort(), family).toEqual(own.sort());
    }
  });

  it('has no text that says nothing, and no table without texts', () => {
    const silent = [...families.values()].flat().filter(({ said }) => said.length === 0);
    expect(silent.map(({ rule, texts }) => `${rule}\n${texts['/p/main.closet']}`)).toEqual([]);
    const tables = readdirSync(folder).filter((name) => name.endsWith('.md'));
    expect(tables.map((name) => basename(name, '.md')).sort()).toEqual([...families.keys()].sort());
  });
});

describe('the examples on the pages of the rules', () => {
  it('are what these texts make of them, as `npm run generate` writes it', () => {
    expect(readFileSync(target, 'utf8')).toBe(examplesText());
  });

  it('show every rule that a text of one file can show', () => {
    const shown = ({ texts, others }: Case): boolean =>
      Object.keys(others).length === 0 &&
      Object.keys(texts).filter((path) => path !== '/p/prelude.closet').length === 1;
    const cases = [...families.values()].flat();
    const missing = rules.filter(({ id }) => !exampleOf(id) && cases.some((one) => one.rule === id && shown(one)));
    // What is long or deep enough for these no page could hold, and the last one is of a file that says nothing.
    expect(missing.map(({ id }) => id)).toEqual(['nested-too-deep', 'too-long', 'no-project']);
  });

  it('are read in the terminal, with what they are about underlined', () => {
    const rule = rules.find(({ id }) => id === 'unit-of-measure-missing');
    if (!rule) throw new Error('there is no such rule');
    const [, example] = explain(rule).split(/^(?=For example:)/m);
    expect(example?.split('\n')).toEqual([
      'For example:',
      '',
      '    template t {',
      '      wall back { length 60in }',
      '      board white-12',
      '      zone a on back {',
      '        width fill',
      '        shelf s { at 72 }',
      '                     ^^',
      '      }',
      '    }',
      '',
      '72 has no unit of measure: a length says whether it is inches, millimetres or centimetres. Write 72in, 72mm or 72cm.',
      '',
      'Mended:',
      '',
      '    shelf s { at 72in }',
    ]);
  });
});

/** The messages that something is wrong with, all of them. */
function without(holds: (said: Said) => boolean, which: (said: Said) => boolean = () => true): string[] {
  return all
    .filter((said) => which(said) && !holds(said))
    .map(({ finding }) => `${finding.rule.id}: ${finding.message} | ${finding.advice}`);
}

/** What is said of a case in a project that shows millimetres, but for what fixes write: that is in the system of what it replaces. */
function metricTexts(one: Parameters<typeof projectsOf>[0] & { readonly rule: string }): string[] {
  const metric = Object.entries(one.texts).map(([path, text]) => [
    path,
    text.replaceAll(/\bshow inches;?/g, '').replaceAll(/project "[^"]*" \{/g, '$& show millimetres;'),
  ]);
  return projectsOf({ ...one, texts: Object.fromEntries(metric) }).flatMap((project) =>
    [...project.findings(), ...planProject(project).findings, ...advisedPlan(project).findings]
      .filter(({ rule }) => rule.id === one.rule && project.settings.show.system === 'millimetres')
      .flatMap(({ message, advice = '', comparison, related }) => [
        message,
        advice,
        ...related.map((other) => other.message),
        ...(comparison ? [comparisonText(comparison, project.settings.show)] : []),
      ]),
  );
}

/** Echoed as it is written: the text itself, the size of a screw, and both neighbours of a fraction of an inch. */
const inInches = /(?<![x-] ?)\b\d+(?:-\d+)?(?:\/\d+)?(?:in|ft)\b/g;

describe('every message', () => {
  it('is in millimetres where the project is, but for what it echoes', () => {
    const strange = [...families.values()].flat().flatMap((one) => {
      const source = Object.values(one.texts).join('\n');
      return metricTexts(one).flatMap((said) =>
        [...said.matchAll(inInches)].flatMap(([length]) =>
          source.includes(length) ? [] : [`${one.rule}: ${length} in: ${said}`],
        ),
      );
    });
    // Of what is written in inches the neighbours are inches, and of feet what they come to.
    const own = /^(finer-than-a-tick|unlikely-size|unit-of-measure-missing):/;
    expect([...new Set(strange)].filter((said) => !own.test(said))).toEqual([]);
  });

  it('is whole sentences', () => {
    expect(without(({ finding }) => /^["A-Z0-9-][\s\S]*[.?!]$/.test(finding.message))).toEqual([]);
  });

  it('says how to mend what is wrong', () => {
    const grave = ({ finding }: Said): boolean => finding.severity !== 'note';
    expect(without(({ finding }) => /^["A-Z0-9][\s\S]*\w/.test(finding.advice ?? ''), grave)).toEqual([]);
  });

  it('gives the numbers where lengths or amounts are compared', () => {
    const measured = ({ finding: { comparison } }: Said): boolean =>
      comparison !== undefined && !('count' in comparison.measured);
    expect(without(({ finding }) => /\d|begin at the left end/.test(finding.message), measured)).toEqual([]);
  });

  it('never says that anything is safe or compliant, and shows nothing that is missing', () => {
    expect(without(({ text }) => !/\bsafe(ly|ty)?\b|\bcompl(y|ies|iant|iance)\b/i.test(text))).toEqual([]);
    expect(without(({ text }) => !/undefined|NaN|Infinity|\[object|\bnull\b/.test(text))).toEqual([]);
  });
});
