/** One piece of hardware where it stands, and what the pieces of the schedule share. */
import type { FittingLayout, Layout, ShelfLayout } from '../../model/layout.ts';
import type { EndKind, Hardware, HardwareRole } from '../../model/materials.ts';
import { NONE, type Ticks, ticks } from '../../model/ticks.ts';
import type { Along } from './along.ts';
import type { Side } from './ends.ts';

/** What a fixing holds in. */
export type Hold =
  | { readonly kind: 'stud'; readonly stud: Ticks }
  /** Into the wall without a stud; undefined where the hardware names no anchor. */
  | { readonly kind: 'anchor'; readonly anchor: Hardware | undefined }
  /** Into the wall, and nothing says where its studs are. */
  | { readonly kind: 'not-known' }
  /** Into a part, or set without reaching the wall. */
  | { readonly kind: 'part' };

export type Reason = 'spread' | 'moved' | 'bracket' | 'end' | 'panel';

export interface Fixing {
  /** Path of the part that it holds. */
  readonly part: string;
  readonly hardware: Hardware;
  readonly role: HardwareRole;
  /** The wall it is measured along; undefined where it is on a wall that is not known. */
  readonly wall: string | undefined;
  /** Along that wall, from its left end. */
  readonly at: Ticks;
  /** Out from the face of the wall of its part. */
  readonly out: Ticks;
  readonly height: Ticks;
  readonly hold: Hold;
  /** How far it was moved to the right to meet a stud; negative to the left. */
  readonly shift: Ticks;
  readonly reason: Reason;
}

/** So many brackets (or supports, on a shelf without brackets) at the least, by the path of a shelf. */
export type Needed = ReadonlyMap<string, number>;

/** A shelf with the brackets under it. */
export interface Bracketed {
  readonly shelf: ShelfLayout;
  readonly brackets: readonly Fixing[];
}

/** A unit while its schedule is made. */
export interface Site {
  readonly layout: Layout;
  readonly needed: Needed;
  readonly studs: ReadonlyMap<string, readonly Ticks[]>;
  /** Those that have brackets, along the walls; known once shelves are done. */
  readonly bracketed: Along<Bracketed>;
}

export const sides: readonly Side[] = ['left', 'right'];

/** Hardware that lists its screws and none for the wall is not screwed to it. */
export function intoWall({ screws }: Hardware): boolean {
  return screws.length === 0 || screws.some(({ into }) => into === 'wall');
}

export function holdOf(hardware: Hardware, stud: Ticks | undefined, studs: readonly Ticks[] | undefined): Hold {
  if (!intoWall(hardware)) return { kind: 'part' };
  if (!studs) return { kind: 'not-known' };
  return stud === undefined ? { kind: 'anchor', anchor: hardware.anchor } : { kind: 'stud', stud };
}

/** One at each end that meets this. */
export function atEnds(
  fitting: FittingLayout,
  hardware: Hardware,
  role: 'tie' | 'cover' | 'cup',
  ends: readonly EndKind[],
  meeting: EndKind,
  out: Ticks,
): Fixing[] {
  return sides.flatMap((side, i): Fixing[] =>
    ends[i] === meeting
      ? [
          {
            part: fitting.path,
            hardware,
            role,
            wall: fitting.wall,
            at: side === 'left' ? fitting.box.x[0] : fitting.box.x[1],
            out,
            height: fitting.at.value,
            hold: { kind: 'part' },
            shift: NONE,
            reason: 'end',
          },
        ]
      : [],
  );
}

export function middle([from, to]: readonly [Ticks, Ticks]): Ticks {
  return ticks(Math.floor((from + to) / 2));
}
