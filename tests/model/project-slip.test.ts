import { describe, expect, it } from 'vitest';
import { createWorkspace } from '../../server/checks/analysis.ts';
import { createMemoryFiles } from '../../server/model/memory-files.ts';
import type { Workspace } from '../../server/model/workspace.ts';

const sound: Readonly<Record<string, string>> = {
  '/p/project.closet': 'project "Quarry Lane" { kerf 1/8in }\n',
  '/p/materials.closet': 'board white-12 { depth 12in; thickness 3/4in }\nstock white-12 { length 12ft }\n',
  '/p/templates/linen.closet':
    'template linen {\n  board white-12\n  wall back { length 60in; height 96in }\n  zone a on back { width fill; shelf s { at 60in } }\n}\n',
  '/p/units.closet': 'unit A-101 linen\n',
};

function filesOf(texts: Readonly<Record<string, string>>) {
  const files = createMemoryFiles();
  for (const [path, text] of Object.entries(texts)) files.put(path, { kind: 'read', bytes: Buffer.from(text) });
  return files;
}

/** The folders and files that stand for projects, and what is told of all, by rule. */
function state(workspace: Workspace): { roots: string[]; rules: string[] } {
  for (const { project } of workspace.projects) project.refreshNow();
  return {
    roots: workspace.projects.map(({ root }) => root).sort(),
    rules: workspace.projects.flatMap(({ project }) => project.findings().map(({ rule }) => rule.id)).sort(),
  };
}

function loaded(texts: Readonly<Record<string, string>>, folder = '/p'): Workspace {
  const workspace = createWorkspace(filesOf(texts), [folder]);
  workspace.loadFolder(folder);
  return workspace;
}

const spelled = (word: string) => ({
  ...sound,
  '/p/project.closet': (sound['/p/project.closet'] as string).replace('project', word),
});

describe('a project whose word is misspelt', () => {
  it.each(['projct', 'projetc', 'Project', 'projects'])('holds its files together all the same: %s', (word) => {
    expect(state(loaded(sound))).toEqual({ roots: ['/p'], rules: [] });
    expect(state(loaded(spelled(word)))).toEqual({ roots: ['/p'], rules: ['word-not-known'] });
  });

  it('is found from a folder below it', () => {
    expect(state(loaded(spelled('projct'), '/p/templates')).roots).toEqual(['/p']);
  });

  it('is looked for only where no project is declared above', () => {
    const within = { ...sound, '/p/templates/old.closet': 'product "Old" { kerf 1/8in }\n' };
    expect(state(loaded(within))).toEqual({ roots: ['/p'], rules: ['word-not-known'] });
    const outside = { ...spelled('projct'), '/p/far/project.closet': 'project "Far" {}\n' };
    expect(state(loaded(outside)).roots).toEqual(['/p', '/p/far']);
  });

  it('is none where it stands in a comment or within a block, or where the word is another one', () => {
    for (const text of [
      '/*\nprojct "Quarry Lane" {\n*/\n',
      'template t {\n projct "Q" {}\n}\n',
      'fixture "Quarry Lane" {}\n',
    ]) {
      const { roots } = state(loaded({ ...sound, '/p/project.closet': text }));
      expect(roots).toEqual(Object.keys(sound).sort());
    }
  });

  it('stays one, letter by letter, in an editor', () => {
    const path = '/p/project.closet';
    const workspace = loaded(sound);
    const text = sound[path] as string;
    workspace.openDocument(path, text);
    const told = (start: number, end: number, put: string): ReturnType<typeof state> => {
      workspace.editDocument(path, [{ start, end, text: put }]);
      return state(workspace);
    };
    const slip = { roots: ['/p'], rules: ['word-not-known'] };
    expect(told(4, 5, '')).toEqual(slip);
    // What is left of it, "projt", is near none of the words any more.
    expect(told(4, 5, '').roots).toEqual(Object.keys(sound).sort());
    expect(told(4, 4, 'c')).toEqual(slip);
    expect(told(4, 4, 'e')).toEqual({ roots: ['/p'], rules: [] });
    expect(workspace.openText(path)).toBe(text);
  });

  it('is the same however it was come by: by typing, from the disk, or in a file that comes', () => {
    const path = '/p/project.closet';
    const files = filesOf(sound);
    const workspace = createWorkspace(files, ['/p']);
    workspace.loadFolder('/p');
    const put = (text: string | undefined): ReturnType<typeof state> => {
      if (text === undefined) files.remove(path);
      else files.put(path, { kind: 'read', bytes: Buffer.from(text) });
      workspace.changedOnDisk(path);
      return state(workspace);
    };
    expect(put('projct "Quarry Lane" {}\n')).toEqual({ roots: ['/p'], rules: ['word-not-known'] });
    expect(put(undefined).roots).toEqual(
      Object.keys(sound)
        .filter((p) => p !== path)
        .sort(),
    );
    expect(put('projct "Quarry Lane" {}\n')).toEqual({ roots: ['/p'], rules: ['word-not-known'] });
    expect(put(sound[path])).toEqual({ roots: ['/p'], rules: [] });
  });
});
