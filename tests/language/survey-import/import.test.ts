/** Tables from site, and the surveys they become: in place, all of a table or nothing. */
import { describe, expect, it } from 'vitest';
import { csv as saved } from '../../../server/sheets/site-page/in-page/survey.ts';
import { projectOf } from '../../model/support.ts';
import { added, closets, importInto, refusals, taken } from './importing.ts';

describe('a reading a row', () => {
  it('as the page for a phone on site saves it becomes a survey behind what is there', () => {
    // By the very function of the page.
    const csv = saved([
      ['unit', 'wall', 'height', 'length'],
      ['A-101', 'back', '6in', '35-15/16in'],
      ['A-101', 'back', '72in', '35-7/8in'],
      ['A-101', 'left', '', '24-1/4in'],
    ]);
    expect(added(closets, csv)).toBe(`survey A-101 {
  wall back {
    length 35-15/16in at 6in
    length 35-7/8in at 72in
  }
  wall left {
    length 24-1/4in
  }
}
`);
  });

  it('in any order of rows and columns comes out from the floor up', () => {
    expect(added(closets, 'length,unit,height\n36in,A-101,72in\n35in,A-101,6in\n')).toContain(
      '    length 35in at 6in\n    length 36in at 72in\n',
    );
  });
});

describe('a wall a row', () => {
  const csv = `Survey of Quarry Lane;;;;;;;;;;;;;;
Unit;Wall;Width low (in);Height low (in);Width mid (in);Height mid (in);Width high (in);Height high (in);Ceiling (in);Floor falls;Corner left;Studs (in);Diagonal A (in);Photos;Remarks;Taken
A-101;Back;35 15/16;6;35 7/8;42;35 3/4;86;95 3/4;1/4" to left;91,5;8 1/2, 24 1/2;44;IMG_1.jpg, IMG_2.jpg;plaster loose;14 March
`;

  it('holds all that the language has words for, and notes of the rest', () => {
    expect(added(closets, csv, { decimalComma: true })).toBe(`survey A-101 {
  taken "14 March"
  wall back {
    length 35-15/16in at 6in
    length 35-7/8in at 42in
    length 35-3/4in at 86in
    height 95-3/4in
    floor falls 1/4in to left
    studs 8-1/2in, 24-1/2in
    // Diagonals: a 44in
    // Photos: IMG_1.jpg, IMG_2.jpg
    // Note: plaster loose
  }
  corner left back { angle 91.5deg }
}
`);
  });

  it('is read by the project as it was measured', () => {
    const project = projectOf(taken(closets, csv, { decimalComma: true }));
    const unit = [...project.units()].find(({ name }) => name === 'A-101');
    const back = unit?.resolved?.layout.walls.find(({ name }) => name === 'back');
    expect(back?.readings.map(({ length }) => length / 1_016_000)).toEqual([35.9375, 35.875, 35.75]);
    expect(back?.studs.map((at) => at / 1_016_000)).toEqual([8.5, 24.5]);
    expect(unit?.resolved?.layout.corners.find(({ measured }) => measured)?.angle).toBe(91.5);
    expect(project.findings().filter(({ severity }) => severity === 'error')).toEqual([]);
  });

  it('says the opening, out of plumb and studs from the right', () => {
    const other =
      'unit,door width mm,door height mm,out of plumb mm,stud 1 from right mm,stud 2 from right mm\nA-101,770,2030,6.5,640,220\n';
    expect(added(closets, other)).toBe(`survey A-101 {
  wall back {
    out-of-plumb 6.5mm
    studs from right 220mm, 640mm
  }
  opening front { width 770mm; height 2030mm }
}
`);
  });

  it('takes heights of low and high from what the project keeps, or from the heading', () => {
    const heights = { columns: [], heights: { low: '6in', high: '7ft' } };
    expect(added(closets, 'unit,low in,high in\nA-101,36,35.5\n', { mapping: heights })).toContain(
      '    length 36in at 6in\n    length 35-1/2in at 84in\n',
    );
    expect(added(closets, 'unit,back at 6in,back at 72in\nA-101,36in,35in\n')).toContain(
      'length 36in at 6in\n    length 35in at 72in\n',
    );
    const made = importInto(projectOf(closets), 'unit,low in,high in\nA-101,36,35.5\n');
    expect(made.notes.at(-1)).toMatch(/^At which heights "low in", "high in" were measured is not said/);
  });
});

describe('a survey that is there', () => {
  const survey = `/// Measured twice.
survey A-101 { // first floor
  taken "12 March, tape"
  wall back {
    length 35.5in at 6in // behind the pipe
    length 36in at 42in
    studs 8in, 24in
  }
}
// the end
`;
  const text = closets + survey;

  it('is left alone to the byte where the table says the same', () => {
    const csv =
      'unit,wall,height,length,studs,taken\nA-101,back,6in,35 1/2in,"8in, 24in","12 March, tape"\nA-101,back,42in,3ft,,\n';
    const made = importInto(projectOf(text), csv);
    expect(made).toMatchObject({ kind: 'imported', edits: [], changes: [{ unit: 'A-101', kind: 'same' }] });
  });

  it('is changed where it differs and nowhere else', () => {
    const csv = 'unit,height,length\nA-101,6in,35-5/8in\nA-101,42in,36in\nA-101,86in,36-1/8in\n';
    expect(taken(text, csv)).toBe(
      text
        .replace('length 35.5in at 6in', 'length 35-5/8in at 6in')
        .replace('    length 36in at 42in\n', '    length 36in at 42in\n    length 36-1/8in at 86in\n'),
    );
  });

  it('loses lengths that the new survey of the wall does not have, and keeps what the table says nothing of', () => {
    expect(taken(text, 'unit,height,length\nA-101,42in,36in\n')).toBe(
      text.replace('    length 35.5in at 6in // behind the pipe\n', ''),
    );
  });

  it('keeps its line ends, and a block on one line opens for what cannot stand on it', () => {
    const short = 'survey A-102 { wall back { length 36in at 6in } }\n';
    expect(taken(closets + short, 'unit,height,length\nA-102,6in,36in\nA-102,42in,35in\n')).toBe(
      `${closets}survey A-102 { wall back { length 36in at 6in; length 35in at 42in } }\n`,
    );
    expect(
      taken(
        closets + short,
        'unit,photos\nA-102,a.jpg\n'.replace('photos', 'photos,ceiling').replace('a.jpg', 'a.jpg,95in'),
      ),
    ).toBe(`${closets}survey A-102 { wall back { length 36in at 6in\n  height 95in\n  // Photos: a.jpg\n} }\n`);
    const windows = (closets + survey).replaceAll('\n', '\r\n');
    const after = taken(
      windows,
      'unit,height,length\nA-101,6in,36in\nA-101,42in,36in\nA-101,86in,36in\nA-102,6in,36in\n',
    );
    expect(after.replaceAll('\r\n', '')).not.toContain('\n');
  });

  it('has one line for photos, which a newer table writes anew', () => {
    const first = taken(text, 'unit,ceiling,photos\nA-101,95in,a.jpg\n');
    expect(first).toContain('    height 95in\n    // Photos: a.jpg\n  }\n');
    expect(taken(first, 'unit,ceiling,photos\nA-101,95in,"a.jpg; b.jpg"\n')).toBe(
      first.replace('Photos: a.jpg', 'Photos: a.jpg, b.jpg'),
    );
  });

  it('that is not closed is not written into', () => {
    const broken = `${closets}survey A-101 {\n  wall back {\n    length 36in at 6in\n`;
    const made = importInto(projectOf(broken), 'unit,height,length\nA-101,6in,35in\n');
    expect(made).toMatchObject({ kind: 'refused', reasons: [expect.stringContaining('is not closed')] });
  });
});

describe('a table that cannot be taken whole', () => {
  it('is refused for units that are not there, stand for many, or are in it twice', () => {
    const csv = 'unit,length\nA-110,36in\nA-300,36in\nA-101,36in\nA-101,35in\n,36in\n';
    expect(refusals(closets, csv)).toEqual([
      'A2 "A-110" There is no unit of that name in the project. Is "A-101" meant?',
      'A3 "A-300" The unit stands for 6 alike, so that it cannot be the one that was measured. Write the measured one as a unit of its own first.',
      'A5 "A-101" The unit is in the table twice: what B5 says was said in B4 already. Keep the one that holds.',
      'A6 "" The name of a unit was expected: the row holds something, but does not say of which unit.',
    ]);
  });

  it('is refused for walls and floors that the project does not have so', () => {
    expect(refusals(closets, 'unit,wall,length,floor\nA-101,bak,36in,1\nA-102,back,36in,2\n')).toEqual([
      'B2 "bak" Unit A-101 has no such wall. Is "back" meant?',
      'D3 "2" Unit A-102 has floor 1 in the project. Which of the two is meant?',
    ]);
  });

  it('asks for a unit of measure once', () => {
    const made = importInto(projectOf(closets), 'unit,height,length\nA-101,6,36\nA-101,42,36\n');
    expect(made).toMatchObject({ kind: 'refused', asks: ['unit-of-measure'], problemCount: 1 });
    expect(made.kind === 'refused' && made.problems[0]?.message).toBe(
      'The number 36 has no unit of measure, and neither has the heading of its column. The same goes for 1 other cell.',
    );
  });

  it('is refused for columns that nobody understands, and for cells without a heading', () => {
    expect(refusals(closets, 'unit,length,Breite\nA-101,36in,35in,x\n')).toEqual([
      'C1 "Breite" It is not clear what this column holds. Say so in the mapping file ("ignored" leaves it out), or give it another heading.',
      'D1 "" There are cells below, and no heading that says what they are.',
    ]);
    expect(refusals(closets, 'a,b\n1,2\n')[0]).toMatch(/^A1 "a" A row of headings was expected/);
    expect(refusals(closets, 'unit,remarks\nA-101,x\n')[0]).toMatch(/^A1 "unit" Beside the units there is no column/);
  });
});
