/** What the rules looked at, on which numbers, and what they lacked. */
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { reportSchema } from '../../server/cli/report-schema.ts';
import { folderWith, storypole } from './command.ts';

const text = `project "Quarry Lane" { policy low }
policy low { limit shelf-height at most 72in }
board white-12 { depth 12in; thickness 3/4in }
template linen {
  wall back { length 36in; height 96in }
  zone main on back {
    width fill
    shelf top { at 72in; board white-12 }
    shelf low { at 24in; depth 13in; board white-12 }
  }
}
unit A-101-linen linen
unit A-102-linen linen
unit A-103-linen linen
survey A-103-linen { wall back { length 35-7/8in } }
`;

const folder = (): string => folderWith({ 'a.closet': text });
const valid = new Ajv2020({ strict: false }).compile(reportSchema);

describe('check --coverage', () => {
  it('lists alike units together, each rule with the comparison nearest to its limit, and what rules lacked', () => {
    const { out, err, status } = storypole(['check', '--coverage'], folder());
    expect(err).toBe('');
    expect(status).toBe(1);
    expect(out).toContain('A-101-linen, A-102-linen (2 units alike)\n');
    // The upper face of the shelf at 72 is at 72-3/4, and 72 is the most.
    expect(out).toMatch(/shelf-height-limit +2, 1 does not hold +upper face of "main.top" 72-3\/4in \(at most 72in\)/);
    // 13 deep from a board of 12.
    expect(out).toMatch(/depth-not-in-board +2, 1 does not hold +depth of "main.low" 13in \(equal to 12in\)/);
    expect(out).toMatch(
      /survey-differs +1, 1 does not hold +least measured length of the back wall 35-7\/8in \(equal to 36in\)/,
    );
    expect(out).toMatch(/Nothing to work on: [^.]*rod-height-limit/);
  });

  it('writes the same as JSON', () => {
    const { out } = storypole(['check', '--coverage', '--format', 'json'], folder());
    const report = JSON.parse(out) as {
      projects: { coverage: { units: string[]; rules: { rule: string; compared: { holds: boolean }[] }[] }[] }[];
    };
    expect(valid(report), JSON.stringify(valid.errors)).toBe(true);
    const [both] = report.projects[0]?.coverage ?? [];
    expect(both?.units).toEqual(['A-101-linen', 'A-102-linen']);
    expect(both?.rules.find((r) => r.rule === 'shelf-height-limit')?.compared.map((c) => c.holds)).toEqual([
      false,
      true,
    ]);
  });
});

describe('explain --at', () => {
  it('tells every comparison about what stands on a line', () => {
    const { out, err, status } = storypole(['explain', '--at', 'a.closet:9'], folder());
    expect(err).toBe('');
    expect(status).toBe(0);
    expect(out).toContain('does not hold depth-not-in-board: depth of "main.low" 13in (equal to 12in)');
    expect(out).toContain('holds shelf-height-limit: upper face of "main.low" 24-3/4in (at most 72in)');
    expect(out).not.toContain('main.top');
  });

  it('writes the same as JSON', () => {
    const { out } = storypole(['explain', '--at', 'a.closet:9', '--format', 'json'], folder());
    const report = JSON.parse(out) as { comparisons: { units: string[] }[] };
    expect(valid(report), JSON.stringify(valid.errors)).toBe(true);
    expect(report.comparisons.flatMap((c) => c.units)).toEqual(['A-101-linen', 'A-102-linen', 'A-103-linen']);
  });

  it.each([
    ['a.closet', '"a.closet" is no place. Write a file and a line: templates/reach-in.closet:12'],
    ['b.closet:1', 'storypole: b.closet is not there.'],
    ['.:1', 'storypole: . is a folder; name a file in it.'],
    ['b.csv:1', 'storypole: b.csv is not a .closet file.'],
    ['a.closet:20', 'storypole: a.closet has no line 20: its last line is 16.'],
    ['a.closet:0', 'storypole: a.closet has no line 0: lines are counted from 1.'],
    ['a.closet:1', 'No rule compared anything at a.closet:1.'],
  ])('%s is answered in a sentence', (at, said) => {
    const { err, status, out } = storypole(['explain', '--at', at], folderWith({ 'a.closet': text, 'b.csv': 'a,b' }));
    expect([status, out]).toEqual([2, '']);
    expect(err).toContain(said);
  });
});
