/**
 * Drawings that somebody has looked at and found right, kept as they were. After a change that is meant:
 * `npx vitest run tests/sheets/drawing/golden.test.ts -u`, then look at each of them in a browser before it is kept.
 */
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { createWorkspace } from '../../../server/checks/analysis.ts';
import { nodeFiles } from '../../../server/model/node-files.ts';
import { builtFrom, drawableOf, drawingsOf, pagesOf } from '../../../server/sheets/drawing/drawings.ts';
import { pageOf } from '../../../server/sheets/drawing/page.ts';
import { svgOf } from '../../../server/sheets/drawing/svg.ts';
import { examples } from '../../examples/load.ts';

const workspace = createWorkspace(nodeFiles, []);
workspace.loadFile(join(examples, 'quarry-lane/project.closet'));
const project = workspace.projects[0]?.project;
project?.refreshNow();

it.each(['A-101-bedroom', 'A-102-entry', 'A-103-bedroom', 'A-201-linen'])('the sheets of %s', async (name) => {
  const unit = [...(project?.units() ?? [])].find((one) => one.name === name);
  const drawable = project && unit && drawableOf(project, unit, 'inches');
  if (!unit || !drawable) throw new Error(`${name} is not drawn`);
  const drawings = drawingsOf(drawable);
  const pages = pagesOf(drawable, drawings, {
    project: 'Quarry Lane',
    unit: name,
    template: builtFrom(unit),
    revision: undefined,
    date: '2026-11-28',
    paper: 'a4',
    hasErrors: false,
  });
  for (const [i, page] of pages.entries()) {
    const { kind, of } = drawings[i] ?? { kind: 'plan', of: '' };
    const file = kind === 'plan' ? 'plan' : `${kind}-${of}`;
    await expect(svgOf(pageOf(page), { background: 'light' })).toMatchFileSnapshot(`golden/${name}-${file}.svg`);
  }
});
