/**
 * Fixes that are offered: applied to the whole text, all rules find less than before. What is counted here is
 * counted over whole projects, without the scratch texts that the fixes were looked at in.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { segmentOf, spanOf } from '../../grammar/tree.ts';
import { fixesThatHold, type HeldFix, withFixesThatHold } from '../../server/checks/alternatives.ts';
import { mostUnits } from '../../server/checks/alternatives-scratch.ts';
import type { Finding, Fix } from '../../server/model/finding.ts';
import type { Project } from '../../server/model/project.ts';
import { closetFiles, examples } from '../examples/load.ts';
import { allFindings, projectOf, workspaceOf } from '../model/support.ts';

type Texts = Readonly<Record<string, string>>;

/** The only project of some texts that has a declaration of its own. */
function loaded(texts: Texts): Project[] {
  return workspaceOf({ ...texts }).projects.map(({ project }) => project);
}

function applied(texts: Texts, { edits }: Fix): Texts {
  const made = { ...texts };
  const placed = edits.map(({ place, text }) => ({
    file: segmentOf(place.statement).source.id,
    ...spanOf(place),
    text,
  }));
  for (const { file, start, end, text } of placed.sort((a, b) => b.start - a.start))
    made[file] = `${made[file]?.slice(0, start)}${text}${made[file]?.slice(end)}`;
  return made;
}

function counts(findings: readonly Finding[], which: (f: Finding) => boolean): Map<string, number> {
  const found = new Map<string, number>();
  for (const f of findings.filter(which)) found.set(f.rule.id, (found.get(f.rule.id) ?? 0) + 1);
  return found;
}

/** How many fixes were applied; each takes its finding away, and no rule finds more errors and warnings. */
function holds(texts: Texts): number {
  let tried = 0;
  const before = loaded(texts).flatMap(allFindings);
  for (const project of loaded(texts)) {
    for (const found of allFindings(project)) {
      for (const fix of fixesThatHold(project, found)) {
        // Before somebody fills its gaps in, it mends nothing.
        if (fix.gap) continue;
        tried++;
        const after = loaded(applied(texts, fix)).flatMap(allFindings);
        const what = `${found.rule.id}: ${found.message} -> ${fix.title}`;
        const of = (list: readonly Finding[]): number => list.filter(({ rule }) => rule === found.rule).length;
        expect(of(after), what).toBeLessThan(of(before));
        const grave = (f: Finding): boolean => f.severity !== 'note';
        const had = counts(before, grave);
        for (const [rule, count] of counts(after, grave))
          expect(count, `${what}: ${rule}`).toBeLessThanOrEqual(had.get(rule) ?? 0);
      }
    }
  }
  return tried;
}

function textsIn(folder: string): Record<string, string> {
  return Object.fromEntries(
    closetFiles(folder).map((path) => [`/p/${path}`, readFileSync(join(folder, path), 'utf8')] as const),
  );
}

const mistakes = readdirSync(join(examples, 'mistakes')).filter((name) => name !== 'wrong-encoding');

describe('every fix that is offered', () => {
  it('holds in every example and every mistake', () => {
    const tried = ['quarry-lane', ...mistakes.map((name) => join('mistakes', name))].map((name) =>
      holds(textsIn(join(examples, name))),
    );
    expect(tried.reduce((a, b) => a + b, 0)).toBeGreaterThanOrEqual(12);
  });

  it('holds in the example building with a length or two of its templates changed', () => {
    const texts = textsIn(join(examples, 'quarry-lane'));
    const files = Object.keys(texts).filter((path) => path.includes('/templates/'));
    let tried = 0;
    const change = fc.record({ file: fc.nat(), length: fc.nat(), by: fc.constantFrom(-20, -6, -1, 1, 6, 20) });
    fc.assert(
      fc.property(fc.array(change, { minLength: 1, maxLength: 2 }), (changes) => {
        const changed = { ...texts };
        for (const { file, length, by } of changes) {
          const path = files[file % files.length] ?? '';
          const lengths = [...(changed[path] ?? '').matchAll(/(?<=(?:at|by|width|wall) )\d+(?=in\b)/g)];
          const match = lengths[length % Math.max(1, lengths.length)];
          if (!match) continue;
          const { index } = match;
          const text = changed[path] ?? '';
          changed[path] =
            `${text.slice(0, index)}${Math.max(1, Number(match[0]) + by)}${text.slice(index + match[0].length)}`;
        }
        tried += holds(changed);
      }),
      { numRuns: 10, seed: 7 },
    );
    expect(tried).toBeGreaterThan(5);
  });
});

const file = (zones: string, more = 'unit u t'): string => `template t {
  wall back { length 60in; height 96in }
  wall left { length 24in; height 96in }
  wall right { length 24in; height 96in }
  board white-12
  pole chrome
  zone a on back { width fill
    ${zones}
  }
}
${more}
`;

function offered(text: string, rule: string): readonly HeldFix[] {
  const project = projectOf(text);
  const found = allFindings(project).filter((f) => f.rule.id === rule);
  expect(found.length, rule).toBeGreaterThan(0);
  return found.flatMap((f) => fixesThatHold(project, f));
}

const titles = (fixes: readonly HeldFix[]): string[] => fixes.map(({ title }) => title);

describe('a fix', () => {
  it('is not offered where it breaks another rule', () => {
    // 72 ft is far above the ceiling.
    expect(titles(offered(file('shelf s { at 72 }'), 'unit-of-measure-missing'))).toEqual([
      'Write 72in',
      'Write 72mm',
      'Write 72cm',
    ]);
    // The stock of "white-12", which is the nearest name, is declared already; no name is near to the other.
    const twice = 'stock oak { length 8ft }\nstock white-21 { length 6ft }\n';
    expect(titles(offered(file('shelf s { at 40in }', `unit u t\n${twice}`), 'name-not-known'))).toEqual([
      'Declare board oak, to be filled in',
      'Declare rod oak, to be filled in',
    ]);
  });

  it('is not offered where the parts that come of it are longer than any stock', () => {
    // A shelf as long as the wall: 6 ft is under the range, and at its end no board of 7 ft holds it.
    const wide = (least: string): string => `template t {
  parameter width: length = 8ft from ${least} to 9ft
  wall back { length width; height 96in }
  board short
  zone a on back { width fill; shelf s { at 40in } }
}
unit u t { width 72in }
board short { depth 12in; thickness 3/4in }
stock short { length 7ft }
`;
    expect(titles(offered(wide('80in'), 'argument-out-of-range'))).toEqual(['Write 80in']);
    expect(titles(offered(wide('8ft'), 'argument-out-of-range'))).toEqual([]);
  });

  it('of what cannot be read is offered though it brings to light what was hidden', () => {
    // The rod is found then, and a shirt of 36 in hangs on the floor from 20 in.
    const text = file('rodd r { at 20in; for shirt }');
    const fixes = offered(text, 'word-not-known');
    expect(fixes.map(({ title, whole }) => [title, whole])).toEqual([['Write "rod"', false]]);
  });

  it('of a word is offered though other words in its block are none either', () => {
    const text = file('rodd r { att 40in; for shirt }');
    expect(offered(text, 'word-not-known').map(({ title, whole }) => [title, whole])).toEqual([['Write "rod"', false]]);
  });

  it('that is looked at whole says so, and one that is not says how far', () => {
    const low = 'rod r { at 34in; for shirt }';
    expect(offered(file(low), 'garment-meets-floor').map(({ title, whole }) => [title, whole])).toEqual([
      ['Write 36in instead of 34in for r', true],
    ]);
    // Surveys make 40 units of one template 40 layouts, and the template is one more to be looked at with them.
    const many = Array.from(
      { length: 40 },
      (_, i) => `unit u${i} t\nsurvey u${i} { wall back { length ${61 + i}in } }`,
    ).join('\n');
    expect(offered(file(low, many), 'garment-meets-floor').map(({ title, whole }) => [title, whole])).toEqual([
      [`Write 36in instead of 34in for r (looked at in ${mostUnits} of 40 layouts)`, false],
    ]);
  });

  it('is not offered where there is too much text to look at', () => {
    const doc = `/// ${'long '.repeat(30_000)}\n`;
    expect(offered(doc + file('rod r { at 34in; for shirt }'), 'garment-meets-floor')).toEqual([]);
  });

  it('is looked at once, and again after an edit', () => {
    const project = projectOf(file('rod r { at 34in; for shirt }'));
    const found = (): Finding => project.findings().find((f) => f.rule.id === 'garment-meets-floor') as Finding;
    const first = fixesThatHold(project, found());
    expect(first).toHaveLength(1);
    expect(fixesThatHold(project, found())).toBe(first);
    const text = project.sources.get('/p/main.closet')?.text ?? '';
    // A policy that allows no rod so high.
    project.editFile('/p/main.closet', [
      {
        start: text.length,
        end: text.length,
        text: 'policy low { limit rod-height at most 35in }\nunit v t { policy low }\n',
      },
    ]);
    project.refreshNow();
    expect(fixesThatHold(project, found())).toEqual([]);
  });

  it('is left out of the findings that a command lists behind the first ones', () => {
    const project = projectOf(file('rod r { at 34in; for shirt }\n    shelf s { at 72 }'));
    const found = project.findings().filter((f) => f.fixes.length > 0);
    expect(found.map((f) => f.rule.id)).toEqual(['unit-of-measure-missing', 'garment-meets-floor']);
    // 72 mm and 72 cm would be in the way of what hangs on the rod, 72 ft is above the ceiling.
    expect(withFixesThatHold(project, found, 1).map((f) => f.fixes.length)).toEqual([1, 0]);
    expect(withFixesThatHold(project, found, 1).map((f) => f.fixes.length)).toEqual([1, 1]);
  });
});
