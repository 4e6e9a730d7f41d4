import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Run, RunResult } from '../../server/model/run.ts';
import { placeRun } from '../../server/model/run-placement.ts';
import { type PlacedOn, placedBetween, placedRunBetween, runOf } from '../../server/model/runs.ts';
import { showInches } from '../../server/model/show.ts';
import { inches, NONE, type Ticks } from '../../server/model/ticks.ts';
import { projectOf } from './support.ts';

/** The run of the zones of a back wall, each written after its word. */
function runOfZones(...zones: readonly string[]): Run {
  const project = projectOf(`unit u t\ntemplate t {\n  wall back { length 100in }\n${zones.join('\n')}\n}\n`);
  const [unit] = project.units();
  return runOf(unit?.resolved?.spec.zones ?? [], showInches);
}

const inset = { left: NONE, right: NONE };

function placeOn(run: Run, length: Ticks): RunResult {
  const [zone] = run.zones;
  if (!zone) throw new Error('a run without zones');
  const label = { place: zone.place, text: 'the run', parameters: [], role: 'length' as const };
  return placeRun(run, { length, inset, label }, inches(1 / 16));
}

const zone = (i: number, body: string, start = ''): string => `zone z${i} on back${start} { ${body} }`;

describe('zones that no length moves', () => {
  const stillOf = (...zones: readonly string[]): string[] => [...runOfZones(...zones).still].map(({ name }) => name);

  it('are those of given width up to the first that is not, from where their chain begins at the left', () => {
    expect(
      stillOf(
        zone(1, 'width 20in'),
        zone(2, 'width 10in', ' after z1'),
        zone(3, 'width fill', ' after z2'),
        zone(4, 'width 5in', ' after z3'),
      ),
    ).toEqual(['z1', 'z2']);
  });

  it('are none where the chain begins at the right, or is centred', () => {
    expect(stillOf(zone(1, 'width 20in', ' from right 0in'))).toEqual([]);
    expect(stillOf(zone(1, 'width 20in', ' centred'))).toEqual([]);
  });
});

describe('a run on a length between two others', () => {
  const width = fc.integer({ min: 8, max: 400 }).map((sixteenths) => `width ${sixteenths}/16in`);
  const fill = fc
    .option(fc.integer({ min: 1, max: 30 }), { nil: undefined })
    .map((least) => (least === undefined ? 'width fill' : `width fill at least ${least}in`));
  const chain = fc.record({
    before: fc.array(width, { maxLength: 3 }),
    fill: fc.option(fill, { nil: undefined }),
    after: fc.array(width, { maxLength: 3 }),
    side: fc.constantFrom('left', 'right'),
  });

  it('stands as it does when it is placed there', () => {
    let known = 0;
    let asked = 0;
    let wholes = 0;
    fc.assert(
      fc.property(
        chain,
        fc.integer({ min: 20, max: 120 }),
        fc.integer({ min: 1, max: 30_000_000 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        ({ before, fill, after, side }, shortest, more, share) => {
          const widths = [...before, ...(fill === undefined ? [] : [fill]), ...after];
          fc.pre(widths.length > 0);
          const [first, last] = [0, widths.length - 1];
          const run = runOfZones(
            ...widths.map((body, i) =>
              side === 'left'
                ? zone(i, body, i === first ? '' : ` after z${i - 1}`)
                : zone(i, body, i === last ? ' from right 0in' : ` before z${i + 1}`),
            ),
          );
          const [low, high] = [inches(shortest), (inches(shortest) + more) as Ticks];
          const between = (low + Math.floor(share * more)) as Ticks;
          const [a, b, there] = [low, high, between].map((length) => placeOn(run, length)) as [
            RunResult,
            RunResult,
            RunResult,
          ];
          if (a.kind !== 'placed' || b.kind !== 'placed') return;
          expect(there.kind).toBe('placed');
          if (there.kind !== 'placed') return;
          const on = (length: Ticks, { zones }: typeof a): PlacedOn => ({ length, zones });
          for (const [spec, placed] of there.zones) {
            asked++;
            const found = placedBetween(run, on(low, a), on(high, b), between, spec);
            if (!found) continue;
            known++;
            expect(found).toEqual({ from: placed.from.value, width: placed.width.value });
          }
          const whole = placedRunBetween(run, on(low, a), on(high, b), { length: between, inset });
          if (!whole) return;
          wholes++;
          expect(whole).toEqual(there);
        },
      ),
      { numRuns: 300 },
    );
    expect(known).toBe(asked);
    expect(asked).toBeGreaterThan(200);
    expect(wholes).toBeGreaterThan(100);
  });

  it('is not known where it is settled by rounding', () => {
    const run = runOfZones(zone(1, 'width equal'), zone(2, 'width equal', ' after z1'));
    expect(run.isExact).toBe(false);
  });
});
