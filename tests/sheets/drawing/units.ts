/** Units to draw: those of the examples, and odd ones. */
import { join, resolve } from 'node:path';
import { createWorkspace } from '../../../server/checks/analysis.ts';
import type { Files } from '../../../server/model/files.ts';
import { nodeFiles } from '../../../server/model/node-files.ts';
import type { Project, Unit } from '../../../server/model/project.ts';
import type { Drawable, LengthStyle } from '../../../server/sheets/drawing/drawable.ts';
import {
  builtFrom,
  type Drawing,
  drawableOf,
  drawingsOf,
  type Issue,
  pagesOf,
} from '../../../server/sheets/drawing/drawings.ts';
import type { Page } from '../../../server/sheets/drawing/page.ts';

const examples = resolve(import.meta.dirname, '../../../examples');

export const styles: readonly LengthStyle[] = ['inches', 'feet', 'millimetres'];

/** A project of one text that is nowhere on the disk. */
export function projectWith(text: string): Project {
  const file = '/quarry-lane/project.closet';
  const files: Files = {
    read: (path) =>
      path === file
        ? { kind: 'read', bytes: new TextEncoder().encode(text) }
        : { kind: 'failed', why: 'it is not there' },
    list: (folder) => (folder === '/quarry-lane' ? [{ name: 'project.closet', kind: 'file' }] : []),
    kindOf: (path) => (path === file ? 'file' : path === '/quarry-lane' ? 'folder' : undefined),
    real: (path) => path,
  };
  const workspace = createWorkspace(files, []);
  const { project } = workspace.loadFile(file);
  project.refreshNow();
  return project;
}

/** Those with equal geometry and findings once. */
function distinct(projects: Iterable<Project>): { readonly project: Project; readonly unit: Unit }[] {
  const seen = new Set<unknown>();
  return [...projects].flatMap((project) =>
    [...project.units()].flatMap((unit) => {
      const layout = unit.resolved?.layout;
      if (!layout || seen.has(layout)) return [];
      seen.add(layout);
      return [{ project, unit }];
    }),
  );
}

function loaded(folder: string): Project[] {
  const workspace = createWorkspace(nodeFiles, []);
  workspace.loadFolder(folder.replaceAll('\\', '/'));
  return workspace.projects.map(({ project }) => {
    project.refreshNow();
    return project;
  });
}

const materials = `project "Quarry Lane" {}
board white-12 { depth 12in; thickness 3/4in }
rod chrome { diameter 1-1/16in }
`;

/** What drawings have to bear: very long, very narrow, very many, askew, sloped, and what does not close. */
export const oddText = `${materials}
template long-wall { board white-12; pole chrome
  wall back { length 40m; height 2400mm; studs every 16in from 14-1/2in }
  zone one on back { width 2m; shelf a { at 1800mm }; rod r { under a by 3in; for shirt; from wall 12in } }
  zone two on back after one { width fill; shelf a { at 1800mm } }
}
unit long long-wall
template thin { board white-12
  wall back { length 2400mm; height 2400mm }
  zone none on back { width 0in; shelf a { at 1800mm } }
  zone two on back after none { width 100mm; shelf a { at 1800mm } }
  zone three on back after two { width 50mm; shelf a { at 1800mm } }
  zone four on back after three { width fill; shelf a { at 1800mm } }
}
unit thin thin
template many { board white-12
  wall back { length 900mm; height 2400mm }
  zone z on back { width fill; shelf low { at 2in }; shelf high { at 90in }; shelves s between low and high { count 30 } }
}
unit many many
template five { board white-12; pole chrome
  wall a { length 1500mm; height 2400mm }
  wall b { length 1200mm; height 2400mm }
  wall c { length 1700mm; height 2400mm }
  wall d { length 1300mm; height 2400mm }
  wall e { length 1000mm; height 2400mm }
  corner a b { angle 120deg }
  corner b c { angle 95deg }
  corner c d { angle 100deg }
  corner d e { angle 115deg }
  zone one on a { width 800mm; shelf x { at 1800mm }; rod r { under x by 3in; for shirt; from wall 12in } }
  zone two on c { width 900mm; shelf x { at 1800mm } }
}
unit five five
template attic { board white-12; pole chrome
  wall left { length 72in; height 96in }
  wall back { length 60in; height 96in }
  wall right { length 72in; height 96in }
  fixture slope eave on back { height 48in; run 48in }
  zone shelves on back { width 24in; shelf high { at 50in } }
  zone shirts on back after shelves { width 36in; rod low { at 53in; for shirt } }
  zone side on right { width 30in; shelf one { at 60in } }
}
unit attic attic
unit attic-mirrored attic mirrored
template corner-both { board white-12; pole chrome
  wall left { length 72in; height 96in }
  wall back { length 72in; height 96in }
  zone l on left { width fill; shelf one { at 60in }; shelf two { at 40in } }
  zone b on back { width fill; shelf one { at 60in }; shelf two { at 40in }; drawers chest { at 8in; count 3; height 8in; depth 12in; pull-out 12in } }
}
unit corners corner-both
template open-chain { board white-12
  wall back { length 96in; height 96in }
  zone a on back { width 50in; shelf x { at 60in } }
  zone b on back after a { width 60in; shelf x { at 60in } }
}
unit overfull open-chain
`;

export const odd = distinct([projectWith(oddText)]);
export const all = [
  ...distinct([...loaded(join(examples, 'quarry-lane')), ...loaded(join(examples, 'mistakes'))]),
  ...odd,
];

export interface Drawn {
  readonly name: string;
  readonly drawable: Drawable;
  readonly drawings: readonly Drawing[];
  readonly pages: readonly Page[];
}

export const issue: Omit<Issue, 'unit' | 'template' | 'hasErrors'> = {
  project: 'Quarry Lane',
  revision: '0123456789',
  date: '2026-11-28',
  paper: 'a4',
};

export function drawn({ project, unit }: (typeof all)[number], style: LengthStyle, more: Partial<Issue> = {}): Drawn {
  const drawable = drawableOf(project, unit, style) as Drawable;
  const drawings = drawingsOf(drawable);
  const pages = pagesOf(drawable, drawings, {
    ...issue,
    unit: unit.name,
    template: builtFrom(unit),
    hasErrors: false,
    ...more,
  });
  return { name: unit.name, drawable, drawings, pages };
}
