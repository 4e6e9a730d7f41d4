import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Project, Stats } from '../../server/model/project.ts';
import type { Workspace } from '../../server/model/workspace.ts';
import { differenceOf, stateOf } from '../fuzz/state.ts';
import { smallProject as texts } from './small-project.ts';
import { workspaceOf } from './support.ts';

const main = (workspace: Workspace): Project[] => workspace.projects.map((l) => l.project);

describe('a project after any edits', { timeout: 300_000 }, () => {
  it('is the same as one read afresh, in all that anybody can see of it', () => {
    const files = Object.keys(texts);
    const piece = fc.oneof(
      fc.constantFrom(
        '{',
        '}',
        '\n',
        '"',
        '/*',
        '*/',
        '//',
        '4',
        'in',
        ' ',
        'x',
        'shirt',
        'reach-in',
        ';',
        'extends tall',
        'mirrored',
        'width fill',
        '\nunit d tall { width 97in }\n',
        '\nboard white-12 { depth 16in }\n',
        'project "Other" {}\n',
      ),
      fc.string({ maxLength: 3 }),
    );
    const edit = fc.record({
      file: fc.nat(files.length - 1),
      at: fc.double({ min: 0, max: 1, noNaN: true }),
      cut: fc.nat(12),
      text: piece,
      // One declaration is often looked at before all others have been brought up to date.
      first: fc.option(fc.double({ min: 0, max: 0.999, noNaN: true })),
    });
    fc.assert(
      fc.property(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) => {
        const workspace = workspaceOf({ ...texts });
        const now = { ...texts };
        for (const path of files) workspace.openDocument(path, texts[path] as string);
        for (const e of edits) {
          const path = files[e.file] as string;
          const text = now[path] as string;
          const start = Math.floor(e.at * text.length);
          const end = Math.min(text.length, start + e.cut);
          workspace.editDocument(path, [{ start, end, text: e.text }]);
          now[path] = text.slice(0, start) + e.text + text.slice(end);
          for (const project of main(workspace)) {
            const tops = [...(project.sources.get(path)?.statements() ?? [])];
            const looked = e.first === null ? undefined : tops[Math.floor(e.first * tops.length)];
            if (looked) project.refreshOne(looked);
            project.refreshNow();
          }
        }
        const cold = workspaceOf(now);
        expect(differenceOf(stateOf(workspace), stateOf(cold))).toBeUndefined();
      }),
      { numRuns: Number(process.env.STORYPOLE_RUNS ?? 100) },
    );
  });

  const one = { unitsEvaluated: 1, layoutsResolved: 1 };
  /** Each in a project of its own. What is not named is computed no more than before. */
  const edits: readonly (readonly [what: string, file: string, from: string, to: string, again: Partial<Stats>])[] = [
    ['a comment above everything moves it and changes nothing', 'units', 'unit a', '// first\nunit a', {}],
    [
      'an argument: its unit, and the survey of it',
      'units',
      'width 94in; fl',
      'width 95in; fl',
      { ...one, declarationsComputed: 1 },
    ],
    [
      'a template that one unit uses, through no other',
      'templates',
      'at 90in',
      'at 89in',
      { ...one, templatesSampled: 1 },
    ],
    [
      'a template that all use, one of them through another',
      'templates',
      'at 84in }\n    panels',
      'at 83in }\n    panels',
      { unitsEvaluated: 3, layoutsResolved: 3, templatesSampled: 2 },
    ],
    [
      'a garment that all of them hang',
      'materials',
      'hang 50in',
      'hang 51in',
      { unitsEvaluated: 3, layoutsResolved: 3, templatesSampled: 2, declarationsComputed: 1 },
    ],
    ['a stock length touches no unit', 'materials', 'count 4', 'count 5', { declarationsComputed: 1 }],
    ['a reading of a survey: its unit', 'units', '93-7/8in', '93-3/4in', { ...one, declarationsComputed: 1 }],
    [
      'a policy of one unit: that unit, whose layout stays',
      'project',
      'side 48in',
      'side 46in',
      { unitsEvaluated: 1, declarationsComputed: 1 },
    ],
    ['what is agreed to is no matter of units', 'units', '"agreed"', '"agreed on site"', { declarationsComputed: 1 }],
    ['a unit that comes', 'units', 'extra spare', 'unit d tall { width 97in }\nextra spare', one],
    [
      'a unit that comes and is like another',
      'units',
      'extra spare',
      'unit d reach-in mirrored { width 94in; policy low }\nextra spare',
      { unitsEvaluated: 1 },
    ],
    ['a unit that goes', 'units', 'unit b reach-in mirrored { width 94in; policy low }\n', '', {}],
    ['a part that is ordered beside the units', 'units', 'count 3', 'count 4', { declarationsComputed: 1 }],
    [
      'an opening brace at the top: the survey of the unit that it swallows',
      'units',
      'unit a',
      '{ unit a',
      { declarationsComputed: 1 },
    ],
  ];
  it.each(edits)('%s', (_, file, from, to, again) => {
    const { project } = workspaceOf({ ...texts }).projectOf('/p/units.closet') as { project: Project };
    project.refreshNow();
    const path = `/p/${file}.closet`;
    const text = (project.sources.get(path) as { text: string }).text;
    const start = text.indexOf(from);
    expect(start, from).toBeGreaterThanOrEqual(0);
    const before = { ...project.stats };
    project.editFile(path, [{ start, end: start + from.length, text: to }]);
    project.refreshNow();
    const more = Object.entries(project.stats).map(([k, v]) => [k, v - before[k as keyof Stats]]);
    const none = { unitsEvaluated: 0, layoutsResolved: 0, templatesSampled: 0, declarationsComputed: 0 };
    expect(Object.fromEntries(more)).toEqual({ ...none, ...again });
  });
});
