/** A survey as plain values, the length of a wall at a height, and what it names that is not there. Stated as on site. */

import { headPlace, type Place, placeOf, type Statement } from '../../grammar/tree.ts';
import { capital } from './capital.ts';
import { lengthIn } from './context.ts';
import { removed } from './edits.ts';
import { type Finding, type Fix, finding } from './finding.ts';
import type { Reading as WallReading } from './layout.ts';
import { memo } from './memo.ts';
import type { Declared } from './names.ts';
import { nearFixes } from './near-names.ts';
import { nearestOnes } from './nearest.ts';
import { childrenOf, dotted, pathIn, type Reading } from './reading.ts';
import * as rules from './rules.ts';
import type { CornerSpec, Dim, OpeningSpec, StudSpec } from './spec.ts';
import { angleOf, openingProps, studSpec } from './template-room.ts';
import { dim, type TemplateContext } from './template-values.ts';
import { type Ticks, ticks } from './ticks.ts';

export interface WallSurvey {
  readonly name: string;
  readonly place: Place;
  readonly readings: readonly WallReading[];
  readonly studs: readonly StudSpec[];
  readonly height?: Dim;
}

export interface Survey {
  readonly place: Place;
  readonly corners: readonly {
    readonly walls: readonly [string, string];
    /** Where each of the two is named. */
    readonly places: readonly [Place, Place];
    readonly angle?: NonNullable<CornerSpec['angle']>;
  }[];
  readonly walls: readonly WallSurvey[];
  readonly openings: readonly {
    readonly name: string;
    readonly place: Place;
    readonly reading: Reading;
    readonly props: Partial<OpeningSpec>;
  }[];
}

export function surveyOf({ reading, statement }: Declared, context: TemplateContext): Survey {
  reportTwice(reading, context.report);
  return {
    place: headPlace(statement),
    corners: childrenOf(reading, 'corner').flatMap((corner) => {
      const [a, b] = [pathIn(corner, 'a'), pathIn(corner, 'b')];
      const angle = angleOf(childrenOf(corner, 'angle').at(-1), context);
      if (!a || !b) return [];
      const places = [placeOf(corner.statement, a), placeOf(corner.statement, b)] as const;
      return [{ walls: [dotted(a), dotted(b)] as const, places, ...(angle && { angle }) }];
    }),
    walls: childrenOf(reading, 'wall').map((wall) => wallSurvey(wall, context)),
    openings: childrenOf(reading, 'opening').flatMap((opening) => {
      const props = new Map<string, Reading[]>();
      for (const c of opening.children) props.set(c.word, [...(props.get(c.word) ?? []), c]);
      const path = pathIn(opening, 'name');
      const place = headPlace(opening.statement);
      return path ? [{ name: dotted(path), place, reading: opening, props: openingProps(props, context) }] : [];
    }),
  };
}

/** What is measured in two places of one survey: of the second nothing would be taken. */
function reportTwice(survey: Reading, report: (f: Finding) => void): void {
  const known = new Map<string, Statement>();
  for (const { word, statement, slots } of survey.children) {
    const names = measuredNames.flatMap((slot) => {
      const [item] = slots[slot] ?? [];
      return item?.kind === 'path' ? [dotted(item)] : [];
    });
    if (!['wall', 'opening', 'corner'].includes(word) || names.length === 0) continue;
    const key = `${word} ${names.toSorted().join(' ')}`;
    const first = known.get(key);
    if (!first) {
      known.set(key, statement);
      continue;
    }
    const what = word === 'corner' ? `The corner of ${names.join(' and ')}` : `${capital(word)} "${names[0]}"`;
    report(
      finding(
        rules.nameTaken,
        headPlace(statement),
        `${what} is measured twice in this survey; the first one is used.`,
        {
          advice: 'Put both into one.',
          related: [{ place: headPlace(first), message: 'It is measured here first.' }],
          fixes: [{ title: 'Remove this one', edits: [removed(statement)], byHand: true }],
        },
      ),
    );
  }
}

/** By which slots a wall, an opening or a corner is named. */
const measuredNames = ['name', 'a', 'b'] as const;

function wallSurvey(wall: Reading, context: TemplateContext): WallSurvey {
  const path = pathIn(wall, 'name');
  const readings = childrenOf(wall, 'length').flatMap((r): WallReading[] => {
    const length = lengthIn(r, 'value', context);
    const at = r.slots.height ? lengthIn(r, 'height', context) : undefined;
    return length === undefined ? [] : [{ at, length, place: headPlace(r.statement) }];
  });
  const height = dim(childrenOf(wall, 'height').at(-1), 'value', context);
  return {
    name: path ? dotted(path) : '',
    place: headPlace(wall.statement),
    readings,
    studs: childrenOf(wall, 'studs').flatMap((r) => studSpec(r, context)),
    ...(height && { height }),
  };
}

/**
 * The length of a wall at a height: between the readings above and below it, interpolated and rounded
 * down to a whole tick; beyond the outermost, that reading. Readings without a height give their least.
 */
export function lengthAt(readings: readonly WallReading[], height: Ticks): Ticks | undefined {
  if (readings.length === 0) return undefined;
  const { least, byHeight } = memo(profiles, readings, () => profileOf(readings));
  const between = interpolated(byHeight, height);
  const found = between === undefined ? least : Math.min(between, least ?? between);
  return found === undefined ? undefined : ticks(found);
}

/** The readings of a wall as they are looked up: the rules of a unit ask for its length at hundreds of heights. */
interface Profile {
  /** Of those without a height. */
  readonly least: number | undefined;
  /** Rising. */
  readonly byHeight: readonly (readonly [at: number, length: number])[];
}

const profiles = new WeakMap<readonly WallReading[], Profile>();

function profileOf(readings: readonly WallReading[]): Profile {
  let least: number | undefined;
  const atHeights = new Map<number, number>();
  for (const { at, length } of readings) {
    if (at === undefined) least = Math.min(least ?? length, length);
    else atHeights.set(at, Math.min(atHeights.get(at) ?? length, length));
  }
  return { least, byHeight: [...atHeights].sort((a, b) => a[0] - b[0]) };
}

function interpolated(byHeight: Profile['byHeight'], height: number): number | undefined {
  const above = byHeight.findIndex(([at]) => at >= height);
  if (above < 0) return byHeight.at(-1)?.[1];
  const [upperAt, upper] = byHeight[above] as readonly [number, number];
  if (above === 0 || upperAt === height) return upper;
  const [lowerAt, lower] = byHeight[above - 1] as readonly [number, number];
  return lower + flooredShare(upper - lower, height - lowerAt, upperAt - lowerAt);
}

/**
 * rise x part / over, rounded down. Where the product is a safe integer the quotient of doubles lies on the same side
 * of every whole number as the true one: it is off by less than 1 / over, which is how near the true one comes.
 */
function flooredShare(rise: number, part: number, over: number): number {
  const product = rise * part;
  if (Number.isSafeInteger(product)) return Math.floor(product / over);
  const [exact, by] = [BigInt(rise) * BigInt(part), BigInt(over)];
  const quotient = exact / by;
  return Number(exact < 0n && quotient * by !== exact ? quotient - 1n : quotient);
}

/** The walls that a survey names, by themselves and in its corners. */
export function measuredWalls(survey: Survey | undefined): Pick<WallSurvey, 'name' | 'place'>[] {
  if (!survey) return [];
  const inCorners = survey.corners.flatMap(({ walls: [a, b], places: [ofA, ofB] }) => [
    { name: a, place: ofA },
    { name: b, place: ofB },
  ]);
  return [...survey.walls, ...inCorners];
}

/** What was measured of something that the unit does not have. */
export function reportUnknown(
  kind: 'wall' | 'opening',
  measured: readonly Pick<WallSurvey, 'name' | 'place'>[],
  drawn: readonly { readonly name: string }[],
  report: (f: Finding) => void,
): void {
  const names = drawn.map(({ name }) => name);
  for (const { name, place } of measured) {
    if (names.includes(name)) continue;
    report(
      finding(rules.nameNotKnown, place, `The unit has no ${kind} "${name}".`, {
        advice: `It has ${names.join(', ') || 'none'}.`,
        fixes: renamed(name, place, names),
        sought: kind,
      }),
    );
  }
}

/** The name itself is the last thing in the place, or the place. */
function renamed(name: string, { statement, end }: Place, names: readonly string[]): Fix[] {
  const near = nearestOnes(name, names);
  const path = statement.items.find((item) => item.kind === 'path' && item.end === end);
  return path ? nearFixes(placeOf(statement, path), near) : [];
}
