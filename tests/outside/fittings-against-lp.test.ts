/** Fittings up a zone, against linear programmes of what is written. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { longer, runs } from '../runs.ts';
import { compareConflict, compareRange, type Drawn, holdsClearly, many, resolved, SIXTEENTH } from './closets.ts';
import { apart, type Row, row } from './linear.ts';

describe('fittings up a zone', () => {
  type Height =
    | { readonly kind: 'at'; readonly least: number; readonly most: number }
    | { readonly kind: 'under' | 'above'; readonly of: string; readonly by: number; readonly orMore: boolean };
  interface Fitting {
    readonly name: string;
    readonly kind: 'shelf' | 'rod' | 'drawers';
    readonly heights: readonly Height[];
  }
  interface Rack {
    readonly lower: string | undefined;
    readonly upper: string;
    readonly count: number;
    readonly least: number;
    readonly most: number;
  }
  /** Of board white-12: 3/4 in. */
  const thickness = 12;
  /** Two drawers of 60. */
  const stack = 120;
  const tall = ({ kind }: Pick<Fitting, 'kind'>): number =>
    kind === 'shelf' ? thickness : kind === 'drawers' ? stack : 0;
  const length = (n: number): string => `${n}/16in`;

  function heightText(height: Height): string {
    if (height.kind === 'at')
      return height.least === height.most
        ? `at ${length(height.least)}`
        : `at from ${length(height.least)} to ${length(height.most)}`;
    return `${height.kind} ${height.of} by ${height.orMore ? 'at least ' : ''}${length(height.by)}`;
  }

  function drawnOf(ceiling: number, fittings: readonly Fitting[], rack: Rack | undefined): Drawn {
    const rows: Row[] = [row('wall', apart('start', 'end'), ceiling, ceiling)];
    const loose: string[] = [];
    for (const fitting of fittings) {
      const { name, heights } = fitting;
      rows.push(row(`${name} start`, apart('start', name), 0, undefined));
      rows.push(row(`${name} start`, apart(name, 'end'), tall(fitting), undefined));
      for (const height of heights) {
        const says = `${name} ${height.kind}`;
        if (height.kind === 'at') {
          rows.push(row(says, apart('start', name), height.least, height.most));
          continue;
        }
        const other = fittings.find((one) => one.name === height.of) as Fitting;
        const [low, high] = height.kind === 'under' ? [fitting, other] : [other, fitting];
        const by = height.by + tall(low);
        rows.push(row(says, apart(low.name, high.name), by, height.orMore ? undefined : by));
      }
      // The first height is what it stands by: without it nothing says where it is.
      loose.push(...heights.slice(1).map(({ kind }) => `${name} ${kind}`));
    }
    if (rack) {
      const spaces = rack.count + 1;
      rows.push(row('row pitch', apart(rack.lower ?? 'start', rack.upper), spaces * rack.least, spaces * rack.most));
    }
    return {
      textWithout: (left) =>
        `template t {\n  board white-12\n  pole chrome\n  wall back { length 40in; height ${length(ceiling)} }\n  zone z on back {\n    width fill\n${fittings
          .map(({ name, kind, heights }) => {
            const said = heights.filter((height) => !left.has(`${name} ${height.kind}`)).map(heightText);
            if (kind === 'drawers') said.push(`count 2; height ${length(stack / 2)}; depth 12in`);
            return `    ${kind} ${name} { ${said.join('; ')} }\n`;
          })
          .join('')}${
          rack
            ? `    shelves row between ${rack.lower ?? 'floor'} and ${rack.upper} { count ${rack.count}; pitch from ${length(rack.least)} to ${length(rack.most)} }\n`
            : ''
        }  }\n}\nunit u t\n`,
      rows,
      loose,
      inSteps: false,
    };
  }

  /** Around heights that hold, most of them, so that neither half of the comparison is empty. */
  const zones = fc
    .record({
      ceiling: fc.integer({ min: 1200, max: 1600 }),
      places: fc.array(
        fc.record({
          at: fc.integer({ min: 0, max: 1500 }),
          kind: fc.constantFrom('shelf' as const, 'shelf' as const, 'rod' as const, 'drawers' as const),
        }),
        { minLength: 1, maxLength: 6 },
      ),
      ways: many(fc.nat(99), 80),
      off: many(fc.constantFrom(0, 0, 0, 0, 0, 0, -40, 25), 30),
      rack: fc.option(
        fc.record({ count: fc.integer({ min: 1, max: 6 }), a: fc.nat(9), b: fc.nat(9), slack: fc.nat(30) }),
        {
          nil: undefined,
        },
      ),
    })
    .map(({ ceiling, places, ways, off, rack }) => {
      const [drawnWays, drawnOff] = [ways.values(), off.values()];
      const next = (): number => drawnWays.next().value as number;
      const wrong = (): number => drawnOff.next().value as number;
      const names = places.map((_, i) => `f${i}`);
      const fittings = places.map(({ at, kind }, i): Fitting => {
        const relation = (j: number): Height | undefined => {
          const other = places[j] as (typeof places)[number];
          const orMore = next() % 2 === 0;
          const [under, above] = [other.at - at - tall({ kind }), at - other.at - tall(other)];
          const by = (under >= 0 ? under : above) - (orMore ? next() % 60 : 0) + wrong();
          if (under < 0 && above < 0) return undefined;
          return { kind: under >= 0 ? 'under' : 'above', of: names[j] as string, by: Math.max(0, by), orMore };
        };
        const spread = next() % 3 === 0 ? next() : 0;
        const own: Height = { kind: 'at', least: Math.max(0, at - spread + wrong()), most: 0 };
        const stated: Height = { ...own, most: own.least + spread + (spread > 0 ? next() : 0) };
        const by = i > 0 ? relation(next() % i) : undefined;
        const more =
          places.length > 1 && next() % 3 === 0
            ? relation((i + 1 + (next() % (places.length - 1))) % places.length)
            : undefined;
        const heights =
          by && next() % 2 === 0
            ? [by, ...(next() % 3 === 0 ? [stated] : [])]
            : [stated, ...(by && next() % 4 === 0 ? [by] : [])];
        const extra = more && heights.every((height) => height.kind !== more.kind) ? [more] : [];
        return { name: names[i] as string, kind, heights: [...heights, ...extra] };
      });
      const pick = rack && ([rack.a, rack.b].map((n) => n % places.length) as [number, number]);
      const [low, high] = pick ? pick.sort((a, b) => (places[a]?.at ?? 0) - (places[b]?.at ?? 0)) : [0, 0];
      const stretch = rack ? (places[high]?.at ?? 0) - (low === high ? 0 : (places[low]?.at ?? 0)) : 0;
      const pitch = rack ? Math.floor(stretch / (rack.count + 1)) : 0;
      const between: Rack | undefined =
        rack && pitch > 0
          ? {
              lower: low === high ? undefined : names[low],
              upper: names[high] as string,
              count: rack.count,
              least: Math.max(1, pitch - rack.slack + wrong()),
              most: pitch + rack.slack + 40,
            }
          : undefined;
      return { ceiling, fittings, rack: between };
    });

  it('hold or not, range, and fail as the programme says', () => {
    const met = { held: 0, failed: 0, crowded: 0 };
    fc.assert(
      fc.property(zones, ({ ceiling, fittings, rack }) => {
        const drawn = drawnOf(ceiling, fittings, rack);
        const text = drawn.textWithout(new Set());
        const { layout, conflict, crowded } = resolved(text);
        const placed = layout.zones[0]?.fittings ?? [];
        // What was settled on.
        const known = (name: string): number =>
          name === 'start'
            ? 0
            : name === 'end'
              ? ceiling
              : (placed.find((one) => one.name === name)?.at.value ?? Number.NaN) / SIXTEENTH;
        if (rack && crowded) {
          // All heights hold, and the shelves of the row have no room: in equal steps one would lie in the next, or in what is below.
          const below = fittings.find(({ name }) => name === rack.lower);
          const step = (known(rack.upper) - (rack.lower ? known(rack.lower) : 0)) / (rack.count + 1);
          const needed = Math.max(thickness, below ? tall(below) : 0);
          expect([text, conflict, holdsClearly(drawn), step < needed + 1]).toEqual([text, undefined, true, true]);
          met.crowded++;
          return;
        }
        expect([text, conflict?.message]).toEqual([text, holdsClearly(drawn) ? undefined : expect.any(String)]);
        if (conflict) {
          met.failed++;
          compareConflict(drawn, conflict, { excessIsEach: true });
          return;
        }
        met.held++;
        for (const { name } of fittings) {
          const found = placed.find((one) => one.name === name);
          if (!found) throw new Error(`${text}: ${name} is not placed`);
          compareRange(`${text} ${name}`, found.at, drawn.rows, apart('start', name));
        }
        // What was settled on holds.
        for (const { terms, least, most, says } of drawn.rows) {
          const sum = terms.reduce((s, [name, times]) => s + times * known(name), 0);
          expect([text, says, sum >= (least ?? sum) && sum <= (most ?? sum)]).toEqual([text, says, true]);
        }
        if (!rack) return;
        // The shelves of the row at equal steps, to a step of the saw.
        const heights = placed.filter(({ name }) => name.startsWith('row.')).map(({ at }) => at.value / SIXTEENTH);
        const steps = [rack.lower ? known(rack.lower) : 0, ...heights, known(rack.upper)]
          .map((at, i, all) => at - (all[i - 1] ?? at))
          .slice(1);
        expect([text, heights.length, Math.max(...steps) - Math.min(...steps) <= 1]).toEqual([text, rack.count, true]);
        expect([text, Math.min(...steps.slice(1)) >= thickness]).toEqual([text, true]);
      }),
      runs(100),
    );
    expect(met.held).toBeGreaterThan(12 * longer);
    expect(met.failed).toBeGreaterThan(12 * longer);
    expect(met.crowded).toBeGreaterThan(0);
  });
});
