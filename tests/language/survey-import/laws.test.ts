/** What holds of every table: once is enough, nothing else is touched, and what a project says itself is no news to it. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../../server/language/survey-import/csv.ts';
import type { Project } from '../../../server/model/project.ts';
import { showInches, showLength } from '../../../server/model/show.ts';
import { ticks } from '../../../server/model/ticks.ts';
import { examples } from '../../examples/load.ts';
import { projectOf, workspaceOf } from '../../model/support.ts';
import { closets, importInto, taken } from './importing.ts';
import '../../seed.ts';

interface Row {
  readonly unit: string;
  readonly at: number | undefined;
  readonly length: number;
  readonly studs: readonly number[];
  readonly photo: string;
}

const sixteenths = (least: number, most: number) => fc.integer({ min: least * 16, max: most * 16 });

/** Rows of one height each, of units that are there. */
const rows = fc
  .uniqueArray(
    fc.record({
      unit: fc.constantFrom('A-101', 'A-102'),
      at: fc.constantFrom(6, 42, 72, 86),
      length: sixteenths(30, 42),
      studs: fc.uniqueArray(sixteenths(1, 29), { maxLength: 3 }),
      photo: fc.constantFrom('', 'a.jpg', 'b "c".jpg; d.jpg', 'é, //x {y}'),
    }),
    { minLength: 1, maxLength: 8, selector: ({ unit, at }) => `${unit} ${at}` },
  )
  .map((all) => {
    const seen = new Set<string>();
    // Studs are said once a wall.
    return all.map((row): Row => {
      const isFirst = !seen.has(row.unit);
      seen.add(row.unit);
      return isFirst ? row : { ...row, studs: [] };
    });
  });

const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
const shown = (n: number): string => showLength(ticks((n * 1_016_000) / 16), showInches);

function csvOf(all: readonly Row[]): string {
  return [
    'unit,height,length,studs,photos',
    ...all.map(({ unit, at, length, studs, photo }) =>
      [unit, `${at}in`, shown(length), studs.map(shown).join('; '), photo].map(quoted).join(','),
    ),
    '',
  ].join('\r\n');
}

/** Surveys as people write them. */
const existing = fc.constantFrom(
  '',
  'survey A-101 { wall back { length 36in at 6in; length 35in at 42in } }\n',
  '// before\nsurvey A-102 { // beside\n  wall back {\n    length 35in at 6in // low\n    // Photos: old.jpg\n    studs 2in, 18in\n  }\n}\n// behind\n',
  'survey A-101\n{\n  taken "12 March"\n  wall left { length 24in }\n}\n\nsurvey A-102 {\n  wall back { height 95in }\n  wall back { length 36in }\n}\n',
);
const endings = fc.constantFrom('\n', '\r\n');

describe('any table', () => {
  it('brought in twice changes nothing the second time', () => {
    fc.assert(
      fc.property(rows, existing, endings, (all, surveys, ending) => {
        const text = (closets + surveys).replaceAll('\n', ending);
        const once = taken(text, csvOf(all));
        const again = importInto(projectOf(once), csvOf(all));
        expect(again).toMatchObject({ kind: 'imported', edits: [] });
      }),
      { numRuns: 60 },
    );
  });

  it('is read by the project as it was measured, without an error that was not there', () => {
    fc.assert(
      fc.property(rows, existing, (all, surveys) => {
        const project = projectOf(taken(closets + surveys, csvOf(all)));
        for (const name of new Set(all.map(({ unit }) => unit))) {
          const unit = [...project.units()].find((one) => one.name === name);
          const back = unit?.resolved?.layout.walls.find((wall) => wall.name === 'back');
          const own = all.filter((row) => row.unit === name);
          const readings = (back?.readings ?? []).map(({ at, length }) => `${at} ${length}`).toSorted();
          expect(readings).toEqual(
            own.map(({ at, length }) => `${(at ?? 0) * 1_016_000} ${(length * 1_016_000) / 16}`).toSorted(),
          );
          const studs = own.flatMap((row) => row.studs).toSorted((a, b) => a - b);
          if (studs.length > 0) expect(back?.studs).toEqual(studs.map((at) => (at * 1_016_000) / 16));
        }
        const wrong = project.findings().filter(({ rule }) => rule.family === 'text');
        expect(wrong).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it('leaves everything outside of surveys to the byte', () => {
    fc.assert(
      fc.property(rows, existing, (all, surveys) => {
        const text = `${closets}${surveys}`;
        const project = projectOf(text);
        const made = importInto(project, csvOf(all));
        if (made.kind === 'refused') throw new Error('refused');
        const spans = [...project.names.all('survey')].map(({ statement }) => {
          const start = text.indexOf(statement.text);
          return { start, end: start + statement.text.length };
        });
        // Every edit is within a survey that is there, or adds one at the end of the file.
        for (const edit of made.edits) {
          const isAdded = edit.start === text.length && edit.end === text.length && /^\s*survey /.test(edit.text);
          const isWithin = spans.some(({ start, end }) => edit.start > start && edit.end < end);
          expect(isAdded || isWithin).toBe(true);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('whatever is in it is taken or told, and nothing is thrown', () => {
    const cell = fc.constantFrom(
      'unit',
      'length',
      'height',
      'A-101',
      '36in',
      '36',
      '3,5',
      '16-Jan',
      '',
      'x"y',
      '=1',
      'low',
      'ft',
    );
    const project = projectOf(closets);
    fc.assert(
      fc.property(fc.array(fc.array(cell, { maxLength: 5 }), { maxLength: 6 }), (table) => {
        const csv = table.map((row) => row.map(quoted).join(',')).join('\n');
        const sheet = readCsv(new TextEncoder().encode(csv), 'a.csv');
        if ('unreadable' in sheet) return;
        const made = importInto(project, sheet);
        expect(made.kind === 'imported' || made.problemCount > 0 || made.reasons.length > 0).toBe(true);
      }),
    );
  });
});

/** Everything that the surveys of a project say, as a table of one reading a row. */
function tableOf(project: Project): string {
  const lines = ['unit,wall,height,length,ceiling,studs'];
  for (const { name, survey, resolved } of project.units()) {
    if (!survey) continue;
    for (const wall of resolved?.layout.walls ?? []) {
      wall.readings.forEach(({ at, length }, i) => {
        const studs = i === 0 && wall.studsFrom === 'survey' ? wall.studs.map((s) => showLength(s, showInches)) : [];
        lines.push(
          [
            name,
            wall.name,
            at === undefined ? '' : showLength(at, showInches),
            showLength(length, showInches),
            '',
            quoted(studs.join('; ')),
          ].join(','),
        );
      });
    }
  }
  return lines.join('\n');
}

it('a table of what the surveys of Quarry Lane say is no news to it', () => {
  const folder = join(examples, 'quarry-lane');
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.closet'));
  const texts = Object.fromEntries(files.map((name) => [`/p/${name}`, readFileSync(join(folder, name), 'utf8')]));
  const project = workspaceOf(texts).projects[0]?.project as Project;
  const table = tableOf(project);
  expect(table.split('\n').length).toBeGreaterThan(40);
  const made = importInto(project, table);
  expect(made).toMatchObject({ kind: 'imported', edits: [] });
  expect(made.kind === 'imported' && made.changes.every(({ kind }) => kind === 'same')).toBe(true);
});

it('200,000 rows are told of in seconds, however much is wrong with them', () => {
  const rowsOf = Array.from({ length: 200_000 }, (_, i) => `A-${i},back,${i % 90}in,36-${(i % 15) + 1}/16in`);
  const start = performance.now();
  const made = importInto(projectOf(closets), `unit,wall,height,length\n${rowsOf.join('\n')}\n`);
  expect(made).toMatchObject({ kind: 'refused' });
  // are there; A-201 is drawn 94in long, and A-300 stands for six.
  expect(made.kind === 'refused' && [made.problemCount, made.problems.length]).toEqual([199_998, 1000]);
  expect(performance.now() - start).toBeLessThan(20_000);
}, 60_000);
