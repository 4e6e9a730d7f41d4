/** What is computed from a fixing schedule is computed once: several rules ask for it. */
import { memo, recentBy } from '../../model/memo.ts';
import type { CheckInput } from '../check.ts';
import type { Fixings } from '../fixings/schedule.ts';

/** The rules of one unit ask one after the other; more brackets are tried in between. */
const mostSchedules = 3;

/** Keeps results by the schedule they rest on, what policies ask for, how amounts are shown, and the path of a part. */
export function perSchedule<T>(): (schedule: Fixings, input: CheckInput, path: string, make: () => T) => T {
  const byPaths = recentBy<Map<string, T>>(mostSchedules);
  return (schedule, { policy, show }, path, make) =>
    memo(
      byPaths([schedule, policy.demands, show], () => new Map()),
      path,
      make,
    );
}
