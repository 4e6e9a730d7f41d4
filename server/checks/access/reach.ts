/**
 * How high and how low a person in a wheelchair reaches, from the front and from the side, past what
 * stands in between. Plain lengths in, a range or a reason out; the numbers are rows of a table.
 *
 *     reach depth   level, from the edge of the clear floor space to the front of what is reached
 *     obstruction   what the arm passes over: how high it is, and how far it keeps the person off
 */
import type { RuleSource } from '../../model/rule.ts';
import { greatest, inches, least, NONE, type Ticks } from '../../model/ticks.ts';
import { ada, adaag, ufas } from './sources.ts';

export type Approach = 'forward' | 'side';

export interface Obstruction {
  readonly height: Ticks;
  readonly depth: Ticks;
}

export interface Reaching {
  readonly depth: Ticks;
  /** Undefined where nothing stands between; the bare floor of a closet that is reached into counts as none. */
  readonly over: Obstruction | undefined;
  /** How far clear floor runs on beneath what is reached over, from its front. Read for a forward reach. */
  readonly floorBeneath: Ticks;
}

/** For reach depths up to and with `upTo`. */
interface Step {
  readonly upTo: Ticks;
  readonly highest: Ticks;
}

export interface ReachTable {
  readonly approach: Approach;
  readonly lowest: Ticks;
  readonly highest: Ticks;
  /** Up to this depth the reach counts as unobstructed, whatever stands there. */
  readonly freeDepth: Ticks;
  readonly source: RuleSource;
  /** Past an obstruction: the steps by reach depth, least first. Beyond the last nothing is reached. */
  readonly over: {
    readonly steps: readonly Step[];
    readonly height: Ticks | undefined;
    readonly depth: Ticks | undefined;
    /** The clear floor has to run on beneath for the whole depth. */
    readonly floorBeneath: boolean;
    readonly source: RuleSource;
  };
}

export const forward2010: ReachTable = {
  approach: 'forward',
  lowest: inches(15),
  highest: inches(48),
  freeDepth: NONE,
  source: ada('308.2.1, unobstructed forward reach'),
  over: {
    steps: [
      { upTo: inches(20), highest: inches(48) },
      { upTo: inches(25), highest: inches(44) },
    ],
    height: undefined,
    depth: undefined,
    floorBeneath: true,
    source: ada('308.2.2, forward reach over an obstruction'),
  },
};

export const side2010: ReachTable = {
  approach: 'side',
  lowest: inches(15),
  highest: inches(48),
  freeDepth: inches(10),
  source: ada('308.3.1 and its exception 1, unobstructed side reach'),
  over: {
    steps: [
      { upTo: inches(10), highest: inches(48) },
      { upTo: inches(24), highest: inches(46) },
    ],
    height: inches(34),
    depth: inches(24),
    floorBeneath: false,
    source: ada('308.3.2, side reach over an obstruction'),
  },
};

/** What was replaced in 2010: kept so that its 54 in is known for what it is. Its 54 and 9 in are from memory. */
export const side1991: ReachTable = {
  approach: 'side',
  lowest: inches(9),
  highest: inches(54),
  freeDepth: inches(10),
  source: adaag('4.2.6, unobstructed side reach', false),
  over: {
    steps: [{ upTo: inches(24), highest: inches(46) }],
    height: inches(34),
    depth: inches(24),
    floorBeneath: false,
    source: adaag('4.2.6, side reach over an obstruction'),
  },
};

/** A limit of its own for clothes rods in an edition of its own, not a reach. */
export const ufasRod = { most: inches(54), source: ufas('4.25.3, clothes rods') } as const;

export type Hindrance =
  | 'reach depth'
  | 'clear floor beneath'
  | 'height of the obstruction'
  | 'depth of the obstruction';

/** The heights that are within reach, or the first thing that keeps everything out of it. */
export type ReachAnswer =
  | {
      readonly kind: 'range';
      readonly lowest: Ticks;
      readonly highest: Ticks;
      readonly obstructed: boolean;
      readonly source: RuleSource;
    }
  | {
      readonly kind: 'none';
      readonly hindrance: Hindrance;
      readonly measured: Ticks;
      readonly relation: 'at least' | 'at most';
      readonly limit: Ticks;
      readonly source: RuleSource;
    };

/** Lengths on a limit are within it. */
export function reach(table: ReachTable, reaching: Reaching): ReachAnswer {
  const { depth, over } = reaching;
  const between = over ? greatest(depth, over.depth) : depth;
  if (between <= table.freeDepth) {
    const { lowest, highest, source } = table;
    return { kind: 'range', lowest, highest, obstructed: false, source };
  }
  const { steps, source, ...rule } = table.over;
  const none = (
    hindrance: Hindrance,
    measured: Ticks,
    relation: 'at least' | 'at most',
    limit: Ticks,
  ): ReachAnswer => ({
    kind: 'none',
    hindrance,
    measured,
    relation,
    limit,
    source,
  });
  const { height } = rule;
  if (over && height !== undefined && over.height > height) {
    return none('height of the obstruction', over.height, 'at most', height);
  }
  if (over && rule.depth !== undefined && over.depth > rule.depth) {
    return none('depth of the obstruction', over.depth, 'at most', rule.depth);
  }
  const step = steps.find(({ upTo }) => depth <= upTo);
  if (!step) return none('reach depth', depth, 'at most', steps.at(-1)?.upTo ?? NONE);
  if (rule.floorBeneath && reaching.floorBeneath < depth) {
    return none('clear floor beneath', reaching.floorBeneath, 'at least', depth);
  }
  // The low limit is that of the free reach; and nothing is reached below the top of what the arm passes over.
  const lowest = over ? greatest(table.lowest, over.height) : table.lowest;
  return { kind: 'range', lowest, highest: step.highest, obstructed: true, source };
}

/** The same table with the height that a policy asks for: past an obstruction, never above what the table has. */
export function withHighest(table: ReachTable, highest: Ticks): ReachTable {
  const steps = table.over.steps.map((step) => ({ ...step, highest: least(step.highest, highest) }));
  return { ...table, highest, over: { ...table.over, steps } };
}

export type Reached = 'within' | 'too high' | 'too low' | 'out of reach';

export function reached(answer: ReachAnswer, height: Ticks): Reached {
  if (answer.kind === 'none') return 'out of reach';
  if (height > answer.highest) return 'too high';
  return height < answer.lowest ? 'too low' : 'within';
}

/** A side reach that is higher than the edition in force has it, and not higher than the one it replaced. */
export function isOfOldEdition(sideReach: Ticks): boolean {
  return sideReach > side2010.highest && sideReach <= side1991.highest;
}
