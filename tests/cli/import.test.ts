/** `storypole import`, as a person runs it: what is shown, what is written, and what is told of a table that is not taken. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { closets } from '../language/survey-import/importing.ts';
import { folderWith, storypole } from './command.ts';

const project = `project "Quarry Lane" { currency EUR; kerf 1/8in; saw-step 1/16in }
board white-16 { depth 16in; thickness 3/4in }
stock white-16 { length 8ft price 20 EUR }
`;
const files = { 'project.closet': project, 'floors/one.closet': closets };
const csv = 'unit,height,length\nA-101,6in,35-7/8in\nA-102,6in,36in\n';

const reading = (folder: string, name: string): string => readFileSync(join(folder, name), 'utf8');

describe('import', () => {
  it('shows what it changes, writes it, and keeps what the columns are', () => {
    const folder = folderWith({ ...files, 'site.csv': csv });
    const { out, err, status } = storypole(['import', 'site.csv'], folder);
    expect([status, err]).toEqual([0, '']);
    expect(out).toContain(`--- floors/one.closet
+++ floors/one.closet
@@ -12,3 +12,15 @@
 unit A-102 linen { floor 1; flat A-102 }
 unit A-201 linen { floor 2; width 94in }
 unit A-300 linen { count 6 }
+
+survey A-101 {
+  wall back {
+    length 35-7/8in at 6in
+  }
+}
`);
    expect(out).toContain('\nMade: 2 new surveys, in 1 file.\n');
    expect(out).toContain('Note: Not in the table, and without a survey: A-201.\n');
    expect(JSON.parse(reading(folder, 'survey-columns.json'))).toEqual({
      'survey-columns': 1,
      columns: [
        { heading: 'unit', is: 'unit' },
        { heading: 'height', is: 'height-of-length' },
        { heading: 'length', is: 'length' },
      ],
    });
    const before = reading(folder, 'floors/one.closet');
    const again = storypole(['import', 'site.csv'], folder);
    expect([again.status, again.out.split('\n')[0]]).toEqual([0, 'Made: 2 surveys as they were.']);
    expect(reading(folder, 'floors/one.closet')).toBe(before);
  });

  it('shows the same and writes nothing where it is a trial', () => {
    const folder = folderWith({ ...files, 'site.csv': csv });
    const { out, status } = storypole(['import', 'site.csv', '--dry-run'], folder);
    expect(status).toBe(0);
    expect(out).toContain('+    length 35-7/8in at 6in\n');
    expect(out).toContain('\nWould make: 2 new surveys, in 1 file.\n');
    expect(reading(folder, 'floors/one.closet')).toBe(closets);
    expect(existsSync(join(folder, 'survey-columns.json'))).toBe(false);
  });

  it('tells each cell in the way, names the option, and writes nothing', () => {
    const folder = folderWith({ ...files, 'site.csv': 'unit,length\nA-101,"35,5"\nA-1O2,36\n' });
    const { out, err, status } = storypole(['import', 'site.csv'], folder);
    expect([status, err]).toEqual([1, '']);
    expect(out).toBe(`site.csv was not taken: 2 cells cannot be taken as they are. Nothing was written.

B2  "35,5"
    There is a comma in the number: it may stand for decimals (35.5) or for thousands.
A3  "A-1O2"
    There is no unit of that name in the project. Is "A-102" meant?

Where a comma stands for decimals in this table, say --decimal-comma; else write points.
`);
    writeFileSync(join(folder, 'site.csv'), 'unit,length\nA-101,"35,5"\n');
    expect(storypole(['import', 'site.csv', '--decimal-comma'], folder).out).toContain(
      '--unit-of-measure inches, feet,',
    );
    expect(existsSync(join(folder, 'survey-columns.json'))).toBe(false);
    const told = storypole(['import', 'site.csv', '--decimal-comma', '--unit-of-measure', 'inches'], folder);
    expect(told.out).toContain('+    length 35-1/2in\n');
    expect(JSON.parse(reading(folder, 'survey-columns.json'))).toMatchObject({
      'unit-of-measure': 'inches',
      'decimal-comma': true,
    });
  });

  it('lets nothing in a cell steer the terminal, and keeps its own colours', () => {
    const folder = folderWith({ ...files, 'site.csv': 'unit,length\n"A\u001b[2J",36in\n' });
    const { out } = storypole(['import', 'site.csv', '--color'], folder);
    expect(out).toContain('\u001b[1mA2\u001b[');
    expect(out).not.toContain('\u001b[2J');
  });

  it('keeps to what a person corrected in the mapping file', () => {
    const table = 'Raum;Breite;Farbe\nA-101;910;weiss\n';
    const folder = folderWith({ ...files, 'site.csv': table });
    const first = storypole(['import', 'site.csv'], folder);
    expect(first.status).toBe(1);
    expect(first.out).toContain('--write-mapping writes what was recognised to the mapping file, for you to complete.');
    expect(storypole(['import', 'site.csv', '--write-mapping'], folder).out).toContain('"Raum", "Breite", "Farbe"');
    const mapping = reading(folder, 'survey-columns.json')
      .replace('"Raum", "is": "ignored"', '"Raum", "is": "unit"')
      .replace('"Breite", "is": "ignored"', '"Breite", "is": "length", "unit-of-measure": "millimetres"');
    writeFileSync(join(folder, 'survey-columns.json'), mapping);
    expect(storypole(['import', 'site.csv'], folder).out).toContain('+    length 910mm\n');
    writeFileSync(join(folder, 'survey-columns.json'), mapping.replace('"length"', '"lenght"'));
    expect(storypole(['import', 'site.csv'], folder)).toMatchObject({
      status: 2,
      err: expect.stringMatching(
        /survey-columns\.json: column 2 in it: "is" of "Breite" is "lenght"; it is one of unit, wall, length/,
      ),
    });
  });

  it('puts new surveys into a file of its own where it is told to', () => {
    const folder = folderWith({ ...files, 'site.csv': csv });
    const { out, status } = storypole(['import', 'site.csv', '--into', 'measured.closet'], folder);
    expect([status, out.split('\n').slice(0, 3)]).toEqual([
      0,
      ['--- measured.closet', '+++ measured.closet', '@@ -0,0 +1,11 @@'],
    ]);
    expect(reading(folder, 'measured.closet')).toMatch(/^survey A-101 \{\n {2}wall back \{\n/);
    expect(reading(folder, 'floors/one.closet')).toBe(closets);
    expect(storypole(['check'], folder).out).not.toContain('error');
    for (const [into, why] of [
      ['../other.closet', 'is not in the folder of the project'],
      ['surveys.txt', 'is no .closet file'],
      ['new/folder.closet', 'its folder is not there'],
    ])
      expect(
        storypole(['import', 'site.csv', '--into', into as string], folderWith({ ...files, 'site.csv': csv })),
      ).toMatchObject({
        status: 2,
        out: '',
        err: expect.stringContaining(why as string),
      });
  });

  it('takes a project by its folder, and says where there is none or no table', () => {
    const folder = folderWith({ 'job/project.closet': project + closets, 'site.csv': csv });
    expect(storypole(['import', 'site.csv', '--project', 'job'], folder).status).toBe(0);
    expect(existsSync(join(folder, 'job/survey-columns.json'))).toBe(true);
    expect(storypole(['import', 'none.csv', '--project', 'job'], folder).err).toBe(
      'storypole: none.csv is not there.\n',
    );
    expect(storypole(['import', 'job', '--project', 'job'], folder).err).toContain('is a folder');
    expect(storypole(['import', 'site.csv', '--project', 'job', '--sheet', 'x'], folder).err).toContain(
      'is no workbook',
    );
  });
});

describe('exceptions', () => {
  const measured = `${project}${closets}survey A-101 { wall back { length 35-3/4in } }
survey A-102 { wall back { length 36in } }
`;

  it('are told in a table, those that need the most first, and by floor', () => {
    const folder = folderWith({ 'a.closet': measured });
    const { out, err, status } = storypole(['exceptions'], folder);
    expect([status, err]).toEqual([0, '']);
    expect(out).toBe(`Quarry Lane: 2 units with a survey: 1 with other cut lengths alone, 1 that fits as drawn.

unit   floor  template                     measured            cut otherwise
A-101      1  linen     other cut lengths  back 1/4in shorter  1 part, 1/4in shorter
A-102      1  linen     fits               back as drawn
`);
    expect(storypole(['exceptions', '--by', 'floor'], folder).out).toContain(
      '\nFloor 1: 2 units with a survey: 1 with other cut lengths alone, 1 that fits as drawn.\nunit ',
    );
    expect(storypole(['exceptions', '--format', 'csv'], folder).out.split('\r\n').slice(0, 2)).toEqual([
      'unit,floor,template,what is to be done,wall that is most off,off by,off by in,which is,parts cut otherwise,by at most,by at most in,other differences,errors and warnings,to decide',
      'A-101,1,linen,other cut lengths,back,1/4in,0.25,shorter,1,1/4in,0.25,0,0,',
    ]);
  });

  it('end with 1 where somebody has to decide, if that is asked for', () => {
    const folder = folderWith({ 'a.closet': `${measured}survey A-201 { wall back { length 10in; height 60in } }\n` });
    expect(storypole(['exceptions'], folder).status).toBe(0);
    expect(storypole(['exceptions', '--exit-code'], folder).status).toBe(1);
    expect(storypole(['exceptions'], folderWith({ 'a.closet': project + closets })).out).toBe(
      'Quarry Lane: 0 units with a survey.\nSurveys come from tables by storypole import, or are written by hand.\n',
    );
  });
});
