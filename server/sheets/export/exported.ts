/** What is exported: units of a project, with what the whole of it comes to. */
import type { Planned } from '../../checks/analysis.ts';
import type { Extra, Spare } from '../../model/extras.ts';
import type { Unit } from '../../model/project.ts';
import type { Severity } from '../../model/rule.ts';
import type { Exception } from '../exceptions.ts';
import type { Lengths } from './table.ts';

export interface Exported {
  readonly title: string;
  /** The commit it was made at; undefined where there is none. */
  readonly revision: string | undefined;
  /** As it is written: `2026-03-12`. */
  readonly date: string;
  readonly units: readonly Unit[];
  /** Which units those are where they are not all: `floor 2`. */
  readonly part: string | undefined;
  readonly extras: readonly Extra[];
  readonly spares: readonly Spare[];
  /** Undefined for a part of a project, which shares its boards with the rest. */
  readonly planned: Planned | undefined;
  readonly currency: string | undefined;
  readonly lengths: Lengths;
  /** Extra hardware and screws, in hundredths of a percent. */
  readonly spare: number;
  readonly findings: readonly FindingRow[];
  /** Of its units with a survey. */
  readonly exceptions: readonly Exception[];
}

/** A finding where it stands in the files. */
export interface FindingRow {
  readonly severity: Severity;
  readonly rule: string;
  readonly message: string;
  readonly advice: string | undefined;
  readonly file: string;
  /** From 1. */
  readonly line: number;
  readonly column: number;
  readonly reach: readonly string[];
}
