/** What a change of text changes in what is built. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatted } from '../../../grammar/format.ts';
import { Source } from '../../../grammar/source.ts';
import { planProject } from '../../../server/checks/analysis.ts';
import { renameAt, renameableAt } from '../../../server/language/rename.ts';
import type { Project } from '../../../server/model/project.ts';
import { showInches } from '../../../server/model/show.ts';
import { topWords } from '../../../server/model/vocabulary.ts';
import { type Comparison, compare } from '../../../server/sheets/compare/compare.ts';
import { saidGroup, summaryOf } from '../../../server/sheets/compare/said.ts';
import { compareMarkdown, compareText, longestComment } from '../../../server/sheets/compare/text.ts';
import { closetFiles, examples } from '../../examples/load.ts';
import { made } from '../../language/refactor/support.ts';
import { casesByFamily, projectsOf } from '../../messages/cases.ts';
import { prelude, workspaceOf } from '../../model/support.ts';

function projectOf(texts: Record<string, string>): Project {
  const [first = ''] = Object.keys(texts);
  return workspaceOf(texts).projectOf(first)?.project as Project;
}

function compared(before: Record<string, string>, after: Record<string, string>): Comparison {
  const [a, b] = [projectOf(before), projectOf(after)];
  return compare({ project: a, planned: planProject(a) }, { project: b, planned: planProject(b) });
}

const closet = `template t {
  parameter w: length = 48in
  board white-12
  pole chrome
  wall back { length w; height 96in; studs every 16in from 8in }
  zone a on back {
    width fill
    shelf high { at 84in }
    rod r { under high by 3in; for shirt }
  }
}
unit u-1 t { floor 1 }
unit u-2 t { floor 1 }
unit u-3 t { floor 2; w 60in }
`;

const text = (main: string): Record<string, string> => ({ '/p/prelude.closet': prelude, '/p/main.closet': main });

/** Groups as they are told: title, then rows. */
function told(before: string, after: string): unknown[] {
  return compared(text(before), text(after)).groups.map((group) => {
    const { title, rows } = saidGroup(group, showInches);
    return [title, ...rows.map(({ sign, of, what, how }) => `${sign} ${of} ${what}: ${how}`)];
  });
}

describe('a change report', () => {
  it('tells an edit of a template once, with all units that it reaches', () => {
    expect(told(closet, closet.replace('84in', '85in'))).toEqual([
      [
        'Template t, 3 units',
        '~ a.high underside above the floor: 84in -> 85in (1in higher)',
        '~ a.r centre above the floor: 81in -> 82in (1in higher)',
      ],
    ]);
  });

  it('tells lengths that differ from unit to unit as one change where they differ by the same', () => {
    // Nominal lengths of 48 and 60 in, of which a gap of 6 in is taken: 42 and 54 in are left (by hand).
    const groups = told(
      closet,
      closet.replace('zone a on back {', 'gap g on back { width 6in }\n  zone a on back after g {'),
    );
    expect(groups).toContainEqual(
      expect.arrayContaining(['~ a.high cut length: 48in to 60in -> 42in to 54in (6in less)', '+ g width: 6in']),
    );
  });

  it('tells parts that are new and gone, with their material and length', () => {
    const more = closet.replace('shelf high', 'shelf low { at 42in }\n    shelf high');
    expect(told(closet, more)).toContainEqual(expect.arrayContaining(['+ a.low shelf of white-12: 48in to 60in']));
    expect(told(more, closet)).toContainEqual(expect.arrayContaining(['- a.low shelf of white-12: 48in to 60in']));
  });

  it('tells what a survey changes of its unit alone', () => {
    const measured = `${closet}survey u-2 { wall back { length 47-1/2in } }\n`;
    expect(told(closet, measured)).toEqual([
      [
        'Template t, 1 unit',
        '~ back length: 48in -> 47-1/2in (1/2in less)',
        '~ a width: 48in -> 47-1/2in (1/2in less)',
        '~ a.high cut length: 48in -> 47-1/2in (1/2in less)',
        '~ a.r cut length: 47-1/4in -> 46-3/4in (1/2in less)',
        expect.stringMatching(/^\+ back note survey-differs: /),
      ],
    ]);
  });

  it('tells nothing of a template that is written the other way round, with its units', () => {
    const room = (mark: string): string => `${mark}template t {
  board white-12
  pole chrome
  depth 12in
  wall left { length 25in; height 96in; studs 1in, 16in }
  wall back { length 94in; height 96in; studs every 16in from 14-1/2in }
  wall right { length 26in; height 96in }
  opening cupboard on left { width 20in; height 80in; swing out hinged left }
  opening front { width 60in; height 80in; from left 10in }
  fixture outlet on back { from left 30in; height 16in }
  zone side on right { width fill; shelf s { at 60in } }
  zone a on back { width 20in; panels sides; shelf s { at 40in } }
  zone b on back after a { width fill; rod r { at 60in; for shirt } }
}
unit u t
unit v t mirrored
unit w t { override a.s { at 50in } }
survey u { wall back { length 93-3/4in }; wall left { length 24-1/2in } }
`;
    const after = made({ 'main.closet': room('|') }, 'mirror-template')['main.closet'] ?? '';
    expect(after).toContain('unit u t mirrored');
    expect(told(room(''), after)).toEqual([]);
    expect(compared(text(room('')), text(after)).isBuiltAlike).toBe(true);
  });

  it('tells a unit that is mirrored, new, gone, or more than one', () => {
    const mirrored = (before: string): unknown[] =>
      told(before, before.replace('unit u-1 t {', 'unit u-1 t mirrored {'));
    // What is the same from both sides is not built otherwise.
    expect(mirrored(closet)).toEqual([]);
    expect(mirrored(closet.replace('from 8in', 'from 6in'))).toContainEqual(
      expect.arrayContaining(['~  is: as drawn -> mirrored']),
    );
    expect(told(closet, closet.replace('unit u-1 t {', 'unit u-1 t { count 5;'))).toContainEqual([
      'Template t, 1 unit, 5 with their counts',
      '~  count: 1 -> 5',
    ]);
    const { added, removed } = compared(text(closet), text(closet.replace(/unit u-3.*\n/, 'unit u-4 t { w 61in }\n')));
    expect([added, removed]).toEqual([['u-4'], ['u-3']]);
  });

  it('tells findings that appear and go', () => {
    const [group] = told(closet, closet.replace('at 84in', 'at 30in'));
    expect(group).toContainEqual(expect.stringMatching(/^\+ a\.r warning garment-meets-floor: /));
    const [back] = told(closet.replace('at 84in', 'at 30in'), closet);
    expect(back).toContainEqual(expect.stringMatching(/^- a\.r warning garment-meets-floor: /));
  });

  it('tells each of several findings of one rule, though they do not say what they are about', () => {
    const two = (first: string, second: string): string =>
      closet
        .replace('for shirt', `for ${first}`)
        .replace('unit u-1', `unit u-0 t\nunit u-1`)
        .replace('shelf high', `rod low { at 30in; for ${second} }\n    shelf high`);
    const rows = (before: string, after: string): unknown[] =>
      compared(text(before), text(after)).groups.flatMap((group) =>
        saidGroup(group, showInches).rows.flatMap(({ sign, what, how }) =>
          what.endsWith('name-not-known') ? [[group.units.length, sign, how]] : [],
        ),
      );
    const not = (name: string): string => `There is no garment "${name}".`;
    expect(rows(two('shirt', 'shirt'), two('coaat', 'shiirt'))).toEqual([
      [4, '+', not('shiirt')],
      [4, '+', not('coaat')],
    ]);
    expect(rows(two('coaat', 'shirt'), two('coaat', 'shiirt'))).toEqual([[4, '+', not('shiirt')]]);
    expect(rows(two('coaat', 'shirt'), two('shirt', 'shiirt'))).toEqual([
      [4, '+', not('shiirt')],
      [4, '-', not('coaat')],
    ]);
    expect(rows(two('coaat', 'shiirt'), two('coaat', 'shiirt').replace('a on', 'c on'))).toEqual([]);
  });

  it('tells what a policy makes of what was found while a unit was worked out', () => {
    // 8 in of the wall are left over, which is a note unless a policy says otherwise.
    const text = (severity: string): string => `${closet.replace('width fill', 'width 40in').split('unit u-1')[0]}
unit u t { policy house }
policy house { treat width-left-over as ${severity} }`;
    const rows = (before: string, after: string): string[] =>
      told(text(before), text(after))
        .flat()
        .map((row) => String(row).replace(/:.*/, ''));
    expect(rows('note', 'off')).toEqual(['Template t, 1 unit', '- back note width-left-over']);
    expect(rows('note', 'warning')).toEqual([
      'Template t, 1 unit',
      '+ back warning width-left-over',
      '- back note width-left-over',
    ]);
  });

  it('has boards, waste and money before and after, from the plan of each side', () => {
    const after = closet.replace('shelf high', 'shelf low { at 42in }\n    shelf high');
    const report = compared(text(closet), text(after));
    const boards = (side: Comparison['before']): (number | undefined)[] =>
      ['white-12', 'chrome'].map((name) => side.materials.find(({ material }) => material === name)?.boards);
    // Two shelves of 48 in and the kerf between them do not go on 96 in: one board a shelf, by hand.
    expect(boards(report.before)).toEqual([3, 2]);
    expect(boards(report.after)).toEqual([6, 2]);
  });
});

describe('no change in what is built', () => {
  const folder = join(examples, 'quarry-lane');
  const quarryLane = Object.fromEntries(
    closetFiles(folder).map((file) => [`/p/${file}`, readFileSync(join(folder, file), 'utf8')]),
  );

  it('is what a project has against itself', () => {
    const report = compared(quarryLane, quarryLane);
    expect(summaryOf(report)).toBe('No change in what is built.');
    expect(report.groups).toEqual([]);
  });

  it('is what another layout of the text makes', () => {
    const other = Object.fromEntries(
      Object.entries(quarryLane).map(([path, old]) => [
        path,
        formatted(new Source(path, old.replaceAll(/^ +/gm, ''), topWords)),
      ]),
    );
    expect(summaryOf(compared(quarryLane, other))).toBe('No change in what is built.');
  });

  it('is what any rename makes', () => {
    const project = projectOf(quarryLane);
    const before = { project, planned: planProject(project) };
    const names = Object.keys(quarryLane).flatMap((path) => {
      const source = project.sources.get(path);
      if (!source) return [];
      const snapshot = { project, source, path };
      return [...source.text.matchAll(/[a-z][\w-]*/gi)].flatMap(({ index }) =>
        renameableAt(snapshot, index).kind === 'renameable' ? [{ snapshot, at: index }] : [],
      );
    });
    fc.assert(
      fc.property(fc.constantFrom(...names), ({ snapshot, at }) => {
        const renamed = renameAt(snapshot, at, 'quite-fresh');
        if (renamed.kind === 'refused') return;
        const texts = { ...quarryLane };
        for (const { file, start, end, text: name } of renamed.edits.toReversed())
          texts[file] = `${texts[file]?.slice(0, start)}${name}${texts[file]?.slice(end)}`;
        const after = projectOf(texts);
        const report = compare(before, { project: after, planned: planProject(after) });
        expect(summaryOf(report)).toMatch(/^No change in what is built\./);
      }),
      { numRuns: 12 },
    );
  });

  // Its rods say nothing of what hangs on them, its shelf is deep: a note of each of three things, in two zones.
  const noted = `template t {
  board white-12
  pole chrome
  wall one { length 90in; height 96in }
  wall two { length 40in; height 96in }
  corner one two
  zone a on one { width 40in; shelf high { at 84in; board white-16; depth 15in }; rod r { at 80in } }
  zone b on one after a { width 40in; rod r { at 80in } }
}
unit u t
`;

  it.each([
    ['zone', /\ba\b/g],
    ['shelf', /\bhigh\b/g],
    ['rod', /\br\b/g],
    ['wall', /\bone\b/g],
    ['template', /\bt\b/g],
  ])('is what another name of a %s makes, and its findings are the same', (_, name) => {
    expect(compared(text(noted), text(noted)).after.notes).toBeGreaterThan(2);
    const report = compared(text(noted), text(noted.replace(name, 'other')));
    expect([summaryOf(report), report.groups]).toEqual(['No change in what is built.', []]);
  });

  it('is what another name of a garment makes, and not another garment', () => {
    const garment = (name: string, hang: string): string =>
      `garment ${name} { hang ${hang}; hanger 17in }\n${closet.replace('for shirt', `for ${name}`)}`;
    const rename = compared(text(garment('blouse', '30in')), text(garment('tunic', '30in')));
    expect([summaryOf(rename), rename.groups]).toEqual(['No change in what is built.', []]);
    expect(told(garment('blouse', '30in'), garment('tunic', '31in'))).toEqual([
      ['Template t, 3 units', '~ a.r hangs: blouse -> tunic'],
    ]);
    expect(told(garment('blouse', '30in'), garment('blouse', '31in'))).toEqual([
      ['Template t, 3 units', '~ a.r blouse hangs down: 30in -> 31in (1in more)'],
    ]);
    expect(compared(text(garment('blouse', '30in')), text(garment('blouse', '31in'))).isBuiltAlike).toBe(false);
  });

  it('hides no finding that came or went with a new name', () => {
    const named = noted.replaceAll(/\ba\b/g, 'c').replaceAll(/\bb\b(?= on)/g, 'd');
    const garment = (zone: string, before: string): string =>
      before.replace(new RegExp(`(zone ${zone} .*rod r \\{ at 80in)`), '$1; for shirt');
    const rows = (before: string, after: string): string[] =>
      compared(text(before), text(after)).groups.flatMap(({ changes }) =>
        changes.flatMap(({ kind, of, what, before: old }) =>
          kind === 'finding' ? [`${old ? '-' : '+'} ${of} ${what}`] : [],
        ),
      );
    // Both zones have another name, and now the rod of the one says what hangs there, now that of the other.
    expect(rows(garment('a', noted), named)).toEqual(['+ c.r note rod-without-garment']);
    expect(rows(noted, garment('d', named))).toEqual(['- b.r note rod-without-garment']);
    expect(rows(garment('a', noted), garment('d', named))).toEqual([
      '+ c.r note rod-without-garment',
      '- b.r note rod-without-garment',
    ]);
  });

  it('tells findings of a template without units by their things too', () => {
    const lone = noted.replace('unit u t\n', '');
    const loose = (before: string, after: string): string[][] => {
      const { added, gone } = compared(text(before), text(after)).findings;
      return [added, gone].map((side) => side.map(({ message }) => message.split('"')[1] ?? ''));
    };
    expect(loose(lone, lone.replaceAll(/\ba\b/g, 'c'))).toEqual([[], []]);
    expect(loose(lone, lone.replaceAll('high', 'low'))).toEqual([[], []]);
    // Another depth is another thing, and so is what stands elsewhere.
    expect(loose(lone, lone.replace(/high \{ (.*) depth 15in/, 'low { $1 depth 14in'))).toEqual([
      ['a.low'],
      ['a.high'],
    ]);
    expect(loose(lone, lone.replaceAll('high', 'low').replace('rod r { at 80in } }\n}', '} }'))[0]).toEqual([]);
  });

  it('is what a new name makes in any text of the rules, and no finding differs', () => {
    const texts = [...casesByFamily().values()].flat().filter(({ rule }) => rule !== 'merge-conflict');
    const word = /(?<=\b(?:zone|shelf|rod|board|garment|hardware|template|parameter|wall) )[a-z][\w-]*/g;
    const places = texts.flatMap((one) =>
      Object.entries(one.texts).flatMap(([path, own]) =>
        [...own.matchAll(word)].map(({ index }) => ({ one, path, index })),
      ),
    );
    let renames = 0;
    fc.assert(
      fc.property(fc.constantFrom(...places), ({ one, path, index }) => {
        const at = projectsOf(one).findIndex(({ sources }) => sources.has(path));
        const project = projectsOf(one)[at];
        const source = project?.sources.get(path);
        if (!project || !source) return;
        // Of two things of one name the other is meant afterwards.
        if (project.findings().some(({ rule }) => rule.id === 'name-taken')) return;
        const renamed = renameAt({ project, source, path }, index, 'quite-fresh');
        if (renamed.kind === 'refused') return;
        const texts = { ...one.texts };
        for (const { file, start, end, text: name } of renamed.edits.toReversed())
          texts[file] = `${texts[file]?.slice(0, start)}${name}${texts[file]?.slice(end)}`;
        const after = projectsOf({ ...one, texts })[at] as Project;
        const report = compare(
          { project, planned: planProject(project) },
          { project: after, planned: planProject(after) },
        );
        renames++;
        expect([summaryOf(report), report.groups, report.findings]).toEqual([
          'No change in what is built.',
          [],
          { added: [], gone: [] },
        ]);
      }),
      { numRuns: 100 },
    );
    expect(renames).toBeGreaterThan(50);
  });

  it('is never said where a length, a height or a place differs', () => {
    const numbers = [...closet.matchAll(/(?<=(?:at|length|width|by|from|every) )\d+(?=in)/g)];
    for (const { 0: number, index } of numbers) {
      const other = `${closet.slice(0, index)}${Number(number) + 1}${closet.slice(index + number.length)}`;
      expect([number, index, compared(text(closet), text(other)).isBuiltAlike]).toEqual([number, index, false]);
    }
    const cup = 'hardware cup { is cup; takes 3/8in for "it" }\n';
    for (const [a, b] of [
      ['for shirt', 'for long-coat'],
      ['pole chrome', 'pole chrome; carried by cup'],
      ['shelf high { at 84in }', 'shelf high { at 84in; tilted }'],
    ] as const)
      expect([b, compared(text(closet + cup), text(closet.replace(a, b) + cup)).isBuiltAlike]).toEqual([b, false]);
  });
});

describe('the report as Markdown', () => {
  const titles = { project: '<script>alert(1)</script> | `x` @somebody', before: 'main', after: 'a|`b`' };
  const options = { show: showInches, currency: 'EUR' };

  it('shows what somebody called a thing, and does nothing with it', () => {
    const markdown = compareMarkdown(compared(text(closet), text(closet.replace('84in', '85in'))), titles, options);
    expect(markdown).not.toContain('<script>');
    expect(markdown).not.toContain('@somebody');
    expect(markdown).toContain('84in -&gt; 85in');
  });

  it('is no longer than a comment may be', () => {
    const many = Array.from(
      { length: 3000 },
      (_, i) => `unit v-${i} t { w ${40 + (i % 60)}-${(i % 15) + 1}/16in }\n`,
    ).join('');
    const other = many.replaceAll(/unit v-(\d+) t/g, (whole, i) => (Number(i) % 2 ? `${whole} mirrored` : whole));
    const report = compared(text(closet + many), text(closet.replace('84in', '85in') + other));
    const markdown = compareMarkdown(report, titles, options);
    expect(markdown.length).toBeLessThan(longestComment + 1000);
    expect(compareText(report, titles, options)).toContain('Template t, 3,003 units');
  });
});
