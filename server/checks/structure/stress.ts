/** Whether a shelf or rod is bent past the strength that its material states. */
import type { Finding } from '../../model/finding.ts';
import type { Rule } from '../../model/rule.ts';
import { type CheckInput, lacks, looked, passesUnheard } from '../check.ts';
import { about, nameOf } from '../say.ts';
import { lineAtMostText, momentText, stress, stressText } from './amounts.ts';
import type { Fibre, Prepared } from './prepared.ts';

export function overstress(prepared: Prepared, rule: Rule, input: CheckInput): Finding[] {
  return prepared.fibres.flatMap((fibre) => compareFibre(prepared, fibre, rule, input));
}

function compareFibre(prepared: Prepared, fibre: Fibre, rule: Rule, input: CheckInput): Finding[] {
  const { fitting, answer, carried } = prepared;
  const { show } = input;
  const { strength } = fibre;
  if (strength === undefined || strength <= 0) {
    lacks(input, rule, fitting, `the strength of ${fibre.of}`);
    return [];
  }
  const moment = Math.max(...answer.stretches.map((stretch) => Math.abs(stretch.moment.amount)));
  const measured = moment * fibre.stressPerMoment;
  if (passesUnheard(input, measured <= strength)) return [];
  const comparison = {
    what: `bending stress in ${fibre.of}`,
    measured: stress(measured, show),
    relation: 'at most' as const,
    limit: stress(strength, show),
  };
  const working = () => [
    ...prepared.working(),
    { what: 'greatest bending moment M', value: momentText(moment, show), how: 'elastic beam over its supports' },
    {
      what: 'bending stress',
      value: stressText(measured, show),
      how: `M times the outermost distance over I, ${fibre.of}`,
    },
    { what: 'strength', value: stressText(strength, show), how: `as ${fibre.of} states it` },
  ];
  if (looked(input, rule, fitting, comparison, measured <= strength, working)) return [];
  const share = Math.max(0, (carried.perMetre + prepared.own) * (strength / measured) - prepared.own);
  const less =
    carried.middle === 0 && share > 0 ? `Carry no more than ${lineAtMostText(share, show)} on it, or hold` : 'Hold';
  return [
    about(
      rule,
      fitting,
      fitting.place,
      `Under ${carried.words} ${nameOf(fitting)} is bent to ${stressText(measured, show)}; ${fibre.of} states a strength of ${stressText(strength, show)}.`,
      {
        advice: `${less} it in more places, or take a thicker or stronger material. ${rule.caution ?? ''}`.trim(),
        related: carried.places.map((place) => ({ place, message: `It carries ${carried.words}.` })),
        comparison,
        working: working(),
      },
    ),
  ];
}
