/**
 * Files that change hands between projects: what is found is what a workspace finds that reads everything
 * cold, and what stays together is not read or computed again.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { segmentOf, spanOf } from '../../grammar/tree.ts';
import { createWorkspace } from '../../server/checks/analysis.ts';
import type { Workspace } from '../../server/model/workspace.ts';
import { memoryFiles } from './support.ts';

const start: Readonly<Record<string, string>> = {
  '/r/.git/x': '',
  '/r/project.closet':
    'project "Quarry Lane" { show millimetres }\nuse "trade" as trade\nrod chrome { diameter 30mm }\n',
  '/r/boards.closet': 'board white-12 { depth 12in; thickness 3/4in }\nextra spare { board trade.oak; length 600mm }\n',
  '/r/north/project.closet': 'project "North" { show inches }\nboard white-12 { depth 11in; thickness 3/4in }\n',
  '/r/north/flats.closet': `template t {
  wall back { length 60in; height 96in }
  board white-12
  zone a on back { width fill; shelf s { at 40in; depth 12in } }
}
unit u1 t
unit u2 t { override a.s { at 41 } }
`,
  '/r/north/deep/more.closet': 'unit u3 t\nunit u4 tt\n',
  '/r/trade/all.closet': 'board oak { depth 12in; thickness 3/4in }\n',
};

/** Everything that a workspace finds, by project. */
function told(workspace: Workspace): string[] {
  return workspace.projects
    .flatMap(({ root, alone, project }) => {
      project.refreshNow();
      const head = `${root} ${alone} ${[...project.sources.keys()].sort()} ${[...project.units()].map((u) => u.name)}`;
      const findings = project
        .findings()
        .map((f) => `${segmentOf(f.place.statement).source.id} ${spanOf(f.place).start} ${f.rule.id} ${f.message}`);
      return [head, ...findings.map((f) => `${root} ${f}`)];
    })
    .sort();
}

function cold(texts: Record<string, string>, open: ReadonlyMap<string, string>): string[] {
  const workspace = createWorkspace(memoryFiles(texts), ['/r']);
  for (const [path, text] of open) workspace.openDocument(path, text);
  workspace.loadFolder('/r');
  return told(workspace);
}

const paths = Object.keys(start).filter((path) => path.endsWith('.closet'));

const step = fc.record({
  path: fc.constantFrom(...paths),
  what: fc.constantFrom('hide', 'hide', 'comment', 'show', 'open', 'close', 'save', 'delete', 'write'),
});

describe('files that change hands', () => {
  it('are found the same things of as by a workspace that reads them cold', () => {
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 12 }), (steps) => {
        const texts = { ...start };
        const open = new Map<string, string>();
        const workspace = createWorkspace(memoryFiles(texts), ['/r']);
        workspace.loadFolder('/r');
        const edit = (path: string, from: number, to: number, text: string): void => {
          const old = open.get(path);
          if (old === undefined) return;
          open.set(path, old.slice(0, from) + text + old.slice(to));
          workspace.editDocument(path, [{ start: from, end: to, text }]);
        };
        for (const { path, what } of steps) {
          const text = open.get(path) ?? '';
          const lead = /^(\{|\/\*)/.exec(text)?.[0].length ?? 0;
          if (what === 'hide' || what === 'comment') edit(path, 0, lead, what === 'hide' ? '{' : '/*');
          else if (what === 'show') edit(path, 0, lead, '');
          else if (what === 'open' && !open.has(path)) {
            open.set(path, texts[path] ?? '');
            workspace.openDocument(path, texts[path] ?? '');
          } else if (what === 'close' && open.delete(path)) workspace.closeDocument(path);
          else if (what === 'save' && open.has(path)) {
            texts[path] = open.get(path) ?? '';
            workspace.changedOnDisk(path);
          } else if (what === 'delete' && path in texts) {
            delete texts[path];
            workspace.wentAway(path);
          } else if (what === 'write' && !(path in texts)) {
            texts[path] = start[path] ?? '';
            workspace.changedOnDisk(path);
          }
        }
        expect(told(workspace)).toEqual(cold(texts, open));
      }),
      { numRuns: 150, seed: 11 },
    );
  });

  it('are not computed again where they stay together', () => {
    const main = '/r/all.closet';
    const text = `project "Quarry Lane" { kerf 1/8in }\n${start['/r/boards.closet']?.split('\n')[0]}\n${start['/r/north/flats.closet']}`;
    const workspace = createWorkspace(memoryFiles({ '/r/.git/x': '', [main]: text }), ['/r']);
    workspace.openDocument(main, text);
    const project = workspace.projectOf(main)?.project;
    project?.refreshNow();
    const evaluated = project?.stats.unitsEvaluated;
    expect(evaluated).toBe(2);
    for (const put of ['{', '/*']) {
      workspace.editDocument(main, [{ start: 0, end: 0, text: put }]);
      expect(workspace.projectOf(main)).toMatchObject({ alone: true, root: main });
      workspace.editDocument(main, [{ start: 0, end: put.length, text: '' }]);
      expect(workspace.projectOf(main)).toMatchObject({ alone: false, root: '/r' });
      expect(workspace.projectOf(main)?.project).toBe(project);
      project?.refreshNow();
      expect(project?.stats.unitsEvaluated).toBe(evaluated);
    }
  });

  it('keep their trees where their project goes to pieces', () => {
    const texts = { ...start };
    const workspace = createWorkspace(memoryFiles(texts), ['/r']);
    workspace.loadFolder('/r');
    const root = '/r/project.closet';
    workspace.openDocument(root, texts[root] ?? '');
    const boards = workspace.projectOf('/r/boards.closet')?.project.sources.get('/r/boards.closet');
    workspace.editDocument(root, [{ start: 0, end: 0, text: '/*' }]);
    expect(workspace.projectOf('/r/boards.closet')?.alone).toBe(true);
    expect(workspace.projectOf('/r/boards.closet')?.project.sources.get('/r/boards.closet')).toBe(boards);
    workspace.editDocument(root, [{ start: 0, end: 2, text: '' }]);
    expect(workspace.projectOf('/r/boards.closet')).toMatchObject({ alone: false, root: '/r' });
    expect(workspace.projectOf('/r/boards.closet')?.project.sources.get('/r/boards.closet')).toBe(boards);
  });
});
