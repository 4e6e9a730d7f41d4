import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { defaultLimits } from '../../server/checks/defaults.ts';
import { ruleNamed, rules, runChecks, withSeverities } from '../../server/checks/table.ts';
import { complaint, generatedFiles } from '../../server/generate.ts';
import { Project } from '../../server/model/project.ts';
import { type Reading, read } from '../../server/model/reading.ts';
import { keywords, placeName, vocabulary, wordsIn } from '../../server/model/vocabulary.ts';
import type { WordEntry } from '../../server/model/words/entry.ts';
import { setInPlace, setInProject, statementsOf } from './places.ts';

const everyPlace = vocabulary.flatMap((entry) => entry.places.map((place) => ({ word: entry.word, place, entry })));

describe('the generated files', () => {
  it.each(generatedFiles())('$path is current', ({ path, current }) => {
    expect(current, complaint(path)).toBe(true);
  });

  it('are found wanting where they are missing', () => {
    const folder = mkdtempSync(join(tmpdir(), 'generated-'));
    expect(generatedFiles(folder).map((file) => file.current)).toEqual([false, false, false]);
    rmSync(folder, { recursive: true });
  });

  it('are complained of by name, with what to do', () => {
    expect(complaint('grammar/REFERENCE.md')).toBe(
      'grammar/REFERENCE.md is not what the vocabulary, the parser and the rules make of it. Run: npm run generate',
    );
  });
});

describe('the reference', () => {
  const text = generatedFiles().find((file) => file.path.endsWith('REFERENCE.md'))?.text ?? '';
  const sections = new Map(text.split(/^## /m).map((section) => [section.split('\n')[0], section]));

  it('has a section for every place with every word that may stand there, its doc and its example', () => {
    for (const { entry, place } of everyPlace) {
      const title = place === 'file' ? 'At the top level of a file' : `In ${placeName(place)}`;
      const own = sections
        .get(title)
        ?.split(/^### /m)
        .find((part) => part.startsWith(`\`${entry.word}\``));
      expect(own, `${entry.word} in ${title}`).toContain(entry.doc);
      expect(own).toContain(entry.example);
      for (const told of [entry.fallback, entry.datum]) if (told !== undefined) expect(own).toContain(told);
      expect(own?.includes('not checked yet'), entry.word).toBe(entry.notYet);
    }
  });

  it('tells of a slip of the unit of measure where a length is written, and nowhere else', () => {
    const told = (word: string): string[] =>
      text.split(/^### /m).filter((part) => part.startsWith(`\`${word}\``) && part.includes('a warning above'));
    for (const word of [
      'patterns',
      'stop-settings',
      'least',
      'in-stud',
      'child',
      'deflection',
      'creep',
      'persons',
      'holds',
    ])
      expect(told(word), word).toEqual([]);
    expect(told('count')).toEqual([]);
    for (const word of ['kerf', 'width', 'pitch', 'offcut']) expect(told(word).length, word).toBeGreaterThan(0);
  });

  it('leads every link of its own to one of its headings', () => {
    const headings = new Set([...text.matchAll(/^## (.*)$/gm)].map((m) => m[1]?.toLowerCase().replaceAll(' ', '-')));
    const links = [...text.matchAll(/\]\(#([^)]*)\)/g)].map((m) => m[1]);
    expect(links.length).toBeGreaterThan(wordsIn('file').length);
    expect(links.filter((link) => !headings.has(link))).toEqual([]);
  });

  it('writes out the rules of the parser', () => {
    const grammar = sections.get('The grammar of a head');
    expect(grammar).toContain('path       = WORD { "." WORD }');
    expect(grammar).toContain('number     = NUMBER [ UNIT [ [ JOINT ] NUMBER UNIT ] ]');
  });

  it('says only names of rules and limits that there are', () => {
    for (const entry of vocabulary) {
      const rule = /^(?:accept|treat) (\S+)/.exec(entry.example)?.[1];
      if (rule) expect(ruleNamed(rule), entry.example).toBeDefined();
      const limit = /\blimit (\S+)/.exec(entry.example)?.[1];
      if (limit) expect(defaultLimits.map((l) => l.name)).toContain(limit);
    }
  });
});

describe('the examples of the vocabulary', () => {
  it.each(everyPlace)(
    '$word in $place is read as that word, with no finding but that it is not checked yet',
    ({ entry, place }) => {
      const readings = statementsOf(setInPlace(entry, place)).map((statement) => read(statement, 'file'));
      const found = readings.flatMap((r) => r.findings.map((f) => `${f.rule.id}: ${f.message}`));
      expect(found.filter((f) => !f.startsWith('not-checked-yet'))).toEqual([]);
      expect(found.length > 0).toBe(entry.notYet);
      const within = readings.flatMap((r) => (r.reading ? [...entriesIn(r.reading)] : []));
      expect(within).toContain(entry);
    },
  );

  /** The rule an example is about, which it cannot do without. */
  const about: Readonly<Record<string, readonly string[]>> = {
    accept: ['rod-near-wall'],
    // The example names a support, which ties no panel.
    carried: ['tower-not-tied'],
  };

  it.each(everyPlace)(
    '$word in $place means something: in a project there is no error and no warning',
    ({ entry, place }) => {
      const project = new Project({
        check: (layout, policy, show) => runChecks({ layout, policy, show }),
        treat: withSeverities,
        ruleIds: new Set(rules.map((rule) => rule.id)),
        limitNames: new Set(defaultLimits.map((limit) => limit.name)),
      });
      project.setFile('example.closet', setInProject(entry, place));
      project.refreshNow();
      const found = project.findings().filter((f) => f.severity !== 'note');
      expect(found.filter((f) => !about[entry.word]?.includes(f.rule.id)).map((f) => f.message)).toEqual([]);
    },
  );
});

describe('the keywords', () => {
  it('are the first words and, apart from those, the words of phrases', () => {
    const { first, inner } = keywords();
    expect(first).toEqual([...new Set(vocabulary.map((entry) => entry.word))].sort());
    expect(first).toContain('template');
    expect(inner).toContain('extends');
    expect(inner.filter((word) => first.includes(word))).toEqual([]);
  });
});

function* entriesIn(reading: Reading): Generator<WordEntry> {
  yield reading.entry;
  for (const inner of reading.children) yield* entriesIn(inner);
}
