import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mirror } from '../../server/model/mirror.ts';
import { projectOf, zones } from './support.ts';

/** A template with everything in it that has a left and a right. */
const template = (a: number, b: number, first: string, second: string): string => `template t {
  board white-12
  pole chrome
  persons 2
  wall left { length 25in }
  wall back { length 94in; height 96in; studs every 16in from 14-1/2in }
  wall right { length 26in }
  corner back left { owner left }
  opening front { width 60in; height 80in; from left 10in }
  opening cupboard on left { width 20in; height 80in; swing in hinged left; approach latch-side; pull knob at 38in }
  fixture outlet on back { from left 60in; height 16in }
  fixture slope on right { height 80in; run 20in }
  fixture appliance on left { from right 8in; height 40in; size 12in by 30in; depth 12in; burns gas direct-vent; heats water }
  fixture sprinkler on ceiling { from left 40in; from front 6in; depth 2in }
  fixture light on ceiling { from right 20in; from back 12in }
  zone a on back ${first} { width ${a}in; panels { side left; height 80in; free-standing }; shelf s { at 40in }; drawers d { at 8in; height 8in; depth 14in; pull bar } }
  zone b on back ${second} { width ${b}in; rod r { at 60in; for shirt } }
}
unit u t
unit v t mirrored
`;

const starts: readonly (readonly [string, string])[] = [
  ['', 'after a'],
  ['from left 3in', 'after a by 2in'],
  ['before b', 'from right 1in'],
  ['centred', 'after a'],
  ['from right 0in', 'before a'],
];

const any = fc.record({
  a: fc.integer({ min: 1, max: 40 }),
  b: fc.integer({ min: 1, max: 40 }),
  start: fc.constantFrom(...starts),
});

describe('mirroring', () => {
  it('twice gives the template back', () => {
    fc.assert(
      fc.property(any, ({ a, b, start }) => {
        const [unit] = [...projectOf(template(a, b, start[0], start[1])).units()];
        const spec = unit?.resolved?.spec;
        expect(spec).toBeDefined();
        if (!spec) return;
        expect(mirror(mirror(spec))).toEqual(spec);
        expect(mirror(spec)).not.toEqual(spec);
      }),
      { numRuns: 60 },
    );
  });

  it('keeps every part, and puts each zone as far from the other end', () => {
    fc.assert(
      fc.property(any, ({ a, b, start }) => {
        const project = projectOf(template(a, b, start[0], start[1]));
        const [u, v] = [...project.units()].map((unit) => unit.resolved?.layout);
        const list = (layout: typeof u) =>
          (layout?.parts ?? []).map((p) => `${p.path.replace(/\.(left|right)$/, '')} ${p.material} ${p.length}`).sort();
        expect(list(v)).toEqual(list(u));
        for (const zone of u?.zones ?? []) {
          const other = v?.zones.find((z) => z.path === zone.path);
          const wall = u?.walls.find((w) => w.name === 'back');
          expect(other?.width.value).toBe(zone.width.value);
          expect(other?.from.value).toBe((wall?.length ?? 0) - zone.from.value - zone.width.value);
        }
        expect(v?.walls.find((w) => w.name === 'right')?.length).toBe(u?.walls.find((w) => w.name === 'left')?.length);
        expect(zones(project, 'u').length).toBe(zones(project, 'v').length);
      }),
      { numRuns: 60 },
    );
  });
});

describe('what is left of a saw step goes to the same zone in the mirror', () => {
  const width = fc.constantFrom('share', 'share 2', 'width 11-3/16in', 'fill', '9in to 20in');
  const inner = fc.array(fc.constantFrom('share', 'share 3', 'share 2'), { maxLength: 3 });
  const start = fc.constantFrom('', 'from left 2in', 'centred', 'from right 1-1/16in');

  it('of shares, of what is centred, of ranges, and of all that is in a zone', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 700, max: 1600 }),
        fc.array(fc.tuple(width, inner), { minLength: 1, maxLength: 4 }),
        start,
        (sixteenths, all, first) => {
          const zonesOf = all.map(([wide, inside], i) => {
            const own = inside.map(
              (w, k) => `zone i${k} ${k > 0 ? `after i${k - 1} ` : ''}{ width ${w}; shelf s { at ${20 + k}in } }`,
            );
            return `zone z${i} on back ${i > 0 ? `after z${i - 1}` : first} { ${wide.startsWith('width') ? wide : `width ${wide}`}; shelf s { at ${40 + i}in }; ${own.join('; ')} }`;
          });
          const text = `board white-12 { depth 12in; thickness 3/4in }
template t {
  board white-12
  wall back { length ${sixteenths}/16in; height 96in }
  ${zonesOf.join('\n  ')}
}
unit u t
unit v t mirrored
`;
          const [u, v] = [...projectOf(text).units()].map((unit) => unit.resolved?.layout);
          const length = u?.walls[0]?.length ?? 0;
          const turned = v?.zones
            .map(({ path, from, width: { value } }) => [path, length - from.value - value, value])
            .sort();
          expect(turned).toEqual(u?.zones.map(({ path, from, width: { value } }) => [path, from.value, value]).sort());
          const cut = (layout: typeof u) => layout?.parts.map(({ path, length }) => [path, length]).sort();
          expect(cut(v)).toEqual(cut(u));
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('what a mirror shows', () => {
  const walls = (studs: readonly [string, string], corner = ''): string => `
  board white-12
  wall left { length 25in; height 96in; studs ${studs[0]} }
  wall back { length 94in; height 96in; studs ${studs[1]} }
  ${corner}`;
  const layout = (text: string) => [...projectOf(text).units()][0]?.resolved?.layout;

  it('of a zone without a start begins at the right end, behind what stands out of the corner there', () => {
    // The other wall owns the corner, and its shelf of 12 in takes as much off the run of the back wall.
    const made = layout(`template t {${walls(['4in', '4in'], 'corner back left { owner left }')}
  wall right { length 25in; height 96in }
  corner back right { owner right }
  zone r on right { width fill; shelf s { at 40in } }
  zone a on back from right { width 20in; shelf s { at 40in } }
}
unit u t
`);
    expect(made?.zones.find((z) => z.path === 'a')?.from.value).toBe((94 - 12 - 20) * 1_016_000);
  });

  it('of studs counts from the right end', () => {
    const made = layout(`template t {${walls(['from right 1in, 16in', 'every 16in from right 14in'])}
  zone a on back { width fill; shelf s { at 40in } }
}
unit u t
`);
    const studs = (name: string) => made?.walls.find((w) => w.name === name)?.studs.map((at) => at / 1_016_000);
    expect(studs('left')).toEqual([9, 24]);
    // 94 - 14 = 80, and every 16 in from there.
    expect(studs('back')).toEqual([0, 16, 32, 48, 64, 80]);
  });
});

it('a room of many sides turns the other way', () => {
  // Five walls: two turn by 45 degrees where a square corner is cut off.
  const room = (mirrored: string): string => `template t {
  wall a { length 40in; height 96in }
  wall b { length 60in; height 96in }
  wall c { length 20in; height 96in; turns 45deg }
  wall d { length 30in; height 96in; turns 45deg }
}
unit u t ${mirrored}
`;
  const plan = (mirrored: string) =>
    [...projectOf(room(mirrored)).units()][0]?.resolved?.layout.plan.map(({ wall, along }) => [
      wall,
      Math.round((Math.atan2(along[1], along[0]) * 180) / Math.PI),
    ]);
  // a runs ahead, b turns right by a square corner, c and d by 45 degrees more each.
  expect(plan('')).toEqual([
    ['a', 0],
    ['b', 90],
    ['c', 135],
    ['d', 180],
  ]);
  // Seen in a mirror d comes first, and each turns by what the one before it turned.
  expect(plan('mirrored')).toEqual([
    ['d', 0],
    ['c', 45],
    ['b', 90],
    ['a', 180],
  ]);
});
