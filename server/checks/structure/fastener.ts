/**
 * What screws, lag screws and nails hold in wood, and what loads put on them. Formulas take inches and
 * give pounds in their sources; here everything goes in and out in metres and newtons.
 */
import type { RuleSource } from '../../model/rule.ts';
import type { Screw } from './screw.ts';
import { GRAVITY, INCH, POUND_FORCE, positive } from './units.ts';

export type Fastener = 'wood-screw' | 'lag-screw' | 'nail';

const published = (section: string, edition: string, document: string): RuleSource => ({
  kind: 'published',
  document,
  section,
  edition,
  seen: true,
});
const nds = 'National Design Specification for Wood Construction, as quoted in secondary texts';

/** Reference withdrawal design values: pounds an inch of thread (of shank, for nails) in the main member, G oven dry, D in inches. */
const withdrawals: Readonly<
  Record<
    Fastener,
    { readonly factor: number; readonly gravity: number; readonly diameter: number; readonly source: RuleSource }
  >
> = {
  'wood-screw': { factor: 2850, gravity: 2, diameter: 1, source: published('12.2-2', '2018', nds) },
  'lag-screw': { factor: 1800, gravity: 1.5, diameter: 0.75, source: published('12.2-1', '2018', nds) },
  nail: { factor: 1380, gravity: 2.5, diameter: 1, source: published('12.2-3', '2018', nds) },
};

export function withdrawalSource(fastener: Fastener): RuleSource {
  return withdrawals[fastener].source;
}

/**
 * Allowable withdrawal, N/m of thread in dry wood, driven into side grain. From end grain nothing
 * counts, and boards of particles have no such formula. Undefined where a number is not positive.
 */
export function withdrawal(fastener: Fastener, gravity: number, diameter: number): number | undefined {
  if (!positive(gravity, diameter)) return undefined;
  const formula = withdrawals[fastener];
  const pounds = formula.factor * gravity ** formula.gravity * (diameter / INCH) ** formula.diameter;
  return (pounds * POUND_FORCE) / INCH;
}

export interface Penetration {
  /** How far the point goes into what it holds in, m; nought or less where it does not reach. */
  readonly depth: number;
  /** How much of the thread is in it, m. */
  readonly thread: number;
}

/**
 * What is left of a screw after what it goes through: the part that it fixes, and the lining of the wall.
 * @param through the parts in its way, m each
 */
export function penetration(
  { length, thread }: Pick<Screw, 'length' | 'thread'>,
  through: readonly number[],
): Penetration {
  const depth = length - through.reduce((sum, part) => sum + part, 0);
  return { depth, thread: Math.max(0, Math.min(depth, thread)) };
}

/** Species groups of the older lateral formula, by the specific gravity of common species of each. */
export type SpeciesGroup = 'I' | 'II' | 'III' | 'IV';

const lateralCoefficients: Readonly<Record<SpeciesGroup, number>> = { I: 4800, II: 3960, III: 3240, IV: 2520 };

export const lateralSource = published(
  'chapter 6, equation 6.38',
  'edition not known',
  'Standard Handbook of Engineering Calculations or a sister volume, stored copy at issuhub.com, id 4884, page 189',
);

/** Allowable lateral load of a wood screw in side grain of dry wood, N: p = C D2, the older way of allowable stresses. */
export function lateral(group: SpeciesGroup, diameter: number): number | undefined {
  if (!positive(diameter)) return undefined;
  return lateralCoefficients[group] * (diameter / INCH) ** 2 * POUND_FORCE;
}

export interface BracketLoad {
  /** Downwards, N. */
  readonly load: number;
  /** From the wall to where the load acts, m. */
  readonly reach: number;
  /** From the upper screws down to where the bracket bears against the wall, m. */
  readonly arm: number;
}

export const leverAssumption =
  'the bracket turns about the lower end of its leg, and the upper screws alone keep it from turning';

/** Pull on the upper screws of an angle bracket together, N: T = W e / arm. Undefined without an arm to hold by. */
export function bracketPull({ load, reach, arm }: BracketLoad): number | undefined {
  return positive(arm) && Number.isFinite(load * reach) ? (load * reach) / arm : undefined;
}

/**
 * What an anchor may be counted on for, N: the load its maker rates it for, over the factor that the
 * policy states. It is never computed from the anchor: no formula for one is published.
 * @param rated kg, by its maker
 */
export function anchorHold(rated: number, factor: number): number | undefined {
  return positive(rated, factor) ? (rated * GRAVITY) / factor : undefined;
}
