/** What the project says of showing lengths and of prices. */
import { describe, expect, it } from 'vitest';
import { hardwareOf } from '../../server/model/declared.ts';
import { allFindings, told, workspaceOf } from './support.ts';

function projectOf(text: string) {
  const [one] = workspaceOf({ '/p/project.closet': text }).projects;
  if (!one) throw new Error('no project');
  return one.project;
}

const findingsOf = (text: string): string[] =>
  allFindings(projectOf(text)).map((f) => `${told(f).rule}: ${told(f).text}`);

describe('the step that lengths are shown in', () => {
  it.each(['inches to 1/16in', 'inches to 0.001in', 'inches to 1in', 'millimetres to 0.5mm', 'millimetres to 1cm'])(
    '%s is one that can be written',
    (show) => {
      expect(findingsOf(`project "P" { show ${show} }`)).toEqual([]);
    },
  );

  it.each([
    // 25.4 of them are an inch: no fraction of it is a millimetre.
    [
      'inches to 1mm',
      '1mm: in inches a step is 1in divided by a whole number up to 1000. Write for example: show inches to 1/16in',
    ],
    ['inches to 3/4in', '3/4in: in inches a step is'],
    ['inches to 1ft', '1ft: in inches a step is'],
    // 0.396875 mm, shown as 0.397 mm, would look exact.
    [
      'millimetres to 1/64in',
      '1/64in: in millimetres a step is whole thousandths of a millimetre. Write for example: show millimetres to 0.5mm',
    ],
  ])('%s is not', (show, said) => {
    const found = findingsOf(`project "P" { show ${show} }`);
    expect(found).toHaveLength(1);
    expect(found[0]).toContain(`number-out-of-bounds: Lengths cannot be shown in steps of ${said}`);
    expect(projectOf(`project "P" { show ${show} }`).settings.show.step).toBe(show.startsWith('inches') ? 15_875 : 40);
  });
});

describe('a price that is computed', () => {
  it('is in whole hundredths, half up', () => {
    const project = projectOf(
      'project "P" { currency EUR }\nhardware cup { is end-cup; pack 20 price 9.80 EUR / 3 }\n',
    );
    const declared = project.names.find('hardware', 'cup');
    if (!declared) throw new Error('no hardware');
    // 9.80 / 3 = 3.2666...
    expect(hardwareOf(declared, project.names).value.pack?.price).toBe(327);
  });
});
