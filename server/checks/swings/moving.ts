/** Drawers on their way out, and what is before them. */
import type { Place } from '../../../grammar/tree.ts';
import type { Fix } from '../../model/finding.ts';
import type { Box, DrawersLayout } from '../../model/layout.ts';
import type { Rule } from '../../model/rule.ts';
import { add, type Ticks } from '../../model/ticks.ts';
import type { Standing } from '../room.ts';
import type { Path } from './ahead.ts';

/** Something straight before drawers, and how far they come out before they meet it. */
export interface InTheWay {
  readonly rule: Rule;
  /** As a message names it. */
  readonly what: string;
  readonly place: Place;
  readonly way: Ticks;
  /** Which heights of it count; undefined where all do. */
  readonly z?: Box['z'];
  /** What takes it out of the way. */
  readonly fixes?: readonly Fix[];
}

export interface Moving {
  readonly drawers: DrawersLayout;
  readonly path: Path;
  /** What they take up as they come out, without where they are closed. */
  readonly swept: Standing;
}

export function movingOf(drawers: DrawersLayout): Moving {
  const { box, wall, pullOut } = drawers;
  const front = box.y[1];
  return {
    drawers,
    path: { x: box.x, front },
    swept: { wall, box: { ...box, y: [front, add(front, pullOut)] } },
  };
}
