/**
 * Writes instances in the style of published classes, made anew from a seed: for `npm run bench:cutting FOLDER` where
 * the published files are not at hand. Sizes follow the published descriptions, from memory; the numbers are ours.
 * Run with `node tests/bench/classes.ts FOLDER`.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';

/** Whole numbers from `least` to `most`, each as likely; the same for a seed on any machine (mulberry32). */
type Draw = (least: number, most: number) => number;

function drawFrom(seed: number): Draw {
  let state = seed >>> 0;
  return (least, most) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    const share = ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
    return least + Math.floor(share * (most - least + 1));
  };
}

interface Class {
  readonly folder: string;
  readonly files: readonly { readonly name: string; readonly text: string; readonly optimum?: number }[];
}

const many = <T>(count: number, make: (index: number) => T): T[] => Array.from({ length: count }, (_, at) => make(at));
const padded = (index: number): string => String(index).padStart(2, '0');
const bins = (capacity: number, sizes: readonly number[]): string =>
  `${sizes.length}\n${capacity}\n${sizes.join('\n')}\n`;

/** E. Falkenauer, 1996: three items fill each bin of 1000 exactly, so the optimum is known. */
function triplets(): Class[] {
  return [60, 120, 249, 501].map((items) => ({
    folder: `triplets-${items}`,
    files: many(20, (index) => {
      const draw = drawFrom(1000 * items + index);
      const sizes = many(items / 3, () => {
        const first = draw(380, 490);
        const second = draw(250, Math.floor((1000 - first) / 2));
        return [first, second, 1000 - first - second];
      }).flat();
      sizes.sort((a, b) => b - a);
      return { name: `t${items}_${padded(index)}.txt`, text: bins(1000, sizes), optimum: items / 3 };
    }),
  }));
}

/** P. Schwerin and G. Wäscher, 1997. */
function narrow(): Class[] {
  return [100, 120].map((items) => ({
    folder: `narrow-${items}`,
    files: many(40, (index) => {
      const draw = drawFrom(7_000_000 + 1000 * items + index);
      return {
        name: `s${items}_${padded(index)}.txt`,
        text: bins(
          1000,
          many(items, () => draw(150, 200)),
        ),
      };
    }),
  }));
}

/** A. Scholl, R. Klein and C. Jürgens, 1997: the first, second and third set. */
function uniform(): Class[] {
  const first: { name: string; text: string }[] = [];
  for (const items of [50, 100, 200, 500])
    for (const capacity of [100, 120, 150])
      for (const least of [1, 20, 30])
        for (let index = 0; index < 4; index++) {
          const draw = drawFrom(11_000_000 + items * 10_000 + capacity * 50 + least * 5 + index);
          const sizes = many(items, () => draw(least, 100));
          first.push({ name: `n${items}c${capacity}w${least}_${index}.txt`, text: bins(capacity, sizes) });
        }
  const second: { name: string; text: string }[] = [];
  for (const items of [50, 100, 200, 500])
    for (const part of [3, 5, 7, 9])
      for (const spread of [20, 50, 90])
        for (let index = 0; index < 3; index++) {
          const draw = drawFrom(12_000_000 + items * 10_000 + part * 1000 + spread * 10 + index);
          const mean = Math.round(1000 / part);
          const by = Math.floor((mean * spread) / 100);
          const sizes = many(items, () => draw(mean - by, mean + by));
          second.push({ name: `n${items}w${part}b${spread}_${index}.txt`, text: bins(1000, sizes) });
        }
  const third = many(10, (index) => {
    const draw = drawFrom(13_000_000 + index);
    return {
      name: `hard${index}.txt`,
      text: bins(
        100_000,
        many(200, () => draw(20_000, 35_000)),
      ),
    };
  });
  return [
    { folder: 'uniform-small', files: first },
    { folder: 'uniform-mean', files: second },
    { folder: 'uniform-fine', files: third },
  ];
}

/** J. E. Schoenfield, 2002, in size and range only: his are chosen to be hard, these are not. */
function wide(): Class[] {
  return [
    {
      folder: 'wide',
      files: many(28, (index) => {
        const draw = drawFrom(14_000_000 + index);
        return {
          name: `w${padded(index)}.txt`,
          text: bins(
            1000,
            many(160 + 20 * (index % 3), () => draw(1, 800)),
          ),
        };
      }),
    },
  ];
}

/** M. Monaci, 2002, and I. Correia, L. Gouveia and F. Saldanha-da-Gama, 2008: several lengths with prices. */
function severalLengths(): Class[] {
  const prices = {
    linear: (length: number) => 100 * length,
    concave: (length: number) => Math.round(1000 * Math.sqrt(length)),
    convex: (length: number) => Math.round(10 * length ** 1.5),
  };
  return Object.entries(prices).map(([kind, price], at) => ({
    folder: `lengths-${kind}`,
    files: [25, 50, 100, 200, 500].flatMap((items) =>
      [1, 20, 50].flatMap((least) =>
        [
          [100, 120, 150],
          [60, 80, 100, 120, 150],
        ].map((lengths) => {
          const draw = drawFrom(15_000_000 + at * 1_000_000 + items * 1000 + least * 10 + lengths.length);
          const instance = {
            stock: lengths.map((length) => ({ length, price: price(length) })),
            pieces: many(items, () => ({ length: draw(least, 100), quantity: 1 })),
          };
          return { name: `n${items}w${least}m${lengths.length}.json`, text: JSON.stringify(instance) };
        }),
      ),
    ),
  }));
}

/** Inches and millimetres mixed, with a saw cut: no grid divides the lengths (a tick is 25 nm). */
function mixedUnits(): Class[] {
  const inch = 1_016_000;
  const millimetre = 40_000;
  return [
    {
      folder: 'mixed-units',
      files: [10, 20, 40, 80].flatMap((sizes) =>
        many(8, (index) => {
          const draw = drawFrom(19_000_000 + sizes * 100 + index);
          const instance = {
            stock: [
              { length: 72 * inch, price: 1450 },
              { length: 96 * inch, price: 1890 },
              { length: 3660 * millimetre, price: 2690, count: 4 },
            ].slice(index % 3),
            pieces: many(sizes, (place) => ({
              length: place % 2 === 0 ? (draw(10 * 16, 48 * 16) * inch) / 16 : draw(250, 1200) * millimetre,
              quantity: draw(1, 6),
            })),
            kerf: inch / 8,
          };
          return { name: `m${sizes}_${padded(index)}.json`, text: JSON.stringify(instance) };
        }),
      ),
    },
  ];
}

const target = process.argv[2];
if (!target) throw new Error('Say into which folder the instances go.');
for (const { folder, files } of [
  ...triplets(),
  ...narrow(),
  ...uniform(),
  ...wide(),
  ...severalLengths(),
  ...mixedUnits(),
]) {
  const own = path.join(target, folder);
  mkdirSync(own, { recursive: true });
  for (const { name, text } of files) writeFileSync(path.join(own, name), text);
  const optima = files.flatMap(({ name, optimum }) => (optimum ? [`${name.replace(/[.]\w+$/, '')}\t${optimum}`] : []));
  if (optima.length > 0) writeFileSync(path.join(own, 'optima.tsv'), `${optima.join('\n')}\n`);
}
