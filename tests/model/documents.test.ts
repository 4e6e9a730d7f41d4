/** Open documents: their texts go before what is on disk, for the libraries that other projects use too. */
import { describe, expect, it } from 'vitest';
import { createWorkspace } from '../../server/checks/analysis.ts';
import type { Workspace } from '../../server/model/workspace.ts';
import { memoryFiles } from './support.ts';

const main = '/r/p/project.closet';
const library = '/r/trade/all.closet';
const files = (): Record<string, string> => ({
  '/r/.git/x': '',
  [main]:
    'project "P" { show inches }\nuse "../trade" as trade\nextra spare { board trade.oak; length 24in }\nstock trade.oak { length 6ft }\n',
  [library]: 'board oak { depth 12in; thickness 3/4in }\n',
});

function found(workspace: Workspace): string[] {
  const { project } = workspace.projectOf(main) as { project: Workspace['projects'][number]['project'] };
  project.refreshNow();
  return project.findings().map((f) => `${f.rule.id}: ${f.message}`);
}

describe('a library that is edited', () => {
  it('is read as it stands in the editor, unsaved', () => {
    const workspace = createWorkspace(memoryFiles(files()), ['/r']);
    workspace.loadFile(main);
    expect(found(workspace)).toEqual([]);
    workspace.openDocument(library, 'board oak { depth 12in; thickness 3/4in }\n');
    workspace.editDocument(library, [{ start: 6, end: 9, text: 'elm' }]);
    expect(found(workspace)).toEqual(
      expect.arrayContaining([expect.stringContaining('There is no board "trade.oak"')]),
    );
    workspace.editDocument(library, [{ start: 6, end: 9, text: 'oak' }]);
    expect(found(workspace)).toEqual([]);
  });

  it('is read from disk again once it is closed', () => {
    const workspace = createWorkspace(memoryFiles(files()), ['/r']);
    workspace.loadFile(main);
    workspace.openDocument(library, 'board elm { depth 12in; thickness 3/4in }\n');
    expect(found(workspace)).not.toEqual([]);
    workspace.closeDocument(library);
    expect(found(workspace)).toEqual([]);
  });

  it('is found once it is made', () => {
    const texts = files();
    const text = texts[library] as string;
    delete texts[library];
    const workspace = createWorkspace(memoryFiles(texts), ['/r']);
    workspace.loadFile(main);
    expect(found(workspace)).not.toEqual([]);
    texts[library] = text;
    workspace.changedOnDisk(library);
    expect(found(workspace)).toEqual([]);
  });
});
