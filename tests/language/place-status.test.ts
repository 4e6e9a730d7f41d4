/** What a status line says of the place of the cursor. */
import { describe, expect, it } from 'vitest';
import { offsetOf } from '../../grammar/tree.ts';
import { planProject } from '../../server/checks/analysis.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import { type Made, noPlan } from '../../server/language/made-plan.ts';
import { placeStatusAt } from '../../server/language/place-status.ts';
import { cursor, cursorIn, type Marked } from './marked.ts';

function planned({ snapshot: { project } }: Marked, state: Made['state'] = 'current'): Made {
  const { demand, plan, findings } = planProject(project, optimal);
  return { findings, state, cutting: plan && { demand, plan } };
}

const statusAt = (marked: string, made = noPlan) => {
  const { snapshot, at } = cursor(marked);
  return placeStatusAt(snapshot, at, made);
};

const linen = `template linen {
  wall back { length 36in; height 96in }
  board white-16
  zone main on back { width fill; shelf top { at 72in } }
}
`;

describe('the status of a place', () => {
  it('in a unit names it, its template, and what was found', () => {
    const status = statusAt(`${linen}unit a linen mirrored { floor 1; fl|at 3 }\n`);
    expect(status).toMatchObject({ kind: 'unit', name: 'a' });
    expect(status?.text).toMatch(/^a · linen, mirrored/);
    expect(status?.detail).toContain('Parts to cut: 1 of white-16');
  });

  it('in a survey is that of the unit that was measured', () => {
    const status = statusAt(`${linen}unit a linen\nsurvey a { wall back { length 35|in at 72in } }\n`);
    expect(status?.text).toMatch(/^a · linen, measured/);
  });

  it('leads from a unit, and from its survey, to the template and to what was measured', () => {
    const led = (marked: string) => {
      const { template, survey } = statusAt(marked) ?? {};
      return [template, survey].map((place) => place && offsetOf(place.statement));
    };
    const survey = 'survey a { wall back { length 35in at 72in } }\n';
    const unit = 'unit a linen { floor 1 }\n';
    expect(led(`${linen}${unit.replace('floor', 'fl|oor')}${survey}`)).toEqual([0, linen.length + unit.length]);
    expect(led(`${linen}${unit}${survey.replace('wall', 'wa|ll')}`)).toEqual([0, linen.length + unit.length]);
    expect(led(`${linen}unit a| linen\n`)).toEqual([0, undefined]);
    expect(led('unit a| not-there\n')).toEqual([undefined, undefined]);
    expect(led(linen.replace('back', 'ba|ck'))).toEqual([undefined, undefined]);
  });

  it('in a template says how many units are built from it, counts multiplied out', () => {
    const status = statusAt(`${linen.replace('at 72in', 'at 9|7in')}unit a linen { count 3 }\nunit b linen\n`);
    expect(status).toMatchObject({ kind: 'template', severity: 'error' });
    expect(status?.text).toMatch(/^linen · 4 units · \d+ errors?/);
    expect(status?.detail[0]).toBe('Template linen: 4 units are built from it');
  });

  it('elsewhere, past the end, and where nothing can be read is none', () => {
    expect(statusAt(`|// a comment\n${linen}`)).toBeUndefined();
    expect(statusAt('board oak { dep|th 12in }')).toBeUndefined();
    expect(statusAt('unit|')?.name).toBeUndefined();
    const { snapshot } = cursor('unit a b|');
    expect(placeStatusAt(snapshot, 1_000_000, noPlan)?.text ?? '').not.toContain('undefined');
  });

  const priced = `project "Quarry Lane" { kerf 1/8in; saw-step 1/16in; currency EUR }
board oak { depth 12in; thickness 3/4in }
stock oak { length 12ft price 16 EUR unlimited }
template t {
  parameter width: length from 20in to 50in
  wall back { length width; height 96in }
  board oak
  zone a on back { width fill; shelf s { at 40in } }
}
unit wide t { width 45in }
unit narrow t { width 22-1/2in; count 2 }
`;

  it('of a plan that is current says the share of the stock, by the length of the parts', () => {
    // By hand: 45 + 2 x 22-1/2 in come from one board of 16 EUR: half of it to the wide one, a quarter to each other.
    const cost = (part: string, state: Made['state'] = 'current') => {
      const marked = cursorIn({ 'prelude.closet': priced.replace(part, `|${part}`) });
      return placeStatusAt(marked.snapshot, marked.at, planned(marked, state))?.detail.at(-1);
    };
    expect(cost('unit wide')).toBe('Its share of the stock: 8.00 EUR');
    expect(cost('unit narrow')).toBe('Its share of the stock: 4.00 EUR each');
    expect(cost('unit wide', 'planning')).toBe('Parts to cut: 1 of oak');
  });

  it('says no price where some stock has none', () => {
    const marked = cursorIn({
      'prelude.closet': priced.replace(' price 16 EUR', '').replace('unit wide', '|unit wide'),
    });
    expect(placeStatusAt(marked.snapshot, marked.at, planned(marked))?.detail.at(-1)).toBe('Parts to cut: 1 of oak');
  });
});
