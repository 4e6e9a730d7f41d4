/** What was measured on site, beside what was drawn. */
import { type Finding, finding } from '../model/finding.ts';
import type { Reading, WallLayout } from '../model/layout.ts';
import type { Rule } from '../model/rule.ts';
import { type Show, showLength } from '../model/show.ts';
import { subtract } from '../model/ticks.ts';
import { type Check, type CheckInput, looked } from './check.ts';
import { capital, compared, wallName } from './say.ts';
import { slipsOfSurvey } from './wall-slips.ts';

export const surveyDiffers: Rule = {
  id: 'survey-differs',
  family: 'survey',
  title: 'A wall was measured longer or shorter than drawn',
  explanation:
    'The least length that was measured differs from the length that the template draws. Parts are made for what was measured; ' +
    'this says by how much, so that a slip of the tape is noticed before boards are cut.',
  severity: 'note',
  quiet: 'declaration',
  source: { kind: 'common-practice' },
  comparison: 'least length measured = length drawn',
};

export const surveyCheck: Check = {
  rules: [surveyDiffers],
  run: (input) => input.layout.walls.flatMap((wall) => [...slipsOfSurvey(wall, input), ...differs(wall, input)]),
};

function differs(wall: WallLayout, input: CheckInput): Finding[] {
  const { show } = input;
  const least = extreme(wall.readings, (a, b) => a < b);
  const most = extreme(wall.readings, (a, b) => a > b);
  const at = { path: wall.name, place: wall.place };
  if (!least || !most) return [];
  const comparison = compared(
    `least measured length of ${wallName(wall.name)}`,
    least.length,
    'equal to',
    wall.nominal,
  );
  if (looked(input, surveyDiffers, at, comparison, least.length === wall.nominal)) return [];
  const shorter = least.length < wall.nominal;
  const off = shorter ? subtract(wall.nominal, least.length) : subtract(least.length, wall.nominal);
  const spread =
    most.length === least.length
      ? ''
      : ` Its lengths run from ${reading(least, show)} to ${reading(most, show)}: the wall is not straight.`;
  return [
    finding(
      surveyDiffers,
      least.place,
      `${capital(wallName(wall.name))} was measured ${reading(least, show)}, ${showLength(off, show)} ${shorter ? 'shorter' : 'longer'} than the ${showLength(wall.nominal, show)} that is drawn.${spread}`,
      {
        advice: 'Measure again where the difference is more than you expect. Parts are made for what was measured.',
        related: [
          ...(wall.nominalPlace
            ? [{ place: wall.nominalPlace, message: `Drawn ${showLength(wall.nominal, show)} long.` }]
            : []),
          ...(most === least
            ? []
            : [{ place: most.place, message: `The greatest length measured: ${reading(most, show)}.` }]),
        ],
        comparison,
        about: wall.name,
        causes: { parameters: [], survey: true },
      },
    ),
  ];
}

function extreme(readings: readonly Reading[], before: (a: number, b: number) => boolean): Reading | undefined {
  let found: Reading | undefined;
  for (const candidate of readings) if (!found || before(candidate.length, found.length)) found = candidate;
  return found;
}

function reading({ length, at }: Reading, show: Show): string {
  return at === undefined ? showLength(length, show) : `${showLength(length, show)} at ${showLength(at, show)}`;
}
