/**
 * Shortest paths over a distance graph in which few things refer to far ones, which is what chains
 * of dimensions are.
 *
 * Nodes are taken out one at a time, the one with the fewest neighbours first; each time its
 * neighbours are linked by the way through it. On a chain a node has two or three neighbours left,
 * so the work grows with the length of the chain and not with its square. Afterwards every shortest
 * path goes "up" through nodes taken out later and later and then "down" again, so one sweep each
 * way gives all distances from a node, and one more pass gives the exact distance both ways for
 * every link.
 *
 * Source of the method: directional path consistency (Dechter, Meiri and Pearl, 1991) and
 * P3C (Planken, de Weerdt and van der Krogt, "P3C: a new algorithm for the simple temporal problem",
 * ICAPS 2008). Both from memory.
 *
 * Where the graph is too entangled for this to be cheap, what is left of it (the core) is worked by
 * plain Bellman-Ford instead: right, only slower.
 */
import { type Arc, simpleNegativeCycle } from './constraints-graph.ts';

/** A node with more neighbours than this is not taken out: the pairs of them would be too many. */
const WIDEST = 16;

/**
 * Links between neighbours, as columns: the link's ends a and b, and its distances from a to b and from
 * b to a, Infinity where there is no way. `via` says what a distance is made of: an arc's number, or
 * ~node for the way through a node taken out earlier.
 */
interface Links {
  readonly a: number[];
  readonly b: number[];
  readonly ab: number[];
  readonly ba: number[];
  readonly viaAB: number[];
  readonly viaBA: number[];
  /** From a pair of nodes, as smaller * nodeCount + larger, to the link. */
  readonly byPair: Map<number, number>;
}

export interface Network {
  readonly nodeCount: number;
  readonly links: Links;
  /** The nodes taken out, in that order. */
  readonly order: readonly number[];
  /** The nodes never taken out. Empty unless the graph is entangled. */
  readonly core: readonly number[];
  /** Each node's links to nodes taken out later than itself, or to nodes of the core. */
  readonly later: readonly (readonly number[])[];
}

/** Out: distances from a node. Home: distances to it. */
export type Direction = 'out' | 'home';

export type Built =
  | { readonly kind: 'network'; readonly network: Network }
  | { readonly kind: 'cycle'; readonly arcs: readonly number[] };

/** Builds the network of the arcs, or finds a simple cycle of negative weight (arcs by number, in order). */
export function buildNetwork(nodeCount: number, arcs: readonly Arc[]): Built {
  const links: Links = { a: [], b: [], ab: [], ba: [], viaAB: [], viaBA: [], byPair: new Map() };
  const linksOf: number[][] = Array.from({ length: nodeCount }, () => []);

  function linkBetween(p: number, q: number): number {
    const pair = pairOf(nodeCount, p, q);
    const known = links.byPair.get(pair);
    if (known !== undefined) return known;
    const link = links.a.push(p) - 1;
    links.b.push(q);
    links.ab.push(Infinity);
    links.ba.push(Infinity);
    links.viaAB.push(0);
    links.viaBA.push(0);
    links.byPair.set(pair, link);
    linksOf[p]?.push(link);
    linksOf[q]?.push(link);
    return link;
  }

  function cycleOver(link: number): Built {
    const [a, b] = [links.a[link] as number, links.b[link] as number];
    const walk = [...unpack(links, nodeCount, a, b), ...unpack(links, nodeCount, b, a)];
    return { kind: 'cycle', arcs: simpleNegativeCycle(arcs, walk) };
  }

  for (let index = 0; index < arcs.length; index++) {
    const { from, to, weight } = arcs[index] as Arc;
    if (from === to) {
      if (weight < 0) return { kind: 'cycle', arcs: [index] };
      continue;
    }
    const link = linkBetween(from, to);
    shorten(links, link, from, weight, index);
    if (isNegative(links, link)) return cycleOver(link);
  }

  const order: number[] = [];
  const taken = new Uint8Array(nodeCount);
  const queue = fewestFirst(linksOf.map((list) => list.length));
  const stillIn = (node: number) => (link: number) => taken[otherEnd(links, link, node)] === 0;

  for (let node = queue.next(); node !== undefined; node = queue.next()) {
    taken[node] = 1;
    order.push(node);
    const later = (linksOf[node] as number[]).filter(stillIn(node));
    linksOf[node] = later;
    for (const link of later) queue.change(otherEnd(links, link, node), -1);
    for (let i = 1; i < later.length; i++) {
      for (let j = 0; j < i; j++) {
        const [first, second] = [later[i] as number, later[j] as number];
        const [p, q] = [otherEnd(links, first, node), otherEnd(links, second, node)];
        const before = links.a.length;
        const link = linkBetween(p, q);
        if (link === before) {
          queue.change(p, 1);
          queue.change(q, 1);
        }
        shorten(links, link, p, distance(links, first, p) + distance(links, second, node), ~node);
        shorten(links, link, q, distance(links, second, q) + distance(links, first, node), ~node);
        if (isNegative(links, link)) return cycleOver(link);
      }
    }
  }

  const core: number[] = [];
  for (let node = 0; node < nodeCount; node++) if (taken[node] === 0) core.push(node);
  for (const node of core) linksOf[node] = (linksOf[node] as number[]).filter(stillIn(node));

  const network: Network = { nodeCount, links, order, core, later: linksOf };
  const round = settleCore(network, new Float64Array(nodeCount), 'out');
  if (round) {
    const walk = round.flatMap(([from, to]) => unpack(links, nodeCount, from, to));
    return { kind: 'cycle', arcs: simpleNegativeCycle(arcs, walk) };
  }
  if (core.length === 0) tighten(network);
  return { kind: 'network', network };
}

/**
 * Lowers `values` in place until no link can lower them further: values[v] becomes the least, over all
 * u, of values[u] + the distance from u to v ('out') or from v to u ('home').
 */
export function sweep(network: Network, values: Float64Array, direction: Direction): void {
  const { links, order, later } = network;
  for (const node of order) {
    const value = values[node] as number;
    if (value === Infinity) continue;
    for (const link of later[node] as readonly number[]) {
      const other = otherEnd(links, link, node);
      const reached = value + distance(links, link, direction === 'out' ? node : other);
      if (reached < (values[other] as number)) values[other] = reached;
    }
  }
  settleCore(network, values, direction);
  for (let index = order.length - 1; index >= 0; index--) {
    const node = order[index] as number;
    for (const link of later[node] as readonly number[]) {
      const other = otherEnd(links, link, node);
      const reached = (values[other] as number) + distance(links, link, direction === 'out' ? other : node);
      if (reached < (values[node] as number)) values[node] = reached;
    }
  }
}

/** All distances from ('out') or to ('home') one node; Infinity where there is no way. */
export function distances(network: Network, node: number, direction: Direction): Float64Array {
  const values = new Float64Array(network.nodeCount).fill(Infinity);
  values[node] = 0;
  sweep(network, values, direction);
  return values;
}

/** The distances from a to b and from b to a. At once for neighbours, by a sweep otherwise. */
export function distancesBetween(network: Network, a: number, b: number): { there: number; back: number } {
  if (a === b) return { there: 0, back: 0 };
  const { nodeCount, links, core } = network;
  const link = core.length === 0 ? links.byPair.get(pairOf(nodeCount, a, b)) : undefined;
  if (link !== undefined) return { there: distance(links, link, a), back: distance(links, link, b) };
  return {
    there: distances(network, a, 'out')[b] as number,
    back: distances(network, a, 'home')[b] as number,
  };
}

/** Makes every link exact, latest first: a shortest way from a node leaves by one of its later links. */
function tighten({ nodeCount, links, order, later }: Network): void {
  for (let index = order.length - 1; index >= 0; index--) {
    const node = order[index] as number;
    const own = later[node] as readonly number[];
    if (own.length < 2) continue;
    const out = own.map((link) => distance(links, link, node));
    const home = own.map((link) => distance(links, link, otherEnd(links, link, node)));
    for (const link of own) {
      const target = otherEnd(links, link, node);
      for (let i = 0; i < own.length; i++) {
        const way = otherEnd(links, own[i] as number, node);
        if (way === target) continue;
        const between = links.byPair.get(pairOf(nodeCount, way, target)) as number;
        shorten(links, link, node, (out[i] as number) + distance(links, between, way), ~way);
        shorten(links, link, target, distance(links, between, target) + (home[i] as number), ~way);
      }
    }
  }
}

/**
 * Bellman-Ford over the core, in place. Answers undefined when it settles; where a negative cycle
 * keeps it from settling, the steps [from, to] of that cycle, in walking order when going out.
 */
function settleCore(network: Network, values: Float64Array, direction: Direction): [number, number][] | undefined {
  const { links, core, later } = network;
  if (core.length === 0) return undefined;
  const reachedFrom = new Int32Array(network.nodeCount).fill(-1);
  let changed = new Set(core);
  for (let round = 1; changed.size > 0; round++) {
    const next = new Set<number>();
    for (const node of changed) {
      for (const link of later[node] as readonly number[]) {
        const other = otherEnd(links, link, node);
        const reached = (values[node] as number) + distance(links, link, direction === 'out' ? node : other);
        if (reached < (values[other] as number)) {
          values[other] = reached;
          reachedFrom[other] = node;
          next.add(other);
        }
      }
    }
    changed = next;
    // After as many rounds as there are nodes a cycle is certain; usually one shows much sooner.
    if (round >= core.length || Number.isInteger(Math.log2(round))) {
      const cycle = cycleAmong(reachedFrom);
      if (cycle) return cycle;
    }
  }
  return undefined;
}

/** A cycle among the pointers "reached from", as steps in walking order. */
function cycleAmong(reachedFrom: Int32Array): [number, number][] | undefined {
  const seenFrom = new Int32Array(reachedFrom.length).fill(-1);
  for (let start = 0; start < reachedFrom.length; start++) {
    let node = start;
    while (node !== -1 && seenFrom[node] === -1) {
      seenFrom[node] = start;
      node = reachedFrom[node] as number;
    }
    if (node === -1 || seenFrom[node] !== start) continue;
    const steps: [number, number][] = [];
    let to = node;
    do {
      const from = reachedFrom[to] as number;
      steps.push([from, to]);
      to = from;
    } while (to !== node);
    return steps.reverse();
  }
  return undefined;
}

/** The arcs that the distance from one node to a neighbour is made of, in walking order. */
function unpack(links: Links, nodeCount: number, from: number, to: number): number[] {
  const path: number[] = [];
  const open: [number, number][] = [[from, to]];
  for (let step = open.pop(); step; step = open.pop()) {
    const [start, end] = step;
    const link = links.byPair.get(pairOf(nodeCount, start, end)) as number;
    const via = (links.a[link] === start ? links.viaAB[link] : links.viaBA[link]) as number;
    if (via >= 0) path.push(via);
    else open.push([~via, end], [start, ~via]);
  }
  return path;
}

function pairOf(nodeCount: number, p: number, q: number): number {
  return p < q ? p * nodeCount + q : q * nodeCount + p;
}

function otherEnd(links: Links, link: number, node: number): number {
  return (links.a[link] === node ? links.b[link] : links.a[link]) as number;
}

/** The distance over a link from this end of it to the other. */
function distance(links: Links, link: number, from: number): number {
  return (links.a[link] === from ? links.ab[link] : links.ba[link]) as number;
}

function isNegative(links: Links, link: number): boolean {
  return (links.ab[link] as number) + (links.ba[link] as number) < 0;
}

function shorten(links: Links, link: number, from: number, weight: number, via: number): void {
  const [distances, vias] = links.a[link] === from ? [links.ab, links.viaAB] : [links.ba, links.viaBA];
  if (weight >= (distances[link] as number)) return;
  distances[link] = weight;
  vias[link] = via;
}

/** Hands out nodes by fewest neighbours, up to WIDEST of them, as the counts change. */
function fewestFirst(counts: number[]): { next(): number | undefined; change(node: number, by: number): void } {
  const waiting: number[][] = Array.from({ length: WIDEST + 1 }, () => []);
  const gone = new Uint8Array(counts.length);
  for (let node = counts.length - 1; node >= 0; node--) waiting[counts[node] as number]?.push(node);
  return {
    next() {
      for (const [count, list] of waiting.entries()) {
        for (let node = list.pop(); node !== undefined; node = list.pop()) {
          // A node is written down again at each change, so old entries are passed over.
          if (gone[node] === 1 || counts[node] !== count) continue;
          gone[node] = 1;
          return node;
        }
      }
      return undefined;
    },
    change(node, by) {
      const count = (counts[node] as number) + by;
      counts[node] = count;
      waiting[count]?.push(node);
    },
  };
}
