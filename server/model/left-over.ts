/** What the zones of a run leave over, and gaps that take it. */

import { added, freeName } from './edits.ts';
import type { Fix } from './finding.ts';
import { otherWall } from './mirror.ts';
import type { PlacedResult } from './run.ts';
import { type Show, showLength } from './show.ts';
import type { ZoneSpec } from './spec.ts';
import { type Ticks, ticks } from './ticks.ts';
import { wallName } from './wall-name.ts';

export type Holes = PlacedResult['left'];

/** `20in is left over on wall one, from 0in to 20in, and 40in from 60in to 100in.` */
export function leftOverSaid(holes: Holes, wall: string, show: Show): string {
  const length = (amount: Ticks): string => showLength(amount, show);
  const at = ({ from, width }: Holes[number]): string => `from ${length(from)} to ${length(ticks(from + width))}`;
  const [first, ...others] = holes;
  if (!first) return '';
  const more = others.map((hole) => ` and ${length(hole.width)} ${at(hole)}`).join(',');
  return `${length(first.width)} is left over on ${wallName(wall)}, ${at(first)}${more && `,${more}`}.`;
}

export function sumOf(holes: Holes): Ticks {
  return ticks(holes.reduce((sum, { width }) => sum + width, 0));
}

export interface Beside {
  /** They have the names that are taken. */
  readonly siblings: readonly ZoneSpec[];
  /** Left out inside of a zone. */
  readonly wall?: string;
  /** As the unit stands: what is written is the other way round. */
  readonly mirrored: boolean;
}

/** A gap for each. By hand: that it is meant is for somebody to say. */
export function gapsFor({ zones, left }: PlacedResult, { siblings, wall, mirrored }: Beside): Fix[] {
  const taken = siblings.map(({ name }) => name);
  const statement = [...zones.keys()][0]?.place.statement.parent;
  if (statement?.kind !== 'statement') return [];
  const on = wall === undefined ? '' : ` on ${mirrored ? otherWall(wall) : wall}`;
  const texts = left.map((hole) => {
    const name = freeName('rest', taken);
    taken.push(name);
    return `gap ${name}${on}${whereIs(hole, zones, mirrored)} { width fill }`;
  });
  const edit = added(statement, texts.join('; '));
  return edit ? [{ title: `Write ${texts.join(', ')}`, edits: [edit], byHand: true }] : [];
}

/** As it is written: behind the zone to its left, from the right end where that zone hangs on it, or from the left end. */
function whereIs({ from, width }: Holes[number], zones: PlacedResult['zones'], mirrored: boolean): string {
  const beside = (side: 'left' | 'right'): ZoneSpec | undefined =>
    [...zones].find(([, placed]) =>
      (side === 'left') === mirrored
        ? placed.from.value === from + width
        : placed.from.value + placed.width.value === from,
    )?.[0];
  const before = beside('left');
  if (!before) return '';
  return rootSide(before, [...zones.keys()]) === (mirrored ? 'left' : 'right') && !beside('right')
    ? ' from right'
    : ` after ${before.name}`;
}

/** The end that a chain of zones begins at, in the unit as it stands. */
function rootSide(zone: ZoneSpec, all: readonly ZoneSpec[]): 'left' | 'right' | undefined {
  let root: ZoneSpec | undefined = zone;
  for (let steps = 0; root?.start.kind === 'next' && steps < all.length; steps++) {
    const name: string = root.start.zone;
    root = all.find((other) => other.name === name);
  }
  return root && 'side' in root.start ? root.start.side : undefined;
}
