/** Surveyed lengths, heights that a policy sets, and depths. */
import { describe, expect, it } from 'vitest';
import { partCheck } from '../../server/checks/parts.ts';
import { policyCheck } from '../../server/checks/policy.ts';
import { surveyCheck } from '../../server/checks/survey.ts';
import type { FittingLayout, WallLayout } from '../../server/model/layout.ts';
import { showMillimetres } from '../../server/model/show.ts';
import { add, inches, millimetres, ticks } from '../../server/model/ticks.ts';
import {
  board,
  fixed,
  ids,
  input,
  layout,
  only,
  panel,
  place,
  policy,
  reading,
  rod,
  shelf,
  standsOn,
  TICK,
  wall,
} from './layouts.ts';

describe('a surveyed wall', () => {
  const survey = (given: WallLayout) => surveyCheck.run(input(layout([], { walls: [given] })));

  it('is noted where it is shorter than drawn, with the least reading and by how much', () => {
    // 94 - 93-1/2 = 1/2.
    const readings = [reading(93.875, 6), reading(93.75, 42), reading(93.5, 84)];
    const told = only(survey(wall('back', 93.5, { nominal: 94, readings })), 'survey-differs');
    expect(told.severity).toBe('note');
    expect(told.message).toBe(
      'The back wall was measured 93-1/2in at 84in, 1/2in shorter than the 94in that is drawn. Its lengths run from 93-1/2in at 84in to 93-7/8in at 6in: the wall is not straight.',
    );
    expect(standsOn(told.place)).toBe('reading 93.5');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['length of back', 'reading 93.875']);
    expect(told.causes).toEqual({ parameters: [], survey: true });
    expect(told.about).toBe('back');
    expect(told.comparison).toEqual({
      what: 'least measured length of the back wall',
      measured: { ticks: inches(93.5) },
      relation: 'equal to',
      limit: { ticks: inches(94) },
    });
  });

  it('is noted where it is longer than drawn', () => {
    const told = only(survey(wall('back', 94.25, { nominal: 94, readings: [reading(94.25)] })), 'survey-differs');
    expect(told.message).toBe('The back wall was measured 94-1/4in, 1/4in longer than the 94in that is drawn.');
  });

  it('is not noted where it is as drawn, or was not measured', () => {
    expect(survey(wall('back', 94, { readings: [reading(94, 42)] }))).toEqual([]);
    expect(survey(wall('back', 94))).toEqual([]);
    // What counts is the least, and that is as drawn.
    expect(survey(wall('back', 94, { readings: [reading(94, 42), reading(94.5, 84)] }))).toEqual([]);
  });

  it('is noted from one tick on', () => {
    const off = { ...reading(94), length: ticks(inches(94) - 1) };
    expect(ids(survey(wall('back', 94, { readings: [off] })))).toEqual(['survey-differs']);
  });
});

describe('a height that a policy limits', () => {
  const found = (fitting: FittingLayout, limits: Parameters<typeof policy>[0]) =>
    policyCheck.run(input(layout([fitting]), policy(limits)));

  it('is that of the centre of a rod', () => {
    const limits = { 'rod-height': { least: 15, most: 48 } };
    const at = (height: number, ticksMore = 0) => {
      const made = rod('coats.low', height, []);
      return { ...made, at: fixed(add(made.at.value, ticks(ticksMore))) };
    };
    expect(found(at(48), limits)).toEqual([]);
    expect(ids(found(at(48, TICK), limits))).toEqual(['rod-height-limit']);
    expect(found(at(15), limits)).toEqual([]);
    expect(ids(found(at(15, -TICK), limits))).toEqual(['rod-height-limit']);
    const told = only(found(at(81), limits), 'rod-height-limit');
    expect(told.message).toBe('Rod "coats.low" is at 81in; policy "everyday" allows at most 48in.');
    // 81 - 48 = 33.
    expect(told.advice).toBe('Lower it by at least 33in, or accept this with the reason.');
    expect(told.comparison).toEqual({
      what: 'height of "coats.low"',
      measured: { ticks: inches(81) },
      relation: 'at most',
      limit: { ticks: inches(48) },
    });
    expect(standsOn(told.place)).toBe('height of coats.low');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['limit rod-height']);
  });

  it('is that of the upper face of a shelf', () => {
    const limits = { 'shelf-height': { least: 15, most: 48 } };
    // 47-1/4 + 3/4 = 48 and 14-1/4 + 3/4 = 15.
    const at = (height: number, ticksMore = 0) => {
      const made = shelf('coats.low', height);
      return { ...made, at: fixed(add(made.at.value, ticks(ticksMore))) };
    };
    expect(found(at(47.25), limits)).toEqual([]);
    expect(ids(found(at(47.25, TICK), limits))).toEqual(['shelf-height-limit']);
    expect(found(at(14.25), limits)).toEqual([]);
    expect(ids(found(at(14.25, -TICK), limits))).toEqual(['shelf-height-limit']);
    const told = only(found(at(48), limits), 'shelf-height-limit');
    expect(told.message).toBe(
      'Shelf "coats.low" is reached at 48-3/4in, its upper face (48in to its underside); policy "everyday" allows at most 48in.',
    );
    const low = only(found(at(8), limits), 'shelf-height-limit');
    // 15 - 8-3/4 = 6-1/4.
    expect(low.advice).toBe('Raise it by at least 6-1/4in, or accept this with the reason.');
    expect(low.comparison).toMatchObject({ relation: 'at least', limit: { ticks: inches(15) } });
  });

  it('agrees with the reach of an accessibility standard, where a policy sets it', () => {
    // source: 2010 ADA Standards, 308.2.1, unobstructed forward reach 15 in to 48 in, read in the text published by
    // the U.S. Access Board (github.com/atbcb/usab-uswds, _ada/chapter/ch03.md).
    const reach = { 'rod-height': { least: 15, most: 48 } };
    expect([48, 15].flatMap((height) => found(rod('a.rod', height, []), reach))).toEqual([]);
    const hundredth = 10_160;
    const off = (height: number, by: number) => {
      const made = rod('a.rod', height, []);
      return found({ ...made, at: fixed(ticks(made.at.value + by)) }, reach);
    };
    expect(ids(off(48, hundredth))).toEqual(['rod-height-limit']);
    expect(ids(off(15, -hundredth))).toEqual(['rod-height-limit']);
    // source: Uniform Federal Accessibility Standards (1984), 4.25.3, clothes rods at most 54 in, read in the same
    // place (_aba/ufas.md).
    expect(found(rod('a.rod', 54, []), { 'rod-height': { most: 54 } })).toEqual([]);
    expect(ids(found(rod('a.rod', 54.125, []), { 'rod-height': { most: 54 } }))).toEqual(['rod-height-limit']);
  });

  it('is not limited by default', () => {
    expect(policyCheck.run(input(layout([rod('a.rod', 90, []), shelf('a.shelf', 2)])))).toEqual([]);
  });
});

describe('a depth and its board', () => {
  const found = (fittings: readonly FittingLayout[]) =>
    partCheck.run(input(layout(fittings))).filter(({ rule }) => rule.id === 'depth-not-in-board');

  it('is that of the board', () => {
    const white = board('white-12', 12);
    expect(found([shelf('a.s', 84, { board: white })])).toEqual([]);
    expect(found([shelf('a.s', 84)])).toEqual([]);
  });

  it('cannot be more', () => {
    // 13 - 12 = 1.
    const told = only(found([shelf('a.s', 84, { board: board('white-12', 12), depth: 13 })]), 'depth-not-in-board');
    expect(told.severity).toBe('error');
    expect(told.message).toBe(
      'Shelf "a.s" is 13in deep, and board "white-12" is 12in: it is 1in too deep to be cut from it.',
    );
    expect(told.advice).toBe('Choose a deeper board, or make the shelf at most 12in deep.');
    expect(told.related.map((r) => standsOn(r.place))).toEqual(['board white-12']);
    const made = shelf('a.s', 84, { board: board('white-12', 12, true) });
    expect(ids(found([{ ...made, depth: add(made.depth, TICK) }]))).toEqual(['depth-not-in-board']);
  });

  it('can be less only where the board may be ripped', () => {
    expect(found([panel('a.p', 0, { board: board('white-16', 16, true) })])).toEqual([]);
    const told = only(found([panel('a.p', 0, { board: board('white-16', 16) })]), 'depth-not-in-board');
    expect(told.message).toBe(
      'Panel "a.p" is 12in deep, and board "white-16" is 16in and may not be ripped: no stock has this depth.',
    );
    expect(told.advice).toBe('Make the panel 16in deep, or let the board allow it: `ripping allowed`.');
    const made = shelf('a.s', 84, { board: board('white-12', 12) });
    expect(ids(found([{ ...made, depth: ticks(made.depth - TICK) }]))).toEqual(['depth-not-in-board']);
  });

  it('is said once for a row of shelves, and once for each statement', () => {
    const white = board('white-12', 12);
    const row = place('shelves loose');
    const shelves = [1, 2, 3].map((n) =>
      shelf(`tower.loose.${n}`, 10 * n, { board: white, depth: 14, inRow: n, place: row }),
    );
    const told = found([...shelves, shelf('tower.top', 84, { board: white, depth: 14 })]);
    expect(told.map(({ about }) => about)).toEqual(['tower.loose.1', 'tower.top']);
  });
});

describe('a depth and the trade', () => {
  const found = (depth: number) => ids(partCheck.run(input(layout([shelf('a.s', 84, { depth })]))));

  it('is 12 in or 16 in for a shelf', () => {
    // Common practice, no source (T8): shelf depths are 12 in or 16 in.
    expect(found(12)).toEqual([]);
    expect(found(16)).toEqual([]);
    const told = only(partCheck.run(input(layout([shelf('a.s', 84, { depth: 14.5 })]))), 'depth-unusual');
    expect(told.severity).toBe('note');
    expect(told.message).toBe('Shelf "a.s" is 14-1/2in deep; shelves are mostly 12in or 16in deep.');
    // 14-1/2 is nearer to 16.
    expect(told.comparison).toMatchObject({ relation: 'equal to', limit: { ticks: inches(16) } });
    const made = shelf('a.s', 84);
    expect(ids(partCheck.run(input(layout([{ ...made, depth: add(made.depth, TICK) }]))))).toEqual(['depth-unusual']);
  });

  it('is not compared for panels, nor in millimetres', () => {
    expect(partCheck.run(input(layout([panel('a.p', 0, { depth: 14 })])))).toEqual([]);
    const metric = { ...shelf('a.s', 84), depth: millimetres(300) };
    expect(partCheck.run({ ...input(layout([metric])), show: showMillimetres })).toEqual([]);
  });
});
