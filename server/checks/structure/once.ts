/** What is computed from a fixing schedule is computed once: several rules ask for it. */
import type { Demands } from '../../model/materials.ts';
import { memo, recent } from '../../model/memo.ts';
import type { Show } from '../../model/show.ts';
import type { CheckInput } from '../check.ts';
import type { Fixings } from '../fixings/schedule.ts';

/** The rules of one unit ask one after the other; more brackets are tried in between. */
const mostSchedules = 3;

type ByShow<T> = WeakMap<Show, Map<string, T>>;

/** Keeps results by the schedule they rest on, what policies ask for, how amounts are shown, and the path of a part. */
export function perSchedule<T>(): (schedule: Fixings, input: CheckInput, path: string, make: () => T) => T {
  const known = recent<Fixings, WeakMap<Demands, ByShow<T>>>(mostSchedules);
  return (schedule, { policy, show }, path, make) => {
    const byDemands = known(schedule, () => new WeakMap());
    const byShow: ByShow<T> = memo(byDemands, policy.demands, () => new WeakMap());
    const byPath: Map<string, T> = memo(byShow, show, () => new Map());
    return memo(byPath, path, make);
  };
}
