/** What holds a rod: hooks under the brackets above it, and a cup at each end that meets a wall or a panel. */
import type { RodLayout } from '../../model/layout.ts';
import type { Hardware } from '../../model/materials.ts';
import { NONE, subtract, type Ticks } from '../../model/ticks.ts';
import { endOf, onNextWall, overlaps } from './ends.ts';
import { atEnds, type Bracketed, type Fixing, holdOf, type Site, sides } from './fixing.ts';
import { type Moving, standsOf } from './positions.ts';

export function rodFixings(rod: RodLayout, site: Site): Fixing[] {
  return rod.carried.flatMap((hardware) => {
    if (hardware.role === 'hook') return hooks(rod, hardware, site);
    return hardware.role === 'cup' ? cups(rod, hardware, site) : [];
  });
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

function hooks(rod: RodLayout, hardware: Hardware, { bracketed }: Site): Fixing[] {
  return bracketsOver(rod, bracketed(rod.box.x)).map((bracket) => ({
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

function cups(rod: RodLayout, hardware: Hardware, { layout, studs }: Site): Fixing[] {
  const ends = sides.map((side) => endOf(rod, side, layout));
  const atWalls = sides.flatMap((side, i): Fixing[] => {
    if (ends[i] !== 'wall') return [];
    const next = onNextWall(rod.wall, side, rod.fromWall, layout);
    const known = next && studs.get(next.wall);
    const at = next?.at ?? rod.fromWall;
    const moving: Moving = { from: at, to: at, spacing: undefined, shift: noShift, studs: known ?? [] };
    return [
      {
        part: rod.path,
        hardware,
        role: 'cup',
        wall: next?.wall,
        at,
        out: NONE,
        height: rod.at.value,
        hold: holdOf(hardware, standsOf([at], moving)[0]?.stud, known),
        shift: NONE,
        reason: 'end',
      },
    ];
  });
  return [...atWalls, ...atEnds(rod, hardware, 'cup', ends, 'panel', rod.fromWall)];
}

const noShift = { most: NONE, step: undefined };
