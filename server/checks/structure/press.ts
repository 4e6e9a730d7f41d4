/** With how much force a shelf or rod presses on what holds it. */

import { alikeOnce } from '../../model/alike.ts';
import type { RodLayout, ShelfLayout } from '../../model/layout.ts';
import type { Demands } from '../../model/materials.ts';
import { memo } from '../../model/memo.ts';
import type { Show } from '../../model/show.ts';
import { subtract } from '../../model/ticks.ts';
import type { CheckInput } from '../check.ts';
import type { Fixings } from '../fixings/schedule.ts';
import { type Solved, solveReactions } from './beam.ts';
import { asBeamLoads, carriedBy, hangingOn } from './carried.ts';
import { type Prepared, prepareRod, prepareShelf } from './prepared.ts';
import { type Rest, restsOf, supportsOf } from './rests.ts';
import { GRAVITY, metres } from './units.ts';

export interface Pressed {
  readonly kind: 'pressed';
  readonly fitting: ShelfLayout | RodLayout;
  /** Each with the force down on it, N; negative where it is lifted. */
  readonly rests: readonly (Rest & { readonly force: number })[];
  /** What it carries, in words. */
  readonly words: string;
}

export interface NotPressed {
  readonly kind: 'missing';
  readonly needs: string;
}

/**
 * By the beam that its sag is computed of, where that is known. Otherwise nothing has to be known of the material but
 * its weight: the reactions of a uniform beam are the same whatever its stiffness, as long as shear deformation is left out.
 */
export function pressOf(fitting: ShelfLayout | RodLayout, input: CheckInput, schedule: Fixings): Pressed | NotPressed {
  const prepared =
    fitting.kind === 'shelf' ? prepareShelf(fitting, input, schedule) : prepareRod(fitting, input, schedule);
  if (prepared.kind === 'prepared') return memo(pressedBy, prepared, () => pressed(prepared));
  const { layout, policy, show } = input;
  const rests = restsOf(fitting, layout, schedule);
  return alike(fitting, [policy.demands, show, rests], () => press(fitting, policy.demands, show, rests));
}

const pressedBy = new WeakMap<Prepared, Pressed>();

function pressed({ fitting, rests, answer, carried }: Prepared): Pressed {
  return { kind: 'pressed', fitting, rests: withForces(rests, answer), words: carried.words };
}

function withForces(rests: readonly Rest[], { reactions }: Pick<Solved, 'reactions'>): Pressed['rests'] {
  return rests.map((rest, i) => ({ ...rest, force: reactions[i]?.force ?? 0 }));
}

/** What no survey moves presses alike in all units that draw it alike. */
const alike = alikeOnce<ShelfLayout | RodLayout, Pressed | NotPressed>(4);

function press(
  fitting: ShelfLayout | RodLayout,
  demands: Demands,
  show: Show,
  rests: readonly Rest[],
): Pressed | NotPressed {
  const length = metres(subtract(fitting.box.x[1], fitting.box.x[0]));
  const isShelf = fitting.kind === 'shelf';
  const carried = isShelf
    ? carriedBy(fitting, demands, length, metres(fitting.depth), show)
    : hangingOn(fitting, demands, length, show);
  if ('kind' in carried) return { kind: 'missing', needs: carried.needs };
  const own = isShelf
    ? (fitting.board?.weight ?? 0) * metres(fitting.depth) * GRAVITY
    : (fitting.material?.weight ?? 0) * GRAVITY;
  const answer = solveReactions({
    length,
    rigidity: { bending: 1, shear: undefined },
    supports: supportsOf(rests),
    loads: asBeamLoads({ ...carried, perMetre: carried.perMetre + own }, length),
  });
  if (answer.kind === 'refused') {
    return { kind: 'missing', needs: `two places that hold ${fitting.kind} ${fitting.path}` };
  }
  return {
    kind: 'pressed',
    fitting,
    rests: withForces(rests, answer),
    words: carried.words,
  };
}
