/**
 * Whole projects drawn at random, as texts: templates on one wall or three, with towers, rows, drawers, nested zones and
 * rods, and units of them that are mirrored, several of a kind, or measured. Most of them hold; those that do not are
 * left in, since sheets are made of those too.
 */
import fc from 'fast-check';

export interface RandomProject {
  readonly text: string;
  readonly system: 'inches' | 'millimetres';
}

interface Piece {
  readonly kind: 'shelves' | 'tower' | 'hanging' | 'drawers' | 'nested';
  readonly width: number;
  readonly how: 'fixed' | 'share' | 'range';
  readonly heights: readonly number[];
  readonly count: number;
  readonly deep: boolean;
  readonly tilted: boolean;
}

interface Closet {
  readonly walls: readonly ('left' | 'back' | 'right')[];
  readonly pieces: readonly Piece[];
  readonly side: Piece | undefined;
  readonly rest: number;
  readonly ending: 'fill' | 'gap' | 'nothing';
  readonly studs: boolean;
  readonly outlet: boolean;
  readonly door: 'none' | 'sliding' | 'bifold' | 'swing in' | 'swing out';
}

const piece: fc.Arbitrary<Piece> = fc.record({
  kind: fc.constantFrom<Piece['kind']>('shelves', 'tower', 'hanging', 'drawers', 'nested'),
  width: fc.integer({ min: 12 * 16, max: 44 * 16 }),
  how: fc.constantFrom<Piece['how']>('fixed', 'fixed', 'fixed', 'share', 'range'),
  heights: fc.uniqueArray(fc.integer({ min: 12, max: 84 }), { minLength: 2, maxLength: 4 }),
  count: fc.integer({ min: 1, max: 4 }),
  deep: fc.boolean(),
  tilted: fc.boolean(),
});

const closet: fc.Arbitrary<Closet> = fc.record({
  walls: fc.constantFrom<Closet['walls']>(['back'], ['back'], ['left', 'back'], ['left', 'back', 'right']),
  pieces: fc.array(piece, { minLength: 1, maxLength: 4 }),
  side: fc.option(piece, { nil: undefined }),
  rest: fc.integer({ min: 0, max: 400 }),
  ending: fc.constantFrom('fill', 'gap', 'nothing'),
  studs: fc.boolean(),
  outlet: fc.boolean(),
  door: fc.constantFrom('none', 'sliding', 'bifold', 'swing in', 'swing out'),
});

/** How a project writes a length: one system throughout, so that what is shown is mostly exact. */
type Say = (sixteenths: number) => string;
const says: Readonly<Record<RandomProject['system'], Say>> = {
  inches: (n) => (n % 16 === 0 ? `${n / 16}in` : n < 16 ? `${n}/16in` : `${Math.floor(n / 16)}-${n % 16}/16in`),
  // Not the same lengths, but such as are written there: half millimetres.
  millimetres: (n) => `${Math.round(n * 3.175) / 2}mm`,
};

function fittingsOf({ kind, width, heights, count, deep, tilted }: Piece, say: Say): string {
  const [low = 12, ...others] = [...heights].sort((a, b) => a - b);
  const board = deep ? 'board b16; ' : '';
  const at = (inches: number): string => say(inches * 16 + (inches % 3));
  const high = others.at(-1) ?? 84;
  const plain = [low, ...others].map((height, i) => `shelf s${i} { ${board}at ${at(height)} }`).join('; ');
  switch (kind) {
    case 'shelves':
      return plain;
    case 'tower':
      return `panels { height ${at(88)} }; shelf low { at ${at(low)}; fixed${tilted ? '; tilted' : ''} }; shelf top { at ${at(high + 3)}; fixed }; shelves row between low and top { count ${count} }`;
    case 'hanging':
      return `shelf high { ${board}at ${at(84)} }; rod upper { under high by ${say(48)}; from wall ${say(160)}; for shirt }; rod lower { at ${at(Math.min(low + 20, 42))}; from wall ${say(168)}; for skirt }`;
    case 'drawers':
      return `panels { height ${at(60)} }; drawers chest { at ${at(4)}; count ${count}; height ${say(110)}; depth ${say(192)}; pull-out ${say(150)} }; shelf top { at ${at(58)} }`;
    case 'nested': {
      const inner = Math.max(60, Math.floor(width / 3));
      return `zone one { width ${say(inner)}; ${plain} }; zone two after one { width fill; shelf only { at ${at(high)} } }`;
    }
  }
}

function zoneOf(own: Piece, head: string, say: Say): string {
  const width =
    own.how === 'share'
      ? `share at least ${say(100)}`
      : own.how === 'range'
        ? `from ${say(own.width)} to ${say(own.width + 40)}`
        : say(own.width);
  return `  zone ${head} { width ${width}; ${fittingsOf(own, say)} }\n`;
}

function templateOf(
  name: string,
  { walls, pieces, side, rest, ending, studs, outlet, door }: Closet,
  say: Say,
): string {
  const long = pieces.reduce((sum, { width }) => sum + width, rest + 64);
  const depth = say(64 * 16);
  const stated = studs ? `; studs every ${say(256)} from ${say(90)}` : '';
  const shares = pieces.some(({ how }) => how === 'share');
  const lines = walls.map(
    (wall) => `  wall ${wall} { length ${wall === 'back' ? 'width' : depth}; height ${say(96 * 16)}${stated} }\n`,
  );
  if (door !== 'none') {
    const leaves = door.startsWith('swing') ? `${door} hinged left` : `leaves ${door}`;
    lines.push(
      `  wall front { length width; height ${say(96 * 16)} }\n  opening door on front { from left ${say(80)}; width ${say(Math.min(480, long - 160))}; height ${say(80 * 16)}; ${leaves} }\n`,
    );
  }
  if (outlet) lines.push(`  fixture outlet on back { from left ${say(40)}; height ${say(250)}; clear ${say(16)} }\n`);
  pieces.forEach((own, i) => {
    lines.push(zoneOf(own, `z${i} on back${i > 0 ? ` after z${i - 1}` : ''}`, say));
  });
  const after = ` on back after z${pieces.length - 1}`;
  if (!shares && ending === 'fill') lines.push(`  zone last${after} { width fill; shelf s { at ${say(1280)} } }\n`);
  if (!shares && ending === 'gap') lines.push(`  gap free${after} { width fill }\n`);
  if (side && walls.includes('left')) lines.push(zoneOf({ ...side, how: 'fixed', width: 320 }, 'side on left', say));
  return `template ${name} {\n  parameter width: length = ${say(long)}\n  board b12; pole chrome\n${lines.join('')}}\n`;
}

export const randomProjects: fc.Arbitrary<RandomProject> = fc
  .record({
    system: fc.constantFrom<RandomProject['system']>('inches', 'millimetres'),
    closets: fc.array(closet, { minLength: 1, maxLength: 3 }),
    mirrored: fc.array(fc.boolean(), { minLength: 6, maxLength: 6 }),
    counts: fc.array(fc.constantFrom(1, 1, 2, 5), { minLength: 6, maxLength: 6 }),
    measured: fc.array(
      fc.option(fc.tuple(fc.integer({ min: -6, max: 30 }), fc.integer({ min: -6, max: 30 })), { nil: undefined }),
      { minLength: 3, maxLength: 3 },
    ),
    kerf: fc.constantFrom(1, 2, 3),
    trim: fc.constantFrom(0, 4),
    keep: fc.constantFrom(0, 16 * 12, 16 * 30),
    extra: fc.nat(4),
    spares: fc.nat(3),
    price: fc.array(fc.integer({ min: 0, max: 9999 }), { minLength: 4, maxLength: 4 }),
  })
  .map(({ system, closets, mirrored, counts, measured, kerf, trim, keep, extra, spares, price }) => {
    const say = says[system];
    const euros = (i: number): string => `${((price[i] ?? 0) / 100).toFixed(2)} EUR`;
    const settings = [
      `show ${system}`,
      `kerf ${say(kerf)}`,
      `saw-step ${system === 'inches' ? '1/16in' : '0.5mm'}`,
      'currency EUR',
      ...(trim > 0 ? [`end-trim ${say(trim)}`] : []),
      ...(keep > 0 ? [`keep-offcuts from ${say(keep)}`] : []),
    ];
    const materials = `board b12 { depth ${say(192)}; thickness ${say(12)} }
board b16 { depth ${say(256)}; thickness ${say(16)} }
rod chrome { diameter ${say(17)}; ends take ${say(3)} for "the cup" }
stock b12 { length ${say(96 * 16)} price ${euros(0)} unlimited; length ${say(144 * 16)} price ${euros(1)} unlimited; offcut ${say(50 * 16)} count 2 }
stock b16 { length ${say(120 * 16)} price ${euros(2)} unlimited }
stock chrome { length ${say(144 * 16)} price ${euros(3)} unlimited }
garment shirt { hang ${say(40 * 16)}; hanger ${say(17 * 16)}; takes ${say(16)} }
garment skirt { hang ${say(26 * 16)}; hanger ${say(16 * 16)}; takes ${say(16)} }
${spares > 0 ? `extra spare-shelf { board b12; length from ${say(160)} to ${say(480)}; count up to ${spares} }\n` : ''}${extra > 0 ? `extra loose-shelf { board b12; length ${say(333)}; count ${extra} }\n` : ''}`;
    const templates = closets.map((own, i) => templateOf(`t${i}`, own, say)).join('');
    const units = closets.map((own, i) => {
      const long = own.pieces.reduce((sum, { width }) => sum + width, own.rest + 64);
      const several = counts[i] ?? 1;
      const body = `{ floor ${i + 1}${several > 1 ? `; count ${several}` : ''} }`;
      const found = measured[i];
      const survey = found
        ? `unit m${i} t${i}${mirrored[i + 3] ? ' mirrored' : ''} { floor 9 }\nsurvey m${i} { wall back { length ${say(long + found[0])} at ${say(100)}; length ${say(long + found[1])} at ${say(1200)} } }\n`
        : '';
      return `unit u${i} t${i}${mirrored[i] ? ' mirrored' : ''} ${body}\n${survey}`;
    });
    return {
      system,
      text: `project "Quarry Lane" { ${settings.join('; ')} }\n${materials}${templates}${units.join('')}`,
    };
  });
