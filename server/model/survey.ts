/** A survey as plain values, and the length of a wall at a height. Stated as on site. */
import { headPlace, type Place } from '../../grammar/tree.ts';
import { lengthIn } from './context.ts';
import type { Reading as WallReading } from './layout.ts';
import type { Declared } from './names.ts';
import { childrenOf, dotted, nameIn, pathIn, type Reading } from './reading.ts';
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
    readonly angle: NonNullable<CornerSpec['angle']>;
  }[];
  readonly walls: readonly WallSurvey[];
  readonly openings: readonly {
    readonly name: string;
    readonly reading: Reading;
    readonly props: Partial<OpeningSpec>;
  }[];
}

export function surveyOf({ reading, statement }: Declared, context: TemplateContext): Survey {
  return {
    place: headPlace(statement),
    corners: childrenOf(reading, 'corner').flatMap((corner) => {
      const [a, b] = [pathIn(corner, 'a'), pathIn(corner, 'b')];
      const angle = angleOf(childrenOf(corner, 'angle').at(-1), context);
      return a && b && angle ? [{ walls: [dotted(a), dotted(b)] as const, angle }] : [];
    }),
    walls: childrenOf(reading, 'wall').map((wall) => wallSurvey(wall, context)),
    openings: childrenOf(reading, 'opening').map((opening) => {
      const props = new Map<string, Reading[]>();
      for (const c of opening.children) props.set(c.word, [...(props.get(c.word) ?? []), c]);
      return { name: nameIn(opening)?.text ?? '', reading: opening, props: openingProps(props, context) };
    }),
  };
}

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
  let least: number | undefined;
  const atHeights = new Map<number, number>();
  for (const { at, length } of readings) {
    if (at === undefined) least = Math.min(least ?? length, length);
    else atHeights.set(at, Math.min(atHeights.get(at) ?? length, length));
  }
  const sorted = [...atHeights].sort((a, b) => a[0] - b[0]);
  const between = interpolated(sorted, height);
  const found = between === undefined ? least : Math.min(between, least ?? between);
  return found === undefined ? undefined : ticks(found);
}

function interpolated(sorted: readonly (readonly [number, number])[], height: number): number | undefined {
  const above = sorted.findIndex(([at]) => at >= height);
  if (above < 0) return sorted.at(-1)?.[1];
  const [upperAt, upper] = sorted[above] as readonly [number, number];
  if (above === 0 || upperAt === height) return upper;
  const [lowerAt, lower] = sorted[above - 1] as readonly [number, number];
  // Both factors can be near 4e10, so the product needs more than a double holds.
  const rise = BigInt(upper - lower) * BigInt(height - lowerAt);
  const over = BigInt(upperAt - lowerAt);
  const quotient = rise / over;
  return lower + Number(rise < 0n && quotient * over !== rise ? quotient - 1n : quotient);
}
