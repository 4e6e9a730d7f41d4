/** What a takeoff is asked for, of one project. */
import type { Unit } from '../model/project.ts';
import type { By, Group } from '../sheets/takeoff.ts';
import type { LocatedFinding } from './located.ts';
import type { Chosen } from './targets.ts';

export interface Counted {
  readonly chosen: Chosen;
  readonly units: readonly Unit[];
  readonly by: By | undefined;
  readonly groups: readonly Group[];
  /** Of the whole project: a count can be wrong through an error anywhere in it. */
  readonly findings: readonly LocatedFinding[];
}
