/** Finished cut lengths, with how each came about step by step. */
import type { Place } from '../../grammar/tree.ts';
import { type Finding, finding } from './finding.ts';
import type { Part, Step } from './layout.ts';
import type { EndKind, EndTake, Hardware } from './materials.ts';
import * as rules from './rules.ts';
import { type Show, showLength } from './show.ts';
import { roundDown, type Ticks, ticks } from './ticks.ts';

export interface End {
  readonly side: 'left' | 'right';
  readonly meets: EndKind;
}

export interface PartInput {
  readonly part: Omit<Part, 'length' | 'steps'>;
  /** How the clear opening came about; its amounts add up to it. */
  readonly opening: readonly Step[];
  readonly ends: readonly End[];
  readonly takes: readonly EndTake[];
  readonly held: Hardware | undefined;
  readonly sawStep: Ticks;
  readonly show: Show;
}

/** The part, or the finding that nothing is left of it. */
export function finishedPart({ part, opening, ends, takes, held, sawStep, show }: PartInput): Part | Finding {
  const steps = [...opening];
  for (const { side, meets } of ends) {
    const taken = takeAt(meets, takes, held);
    if (taken && taken.amount !== 0)
      steps.push({ kind: 'end', amount: ticks(-taken.amount), side, meets, why: taken.why, place: taken.place });
  }
  const exact = sum(steps);
  const length = roundDown(exact, sawStep);
  if (length <= 0) {
    const clear = sum(opening);
    return finding(
      rules.noRoom,
      part.place,
      `Nothing is left to cut of ${part.kind} "${part.path}": its clear opening is ${showLength(clear, show)}, and ${showLength(ticks(clear - exact), show)} is taken off.`,
      {
        about: part.path,
        advice: `Widen what it stands in by at least ${showLength(ticks(sawStep - exact), show)}, or take less off at its ends.`,
        comparison: {
          what: 'finished length',
          measured: { ticks: exact },
          relation: 'at least',
          limit: { ticks: sawStep },
        },
      },
    );
  }
  if (length !== exact) steps.push({ kind: 'rounding', amount: ticks(length - exact), step: sawStep });
  return { ...part, length, steps };
}

/** What holds the part says what is taken off; else the material, by what the end meets. */
function takeAt(
  meets: EndKind,
  takes: readonly EndTake[],
  held: Hardware | undefined,
): { amount: Ticks; why: string | undefined; place: Place } | undefined {
  if (held?.takes !== undefined) return { amount: held.takes, why: held.why ?? `the ${held.name}`, place: held.place };
  return takes.findLast((t) => t.meets === meets) ?? takes.findLast((t) => t.meets === undefined);
}

function sum(steps: readonly Step[]): Ticks {
  return ticks(steps.reduce((total, step) => total + step.amount, 0));
}

/** A step as a line of text: what, and how much it adds or takes. */
export function stepText(step: Step, show: Show): { readonly what: string; readonly amount: string } {
  const plain = showLength(ticks(Math.abs(step.amount)), show);
  const amount = step.amount !== 0 && /^~0[a-z]/.test(plain) ? `less than ${showLength(show.step, show)}` : plain;
  const signed = step.amount < 0 ? `- ${amount}` : amount;
  switch (step.kind) {
    case 'wall': {
      const how = step.surveyed
        ? `measured${step.at === undefined ? '' : ` (at ${showLength(step.at, show)})`}, drawn ${showLength(step.nominal, show)}`
        : 'as drawn';
      return { what: `wall ${step.name}, ${how}`, amount: signed };
    }
    case 'zone':
      return { what: `width of zone ${step.name}`, amount: signed };
    case 'other-zones':
      return { what: `taken by ${step.names.join(', ')}`, amount: signed };
    case 'inset':
      return { what: `corner taken by wall ${step.name}`, amount: signed };
    case 'height':
      return { what: 'from foot to upper end', amount: signed };
    case 'panel':
      return { what: `${step.name}`, amount: signed };
    case 'end': {
      const meets = step.meets === 'open' ? 'open end' : `end at the ${step.meets}`;
      return { what: `${step.side} ${meets}${step.why ? `, for ${step.why}` : ''}`, amount: signed };
    }
    case 'given':
      return { what: 'as given', amount: signed };
    case 'rounding':
      return { what: `rounded down at the saw to ${showLength(step.step, show)}`, amount: signed };
  }
}
