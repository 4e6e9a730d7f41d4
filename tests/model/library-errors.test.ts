/** Errors in a library are told in the project that uses it, and names are found in libraries that are used. */
import { describe, expect, it } from 'vitest';
import { createWorkspace } from '../../server/checks/analysis.ts';
import type { Finding } from '../../server/model/finding.ts';
import type { Workspace } from '../../server/model/workspace.ts';
import { memoryFiles, told } from './support.ts';

const main = '/r/p/main.closet';
const library = '/r/trade/all.closet';
const using = 'project "Quarry Lane" { kerf 1/8in }\nuse "../trade" as trade\n';
const board = 'board white-12 { depth 12in; thickness 3/4in }\n';
const template = `template reach-in {
  parameter width: length
  board white-12
  wall back { length width; height 96in }
  zone a on back { width fill; shelf top { at 78in } }
}
`;

function workspaceWith(texts: Record<string, string>): Workspace {
  const workspace = createWorkspace(memoryFiles({ '/r/.git/x': '', ...texts }), ['/r/p']);
  workspace.loadFile(main);
  return workspace;
}

function findingsOf(workspace: Workspace): readonly Finding[] {
  const project = workspace.projectOf(main)?.project;
  project?.refreshNow();
  return project?.findings() ?? [];
}

const found = (workspace: Workspace): string[] =>
  findingsOf(workspace).map((f) => `${told(f).line} ${f.rule.id}: ${f.message}`);

/** What is found in a project that uses a library with this text. */
const withLibrary = (text: string, more = ''): string[] =>
  found(workspaceWith({ [main]: using + more, [library]: text }));

const faulty = (count: string): string =>
  `2 library-has-errors: Library "trade" has ${count}; what is cut from it may be wrong.`;

describe('of a library with errors one finding is told, at its use', () => {
  it.each([
    ['a comma in a number', board.replace('3/4in', '0,75in')],
    ['a length without a unit', board.replace('3/4in', '3/4')],
    ['a word that is not known', board.replace('thickness', 'thickness-of')],
    ['a declaration whose word is not known', board.replace('board', 'bord')],
    ['a block that is not opened', 'board white-12\n  depth 12in\n  thickness 3/4in\n}\n'],
    ['a block of which both braces are missing', 'board white-12\n  depth 12in\n  thickness 3/4in\n'],
    ['a template without any braces', board + template.replaceAll(/ \{$/gm, '').replaceAll(/^ *\}\n/gm, '')],
    ['hardware with a length without a unit', `${board}hardware clip { is support; takes 3/16 }\n`],
    ['hardware that is not there', board.replace('}', '; carried by clip }')],
    ['a thickness of nothing', board.replace('3/4in', '0in')],
    ['stock of a board that is not there', `${board}stock oak { length 8ft }\n`],
    ['a limit of a policy that is not there', `${board}policy low { limit rod-hight at most 48in }\n`],
    ['a garment with a length without a unit', `${board}garment coat { hang 50; hanger 18in }\n`],
    ['a template in which something cannot be read', board + template.replace('width fill', 'widht fill')],
    ['a board that is declared twice', board + board.replace('3/4in', '1in')],
    ['a template that is declared twice', board + template + template.replace('78in', '60in')],
    ['two stocks of one board', `${board}stock white-12 { length 8ft }\nstock white-12 { length 12ft }\n`],
    [
      'a policy that contradicts the one it extends',
      'policy low { limit rod-height at most 48in }\npolicy tall extends low { limit rod-height at least 54in }\n',
    ],
    ['both sides of a merge', `<<<<<<< ours\n${board}=======\n${board}>>>>>>> theirs\n`],
  ])('%s', (_, text) => {
    expect(withLibrary(text)).toEqual([faulty('1 error')]);
  });

  it('with how many there are, and the first of them', () => {
    const text = ['a', 'b', 'c', 'd', 'e'].map((name) => `board ${name} { depth 12; thickness 3/4in }\n`).join('');
    const [finding] = findingsOf(workspaceWith({ [main]: using, [library]: text }));
    expect(finding?.message).toBe('Library "trade" has 5 errors; what is cut from it may be wrong.');
    expect(finding?.advice).toContain('Mend them');
    expect(finding?.related.map(({ place, message }) => `${place.statement.text}: ${message}`)).toEqual(
      Array(3).fill(expect.stringMatching(/^ ?depth 12: .*unit/)),
    );
  });

  it('of a name that is declared three times, with where it is first', () => {
    const text = ['3/4in', '1in', '2in'].map((thickness) => board.replace('3/4in', thickness)).join('');
    const [found, ...others] = findingsOf(workspaceWith({ [main]: using, [library]: text }));
    expect(others).toEqual([]);
    expect(found?.message).toBe('Library "trade" has 2 errors; what is cut from it may be wrong.');
    expect(found?.related.map(({ message }) => message)).toEqual(
      Array(2).fill('Board "white-12" is declared twice; the first one is used.'),
    );
  });

  it('of a policy in it, also where that is in force', () => {
    const text = `policy low { limit rod-height at most 48in }
policy both extends low { limit rod-height at least 54in }
`;
    const inForce = using.replace('kerf 1/8in', 'kerf 1/8in; policy trade.both');
    expect(found(workspaceWith({ [main]: inForce, [library]: text }))).toEqual([faulty('1 error')]);
  });

  it('of a library that it uses', () => {
    const texts = {
      [main]: using,
      [library]: 'use "../base" as base\n',
      '/r/base/all.closet': board.replace('3/4in', '3/4'),
    };
    expect(found(workspaceWith(texts))).toEqual([faulty('1 error')]);
  });

  it('and once of one that is come to by two ways', () => {
    const texts = {
      [main]: using,
      [library]: 'use "../base" as base\nuse "../base" as same\n',
      '/r/base/all.closet': board.replace('3/4in', '3/4'),
    };
    expect(found(workspaceWith(texts))).toEqual([faulty('1 error')]);
  });

  it.each([
    ['template', 'tmplate'],
    ['board white-12 {', 'bord white-12 {'],
    ['board white-12 {', 'board {'],
    ['width: length', 'width: lenght'],
    ['parameter width', 'paramter width'],
    ['width fill', 'widht fill'],
    ['at 78in', 'ta 78in'],
    ['wall back', 'wal back'],
    ['{ length width', '{ lenght width'],
    ['depth 12in', 'depth 12'],
  ])('beside nothing that follows from it: %s as %s', (from, to) => {
    const unit = 'stock trade.white-12 { length 8ft }\nunit a trade.reach-in { width 48in }\n';
    expect(withLibrary(board + template, unit)).toEqual([]);
    expect(withLibrary((board + template).replace(from, to), unit)).toEqual([faulty('1 error')]);
  });

  it('beside what is wrong in a unit of it, and what follows from nothing in it', () => {
    const text = (board + template).replace('width fill', 'widht fill');
    const units = 'unit a trade.reach-in { width 48 }\nunit b trade.reach-in { widt 48in }\nunit c nothing\n';
    const rules = withLibrary(text, units).map((told) => told.replace(/:.*/, ''));
    expect(rules.sort()).toEqual([
      '2 library-has-errors',
      '3 unit-of-measure-missing',
      '4 name-not-known',
      '5 name-not-known',
    ]);
  });
});

describe('of a library nothing is told', () => {
  it.each([
    ['without errors', board + template],
    ['that declares a unit twice', `${board}${template}${'unit a reach-in { width 48in }\n'.repeat(2)}`],
    ['in which a unit cannot be read', `${board}${template}unit a reach-in { width 48 }\nunit b { width 30 }\n`],
    ['whose project has an error', `project "Trade" { kerf 1/8 }\n${board}`],
    ['with prices in a currency of its own', `${board}stock white-12 { length 8ft price 9 GBP }\n`],
  ])('%s', (_, text) => {
    expect(withLibrary(text)).toEqual([]);
  });
});

describe('a library that is mended', () => {
  const bad = board.replace('3/4in', '3/4');

  it('in the editor is told of no more', () => {
    const workspace = workspaceWith({ [main]: using, [library]: bad });
    expect(found(workspace)).toEqual([faulty('1 error')]);
    workspace.openDocument(library, bad);
    const at = bad.indexOf('3/4') + 3;
    workspace.editDocument(library, [{ start: at, end: at, text: 'in' }]);
    expect(found(workspace)).toEqual([]);
    workspace.editDocument(library, [{ start: at, end: at + 2, text: '' }]);
    expect(found(workspace)).toEqual([faulty('1 error')]);
  });

  it('is not gone through again at an edit of what uses it', () => {
    const workspace = workspaceWith({ [main]: using, [library]: bad });
    const [before] = findingsOf(workspace);
    workspace.openDocument(main, using);
    workspace.editDocument(main, [{ start: using.length, end: using.length, text: board }]);
    const [after] = findingsOf(workspace);
    expect(after).toBe(before);
  });
});

describe('a name without the name of its library', () => {
  const sound = `${board}rod chrome { diameter 1-1/4in }\nhardware clip { is support }
garment kimono { hang 50in; hanger 18in }\npolicy low { limit rod-height at most 48in }\n${template}`;

  it.each([
    ['a template', 'unit A-101-bed reach-in { width 48in }', 'trade.reach-in'],
    ['a template that is extended', 'template wide extends reach-in { }', 'trade.reach-in'],
    ['stock of a board', 'stock white-12 { length 8ft }', 'trade.white-12'],
    ['stock of a rod', 'stock chrome { length 8ft }', 'trade.chrome'],
    ['hardware', 'board oak { depth 12in; thickness 3/4in; carried by clip }', 'trade.clip'],
    ['a policy of a unit', 'unit a trade.reach-in { width 48in; policy low }', 'trade.low'],
    ['a policy that is extended', 'policy mine extends low { }', 'trade.low'],
    [
      'a board and a garment',
      'template t { board white-12; pole trade.chrome; wall back { length 60in; height 96in }\n  zone a on back { width fill; rod r { at 60in; for kimono } } }\nunit u t',
      'trade.kimono',
      'trade.white-12',
    ],
  ])('%s', (_, text, ...meant) => {
    const all = findingsOf(workspaceWith({ [main]: using + text, [library]: sound }));
    const unknown = all.filter(({ rule }) => rule.id === 'name-not-known');
    expect(unknown.map(({ advice }) => advice)).toEqual(meant.map((name) => `Did you mean "${name}"?`));
    expect(unknown.flatMap(({ fixes }) => fixes.map(({ title }) => title))).toEqual(
      meant.map((name) => `Write "${name}"`),
    );
  });

  it('is found in a library of a library', () => {
    const texts = {
      [main]: `${using}unit a reach-in { width 48in }\n`,
      [library]: 'use "../base" as base\n',
      '/r/base/all.closet': sound,
    };
    const [unknown] = findingsOf(workspaceWith(texts));
    expect(unknown?.advice).toBe('Did you mean "trade.base.reach-in"?');
  });
});

describe('a policy of a library that is in force', () => {
  const inForce = `project "Quarry Lane" { kerf 1/8in; policy trade.both }
use "../trade" as trade
rod chrome { diameter 1-1/4in }
stock chrome { length 8ft }
template t {
  pole chrome
  wall back { length 40in; height 96in }
  zone a on back { width fill; rod r { at 70in; for shirt } }
}
unit u t
`;
  const both = 'policy both extends low { limit shelf-height at most 80in }\n';
  const ids = (texts: Record<string, string>): string[] => findingsOf(workspaceWith(texts)).map(({ rule }) => rule.id);

  it('has the limits of the one that it extends there', () => {
    const text = `policy low { limit rod-height at most 48in }\n${both}`;
    expect(ids({ [main]: inForce, [library]: text })).toEqual(['rod-height-limit']);
  });

  it('and not those of one of that name in the project', () => {
    const text = `policy low { limit rod-height at most 72in }\n${both}`;
    expect(ids({ [main]: `${inForce}policy low { limit rod-height at most 48in }\n`, [library]: text })).toEqual([]);
  });
});
