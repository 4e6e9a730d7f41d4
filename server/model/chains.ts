/** Chains: zones that stand next to each other, and where they begin; how a run is made of them, or why it cannot be. */
import type { ZoneSpec } from './spec.ts';

/** What no length can mend. */
export type Unplaced =
  /** Zones that stand next to each other in a circle, or two on the same side of one. */
  | { readonly kind: 'tangled'; readonly zones: readonly ZoneSpec[]; readonly reason: 'circle' | 'same-side' }
  /** Two zones that begin at the same end, where one chain takes what is left: it would take nothing. */
  | { readonly kind: 'together'; readonly zones: readonly [ZoneSpec, ZoneSpec] }
  /** Zones of one chain that take what is left, or the first of two chains that both do and end where the other begins. */
  | { readonly kind: 'undecided'; readonly zones: readonly ZoneSpec[]; readonly chains: 'one' | 'two' }
  /** Zones whose shares hang together in more ways than are tried. */
  | { readonly kind: 'unsettled'; readonly zones: readonly ZoneSpec[] };

export interface Chain {
  /** From left to right. */
  readonly zones: ZoneSpec[];
  readonly root: ZoneSpec;
  readonly anchor: 'left' | 'right' | 'centred';
}

/** The chains of a run, or what no length could mend in them. */
export function decidedChains(zones: readonly ZoneSpec[]): Chain[] | Unplaced {
  const chains = chainsOf(zones);
  if ('kind' in chains) return chains;
  for (const { zones } of chains) {
    const fills = zones.filter((z) => z.width?.kind === 'fill');
    if (fills.length > 1) return { kind: 'undecided', zones: fills, chains: 'one' };
    if (fills.length === 1 && zones.some((z) => z.width?.kind === 'share'))
      return { kind: 'undecided', zones: zones.filter(takesRest), chains: 'one' };
  }
  for (const [i, chain] of chains.entries()) {
    const next = chains[i + 1];
    if (next && beginTogether(chain, next) && [...chain.zones, ...next.zones].some(takesRest))
      return { kind: 'together', zones: [chain.root, next.root] };
    if (!next || chain.anchor === 'right' || next.anchor === 'left') continue;
    const facing = [chain.zones.findLast(takesRest), next.zones.find(takesRest)].filter((z) => z !== undefined);
    if (facing.length > 1) return { kind: 'undecided', zones: facing, chains: 'two' };
  }
  return chains;
}

/** Both at the left end, which is where a zone begins that says nothing else. */
function beginTogether(...chains: readonly Chain[]): boolean {
  return chains.every(
    ({ root, zones }) => root.start.kind === 'end' && root.start.side === 'left' && root === zones[0],
  );
}

/** Whether a zone takes what is left, alone or by equal shares. */
export function takesRest({ width }: ZoneSpec): boolean {
  return width?.kind === 'fill' || width?.kind === 'share';
}

/** Zones that stand next to each other, as chains from left to right in their order along the run. */
function chainsOf(zones: readonly ZoneSpec[]): Chain[] | Unplaced {
  const byName = new Map(zones.map((z) => [z.name, z]));
  const rightOf = new Map<ZoneSpec, ZoneSpec>();
  const leftOf = new Map<ZoneSpec, ZoneSpec>();
  for (const zone of zones) {
    if (zone.start.kind !== 'next') continue;
    const beside = byName.get(zone.start.zone);
    if (!beside) continue;
    const [left, right] = zone.start.side === 'right' ? [beside, zone] : [zone, beside];
    const other = rightOf.get(left) ?? leftOf.get(right);
    if (other && other !== left && other !== right)
      return { kind: 'tangled', zones: [other, zone], reason: 'same-side' };
    rightOf.set(left, right);
    leftOf.set(right, left);
  }
  const chains: Chain[] = [];
  const taken = new Set<ZoneSpec>();
  for (const root of zones) {
    if (root.start.kind === 'next') continue;
    const chain = [root];
    for (let z = rightOf.get(root); z && !chain.includes(z); z = rightOf.get(z)) chain.push(z);
    for (let z = leftOf.get(root); z && !chain.includes(z); z = leftOf.get(z)) chain.unshift(z);
    for (const z of chain) taken.add(z);
    const anchor = root.start.kind === 'centred' ? 'centred' : root.start.side;
    chains.push({ zones: chain, root, anchor });
  }
  const loose = zones.filter((z) => !taken.has(z));
  if (loose.length > 0) return { kind: 'tangled', zones: loose, reason: 'circle' };
  const rank = { left: 0, centred: 1, right: 2 };
  const offset = ({ root, anchor }: Chain): number => {
    const value = root.start.kind === 'from' ? root.start.offset.value : 0;
    return anchor === 'right' ? -value : value;
  };
  return chains
    .map((chain, i) => ({ chain, i }))
    .sort((a, b) => rank[a.chain.anchor] - rank[b.chain.anchor] || offset(a.chain) - offset(b.chain) || a.i - b.i)
    .map(({ chain }) => chain);
}

/** Those of a chain that begins at the left between which and its beginning all widths are given. */
export function standingStill({ zones, root, anchor }: Chain): ZoneSpec[] {
  if (anchor !== 'left') return [];
  const at = zones.indexOf(root);
  const rightwards = zones.slice(at);
  const leftwards = zones.slice(0, at).reverse();
  const given = (z: ZoneSpec): boolean => z.width?.kind === 'fixed';
  const upToLoose = (of: readonly ZoneSpec[]): ZoneSpec[] => {
    const first = of.findIndex((z) => !given(z));
    return of.slice(0, first < 0 ? of.length : first);
  };
  // To the left of a root that is not given itself its neighbours still stand still: it begins at its left end.
  return [...upToLoose(rightwards), ...upToLoose(leftwards)];
}
