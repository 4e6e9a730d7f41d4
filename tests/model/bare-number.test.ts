/** A length without a unit of measure: what it says and what it offers are the same units, the project's own first. */
import { describe, expect, it } from 'vitest';
import { projectOf, workspaceOf } from './support.ts';

const said = (text: string) => {
  const found = projectOf(text)
    .findings()
    .find(({ rule }) => rule.id === 'unit-of-measure-missing');
  return { message: found?.message, advice: found?.advice, fixes: found?.fixes.map(({ title }) => title) };
};
const wall = (length: string): string => `template t { wall back { length ${length}; height 96in } }\nunit u t\n`;

describe('a number without a unit of measure', () => {
  it('is offered in what is said', () => {
    expect(said(wall('8'))).toEqual({
      message: '8 has no unit of measure: a length says whether it is inches, feet, millimetres or centimetres.',
      advice: 'Write 8in, 8ft, 8mm or 8cm.',
      fixes: ['Write 8in', 'Write 8ft', 'Write 8mm', 'Write 8cm'],
    });
  });

  it('is no size that its word is never likely to have', () => {
    // A wall is at most 600 in: 60 ft are 720 in, and 2400 cm are 945 in.
    expect(said(wall('60')).fixes).toEqual(['Write 60in', 'Write 60mm', 'Write 60cm']);
    expect(said(wall('60')).message).toContain('whether it is inches, millimetres or centimetres.');
    expect(said(wall('2400')).fixes).toEqual(['Write 2400mm']);
    expect(said(wall('2400')).message).toContain('which it is in, and only millimetres are likely here.');
    // A shelf's height is at most 240 in, its thickness here 4 in.
    expect(said('board oak { depth 12in; thickness 12 }').fixes).toEqual(['Write 12mm']);
  });

  it('is offered in all of them where no size is likely, and as an argument where few are', () => {
    expect(said(wall('90000')).fixes).toHaveLength(4);
    const unit =
      'template t { parameter width: length; wall back { length width; height 96in } }\nunit u t { width 94 }';
    expect(said(unit).fixes).toEqual(['Write 94in', 'Write 94mm', 'Write 94cm']);
  });

  it('is a sum of which each number is asked for its own', () => {
    expect(said(wall('30 + 30'))).toEqual({
      message: '30 + 30 has no unit of measure: a length says whether it is inches, feet, millimetres or centimetres.',
      advice: 'Give each number its unit of measure.',
      fixes: [],
    });
  });

  it('is in the units of measure that the project shows first, also after these have changed', () => {
    const others = 'board oak { depth 12in; thickness 4 }\nunit v s { width 2 }\n';
    const given = 'template s { parameter width: length; wall back { length width; height 96in } }\n';
    const text = `project "Quarry Lane" { show millimetres }\n${wall('2')}${given}${others}`;
    const workspace = workspaceOf({ '/p/main.closet': text });
    const project = workspace.projectOf('/p/main.closet')?.project;
    const offered = () =>
      project
        ?.findings()
        .filter(({ rule }) => rule.id === 'unit-of-measure-missing')
        .map(({ advice }) => advice);
    const all = ['Write 2mm, 2cm, 2m or 2in.', 'Write 4mm, 4cm or 4in.', 'Write 2mm, 2cm, 2m or 2in.'];
    expect(offered()?.sort()).toEqual(all.sort());
    project?.editFile('/p/main.closet', [{ start: 'project "Quarry Lane" { show '.length, end: 40, text: 'inches ' }]);
    project?.refreshNow();
    const now = ['Write 2in, 2ft, 2mm or 2cm.', 'Write 4in, 4mm or 4cm.', 'Write 2in, 2ft, 2mm or 2cm.'];
    expect(offered()?.sort()).toEqual(now.sort());
  });
});
