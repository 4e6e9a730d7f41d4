/** What the loader does when files and folders come and go, and with documents that are too large to be read. */
import { describe, expect, it } from 'vitest';
import { fixesThatHold } from '../../server/checks/alternatives.ts';
import { createWorkspace } from '../../server/checks/analysis.ts';
import type { Fix } from '../../server/model/finding.ts';
import { largestFile, type Workspace } from '../../server/model/workspace.ts';
import { applied } from '../checks/one-check.ts';
import { memoryFiles } from './support.ts';

const main = '/r/p/project.closet';
const library = '/r/trade/all.closet';
const oak = 'board oak { depth 12in; thickness 3/4in }\n';
const house =
  'project "P" { show inches }\nuse "../trade" as trade\nextra spare { board trade.oak; length 24in }\nstock trade.oak { length 6ft }\n';

function found(workspace: Workspace, path = main): string[] {
  const loaded = workspace.projectOf(path);
  if (!loaded) return ['not loaded'];
  loaded.project.refreshNow();
  return loaded.project.findings().map((f) => f.rule.id);
}

describe('a library that comes and goes', () => {
  const start = (): { texts: Record<string, string>; workspace: Workspace } => {
    const texts: Record<string, string> = { '/r/.git/x': '', [main]: house };
    const workspace = createWorkspace(memoryFiles(texts), ['/r']);
    workspace.loadFile(main);
    expect(found(workspace)).toEqual(['use-not-found']);
    return { texts, workspace };
  };

  it('on disk', () => {
    const { texts, workspace } = start();
    texts[library] = oak;
    workspace.changedOnDisk(library);
    expect(found(workspace)).toEqual([]);
    delete texts[library];
    workspace.changedOnDisk(library);
    expect(found(workspace)).toEqual(['use-not-found']);
  });

  it('with its folder, of which nothing else is told', () => {
    const { texts, workspace } = start();
    texts[library] = oak;
    expect(workspace.folderMade('/r/trade')).toBe(true);
    expect(found(workspace)).toEqual([]);
    delete texts[library];
    expect(workspace.wentAway('/r/trade')).toBe(true);
    expect(found(workspace)).toEqual(['use-not-found']);
    expect([workspace.wentAway('/r/other'), workspace.folderMade('/r/other')]).toEqual([false, false]);
  });

  it('in a package, which is in no project', () => {
    const inPackage = '/r/node_modules/trade/all.closet';
    const { texts, workspace } = start();
    texts[main] = house.replace('"../trade"', '"trade"');
    texts[inPackage] = oak;
    workspace.changedOnDisk(main);
    expect(found(workspace)).toEqual([]);
    delete texts[inPackage];
    expect(workspace.wentAway('/r/node_modules')).toBe(true);
    expect(found(workspace)).toEqual(['use-not-found']);
  });

  it('in the editor, never saved', () => {
    const { workspace } = start();
    workspace.openDocument(library, oak);
    expect(found(workspace)).toEqual([]);
    workspace.editDocument(library, [{ start: 6, end: 9, text: 'elm' }]);
    expect(found(workspace)).toContain('name-not-known');
    workspace.closeDocument(library);
    expect(found(workspace)).toEqual(['use-not-found']);
  });

  it('as one more file of a folder, never saved', () => {
    const { texts, workspace } = start();
    texts['/r/trade/other.closet'] = 'board elm { depth 12in; thickness 3/4in }\n';
    workspace.changedOnDisk('/r/trade/other.closet');
    expect(found(workspace)).toContain('name-not-known');
    workspace.openDocument(library, oak);
    expect(found(workspace)).toEqual([]);
  });
});

describe('a document that is too large to be read', () => {
  const good = 'board oak { depth 12in; thickness 3/4in }\n';
  const path = '/r/p/boards.closet';
  const filler = `${'/'.repeat(79)}\n`.repeat(Math.ceil(largestFile / 80) + 1);
  const open = (text: string): Workspace => {
    const texts = { [main]: 'project "P" { show inches }\n', [path]: good };
    const workspace = createWorkspace(memoryFiles(texts), ['/r']);
    workspace.loadFolder('/r');
    workspace.openDocument(path, text);
    return workspace;
  };

  it('is read as usual once edits have made it small, and not any more once they have made it large', () => {
    const workspace = open(`${filler}board oak { depth 12; thickness 3/4in }\n`);
    expect(found(workspace)).toEqual(['file-too-large']);
    // An edit behind the limit, counted in the text as it is in the editor.
    const at = filler.length + 'board oak { depth 12'.length;
    workspace.editDocument(path, [{ start: at, end: at, text: 'in' }]);
    expect(found(workspace)).toEqual(['file-too-large']);
    workspace.editDocument(path, [{ start: 0, end: filler.length, text: '' }]);
    expect(found(workspace)).toEqual([]);
    expect(workspace.projectOf(path)?.project.sources.get(path)?.text).toBe(good);
    workspace.editDocument(path, [{ start: 0, end: 0, text: filler }]);
    expect(found(workspace)).toEqual(['file-too-large']);
    workspace.editDocument(path, [{ start: 80, end: filler.length, text: '' }]);
    expect(workspace.projectOf(path)?.project.sources.get(path)?.text).toBe(filler.slice(0, 80) + good);
    expect(found(workspace)).toEqual([]);
  });

  it('is told lines and columns of, though it is not read', () => {
    const workspace = open(`${filler}board oak\r\nboard elm\rboard ash\n`);
    const document = workspace.documentAt(path);
    const lines = filler.length / 80;
    expect(document?.offsetAt({ line: lines, column: 6 })).toBe(filler.length + 6);
    expect(document?.offsetAt({ line: lines, column: 100 })).toBe(filler.length + 9);
    expect(document?.offsetAt({ line: lines + 2, column: 1 })).toBe(filler.length + 22);
    expect(document?.offsetAt({ line: lines + 100, column: 0 })).toBe(document?.length);
    expect(workspace.documentAt(main)).toBeUndefined();
  });

  it('is read from disk once it is closed', () => {
    const workspace = open(filler);
    workspace.closeDocument(path);
    expect(found(workspace)).toEqual([]);
  });
});

describe('folders of the workspace', () => {
  it('are loaded with all projects in them, and let go', () => {
    const texts = {
      '/a/one/project.closet': 'project "One" { show inches }\n',
      '/a/two/project.closet': 'project "Two" { show inches }\n',
      '/b/project.closet': 'project "Three" { show inches }\n',
    };
    const folders = ['/a'];
    const workspace = createWorkspace(memoryFiles(texts), folders);
    workspace.loadFolder('/a');
    const roots = (): string[] => workspace.projects.map((p) => p.root).sort();
    expect(roots()).toEqual(['/a/one', '/a/two']);
    folders.push('/b');
    workspace.foldersChanged();
    expect(roots()).toEqual(['/a/one', '/a/two', '/b']);
    workspace.openDocument('/a/two/project.closet', 'project "Two" { show millimetres }\n');
    folders.shift();
    workspace.foldersChanged();
    // What is open stays, whatever the folders are.
    expect(roots()).toEqual(['/a/two', '/b']);
  });
});

describe('a workspace folder within a project', () => {
  const texts = {
    '/repo/.git/HEAD': 'ref: refs/heads/main\n',
    '/repo/lane/project.closet': 'project "Lane" { show inches }\nuse "../trade" as trade\n',
    '/repo/lane/flats/one.closet': 'extra spare { board trade.oak; length 24in }\nstock trade.oak { length 6ft }\n',
    '/repo/trade/boards.closet': 'board oak { depth 12in; thickness 3/4in }\n',
    '/above.closet': 'project "Not of the repository" { }\n',
    '/repo/elsewhere/two.closet': '// Nothing yet.\nboard pine { depth 12in; thickness 3/4in }\n',
  };
  const flats = '/repo/lane/flats/one.closet';
  const load = (folders: string[], staysWithin = false, known = texts as Record<string, string>) => {
    const workspace = createWorkspace(memoryFiles(known), folders, () => staysWithin);
    for (const folder of folders) workspace.loadFolder(folder);
    workspace.loadFile(flats);
    for (const { project } of workspace.projects) project.refreshNow();
    return workspace;
  };
  const said = (workspace: ReturnType<typeof load>, path: string) =>
    workspace
      .projectOf(path)
      ?.project.findings()
      .map(({ rule, message }) => `${rule.id}: ${message}`);

  it('belongs to what the terminal finds above it, with the libraries of that', () => {
    const [inEditor, inTerminal] = [load(['/repo/lane/flats']), load([])];
    expect(inEditor.projectOf(flats)?.root).toBe('/repo/lane');
    expect(said(inEditor, flats)).toEqual([]);
    expect(said(inEditor, flats)).toEqual(said(inTerminal, flats));
    expect(inTerminal.projectOf(flats)?.root).toBe('/repo/lane');
  });

  it('and another one beside it are each served from where they lie', () => {
    const workspace = load(['/repo/lane/flats', '/repo/elsewhere']);
    expect(workspace.projects.map(({ root, alone }) => [root, alone])).toEqual([
      ['/repo/lane', false],
      ['/repo/elsewhere/two.closet', true],
    ]);
  });

  it('ends at the repository, as in the terminal', () => {
    expect(said(load(['/repo/elsewhere']), '/repo/elsewhere/two.closet')).toEqual([
      'no-project: This file belongs to no project, so it is checked by itself with the defaults.',
    ]);
  });

  it('is offered a project of its own where it has none, before what the file begins with', () => {
    const workspace = load(['/repo/elsewhere']);
    const { project } = workspace.projectOf('/repo/elsewhere/two.closet') ?? {};
    const [hint] = project?.findings() ?? [];
    const [fix, ...others] = (project && hint && fixesThatHold(project, hint)) ?? [];
    expect(others).toEqual([]);
    expect(fix).toMatchObject({ title: 'Write project "elsewhere" { show inches }', byHand: true });
    const text = texts['/repo/elsewhere/two.closet'];
    const made = applied(text, fix as Fix);
    expect(made).toBe(`// Nothing yet.\nproject "elsewhere" { show inches }\n\n${text.split('\n')[1]}\n`);
    const alone = createWorkspace(memoryFiles({ '/repo/.git/x': '', '/repo/elsewhere/two.closet': made }), []);
    alone.loadFile('/repo/elsewhere/two.closet');
    alone.projects[0]?.project.refreshNow();
    expect(said(alone, '/repo/elsewhere/two.closet')).toEqual([]);
  });

  it('says so where nothing above it may be read', () => {
    const workspace = load(['/repo/lane/flats'], true);
    expect(said(workspace, flats)?.[0]).toBe(
      'no-project: This file belongs to no project in the folder that is open, and what lies above it is not read in a workspace that is not trusted; so it is checked by itself with the defaults.',
    );
    // Within the folder it is found.
    expect(load(['/repo/lane'], true).projectOf(flats)?.root).toBe('/repo/lane');
  });

  it('says so where nothing above it can be read', () => {
    const only = { [flats]: texts[flats] };
    const files = {
      ...memoryFiles(only),
      list: (folder: string) =>
        folder === '/repo/lane/flats' ? [{ name: 'one.closet', kind: 'file' as const }] : undefined,
    };
    const workspace = createWorkspace(files, ['/repo/lane/flats']);
    workspace.loadFolder('/repo/lane/flats');
    workspace.projects[0]?.project.refreshNow();
    expect(said(workspace, flats)?.[0]).toContain('and what lies above it cannot be read from here; so it is checked');
  });

  it('is not looked for without end', () => {
    const deep = `${'/a'.repeat(500)}/x.closet`;
    const known = { '/project.closet': 'project "Far" { }\n', [deep]: '// Deep.\nboard oak { thickness 3/4in }\n' };
    const workspace = createWorkspace(memoryFiles(known), []);
    expect(workspace.loadFile(deep).alone).toBe(true);
  });
});

describe('a library beside the project, where there is no repository', () => {
  const texts = {
    '/w/lib/l.closet': 'board oak { depth 12in; thickness 3/4in }\n',
    '/w/house/h.closet': 'project "House" {}\nuse "../lib" as lib\nstock lib.oak { length 8ft }\n',
  };
  const foundFrom = (folder: string, folders: readonly string[] = []): string[] => {
    const workspace = createWorkspace(memoryFiles(texts), folders);
    workspace.loadFolder(folder);
    for (const { project } of workspace.projects) project.refreshNow();
    return workspace.projects.flatMap(({ project }) => project.findings().map(({ rule }) => rule.id));
  };

  it('is reached where the folder that is named holds both, as where that is open in an editor', () => {
    for (const folders of [[], ['/w']]) expect(foundFrom('/w', folders)).toEqual(['no-project']);
  });

  it('is outside where only the project is named or open', () => {
    for (const folders of [[], ['/w/house']]) expect(foundFrom('/w/house', folders)).toContain('use-outside-workspace');
  });
});

describe('a file that stands alone', () => {
  it('is told so from its first word on, and no longer when it is empty again', () => {
    const workspace = createWorkspace(memoryFiles({ '/p/a.closet': '' }), []);
    const { project } = workspace.openDocument('/p/a.closet', '');
    const rules = (): string[] => project.findings().map(({ rule }) => rule.id);
    expect(rules()).toEqual([]);
    workspace.editDocument('/p/a.closet', [{ start: 0, end: 0, text: 'survey A-101\n' }]);
    expect(rules()).toContain('no-project');
    workspace.editDocument('/p/a.closet', [{ start: 0, end: 13, text: ' ' }]);
    expect(rules()).toEqual([]);
  });

  it('is not told so where the word of its project is misspelt', () => {
    for (const word of ['Project', 'proect', 'projekt']) {
      const workspace = createWorkspace(memoryFiles({ '/p/a.closet': `${word} "P" { show inches }\n` }), []);
      workspace.loadFile('/p/a.closet');
      const found = workspace.projects.flatMap(({ project }) => project.findings());
      expect(found.map(({ rule }) => rule.id)).toEqual(['word-not-known']);
    }
  });
});

describe('what declarations come to', () => {
  it('is in the order in which they are written, whatever was written last', () => {
    const text = 'project "Quarry Lane" {}\nboard a {}\nboard b {}\nstock b { length 8ft }\n';
    const workspace = createWorkspace(memoryFiles({ '/p/a.closet': text }), []);
    const { project } = workspace.openDocument('/p/a.closet', text);
    const start = text.indexOf('stock');
    workspace.editDocument('/p/a.closet', [{ start, end: start, text: 'stock a { length 6ft }\n' }]);
    project.refreshNow();
    expect(project.computed('stock').map(({ declared }) => declared.name)).toEqual(['a', 'b']);
  });
});
