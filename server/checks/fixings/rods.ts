/** What holds a rod: hooks under the brackets above it, and a cup at each end that meets a wall or a panel. */

import { alikeOnce } from '../../model/alike.ts';
import type { RodLayout } from '../../model/layout.ts';
import type { EndKind, Hardware } from '../../model/materials.ts';
import { add, NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { endOf, onNextWall, overlaps, type Side } from './ends.ts';
import { atEnds, type Bracketed, type Fixing, holdOf, type Site, sides } from './fixing.ts';
import { type Moving, NEAR_STUD, standsOf, studsWithin } from './positions.ts';

/** A rod that no survey moves is held alike in all units whose brackets and ends are alike. */
const alike = alikeOnce<RodLayout, readonly Fixing[]>(4);

/** What a cup at one end is screwed to, where that is a wall; `studs` are those where it stands. */
interface AtWall {
  readonly wall: string | undefined;
  readonly at: Ticks;
  readonly studs: readonly Ticks[] | undefined;
}

export function rodFixings(rod: RodLayout, site: Site): readonly Fixing[] {
  const brackets = rod.carried.some(({ role }) => role === 'hook') ? bracketsOver(rod, site.bracketed(rod.box.x)) : [];
  const hasCups = rod.carried.some(({ role }) => role === 'cup');
  const ends = hasCups ? sides.map((side) => endOf(rod, side, site.layout)) : [];
  const walls = ends.map((end, i) => (end === 'wall' ? wallAt(rod, sides[i] as Side, site) : undefined));
  const circumstances = [...ends, ...walls.flatMap((wall) => [wall?.wall, wall?.at, wall?.studs?.join()]), ...brackets];
  return alike(rod, circumstances, () =>
    rod.carried.flatMap((hardware) => {
      if (hardware.role === 'hook') return hooks(rod, hardware, brackets);
      return hardware.role === 'cup' ? cups(rod, hardware, ends, walls) : [];
    }),
  );
}

function wallAt(rod: RodLayout, side: Side, { layout, studs }: Site): AtWall {
  const next = onNextWall(rod.wall, side, rod.fromWall, layout);
  const at = next?.at ?? rod.fromWall;
  const known = next && studs.get(next.wall);
  return {
    wall: next?.wall,
    at,
    studs: known && studsWithin(known, subtract(at, NEAR_STUD), add(at, NEAR_STUD)),
  };
}

/** The brackets that stand over a rod: those of the lowest shelf above it that has some along it. */
export function bracketsOver(rod: RodLayout, shelves: readonly Bracketed[]): readonly Fixing[] {
  const over = shelves
    .filter(
      ({ shelf }) => shelf.wall === rod.wall && shelf.at.value >= rod.at.value && overlaps(shelf.box.x, rod.box.x),
    )
    .map(({ shelf, brackets }) => ({
      height: shelf.at.value,
      brackets: brackets.filter(({ at }) => at >= rod.box.x[0] && at <= rod.box.x[1]),
    }))
    .filter(({ brackets }) => brackets.length > 0)
    .sort((a, b) => a.height - b.height);
  return over[0]?.brackets ?? [];
}

/** How far from the wall a hook holds a rod; undefined where the reach or the set-back is not stated. */
export function hookDistance(bracket: Hardware, hook: Hardware): Ticks | undefined {
  return bracket.reach === undefined || hook.setBack === undefined ? undefined : subtract(bracket.reach, hook.setBack);
}

function hooks(rod: RodLayout, hardware: Hardware, brackets: readonly Fixing[]): Fixing[] {
  return brackets.map((bracket) => ({
    part: rod.path,
    hardware,
    role: 'hook',
    wall: rod.wall,
    at: bracket.at,
    out: hookDistance(bracket.hardware, hardware) ?? rod.fromWall,
    height: rod.at.value,
    hold: { kind: 'part' },
    shift: NONE,
    reason: 'bracket',
  }));
}

function cups(
  rod: RodLayout,
  hardware: Hardware,
  ends: readonly EndKind[],
  walls: readonly (AtWall | undefined)[],
): Fixing[] {
  const atWalls = walls.flatMap((there): Fixing[] => {
    if (!there) return [];
    const { wall, at, studs } = there;
    const moving: Moving = { from: at, to: at, spacing: undefined, shift: noShift, studs: studs ?? [] };
    return [
      {
        part: rod.path,
        hardware,
        role: 'cup',
        wall,
        at,
        out: NONE,
        height: rod.at.value,
        hold: holdOf(hardware, standsOf([at], moving)[0]?.stud, studs),
        shift: NONE,
        reason: 'end',
      },
    ];
  });
  return [...atWalls, ...atEnds(rod, hardware, 'cup', ends, 'panel', rod.fromWall)];
}

const noShift = { most: NONE, step: undefined };
