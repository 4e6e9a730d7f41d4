/** Holes that are drilled into walls: what goes into a stud, and what needs an anchor first. */
import type { Fixings } from '../checks/fixings/schedule.ts';

export interface HoleRow {
  readonly in: 'stud' | 'anchor' | 'not-known';
  /** Name of the anchor, where one is set and named. */
  readonly anchor: string | undefined;
  /** Screws into the wall as written; undefined where the hardware names none. */
  readonly screw: string | undefined;
  readonly hardware: string;
  readonly count: number;
}

/** Studs first. Hardware that lists no screw for the wall counts as one hole each. */
export function holesOf({ all }: Fixings): HoleRow[] {
  const rows = new Map<string, HoleRow & { count: number }>();
  for (const { hardware, hold } of all) {
    if (hold.kind === 'part') continue;
    const anchor = hold.kind === 'anchor' ? hold.anchor?.name : undefined;
    const screws = hardware.screws.filter(({ into, count }) => into === 'wall' && count > 0);
    const each =
      screws.length > 0 ? screws.map(({ size, count }) => ({ size, count })) : [{ size: undefined, count: 1 }];
    for (const { size, count } of each) {
      const screw = size?.trim().replaceAll(/\s+/g, ' ');
      const key = [hold.kind, anchor, screw, hardware.name].join('\n');
      const known = rows.get(key);
      if (known) known.count += count;
      else rows.set(key, { in: hold.kind, anchor, screw, hardware: hardware.name, count });
    }
  }
  const order = { stud: 0, anchor: 1, 'not-known': 2 } as const;
  return [...rows.values()].sort((a, b) => order[a.in] - order[b.in]);
}
