/** Limits of files, folders and libraries. */
import { describe, expect } from 'vitest';
import { createWorkspace } from '../../server/checks/analysis.ts';
import type { Entry, Files } from '../../server/model/files.ts';
import type { Workspace } from '../../server/model/workspace.ts';
import { allFindings, many, reaches, workspaceOf } from './reach.ts';

/** Folders that are only listed: every file in them says nothing. */
function folders(list: (folder: string) => Entry[]): Workspace {
  const files: Files = {
    read: () => ({ kind: 'read', bytes: new Uint8Array() }),
    list,
    kindOf: (path) => (path.endsWith('.closet') ? 'file' : undefined),
    real: (path) => path,
  };
  return createWorkspace(files, ['/p']);
}

const named = (kind: Entry['kind'], count: number, name: (i: number) => string): Entry[] =>
  Array.from({ length: count }, (_, i) => ({ kind, name: name(i) }));

describe('files and folders', () => {
  reaches('largestFile', (most) => {
    const workspace = workspaceOf({
      '/p/p.closet': 'project "P" { show inches }\n',
      '/p/a.closet': '',
      '/p/b.closet': 'flubber\n',
    });
    const said = (size: number): string[] => {
      const { project } = workspace.openDocument(
        '/p/a.closet',
        `${'/'.repeat(79)}\n`.repeat(size / 80).padEnd(size, '/'),
      );
      project.refreshNow();
      return allFindings(project).map(({ rule }) => rule.id);
    };
    expect(said(most)).toEqual(['word-not-known']);
    expect(said(most + 1).sort()).toEqual(['file-too-large', 'word-not-known']);
    expect(said(80)).toEqual(['word-not-known']);
  });

  reaches('mostFiles', (most) => {
    const of = (count: number) =>
      folders((folder) => (folder === '/p' ? named('file', count, (i) => `f${i}.closet`) : []));
    expect(of(most).loadFolder('/p').problem).toBeUndefined();
    expect(of(most + 1).loadFolder('/p').problem).toBe(
      'More than 20,000 .closet files are in and under the folder that was opened; open a smaller one.',
    );
  });

  reaches('mostFolders', (most) => {
    const of = (count: number) => folders((folder) => (folder === '/p' ? named('folder', count, (i) => `f${i}`) : []));
    // The one that was opened is counted.
    expect(of(most - 1).loadFolder('/p').problem).toBeUndefined();
    expect(of(most).loadFolder('/p').problem).toBe(
      'More than 50,000 folders are under the one that was opened; open a smaller one.',
    );
  });

  reaches('deepestFolders', (most) => {
    const of = (depth: number) =>
      folders((folder) =>
        folder.split('/').length - 2 < depth ? [{ kind: 'folder', name: 'f' }] : [{ kind: 'file', name: 'a.closet' }],
      );
    expect(of(most).loadFolder('/p')).toMatchObject({ files: [expect.stringContaining('a.closet')] });
    expect(of(most + 1).loadFolder('/p').problem).toMatch(
      /^Folders more than 40 deep are not looked into, such as \/p\/f/,
    );
    // A folder that holds itself, as a mount can.
    expect(folders(() => [{ kind: 'folder', name: 'f' }]).loadFolder('/p').problem).toMatch(
      /^Folders more than 40 deep/,
    );
  });

  const said = (texts: Record<string, string>): string[] => {
    const project = workspaceOf(texts, ['/w']).projectOf('/w/p/a.closet')?.project;
    if (!project) throw new Error('there is no project');
    return allFindings(project).map(({ message }) => message);
  };

  reaches('deepestUse', (most) => {
    const chain = (n: number): string[] =>
      said({
        '/w/p/a.closet': 'project "P" { show inches }\nuse "../l1" as l\n',
        ...Object.fromEntries(
          Array.from({ length: n }, (_, i) => [
            `/w/l${i + 1}/a.closet`,
            i + 1 < n ? `use "../l${i + 2}" as l\n` : 'garment robe { hang 40in; hanger 17in }\n',
          ]),
        ),
      });
    expect(chain(most)).toEqual([]);
    expect(chain(most + 1)).toEqual([
      'This is built on more than 10 libraries that use one another; no more are taken on.',
    ]);
  });

  reaches('mostLibraries', (most) => {
    const wide = (n: number): string[] =>
      said({
        '/w/p/a.closet': 'project "P" { show inches }\nuse "../l" as l\n',
        // The one that is used is counted.
        '/w/l/a.closet': many(n - 1, (i) => `use "../m" as m${i}`),
        '/w/m/a.closet': 'garment robe { hang 40in; hanger 17in }\n',
      });
    expect(wide(most)).toEqual([]);
    expect(wide(most + 1)).toEqual([
      'This comes to more than 200 libraries, each counted as often as it is used; no more are taken on.',
    ]);
    // Each uses two of the next: a thousand of ten.
    const doubling = said({
      '/w/p/a.closet': 'project "P" { show inches }\nuse "../l0" as l\n',
      ...Object.fromEntries(
        Array.from({ length: 10 }, (_, i) => [
          `/w/l${i}/a.closet`,
          i < 9 ? `use "../l${i + 1}" as a\nuse "../l${i + 1}" as b\n` : '// nothing\n',
        ]),
      ),
    });
    expect(doubling.join()).toContain('more than 200 libraries');
  });
});
