/** Zones along a wall, or inside zones, drawn at random: as a text, and as the rows of a linear programme. */
import fc from 'fast-check';
import { type Drawn, inside, many } from './closets.ts';
import { apart, type Row, row } from './linear.ts';

type Width =
  | { readonly kind: 'fixed'; readonly is: number }
  | { readonly kind: 'range'; readonly least: number; readonly most: number }
  | {
      readonly kind: 'fill' | 'share';
      readonly least: number | undefined;
      readonly most: number | undefined;
      readonly weight: number;
    };
interface Zone {
  readonly name: string;
  readonly width: Width;
  /** From the neighbour it is written beside. */
  readonly by: number;
}
interface Chain {
  readonly anchor: 'left' | 'right' | 'from left' | 'from right' | 'centred';
  readonly offset: number;
  readonly zones: readonly Zone[];
  readonly root: number;
}
const length = (n: number): string => `${n}/16in`;
const bounds = (least: number | undefined, most: number | undefined): string =>
  `${least === undefined ? '' : ` at least ${length(least)}`}${most === undefined ? '' : ` at most ${length(most)}`}`;

function widthText(width: Width): string {
  if (width.kind === 'fixed') return `width ${length(width.is)}`;
  if (width.kind === 'range') return `width from ${length(width.least)} to ${length(width.most)}`;
  const share = width.kind === 'share' && width.weight > 1 ? ` ${width.weight}` : '';
  return `width ${width.kind}${share}${bounds(width.least, width.most)}`;
}

function startText({ anchor, offset, zones, root }: Chain, i: number): string {
  if (i === root)
    return anchor === 'left'
      ? ''
      : anchor === 'centred'
        ? ' centred'
        : anchor === 'right'
          ? ' from right'
          : ` ${anchor} ${length(offset)}`;
  const zone = zones[i] as Zone;
  const [word, beside] = i > root ? ['after', zones[i - 1]] : ['before', zones[i + 1]];
  return ` ${word} ${beside?.name}${zone.by > 0 ? ` by ${length(zone.by)}` : ''}`;
}

export const isRest = ({ width }: Zone): boolean => width.kind === 'fill' || width.kind === 'share';
export const [from, to] = [(zone: Zone) => `${zone.name}<`, (zone: Zone) => `${zone.name}>`];

/**
 * Where the zones stand: along a wall as drawn, along one that was measured, or inside another zone; or inside one
 * whose width is a range or what is left, in another such one, on a wall beside one that takes so much.
 */
type On =
  | { readonly kind: 'wall' | 'zone' }
  | { readonly kind: 'nest'; readonly levels: readonly Level[]; readonly beside: number; readonly off: number }
  | { readonly kind: 'survey'; readonly more: readonly (readonly [off: number, at: number])[] };

/** A zone around others, by how much its ends differ from what is about right. */
interface Level {
  readonly below: number;
  readonly above: number;
  /** How wide the one behind it is; 0 for none. */
  readonly after: number;
  /** Takes what is left instead. */
  readonly fills: boolean;
}
/** From the innermost out. */
interface Nest {
  readonly wall: number;
  readonly beside: number;
  readonly levels: readonly {
    readonly least: number;
    readonly most: number;
    readonly after: number;
    readonly fills: boolean;
  }[];
}

function nestOf(inner: number, { levels, beside, off }: Extract<On, { kind: 'nest' }>): Nest {
  let about = inner;
  const made = levels.map(({ below, above, after, fills }) => {
    const least = Math.max(1, about - below);
    const one = { least, most: Math.max(least, about + above), after, fills };
    about += after;
    return one;
  });
  return { wall: Math.max(16, about + beside + off), beside, levels: made };
}

/** Of the zone at a level, from the innermost; of the wall behind the last. */
export const endsAt = (level: number): [string, string] =>
  level === 0 ? ['start', 'end'] : [`n${level}<`, `n${level}>`];

function nestRows({ wall, beside, levels }: Nest): Row[] {
  const rows = levels.flatMap(({ least, most, after, fills }, i) => {
    const [left, right] = endsAt(i);
    const [outerLeft, outerRight] = endsAt(i + 1);
    const before = i === levels.length - 1 && beside > 0 ? 'x>' : outerLeft;
    const last = after > 0 ? `m${i}>` : right;
    const within = i === levels.length - 1 ? 'wall' : inside(`n${i + 1} width`);
    return [
      row(`n${i} width`, apart(left, right), fills ? 0 : least, fills ? undefined : most),
      row(`n${i} start`, apart(before, left), 0, 0),
      ...(after > 0
        ? [
            row('nature', apart(`m${i}<`, last), 0, undefined),
            row(`m${i} width`, apart(`m${i}<`, last), after, after),
            row(`m${i} start`, apart(right, `m${i}<`), 0, 0),
          ]
        : []),
      row(within, apart(outerLeft, before === outerLeft ? left : 'x<'), 0, undefined),
      row(within, apart(last, outerRight), 0, undefined),
      ...(fills ? [row(`n${i} width`, apart(last, outerRight), undefined, 0)] : []),
    ];
  });
  const [left, right] = endsAt(levels.length);
  const first =
    beside > 0
      ? [
          row('nature', apart('x<', 'x>'), 0, undefined),
          row('x width', apart('x<', 'x>'), beside, beside),
          row('x start', apart(left, 'x<'), 0, 0),
        ]
      : [];
  return [...rows, ...first, row('wall', apart(left, right), wall, wall)];
}

function nestText({ wall, beside, levels }: Nest, left: ReadonlySet<string>): { open: string; close: string } {
  const width = (name: string, text: string): string => (left.has(`${name} width`) ? '' : `width ${text}`);
  let open = `  wall back { length ${length(wall)}; height 96in }\n`;
  let close = '';
  if (beside > 0) open += `  zone x on back { ${width('x', length(beside))} }\n`;
  for (let i = levels.length - 1; i >= 0; i--) {
    const { least, most, after, fills } = levels[i] as Nest['levels'][number];
    const isOutermost = i === levels.length - 1;
    const on = isOutermost ? ' on back' : '';
    const says = fills ? 'fill' : `from ${length(least)} to ${length(most)}`;
    open += `  zone n${i}${on}${isOutermost && beside > 0 ? ' after x' : ''} { width ${says}\n`;
    const behind = after > 0 ? `  zone m${i}${on} after n${i} { ${width(`m${i}`, length(after))} }\n` : '';
    close = `  }\n${behind}${close}`;
  }
  return { open, close };
}

function rowsOf(wall: number, chains: readonly Chain[], whole = 'wall', nest?: Nest): Row[] {
  const rows: Row[] = nest ? nestRows(nest) : [row(whole, apart('start', 'end'), wall, wall)];
  const say = (says: string, a: string, b: string, least: number | undefined, most: number | undefined = undefined) =>
    rows.push(row(says, apart(a, b), least, most));
  chains.forEach((chain, c) => {
    const { zones, root, anchor, offset } = chain;
    const first = zones[0] as Zone;
    const last = zones.at(-1) as Zone;
    const start = zones[root] as Zone;
    for (const zone of zones) {
      const { width } = zone;
      const says = `${zone.name} width`;
      if (width.kind === 'fixed') say(says, from(zone), to(zone), width.is, width.is);
      else say(says, from(zone), to(zone), width.least ?? 0, width.most);
      if (width.kind === 'share')
        rows.push(row(says, [...apart(from(zone), to(zone)), [`share ${c}`, -width.weight]], 0, 0));
      // A width that is not said is nothing or more.
      say('nature', from(zone), to(zone), 0);
    }
    for (let i = 1; i < zones.length; i++) {
      const beside = zones[i > root ? i : i - 1] as Zone;
      say(`${beside.name} start`, to(zones[i - 1] as Zone), from(zones[i] as Zone), beside.by, beside.by);
    }
    if (anchor === 'left' || anchor === 'from left') say(`${start.name} start`, 'start', from(start), offset, offset);
    if (anchor === 'right' || anchor === 'from right') say(`${start.name} start`, to(start), 'end', offset, offset);
    if (anchor === 'centred')
      rows.push(
        row(
          `${start.name} start`,
          [
            [from(first), 1],
            [to(last), 1],
            ['end', -1],
            ['start', -1],
          ],
          0,
          0,
        ),
      );
    // Chains stand in their order, and within the wall; what takes the rest leaves nothing beside it.
    const rest = zones.find(isRest);
    const [before, after] = [chains[c - 1]?.zones.at(-1), chains[c + 1]?.zones[0]];
    if (before) say(`${start.name} start`, to(before), from(first), 0);
    else say(whole, 'start', from(first), 0);
    if (!after) say(whole, to(last), 'end', 0);
    if (rest && !anchor.endsWith('left'))
      say(`${rest.name} width`, before ? to(before) : 'start', from(first), undefined, 0);
    if (rest && !anchor.endsWith('right'))
      say(`${rest.name} width`, to(last), after ? from(after) : 'end', undefined, 0);
  });
  return rows;
}

export function drawnOf(wall: number, chains: readonly Chain[], on: On): Drawn & { readonly nest: Nest | undefined } {
  const all = chains.flatMap(({ zones }) => zones);
  const lengths = on.kind === 'survey' ? on.more.map(([off]) => Math.max(1, wall + off)) : [wall];
  const nest = on.kind === 'nest' ? nestOf(wall, on) : undefined;
  const whole = nest ? inside('n0 width') : on.kind === 'zone' ? 'outer width' : 'wall';
  const isInside = on.kind === 'zone' || nest !== undefined;
  const [open, close] =
    on.kind === 'zone'
      ? [`  wall back { length 900m; height 96in }\n  zone outer on back { width ${length(wall)}\n`, '  }\n']
      : [`  wall back { length ${length(wall)}; height 96in }\n`, ''];
  const found =
    on.kind === 'survey'
      ? `survey u { wall back { ${on.more.map(([, at], i) => `length ${length(lengths[i] as number)} at ${at}in`).join('; ')} } }\n`
      : '';
  return {
    textWithout: (left) => {
      const around = nest ? nestText(nest, left) : { open, close };
      return `template t {\n${around.open}${chains
        .flatMap((chain) =>
          chain.zones.map((zone, i) => {
            const width = left.has(`${zone.name} width`) ? '' : widthText(zone.width);
            return `  zone ${zone.name}${isInside ? '' : ' on back'}${startText(chain, i)} { ${width} }\n`;
          }),
        )
        .join('')}${around.close}}\nunit u t\n${found}`;
    },
    rows: rowsOf(Math.min(...lengths), chains, whole, nest),
    measured: lengths.map((one) => rowsOf(one, chains, whole, nest)),
    nest,
    within: all.flatMap((zone) => [
      row('nature', apart('start', from(zone)), 0, undefined),
      row('nature', apart(to(zone), 'end'), 0, undefined),
    ]),
    loose: [
      ...all.map(({ name }) => `${name} width`),
      ...(nest ? nest.levels.flatMap(({ after }, i) => (after > 0 ? [`m${i} width`] : [])) : []),
      ...(nest && nest.beside > 0 ? ['x width'] : []),
    ],
    inSteps: chains.some(({ anchor }) => anchor === 'centred') || all.some(({ width }) => width.kind === 'share'),
  };
}

/** Zones, a wall that is about as long as they are, and where the chains begin. */
export const walls = (shares: boolean) => {
  const least = fc.option(fc.integer({ min: 1, max: 400 }), { nil: undefined });
  const more = fc.option(fc.integer({ min: 0, max: 300 }), { nil: undefined });
  const plain: fc.Arbitrary<Width> = fc.oneof(
    { weight: 3, arbitrary: fc.integer({ min: 16, max: 500 }).map((is): Width => ({ kind: 'fixed', is })) },
    {
      weight: 2,
      arbitrary: fc
        .tuple(fc.integer({ min: 16, max: 400 }), fc.integer({ min: 1, max: 300 }))
        .map(([low, by]): Width => ({ kind: 'range', least: low, most: low + by })),
    },
  );
  const rest = (kind: 'fill' | 'share'): fc.Arbitrary<Width> =>
    fc.tuple(least, more, fc.integer({ min: 1, max: 3 })).map(([low, by, weight]) => ({
      kind,
      least: low,
      most: by === undefined ? undefined : (low ?? 100) + by,
      weight,
    }));
  const chain = (anchors: Chain['anchor'][]) =>
    fc
      .record({
        anchor: fc.constantFrom(...anchors),
        widths: fc.array(plain, { minLength: 1, maxLength: 3 }),
        rests: shares
          ? fc.array(rest('share'), { maxLength: anchors.includes('left') ? 3 : 1 })
          : fc.array(rest('fill'), { maxLength: 1 }),
        order: many(fc.nat(1000), 6),
        by: many(fc.constantFrom(0, 0, 0, 12, 40), 6),
        offset: fc.integer({ min: 1, max: 200 }),
        root: fc.nat(5),
      })
      .map(
        ({
          anchor,
          widths,
          rests,
          order,
          by,
          offset,
          root,
        }): Omit<Chain, 'zones'> & { zones: Omit<Zone, 'name'>[] } => {
          const zones = [...widths, ...rests]
            .map((width, i) => ({ width, at: order[i] as number }))
            .sort((a, b) => a.at - b.at)
            .map(({ width }, i) => ({ width, by: by[i] as number }));
          const at = anchor === 'left' ? 0 : anchor === 'right' ? zones.length - 1 : root % zones.length;
          return { anchor, offset: anchor.startsWith('from') ? offset : 0, zones, root: at };
        },
      );
  return fc
    .record({
      left: chain(['left', 'from left']),
      middle: shares
        ? fc.oneof({ weight: 3, arbitrary: fc.constant(undefined) }, chain(['centred']))
        : fc.constant(undefined),
      right: fc.option(chain(['right', 'from right']), { nil: undefined, freq: 2 }),
      hasLeft: fc.integer({ min: 0, max: 3 }),
      share: fc.integer({ min: -20, max: 60 }),
    })
    .map(({ left, middle, right, hasLeft, share }) => {
      const chosen = [...(hasLeft > 0 || !right ? [left] : []), ...(middle ? [middle] : []), ...(right ? [right] : [])];
      const chains = chosen.map(
        (one, c): Chain => ({ ...one, zones: one.zones.map((zone, i) => ({ ...zone, name: `${'abc'[c]}${i}` })) }),
      );
      const needed = chains.reduce(
        (sum, { zones, offset }) =>
          sum +
          offset +
          zones.reduce((s, { width, by }) => s + by + (width.kind === 'fixed' ? width.is : (width.least ?? 40)), 0),
        0,
      );
      return { wall: Math.max(64, Math.round((needed * (100 + share)) / 100)), chains };
    });
};

/** Shares at one side of something centred, or at both, on a wall where all that can be about right. */
export const besideCentred = fc
  .record({
    middle: fc.array(fc.tuple(fc.integer({ min: 16, max: 300 }), fc.constantFrom(0, 0, 24, 100)), {
      minLength: 1,
      maxLength: 2,
    }),
    sides: fc.constantFrom('left', 'right', 'both'),
    shares: many(
      fc.record({
        low: fc.integer({ min: 1, max: 120 }),
        by: fc.option(fc.integer({ min: 0, max: 60 }), { nil: undefined, freq: 4 }),
        weight: fc.constantFrom(1, 1, 2, 3),
      }),
      6,
    ),
    counts: fc.tuple(fc.integer({ min: 1, max: 3 }), fc.integer({ min: 1, max: 3 })),
    fixed: fc.option(fc.integer({ min: 16, max: 100 }), { nil: undefined }),
    share: fc.integer({ min: -10, max: 40 }),
  })
  .map(({ middle, sides, shares, counts, fixed, share }) => {
    const own = (name: string, count: number, of: typeof shares): Zone[] =>
      of.slice(0, count).map(({ low, by, weight }, i) => ({
        name: `${name}${i}`,
        width: { kind: 'share', least: low, most: by === undefined ? undefined : low + 20 + by, weight },
        by: 0,
      }));
    const plain: Zone[] = fixed === undefined ? [] : [{ name: 'a9', width: { kind: 'fixed', is: fixed }, by: 0 }];
    const left = [...own('a', counts[0], shares), ...plain];
    const right = own('c', counts[1], shares.slice(3));
    const centre = middle.map(([low, by], i): Zone => {
      const width: Width = by > 0 ? { kind: 'range', least: low, most: low + by } : { kind: 'fixed', is: low };
      return { name: `b${i}`, width, by: 0 };
    });
    const chains: Chain[] = [
      ...(sides === 'right' ? [] : [{ anchor: 'left' as const, offset: 0, zones: left, root: 0 }]),
      { anchor: 'centred', offset: 0, zones: centre, root: 0 },
      ...(sides === 'left' ? [] : [{ anchor: 'right' as const, offset: 0, zones: right, root: right.length - 1 }]),
    ];
    const least = (zones: readonly Zone[]): number =>
      zones.reduce((sum, { width }) => sum + (width.kind === 'fixed' ? width.is : (width.least ?? 0)), 0);
    const side = Math.max(sides === 'right' ? 0 : least(left), sides === 'left' ? 0 : least(right));
    return { wall: Math.max(32, Math.round(((2 * side + least(centre)) * (100 + share)) / 100)), chains };
  });

export const places: fc.Arbitrary<On> = fc.oneof(
  { weight: 3, arbitrary: fc.constant({ kind: 'wall' as const }) },
  { weight: 1, arbitrary: fc.constant({ kind: 'zone' as const }) },
  {
    weight: 2,
    arbitrary: fc.record({
      kind: fc.constant('nest' as const),
      levels: fc.array(
        fc.record({
          below: fc.integer({ min: -60, max: 300 }),
          above: fc.integer({ min: -60, max: 300 }),
          after: fc.constantFrom(0, 40, 200),
          fills: fc.integer({ min: 0, max: 3 }).map((n) => n === 0),
        }),
        { minLength: 1, maxLength: 3 },
      ),
      beside: fc.constantFrom(0, 100, 500),
      off: fc.integer({ min: -100, max: 400 }),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant('survey' as const),
      more: fc.uniqueArray(fc.tuple(fc.integer({ min: -40, max: 40 }), fc.integer({ min: 1, max: 95 })), {
        minLength: 1,
        maxLength: 3,
        selector: ([, at]) => at,
      }),
    }),
  },
);
