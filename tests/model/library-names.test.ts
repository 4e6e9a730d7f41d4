/** What a library's statements name is looked up in that library, also where a project builds on them. */
import { describe, expect, it } from 'vitest';
import { createWorkspace } from '../../server/checks/analysis.ts';
import { libraryFiles } from '../../server/language/links.ts';
import type { Project } from '../../server/model/project.ts';
import { showInches, showLength } from '../../server/model/show.ts';
import type { Workspace } from '../../server/model/workspace.ts';
import { memoryFiles, projectAt } from './support.ts';

const main = '/r/p/main.closet';
const library = '/r/trade/all.closet';

const trade = `
board pine { depth 16in; thickness 3/4in; weight 2 lb/ft2; carried by cleat; ends with cup }
rod steel { diameter 1-1/4in; carried by hook }
hardware cleat { is support; spacing at most 30in; anchor plug }
hardware plug { is anchor; rated 40 lb }
hardware cup { takes 1/4in }
hardware hook { is hook; spacing at most 30in }
garment coat { hang 50in; hanger 20in; depth 22in; takes 3in }
template base {
  parameter made: board = pine
  wall back { length 60in; height 96in }
  board pine
  pole steel
}
template reach-in extends base {
  zone a on back {
    width fill
    shelf high { at 80in; carried by cleat; board made }
    rod pole { under high by 3in; for coat; holds 10 coat }
  }
}
`;

const using = 'use "../trade" as trade\nproject "P" { show inches }\n';

function workspaceWith(texts: Readonly<Record<string, string>>): Workspace {
  const workspace = createWorkspace(memoryFiles({ '/r/.git/x': '', ...texts }), ['/r/p']);
  workspace.loadFile(main);
  return workspace;
}

const projectIn = (workspace: Workspace): Project => projectAt(workspace, main);

function projectOf(text: string): Project {
  return projectIn(workspaceWith({ [main]: using + text, [library]: trade }));
}

const said = (project: Project): string[] =>
  project
    .findings()
    .filter(({ severity }) => severity === 'error')
    .map(({ message }) => message);

/** Each fitting with its material, the length of that, and what carries it. */
function fittingsOf(project: Project, name = 'u'): string[] {
  const { layout } = [...project.units()].find((unit) => unit.name === name)?.resolved ?? {};
  const parts = new Map(layout?.parts.map((part) => [part.path, part]));
  return (layout?.zones ?? [])
    .flatMap(({ fittings }) => fittings)
    .map((f) => {
      const carried = 'carried' in f ? f.carried.map((one) => `${one.name} with ${one.anchor?.name}`) : [];
      const garments = f.kind === 'rod' ? f.garments.map(({ hang }) => hang) : [];
      const part = parts.get(f.path);
      return `${f.path} of ${part?.material}, ${part && showLength(part.length, showInches)}, on ${carried.join()} for ${garments.join()}`;
    });
}

describe('a template of a project that extends one of a library', () => {
  const used = projectOf('unit u trade.reach-in\n');

  it('rests on the files of the library', () => {
    expect(libraryFiles(used)).toEqual([library]);
  });

  it('is built of what the library names', () => {
    const project = projectOf('template mine extends trade.reach-in { }\nunit u mine\n');
    expect(said(project)).toEqual([]);
    expect(fittingsOf(project)).toEqual(fittingsOf(used));
    expect(fittingsOf(project)).not.toEqual([]);
  });

  it.each([
    [
      'by what it says itself',
      'template mine extends trade.reach-in { zone a { shelf low { at 20in } } }\nunit u mine',
    ],
    ['over another that does', 'template one extends trade.reach-in { }\ntemplate two extends one { }\nunit u two'],
  ])('%s', (_, text) => {
    const project = projectOf(text);
    expect(said(project)).toEqual([]);
    expect(fittingsOf(project)).toEqual(expect.arrayContaining(fittingsOf(used)));
  });

  it('does not take what the project has under the same name', () => {
    const project = projectOf(
      'board pine { depth 10in; thickness 1in }\nhardware cleat { is support; takes 1in }\ngarment coat { hang 1in; hanger 1in }\ntemplate base { }\ntemplate mine extends trade.reach-in { }\nunit u mine\n',
    );
    expect(fittingsOf(project)).toEqual(fittingsOf(used));
  });

  it('means its own names where it says something itself', () => {
    const project = projectOf(
      'board pine { depth 20in; thickness 1in }\ntemplate mine extends trade.reach-in { zone a { shelf high { board pine } } }\nunit u mine\n',
    );
    expect(said(project)).toEqual([]);
    expect(fittingsOf(project)[0]).toMatch(/^a\.high of pine,/);
  });

  it('follows an edit in the library', () => {
    const workspace = workspaceWith({
      [main]: `${using}template mine extends trade.reach-in { }\nunit u mine\n`,
      [library]: trade,
    });
    workspace.openDocument(library, trade);
    const at = trade.indexOf('hardware cleat');
    workspace.editDocument(library, [{ start: at, end: at + 'hardware cleat'.length, text: 'hardware clea' }]);
    expect(fittingsOf(projectIn(workspace))[0]).toMatch(/, on {2}for/);
    workspace.editDocument(library, [{ start: at, end: at + 'hardware clea'.length, text: 'hardware cleat' }]);
    expect(fittingsOf(projectIn(workspace))).toEqual(fittingsOf(used));
  });
});

describe('a material of a library', () => {
  it('is carried by, and ends with, what the library names', () => {
    const project = projectOf(
      'template mine { wall back { length 60in; height 96in }; zone a on back { width fill; shelf s { at 60in; board trade.pine } } }\nunit u mine\n',
    );
    expect(said(project)).toEqual([]);
    expect(fittingsOf(project)).toEqual(['a.s of trade.pine, 59-1/2in, on trade.cleat with trade.plug for ']);
  });
});

describe('what comes with the tool', () => {
  it('means the names of whoever uses it first', () => {
    const project = projectOf(
      'garment coat { hang 1in; hanger 1in }\ntemplate mine { pole trade.steel; wall back { length 60in; height 96in } zone a on back { width fill; rod r { at 60in; for coat } } }\nunit u mine\n',
    );
    expect(said(project)).toEqual([]);
  });
});
