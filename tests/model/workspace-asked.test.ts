/** Which files are read: those of the folders that were asked for, and what somebody looks at for as long as he does. */
import { describe, expect, it } from 'vitest';
import { segmentOf } from '../../grammar/tree.ts';
import { createWorkspace } from '../../server/checks/analysis.ts';
import type { Workspace } from '../../server/model/workspace.ts';
import { memoryFiles } from './support.ts';

const board = 'board shelf-board { depth 12in; thickness 3/4in }\n';
const house = `project "P" { show inches }\n${board}stock shelf-board { length 8ft }\n`;
const main = '/ws/project.closet';

/** All that is read, file by file, with the rules of what is found in it. */
function all(workspace: Workspace): Record<string, string[]> {
  const found: Record<string, string[]> = {};
  for (const { project } of workspace.projects) {
    project.refreshNow();
    for (const file of project.sources.keys()) found[file] = [];
    for (const { rule, place } of project.findings()) found[segmentOf(place.statement).source.id]?.push(rule.id);
  }
  return found;
}

/** The same files, read anew. */
function fresh(texts: Record<string, string>, folders: readonly string[] = ['/ws']): Record<string, string[]> {
  const workspace = createWorkspace(memoryFiles(texts), folders);
  for (const folder of folders) workspace.loadFolder(folder);
  return all(workspace);
}

function started(texts: Record<string, string>, folders: readonly string[] = ['/ws']): Workspace {
  const workspace = createWorkspace(memoryFiles(texts), folders);
  for (const folder of folders) workspace.loadFolder(folder);
  return workspace;
}

describe.each([
  ['a package', '/ws/node_modules/lib/lib.closet'],
  ['what was built', '/ws/dist/lib.closet'],
  ['a hidden folder', '/ws/flats/.history/lib.closet'],
])('a file in %s', (_, path) => {
  const texts = (): Record<string, string> => ({ '/ws/.git/x': '', [main]: house, [path]: board });

  it('is not read when it is told of, nor with its folder', () => {
    const own = texts();
    const workspace = started(own);
    workspace.changedOnDisk(path);
    workspace.folderMade(path.slice(0, path.lastIndexOf('/')));
    expect(all(workspace)).toEqual(fresh(own));
    own[path] = house;
    workspace.changedOnDisk(path);
    expect(all(workspace)).toEqual(fresh(own));
    expect(Object.keys(all(workspace))).toEqual([main]);
  });

  it('is not read because it is asked about', () => {
    const own = texts();
    const workspace = started(own);
    expect(workspace.askedAbout(path)).toBeUndefined();
    expect(workspace.askedAbout(main)?.root).toBe('/ws');
    expect(all(workspace)).toEqual(fresh(own));
  });

  it('stands alone while it is open, says why, and is let go when it is closed', () => {
    const own = texts();
    const workspace = started(own);
    const { alone, project } = workspace.openDocument(path, board);
    expect(alone).toBe(true);
    expect(project.findings().map(({ rule, message }) => [rule.id, message])).toContainEqual([
      'no-project',
      expect.stringMatching(/lies in "(node_modules|dist|\.history)", a folder in which a project does not look/),
    ]);
    expect(all(workspace)[main]).toEqual([]);
    workspace.closeDocument(path);
    expect(all(workspace)).toEqual(fresh(own));
  });

  it('that declares a project of its own is one while it is open', () => {
    const own = { ...texts(), [path]: house };
    const workspace = started(own);
    expect(workspace.openDocument(path, house).alone).toBe(false);
    expect(workspace.projects).toHaveLength(2);
    expect(all(workspace)[main]).toEqual([]);
    workspace.closeDocument(path);
    expect(all(workspace)).toEqual(fresh(own));
  });
});

describe('a file outside the folders', () => {
  const outside = { '/out/.git/x': '', '/out/project.closet': house, '/out/more.closet': '// More.\n' };
  const texts = (): Record<string, string> => ({ '/ws/.git/x': '', [main]: house, ...outside });

  it('is read with its project while one of them is open', () => {
    const own = texts();
    const workspace = started(own);
    workspace.openDocument('/out/project.closet', house);
    workspace.openDocument('/out/more.closet', '// More.\n');
    expect(Object.keys(all(workspace))).toContain('/out/more.closet');
    workspace.closeDocument('/out/project.closet');
    expect(Object.keys(all(workspace))).toContain('/out/project.closet');
    own['/out/new.closet'] = '';
    workspace.changedOnDisk('/out/new.closet');
    expect(Object.keys(all(workspace))).toContain('/out/new.closet');
    workspace.closeDocument('/out/more.closet');
    expect(all(workspace)).toEqual(fresh(own));
  });

  it('that stands alone is let go when it is closed', () => {
    const own = { ...texts(), '/else/a.closet': board };
    const workspace = started(own);
    workspace.openDocument('/else/a.closet', board);
    expect(Object.keys(all(workspace))).toContain('/else/a.closet');
    workspace.closeDocument('/else/a.closet');
    expect(all(workspace)).toEqual(fresh(own));
  });

  it('is let go when it is closed after its folder was taken out', () => {
    const own = texts();
    const folders = ['/ws', '/out'];
    const workspace = started(own, folders);
    workspace.openDocument('/out/more.closet', '// More.\n');
    folders.splice(1, 1);
    workspace.foldersChanged();
    expect(Object.keys(all(workspace))).toContain('/out/more.closet');
    workspace.closeDocument('/out/more.closet');
    expect(all(workspace)).toEqual(fresh(own));
  });

  it('is let go where no folder is open at all', () => {
    const workspace = started(texts(), []);
    workspace.openDocument('/out/more.closet', '// More.\n');
    expect(workspace.projects).toHaveLength(1);
    workspace.closeDocument('/out/more.closet');
    expect(workspace.projects).toEqual([]);
  });
});

describe('a file of the folders', () => {
  it('of another kind belongs to the project while it is open, as one of it', () => {
    const own = { '/ws/.git/x': '', [main]: house, '/ws/notes.txt': board };
    const workspace = started(own);
    expect(workspace.openDocument('/ws/notes.txt', board).root).toBe('/ws');
    workspace.closeDocument('/ws/notes.txt');
    expect(all(workspace)).toEqual(fresh(own));
  });

  it('stays when it is closed, in a project or alone', () => {
    const own = { '/ws/.git/x': '', '/ws/p/project.closet': house, '/ws/alone.closet': board };
    const workspace = started(own);
    for (const path of ['/ws/p/project.closet', '/ws/alone.closet']) {
      workspace.openDocument(path, own[path as keyof typeof own]);
      workspace.closeDocument(path);
    }
    expect(all(workspace)).toEqual(fresh(own));
    expect(Object.keys(all(workspace))).toHaveLength(2);
  });

  it('that is told of in a folder behind a link is not read', () => {
    const texts: Record<string, string> = { '/ws/.git/x': '', [main]: house, '/ws/link/other.closet': board };
    const files = {
      ...memoryFiles(texts),
      real: (path: string) => path.replace('/ws/link', '/elsewhere'),
      list: (folder: string) =>
        memoryFiles(texts)
          .list(folder)
          ?.filter(({ name }) => name !== 'link'),
    };
    const workspace = createWorkspace(files, ['/ws']);
    workspace.loadFolder('/ws');
    expect(workspace.folderMade('/ws/link')).toBe(false);
    expect(Object.keys(all(workspace))).toEqual([main]);
  });
});

describe('a project of which not all is read', () => {
  const deep = `/ws/${Array.from({ length: 45 }, (_, i) => `d${i}`).join('/')}/a.closet`;
  const texts = { '/ws/.git/x': '', [main]: house, [deep]: board };

  it('says so, and goes on saying so when its first file is opened and closed', () => {
    const workspace = started(texts);
    const rules = (): string[] => {
      const { project } = workspace.loadFile(main);
      project.refreshNow();
      return project.findings().map(({ rule }) => rule.id);
    };
    expect(rules()).toEqual(['too-many']);
    workspace.openDocument(main, house);
    workspace.editDocument(main, [{ start: house.length, end: house.length, text: '// Typed.\n' }]);
    expect(rules()).toEqual(['too-many']);
    workspace.closeDocument(main);
    expect(rules()).toEqual(['too-many']);
  });

  it('is read as far as it is, and the folder that is too deep is told', () => {
    const workspace = createWorkspace(memoryFiles(texts), ['/ws']);
    const { files, problem } = workspace.loadFolder('/ws');
    expect(files).toEqual([main]);
    expect(problem).toContain('deep are not looked into');
    expect(workspace.projects).toHaveLength(1);
  });
});
