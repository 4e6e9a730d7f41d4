/**
 * What a smaller dimension does to every part is told from the derivations of the parts, without computing the
 * layouts again. Here it is held to what comes out when the smaller dimension is written.
 */
import { describe, expect, it } from 'vitest';
import type { Source } from '../../grammar/source.ts';
import { segmentOf, spanOf } from '../../grammar/tree.ts';
import { createWorkspace } from '../../server/checks/analysis.ts';
import { demandOf } from '../../server/cutting/demand.ts';
import { leversOf } from '../../server/cutting/levers.ts';
import { movedBy } from '../../server/cutting/near-miss.ts';
import type { PlanRequest } from '../../server/cutting/types.ts';
import { nodeFiles } from '../../server/model/node-files.ts';
import type { Project } from '../../server/model/project.ts';
import { inches } from '../../server/model/ticks.ts';
import { examples } from '../examples/load.ts';
import { projectOf } from '../model/support.ts';

/** How many pieces there are of each material and length. */
function tally({ pieces }: PlanRequest): Record<string, number> {
  const sums: Record<string, number> = {};
  for (const { material, length, quantity } of pieces) {
    const key = `${material} ${length / inches(1)}`;
    sums[key] = (sums[key] ?? 0) + quantity;
  }
  return sums;
}

/** Writes every width and every loose part's length 1/16 in smaller, one after the other, and undoes it. */
function holdToWhatIsWritten(project: Project): string[] {
  const { request } = demandOf(project);
  const { levers, origins } = leversOf(project);
  const tried: string[] = [];
  for (const { id, moves } of levers) {
    const origin = origins.get(id);
    if (origin?.kind !== 'width' && origin?.kind !== 'length') continue;
    const { id: file } = segmentOf(origin.place.statement).source as Source;
    const { end } = spanOf(origin.place);
    project.editFile(file, [{ start: end, end, text: ' - 1/16in' }]);
    project.refreshNow();
    expect(tally(demandOf(project).request), id).toEqual(tally(movedBy(request, moves, inches(1 / 16))));
    project.editFile(file, [{ start: end, end: end + ' - 1/16in'.length, text: '' }]);
    project.refreshNow();
    tried.push(`${origin.kind} ${origin.name}`);
  }
  return tried;
}

const kinds = (project: Project): string[] =>
  [...leversOf(project).origins.values()].map(({ kind, name, longer }) => `${kind} ${name}${longer > 0 ? ' +' : ''}`);

describe('a lever', () => {
  it('does in Quarry Lane what is written, to the tick', () => {
    const workspace = createWorkspace(nodeFiles, [`${examples}/quarry-lane`]);
    workspace.loadFolder(`${examples}/quarry-lane`);
    const project = workspace.projects[0]?.project as Project;
    project.refreshNow();
    expect(holdToWhatIsWritten(project)).toEqual([
      'width shirts',
      'width tower',
      'width shoes',
      'width hang',
      'width tower',
      'length spare-tower-shelves',
    ]);
  });

  const closet = (zones: string): Project =>
    projectOf(`template t {
  wall back { length 96in; height 96in }
  board white-12
  ${zones}
}
unit A t
`);

  it('is the width where it is stated, and takes along what fills the rest', () => {
    const project = closet(
      'zone a on back { width 40in; shelf s { at 40in } }; zone b on back after a { width fill; shelf s { at 50in } }',
    );
    expect(kinds(project)).toEqual(['width a +', 'fitting b.s']);
    expect(holdToWhatIsWritten(project)).toEqual(['width a']);
  });

  it('is each fitting where zones share what is left, as nobody can tell by whom it is taken', () => {
    const project = closet(
      'zone a on back { width 40in; shelf s { at 40in } }; zone b on back after a { width share 1; shelf s { at 50in } }; zone c on back after b { width share 2; shelf s { at 50in } }',
    );
    expect(project.findings().map(({ message }) => message)).toEqual([]);
    expect(kinds(project)).toEqual(['fitting a.s', 'fitting b.s', 'fitting c.s']);
  });

  it('keeps its name when text elsewhere moves', () => {
    const zones = 'zone a on back { width 40in; shelf s { at 40in } }; gap g on back after a { width 56in }';
    const names = (project: Project): string[] => leversOf(project).levers.map(({ id }) => id);
    const before = closet(zones);
    const after = closet(`// a line more\n${zones}`);
    expect(names(after)).toEqual(names(before));
  });
});
