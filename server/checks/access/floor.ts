/** Where a wheelchair stands and turns: clear floor, alcoves, knees and toes, turning space. */
import type { RuleSource } from '../../model/rule.ts';
import { add, greatest, inches, least, NONE, type Ticks } from '../../model/ticks.ts';
import type { Approach } from './reach.ts';
import { ada, walkInText } from './sources.ts';

export interface Rectangle {
  /** Along the wall or the opening. */
  readonly width: Ticks;
  /** Away from it. */
  readonly depth: Ticks;
}

export const clearFloor = {
  short: inches(30),
  long: inches(48),
  source: ada('305.3, size of the clear floor space'),
} as const;

/** The clear floor that an approach takes up: its long side lies the way the person faces. */
export function clearFloorFor(approach: Approach): Rectangle {
  const { short, long } = clearFloor;
  return approach === 'forward' ? { width: short, depth: long } : { width: long, depth: short };
}

/** The approaches that a free stretch of floor gives room for. */
export function approachesOn({ width, depth }: Rectangle): Approach[] {
  return (['forward', 'side'] as const).filter((approach) => {
    const needed = clearFloorFor(approach);
    return width >= needed.width && depth >= needed.depth;
  });
}

/** Confined on three sides, deeper than `deeperThan`: as wide as `wide`. */
export const alcoves: Readonly<
  Record<Approach, { readonly deeperThan: Ticks; readonly wide: Ticks; readonly source: RuleSource }>
> = {
  forward: { deeperThan: inches(24), wide: inches(36), source: ada('305.7.1, alcove approached from the front') },
  side: { deeperThan: inches(15), wide: inches(60), source: ada('305.7.2, alcove approached from the side') },
};

/** How wide an alcove has to be for an approach. */
export function alcoveWidth(approach: Approach, depth: Ticks): Ticks {
  const { deeperThan, wide } = alcoves[approach];
  return depth > deeperThan ? wide : clearFloorFor(approach).width;
}

export const kneeAndToe = {
  /** Toes up to here, knees from here to `knees`. */
  toes: inches(9),
  knees: inches(27),
  deepest: inches(25),
  toeDepth: inches(17),
  /** What toes may have beyond the knees. */
  toeBeyondKnee: inches(6),
  kneeDepthAtToes: inches(11),
  kneeDepthAtKnees: inches(8),
  source: ada('306.2 and 306.3, toe and knee clearance'),
} as const;

/** How far in from the front it is free: at the floor, at 9 in and at 27 in high. */
export interface Beneath {
  readonly atFloor: Ticks;
  readonly atToes: Ticks;
  readonly atKnees: Ticks;
}

/** Between 9 and 27 in the free depth may shrink by 1 in each 6 in of height: 3 in in all. */
const shrink = inches(3);

/**
 * How far clear floor runs on beneath: as far as it is free from the floor to 27 in, or, where knees
 * and toes have at least the depths published, as far as the toes go. Never beyond 25 in.
 */
export function floorBeneath({ atFloor, atToes, atKnees }: Beneath): Ticks {
  const open = least(atFloor, atToes, atKnees, kneeAndToe.deepest);
  const knees = least(atToes, add(atKnees, shrink));
  const toes = least(atFloor, add(knees, kneeAndToe.toeBeyondKnee), kneeAndToe.deepest);
  const fits =
    atKnees >= kneeAndToe.kneeDepthAtKnees && knees >= kneeAndToe.kneeDepthAtToes && toes >= kneeAndToe.toeDepth;
  return greatest(NONE, open, fits ? toes : NONE);
}

export const walkIn = {
  /** A closet no deeper than this needs no turning space. */
  shallow: inches(48),
  shallowSource: walkInText,
  turning: inches(60),
  source: ada('304.3.1, turning space'),
} as const;

/** The circle that has to be free inside a closet that is entered; undefined where none has to be. */
export function turningSpace(depth: Ticks): Ticks | undefined {
  return depth > walkIn.shallow ? walkIn.turning : undefined;
}
