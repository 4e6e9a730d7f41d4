/** Heights: fittings placed up a zone, as difference constraints between floor, fittings and ceiling. */
import type { Place } from '../../grammar/tree.ts';
import { type Weights, weightsOf } from './closing.ts';
import { type Bound, leastAssignment, solve } from './constraints.ts';
import type { Range } from './layout.ts';
import type { Label } from './run-labels.ts';
import { type Show, showLength, showRange } from './show.ts';
import type { Dim, DrawersSpec, FittingSpec, HeightSpec, RodSpec, RowSpec, ShelfSpec } from './spec.ts';
import { add, NONE, type Ticks, ticks } from './ticks.ts';

type Standing = ShelfSpec | RodSpec | DrawersSpec;

export type HeightsResult =
  | { readonly kind: 'placed'; readonly at: ReadonlyMap<string, Range> }
  | { readonly kind: 'conflict'; readonly labels: readonly Label[]; readonly weights: Weights; readonly excess: Ticks };

/**
 * Solves the heights of shelves, rods and drawers of one zone. `tall` is the thickness of a shelf or the
 * height of a stack of drawers; a rod's node is its centre, that of the others their underside. Fittings whose height is not known are left out.
 */
export function placeHeights(
  fittings: readonly FittingSpec[],
  ceiling: Dim | undefined,
  tall: (standing: ShelfSpec | DrawersSpec) => Ticks,
  show: Show,
): HeightsResult {
  const standing = standingOf(fittings);
  const node = new Map(standing.map((f, i) => [f.name, i + 2]));
  const above = (f: Standing): Ticks => (f.kind === 'rod' ? NONE : tall(f));
  const bounds: Bound<Label>[] = [];
  const stated = new Map<unknown, { readonly bottom: Ticks; readonly top: Ticks }>();
  const push = (from: number, to: number, least: Ticks, most: Ticks | undefined, label: Label): void => {
    bounds.push({ from, to, least, most, label });
  };
  if (ceiling) {
    push(
      0,
      1,
      ceiling.value,
      ceiling.value,
      label(ceiling.place, `the wall is ${showLength(ceiling.value, show)} high`, ceiling.parameters, 'length'),
    );
  }
  for (const f of standing) {
    const at = node.get(f.name) as number;
    const own = f.kind === 'drawers' ? stackLabel(f, tall(f), show) : betweenLabel(f);
    push(0, at, NONE, undefined, own);
    if (ceiling) push(at, 1, above(f), undefined, own);
    for (const h of f.heights) {
      if (h.kind === 'at') bindToFloor(f, h, at);
      else bindToOther(f, h, at);
    }
  }
  for (const row of fittings) if (row.kind === 'row') bindRow(row);
  const solution = solve(2 + standing.length, bounds);
  if (solution.kind === 'impossible')
    return {
      kind: 'conflict',
      labels: solution.conflict.labels,
      weights: movable(weightsOf(solution.conflict), solution.conflict.excess),
      excess: solution.conflict.excess,
    };
  const values = drawnUp(
    leastAssignment(solution),
    bounds,
    standing.filter(hangsLoose).map((f) => node.get(f.name) as number),
  );
  const placed = new Map<string, Range>();
  for (const f of standing) {
    const at = node.get(f.name) as number;
    const value = values[at] as Ticks;
    placed.set(f.name, { value, least: solution.low[at] ?? value, most: solution.high[at] });
  }
  return { kind: 'placed', at: placed };

  function bindToFloor(f: Standing, h: Extract<HeightSpec, { kind: 'at' }>, at: number): void {
    const name = `${f.kind} ${f.name}`;
    const own = label(
      h.place,
      `${name} ${verb(f)} at ${showRange(h.least, h.most, show)}`,
      h.parameters,
      'width',
      name,
    );
    stated.set(own, { bottom: h.least, top: add(h.most, above(f)) });
    push(0, at, h.least, h.most, own);
  }

  /** Without what would have to move past the ceiling or the floor to end the conflict; where the ceiling takes part in it, all of them. */
  function movable(weights: Weights, excess: Ticks): Weights {
    if ([...weights.keys()].some(({ place }) => place === ceiling?.place)) return weights;
    return new Map(
      [...weights].filter(([one, weight]) => {
        const { bottom, top } = stated.get(one) ?? {};
        if (weight > 0) return bottom === undefined || bottom >= excess;
        return top === undefined || !ceiling || add(top, excess) <= ceiling.value;
      }),
    );
  }

  function bindToOther(f: Standing, h: Extract<HeightSpec, { kind: 'under' | 'above' }>, at: number): void {
    const other = standing.find((o) => o.name === h.of);
    const otherNode = node.get(h.of);
    if (!other || otherNode === undefined) return;
    const text = `${f.kind} ${f.name} ${verb(f)} ${h.orMore ? 'at least ' : ''}${showLength(h.by, show)} ${h.kind} ${h.of}`;
    const order = h.kind === 'under' ? ([f.name, h.of] as const) : ([h.of, f.name] as const);
    const named: Label = { ...label(h.place, text, h.parameters, 'width'), order };
    // Under: from the upper face of a lower shelf, or the centre of a lower rod, to the other's datum.
    const distance = ticks(h.by + (h.kind === 'under' ? above(f) : above(other)));
    const most = h.orMore ? undefined : distance;
    if (h.kind === 'under') push(at, otherNode, distance, most, named);
    else push(otherNode, at, distance, most, named);
  }

  function bindRow(row: RowSpec): void {
    const upper = node.get(row.upper);
    const lower = row.lower === undefined ? 0 : node.get(row.lower);
    if (upper === undefined || lower === undefined) return;
    if (!row.pitch || row.count === undefined) {
      push(
        lower,
        upper,
        NONE,
        undefined,
        label(row.place, `row ${row.name} stands between ${row.lower ?? 'the floor'} and ${row.upper}`, [], 'start'),
      );
      return;
    }
    const spaces = row.count + 1;
    const { least, most } = row.pitch;
    const text = `row ${row.name} has ${row.count} shelves at a pitch of ${showRange(least, most, show)}`;
    push(
      lower,
      upper,
      ticks(spaces * least),
      ticks(spaces * most),
      label(row.pitch.place, text, row.pitch.parameters, 'width'),
    );
  }
}

/** Says how far it is at least under another, and nothing else: it belongs as near to that as it may come. */
function hangsLoose({ heights }: Standing): boolean {
  return heights.every(({ kind }) => kind === 'under') && heights.some((h) => h.kind === 'under' && h.orMore);
}

/** The same values, with some nodes as high as all others leave them. */
function drawnUp(values: readonly Ticks[], bounds: readonly Bound<Label>[], nodes: readonly number[]): Ticks[] {
  const drawn = [...values];
  const placeOfNode = (node: number): number => drawn[node] as number;
  const limitOf = (node: number): number => {
    let limit = Number.POSITIVE_INFINITY;
    for (const { from, to, least, most } of bounds) {
      if (from === node && least !== undefined) limit = Math.min(limit, placeOfNode(to) - least);
      else if (to === node && most !== undefined) limit = Math.min(limit, placeOfNode(from) + most);
    }
    return limit;
  };
  // One may hang under another that is drawn up itself.
  for (let round = 0, isMoved = true; isMoved && round < nodes.length; round++) {
    isMoved = false;
    for (const node of nodes) {
      const limit = limitOf(node);
      if (limit <= placeOfNode(node) || limit === Number.POSITIVE_INFINITY) continue;
      drawn[node] = ticks(limit);
      isMoved = true;
    }
  }
  return drawn;
}

/**
 * The fittings that have a height of their own or from another that has one. A height that cannot be
 * read has been reported where it stands; what is placed from it is not known then, and not made up.
 */
function standingOf(fittings: readonly FittingSpec[]): readonly Standing[] {
  let standing = fittings.filter(
    (f): f is Standing => (f.kind === 'shelf' || f.kind === 'rod' || f.kind === 'drawers') && f.heights.length > 0,
  );
  for (;;) {
    const names = new Set(standing.map((f) => f.name));
    const known = standing.filter((f) => f.heights.some((h) => h.kind === 'at' || names.has(h.of)));
    if (known.length === standing.length) return standing;
    standing = known;
  }
}

function verb({ kind }: Standing): 'is' | 'are' {
  return kind === 'drawers' ? 'are' : 'is';
}

function betweenLabel({ kind, name, place }: Standing): Label {
  return label(place, `${kind} ${name} stands between floor and ceiling`, [], 'start');
}

/** A stack is as high as its fronts together: of nothing else that is placed does the height say so much. */
function stackLabel({ name, place, count, each }: DrawersSpec, tall: Ticks, show: Show): Label {
  const fronts = each && count > 1 ? `, ${count} of ${showLength(each.value, show)} each` : '';
  const text = `drawers ${name} are ${showLength(tall, show)} high${fronts}`;
  return { ...label(place, text, each?.parameters ?? [], 'width'), tall: `drawers ${name}` };
}

function label(place: Place, text: string, parameters: readonly string[], role: Label['role'], of?: string): Label {
  return { place, text, parameters, role, ...(of !== undefined && { of }) };
}
