import { readdirSync, readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { formatted } from '../../grammar/format.ts';
import { Source } from '../../grammar/source.ts';
import { fixingsOf } from '../../server/checks/fixings/schedule.ts';
import type { ZoneLayout } from '../../server/model/layout.ts';
import type { Unit } from '../../server/model/project.ts';
import { showInches, showLength } from '../../server/model/show.ts';
import { inches } from '../../server/model/ticks.ts';
import { topWords } from '../../server/model/vocabulary.ts';
import { closetFiles, examples, filesRead, type Loaded, loadAll, toldOf } from './load.ts';

const lane = `${examples}/quarry-lane`;

let loaded: Loaded;
let units: Unit[];

beforeAll(() => {
  const all = loadAll(lane);
  expect(all.map(({ root }) => root)).toEqual([lane]);
  loaded = all[0] as Loaded;
  units = [...loaded.project.units()];
});

function unitNamed(name: string): Unit {
  const found = units.find((unit) => unit.name === name);
  if (!found) throw new Error(`there is no unit ${name}`);
  return found;
}

/** Material, length and depth of every part of a unit, in an order of its own. */
function partsOf(unit: Unit): string[] {
  return (unit.resolved?.layout.parts ?? [])
    .map((p) => `${p.zone} ${p.kind} ${p.material} ${p.length} ${p.depth}`)
    .sort();
}

function zonesOf(unit: Unit): readonly ZoneLayout[] {
  return unit.resolved?.layout.zones ?? [];
}

describe('Quarry Lane', () => {
  it('is told no error and no warning', () => {
    const worse = loaded.findings.filter(({ severity }) => severity !== 'note').map((f) => toldOf(f, lane));
    expect(worse).toEqual([]);
  });

  it('is told only of walls measured other than drawn, of one stud that stands off the others, and of what nearly saves a board', () => {
    const rules = new Set(loaded.findings.map(({ rule }) => rule.id));
    expect([...rules].sort()).toEqual(['stock-nearly-saved', 'studs-uneven', 'survey-differs']);
  });

  it('has 24 flats on three floors, each with a bedroom, a linen and an entry closet', () => {
    const flats = Map.groupBy(units, ({ flat }) => flat);
    expect([...flats.keys()].sort()).toEqual(
      [1, 2, 3].flatMap((floor) => [1, 2, 3, 4, 5, 6, 7, 8].map((door) => `A-${floor}0${door}`)),
    );
    for (const [flat, own] of flats) {
      expect(own.map(({ name }) => name).sort()).toEqual([`${flat}-bedroom`, `${flat}-entry`, `${flat}-linen`]);
      for (const { floor } of own) expect(floor).toBe(flat?.charAt(2));
    }
  });

  it('has bedroom closets for wheelchair users, whose rods are at most 48in high', () => {
    const accessible = units.filter(({ policy }) => policy.names.includes('accessible'));
    expect(accessible.map(({ name }) => name)).toEqual(['A-103-bedroom', 'A-104-bedroom', 'A-205-bedroom']);
    for (const unit of accessible) {
      const rods = zonesOf(unit).flatMap(({ fittings }) => fittings.filter(({ kind }) => kind === 'rod'));
      expect(rods.length).toBeGreaterThan(0);
      for (const rod of rods) expect(rod.at.value).toBeLessThanOrEqual(inches(48));
    }
  });

  it('has at least ten units that were measured, some at several heights and with the studs found', () => {
    const measured = units.filter(({ survey }) => survey !== undefined);
    expect(measured.length).toBeGreaterThanOrEqual(10);
    const walls = measured.flatMap(({ resolved }) => resolved?.layout.walls.filter((w) => w.readings.length > 0) ?? []);
    expect(walls).toHaveLength(measured.length);
    for (const wall of walls) expect(wall.studs.length).toBeGreaterThan(0);
    expect(walls.filter(({ readings }) => readings.length >= 3).length).toBeGreaterThanOrEqual(10);
  });

  it('cuts every part to the length that its steps add up to', () => {
    const parts = units.flatMap(({ resolved }) => resolved?.layout.parts ?? []);
    // 21 reach-ins with 4 shelves and rods of the double hang, 2 panels, 7 shelves in the tower and 2 in
    // the long hang: 15; 3 accessible ones with 3, 2 and 5: 10; 24 linen closets with 5; 24 entry
    // closets with a panel, 8 shelves for shoes, a shelf and a rod: 11.
    expect(parts).toHaveLength(21 * 15 + 3 * 10 + 24 * 5 + 24 * 11);
    for (const part of parts) {
      expect(part.steps.length).toBeGreaterThan(0);
      expect(
        part.steps.reduce((sum, { amount }) => sum + amount, 0),
        part.path,
      ).toBe(part.length);
    }
  });

  it('cuts the nominal reach-in as worked out by hand', () => {
    // 93-3/4 - 48 - 24 = 21-3/4 in. The cups take 3/8 in a side: 48 - 3/4 and 21-3/4 - 3/4 in.
    // 24 - 2 x 3/4 in of panels = 22-1/2 in. The panels end at the upper face of the top: 84 + 3/4 in.
    const by = new Map(unitNamed('A-303-bedroom').resolved?.layout.parts.map((part) => [part.path, part.length]));
    expect(by.get('shirts.high')).toBe(inches(48));
    expect(by.get('shirts.upper')).toBe(inches(47.25));
    expect(by.get('tower.sides.left')).toBe(inches(84.75));
    expect(by.get('tower.shoes')).toBe(inches(22.5));
    expect(by.get('coats.top')).toBe(inches(21.75));
    expect(by.get('coats.long')).toBe(inches(21));
  });

  it('cuts a measured closet to what was measured at the height of the part', () => {
    // 93-3/8 in at 42 in, 93-5/8 in at 72 in. The shelf at 72 in: 93-5/8 - 72 = 21-5/8 in.
    // The rod at 69 in: 93-3/8 + 27/30 x 1/4 = 93-3/5 in; less 72 and 3/4 in, 20.85 in, which is
    // 20-13/16 in (20.8125) on the saw's scale.
    const by = new Map(unitNamed('A-204-bedroom').resolved?.layout.parts.map((part) => [part.path, part.length]));
    expect(by.get('coats.top')).toBe(inches(21.625));
    expect(by.get('coats.long')).toBe(inches(20.8125));
  });

  it('is held as its hardware file says', () => {
    const layout = unitNamed('A-303-bedroom').resolved?.layout;
    if (!layout) throw new Error('it cannot be worked out');
    const { all, without } = fixingsOf(layout);
    expect(without).toEqual([]);
    const told = (part: string, hardware: string): string[] =>
      all
        .filter((f) => f.part === part && f.hardware.name === hardware)
        .map(({ at, hold }) => `${showLength(at, showInches)} ${hold.kind}`);
    // Studs at 14-1/2, 30-1/2, 46-1/2, 62-1/2 and 78-1/2 in. Three rear supports on 48 in, 2 in from its ends: the
    // one at 46 in is within 1/2 in of a stud. Two on a tower top, of which one is slid to the stud at 62-1/2 in.
    expect(told('shirts.high', 'rear-support')).toEqual(['2in anchor', '24in anchor', '46in stud']);
    expect(told('tower.top', 'tower-support')).toEqual(['50-3/4in anchor', '62-1/2in stud']);
    // Brackets 6 in in, and no farther than 36 in apart: the one at 6 in goes by six slats of 1-1/2 in to 15 in, within
    // 1/2 in of the stud at 14-1/2 in; the one at 42 in by three slats to the stud at 46-1/2 in.
    expect(told('shirts.high', 'angle-bracket')).toEqual(['15in stud', '46-1/2in stud']);
    // Hooks 3 in back from the front of brackets of 12 in: 9 in from the wall, where the rod is.
    const hooks = all.filter(({ part, role }) => part === 'shirts.upper' && role === 'hook');
    expect(hooks.map(({ out }) => out)).toEqual([inches(9), inches(9)]);
    // Six ties a tower; four pins a loose shelf, of which there are five.
    expect(all.filter(({ hardware }) => hardware.name === 'tower-bracket')).toHaveLength(6);
    expect(all.filter(({ role }) => role === 'pin')).toHaveLength(20);
  });

  it('changes in a mirrored unit the side on which things stand, and nothing else', () => {
    const pairs = units
      .filter((unit) => unit.mirrored && !unit.survey)
      .flatMap((unit) => {
        const other = units.find(
          (u) =>
            !u.mirrored &&
            !u.survey &&
            u.info === unit.info &&
            u.policy === unit.policy &&
            u.declared.statement.block?.children.every((c) => c.word.text !== 'override') &&
            JSON.stringify([...(u.given?.values ?? [])]) === JSON.stringify([...(unit.given?.values ?? [])]),
        );
        return other ? [{ unit, other }] : [];
      });
    expect(new Set(pairs.map(({ unit }) => unit.info?.declared.name)).size).toBe(3);
    expect(pairs.length).toBeGreaterThanOrEqual(20);
    for (const { unit, other } of pairs) {
      expect(partsOf(unit), unit.name).toEqual(partsOf(other));
      for (const zone of zonesOf(other)) {
        const wall = other.resolved?.layout.walls.find(({ name }) => name === zone.wall);
        const seen = zonesOf(unit).find(({ path }) => path === zone.path);
        expect(seen?.width.value).toBe(zone.width.value);
        expect(seen?.from.value).toBe((wall?.length ?? 0) - zone.from.value - zone.width.value);
      }
    }
  });

  it('is cut from the stock by the first plan already', () => {
    const { plan, demand } = loaded.planned;
    // 729 parts of the closets and the 6 spare shelves.
    expect(demand.request.pieces.reduce((sum, { quantity }) => sum + quantity, 0)).toBe(735);
    expect(plan?.uncut).toEqual([]);
    for (const { material, length, count } of demand.request.stock) {
      const taken = plan?.totals
        .find((totals) => totals.material === material)
        ?.boards.filter((boards) => boards.length === length)
        .reduce((sum, boards) => sum + boards.count, 0);
      if (count !== undefined) expect(taken ?? 0).toBeLessThanOrEqual(count);
    }
    const offcuts = new Set(demand.request.stock.filter(({ offcut }) => offcut).map(({ id }) => id));
    expect(plan?.patterns.some(({ stock }) => offcuts.has(stock))).toBe(true);
  });
});

describe('the examples', () => {
  it('are Quarry Lane and the mistakes, and each file is read by one of the two tests', () => {
    expect(
      readdirSync(examples, { withFileTypes: true })
        .filter((entry) => entry.isDirectory())
        .map(({ name }) => name)
        .sort(),
    ).toEqual(['mistakes', 'quarry-lane']);
    const seen = closetFiles(examples);
    expect(seen.filter((file) => !file.startsWith('mistakes/'))).toEqual(
      closetFiles(lane).map((file) => `quarry-lane/${file}`),
    );
    expect(filesRead([loaded], lane)).toEqual(closetFiles(lane));
  });

  it('are laid out as the formatter lays them out, and say that they are invented', () => {
    for (const file of closetFiles(lane)) {
      const text = readFileSync(`${lane}/${file}`, 'utf8');
      expect(formatted(new Source(file, text, topWords)), file).toBe(text);
      expect(text.split('\n', 1)[0], file).toMatch(/invented/i);
    }
  });
});
