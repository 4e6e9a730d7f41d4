import { describe, expect, it } from 'vitest';
import { spanOf } from '../../grammar/tree.ts';
import { fixesThatHold } from '../../server/checks/alternatives.ts';
import { advisedPlan, planProject } from '../../server/checks/analysis.ts';
import { optimal } from '../../server/cutting/optimal.ts';
import { type Lens, type LensKind, lensesOf, type PlanFigures } from '../../server/language/code-lens.ts';
import type { Snapshot } from '../../server/language/snapshot.ts';
import type { Project } from '../../server/model/project.ts';
import { snapshotOf } from './marked.ts';

const closet = `template linen {
  parameter width: length = 36in from 30in to 42in
  wall back { length width; height 96in }
  board white-12
  zone main on back {
    width fill
    shelf top { at 72in }
    shelf low { at 40in }
  }
}
template tall extends linen { }
template lonely { wall back { length 20in } }
unit A-101 linen { width 36in }
unit A-102 tall { count 3 }
`;

const plan = (project: Project): PlanFigures => ({
  totals: new Map(planProject(project).plan?.totals.map((t) => [t.material, t])),
  isCurrent: true,
  findings: [],
});

function lenses(
  snapshot: Snapshot,
  kinds: readonly LensKind[],
  figures: (p: Project) => PlanFigures | undefined,
): Lens[] {
  return lensesOf(snapshot, new Set(kinds), figures);
}

/** `name: title` of the lenses of a text. */
function told(
  text: string,
  kinds: readonly LensKind[],
  figures: (p: Project) => PlanFigures | undefined = plan,
): string[] {
  return lenses(snapshotOf(text), kinds, figures).map((l) => `${text.slice(l.start, l.end)}: ${l.say().title}`);
}

describe('code lenses', () => {
  it('tell who uses a template, by itself or through one that extends it', () => {
    expect(told(closet, ['uses'])).toEqual([
      'linen: used by 2 units, 4 closets, extended by 1 template',
      'tall: used by 1 unit, 3 closets',
      'lonely: used by no unit of this project',
    ]);
  });

  it('lead to the units that use it', () => {
    const [lens] = lenses(snapshotOf(closet), ['uses'], plan);
    const heads = lens?.say().places.map((place) => closet.slice(spanOf(place).start, spanOf(place).end));
    expect(heads).toEqual(['unit A-101 linen', 'unit A-102 tall', 'template tall extends linen']);
  });

  it('tell what a unit takes of the plan by length, and what of its cost', () => {
    // Eight shelves of 36in, two from each 8ft board: four boards of 18.00, a quarter of them for a unit.
    const priced = `project "Quarry Lane" { currency EUR; kerf 1/8in }
board white-12 { depth 12in; thickness 3/4in }
stock white-12 { length 8ft price 18.00 EUR }
${closet}`;
    const figures = { boardCount: 4, price: 7200 };
    const totals = plan(snapshotOf(priced).project).totals.get('white-12');
    expect(totals).toMatchObject(figures);
    expect(told(priced, ['boards'])).toEqual([
      'A-101: 2 parts: about 1 of white-12, 18.00 EUR',
      'A-102: 2 parts each: about 1 of white-12, 18.00 EUR',
    ]);
  });

  it('do not wait for a plan, and say of which plan they speak', () => {
    expect(told(closet, ['boards'], () => undefined)[0]).toBe('A-101: 2 parts, not planned yet');
    const old = (project: Project): PlanFigures => ({ ...plan(project), isCurrent: false });
    expect(told(closet, ['boards'], old)[0]).toMatch(/ \(before the last edit\)$/);
    expect(told(closet, ['boards'], () => ({ totals: new Map(), isCurrent: true, findings: [] }))[0]).toBe(
      'A-101: 2 parts, no stock to cut them from',
    );
    const one = closet.replace(/ *shelf low .*\n/, '');
    expect(told(one, ['boards'], () => ({ totals: new Map(), isCurrent: true, findings: [] }))[0]).toMatch(
      /1 part, no stock to cut it from$/,
    );
  });

  it('tell how far the longest part is from the next shorter stock length', () => {
    // The stock of white-12 is 6ft and 8ft: 72-3/8in is 3/8in too long for the shorter one.
    const near = closet.replace('from 30in to 42in', 'from 30in to 80in').replace('= 36in', '= 72-3/8in');
    expect(told(near, ['stock'])).toEqual([
      'linen: next stock length down, 72in, is 3/8in away: main.top',
      'tall: next stock length down, 72in, is 3/8in away: main.top',
      'A-102: next stock length down, 72in, is 3/8in away: main.top',
    ]);
    expect(told(near.replace('72-3/8in', '72in'), ['stock'])).toEqual([]);
    expect(told(near.replace('72-3/8in', '74in'), ['stock'])).toEqual([]);
  });

  it('lead from there to where the length is given: the wall, or the zone of that width', () => {
    const leads = (text: string): string[] =>
      lenses(snapshotOf(text), ['stock'], plan).flatMap((lens) =>
        lens.say().places.map((place) => text.slice(spanOf(place).start, spanOf(place).end)),
      );
    const near = closet.replace('from 30in to 42in', 'from 30in to 80in').replace('= 36in', '= 72-3/8in');
    expect(new Set(leads(near))).toEqual(new Set(['length width']));
    const zone = closet.replace('width fill', 'width 72-3/8in').replace('length width', 'length 90in');
    expect(new Set(leads(zone))).toEqual(new Set(['width 72-3/8in']));
  });

  describe('of what would save stock', () => {
    // Two shelves of 48 in and a kerf of 1/8 are 96-1/8 in, so that each takes a board of 8 ft.
    const saving = `board oak { depth 12in; thickness 3/4in }
stock oak { length 8ft price 20.00 EUR }
template t {
  wall back { length 100in; height 96in }
  board oak
  zone main on back { width 48in; shelf low { at 20in } }
}
unit A-101 t
unit A-102 t
unit A-103 other
template other { wall back { length 30in; height 96in }; zone a on back { width fill; shelf s { at 20in; board white-12 } } }
`;
    const advised = (project: Project): PlanFigures => {
      const { findings, plan: made } = advisedPlan(project, optimal);
      return { totals: new Map(made?.totals.map((t) => [t.material, t])), isCurrent: true, findings };
    };

    it('tell it above the units that it is in, as it was planned', () => {
      const title = 'zone "main" 1/16in narrower: the plan takes 1 board fewer and costs 20.00 EUR less';
      expect(told(saving, ['savings'], advised)).toEqual([`A-101: ${title}`, `A-102: ${title}`]);
      expect(told(saving, ['uses', 'boards', 'stock'], advised).join()).not.toContain('narrower');
    });

    it('lead to the dimension, where the smaller one is offered', () => {
      const snapshot = snapshotOf(saving);
      const [lens] = lenses(snapshot, ['savings'], advised);
      const [place, ...more] = lens?.say().places ?? [];
      expect(more).toEqual([]);
      expect(place && saving.slice(spanOf(place).start, spanOf(place).end)).toBe('width 48in');
      const [miss] = advised(snapshot.project).findings;
      expect(miss?.place).toEqual(place);
      expect(miss && fixesThatHold(snapshot.project, miss).map(({ title }) => title)).toEqual([
        'Write 47-15/16in, 1/16in narrower: the plan takes 1 board fewer and costs 20.00 EUR less',
      ]);
    });

    it('do not wait for a plan, and say of which plan they speak', () => {
      expect(told(saving, ['savings'], () => undefined)).toEqual([]);
      const old = (project: Project): PlanFigures => ({ ...advised(project), isCurrent: false });
      expect(told(saving, ['savings'], old)[0]).toMatch(/20.00 EUR less \(before the last edit\)$/);
    });

    it('are gone once it is written', () => {
      expect(told(saving.replace('width 48in', 'width 47-15/16in'), ['savings'], advised)).toEqual([]);
    });
  });

  it('can each be turned off', () => {
    expect(told(closet, [])).toEqual([]);
  });
});
