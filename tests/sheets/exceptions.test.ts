/** What surveys do to three templates of Quarry Lane, worked out by hand; and which units need a decision. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { withEdits } from '../../grammar/format.ts';
import { showInches, showLength } from '../../server/model/show.ts';
import { type Exception, exceptionsOf, groupsOf, tallyOf } from '../../server/sheets/exceptions.ts';
import { cutsSaid, decisionSaid, measuredSaid, summarySaid } from '../../server/sheets/exceptions-said.ts';
import { examples } from '../examples/load.ts';
import { importInto } from '../language/survey-import/importing.ts';
import { projectOf, workspaceOf } from '../model/support.ts';

/** Every file of Quarry Lane but its surveys, with other ones from a table. */
function lane(csv: string): Exception[] {
  const folder = join(examples, 'quarry-lane');
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter(
    (name) => name.endsWith('.closet') && !name.startsWith('surveys'),
  );
  const texts = Object.fromEntries(files.map((name) => [`/p/${name}`, readFileSync(join(folder, name), 'utf8')]));
  const load = (all: Record<string, string>) => {
    const [loaded] = workspaceOf(all).projects;
    if (!loaded) throw new Error('There is no project.');
    return loaded.project;
  };
  const made = importInto(load(texts), csv);
  if (made.kind === 'refused')
    throw new Error(made.problems.map(({ cell, message }) => `${cell} ${message}`).join('\n'));
  for (const [file, edits] of Map.groupBy(made.edits, (edit) => edit.file))
    texts[file] = withEdits(texts[file] as string, edits);
  return exceptionsOf(load(texts));
}

/** `main.top 35-1/2in -> 35-1/8in`. */
function cutsOf({ cuts }: Exception): string[] {
  const said = (value: Exception['cuts'][number]['before']): string =>
    value && 'ticks' in value ? showLength(value.ticks, showInches) : '';
  return cuts.map(({ of, before, after }) => `${of} ${said(before)} -> ${said(after)}`);
}

describe('from what is drawn to what is cut, by hand', () => {
  it('linen: shelves as long as the wall is at their height', () => {
    // Drawn 35-1/2. Measured 35-3/8 at 18 and 35-1/8 at 78: it loses 1/4 in 60 in, 1/16 in every 15 in.
    // Shelves at 18, 33, 48, 63 and 78 have 35-3/8, 35-5/16, 35-1/4, 35-3/16 and 35-1/8.
    const [one] = lane('unit,height,length\nA-103-linen,18in,35-3/8in\nA-103-linen,78in,35-1/8in\n') as [Exception];
    expect(one.verdict).toBe('cut-lengths');
    expect(cutsOf(one).toSorted()).toEqual([
      'main.low 35-1/2in -> 35-3/8in',
      'main.middle.1 35-1/2in -> 35-5/16in',
      'main.middle.2 35-1/2in -> 35-1/4in',
      'main.middle.3 35-1/2in -> 35-3/16in',
      'main.top 35-1/2in -> 35-1/8in',
    ]);
    expect(measuredSaid(one, showInches)).toBe('back 3/8in shorter');
    expect(cutsSaid(one, showInches)).toBe('5 parts, up to 3/8in shorter');
  });

  it('reach-in: the long hang takes what 48 and 24 leave of the wall at its height', () => {
    // Measured 93-1/2 at 12 and 93 at 72: the shelf at 72 has 93 - 72 = 21, of 21-3/4 drawn.
    // The rod, 3 under it at 69, has 93-1/2 - 1/2 x 57/60 - 72 = 21.025, of 21-3/4; what its ends take stays the same,
    // so that it is 0.725 shorter, and down to the 1/16 of the saw 3/4.
    const [one] = lane('unit,height,length\nA-107-bedroom,12in,93-1/2in\nA-107-bedroom,72in,93in\n') as [Exception];
    expect(one.verdict).toBe('cut-lengths');
    expect(cutsOf(one).find((cut) => cut.startsWith('coats.top'))).toBe('coats.top 21-3/4in -> 21in');
    const rod = one.cuts.find(({ of }) => of === 'coats.long');
    expect(
      rod?.before && rod.after && 'ticks' in rod.before && 'ticks' in rod.after
        ? (rod.before.ticks - rod.after.ticks) / 1_016_000
        : 0,
    ).toBe(0.75);
    expect(one.cuts).toHaveLength(2);
  });

  it('entry-coats: the coats take what 14 leave', () => {
    // Drawn 48, measured 47-3/4 without heights, so everywhere: 47-3/4 - 14 = 33-3/4 for the shelf, of 34.
    const [one] = lane('unit,length\nA-103-entry,47-3/4in\n') as [Exception];
    expect(one.verdict).toBe('cut-lengths');
    expect(cutsOf(one)).toContain('coats.hats 34in -> 33-3/4in');
    expect(one.most).toBe(254_000);
  });

  it('as drawn is as drawn', () => {
    const [one] = lane('unit,height,length\nA-103-linen,18in,35-1/2in\nA-103-linen,78in,35-1/2in\n') as [Exception];
    expect([one.verdict, one.cuts, one.others, measuredSaid(one, showInches)]).toEqual([
      'fits',
      [],
      [],
      'back as drawn',
    ]);
  });

  it('too narrow for its template needs a decision, before all others', () => {
    // 48 + 24 + 20 at least are 92.
    const all = lane('unit,length\nA-103-linen,35-1/4in\nA-107-bedroom,91-7/8in\nA-103-entry,48in\n');
    expect(all.map(({ unit, verdict }) => `${unit.name} ${verdict}`)).toEqual([
      'A-107-bedroom decision',
      'A-103-linen cut-lengths',
      'A-103-entry fits',
    ]);
    expect(decisionSaid(all[0] as Exception)).toMatch(
      /^error: These cannot all hold: the back wall measures 91-7\/8in/,
    );
    expect(tallyOf(all)).toEqual({ decision: 1, 'cut-lengths': 1, fits: 1 });
    expect(summarySaid(all)).toBe(
      '3 units with a survey: 1 to decide, 1 with other cut lengths alone, 1 that fits as drawn.',
    );
    expect(groupsOf(all, 'template').map(({ name }) => name)).toEqual(['entry-coats', 'linen', 'reach-in']);
  });
});

describe('a decision', () => {
  const closet = `template t {
  parameter width: length = 36in
  board white-16
  wall back { length width; height 96in; studs every 16in from 2in }
  zone main on back { width fill; shelf top { at 72in } }
}
unit a t { floor 2 }
unit b t { floor 10; override main.top { at 200in } }
`;
  const verdictsOf = (text: string): string[] =>
    exceptionsOf(projectOf(text)).map(
      ({ unit, verdict, findings }) => `${unit.name} ${verdict} ${findings.map(({ rule }) => rule.id)}`,
    );

  it('is none for what is wrong with the drawing as well', () => {
    expect(verdictsOf(`${closet}survey b { wall back { length 36in } }\n`)).toEqual(['b fits ']);
  });

  it('goes once somebody has agreed to what is found', () => {
    // A ceiling below the shelf is found in the measured unit alone.
    const low = `${closet}survey a { wall back { length 35in; height 70in } }\n`;
    const [found] = exceptionsOf(projectOf(low));
    expect(found?.verdict).toBe('decision');
    const warnings = found?.findings.filter(({ severity }) => severity === 'warning') ?? [];
    const agreed = warnings.map(
      ({ rule, about }) => `accept ${rule.id} on a${about ? `.${about}` : ''} { why "seen" }\n`,
    );
    const [left] = exceptionsOf(projectOf(low + agreed.join('')));
    expect(left?.findings.filter(({ severity }) => severity === 'warning')).toEqual([]);
  });

  it('follows every edit', () => {
    const project = projectOf(`${closet}survey a { wall back { length 36in } }\n`);
    expect(exceptionsOf(project)[0]?.verdict).toBe('fits');
    project.setFile('/p/main.closet', `${closet}survey a { wall back { length 35in } }\n`);
    project.refreshNow();
    expect(exceptionsOf(project)[0]?.verdict).toBe('cut-lengths');
    project.setFile('/p/main.closet', `${closet.replace('= 36in', '= 35in')}survey a { wall back { length 35in } }\n`);
    project.refreshNow();
    expect(exceptionsOf(project)[0]?.verdict).toBe('fits');
  });
});
