/** An edit in one zone leaves the others as they are; what a zone rests on besides its own text reaches it. */
import { expect, it } from 'vitest';
import type { ShelfLayout } from '../../server/model/layout.ts';
import type { Workspace } from '../../server/model/workspace.ts';
import { differenceOf, stateOf } from '../fuzz/state.ts';
import { workspaceOf } from './support.ts';

const text = `project "Quarry Lane" { kerf 1/8in; saw-step 1/16in }
board oak { depth 12in; thickness 3/4in }
board elm { depth 14in; thickness 3/4in }
rod chrome { diameter 1-1/4in }
template t {
  parameter width: length from 90in to 98in
  parameter sides: board = elm
  board oak
  pole chrome
  wall back { length width; height 96in }
  zone a on back { width 30in; shelf low { at 40in }; rod r { under low by 3in } }
  zone b on back after a { width 24in; panels { height 80in }; shelf mid { at 50in; board elm } }
  zone c on back after b {
    width fill
    zone inner { width 12in; shelf top { at 60in } }
    gap rest after inner { width fill }
  }
}
unit u1 t { width 93in }
unit u2 t { width 95in }
unit u3 t { width 94in; mirrored }
`;
const file = '/p/main.closet';

function textOf(workspace: Workspace): string {
  return workspace.projectOf(file)?.project.sources.get(file)?.text ?? '';
}

function edited(workspace: Workspace, before: string, after: string): void {
  const now = textOf(workspace);
  const start = now.indexOf(before);
  expect(start).toBeGreaterThan(0);
  workspace.editDocument(file, [{ start, end: start + before.length, text: after }]);
  for (const { project } of workspace.projects) project.refreshNow();
}

function opened(texts: Record<string, string> = { [file]: text }): Workspace {
  const workspace = workspaceOf(texts);
  workspace.openDocument(file, texts[file] as string);
  for (const { project } of workspace.projects) project.refreshNow();
  return workspace;
}

function shelves(workspace: Workspace, unit: string): ReadonlyMap<string, ShelfLayout> {
  const project = workspace.projectOf(file)?.project;
  const layout = [...(project?.units() ?? [])].find(({ name }) => name === unit)?.resolved?.layout;
  const all = layout?.zones.flatMap(({ fittings }) => fittings).filter((f): f is ShelfLayout => f.kind === 'shelf');
  return new Map(all?.map((shelf) => [shelf.path, shelf]));
}

it('what stands in zones that were not edited is the same as before', () => {
  const workspace = opened();
  const before = shelves(workspace, 'u1');
  expect([...before.keys()].sort()).toEqual(['a.low', 'b.mid', 'c.inner.top']);
  edited(workspace, 'at 50in', 'at 52in');
  const after = shelves(workspace, 'u1');
  expect(after.get('a.low')).toBe(before.get('a.low'));
  expect(after.get('b.mid')).not.toBe(before.get('b.mid'));
});

it('what rests on no parameter is the same in units of other widths', () => {
  const workspace = opened();
  const [one, other] = [shelves(workspace, 'u1'), shelves(workspace, 'u2')];
  expect(one.get('a.low')).toBe(other.get('a.low'));
  expect(one.get('b.mid')).toBe(other.get('b.mid'));
});

const elsewhere: readonly (readonly [what: string, before: string, after: string])[] = [
  ['the board that all are of', 'board oak {', 'board ash {'],
  ['its thickness', 'oak { depth 12in; thickness 3/4in', 'oak { depth 12in; thickness 1in'],
  ['the board of the template', '  board oak\n', '  board elm\n'],
  ['the pole of the template', '  pole chrome\n', ''],
  ['what else is called as a board is', 'parameter sides', 'parameter elm'],
  ['the zone that one stands behind', 'zone a on', 'zone x on'],
  ['its width', 'width 30in', 'width 31in'],
  ['the panels beside it', 'height 80in', 'height 20in'],
  ['the wall', 'wall back {', 'wall side {'],
  ['the height of the wall', 'height 96in', 'height 58in'],
  ['the length of the wall', 'length width', 'length 60in'],
  ['lengths as they are shown', 'saw-step 1/16in', 'show millimetres'],
  ['the lengths at which a saw stops', 'saw-step 1/16in', 'saw-step 1/2in'],
  ['a zone inside one', 'gap rest', 'zone rest'],
  ['a second zone of the name', '  zone c on', '  zone a on back { width 3in }\n  zone c on'],
  [
    'a zone that extends one',
    'unit u1',
    'template v extends t { zone a { width 20in } }\nunit w v { width 94in }\nunit u1',
  ],
];

it.each(elsewhere)('%s reaches every zone that rests on it', (_, before, after) => {
  const workspace = opened();
  // Twice: what was kept before the first change must not come back with the second, nor be missed after it.
  for (const [from, to] of [[before, after], ...(after === '' ? [] : [[after, before] as const])] as const) {
    edited(workspace, from, to);
    const now = textOf(workspace);
    expect(differenceOf(stateOf(workspace), stateOf(workspaceOf({ [file]: now })))).toBeUndefined();
  }
});

it.each([
  ['a width', 'width 24in', 'width a.width'],
  ['a height', 'at 50in', 'at a.width + 20in'],
])('%s that is computed from another zone follows it', (_, before, after) => {
  const workspace = opened({ [file]: text.replace(before, after) });
  edited(workspace, 'width 30in', 'width 28in');
  const now = textOf(workspace);
  expect(differenceOf(stateOf(workspace), stateOf(workspaceOf({ [file]: now })))).toBeUndefined();
});

it('what is wrong in a zone is told after every edit elsewhere', () => {
  const workspace = opened({ [file]: text.replace('at 50in', 'at 50in; board larch') });
  const told = (): string[] => workspace.projects.flatMap(({ project }) => project.findings().map((f) => f.message));
  const before = told();
  expect(before.some((message) => message.includes('larch'))).toBe(true);
  edited(workspace, 'at 40in', 'at 41in');
  expect(told()).toEqual(before);
});

it('a library that two projects use takes of each what it is given', () => {
  const shared = `template t {
  parameter kind: board
  wall back { length 90in; height 96in }
  zone a on back { width fill; shelf low { at 40in; board kind } }
}
`;
  const own = (depth: string): string =>
    `project "Quarry Lane" { kerf 1/8in; saw-step 1/16in }\nuse "../parts.closet" as parts\nboard oak { depth ${depth}; thickness 3/4in }\nunit u parts.t { kind oak }\n`;
  const workspace = workspaceOf(
    { '/w/parts.closet': shared, '/w/p/main.closet': own('12in'), '/w/q/main.closet': own('16in') },
    ['/w'],
  );
  const depths = ['/w/p/main.closet', '/w/q/main.closet'].map((path) => {
    const [unit] = workspace.projectOf(path)?.project.units() ?? [];
    return unit?.resolved?.layout.parts.map(({ depth }) => depth);
  });
  expect(depths[0]).toHaveLength(1);
  expect(depths[0]).not.toEqual(depths[1]);
});
