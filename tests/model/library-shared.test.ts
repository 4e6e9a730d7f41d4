/** A library that a project comes to in several ways is one library: its board is one board, with one stock. */
import { describe, expect, it } from 'vitest';
import { createWorkspace, planProject } from '../../server/checks/analysis.ts';
import { demandOf } from '../../server/cutting/demand.ts';
import { completionsAt } from '../../server/language/completion.ts';
import type { Project } from '../../server/model/project.ts';
import { showInches, showLength } from '../../server/model/show.ts';
import type { Workspace } from '../../server/model/workspace.ts';
import { takeoffOf } from '../../server/sheets/takeoff.ts';
import { base, trade } from './library-texts.ts';
import { memoryFiles, projectAt } from './support.ts';

const main = '/r/house/main.closet';
const files = { '/r/.git/x': '', '/r/base/all.closet': base, '/r/trade/all.closet': trade };

function workspaceOf(text: string, more: Record<string, string> = {}): Workspace {
  const workspace = createWorkspace(memoryFiles({ ...files, ...more, [main]: text }), ['/r']);
  workspace.loadFile(main);
  return workspace;
}

const projectIn = (workspace: Workspace): Project => projectAt(workspace, main);

const projectOf = (text: string): Project => projectIn(workspaceOf(text));

/** How many pieces of each material, and what stock there is of it. */
function asked(project: Project): Record<string, readonly [pieces: number, stock: number]> {
  const { pieces, stock } = demandOf(project).request;
  const names = new Set([...pieces, ...stock].map(({ material }) => material));
  return Object.fromEntries(
    [...names]
      .sort()
      .map((name) => [
        name,
        [
          pieces.reduce((sum, { material, quantity }) => sum + (material === name ? quantity : 0), 0),
          stock.filter(({ material }) => material === name).length,
        ],
      ]),
  );
}

const hardware = (project: Project): string[] =>
  takeoffOf(project.units()).hardware.map(({ hardware: { name }, count }) => `${count} ${name}`);

const errors = (project: Project): string[] =>
  project.findings().flatMap(({ severity, message }) => (severity === 'error' ? [message] : []));

const lost = (project: Project): string[] =>
  planProject(project).findings.flatMap(({ rule, message }) => (rule.id === 'stock-missing' ? [message] : []));

const header = 'project "House" { show inches }\n';

describe('a library under two names', () => {
  const text = `${header}use "../trade" as trade\nuse "../trade" as yard
stock trade.white { length 8ft }
unit u1 trade.single { bar yard.chrome; made yard.white }
unit u2 yard.single { made trade.white }
extra spare { board yard.white; length 20in; count 3 }
`;

  it('has one of each material, called by the first name', () => {
    const project = projectOf(text);
    expect(errors(project)).toEqual([]);
    expect(asked(project)).toEqual({ 'trade.white': [7, 1], 'trade.chrome': [2, 0] });
    expect(lost(project)).toEqual(['"trade.chrome" has no stock, and 2 parts of it are to be cut.']);
  });

  it.each(['trade', 'yard'])('takes the stock that is stated as %s calls it', (name) => {
    const project = projectOf(text.replace('stock trade.white', `stock ${name}.white`));
    expect(asked(project)['trade.white']).toEqual([7, 1]);
  });

  it('has the stock that is stated first where both names have one, which is told', () => {
    const both = text.replace('stock trade.white { length 8ft }', '$&\nstock yard.white { length 10ft; length 12ft }');
    const project = projectOf(both);
    expect(errors(project)).toEqual([
      'The stock of "yard.white" is declared twice, once as "trade.white"; the first one is used.',
    ]);
    expect(asked(project)['trade.white']).toEqual([7, 1]);
    expect(errors(projectOf(`${both}stock yard.white { length 8ft }\n`))).toHaveLength(2);
  });

  it('keeps quiet of stock that cannot be read, whichever name it is stated by', () => {
    expect(lost(projectOf(`${text}stock trade.chrome { length 8fx }\n`))).toEqual([]);
    expect(lost(projectOf(`${text}stock yard.chrome { length 8fx }\n`))).toEqual([]);
  });

  it('offers the lengths of its stock for loose parts, whichever name they are of', () => {
    for (const name of ['trade', 'yard']) {
      const asking = `${text}extra more { board ${name}.white; length  }\n`;
      const project = projectOf(asking);
      const source = project.sources.get(main);
      const offered = source ? completionsAt({ project, source, path: main }, asking.lastIndexOf(' }')) : [];
      expect(offered.map(({ label }) => label)).toContain('96in');
    }
  });
});

describe('an agreement about a template of a library', () => {
  it.each(['trade.single', 'yard.single.a', 'yard.single.a.pole', 'trade.single.a.pole'])('holds at %s', (place) => {
    const ask = `project "House" { policy trade.accessible }\nuse "../trade" as trade\nuse "../trade" as yard\nunit u yard.single\n`;
    const limited = (project: Project): number =>
      project.findings().filter(({ rule }) => rule.id === 'rod-height-limit').length;
    expect(limited(projectOf(ask))).toBe(1);
    const agreed = projectOf(`${ask}accept rod-height-limit at ${place} because "agreed"\n`);
    expect(limited(agreed)).toBe(0);
    expect(agreed.findings().map(({ rule }) => rule.id)).not.toContain('accept-unmatched');
  });
});

describe('a library that another one uses as well', () => {
  const own = 'use "../base" as firm\n';
  const other = 'use "../trade" as trade\n';
  // Three of it on each shelf: 36in between the outermost, and at most 24in from one to the next.
  const rest = `unit u1 trade.single { width 40in }
template mine {
  wall back { length 40in; height 96in; studs every 16in from 8in }
  zone a on back { width fill; shelf s { at 60in; board trade.white; carried by firm.rear } }
}
unit u2 mine
`;

  it.each([
    ['first', own + other],
    ['last', other + own],
  ])('counts its hardware together, called as the project calls it, where that comes %s', (_, uses) => {
    const project = projectOf(header + uses + rest);
    expect(errors(project)).toEqual([]);
    const counted = hardware(project);
    expect(counted.filter((one) => one.endsWith('rear'))).toEqual(['9 firm.rear']);
    expect(counted.filter((one) => one.endsWith('plug'))).toHaveLength(1);
  });

  it('is called through the other one where the project has no name for it', () => {
    const project = projectOf(`${header}${other}unit u1 trade.single { width 40in }\n`);
    expect(hardware(project)).toContain('6 trade.base.rear');
  });

  it('is found under every name that it has', () => {
    const project = projectOf(header + own + other + rest.replace('firm.rear', 'trade.base.rear'));
    expect(errors(project)).toEqual([]);
    expect(hardware(project)).toContain('9 firm.rear');
  });

  it('follows an edit in it', () => {
    const workspace = workspaceOf(header + other + own + rest);
    workspace.openDocument('/r/base/all.closet', base);
    const before = hardware(projectIn(workspace));
    const at = base.indexOf('spacing at most 24in');
    workspace.editDocument('/r/base/all.closet', [{ start: at, end: at + 20, text: 'spacing at most 12in' }]);
    expect(hardware(projectIn(workspace)).find((one) => one.endsWith('rear'))).toBe('12 firm.rear');
    workspace.editDocument('/r/base/all.closet', [{ start: at, end: at + 20, text: 'spacing at most 24in' }]);
    expect(hardware(projectIn(workspace))).toEqual(before);
  });
});

describe('a board of a library that a library uses', () => {
  it('is told to have no stock', () => {
    const workspace = workspaceOf(
      `${header}use "../outer" as outer\nextra spare { board outer.trade.white; length 20in }\n`,
      { '/r/outer/all.closet': 'use "../trade" as trade\n' },
    );
    expect(lost(projectIn(workspace))).toEqual(['"outer.trade.white" has no stock, and 1 part of it is to be cut.']);
  });
});

describe('clothes of one name, from a project and from a library', () => {
  it('are both looked at', () => {
    const project = projectOf(`${header}use "../trade" as trade
garment gown { hang 20in; hanger 17in }
template mine extends trade.single { zone a { rod pole { for gown; holds 2 trade.gown } } }
unit u mine
`);
    const met = [...project.units()].flatMap(({ checked }) =>
      checked.flatMap(({ rule, message }) => (rule.id === 'garment-meets-below' ? [message] : [])),
    );
    expect(met).toEqual([]);
    const lower = projectOf(`${header}use "../trade" as trade
garment gown { hang 20in; hanger 17in }
template mine extends trade.single { zone a { shelf mid { at 40in }; rod pole { for gown; holds 2 trade.gown } } }
unit u mine
`);
    expect(
      [...lower.units()].flatMap(({ checked }) =>
        checked.flatMap(({ rule, message }) => (rule.id === 'garment-meets-below' ? [message] : [])),
      )[0],
    ).toMatch(/^"trade\.gown" on rod "a\.pole" hangs down to shelf "a\.mid"/);
  });
});

describe('a board of a project in a template of a library', () => {
  const text = `${header}use "../trade" as trade
hardware end { is cup; takes 1in }
board own { depth 12in; thickness 3/4in; ends with end }
unit u trade.single { made own }
`;
  const cut = (project: Project): string | undefined => {
    const parts = [...project.units()].flatMap(({ resolved }) => resolved?.layout.parts ?? []);
    const high = parts.find(({ path }) => path === 'a.high');
    return high && showLength(high.length, showInches);
  };

  it('is cut for the ends that the project says', () => {
    expect(cut(projectOf(text))).toBe('58in');
  });

  it('follows an edit of them', () => {
    const workspace = workspaceOf(text);
    expect(cut(projectIn(workspace))).toBe('58in');
    workspace.openDocument(main, text);
    const at = text.indexOf('takes 1in');
    workspace.editDocument(main, [{ start: at, end: at + 9, text: 'takes 2in' }]);
    expect(cut(projectIn(workspace))).toBe('56in');
    const name = text.indexOf('hardware end') + 9;
    workspace.editDocument(main, [{ start: name, end: name + 3, text: 'endcap' }]);
    expect(cut(projectIn(workspace))).toBe('60in');
  });
});

describe('a limit that a policy of a library sets', () => {
  it('is told with the name that the policy has in the project', () => {
    const project = projectOf(
      `project "House" { policy trade.accessible }\nuse "../trade" as trade\nunit u trade.single\n`,
    );
    const found = project.findings().map(({ message }) => message);
    expect(found.find((one) => one.includes('is at 81in'))).toContain('policy "trade.accessible" allows at most 48in');
  });
});
