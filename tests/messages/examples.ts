/**
 * Writes server/checks/rule-examples.json: of the texts that make a rule speak, the one that shows it best, for its page.
 *
 *   node tests/messages/examples.ts
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { formatted, withEdits } from '../../grammar/format.ts';
import { Source } from '../../grammar/source.ts';
import { segmentOf, spanOf } from '../../grammar/tree.ts';
import { fixesThatHold } from '../../server/checks/alternatives.ts';
import { advisedPlan, planProject } from '../../server/checks/analysis.ts';
import type { RuleExample } from '../../server/checks/rule-example.ts';
import { rules } from '../../server/checks/table.ts';
import type { Finding, Fix } from '../../server/model/finding.ts';
import { editsOfFix } from '../../server/model/fix-edits.ts';
import type { Project } from '../../server/model/project.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import { type Case, casesByFamily, projectsOf } from './cases.ts';

export const target = join(import.meta.dirname, '../../server/checks/rule-examples.json');

/** A page is no place for a whole closet. */
const mostLines = 24;
const mostColumns = 120;
const mostMended = 4;

/** What a text expects to be told of it: here that is told beneath. */
const expected = /^ *\/\/ *\^+ .*\n/gm;

interface Candidate {
  readonly example: RuleExample;
  /** What else is found in the text: a reader would have to tell it from what the page is about. */
  readonly others: number;
}

/** What the file is to hold. */
export function examplesText(): string {
  const cases = Map.groupBy([...casesByFamily().values()].flat(), ({ rule }) => rule);
  const examples = rules.flatMap(({ id }) => {
    const found = (cases.get(id) ?? []).flatMap(candidatesIn);
    const [best] = found.sort(
      (a, b) => a.others - b.others || unmended(a) - unmended(b) || lines(a.example.text) - lines(b.example.text),
    );
    return best ? [[id, best.example] as const] : [];
  });
  return `${JSON.stringify(Object.fromEntries(examples), undefined, 2)}\n`;
}

function candidatesIn(one: Case): Candidate[] {
  const [main, ...more] = Object.keys(one.texts).filter((path) => path !== '/p/prelude.closet');
  if (main === undefined || more.length > 0 || Object.keys(one.others).length > 0) return [];
  const text = (one.texts[main] ?? '').replaceAll(expected, '').trimEnd();
  // An empty file shows nothing.
  if (!/\p{L}{2}/u.test(text)) return [];
  const styled = formatted(new Source('styled', text, topWords)).trimEnd();
  // The style can be what cannot be read, and goes with it.
  const [first = []] = [styled, text].map((shown) => candidatesOf(one, main, shown)).filter(({ length }) => length > 0);
  return first;
}

function candidatesOf(one: Case, main: string, text: string): Candidate[] {
  if (lines(text) > mostLines || text.split('\n').some((line) => line.length > mostColumns)) return [];
  return projectsOf({ ...one, texts: { ...one.texts, [main]: `${text}\n` } }).flatMap((project) => {
    const found = [...project.findings(), ...planProject(project).findings, ...advisedPlan(project).findings];
    const first = found.find(({ rule, place }) => rule.id === one.rule && isIn(main, place));
    return first ? [{ example: exampleFrom(text, project, first), others: found.length }] : [];
  });
}

function exampleFrom(text: string, project: Project, finding: Finding): RuleExample {
  const { place, message, advice } = finding;
  const { start, end } = spanOf(place);
  const before = text.slice(0, start).split('\n');
  const from = before.at(-1)?.length ?? 0;
  const [underlined = ''] = text.slice(start, end).split('\n');
  const mended = fixesThatHold(project, finding)
    .map((fix) => mendedBy(fix, text, segmentOf(place.statement).source.id))
    .find((lines) => lines !== undefined);
  return {
    text,
    marked: { line: before.length - 1, from, to: from + underlined.length },
    message,
    ...(advice === undefined ? {} : { advice }),
    ...(mended === undefined ? {} : { mended }),
  };
}

/** The lines that a fix changes, as they stand afterwards; undefined where they are none or many, or wait for a fact from site. */
function mendedBy({ edits, gap = false }: Fix, text: string, file: string): string | undefined {
  if (gap || !edits.every(({ place }) => isIn(file, place))) return undefined;
  const inOrder = editsOfFix({ edits }).sort((a, b) => a.start - b.start);
  const after = withEdits(text, inOrder).split('\n');
  const before = text.split('\n');
  let same = 0;
  while (same < Math.min(before.length, after.length) && before[same] === after[same]) same++;
  let tail = 0;
  while (tail < Math.min(before.length, after.length) - same && before.at(-1 - tail) === after.at(-1 - tail)) tail++;
  const changed = after.slice(same, after.length - tail);
  while (changed.at(-1) === '') changed.pop();
  if (changed.join('').trim() === '' || changed.length > mostMended) return undefined;
  const indent = Math.min(...changed.filter((line) => line !== '').map((line) => line.search(/\S/)));
  return changed.map((line) => line.slice(indent).trimEnd()).join('\n');
}

const isIn = (file: string, { statement }: Finding['place']): boolean => segmentOf(statement).source.id === file;

/** Where there is a fix, the page shows what it makes of the text. */
const unmended = ({ example }: Candidate): number => (example.mended === undefined ? 1 : 0);

const lines = (text: string): number => text.split('\n').length;

if (import.meta.main) {
  const text = examplesText();
  if (readFileSync(target, 'utf8') !== text) {
    writeFileSync(target, text);
    console.log('server/checks/rule-examples.json is written');
  }
}
