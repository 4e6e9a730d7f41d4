import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Project, Stats } from '../../server/model/project.ts';
import type { Workspace } from '../../server/model/workspace.ts';
import { differenceOf, stateOf } from '../fuzz/state.ts';
import { smallProject as texts } from './small-project.ts';
import { workspaceOf } from './support.ts';

const main = (workspace: Workspace): Project[] => workspace.projects.map((l) => l.project);

/** One block of a text, with its empty line, in another place. */
function withOneMoved(text: string, from: number, to: number): string {
  const blocks = text.split(/(?<=\n)(?=\S)/);
  const [one = ''] = blocks.splice(from % blocks.length, 1);
  blocks.splice(to % (blocks.length + 1), 0, one);
  return blocks.join('');
}

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
        '<<<<<<< ours\n',
        '=======\n',
        '>>>>>>> theirs\n',
        '>',
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
      // All of the text is written anew, with one statement in another place.
      moves: fc.option(fc.tuple(fc.nat(), fc.nat()), { freq: 4 }),
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
          const typed = text.slice(0, start) + e.text + text.slice(end);
          const whole = e.moves ? withOneMoved(typed, ...e.moves) : typed;
          if (whole !== typed) workspace.editDocument(path, [{ start: 0, end: typed.length, text: whole }]);
          now[path] = whole;
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

describe('a text that is written anew as a whole', () => {
  const opened = (text: string): { workspace: Workspace; project: Project; told: () => string[] } => {
    const workspace = workspaceOf({ '/p/a.closet': text });
    const { project } = workspace.openDocument('/p/a.closet', text);
    const told = (): string[] => {
      project.refreshNow();
      return project.findings().map(({ rule, message }) => `${rule.id}: ${message}`);
    };
    return { workspace, project, told };
  };
  const fresh = (text: string): string[] => opened(text).told();

  it('has the first of two declarations of a name count, in whatever order they come', () => {
    const thin = 'board b { depth 12in; thickness 3/4in }\n';
    const deep = 'board b { depth 30in; thickness 1/4in }\n';
    const rest =
      'stock b { length 8ft }\ntemplate T {\n  board b\n  wall back { length 48in; height 96in }\n' +
      '  zone a on back { width fill; shelf s { at 60in } }\n}\nunit U T {}\n';
    const before = `project "P" {}\n${thin}${deep}${rest}`;
    const after = `project "P" {}\n${deep}${thin}${rest}`;
    const { workspace, told } = opened(before);
    expect(told()).toEqual(fresh(before));
    workspace.editDocument('/p/a.closet', [{ start: 0, end: before.length, text: after }]);
    expect(told()).toEqual(fresh(after));
    expect(told()).not.toEqual(fresh(before));
  });
});

describe('a merge that was left with both sides', () => {
  const sides = (begin: string, end: string): string =>
    `project "P" {}\n${begin} ours\nboard b { depth 12in; thickness 3/4in }\n=======\nboard b { depth 30in; thickness 3/4in }\n${end} theirs\n`;
  const whole = sides('<<<<<<<', '>>>>>>>');

  it.each([
    ['the blank before its first marker goes', sides(' <<<<<<<', '>>>>>>>'), ' <<<<<<<', '<<<<<<<'],
    ['the last sign of its last marker is typed', sides('<<<<<<<', '>>>>>>'), '>>>>>>', '>>>>>>>'],
    ['a sign too many goes', sides('<<<<<<<<', '>>>>>>>'), '<<<<<<<<', '<<<<<<<'],
    ['its middle falls to the start of a line', whole.replace('=======', 'x ======='), 'x =======', '======='],
  ])('is told once, and nothing else, when %s', (_, before, from, to) => {
    const workspace = workspaceOf({ '/p/a.closet': before });
    const { project } = workspace.openDocument('/p/a.closet', before);
    const told = (): string[] => {
      project.refreshNow();
      return project.findings().map(({ rule }) => rule.id);
    };
    expect(told()).not.toEqual(['merge-conflict']);
    const start = before.indexOf(from);
    let [head, tail] = [0, 0];
    while (head < to.length && from[head] === to[head]) head++;
    while (tail < Math.min(from.length, to.length) - head && from.at(-1 - tail) === to.at(-1 - tail)) tail++;
    const edit = { start: start + head, end: start + from.length - tail, text: to.slice(head, to.length - tail) };
    workspace.editDocument('/p/a.closet', [edit]);
    expect(told()).toEqual(['merge-conflict']);
  });
});
