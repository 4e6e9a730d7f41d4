/** What a project is offered that uses a library: what that has, by its name there, written into the project alone. */
import { describe, expect, it } from 'vitest';
import type { Source } from '../../grammar/source.ts';
import { segmentOf } from '../../grammar/tree.ts';
import { fixesThatHold } from '../../server/checks/alternatives.ts';
import { createWorkspace } from '../../server/checks/analysis.ts';
import { base, trade } from '../model/library-texts.ts';
import { allFindings, memoryFiles } from '../model/support.ts';

const main = '/r/house/main.closet';

/** What the first finding of a rule offers, with the text that is written and the files it is written into. */
function offered(text: string, rule: string): string[] {
  const files = { '/r/.git/x': '', '/r/base/all.closet': base, '/r/trade/all.closet': trade };
  const whole = `use "../trade" as trade\nproject "House" { show inches }\n${text}`;
  const workspace = createWorkspace(memoryFiles({ ...files, [main]: whole }), ['/r']);
  workspace.loadFile(main);
  const project = workspace.projectOf(main)?.project;
  if (!project) throw new Error('there is no project');
  project.refreshNow();
  const found = allFindings(project).find((one) => one.rule.id === rule);
  expect(found, rule).toBeDefined();
  const fixes = found ? fixesThatHold(project, found) : [];
  for (const { edits } of fixes)
    for (const { place } of edits) expect((segmentOf(place.statement).source as Source).id).toBe(main);
  return fixes.map(({ title, edits }) => `${title} | ${edits.map((edit) => edit.text.trim()).join()}`);
}

const closet = (zone: string, more = ''): string => `${more}
stock trade.white { length 8ft }
template mine {
  wall back { length 60in; height 96in; studs every 16in from 8in }
  board trade.white
  zone a on back { width fill; ${zone} }
}
unit u mine
`;

describe('hardware of a library', () => {
  const zone = 'pole trade.chrome; shelf s { at 60in; carried by trade.base.rear }; rod r { at 50in; for shirt }';

  it('is offered for a part that nothing carries', () => {
    expect(offered(closet(zone), 'part-not-carried').map((one) => one.split(' | ')[0])).toEqual([
      'Write carried by trade.base.cup',
    ]);
  });

  it('is not where the project has some of its own that does', () => {
    const text = closet(zone, 'hardware end { is cup }');
    expect(offered(text, 'part-not-carried').map((one) => one.split(' | ')[0])).toEqual(['Write carried by end']);
  });

  it('is offered in place of one that does not suit', () => {
    const fixes = offered(
      closet('depth 16in; board trade.deep; shelf s { at 60in; carried by trade.base.rear, trade.base.arm }'),
      'shelf-past-bracket',
    );
    expect(fixes).toEqual(['Write trade.base.deep-arm instead of trade.base.arm | trade.base.deep-arm']);
  });
});

describe('the stock of a material of a library', () => {
  it('is declared in the project, behind the other stock', () => {
    const text = closet('shelf s { at 60in; carried by trade.base.rear; board trade.deep; depth 16in }');
    expect(offered(text, 'stock-missing')).toEqual([
      'Declare it: stock trade.deep { length 8ft } | stock trade.deep { length 8ft }',
    ]);
  });

  it('is declared behind what names the library, where there is no other', () => {
    const text = 'extra spare { rod trade.chrome; length 20in }\n';
    expect(offered(text, 'stock-missing')).toEqual([
      'Declare it: stock trade.chrome { length 8ft } | stock trade.chrome { length 8ft }',
    ]);
  });
});

describe('a board that nothing names', () => {
  it('is one of the library, where the project has none', () => {
    const text =
      'stock trade.white { length 8ft }\nstock trade.deep { length 8ft }\ntemplate mine { wall back { length 60in; height 96in } zone a on back { width fill; shelf s { at 60in } } }\nunit u mine\n';
    expect(offered(text, 'material-missing').map((one) => one.split(' | ')[0])).toEqual([
      'Write board trade.deep',
      'Write board trade.white',
    ]);
  });
});
