/** Lengths of walls that are slips of the unit of measure, seen by what they stand beside: what is drawn, the wall opposite. */
import { type NumberLiteral, type Place, placeOf } from '../../grammar/tree.ts';
import { type Finding, finding } from '../model/finding.ts';
import type { Reading, WallLayout } from '../model/layout.ts';
import { unlikelySize } from '../model/rules.ts';
import { type Show, showLength } from '../model/show.ts';
import { inches, type Ticks } from '../model/ticks.ts';
import { meantInstead, slipSaid } from '../model/unit-slips.ts';
import { isLikely, mended } from '../model/unlikely.ts';
import { wordIn } from '../model/vocabulary.ts';
import type { Check, CheckInput } from './check.ts';
import { capital, compared, fromTemplate, wallName } from './say.ts';

/** As many times as what is drawn, or as few: then nobody has measured that wall. Common practice, no source. */
const far = 2;
/** A wall that is measured or opposite is so near at least once its unit of measure is right. */
const near = 1.7;
/** A closet that somebody reaches into is hardly ever less deep or wide. Common practice, no source. */
const least = inches(18);

/** What was measured of a wall and cannot be of it. A length that is unlikely by itself is told where it is read. */
export function slipsOfSurvey({ name, readings, nominal, nominalPlace }: WallLayout, { show }: CheckInput): Finding[] {
  if (!nominalPlace || nominal <= 0) return [];
  return readings.flatMap((reading) => {
    if (!isFar(reading.length, nominal, far) || !isLikelyHere(reading)) return [];
    const number = numberAt(reading.place);
    const meant = number ? meantInstead(number, (length) => !isFar(length, nominal, near)) : [];
    const place = number ? placeOf(reading.place.statement, number) : reading.place;
    const said = number ? slipSaid(number, meant) : '';
    return [
      finding(
        unlikelySize,
        place,
        `${is(number, reading.length, show)} ${times(reading.length / nominal)} the ${showLength(nominal, show)} that is drawn of ${wallName(name)}.${said}`,
        {
          ...(meant.length > 0
            ? mended(place, meant)
            : { advice: 'Measure again, or look whether it is another wall.' }),
          related: [{ place: nominalPlace, message: `Drawn ${showLength(nominal, show)} long.` }],
          comparison: compared(`measured length of ${wallName(name)}`, reading.length, 'equal to', nominal),
          about: name,
          causes: { parameters: [], survey: true },
        },
      ),
    ];
  });
}

/** Of walls that lie opposite each other, one of which is the other one in another unit of measure. */
export const wallSlips: Check = {
  rules: [],
  run: ({ layout: { walls }, show }) =>
    [
      ['left', 'right'],
      ['back', 'front'],
    ].flatMap((pair) => {
      const [a, b] = pair.map((name) => walls.find((wall) => wall.name === name));
      if (!a || !b || a.nominal === b.nominal) return [];
      const [short, long] = a.nominal < b.nominal ? [a, b] : [b, a];
      return short.nominal < least ? opposite(short, long, show) : opposite(long, short, show);
    }),
};

function opposite(wall: WallLayout, other: WallLayout, show: Show): Finding[] {
  const number = wall.nominalPlace && numberAt(wall.nominalPlace);
  if (!number || !wall.nominalPlace || !other.nominalPlace || !isFar(wall.nominal, other.nominal, 5)) return [];
  const entry = wordIn('wall', 'length');
  if (!entry || ![wall, other].every(({ nominal }) => isLikely(nominal, entry))) return [];
  const meant = meantInstead(number, (length) => !isFar(length, other.nominal, near));
  if (meant.length === 0) return [];
  const place = placeOf(wall.nominalPlace.statement, number);
  const length = showLength(other.nominal, show);
  const across = wallName(writtenName(other));
  return [
    finding(
      unlikelySize,
      place,
      `${is(number, wall.nominal, show)} ${times(wall.nominal / other.nominal)} the ${length} of ${across}, which is opposite.${slipSaid(number, meant)}`,
      {
        ...mended(place, meant),
        related: [
          {
            place: other.nominalPlace,
            message: `${capital(across)} is ${length} long.`,
          },
        ],
        causes: fromTemplate,
      },
    ),
  ];
}

/** As it is in the text, where a unit may be its mirror. */
function writtenName({ name, nominalPlace }: WallLayout): string {
  const parent = nominalPlace?.statement.parent;
  const [first] = parent?.kind === 'statement' ? parent.items : [];
  return first?.kind === 'path' ? (first.words[0]?.text ?? name) : name;
}

function numberAt({ statement }: Place): NumberLiteral | undefined {
  const [item] = statement.items;
  return item?.kind === 'number' ? item : undefined;
}

function isLikelyHere({ length }: Reading): boolean {
  const entry = wordIn('survey-wall', 'length');
  return !entry || isLikely(length, entry);
}

function isFar(length: number, from: number, factor: number): boolean {
  return length > from * factor || length * factor < from;
}

/** `41ft is 492in,`; what is shown as it is written is said once. */
function is(number: NumberLiteral | undefined, length: Ticks, show: Show): string {
  const shown = showLength(length, show);
  return !number || number.raw === shown ? `${shown} is` : `${number.raw} is ${shown},`;
}

function times(ratio: number): string {
  const shown = (n: number): string => n.toFixed(n < 10 ? 1 : 0).replace(/\.0$/, '');
  return ratio >= 1 ? `${shown(ratio)} times` : `only 1/${shown(1 / ratio)} of`;
}
